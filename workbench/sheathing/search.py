"""Which layout buys the fewest sheets: first pieces, their alternation and the splits, over all planes of a job.

Rules come first: only layouts that break the fewest of them are compared. Then sheets, cuts, distinct sizes, and the
longer first piece, in this order (common practice, no source).
"""

from __future__ import annotations

import itertools
import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from functools import lru_cache

from workbench.sheathing.columns import Columns, column_options, joint_offset, missed_by, stagger_missed
from workbench.sheathing.cutting import in_order, layout_sizes
from workbench.sheathing.layout import Layout, LayoutRules, parts_on
from workbench.sheathing.packing import Size, sheet_count, sheets_needed
from workbench.sheathing.region import Region
from workbench.sheathing.rows import RowOption, choose_option, row_options

MOST_LAYOUTS = 16
"""Layouts of one plane that are packed and compared."""

MOST_TRIES = 12
"""Changes of one plane's layout tried for the sake of the whole job."""

RowColumns = tuple[Columns, ...]
"""A way of laying one row: the columns of each of its parts."""

Path = tuple[RowColumns, ...]
"""A way of laying every row."""

Broken = tuple[int, int, float]
"""Rules broken: errors, warnings, and by how much the stagger is missed."""


@dataclass(frozen=True)
class Counted:
    """A layout with what it buys on its own."""

    layout: Layout
    sizes: tuple[Size, ...]
    sheets: int
    cuts: int
    distinct: int

    @property
    def key(self) -> tuple[int, int, int, int, int, bool, float]:
        """What layouts are compared by: less is better. Of two equal splits the halves need one saw setting only."""
        layout = self.layout
        least = layout.option.split == "least"
        return layout.errors, layout.warnings, self.sheets, self.cuts, self.distinct, least, -layout.first_in


@dataclass(frozen=True)
class PlaneSearch:
    """What was found for one plane.

    Attributes:
        by_split: For each split compared, the best layout on its own.
        ways: The layouts that may be chosen, best on its own first.
        lawful: Whether these have every joint on a rafter, keep the stagger, and have no piece of less than a bay.
    """

    by_split: tuple[Counted, ...]
    ways: tuple[Counted, ...]
    lawful: bool


@lru_cache(maxsize=2048)
def search_plane(region: Region, supports: tuple[float, ...], rules: LayoutRules) -> PlaneSearch:
    """The layouts of one plane, compared on its own.

    Args:
        region: What is to be covered; not empty.
        supports: x of its supports.
        rules: What it is laid out by.
    """
    options = row_options(region.top_in - region.bottom_in, rules.rows)
    ranked = [(option, _counted(region, option, supports, rules)) for option in options]
    by_split = tuple(ways[0] for _, ways in ranked)
    if rules.split == "fewest":
        allowed = [way for _, ways in ranked for way in ways]
    else:
        asked = choose_option(options, rules.split)
        allowed = [way for option, ways in ranked if option is asked for way in ways]
    fewest_errors = min((way.layout.errors, way.layout.warnings) for way in allowed)
    lawful = [way for way in allowed if (way.layout.errors, way.layout.warnings) == fewest_errors]
    return PlaneSearch(by_split, tuple(sorted(lawful, key=_key)), _keeps_all(lawful[0].layout))


@lru_cache(maxsize=2048)
def quick_plane(region: Region, supports: tuple[float, ...], rules: LayoutRules) -> PlaneSearch:
    """As ``search_plane``, but of the layouts that may be chosen only the one that is best on its own."""
    options = row_options(region.top_in - region.bottom_in, rules.rows)
    bests = tuple(_best(region, option, supports, rules) for option in options)
    if rules.split == "fewest":
        allowed = bests
    else:
        asked = choose_option(options, rules.split)
        allowed = tuple(way for option, way in zip(options, bests, strict=True) if option is asked)
    fewest_errors = min((way.layout.errors, way.layout.warnings) for way in allowed)
    lawful = [way for way in allowed if (way.layout.errors, way.layout.warnings) == fewest_errors]
    return PlaneSearch(bests, (min(lawful, key=_key),), _keeps_all(lawful[0].layout))


def _keeps_all(layout: Layout) -> bool:
    """Whether a layout has every joint on a rafter and keeps the stagger."""
    pairs = itertools.pairwise(layout.joints)
    return layout.errors == 0 and not any(stagger_missed(*pair, layout.rules.stagger_in) for pair in pairs)


def sheets_of(ways: Sequence[Counted], rules: LayoutRules) -> int:
    """Sheets that these layouts take together."""
    return sheet_count(_all(ways), rules.sheet)


def counted(layout: Layout) -> Counted:
    """A layout with what it buys on its own."""
    sizes = layout_sizes(layout)
    cuts, distinct = _work(layout)
    return Counted(layout, sizes, sheet_count(sizes, layout.rules.sheet), cuts, distinct)


def search_job(planes: Sequence[PlaneSearch], rules: Sequence[LayoutRules], least: int) -> tuple[Counted, ...]:
    """One layout a plane, so that the job as a whole buys few sheets.

    Starts from each plane's own best; off-cuts serve all planes, so a plane then takes another of its layouts where
    that saves the job a sheet.

    Args:
        planes: One search a plane.
        rules: The rules of each plane; all share the sheet and the saw.
        least: Sheets that no layout can go under; nothing is tried once it is reached.
    """
    chosen = [plane.ways[0] for plane in planes]
    if not chosen:
        return ()
    sheet = rules[0].sheet
    sheets = sheets_of(chosen, rules[0])
    tries = 0
    for _ in range(2):
        before = sheets
        for i, plane in enumerate(planes):
            for way in plane.ways:
                if sheets <= least or tries >= MOST_TRIES:
                    return tuple(chosen)
                if way is chosen[i]:
                    continue
                sizes = _all([*chosen[:i], way, *chosen[i + 1 :]])
                if sheets_needed(sizes, sheet) >= sheets:
                    continue
                tries += 1
                found = sheet_count(sizes, sheet)
                if found < sheets:
                    chosen[i], sheets = way, found
        if sheets == before:
            break
    return tuple(chosen)


def _all(ways: Iterable[Counted]) -> tuple[Size, ...]:
    return in_order(size for way in ways for size in way.sizes)


def _key(way: Counted) -> tuple[int, int, int, int, int, bool, float]:
    return way.key


def _counted(region: Region, option: RowOption, supports: tuple[float, ...], rules: LayoutRules) -> list[Counted]:
    """The layouts of one split with what each buys, best first; those that can't match the best are left out."""
    found: list[Counted] = []
    fewest = math.inf
    for draft in _drafts(region, option, supports, rules):
        if draft.sheets > fewest:
            break
        sheets = sheet_count(draft.sizes, rules.sheet)
        fewest = min(fewest, sheets)
        found.append(replace(draft, sheets=sheets))
    return sorted(found, key=_key)


def _best(region: Region, option: RowOption, supports: tuple[float, ...], rules: LayoutRules) -> Counted:
    """The best layout of one split on its own."""
    best: Counted | None = None
    for draft in _drafts(region, option, supports, rules):
        if best is not None and best.key <= draft.key:
            break
        way = replace(draft, sheets=sheet_count(draft.sizes, rules.sheet))
        if best is None or way.key < best.key:
            best = way
    assert best is not None
    return best


def _drafts(region: Region, option: RowOption, supports: tuple[float, ...], rules: LayoutRules) -> list[Counted]:
    """The layouts of one split with sheets that each can't go under, best first."""
    drafts: list[Counted] = []
    for layout in layouts_of(region, option, supports, rules):
        sizes = layout_sizes(layout)
        cuts, distinct = _work(layout)
        drafts.append(Counted(layout, sizes, sheets_needed(sizes, rules.sheet), cuts, distinct))
    return sorted(drafts, key=_key)


def _work(layout: Layout) -> tuple[int, int]:
    """Saw cuts of a layout's pieces, and how many different cut pieces there are."""
    rules = layout.rules
    rip = rules.rows.panel_in - 1e-3
    full = rules.panel_length_in - rules.rows.gap_in - 1e-3
    if layout.lengths is not None:
        pieces = [(net, nominal, width, True) for width, row in layout.lengths for net, nominal in row]
    else:
        pieces = [(cell.length_in, cell.nominal_in, cell.width_in, cell.upright) for cell in layout.cells]
    cut = [piece for piece in pieces if piece[0] < full or piece[2] < rip or not piece[3]]
    cuts = sum((net < full or not upright) + (width < rip) for net, _, width, upright in cut)
    return cuts, len({(round(nominal, 3), round(width, 3), upright) for _, nominal, width, upright in cut})


@lru_cache(maxsize=2048)
def layouts_of(
    region: Region, option: RowOption, supports: tuple[float, ...], rules: LayoutRules
) -> tuple[Layout, ...]:
    """The layouts of one split that break the fewest rules, at most ``MOST_LAYOUTS`` of them."""
    ways = row_ways(region, option, supports, rules)
    paths = _alternations(ways, rules) if region.rectangle is not None else _paths(ways, rules)
    least = min(broken for broken, _ in paths)
    lawful = [path for broken, path in paths if broken <= (*least[:2], least[2] + 1e-6)]
    lawful.sort(key=lambda path: sum(_pieces(row) for row in path))
    return tuple(Layout(region, rules, option, path, least[0], least[1]) for path in lawful[:MOST_LAYOUTS])


def row_ways(
    region: Region, option: RowOption, supports: tuple[float, ...], rules: LayoutRules, asked: bool = True
) -> list[list[RowColumns]]:
    """For each row the ways of laying it, all its parts by the same choice of first joint.

    With ``asked`` the first row takes the first piece that the job asks for, if it asks for one.
    """
    rows: list[list[RowColumns]] = []
    for number, parts in enumerate(parts_on(region, option, rules)):
        by_part = [column_options(part.stretch, supports, rules.columns) for part in parts]
        if number == 0 and asked and rules.first_piece_in is not None:
            by_part = [_nearest(ways, rules.first_piece_in) for ways in by_part]
        most = max((len(ways) for ways in by_part), default=1)
        rows.append([tuple(ways[min(k, len(ways) - 1)] for ways in by_part) for k in range(most)])
    return rows


def _nearest(ways: tuple[Columns, ...], first_in: float) -> tuple[Columns, ...]:
    off = min(abs(way.first_in - first_in) for way in ways)
    return tuple(way for way in ways if abs(way.first_in - first_in) <= off + 1e-6)


def _alternations(ways: list[list[RowColumns]], rules: LayoutRules) -> list[tuple[Broken, Path]]:
    """Rows of equal extent: two ways that take turns, with what they break together."""
    rows = len(ways)
    found: list[tuple[Broken, Path]] = []
    for one, other in itertools.product(ways[0], ways[1] if rows > 1 else [()]):
        missed = missed_between(one, other, rules) if rows > 1 else 0.0
        errors, warnings = 0, (rows - 1) * (missed > 0.0)
        for way, times in ((one, (rows + 1) // 2), (other, rows // 2)):
            more_errors, more_warnings = broken_by_row(way)
            errors, warnings = errors + times * more_errors, warnings + times * more_warnings
        found.append(((errors, warnings, missed), tuple(other if k % 2 else one for k in range(rows))))
    return found


def _paths(ways: list[list[RowColumns]], rules: LayoutRules) -> list[tuple[Broken, Path]]:
    """Rows of changing extent: for each way of laying the first row the path up the rows that breaks least.

    A path of half-panel steps is looked for as well where less stagger will do: its end pieces share sheets better.
    """
    steps = _Steps(ways)
    half_in = rules.panel_length_in / 2.0
    found = steps.paths(rules.stagger_in)
    if half_in > rules.stagger_in:
        found += steps.paths(half_in)
    # Two numbers may stand for equal ways: a path is told apart by what it is.
    paths: dict[Path, tuple[int, ...]] = {}
    for numbers in dict.fromkeys(found):
        paths.setdefault(steps.path(numbers), numbers)
    return [(steps.broken_by(numbers, rules.stagger_in), path) for path, numbers in paths.items()]


class _Steps:
    """The steps between the ways of neighbouring rows, measured once for all paths."""

    def __init__(self, ways: list[list[RowColumns]]) -> None:
        self._ways = ways
        joints = [[_joints(way) for way in row] for row in ways]
        self._offsets = [
            [[joint_offset(one, other) for one in lower] for other in upper]
            for lower, upper in itertools.pairwise(joints)
        ]
        self._own = [[(*broken_by_row(way), _pieces(way)) for way in row] for row in ways]

    def path(self, ways: Sequence[int]) -> Path:
        """The ways of a path given by their numbers, row by row."""
        return tuple(row[way] for row, way in zip(self._ways, ways, strict=True))

    def broken_by(self, ways: Sequence[int], stagger_in: float) -> Broken:
        """What a path breaks."""
        own = [row[way] for row, way in zip(self._own, ways, strict=True)]
        pairs = zip(self._offsets, itertools.pairwise(ways), strict=True)
        missed = [missed_by(step[upper][lower], stagger_in) for step, (lower, upper) in pairs]
        return sum(e for e, _, _ in own), sum(w for _, w, _ in own) + sum(m > 0.0 for m in missed), sum(missed)

    def paths(self, stagger_in: float) -> list[tuple[int, ...]]:
        """For each way of laying the first row the path that breaks least, by the numbers of its ways."""
        missed = [[[missed_by(off, stagger_in) for off in row] for row in step] for step in self._offsets]
        return [self._path_from(first, missed) for first in range(len(self._ways[0]))]

    def _path_from(self, first: int, missed: list[list[list[float]]]) -> tuple[int, ...]:
        errors, warnings, pieces = self._own[0][first]
        costs: list[tuple[int, int, float, int]] = [(errors, warnings, 0.0, pieces)]
        came: list[list[int]] = []
        for step, own in zip(missed, self._own[1:], strict=True):
            nexts: list[tuple[int, int, float, int]] = []
            source: list[int] = []
            for (errors, warnings, pieces), row in zip(own, step, strict=True):
                # From the first way alone, or from each of the row below.
                short = row if came else row[first : first + 1]
                tries = [(e, w + (m > 0.0), s + m, n) for (e, w, s, n), m in zip(costs, short, strict=True)]
                least = min(tries)
                source.append(tries.index(least))
                nexts.append((least[0] + errors, least[1] + warnings, least[2], least[3] + pieces))
            came.append(source)
            costs = nexts
        at = costs.index(min(costs))
        path: list[int] = []
        for source in reversed(came):
            path.append(at)
            at = source[at]
        return (first, *reversed(path))


def broken_by_row(row: RowColumns) -> tuple[int, int]:
    """Errors and warnings of one row by itself."""
    return sum(columns.errors for columns in row), sum(columns.warnings for columns in row)


def _pieces(row: RowColumns) -> int:
    return sum(len(columns.joints) + 1 for columns in row)


def missed_between(one: RowColumns, other: RowColumns, rules: LayoutRules) -> float:
    """By how much two neighbouring rows miss the stagger."""
    return stagger_missed(_joints(one), _joints(other), rules.stagger_in)


def _joints(row: RowColumns) -> tuple[float, ...]:
    return row[0].joints if len(row) == 1 else tuple(x for columns in row for x in columns.joints)
