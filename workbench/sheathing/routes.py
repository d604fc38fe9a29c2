"""Every layout of a plane that may be chosen, as a net of routes up its rows. Inches, plane axes.

A stop is one way of laying one row; a route goes from a stop of the lowest row to one of the highest, each next stop
keeping the stagger to the one below. One net a plane and split.
"""

from __future__ import annotations

import itertools
from collections.abc import Sequence
from dataclasses import dataclass
from functools import lru_cache

from workbench.sheathing.columns import column_options
from workbench.sheathing.layout import Cell, Layout, LayoutRules, cells_of, parts_on, rows_on
from workbench.sheathing.region import Region
from workbench.sheathing.rows import RowOption, choose_option, row_options
from workbench.sheathing.search import Path, RowColumns, broken_by_row, missed_between, row_ways

_MOST_COMBINED = 24
_SAME_MISS_IN = 1e-6

Cost = tuple[int, int, float]


@dataclass(frozen=True, slots=True)
class Stop:
    """One way of laying one row, with its pieces."""

    way: RowColumns
    cells: tuple[Cell, ...]


@dataclass(frozen=True)
class Net:
    """The routes of one plane and split.

    Attributes:
        region: What is to be covered.
        rules: What it is laid out by.
        option: The split.
        rows: The stops of each row, from the eave up.
        nexts: For each row but the last, and each of its stops, the stops of the row above that may follow.
        cost: What every route breaks, where the net holds the routes that break least; else None.
    """

    region: Region
    rules: LayoutRules
    option: RowOption
    rows: tuple[tuple[Stop, ...], ...]
    nexts: tuple[tuple[tuple[int, ...], ...], ...]
    cost: Cost | None = None

    def layout(self, route: Sequence[int]) -> Layout:
        """The layout of a route: one stop number a row."""
        path: Path = tuple(row[i].way for row, i in zip(self.rows, route, strict=True))
        errors, warnings, _ = path_cost(path, self.rules)
        return Layout(self.region, self.rules, self.option, path, errors, warnings)


def path_cost(path: Path, rules: LayoutRules) -> Cost:
    """Errors, warnings, and by how much the stagger is missed."""
    missed = [missed_between(one, other, rules) for one, other in itertools.pairwise(path)]
    broken = [broken_by_row(way) for way in path]
    warnings = sum(one[1] for one in broken) + sum(miss > 0.0 for miss in missed)
    return sum(one[0] for one in broken), warnings, sum(missed)


@lru_cache(maxsize=256)
def best_nets(region: Region, supports: tuple[float, ...], rules: LayoutRules) -> tuple[Net, ...]:
    """The nets of the routes that break the fewest rules, over the splits the job asks for."""
    options = row_options(region.top_in - region.bottom_in, rules.rows)
    if rules.split != "fewest":
        options = (choose_option(options, rules.split),)
    return _least(region, options, supports, rules, True)


@lru_cache(maxsize=256)
def allowed_nets(region: Region, supports: tuple[float, ...], rules: LayoutRules, lawful: bool) -> tuple[Net, ...]:
    """The nets of every layout that the rules allow, whatever first piece or split the job asks for.

    Args:
        region: What is to be covered.
        supports: x of its rafters.
        rules: What it is laid out by.
        lawful: Whether some layout has every joint on a rafter, no piece under a bay, and keeps the stagger: then all
            such layouts are allowed, also those with pieces of one bay. Where none has, those that break least are.
    """
    options = row_options(region.top_in - region.bottom_in, rules.rows)
    if not lawful:
        return _least(region, options, supports, rules, False)
    nets: list[Net] = []
    for option in options:
        rows = [
            [way for way in row if not broken_by_row(way)[0]] for row in _ways(region, option, supports, rules, False)
        ]
        nexts = [
            [[j for j, way in enumerate(above) if not missed_between(one, way, rules)] for one in row]
            for row, above in itertools.pairwise(rows)
        ]
        net = _trimmed(region, option, rows, nexts, rules, None) if all(rows) else None
        if net is not None:
            nets.append(net)
    return tuple(nets)


def _least(
    region: Region, options: Sequence[RowOption], supports: tuple[float, ...], rules: LayoutRules, asked: bool
) -> tuple[Net, ...]:
    nets = [_least_broken(region, option, _ways(region, option, supports, rules, asked), rules) for option in options]
    costs = [net.cost for net in nets if net.cost is not None]
    least = min((cost[:2] for cost in costs), default=(0, 0))
    return tuple(net for net in nets if net.cost is not None and net.cost[:2] == least)


def _ways(
    region: Region, option: RowOption, supports: tuple[float, ...], rules: LayoutRules, asked: bool
) -> list[list[RowColumns]]:
    """The ways of laying each row; parts of one row are combined freely where they are few."""
    tied = row_ways(region, option, supports, rules, asked)
    rows: list[list[RowColumns]] = []
    for number, parts in enumerate(parts_on(region, option, rules)):
        by_part = [column_options(part.stretch, supports, rules.columns) for part in parts]
        count = 1
        for ways in by_part:
            count *= len(ways)
        if len(parts) < 2 or count > _MOST_COMBINED or (asked and not number and rules.first_piece_in is not None):
            rows.append(tied[number])
        else:
            rows.append([tuple(way) for way in itertools.product(*by_part)])
    return rows


def _least_broken(region: Region, option: RowOption, rows: list[list[RowColumns]], rules: LayoutRules) -> Net:
    """The stops and steps that lie on some route which breaks as little as any."""
    above: list[list[Cost]] = [[(0, 0, 0.0)] * len(row) for row in rows]
    steps = [
        [[missed_between(one, way, rules) for way in upper] for one in lower]
        for lower, upper in itertools.pairwise(rows)
    ]
    own = [[(*broken_by_row(way), 0.0) for way in row] for row in rows]
    for r in range(len(rows) - 2, -1, -1):
        above[r] = [
            min(_plus(_step(steps[r][i][j]), own[r + 1][j], above[r + 1][j]) for j in range(len(rows[r + 1])))
            for i in range(len(rows[r]))
        ]
    starts = [_plus(own[0][i], above[0][i]) for i in range(len(rows[0]))]
    least = min(starts)
    kept: list[set[int]] = [{i for i, cost in enumerate(starts) if _same(cost, least)}]
    nexts: list[list[list[int]]] = []
    for r in range(len(rows) - 1):
        after = [
            [
                j
                for j in range(len(rows[r + 1]))
                if i in kept[r] and _same(_plus(_step(steps[r][i][j]), own[r + 1][j], above[r + 1][j]), above[r][i])
            ]
            for i in range(len(rows[r]))
        ]
        nexts.append(after)
        kept.append({j for js in after for j in js})
    marked = [[way if i in kept[r] else None for i, way in enumerate(row)] for r, row in enumerate(rows)]
    net = _trimmed(region, option, marked, nexts, rules, least)
    assert net is not None
    return net


def _step(missed: float) -> Cost:
    return 0, int(missed > 0.0), missed


def _plus(*costs: Cost) -> Cost:
    return sum(c[0] for c in costs), sum(c[1] for c in costs), sum(c[2] for c in costs)


def _same(one: Cost, other: Cost) -> bool:
    return one[:2] == other[:2] and abs(one[2] - other[2]) <= _SAME_MISS_IN


def _trimmed(
    region: Region,
    option: RowOption,
    rows: Sequence[Sequence[RowColumns | None]],
    nexts: Sequence[Sequence[Sequence[int]]],
    rules: LayoutRules,
    cost: Cost | None,
) -> Net | None:
    """The net without stops that no whole route passes; None where none is left."""
    up = [{i for i, way in enumerate(rows[0]) if way is not None}]
    for r, after in enumerate(nexts):
        up.append({j for i in up[r] for j in after[i] if rows[r + 1][j] is not None})
    down = [set[int]() for _ in rows]
    down[-1] = up[-1]
    for r in range(len(rows) - 2, -1, -1):
        down[r] = {i for i in up[r] if any(j in down[r + 1] for j in nexts[r][i])}
    if not all(down):
        return None
    order = [sorted(kept) for kept in down]
    place = [{i: k for k, i in enumerate(kept)} for kept in order]
    made = rows_on(region, option, rules)
    parts = parts_on(region, option, rules)
    stops: list[tuple[Stop, ...]] = []
    for r, kept in enumerate(order):
        found: list[Stop] = []
        for i in kept:
            way = rows[r][i]
            assert way is not None
            cells = [
                cell
                for part, columns in zip(parts[r], way, strict=True)
                for cell in cells_of(region, rules, made[r], part, columns.joints)
            ]
            found.append(Stop(way, tuple(cells)))
        stops.append(tuple(found))
    trimmed = tuple(
        tuple(tuple(place[r + 1][j] for j in nexts[r][i] if j in place[r + 1]) for i in order[r])
        for r in range(len(rows) - 1)
    )
    return Net(region, rules, option, tuple(stops), trimmed, cost)
