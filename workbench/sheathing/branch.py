"""The bound raised by cases: every layout of some plane by itself, the worst case counts.

The linear program may mix shares of several layouts; a job can't. So the layouts are split into cases that leave none
out: all that lay one row of one plane in one way. A case's bound holds for every layout in it, and the least bound
over all cases for every layout at all. Of planes that are laid out alike the ways may be taken in order, since
exchanging two such planes changes no piece. Each case is bounded in whole numbers as ``relaxed`` says.
"""

from __future__ import annotations

import heapq
from collections.abc import Callable, Sequence
from dataclasses import dataclass, field, replace

from workbench.sheathing.fewest import Route
from workbench.sheathing.relaxed import Closed, Group, Relaxed, Stock

_FLOW = 1e-6
_SIEVED = 40000  # work on one case's sheets that can't be cut

Stops = dict[int, Closed]
"""Closed stops by the number of the plane."""


@dataclass(frozen=True, order=True)
class Case:
    """Layouts that are bounded together.

    Attributes:
        bound: Sheets that none of them goes under.
        value: Sheets by the linear program: the case looked at first among equals.
        number: Cases are numbered as they are made, so that the order is settled.
        closed: The stops that are left out.
        at: Plane and row to be split next; None where only one layout is left.
    """

    bound: int
    value: float
    number: int
    closed: Stops = field(compare=False)
    at: tuple[int, int] | None = field(compare=False)


@dataclass
class Branching:
    """The cases of a job that are not done with.

    Attributes:
        relaxed: The program, every plane a group by itself.
        alike: For each plane the planes that are laid out alike, itself too.
        open: Cases whose bound is under what is found.
        left: Cases of a single layout: their bound is as good as it gets here.
        made: How many cases were bounded.
    """

    relaxed: Relaxed
    alike: tuple[tuple[int, ...], ...]
    open: list[Case] = field(default_factory=list[Case])
    left: list[Case] = field(default_factory=list[Case])
    made: int = 0

    @classmethod
    def of(cls, stock: Stock, groups: Sequence[Group], known: Relaxed) -> Branching:
        """Begins with all layouts in one case.

        Args:
            stock: The kinds of pieces.
            groups: The planes and their layouts.
            known: A program whose sheets are taken over.
        """
        alone: list[Group] = []
        alike: list[tuple[int, ...]] = []
        for group in groups:
            first = len(alone)
            own = tuple(range(first, first + group.times))
            alone += [Group(group.nets, (member,), group.counts, group.alone) for member in group.members]
            alike += [own] * group.times
        relaxed = Relaxed.of(stock, alone, guides=not known.pricer.spans)
        if relaxed.sieve is not None and known.sieve is not None:
            relaxed.sieve = replace(known.sieve, allowed=_SIEVED)
        for _, inside in known.columns:
            relaxed.add_sheet(inside)
        return cls(relaxed, tuple(alike))

    @property
    def bound(self) -> int | None:
        """Sheets that no layout goes under; None where no case under what is found is left."""
        return min((case.bound for case in (*self.open, *self.left)), default=None)

    def begin(self, enough: int, go_on: Callable[[], bool]) -> None:
        """Bounds all layouts in one case."""
        self._add({}, 0, enough, go_on)

    def split(self, enough: int, go_on: Callable[[], bool]) -> Case | None:
        """Splits the case of the least bound into cases; one with a single layout is answered and set aside.

        Args:
            enough: Sheets that are found: cases that need as many are dropped.
            go_on: Whether to go on; a case left half-way keeps the bound of the one it was split from.
        """
        case = heapq.heappop(self.open)
        if case.at is None:
            self.relaxed.close(case.closed)
            self.left.append(case)
            return case
        plane, row = case.at
        ways = self._ways(case.closed.get(plane, frozenset()), plane, row)
        for chosen in ways:
            closed = self._closed_but(case.closed, plane, row, ways, chosen)
            self._add(closed, case.bound, enough, go_on)
        return None

    def settle(self, case: Case, bound: int) -> None:
        """Raises the bound of a case that was set aside."""
        self.left = [replace(one, bound=bound) if one is case else one for one in self.left]

    def drop(self, enough: int) -> None:
        """Leaves out cases that need as many sheets as are found."""
        self.open = [case for case in self.open if case.bound < enough]
        heapq.heapify(self.open)
        self.left = [case for case in self.left if case.bound < enough]

    def routes(self, case: Case) -> list[Route]:
        """The one route of every plane of a case with a single layout."""
        return [self._route(case.closed.get(plane, frozenset()), plane) for plane in range(len(self.relaxed.groups))]

    def _add(self, closed: Stops, least: int, enough: int, go_on: Callable[[], bool]) -> None:
        relaxed = self.relaxed
        relaxed.close(closed)
        solution = relaxed.improve(enough, go_on)
        self.made += 1
        bound = max(least, relaxed.proven)
        if bound >= enough:
            return
        values = solution.values if solution is not None else ()
        value = solution.objective if solution is not None else float(bound)
        heapq.heappush(self.open, Case(bound, value, self.made, closed, self._undecided(closed, values)))

    def _ways(self, closed: Closed, plane: int, row: int) -> list[tuple[int, int, int]]:
        nets = self.relaxed.groups[plane].nets
        return [
            (n, row, i)
            for n, net in enumerate(nets)
            if row < len(net.rows)
            for i in range(len(net.rows[row]))
            if (n, row, i) not in closed
        ]

    def _closed_but(
        self, before: Stops, plane: int, row: int, ways: Sequence[tuple[int, int, int]], chosen: tuple[int, int, int]
    ) -> Stops:
        closed = dict(before)
        shut = {way for way in ways if way != chosen}
        closed[plane] = self._settled(plane, before.get(plane, frozenset()) | shut)
        if row == 0:
            for other in self.alike[plane]:
                # The lower number among alike planes takes the lower way.
                past = [
                    way
                    for way in self._ways(closed.get(other, frozenset()), other, 0)
                    if (other < plane and way > chosen) or (other > plane and way < chosen)
                ]
                if past:
                    closed[other] = self._settled(other, closed.get(other, frozenset()) | set(past))
        return closed

    def _settled(self, plane: int, closed: frozenset[tuple[int, int, int]]) -> Closed:
        """Closed stops, with those that no whole route passes any more."""
        shut = set(closed)
        for n, net in enumerate(self.relaxed.groups[plane].nets):
            for r in range(len(net.rows) - 2, -1, -1):
                for i, after in enumerate(net.nexts[r]):
                    if all((n, r + 1, j) in shut for j in after):
                        shut.add((n, r, i))
            for r, nexts in enumerate(net.nexts):
                reached = {j for i, after in enumerate(nexts) if (n, r, i) not in shut for j in after}
                shut |= {(n, r + 1, j) for j in range(len(net.rows[r + 1])) if j not in reached}
        return frozenset(shut)

    def _undecided(self, closed: Stops, values: Sequence[float]) -> tuple[int, int] | None:
        """The plane and row to split: where the program mixes most, of the lowest rows first; else the first left."""
        mixed: dict[tuple[int, int], dict[tuple[int, int], float]] = {}
        for step in self.relaxed.steps:
            flow = values[step.column] if step.column < len(values) else 0.0
            if flow > _FLOW:
                ways = mixed.setdefault((step.group, step.row), {})
                ways[step.net, step.stop] = ways.get((step.net, step.stop), 0.0) + flow
        candidates = [(max(ways.values()), row, plane) for (plane, row), ways in mixed.items() if len(ways) > 1]
        if candidates:
            _, row, plane = min(candidates)
            return plane, row
        for plane, group in enumerate(self.relaxed.groups):
            shut = closed.get(plane, frozenset())
            for row in range(max(len(net.rows) for net in group.nets)):
                if len(self._ways(shut, plane, row)) > 1:
                    return plane, row
        return None

    def _route(self, closed: Closed, plane: int) -> Route:
        for n, net in enumerate(self.relaxed.groups[plane].nets):
            stops = [i for row in range(len(net.rows)) for i in range(len(net.rows[row])) if (n, row, i) not in closed]
            if len(stops) == len(net.rows):
                return n, tuple(stops)
        msg = "a case of one layout has no route"
        raise AssertionError(msg)
