"""Sheets as they are really cut, and the layouts that go with them: whole-number choice over both. Inches."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, field, replace

from workbench.sheathing.arrange import Arranged, Laid, arrange, filled
from workbench.sheathing.kinds import Kind
from workbench.sheathing.pricing import Pricer
from workbench.sheathing.relaxed import SCALE, Counts, Group, Step, Stock, add_routes, most_of
from workbench.sheathing.routes import Net
from workbench.sheathing.solver import Program, Solution

_MOST_FILLERS = 24

Key = tuple[tuple[int, int], ...]
Route = tuple[int, tuple[int, ...]]
"""Number of a net, and the number of a stop for each of its rows."""


@dataclass(frozen=True)
class Chosen:
    """Layouts and sheets that go together.

    Attributes:
        routes: For each group the route of each of its planes: number of the net and its stops.
        sheets: Sheets with what is cut from them, and how many are cut so.
        alone: Pieces that take a sheet of their own.
    """

    routes: tuple[tuple[Route, ...], ...]
    sheets: tuple[tuple[Arranged, int], ...]
    alone: int

    @property
    def count(self) -> int:
        """Sheets in all."""
        return self.alone + sum(times for _, times in self.sheets)


@dataclass
class Fewest:
    """The program over layouts and real sheets."""

    stock: Stock
    groups: tuple[Group, ...]
    pricer: Pricer
    program: Program
    steps: list[Step]
    sheets: list[tuple[int, Arranged]] = field(default_factory=list[tuple[int, Arranged]])
    known: dict[Key, int] = field(default_factory=dict[Key, int])
    tried: dict[Key, Arranged | None] = field(default_factory=dict[Key, Arranged | None])
    most: tuple[int, ...] = ()

    @classmethod
    def of(cls, stock: Stock, groups: Sequence[Group]) -> Fewest:
        """The program, with one sheet a kind to begin with."""
        program = Program()
        pricer = Pricer.of(stock.kinds, most_of(groups, len(stock.kinds)), stock.rules, real=True)
        for _ in stock.kinds:
            program.add_row(0.0)
        steps = add_routes(program, groups, frozenset(), pricer.areas)
        made = cls(stock, tuple(groups), pricer, program, steps, most=tuple(most_of(groups, len(stock.kinds))))
        for k, most in enumerate(made.most):
            if most and k not in stock.alone:
                kind = stock.kinds[k]
                made.add(Arranged((Laid(k, kind.shape.ring, False),), ()))
        return made

    def add(self, arranged: Arranged) -> None:
        """A column, unless one that holds the same is known."""
        counts = counted(arranged)
        key = tuple(sorted(counts.items()))
        if key in self.known or not key:
            return
        column = self.program.add_column(1.0, [(k, float(n)) for k, n in key])
        self.known[key] = column
        self.sheets.append((column, arranged))

    def add_contents(self, inside: Counts, wanted: Sequence[int] = ()) -> None:
        """A column of pieces that a sheet may hold, if a way to lay them out is found; wanted ones fill the rest."""
        inside = {k: min(n, self.most[k]) for k, n in inside.items() if self.most[k]}
        key = tuple(sorted(inside.items()))
        if key not in self.tried:
            self.tried[key] = realised(self.stock.kinds, inside, self.pricer.leans, self.stock)
        arranged = self.tried[key]
        if arranged is None:
            return
        self.add(arranged)
        if wanted:
            self.add(filled(arranged, self.stock.kinds, wanted, self.stock.rules.kerf_in))

    def improve(self, go_on: Callable[[], bool], rounds: int) -> Solution | None:
        """Solves and prices real sheets until none is worth more than it costs."""
        solution = self.program.solve()
        for _ in range(rounds):
            if solution is None or not go_on():
                return solution
            before = len(self.sheets)
            values = [round(dual * SCALE) for dual in solution.duals[: len(self.stock.kinds)]]
            wanted = self._wanted(values)
            densest = max((values[k] // max(self.pricer.areas[k], 1) for k in wanted), default=0)
            for area in sorted({0, densest // 3, 2 * densest // 3}):
                _, contents = self.pricer.best(values, area)
                for inside in contents[:4]:
                    self.add_contents(inside, wanted)
            if wanted:
                self.add_contents({}, wanted)
            if len(self.sheets) == before:
                return solution
            solution = self.program.solve()
        return solution

    def wanted(self, solution: Solution) -> list[int]:
        """Pieces that may fill what is left over of a sheet, by the worths of a solution."""
        return self._wanted([round(dual * SCALE) for dual in solution.duals[: len(self.stock.kinds)]])

    def _wanted(self, values: Sequence[int]) -> list[int]:
        """Pieces that may fill what is left over, the most worth for their area first."""
        kinds = self.stock.kinds
        fillers = [k for k, most in enumerate(self.most) if most and values[k] > 0 and is_filler(kinds[k], self.stock)]
        fillers.sort(key=lambda k: (-values[k] / max(self.pricer.areas[k], 1), k))
        return [k for k in fillers[:_MOST_FILLERS] for _ in range(min(self.most[k], 3))]

    def choose(self, nodes: int, seconds: float) -> Chosen | None:
        """Layouts and sheets in whole numbers, a full sheet from the best of these at most where nodes are enough."""
        whole = [step.column for step in self.steps] + [column for column, _ in self.sheets]
        solution = self.program.solve_whole(whole, nodes, seconds, gap=0.999)
        return None if solution is None else self.chosen(solution)

    def chosen(self, solution: Solution) -> Chosen:
        """What a solution in whole numbers says."""
        values = solution.values
        taken = [(step, round(values[step.column])) for step in self.steps if values[step.column] > 0.5]
        alone = sum(times * self.groups[step.group].alone[step.net][step.row][step.stop] for step, times in taken)
        sheets = tuple((arranged, round(values[column])) for column, arranged in self.sheets if values[column] > 0.5)
        routes = tuple(self._routes(g, values) for g in range(len(self.groups)))
        return Chosen(routes, sheets, alone)

    def _routes(self, group: int, values: Sequence[float]) -> tuple[Route, ...]:
        left = {
            (step.net, step.row, step.before, step.stop): round(values[step.column])
            for step in self.steps
            if step.group == group and values[step.column] > 0.5
        }
        nets = self.groups[group].nets
        return tuple(_route(left, nets) for _ in self.groups[group].members)


def _route(left: dict[tuple[int, int, int, int], int], nets: Sequence[Net]) -> Route:
    """Takes one route out of the steps that are left."""
    start = next(key for key, times in left.items() if times and key[1] == 0)
    net, stops = start[0], [start[3]]
    left[start] -= 1
    while len(stops) < len(nets[net].rows):
        key = next(k for k, times in left.items() if times and k[:3] == (net, len(stops), stops[-1]))
        left[key] -= 1
        stops.append(key[3])
    return net, tuple(stops)


def settled(groups: Sequence[Group], chosen: Chosen, stock: Stock) -> list[Group]:
    """The groups with nothing left to choose: the planes of each route by themselves."""
    found: list[Group] = []
    for group, routes in zip(groups, chosen.routes, strict=True):
        planes: dict[Route, list[int]] = {}
        for member, route in zip(group.members, routes, strict=True):
            planes.setdefault(route, []).append(member)
        for (number, stops), members in planes.items():
            net = group.nets[number]
            rows = tuple((row[i],) for row, i in zip(net.rows, stops, strict=True))
            found.append(stock.group((replace(net, rows=rows, nexts=(((0,),),) * (len(rows) - 1)),), members))
    return found


def counted(arranged: Arranged) -> Counts:
    """Pieces by kind."""
    counts: Counts = {}
    for laid in arranged.laid:
        counts[laid.kind] = counts.get(laid.kind, 0) + 1
    return counts


def is_filler(kind: Kind, stock: Stock) -> bool:
    """Whether a piece may be put wherever it fits: small ones, and slanted ones well under the sheet's width."""
    return kind.level != "tall" or (not kind.shape.upright and kind.shape.width_in < 0.9 * stock.rules.width_in)


def realised(kinds: Sequence[Kind], inside: Counts, leans: Sequence[float], stock: Stock) -> Arranged | None:
    """These pieces in one sheet: all side by side, or the narrower slanted ones where there is room."""
    pieces = [k for k, n in sorted(inside.items()) for _ in range(n)]
    main = [k for k in pieces if kinds[k].level != "small"]
    arranged = arrange(kinds, main, leans, stock.rules)
    if arranged is not None and len(main) == len(pieces):
        return arranged
    if arranged is None:
        main = [k for k in main if not is_filler(kinds[k], stock)]
        arranged = arrange(kinds, main, leans, stock.rules) if len(main) < len(pieces) else None
    if arranged is None:
        return None
    rest = list(pieces)
    for k in main:
        rest.remove(k)
    rest.sort(key=lambda k: (-kinds[k].area_sqin, k))
    return filled(arranged, kinds, rest, stock.rules.kerf_in)
