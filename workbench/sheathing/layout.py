"""The pieces of one plane, once its rows and joints are settled. Inches, plane axes.

Pieces are net of gaps: half a gap comes off each side that another piece lies against, none off the plane's border, so
that the pieces grown by half a gap tile what is to be covered.
"""

from __future__ import annotations

import itertools
from dataclasses import dataclass, field, replace
from functools import cached_property, lru_cache

from workbench.job.model import Rip, Side, Split
from workbench.roof.model import Point2
from workbench.sheathing.columns import ColumnRules, Columns, Stretch
from workbench.sheathing.model import Row
from workbench.sheathing.packing import SheetRules, Size
from workbench.sheathing.region import SAME_IN, Region, clipped_ring, upright_between
from workbench.sheathing.rows import RowOption, RowRules, place_rows

_WHOLE_IN = 1e-3


@dataclass(frozen=True, slots=True)
class LayoutRules:
    """Everything one plane is laid out by: the job's sheathing with what differs on the plane. Inches.

    Attributes:
        rows: Panel width, least width, gap, kerf.
        panel_length_in: Panel length.
        rip: Where ripped rows go.
        split: How a leftover is split in two.
        stagger_in: Least offset of joints between neighbouring rows.
        first_piece_in: Length of the first row's first piece on the framing, None to search.
        start: End that rows start from.
        past_tail_in: Run past the rafter tails, up the slope.
        ridge_slot_in: Slot at the ridges, up the slope.
        mirrored: Whether pieces may be turned over.
    """

    rows: RowRules
    panel_length_in: float
    rip: Rip
    split: Split
    stagger_in: float
    first_piece_in: float | None
    start: Side
    past_tail_in: float
    ridge_slot_in: float
    mirrored: bool = False

    @property
    def columns(self) -> ColumnRules:
        """What the joints are laid out by."""
        return ColumnRules(self.panel_length_in, self.rows.gap_in, self.start)

    @property
    def sheet(self) -> SheetRules:
        """The sheet and the saw."""
        rows = self.rows
        return SheetRules(self.panel_length_in, rows.panel_in, rows.kerf_in, rows.halves_nominal, self.mirrored)


@dataclass(frozen=True, slots=True)
class Cell:
    """One piece before it has a stock sheet.

    Attributes:
        row: Row number.
        ring: Net shape, anticlockwise; an upright one from its lower left corner.
        length_in: Net length along the row.
        width_in: Net width up the slope.
        nominal_in: Length on the framing, half gaps added where it meets a neighbour.
        upright: Whether it is an upright rectangle.
        left_joint: x of the joint at its left end, None at the plane's border.
        right_joint: The same of its right end.
        cut_in: What it takes of a sheet: length, width.
    """

    row: int
    ring: tuple[Point2, ...]
    length_in: float
    width_in: float
    nominal_in: float
    upright: bool
    left_joint: float | None
    right_joint: float | None
    cut_in: Size

    def is_whole(self, rules: LayoutRules) -> bool:
        """Whether it is a whole sheet, uncut but for the end gap."""
        full = self.length_in >= rules.panel_length_in - rules.rows.gap_in - _WHOLE_IN
        return self.upright and full and self.width_in >= rules.rows.panel_in - _WHOLE_IN


@dataclass(frozen=True, slots=True)
class RowPart:
    """One part of a row: its ends, and its net shape before it is cut into pieces.

    Attributes:
        stretch: Its ends.
        ring: Its net shape.
        made: Its pieces between two joints as far as they were asked for; most layouts share most of theirs.
    """

    stretch: Stretch
    ring: tuple[Point2, ...]
    made: dict[tuple[float | None, float | None], tuple[Cell, ...]] = field(
        default_factory=dict[tuple[float | None, float | None], tuple[Cell, ...]], compare=False, repr=False
    )


@lru_cache(maxsize=512)
def rows_on(region: Region, option: RowOption, rules: LayoutRules) -> tuple[Row, ...]:
    """The rows of an option, their lower edges in plane axes."""
    base = region.bottom_in
    return tuple(
        replace(row, bottom_in=row.bottom_in + base) if base else row
        for row in place_rows(option, rules.rows, rules.rip)
    )


@lru_cache(maxsize=512)
def parts_on(region: Region, option: RowOption, rules: LayoutRules) -> tuple[tuple[RowPart, ...], ...]:
    """The parts of each row between the plane's ends, left to right."""
    rows = rows_on(region, option, rules)
    left, right = min(x for ring in region.rings for x, _ in ring), max(x for ring in region.rings for x, _ in ring)
    if region.rectangle is not None:
        stretch = Stretch(left, right)
        return tuple(
            (RowPart(stretch, _box(left, row.bottom_in, right, row.bottom_in + row.width_in)),) for row in rows
        )
    return tuple(
        tuple(
            RowPart(_stretch(ring), ring)
            for ring in region.clipped(left - 1.0, row.bottom_in, right + 1.0, row.bottom_in + row.width_in)
        )
        for row in rows
    )


@dataclass(frozen=True)
class Layout:
    """One layout of a plane that could be built.

    Attributes:
        region: What is to be covered.
        rules: What it is laid out by.
        option: How the rows are made up.
        columns: For each row the joints of each of its stretches.
        errors: How often an unbending rule is broken.
        warnings: How often a rule that may give way does.
    """

    region: Region
    rules: LayoutRules
    option: RowOption
    columns: tuple[tuple[Columns, ...], ...]
    errors: int
    warnings: int

    @cached_property
    def rows(self) -> tuple[Row, ...]:
        """The rows from the eave up, lower edges in plane axes."""
        return rows_on(self.region, self.option, self.rules)

    @cached_property
    def joints(self) -> tuple[tuple[float, ...], ...]:
        """The joints of each row, left to right."""
        return tuple(tuple(x for columns in row for x in columns.joints) for row in self.columns)

    @property
    def first_in(self) -> float:
        """Length on the framing of the first row's first piece."""
        if not self.columns or not self.columns[0]:
            return 0.0
        return self.columns[0][0 if self.rules.start == "left" else -1].first_in

    @cached_property
    def lengths(self) -> tuple[tuple[float, tuple[tuple[float, float], ...]], ...] | None:
        """For each row its width and the (net, on the framing) length of each piece; None unless all are upright."""
        if self.region.rectangle is None:
            return None
        left, _, right, _ = self.region.rectangle
        gap = self.rules.rows.gap_in
        return tuple(
            (row.width_in, piece_lengths(left, right, ways[0].joints, gap))
            for row, ways in zip(self.rows, self.columns, strict=True)
        )

    @cached_property
    def cells(self) -> tuple[Cell, ...]:
        """The pieces, row by row from the eave up, left to right."""
        parts = parts_on(self.region, self.option, self.rules)
        return tuple(
            cell
            for row, row_parts, ways in zip(self.rows, parts, self.columns, strict=True)
            for part, way in zip(row_parts, ways, strict=True)
            for cell in cells_of(self.region, self.rules, row, part, way.joints)
        )

    @cached_property
    def labels(self) -> tuple[str, ...]:
        """Label of each piece: row number and a letter from left to right, after Z two letters."""
        found: list[str] = []
        row = place = 0
        for cell in self.cells:
            row, place = (row, place + 1) if cell.row == row else (cell.row, 0)
            found.append(f"{row}{_letters(place)}")
        return tuple(found)


def cells_of(region: Region, rules: LayoutRules, row: Row, part: RowPart, joints: tuple[float, ...]) -> list[Cell]:
    """The pieces of one part of a row, left to right, once its joints are settled.

    The part must be one of ``parts_on`` for the same region, rules and row.
    """
    cells: list[Cell] = []
    for ends in itertools.pairwise((None, *joints, None)):
        found = part.made.get(ends)
        if found is None:
            found = part.made[ends] = tuple(_between(region, rules, row, part, *ends))
        cells += found
    return cells


def _between(
    region: Region, rules: LayoutRules, row: Row, part: RowPart, left_joint: float | None, right_joint: float | None
) -> list[Cell]:
    """The pieces between two joints of a part, or an end of it where there is None."""
    half = rules.rows.gap_in / 2.0
    left = part.stretch.left if left_joint is None else left_joint + half
    right = part.stretch.right if right_joint is None else right_joint - half
    more = half * ((left_joint is not None) + (right_joint is not None))
    if region.rectangle is not None:
        heights = row.bottom_in, row.bottom_in + row.width_in
    else:
        heights = upright_between(part.ring, left, right)
    if heights is not None:
        (bottom, top), length = heights, right - left
        cut = cut_size(length, length + more, top - bottom, rules)
        ring = _box(left, bottom, right, top)
        return [Cell(row.number, ring, length, top - bottom, length + more, True, left_joint, right_joint, cut)]
    rings = clipped_ring(part.ring, (left, row.bottom_in - 1.0, right, row.bottom_in + row.width_in + 1.0))
    return [_cut_cell(row.number, ring, more, left_joint, right_joint, rules) for ring in rings]


@lru_cache(maxsize=2048)
def piece_lengths(
    left: float, right: float, joints: tuple[float, ...], gap_in: float
) -> tuple[tuple[float, float], ...]:
    """Net length and length on the framing of each piece of an upright row."""
    ends = (left, *joints, right)
    last = len(joints)
    return tuple(
        (b - a - gap_in / 2.0 * ((i > 0) + (i < last)), b - a) for i, (a, b) in enumerate(itertools.pairwise(ends))
    )


def _letters(place: int) -> str:
    letters = ""
    place += 1
    while place:
        place, rest = divmod(place - 1, 26)
        letters = chr(ord("A") + rest) + letters
    return letters


def _box(left: float, bottom: float, right: float, top: float) -> tuple[Point2, ...]:
    return (left, bottom), (right, bottom), (right, top), (left, top)


def _cut_cell(
    row: int,
    ring: tuple[Point2, ...],
    more: float,
    left_joint: float | None,
    right_joint: float | None,
    rules: LayoutRules,
) -> Cell:
    xs, ys = [x for x, _ in ring], [y for _, y in ring]
    left, right, bottom, top = min(xs), max(xs), min(ys), max(ys)
    upright = len(ring) == 4 and all(
        min(x - left, right - x) <= SAME_IN and min(y - bottom, top - y) <= SAME_IN for x, y in ring
    )
    shape = _box(left, bottom, right, top) if upright else ring
    length = right - left
    cut = cut_size(length, length + more, top - bottom, rules)
    return Cell(row, shape, length, top - bottom, length + more, upright, left_joint, right_joint, cut)


def cut_size(net: float, nominal: float, width: float, rules: LayoutRules) -> Size:
    """What a piece takes of a sheet.

    Where halves are not nominal a piece counts at its length on the framing, so that every kerf is paid for. Equal
    pieces must be equal to the last bit, or the same cut plan would be searched for again.
    """
    if not rules.rows.halves_nominal:
        net = max(net, min(nominal, rules.panel_length_in))
    return round(net, 8), round(width, 8)


def _stretch(ring: tuple[Point2, ...]) -> Stretch:
    left, right = min(x for x, _ in ring), max(x for x, _ in ring)
    return Stretch(left, right, _square_at(ring, left), _square_at(ring, right))


def _square_at(ring: tuple[Point2, ...], x: float) -> bool:
    """Whether a ring runs straight up at its end x, over its whole height there."""
    heights = [y for _, y in ring]
    at_end = [y for at, y in ring if abs(at - x) <= SAME_IN]
    return max(at_end) - min(at_end) >= max(heights) - min(heights) - SAME_IN
