"""Sheets from above, and each plane in its true shape with rows, pieces, rafter lines and snap lines. Inches."""

from __future__ import annotations

from collections.abc import Iterator

from workbench.drawing.primitives import Dimension, Drawing, Line, Polygon, Primitive, Role, Text
from workbench.drawing.roof_plan import building_lines, drawn_edges, flat
from workbench.drawing.shapes import box, direction_deg, middle, spans_at_x, spans_at_y, visual_centre
from workbench.drawing.styles import word_of
from workbench.measure import Units
from workbench.plan import Plan
from workbench.roof.model import Plane
from workbench.sheathing.model import Piece, PlaneSheets, Row

PAST_IN = 22.0
"""How far a snap line is drawn past the plane, inches: room for the edge's word before the figures."""


def sheets_from_above(plan: Plan) -> Drawing:
    """All pieces projected to plan. Keys: ``piece:<plane>/<label>``; edges and wings as in ``roof_plan``."""
    items: list[Primitive] = []
    labels: list[Text] = []
    for sheets in plan.sheathing.planes:
        plane = plan.plane(sheets.plane)
        if plane is None:
            continue
        for piece in sheets.pieces:
            ring = tuple(flat(plane.to_space(corner)) for corner in piece.polygon)
            items.append(Polygon(piece_key(piece), _role(piece), ring))
            at = visual_centre(ring, 8)
            labels.append(Text(piece_key(piece), "note", at, piece.label, "small", back=True, within=ring))
    items += building_lines(plan)
    items += [Line(edge.key, edge.kind, edge.start, edge.end) for edge in drawn_edges(plan)]
    return Drawing((*items, *labels))


def plane_sheets(plan: Plan, plane_id: str, *, nails: bool = False) -> Drawing:
    """One plane in its own axes: x from its left end as seen from the eave, y up the slope.

    Pieces with label and (where there is room) size, rafter lines, snap lines with their distance from the eave, row
    numbers, the plane's edges by kind. Keys: ``plane:<id>``, ``piece:<plane>/<label>``, ``row:<plane>/<number>``.

    Raises:
        KeyError: There is no such plane.
    """
    plane = plan.roof.plane(plane_id)
    sheets = plan.sheets_of(plane_id)
    items: list[Primitive] = [Polygon(f"plane:{plane.id}", "plane", plane.polygon)]
    texts: list[Primitive] = []
    if sheets is not None:
        items += [Polygon(piece_key(piece), _role(piece), piece.polygon) for piece in sheets.pieces]
        texts += [_piece_text(piece, plan.units) for piece in sheets.pieces]
        texts += _row_numbers(plane, sheets)
    items += _rafter_lines(plan, plane)
    if nails:
        items += [
            Line(f"piece:{line.plane}/{line.piece}", "nail_line", line.start, line.end)
            for line in plan.sheathing.nail_lines
            if line.plane == plane_id
        ]
    if sheets is not None:
        items += _snap_lines(plane, sheets, plan.units)
    items += _edges(plane)
    items += _measures(plane, plan.units)
    return Drawing((*items, *texts))


def piece_key(piece: Piece) -> str:
    """``piece:<plane>/<label>``."""
    return f"piece:{piece.plane}/{piece.label}"


def piece_size(piece: Piece, units: Units) -> str:
    """Size of a piece as the cutter says it, across the sheet by along it: ``24 × 47 7/8``."""
    return f"{units.compact(piece.cut_width_in)} × {units.compact(piece.cut_length_in)}"


def row_top_in(row: Row) -> float:
    """y of a row's upper edge, plane axes."""
    return row.bottom_in + row.width_in


def _role(piece: Piece) -> Role:
    return "sheet_whole" if piece.whole else "sheet_cut"


def _piece_text(piece: Piece, units: Units) -> Text:
    sized = "" if piece.whole else f"{piece.label}\n{piece_size(piece, units)}"
    at = visual_centre(piece.polygon, 8)
    shorter = (piece.label,) if sized else ()
    return Text(
        piece_key(piece), "title", at, sized or piece.label, "large", back=True, within=piece.polygon, shorter=shorter
    )


def _row_numbers(plane: Plane, sheets: PlaneSheets) -> Iterator[Text]:
    right = box(plane.polygon)[2]
    for row in sheets.rows:
        at = (right + PAST_IN, row.bottom_in + row.width_in / 2.0)
        yield Text(f"row:{plane.id}/{row.number}", "note", at, f"row {row.number}", "large", anchor="left")


def _rafter_lines(plan: Plan, plane: Plane) -> Iterator[Line]:
    for x in plan.framing.supports_of(plane.id):
        for low, high in spans_at_x(plane.polygon, x):
            yield Line(f"plane:{plane.id}", "rafter", (x, low), (x, high))


def _snap_lines(plane: Plane, sheets: PlaneSheets, units: Units) -> Iterator[Line | Text]:
    """A line at the top of every row but the last, each with its distance from the eave at the left end."""
    left, _, right, _ = box(plane.polygon)
    for row in sheets.rows:
        y, key = row_top_in(row), f"row:{plane.id}/{row.number}"
        last = row is sheets.rows[-1]
        spans = spans_at_y(plane.polygon, y)
        start = spans[0][0] if spans else (left + right) / 2.0
        yield Line(key, "dimension", (left - PAST_IN, y), (start, y))
        if not last and spans:
            yield Line(key, "snap_line", (spans[0][0], y), (spans[-1][1], y))
        yield Text(key, "dimension", (left - PAST_IN, y), units.inches(row.snap_in), "large", anchor="right")


def _edges(plane: Plane) -> Iterator[Line | Text]:
    ring = plane.polygon
    for i, edge in enumerate(plane.edges):
        start, end = ring[i], ring[(i + 1) % len(ring)]
        key = f"plane:{plane.id}"
        yield Line(key, edge.kind, start, end)
        angle = direction_deg(start, end)
        yield Text(key, "note", middle(start, end), word_of(edge.kind), "small", angle, back=True, shift=-1.0)


def _measures(plane: Plane, units: Units) -> Iterator[Dimension]:
    """Level width below the eave, length up the slope at the right."""
    x0, y0, x1, y1 = box(plane.polygon)
    key = f"plane:{plane.id}"
    yield Dimension(key, (x1, y0), (x0, y0), units.length(x1 - x0), 9.0, "horizontal", "large")
    yield Dimension(key, (x1, y1), (x1, y0), units.length(y1 - y0), 24.0, "vertical", "large")
