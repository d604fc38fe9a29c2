"""More sheets to choose from: pairs and threes of tall pieces and strips that are worth most together. Inches.

Pricing stops at sheets that lower the linear program; whole numbers often need others, worth a little less than they
cost. Hips and valleys make many kinds, few to a sheet, so that the best pairs and threes can simply be tried. What
can't be laid out is not taken, and what is chosen is verified with the whole plan: a bound never rests on these.
"""

from __future__ import annotations

import heapq
import itertools
import math
from collections.abc import Callable, Iterator
from dataclasses import dataclass

from workbench.sheathing.fewest import Fewest
from workbench.sheathing.relaxed import Counts
from workbench.sheathing.solver import Solution

_TRIES = 500
_LEAST_WORTH = 0.5  # of a sheet
_MOST_KINDS = 160


@dataclass(frozen=True)
class _Items:
    """Kinds that are laid side by side, the shortest first: number, steps, area, worth."""

    rows: tuple[tuple[int, int, float, float], ...]
    room: int
    area_sqin: float

    def sets(self) -> Iterator[tuple[float, tuple[int, ...]]]:
        """Pairs and threes that may lie in a sheet by their length and area, with their worth."""
        for size in (2, 3):
            yield from self._more((), 0, 0, 0.0, 0.0, size)

    def _more(
        self, held: tuple[int, ...], first: int, steps: int, area: float, worth: float, left: int
    ) -> Iterator[tuple[float, tuple[int, ...]]]:
        if not left:
            if worth >= _LEAST_WORTH:
                yield worth, tuple(sorted(held))
            return
        for at, (kind, own, size, value) in enumerate(self.rows[first:], first):
            if steps + own * left > self.room:
                return  # those that follow are no shorter
            if area + size <= self.area_sqin:
                yield from self._more((*held, kind), at, steps + own, area + size, worth + value, left - 1)


def widen(fewest: Fewest, go_on: Callable[[], bool], tries: int = _TRIES) -> bool:
    """Adds the sheets of two or three pieces that are worth most, as far as a way to lay them out is found.

    Args:
        fewest: The program over layouts and real sheets, solved as far as pricing goes.
        go_on: Whether to go on.
        tries: How many sets of pieces are tried.

    Returns:
        Whether there are more sheets to choose from now.
    """
    solution = None if fewest.pricer.flat else fewest.program.solve()
    if solution is None:
        return False
    before = len(fewest.sheets)
    wanted = fewest.wanted(solution)
    most = heapq.nlargest(tries, _items(fewest, solution).sets(), key=lambda found: (found[0], found[1]))
    for number, (_, held) in enumerate(most):
        if number % 16 == 0 and not go_on():
            break
        inside: Counts = {k: len(list(same)) for k, same in itertools.groupby(held)}
        if all(n <= fewest.most[k] for k, n in inside.items()):
            fewest.add_contents(inside, wanted)
    return len(fewest.sheets) > before


def _items(fewest: Fewest, solution: Solution) -> _Items:
    stock, pricer = fewest.stock, fewest.pricer
    rows = [
        (k, min(take.steps for take in pricer.takes[k]), kind.area_sqin, solution.duals[k])
        for k, kind in enumerate(stock.kinds)
        if fewest.most[k] and k not in stock.alone and kind.level != "small"
    ]
    rows = sorted(rows, key=lambda row: (-row[3], row[0]))[:_MOST_KINDS]
    rows.sort(key=lambda row: (row[1], row[0]))
    rules = stock.rules
    room = math.ceil((rules.length_in + rules.kerf_in) * pricer.steps)
    return _Items(tuple(rows), room, rules.length_in * rules.width_in)
