"""Sheets that no allowed layout can go under: layouts and cutting bounded together, proven in whole numbers.

The linear program chooses, for every plane, shares of routes through its layouts, and sheets that hold the pieces of
these routes. Its duals give each kind of piece a worth. However they were found: if no sheet can hold more than z worth
of pieces, then the worth of the cheapest route of every plane, together, divided by z, bounds the sheets of all layouts
(the bound of Farley for cutting stock, from memory; Oper. Res. 38, 1990). z and the cheapest routes are whole numbers
found exactly, so the bound does not rest on any rounding of the linear program. Where pieces are slanted, z is then
taken over the sheets that pass ``sieve`` only, all of which worth more than a limit are written out: a sheet that can
be cut passes, so that none is worth more than the most of these and the limit.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, field, replace

from workbench.sheathing.cutting import cell_shape
from workbench.sheathing.kinds import Kind, Shape, kinds_of
from workbench.sheathing.layout import Cell, LayoutRules
from workbench.sheathing.packing import SheetRules
from workbench.sheathing.pricing import Pricer
from workbench.sheathing.routes import Net
from workbench.sheathing.sieve import Sieve
from workbench.sheathing.solver import Program, Solution

SCALE = 1 << 24

_SIEVED = 60

_NONE_LEFT = 1 << 30  # sheets, where no route is left

Counts = dict[int, int]

Closed = frozenset[tuple[int, int, int]]
"""Stops that no route may pass: number of the net, row, stop."""


@dataclass(frozen=True)
class Group:
    """Planes that are laid out alike: the nets of one, and which planes these are.

    Attributes:
        nets: The nets of one plane.
        members: Numbers of the planes.
        counts: For each net, row and stop the pieces by kind.
        alone: For each net, row and stop the pieces that take a sheet of their own.
    """

    nets: tuple[Net, ...]
    members: tuple[int, ...]
    counts: tuple[tuple[tuple[Counts, ...], ...], ...]
    alone: tuple[tuple[tuple[int, ...], ...], ...]

    @property
    def times(self) -> int:
        """How many planes."""
        return len(self.members)


@dataclass(frozen=True)
class Stock:
    """Every kind of piece that some layout has.

    Attributes:
        rules: The sheet and the saw.
        shapes: The shape of each kind.
        number: The kind of each shape.
        kinds: The kinds.
        alone: Kinds that nothing else fits beside.
    """

    rules: SheetRules
    shapes: tuple[Shape, ...]
    number: dict[Shape, int]
    kinds: tuple[Kind, ...]
    alone: frozenset[int]

    @classmethod
    def of(cls, planes: Sequence[tuple[Sequence[Net], LayoutRules]], rules: SheetRules) -> Stock:
        """The kinds of all the pieces of these nets."""
        number: dict[Shape, int] = {}
        for nets, _ in planes:
            for net in nets:
                for row in net.rows:
                    for stop in row:
                        for cell in stop.cells:
                            number.setdefault(cell_shape(cell), len(number))
        shapes = tuple(number)
        kinds = kinds_of(shapes, rules)
        return cls(rules, shapes, number, kinds, _alone(kinds, rules))

    def group(self, nets: Sequence[Net], members: Sequence[int]) -> Group:
        """The counts of some nets."""
        counts = [[[self._counts(stop.cells) for stop in row] for row in net.rows] for net in nets]
        alone = tuple(
            tuple(tuple(sum(n for k, n in c.items() if k in self.alone) for c in row) for row in net) for net in counts
        )
        shared = tuple(
            tuple(tuple({k: n for k, n in c.items() if k not in self.alone} for c in row) for row in net)
            for net in counts
        )
        return Group(tuple(nets), tuple(members), shared, alone)

    def _counts(self, cells: Sequence[Cell]) -> Counts:
        found: Counts = {}
        for cell in cells:
            k = self.number[cell_shape(cell)]
            found[k] = found.get(k, 0) + 1
        return found


def _alone(kinds: Sequence[Kind], rules: SheetRules) -> frozenset[int]:
    """Upright kinds that leave too little of a sheet, along and across, for any other."""
    least_run = min((_least_run(kind) for kind in kinds), default=0.0)
    least_width = min((kind.shape.width_in for kind in kinds), default=0.0)
    return frozenset(
        i
        for i, kind in enumerate(kinds)
        if kind.shape.upright
        and kind.shape.length_in + least_run > rules.length_in + 1e-6
        and kind.shape.width_in + least_width > rules.width_in + 1e-6
    )


def _least_run(kind: Kind) -> float:
    """A slanted piece can reach past an upright one's end by no more than this."""
    return kind.shape.length_in if kind.shape.upright else max(x for x, _ in kind.shape.ring)


@dataclass
class Relaxed:
    """The linear program over layouts and sheets, with what is proven so far."""

    stock: Stock
    groups: tuple[Group, ...]
    pricer: Pricer
    program: Program
    steps: list[Step]
    columns: list[tuple[int, Counts]]
    proven: int = 0
    closed: dict[int, Closed] = field(default_factory=dict[int, "Closed"])
    sieve: Sieve | None = None

    @classmethod
    def of(cls, stock: Stock, groups: Sequence[Group], *, guides: bool = False) -> Relaxed:
        """The program, with one sheet a kind to begin with.

        Args:
            stock: The kinds of pieces.
            groups: The planes and their layouts.
            guides: Whether it only guides the search: strips then take half their length beside slanted pieces too,
                which is nearer to how they are cut, but proves nothing.
        """
        pricer = Pricer.of(stock.kinds, most_of(groups, len(stock.kinds)), stock.rules)
        if guides:
            pricer = replace(pricer, spans=())
        program = Program()
        for _ in range(len(stock.kinds) + 1):  # the last row is the area
            program.add_row(0.0)
        small = frozenset(k for k, kind in enumerate(stock.kinds) if kind.level == "small")
        steps = add_routes(program, groups, small, pricer.areas)
        relaxed = cls(stock, tuple(groups), pricer, program, steps, [])
        relaxed.sieve = None if pricer.flat or guides else Sieve(stock.kinds, stock.rules)
        for k in range(len(stock.kinds)):
            if k not in small and k not in stock.alone:
                relaxed.add_sheet({k: 1})
        relaxed.add_sheet({})
        return relaxed

    def add_sheet(self, inside: Counts) -> None:
        """A column: one sheet with these pieces; its area less theirs is for small ones."""
        left = self.pricer.sheet_area - sum(n * self.pricer.areas[k] for k, n in inside.items())
        entries = [(k, float(n)) for k, n in sorted(inside.items())]
        entries.append((len(self.stock.kinds), float(left)))
        self.columns.append((self.program.add_column(1.0, entries), dict(inside)))

    def _is_small(self, k: int) -> bool:
        return self.stock.kinds[k].level == "small"

    def improve(self, enough: int, go_on: Callable[[], bool], rounds: int = 400) -> Solution | None:
        """Solves, prices and adds sheets until the bound is proven up to ``enough`` or stands still."""
        solution = self._improve(enough, go_on, rounds)
        if self.sieve is None or self.proven >= enough or solution is None or not go_on():
            return solution
        shut = [column for column, inside in self.columns if not self.sieve.passes(inside)]
        shut = [column for column in shut if self.program.upper[column]]
        for column in shut:
            self.program.bound_column(column, 0.0)
        solution = self._sieve(self.sieve, enough, go_on) or solution
        for column in shut:
            self.program.bound_column(column, math.inf)
        return solution

    def _sieve(self, sieve: Sieve, enough: int, go_on: Callable[[], bool]) -> Solution | None:
        """The same without the sheets that fail the tests."""
        sieve.steps, solution = 0, None
        for _ in range(_SIEVED):
            solution = self.program.solve()
            if solution is None or not go_on():
                return solution
            values, area = self._worths(solution)
            useful = self._sieved(sieve, values, area)
            if not useful or self.proven >= enough or self.proven >= _ceiling(solution):
                return solution
            for inside in useful:
                self.add_sheet(inside)
        return solution

    def _improve(self, enough: int, go_on: Callable[[], bool], rounds: int) -> Solution | None:
        solution = None
        for _ in range(rounds):
            solution = self.program.solve()
            if solution is None or not go_on():
                return solution
            values, area = self._worths(solution)
            quick = self.pricer.several(values, area, SCALE + (SCALE >> 7))
            if quick:
                for inside in quick:
                    self.add_sheet(inside)
                continue
            best, contents = self.pricer.best(values, area)
            self.proven = max(self.proven, self.bound(values, area, best))
            # No sheet is worth more than a sheet costs, or no bound can be better than what is proven.
            if self.proven >= enough or best <= SCALE + (SCALE >> 16):
                return solution
            if self.proven >= _ceiling(solution):
                return solution
            for inside in contents[:6]:
                self.add_sheet(inside)
        return solution

    def _worths(self, solution: Solution) -> tuple[list[int], int]:
        values = [round(dual * SCALE) for dual in solution.duals[: len(self.stock.kinds)]]
        return values, round(solution.duals[len(self.stock.kinds)] * SCALE)

    def _sieved(self, sieve: Sieve, values: Sequence[int], area: int) -> list[Counts]:
        """Sheets worth more than they cost that pass the tests, most worth first; the bound is raised by their worth.

        A sheet that was really cut is among those listed, or is worth less than was asked for.
        """
        spare = self.pricer.sheet_area * area
        items = [
            (k, value - area * self.pricer.areas[k])
            for k, value in enumerate(values)
            if not self._is_small(k) and self.pricer.most[k] and value > area * self.pricer.areas[k]
        ]
        best, _ = self.pricer.best(values, area)
        tables = self.pricer.tables(items, dict(enumerate(self.pricer.most)))
        least = SCALE + (SCALE >> 14)
        while least < best and not sieve.tired:
            found = sieve.listed(tables, least - spare)
            if found is not None:
                worth = max((*found.values(), least - spare)) + spare
                self.proven = max(self.proven, self.bound(values, area, worth))
                ordered = sorted(found, key=lambda holds: (-found[holds], holds))
                return [dict(holds) for holds in ordered[:20]]
            least += (best - least) // 3 + 1
        return []

    def bound(self, values: Sequence[int], area: int, best: int) -> int:
        """Sheets no layout goes under, by these worths: exact whole numbers."""
        best = max(best, 1)
        worth = [area * self.pricer.areas[k] if self._is_small(k) else values[k] for k in range(len(self.stock.kinds))]
        total = 0
        for number, group in enumerate(self.groups):
            cheapest = _cheapest(group, worth, best, self.closed.get(number, frozenset()))
            if cheapest is None:
                return _NONE_LEFT
            total += group.times * cheapest
        return _up(total, best)

    def close(self, closed: Mapping[int, Closed]) -> None:
        """Leaves routes over these stops out, by the number of the group, and counts what is proven afresh."""
        for step in self.steps:
            shut = (step.net, step.row, step.stop) in closed.get(step.group, frozenset())
            upper = 0.0 if shut else math.inf
            if self.program.upper[step.column] != upper:
                self.program.bound_column(step.column, upper)
        self.closed = dict(closed)
        most = most_of(self.groups, len(self.stock.kinds), self.closed)
        self.pricer = replace(self.pricer, most=tuple(most))
        for column, inside in self.columns:
            # No sheet need hold more of a kind than the layouts left have of it.
            upper = math.inf if all(n <= most[k] for k, n in inside.items()) else 0.0
            if self.program.upper[column] != upper:
                self.program.bound_column(column, upper)
        self.proven = 0


@dataclass(frozen=True, slots=True)
class Step:
    """A column: planes of a group that go from one stop to the next; ``before`` is -1 for the first row."""

    column: int
    group: int
    net: int
    row: int
    before: int
    stop: int


def add_routes(program: Program, groups: Sequence[Group], small: frozenset[int], areas: Sequence[int]) -> list[Step]:
    """One column a step of a route; rows that keep what enters a stop equal to what leaves it.

    Row k of the program counts kind k; where some kinds are small, they count by area in the row after all kinds.
    """
    steps: list[Step] = []

    def add(place: tuple[int, int, int, int, int], ends: list[tuple[int, float]]) -> None:
        g, n, r, _, j = place
        counts = groups[g].counts[n][r][j]
        area = sum(c * areas[k] for k, c in counts.items() if k in small)
        entries = [*ends, *((k, -float(c)) for k, c in counts.items() if k not in small)]
        if area:
            entries.append((len(areas), -float(area)))
        steps.append(Step(program.add_column(float(groups[g].alone[n][r][j]), sorted(entries)), *place))

    for g, group in enumerate(groups):
        source = program.add_row(float(group.times), float(group.times))
        for n, net in enumerate(group.nets):
            rows = [[program.add_row(0.0, 0.0) for _ in row] for row in net.rows[:-1]]
            for i in range(len(net.rows[0])):
                add((g, n, 0, -1, i), [(source, 1.0), *([(rows[0][i], 1.0)] if rows else [])])
            for r, nexts in enumerate(net.nexts):
                for i, after in enumerate(nexts):
                    for j in after:
                        leaves = [(rows[r + 1][j], 1.0)] if r + 1 < len(rows) else []
                        add((g, n, r + 1, i, j), [(rows[r][i], -1.0), *leaves])
    return steps


def most_of(groups: Sequence[Group], kinds: int, closed: Mapping[int, Closed] | None = None) -> list[int]:
    """How many pieces of each kind some layout may have at most, closed stops left out."""
    most = [0] * kinds
    for number, group in enumerate(groups):
        shut: Closed = (closed or {}).get(number, frozenset())
        by_net: list[Counts] = []
        for n, counts in enumerate(group.counts):
            total: Counts = {}
            for r, row in enumerate(counts):
                stops = [stop for i, stop in enumerate(row) if (n, r, i) not in shut]
                for k in {k for stop in stops for k in stop}:
                    total[k] = total.get(k, 0) + max(stop.get(k, 0) for stop in stops)
            by_net.append(total)
        for k in {k for total in by_net for k in total}:
            most[k] += group.times * max(total.get(k, 0) for total in by_net)
    return most


def _cheapest(group: Group, worth: Sequence[int], alone: int, closed: Closed = frozenset()) -> int | None:
    """Worth of the cheapest route of one plane, pieces with a sheet of their own at ``alone`` each.

    Routes over closed stops are left out; None where no other is left.
    """
    found: list[int] = []
    for number, (net, counts, own) in enumerate(zip(group.nets, group.counts, group.alone, strict=True)):
        costs = [
            [
                None if (number, r, i) in closed else sum(c * worth[k] for k, c in stop.items()) + alone * a
                for i, (stop, a) in enumerate(zip(row, more, strict=True))
            ]
            for r, (row, more) in enumerate(zip(counts, own, strict=True))
        ]
        ahead = costs[-1]
        for r in range(len(net.nexts) - 1, -1, -1):
            ahead = [
                None if cost is None or (least := _least(ahead, after)) is None else cost + least
                for cost, after in zip(costs[r], net.nexts[r], strict=True)
            ]
        found += [cost for cost in ahead if cost is not None]
    return min(found, default=None)


def _least(costs: Sequence[int | None], after: Sequence[int]) -> int | None:
    return min((cost for j in after if (cost := costs[j]) is not None), default=None)


def _ceiling(solution: Solution) -> int:
    return _up(round(solution.objective * SCALE) - (SCALE >> 16), SCALE)


def _up(total: int, unit: int) -> int:
    return -(-total // unit)
