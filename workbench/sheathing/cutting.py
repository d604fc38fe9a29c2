"""Pieces cut from stock sheets: the cut plan and its check. Inches, sheet axes x along the length, y across.

The strength axis stays along the row, so a piece may be turned by 180 degrees and no other way. Two pieces with the
same slanted end share one blank, one of them turned; every other slanted piece takes its upright bounding box.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from shapely.geometry import Polygon

from workbench.roof.model import Point2
from workbench.sheathing.kinds import Shape, shape_of
from workbench.sheathing.layout import Cell, Layout, cut_size
from workbench.sheathing.model import Piece, StockCut, StockSheet
from workbench.sheathing.packing import SheetRules, Size, pack
from workbench.sheathing.region import SAME_IN


@dataclass(frozen=True, slots=True)
class Blank:
    """One piece to be cut.

    Attributes:
        plane: Plane id.
        label: Its label on the plane.
        ring: Net shape, its lower left corner at the origin.
        length_in: Length it takes along the sheet.
        width_in: Width it takes across the sheet.
        upright: Whether it is an upright rectangle.
    """

    plane: str
    label: str
    ring: tuple[Point2, ...]
    length_in: float
    width_in: float
    upright: bool


@dataclass(frozen=True, slots=True)
class _Member:
    blank: int
    along: float
    turned: bool


@dataclass(frozen=True, slots=True)
class _Group:
    """Pieces that share one upright blank."""

    size: Size
    members: tuple[_Member, ...]


@dataclass(frozen=True, slots=True)
class _Slant:
    """The one slanted end of a piece: x at its foot and at its head, and which end it is."""

    foot: float
    head: float
    at_left: bool


def layout_blanks(layout: Layout, plane: str) -> tuple[Blank, ...]:
    """The blanks of a plane's pieces, in their order."""
    pairs = zip(layout.cells, layout.labels, strict=True)
    return tuple(_blank(cell, plane, label) for cell, label in pairs)


def _blank(cell: Cell, plane: str, label: str) -> Blank:
    left, bottom = min(x for x, _ in cell.ring), min(y for _, y in cell.ring)
    ring = tuple((x - left, y - bottom) for x, y in cell.ring)
    return Blank(plane, label, ring, *cell.cut_in, cell.upright)


def layout_sizes(layout: Layout) -> tuple[Size, ...]:
    """The upright blanks that a layout's pieces come to, widest first."""
    if layout.lengths is None:
        slanted = [_blank(cell, "", "") for cell in layout.cells if not cell.upright]
        sizes = [cell.cut_in for cell in layout.cells if cell.upright]
        return in_order([*sizes, *(group.size for group in _grouped(slanted, layout.rules.sheet))])
    rules = layout.rules
    return in_order(
        cut_size(net, nominal, width, rules) for width, lengths in layout.lengths for net, nominal in lengths
    )


def cell_shape(cell: Cell) -> Shape:
    """The shape that a piece is cut to."""
    return shape_of(*cell.cut_in, cell.ring, cell.upright)


def in_order(sizes: Iterable[Size]) -> tuple[Size, ...]:
    """The sizes, widest first, so that equal jobs are equal keys."""
    return tuple(sorted(sizes, key=lambda size: (-size[1], -size[0])))


def cut_sheets(blanks: Sequence[Blank], rules: SheetRules) -> tuple[StockSheet, ...]:
    """The cut plan: every sheet with what is cut from it, in the order the pieces are asked for."""
    groups = _grouped(blanks, rules)
    sheets: dict[int, list[tuple[int, StockCut]]] = {}
    for place in pack(tuple(group.size for group in groups), rules):
        for member in groups[place.index].members:
            blank = blanks[member.blank]
            ring = _turned(blank) if member.turned else blank.ring
            shape = tuple((x + place.x + member.along, y + place.y) for x, y in ring)
            sheets.setdefault(place.sheet, []).append((member.blank, StockCut(blank.plane, blank.label, shape)))
    ordered = sorted((sorted(cuts, key=lambda cut: cut[0]) for cuts in sheets.values()), key=lambda cuts: cuts[0][0])
    return tuple(
        StockSheet(f"Sheet {number}", rules.length_in, rules.width_in, tuple(cut for _, cut in cuts))
        for number, cuts in enumerate(ordered, start=1)
    )


def check_cutting(pieces: Sequence[Piece], stock: Sequence[StockSheet]) -> list[str]:
    """What is wrong with a cut plan, found independently of how it was made; empty when nothing is.

    Each piece must come from exactly one sheet, the one it names, in its own shape or turned by 180 degrees, inside the
    sheet and clear of the sheet's other pieces.
    """
    wrong: list[str] = []
    wanted = {(piece.plane, piece.label): piece for piece in pieces}
    seen: set[tuple[str, str]] = set()
    for sheet in stock:
        shapes: list[Polygon] = []
        for cut in sheet.cuts:
            key, name = (cut.plane, cut.label), f"{cut.plane} {cut.label}"
            piece = wanted.get(key)
            if piece is None or key in seen:
                wrong.append(f"{name} is cut twice or belongs to no plane.")
                continue
            seen.add(key)
            if piece.stock != sheet.name:
                wrong.append(f"{name} names {piece.stock} but is cut from {sheet.name}.")
            if not _same_shape(piece.polygon, cut.polygon):
                wrong.append(f"{name} is cut to another shape.")
            if not _inside(cut.polygon, sheet):
                wrong.append(f"{name} reaches out of {sheet.name}.")
            shape = Polygon(cut.polygon)
            if any(shape.intersection(other).area > 1e-4 for other in shapes):
                wrong.append(f"{name} overlaps another piece of {sheet.name}.")
            shapes.append(shape)
    wrong += [f"{plane} {label} is not cut from any sheet." for plane, label in wanted if (plane, label) not in seen]
    return wrong


def _grouped(blanks: Sequence[Blank], rules: SheetRules) -> list[_Group]:
    """One group a blank, or a pair of slanted ones; widest first, so that equal jobs are equal keys."""
    groups = [_Group((b.length_in, b.width_in), (_Member(i, 0.0, False),)) for i, b in enumerate(blanks) if b.upright]
    slanted: dict[tuple[float, float, bool], list[tuple[int, _Slant]]] = {}
    for i, blank in enumerate(blanks):
        if blank.upright:
            continue
        slant = _slant_of(blank)
        if slant is None:
            groups.append(_Group((blank.length_in, blank.width_in), (_Member(i, 0.0, False),)))
        else:
            key = (round(blank.width_in, 4), round(slant.head - slant.foot, 4), slant.at_left)
            slanted.setdefault(key, []).append((i, slant))
    for alike in slanted.values():
        groups += _paired(sorted(alike, key=lambda item: (-blanks[item[0]].length_in, item[0])), blanks, rules)
    return sorted(groups, key=lambda group: (-group.size[1], -group.size[0], group.members[0].blank))


def _paired(alike: list[tuple[int, _Slant]], blanks: Sequence[Blank], rules: SheetRules) -> list[_Group]:
    """Longest first, each with the longest other that still goes into one sheet with it."""
    groups: list[_Group] = []
    waiting = list(alike)
    while waiting:
        first = waiting.pop(0)
        group = _Group((blanks[first[0]].length_in, blanks[first[0]].width_in), (_Member(first[0], 0.0, False),))
        for other in waiting:
            pair = _pair(first, other, blanks, rules)
            if pair.size[0] <= rules.length_in + SAME_IN:
                group = pair
                waiting.remove(other)
                break
        groups.append(group)
    return groups


def _pair(one: tuple[int, _Slant], other: tuple[int, _Slant], blanks: Sequence[Blank], rules: SheetRules) -> _Group:
    """Two pieces in one blank, slant to slant, the one on the slanted side turned; a kerf lies between them."""
    (a, slant_a), (b, slant_b) = one, other
    if slant_a.at_left:  # the turned one goes first along the sheet
        (a, slant_a), (b, slant_b) = (b, slant_b), (a, slant_a)
        left, right = _Member(a, 0.0, True), b
        edge_foot = blanks[a].length_in - slant_a.head
        start_foot = slant_b.foot
    else:
        left, right = _Member(a, 0.0, False), b
        edge_foot = slant_a.foot
        start_foot = blanks[b].length_in - slant_b.head
    width = max(blanks[a].width_in, blanks[b].width_in)
    kerf = rules.kerf_in * math.hypot(1.0, (slant_a.head - slant_a.foot) / width)
    along = edge_foot + kerf - start_foot
    return _Group((along + blanks[right].length_in, width), (left, _Member(right, along, not slant_a.at_left)))


def _slant_of(blank: Blank) -> _Slant | None:
    """The one slanted end of a four- or three-cornered piece, from its lower to its upper edge."""
    found: list[_Slant] = []
    ring = blank.ring
    for (x0, y0), (x1, y1) in zip(ring, ring[1:] + ring[:1], strict=True):
        if abs(y1 - y0) < blank.width_in - SAME_IN or abs(x1 - x0) <= SAME_IN:
            continue
        # An anticlockwise ring runs up its right end and down its left one.
        found.append(_Slant(x0, x1, at_left=False) if y1 > y0 else _Slant(x1, x0, at_left=True))
    return found[0] if len(found) == 1 and len(ring) <= 4 else None


def _turned(blank: Blank) -> tuple[Point2, ...]:
    return tuple((blank.length_in - x, blank.width_in - y) for x, y in blank.ring)


def _same_shape(one: tuple[Point2, ...], other: tuple[Point2, ...]) -> bool:
    a, b = Polygon(one), Polygon(other)
    (ax, ay, *_), (bx, by, *_) = a.bounds, b.bounds
    length, width = a.bounds[2] - ax, a.bounds[3] - ay
    straight = Polygon([(x - ax + bx, y - ay + by) for x, y in one])
    turned = Polygon([(length - (x - ax) + bx, width - (y - ay) + by) for x, y in one])
    return min(straight.symmetric_difference(b).area, turned.symmetric_difference(b).area) < 1e-3


def _inside(ring: tuple[Point2, ...], sheet: StockSheet) -> bool:
    slack = 2e-3  # joints take a support that lies this little past a panel's reach
    return all(-slack <= x <= sheet.length_in + slack and -slack <= y <= sheet.width_in + slack for x, y in ring)
