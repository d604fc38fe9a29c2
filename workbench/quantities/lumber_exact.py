"""Fewest feet of board for many pieces, with proof.

Boards are filled by patterns: how many pieces of each kind one board holds. A linear program over patterns, new ones
found by a knapsack as long as they help, gives each kind of piece a worth. However these worths were found: where no
board of length L holds more than V(L) worth of pieces, no cutting costs less than the worth of all pieces divided by
the largest V(L) / cost(L) (the bound of Farley for cutting stock, from memory; Oper. Res. 38, 1990; column generation:
Gilmore and Gomory, Oper. Res. 9, 1961, from memory). The knapsack is solved exactly in whole numbers, lengths taken
down to 1/64 in, so the bound does not rest on any rounding of the linear program; costs being whole steps it is
rounded up to one.

Whole boards are then chosen among the patterns. Where that costs more than the bound, every pattern that can be part of
a cheaper cutting is listed - those whose cost exceeds their worth by no more than there is between the two - and the
choice among them is made to the end, which either finds the cheaper cutting or proves that there is none.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from fractions import Fraction

import numpy as np
from numpy.typing import NDArray

from workbench.quantities.lumber_pack import MICRO, Cutting, Task, packed
from workbench.sheathing.solver import Program, Solution

_GRID = 64
_SCALE = 1 << 10
_ROUNDS = 400
_MOST_PATTERNS = 20_000
_MOST_NODES = 400_000
BRANCHES = 3_000
"""Nodes of a choice in whole numbers; hard ones keep the best they have by then."""

_FEW = 16
"""With so many kinds of pieces there is time to look for fewer boards among those that buy the same feet."""

_POWERS = (1.0, 1.03, 1.1, 1.3)
_SECONDS = 20.0  # only guards against a slow machine; nodes are counted

Pattern = tuple[int, ...]
Whole = NDArray[np.int64]


def fewest(task: Task, branches: int = BRANCHES) -> Cutting:
    """The cheapest cutting that was found and the most that was proven; the same task gives the same answer.

    Args:
        task: The pieces and the boards.
        branches: Most nodes of a choice in whole numbers.
    """
    quick = packed(task)
    if not task.sizes or quick.cost(task) <= quick.at_least:
        return quick
    return _Search(task, quick, branches).run()


@dataclass(frozen=True)
class _Worths:
    """Worths of the kinds of pieces, and the bound they give.

    Attributes:
        values: Worth of each kind, whole.
        rate: The most worth a unit of cost that a board can hold.
        bound: Worth of all pieces / rate: no cutting costs less.
    """

    values: tuple[int, ...]
    rate: Fraction
    bound: Fraction


class _Search:
    def __init__(self, task: Task, quick: Cutting, branches: int) -> None:
        self.task = task
        self.branches = branches
        self.best = quick
        self.cost = quick.cost(task)
        self.at_least = quick.at_least
        self.step = task.step
        self.patterns: dict[tuple[int, Pattern], None] = {}
        for stock, pattern, _ in quick.boards:
            self.patterns[stock, pattern] = None
        for kind, size in enumerate(task.sizes):
            self._alone(kind, size)

    def _alone(self, kind: int, size: int) -> None:
        """Boards full of one kind, so that the program begins with something of every kind."""
        for stock, room in enumerate(self.task.stocks):
            copies = min(room // size, self.task.demand[kind])
            if copies:
                self._add(stock, {kind: copies})

    def run(self) -> Cutting:
        worths = self._column_generation()
        self._raise(worths.bound)
        for power in _POWERS:
            if self.cost > self.at_least:
                self._fill_up(power)
        if self.cost > self.at_least or 1 < len(self.task.sizes) <= _FEW:
            self._choose(list(self.patterns))  # where the feet are the fewest already it may still save boards
        if self.cost > self.at_least:
            listed = self._listed(worths)
            if listed is not None:
                # What is listed holds every cheaper cutting: the choice among them, made to the end, is the proof.
                known = [(stock, pattern) for stock, pattern, _ in self.best.boards]
                self._choose([*dict.fromkeys([*listed, *known])], complete=True)
        return Cutting(self.best.boards, min(self.at_least, self.cost))

    def _raise(self, bound: Fraction) -> None:
        self.at_least = max(self.at_least, math.ceil(bound / self.step) * self.step)

    def _add(self, stock: int, inside: dict[int, int]) -> bool:
        """A pattern; False where it is known already."""
        key = stock, tuple(inside.get(kind, 0) for kind in range(len(self.task.sizes)))
        if key in self.patterns:
            return False
        self.patterns[key] = None
        return True

    def _column_generation(self) -> _Worths:
        """The linear program with every pattern that helps; the worths that bound the cost best."""
        task = self.task
        program = Program()
        for count in task.demand:
            program.add_row(float(count))
        passed = 0
        knapsack = _Knapsack(task)
        best = _Worths((0,) * len(task.sizes), Fraction(1), Fraction(0))
        for _ in range(_ROUNDS):
            for stock, pattern in list(self.patterns)[passed:]:
                entries = [(kind, float(n)) for kind, n in enumerate(pattern) if n]
                program.add_column(task.costs[stock] / self.step, entries)
            passed = len(self.patterns)
            solution = program.solve()
            if solution is None:
                break
            values = [max(round(dual * self.step * _SCALE), 0) for dual in solution.duals]
            filled = knapsack.fill(values)
            worths = self._worths(values, filled.most())
            best = max(best, worths, key=lambda w: w.bound)
            over = [s for s, most in enumerate(filled.most()) if most > task.costs[s] * _SCALE + _SCALE]
            # What the bound rounds up to is reached by the linear program already: better worths can't raise it.
            if math.ceil(best.bound / self.step) >= math.ceil(solution.objective - 1e-6) or not over:
                break
            new = [self._add(s, filled.contents(s)) for s in over]
            if not any(new):
                break
        return best

    def _fill_up(self, power: float) -> None:
        """Boards filled one after the other as full as can be, long pieces first by so much; their patterns kept."""
        task, knapsack = self.task, _Knapsack(self.task)
        left = list(task.demand)
        values = [round(_SCALE * (size / task.stocks[-1]) ** power * _GRID) for size in task.sizes]
        boards: dict[tuple[int, Pattern], int] = {}
        while any(left):
            filled = knapsack.fill(values, left)
            options: list[tuple[float, int, Pattern]] = []
            for stock in range(len(task.stocks)):
                inside = filled.contents(stock)
                pattern = tuple(inside.get(kind, 0) for kind in range(len(task.sizes)))
                if any(pattern) and self._fits(stock, pattern):
                    options.append((task.used(pattern) / task.costs[stock], stock, pattern))
            if not options:
                return
            _, stock, pattern = max(options)
            times = min(have // n for have, n in zip(left, pattern, strict=True) if n)
            left = [have - n * times for have, n in zip(left, pattern, strict=True)]
            boards[stock, pattern] = boards.get((stock, pattern), 0) + times
            self.patterns[stock, pattern] = None
        self._better(tuple((stock, pattern, n) for (stock, pattern), n in boards.items()))

    def _worths(self, values: Sequence[int], most: Sequence[int]) -> _Worths:
        total = sum(v * n for v, n in zip(values, self.task.demand, strict=True))
        rate = max((Fraction(m, c) for m, c in zip(most, self.task.costs, strict=True)), default=Fraction(0))
        if rate <= 0:
            return _Worths(tuple(values), Fraction(1), Fraction(0))
        return _Worths(tuple(values), rate, total / rate)

    def _fits(self, stock: int, pattern: Pattern) -> bool:
        return self.task.used(pattern) <= self.task.stocks[stock]

    def _choose(self, patterns: Sequence[tuple[int, Pattern]], *, complete: bool = False) -> None:
        """Whole boards among patterns; where these are all that can be cheaper, the program's bound counts."""
        task = self.task
        usable = [key for key in patterns if self._fits(*key)]
        program = Program()
        for count in task.demand:
            program.add_row(float(count))
        # A hair for each board: of cuttings that buy the same feet the one with fewer boards.
        hair = 0.4 / (sum(task.demand) + 1)
        for stock, pattern in usable:
            entries = [(kind, float(n)) for kind, n in enumerate(pattern) if n]
            program.add_column(task.costs[stock] / self.step + hair, entries)
        solution = program.solve_whole(list(range(len(usable))), self.branches, _SECONDS, gap=0.5)
        if solution is not None:
            self._take(usable, solution)
        if complete and solution is not None and math.isfinite(solution.bound):
            # The hairs come off again: no cutting has more boards than pieces.
            self.at_least = max(self.at_least, min(math.ceil(solution.bound - 0.45) * self.step, self.cost))

    def _take(self, usable: Sequence[tuple[int, Pattern]], solution: Solution) -> None:
        chosen = [(key, round(n)) for key, n in zip(usable, solution.values, strict=True) if n]
        self._better(_trimmed(self.task, chosen))

    def _better(self, boards: Sequence[tuple[int, Pattern, int]]) -> None:
        """Keeps a cutting where it buys fewer feet, or the same with fewer boards."""
        found = Cutting(tuple(boards), 0)
        mine = found.cost(self.task), sum(count for _, _, count in boards)
        if mine < (self.cost, sum(count for _, _, count in self.best.boards)):
            self.best, self.cost = found, mine[0]

    def _listed(self, worths: _Worths) -> list[tuple[int, Pattern]] | None:
        """Every pattern that a cheaper cutting may use; None where they are too many.

        In a cutting that costs a step less than the best one, what its boards cost beyond the worth they hold adds up
        to what it costs beyond the bound; so does no single board more.
        """
        spare = self.cost - self.step - worths.bound
        if spare < 0:
            return []
        return _Lister(self.task, worths, spare).patterns()


class _Knapsack:
    """The most worth that boards can hold, exactly, lengths in whole 1/64 in; pieces taken down, boards too."""

    def __init__(self, task: Task) -> None:
        self.task = task
        self.sizes = [size * _GRID // MICRO for size in task.sizes]
        self.rooms = [stock * _GRID // MICRO for stock in task.stocks]

    def fill(self, values: Sequence[int], demand: Sequence[int] = ()) -> _Filled:
        """Fills boards; with other numbers of pieces than the task's where they are given."""
        demand = demand or self.task.demand
        room = self.rooms[-1]
        worth: Whole = np.zeros(room + 1, dtype=np.int64)
        before: list[tuple[int, int, Whole]] = []
        for kind, (size, value) in enumerate(zip(self.sizes, values, strict=True)):
            if value <= 0 or size <= 0 or size > room:
                continue
            left = min(demand[kind], room // size)
            times = 1
            while left > 0:
                n = min(times, left)
                kept = worth
                worth = kept.copy()
                np.maximum(worth[n * size :], kept[: room + 1 - n * size] + n * value, out=worth[n * size :])
                before.append((kind, n, kept))
                left -= n
                times *= 2
        return _Filled(worth, before, self.sizes, self.rooms, tuple(values))


@dataclass(frozen=True)
class _Filled:
    """Worth by room, and the same before each lot of pieces was offered."""

    worth: Whole
    before: list[tuple[int, int, Whole]]
    sizes: list[int]
    rooms: list[int]
    values: tuple[int, ...]

    def most(self) -> list[int]:
        """The most that a board of each length holds."""
        return [int(self.worth[room]) for room in self.rooms]

    def contents(self, stock: int) -> dict[int, int]:
        """Pieces by kind that come to the most a board of this length holds."""
        room = self.rooms[stock]
        left = int(self.worth[room])
        inside: dict[int, int] = {}
        for kind, n, kept in reversed(self.before):
            if int(kept[room]) == left:
                continue
            room, left = room - n * self.sizes[kind], left - n * self.values[kind]
            inside[kind] = inside.get(kind, 0) + n
        return inside


class _Lister:
    """Lists patterns whose cost exceeds their worth by no more than there is to spare."""

    def __init__(self, task: Task, worths: _Worths, spare: Fraction) -> None:
        self.task = task
        # All in whole numbers: worth · denominator against cost · numerator of the rate.
        self.values = [value * worths.rate.denominator for value in worths.values]
        self.rate = worths.rate.numerator
        self.spare = math.floor(spare * self.rate)
        worth = [(value, size) for value, size in zip(self.values, task.sizes, strict=True)]
        self.order = sorted(range(len(worth)), key=lambda k: (-Fraction(worth[k][0], worth[k][1]), k))
        self.nodes = 0
        self.found: list[tuple[int, Pattern]] = []

    def patterns(self) -> list[tuple[int, Pattern]] | None:
        """The patterns; None where the listing was given up."""
        for stock, (room, cost) in enumerate(zip(self.task.stocks, self.task.costs, strict=True)):
            least = cost * self.rate - self.spare
            if not self._extend(stock, 0, room, least, [0] * len(self.task.sizes)):
                return None
        return self.found

    def _extend(self, stock: int, at: int, room: int, missing: int, pattern: list[int]) -> bool:
        """All ways to go on from a part of a pattern; ``missing`` is the worth it still has to gain."""
        self.nodes += 1
        if self.nodes > _MOST_NODES or len(self.found) > _MOST_PATTERNS:
            return False
        if at == len(self.order):
            if missing <= 0 and any(pattern):
                self.found.append((stock, tuple(pattern)))
            return True
        kind = self.order[at]
        size, value = self.task.sizes[kind], self.values[kind]
        # Kinds come by worth for their length: what room is left gains no more than the next one's rate.
        if missing > 0 and room * value < missing * size:
            return True
        for n in range(min(self.task.demand[kind], room // size), -1, -1):
            pattern[kind] = n
            if not self._extend(stock, at + 1, room - n * size, missing - n * value, pattern):
                return False
        pattern[kind] = 0
        return True


def _trimmed(task: Task, chosen: Sequence[tuple[tuple[int, Pattern], int]]) -> tuple[tuple[int, Pattern, int], ...]:
    """The boards without what they hold over what is needed, each then as short as it may be."""
    over = [-n for n in task.demand]
    for (_, pattern), times in chosen:
        for kind, n in enumerate(pattern):
            over[kind] += n * times
    boards: dict[tuple[int, Pattern], int] = {}
    for (_, pattern), times in chosen:
        for _ in range(times):
            kept = list(pattern)
            for kind, n in enumerate(pattern):
                drop = min(n, max(over[kind], 0))
                kept[kind] -= drop
                over[kind] -= drop
            if any(kept):
                key = task.shortest(task.used(kept)) or 0, tuple(kept)
                boards[key] = boards.get(key, 0) + 1
    return tuple((stock, pattern, count) for (stock, pattern), count in boards.items())
