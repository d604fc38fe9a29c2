"""Which edges of a piece are the sheet's own, as it lies on the roof. Inches.

A square piece may go up either way round: it is put so that its sawn edges lie at the plane's edges, where metal, cap
or the next plane covers them, and its factory edges at the joints (common practice, no source). A slanted piece fits
one way only.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import Literal

from workbench.drawing.shapes import box
from workbench.drawing.stock_sheet import MERGE_IN, is_rectangle
from workbench.plan import Plan
from workbench.roof.model import Point2
from workbench.sheathing.model import Piece, PlaneSheets, StockCut, StockSheet

Side = Literal["lower", "upper", "left", "right"]

SIDES: tuple[Side, ...] = ("lower", "upper", "left", "right")
SIDE_WORDS: dict[Side, str] = {"lower": "lower edge", "upper": "upper edge", "left": "left end", "right": "right end"}
_TURNED: dict[Side, Side] = {"lower": "upper", "upper": "lower", "left": "right", "right": "left"}
_ENDS: tuple[Side, ...] = ("left", "right")
_SAME_IN = 0.05


def factory_sides(plan: Plan, piece: Piece) -> tuple[Side, ...]:
    """The sides of a piece on the roof, seen from the eave, that are the sheet's own edges."""
    sheets = plan.sheets_of(piece.plane)
    stock = next((sheet for sheet in plan.sheathing.stock if sheet.name == piece.stock), None)
    cut = next((c for c in stock.cuts if (c.plane, c.label) == (piece.plane, piece.label)), None) if stock else None
    if sheets is None or stock is None or cut is None:
        return ()
    return _on_roof(piece, cut, stock, sheets)


def sawn_at_joints(plan: Plan, plane_id: str, side: Side) -> list[str]:
    """Labels of a plane's pieces whose sawn edge on one side lies at a joint with another sheet."""
    sheets = plan.sheets_of(plane_id)
    if sheets is None:
        return []
    stock = {(cut.plane, cut.label): (sheet, cut) for sheet in plan.sheathing.stock for cut in sheet.cuts}
    found: list[str] = []
    for piece in sheets.pieces:
        if (piece.plane, piece.label) not in stock or piece.whole or side not in _joints(piece, sheets):
            continue
        sheet, cut = stock[(piece.plane, piece.label)]
        if side not in _on_roof(piece, cut, sheet, sheets):
            found.append(piece.label)
    return found


def edge_words(plan: Plan, piece: Piece) -> str:
    """Which edges are the factory's, which way the strength runs and which face is up, of one piece."""
    own = [SIDE_WORDS[side] for side in factory_sides(plan, piece)]
    edges = f"Factory edges: {', '.join(own)}" if own else "All edges sawn"
    cuts = [cut for sheet in plan.sheathing.stock if sheet.name == piece.stock for cut in sheet.cuts]
    over = any((cut.plane, cut.label) == (piece.plane, piece.label) and cut.turned_over for cut in cuts)
    face = "turn it over: the face marked at the saw goes down" if over else "the face marked at the saw goes up"
    return f"{edges}. Strength runs level, across the rafters; {face}."


def _on_roof(piece: Piece, cut: StockCut, stock: StockSheet, sheets: PlaneSheets) -> tuple[Side, ...]:
    in_sheet = _sides_in_sheet(cut, stock)
    turned: set[Side] = {_TURNED[side] for side in in_sheet}
    if is_rectangle(piece.polygon):
        joints = _joints(piece, sheets)
        straight_fits = sum(side in in_sheet for side in joints)
        chosen = in_sheet if straight_fits >= sum(side in turned for side in joints) else turned
    else:
        if cut.turned_over:
            in_sheet = _end_for_end(in_sheet)
            turned = {_TURNED[side] for side in in_sheet}
        chosen = in_sheet if _lies_straight(piece.polygon, cut) else turned
    return tuple(side for side in SIDES if side in chosen)


def _end_for_end(sides: set[Side]) -> set[Side]:
    return {_TURNED[side] if side in _ENDS else side for side in sides}


def _sides_in_sheet(cut: StockCut, stock: StockSheet) -> set[Side]:
    """Sides of a cut that are the sheet's own; the end gap leaves a piece an eighth short of it."""
    found: set[Side] = set()
    ring = cut.polygon
    limits: tuple[tuple[Side, int, float], ...] = (
        ("lower", 1, 0.0),
        ("upper", 1, stock.width_in),
        ("left", 0, 0.0),
        ("right", 0, stock.length_in),
    )
    for start, end in zip(ring, ring[1:] + ring[:1], strict=True):
        for side, axis, limit in limits:
            length = abs(start[1 - axis] - end[1 - axis])
            if length > 1.0 and max(abs(start[axis] - limit), abs(end[axis] - limit)) <= MERGE_IN:
                found.add(side)
    return found


def _lies_straight(ring: Sequence[Point2], cut: StockCut) -> bool:
    """Whether a slanted piece lies in its sheet as on the roof, not turned by 180 degrees."""
    shown = [(-x, y) for x, y in cut.polygon] if cut.turned_over else list(cut.polygon)
    return _same(_placed(ring), _placed(shown))


def _placed(ring: Sequence[Point2]) -> list[Point2]:
    x0, y0, _, _ = box(ring)
    return sorted((x - x0, y - y0) for x, y in ring)


def _same(one: Sequence[Point2], other: Sequence[Point2]) -> bool:
    return len(one) == len(other) and all(min(abs(x - p) + abs(y - q) for p, q in other) <= _SAME_IN for x, y in one)


def _joints(piece: Piece, sheets: PlaneSheets) -> list[Side]:
    """Sides of a piece that another piece of its plane lies against."""
    x0, y0, x1, y1 = box(piece.polygon)
    found: list[Side] = []
    for other in sheets.pieces:
        if other is piece:
            continue
        a0, b0, a1, b1 = box(other.polygon)
        over_x, over_y = min(x1, a1) - max(x0, a0), min(y1, b1) - max(y0, b0)
        if over_x > 1.0 and abs(b1 - y0) < 1.0:
            found.append("lower")
        if over_x > 1.0 and abs(b0 - y1) < 1.0:
            found.append("upper")
        if over_y > 1.0 and abs(a1 - x0) < 1.0:
            found.append("left")
        if over_y > 1.0 and abs(a0 - x1) < 1.0:
            found.append("right")
    return [side for side in SIDES if side in found]
