"""Pieces cut from stock sheets: the cut plan and its check. Inches, sheet axes x along the length, y across.

The strength axis stays along the row, so a piece may be turned by 180 degrees and, where both faces are alike, over.
Two pieces with the same slanted end share one blank, one of them turned; every other slanted piece takes its upright
bounding box.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from shapely.geometry import Polygon

from workbench.roof.model import Point2
from workbench.sheathing.kinds import Shape, mirrored_ring, shape_of
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
    over: bool = False


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


_Slanted = tuple[int, _Slant, bool]
"""Number of a blank, its slanted end, and whether it is turned over."""


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
            ring = _as_laid(blank, member)
            shape = tuple((x + place.x + member.along, y + place.y) for x, y in ring)
            cut = StockCut(blank.plane, blank.label, shape, member.over)
            sheets.setdefault(place.sheet, []).append((member.blank, cut))
    ordered = sorted((sorted(cuts, key=lambda cut: cut[0]) for cuts in sheets.values()), key=lambda cuts: cuts[0][0])
    return tuple(
        StockSheet(f"Sheet {number}", rules.length_in, rules.width_in, tuple(cut for _, cut in cuts))
        for number, cuts in enumerate(ordered, start=1)
    )


def check_cutting(pieces: Sequence[Piece], stock: Sequence[StockSheet]) -> list[str]:
    """What is wrong with a cut plan, found independently of how it was made; empty when nothing is.

    Each piece must come from exactly one sheet, the one it names, in its own shape or turned by 180 degrees, inside the
    sheet and clear of the sheet's other pieces; one that says it is turned over, in its shape as seen from behind.
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
            own = mirrored_ring(piece.polygon) if cut.turned_over else piece.polygon
            if not _same_shape(own, cut.polygon):
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
    slanted: dict[tuple[float, float, bool], list[_Slanted]] = {}
    for i, blank in enumerate(blanks):
        if blank.upright:
            continue
        slant = _slant_of(blank)
        if slant is None:
            groups.append(_Group((blank.length_in, blank.width_in), (_Member(i, 0.0, False),)))
        else:
            key = (round(blank.width_in, 4), round(slant.head - slant.foot, 4), slant.at_left)
            slanted.setdefault(key, []).append((i, slant, False))
    left: dict[tuple[float, float], list[_Slanted]] = {}
    for (width, run, at_left), alike in slanted.items():
        ordered = sorted(alike, key=lambda item: (-blanks[item[0]].length_in, item[0]))
        for group in _paired(ordered, blanks, rules):
            if rules.mirrored and len(group.members) == 1:
                number = group.members[0].blank
                slant = next(item[1] for item in alike if item[0] == number)
                own = _over(number, blanks[number], slant) if at_left else (number, slant, False)
                left.setdefault((width, -run if at_left else run), []).append(own)
            else:
                groups.append(group)
    for alike in left.values():  # what found no partner of its own hand takes one that is turned over
        groups += _paired(sorted(alike, key=lambda item: (-blanks[item[0]].length_in, item[0])), blanks, rules)
    return sorted(groups, key=lambda group: (-group.size[1], -group.size[0], group.members[0].blank))


def _paired(alike: Sequence[_Slanted], blanks: Sequence[Blank], rules: SheetRules) -> list[_Group]:
    """Longest first, each with the longest other that still goes into one sheet with it."""
    groups: list[_Group] = []
    waiting = list(alike)
    while waiting:
        first = waiting.pop(0)
        group = _single(first, blanks)
        for other in waiting:
            pair = _pair(first, other, blanks, rules)
            if pair.size[0] <= rules.length_in + SAME_IN:
                group = pair
                waiting.remove(other)
                break
        groups.append(group)
    return groups


def _single(one: _Slanted, blanks: Sequence[Blank]) -> _Group:
    blank = blanks[one[0]]
    return _Group((blank.length_in, blank.width_in), (_Member(one[0], 0.0, False),))


def _over(number: int, blank: Blank, slant: _Slant) -> _Slanted:
    """A slanted piece turned over end for end."""
    length = blank.length_in
    return number, _Slant(length - slant.foot, length - slant.head, not slant.at_left), True


def _as_laid(blank: Blank, member: _Member) -> tuple[Point2, ...]:
    ring = blank.ring
    if member.over:
        ring = tuple((blank.length_in - x, y) for x, y in reversed(ring))
    return tuple((blank.length_in - x, blank.width_in - y) for x, y in ring) if member.turned else ring


def _pair(one: _Slanted, other: _Slanted, blanks: Sequence[Blank], rules: SheetRules) -> _Group:
    """Two pieces in one blank, slant to slant, the one on the slanted side turned; a kerf lies between them."""
    (a, slant_a, over_a), (b, slant_b, over_b) = one, other
    if slant_a.at_left:  # the turned one goes first along the sheet
        (a, slant_a, over_a), (b, slant_b, over_b) = other, one
        left, right = _Member(a, 0.0, True, over_a), b
        edge_foot = blanks[a].length_in - slant_a.head
        start_foot = slant_b.foot
    else:
        left, right = _Member(a, 0.0, False, over_a), b
        edge_foot = slant_a.foot
        start_foot = blanks[b].length_in - slant_b.head
    width = max(blanks[a].width_in, blanks[b].width_in)
    kerf = rules.kerf_in * math.hypot(1.0, (slant_a.head - slant_a.foot) / width)
    along = edge_foot + kerf - start_foot
    return _Group((along + blanks[right].length_in, width), (left, _Member(right, along, not slant_a.at_left, over_b)))


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
