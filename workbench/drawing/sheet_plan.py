"""Sheets from above, and each plane in its true shape with rows, pieces, rafter lines and snap lines. Inches."""

from __future__ import annotations

import math
from collections.abc import Iterator

from workbench.drawing.drawn_over import DrawnOver
from workbench.drawing.exposed_plan import exposed_from_above, exposed_on_plane
from workbench.drawing.primitives import Anchor, Dimension, Drawing, Line, Polygon, Primitive, Role, Text
from workbench.drawing.roof_plan import building_lines, drawn_edges, flat, lowest_first, opening_items
from workbench.drawing.shapes import (
    area,
    box,
    clipped_to_x,
    direction_deg,
    keyholed,
    middle,
    spans_at_x,
    spans_at_y,
    visual_centre,
)
from workbench.drawing.styles import word_of
from workbench.measure import Units
from workbench.plan import Plan
from workbench.roof.model import Plane, PlaneEdge, Point2
from workbench.sheathing.model import Piece, PlaneSheets, Row

PAST_MM = 6.0
"""Printed length of a snap line past the plane: room for the edge's word before the figures."""

LEAST_NAMED_IN = 20.0
"""Length of a piece cut off by a match line from which it is named, inches."""

Part = tuple[float, float]
"""From which x to which x of a plane, inches."""


def sheets_from_above(plan: Plan) -> Drawing:
    """All pieces projected to plan. Keys: ``piece:<plane>/<label>``; edges and wings as in ``roof_plan``."""
    items: list[Primitive] = []
    labels: list[Text] = []
    planes = lowest_first(plan.roof.planes)
    over = DrawnOver(planes, lambda ring: visual_centre(ring, 8))
    for plane in planes:
        sheets = plan.sheets_of(plane.id)
        if sheets is None:
            continue
        items += exposed_from_above(plan, plane.id)
        for piece in sheets.pieces:
            ring = tuple(flat(plane.to_space(corner)) for corner in piece.polygon)
            items.append(Polygon(piece_key(piece), _role(piece), ring))
            # Named where it can be seen: a label on the roof over it would name that one's piece.
            place = over.named_in(plane.wing, ring)
            if place is not None:
                done = (piece.plane, piece.label) in plan.sheets_cut.done
                words = f"{piece.label} ✓" if done else piece.label
                labels.append(Text(piece_key(piece), "note", place[0], words, "small", back=True, within=place[1]))
    items += building_lines(plan)
    items += [Line(edge.key, edge.kind, edge.start, edge.end) for edge in drawn_edges(plan)]
    items += opening_items(plan, words=False)
    return Drawing((*items, *labels))


def plane_sheets(plan: Plan, plane_id: str, *, nails: bool = False, part: Part | None = None) -> Drawing:
    """One plane in its own axes: x from its left end as seen from the eave, y up the slope.

    Pieces with label and (where there is room) size, rafter lines, snap lines with their distance from the eave, row
    numbers, the plane's edges by kind. Keys: ``plane:<id>``, ``piece:<plane>/<label>``, ``row:<plane>/<number>``.

    Args:
        plan: The solved job.
        plane_id: The plane.
        nails: Draw the nail lines.
        part: Only what lies between two distances from the left end, with match lines where the plane goes on.

    Raises:
        KeyError: There is no such plane.
    """
    plane = plan.roof.plane(plane_id)
    sheets = plan.sheets_of(plane_id)
    left, _, right, _ = box(plane.polygon)
    view = _View(plan, plane, part or (left, right))
    items: list[Primitive] = [Polygon(f"plane:{plane.id}", "plane", view.ring)]
    texts: list[Primitive] = []
    if sheets is not None:
        shown = [(piece, ring) for piece in sheets.pieces if len(ring := view.clipped(piece.polygon)) > 2]
        items += [Polygon(piece_key(piece), _role(piece), ring) for piece, ring in shown]
        texts += [_piece_text(piece, ring, plan.units) for piece, ring in shown if view.names(piece, ring)]
        texts += view.row_numbers(sheets)
    items += exposed_on_plane(plan, plane.id, view.left, view.right)
    items += view.rafter_lines()
    if nails:
        items += view.nail_lines()
    if sheets is not None:
        items += view.snap_lines(sheets)
    items += view.edges()
    items += view.holes()
    items += view.match_lines()
    items += view.measures()
    return Drawing((*items, *texts))


def piece_key(piece: Piece) -> str:
    """``piece:<plane>/<label>``."""
    return f"piece:{piece.plane}/{piece.label}"


def piece_size(piece: Piece, units: Units) -> str:
    """Size of a piece as the cutter says it, across the sheet by along it: ``24 × 47 7/8``."""
    return f"{units.compact(piece.cut_width_in)} × {units.compact(piece.cut_length_in)}"


def row_top_in(row: Row) -> float:
    """Y of a row's upper edge, plane axes."""
    return row.bottom_in + row.width_in


def _role(piece: Piece) -> Role:
    return "sheet_whole" if piece.whole else "sheet_cut"


def _piece_text(piece: Piece, ring: tuple[Point2, ...], units: Units) -> Text:
    sized = "" if piece.whole else f"{piece.label}\n{piece_size(piece, units)}"
    shorter = (piece.label,) if sized else ()
    at = visual_centre(ring, 8)
    return Text(piece_key(piece), "title", at, sized or piece.label, "large", back=True, within=ring, shorter=shorter)


class _View:
    """A plane, or a part of it between two x."""

    def __init__(self, plan: Plan, plane: Plane, part: Part) -> None:
        self.plan = plan
        self.plane = plane
        self.key = f"plane:{plane.id}"
        self.left, self.right = part
        self.low, self.high = box(plane.polygon)[1], box(plane.polygon)[3]
        self.whole = keyholed(plane.polygon, plane.opening_polygons)
        self.ring = self.clipped(self.whole)

    def clipped(self, ring: tuple[Point2, ...]) -> tuple[Point2, ...]:
        """The part of a ring that is shown."""
        x0, _, x1, _ = box(ring)
        if self.left <= x0 and x1 <= self.right:
            return ring
        part = clipped_to_x(ring, self.left, self.right)
        return part if len(part) > 2 and abs(area(part)) > 1.0 else ()

    def names(self, piece: Piece, ring: tuple[Point2, ...]) -> bool:
        """Whether a piece is named here: not where only a sliver shows, the rest being named past the match line."""
        x0, _, x1, _ = box(ring)
        return x1 - x0 >= LEAST_NAMED_IN or ring == piece.polygon

    def row_numbers(self, sheets: PlaneSheets) -> Iterator[Text]:
        """At the right of the plane."""
        off = (PAST_MM, 0.0)
        for row in sheets.rows:
            at = (self.right, row.bottom_in + row.width_in / 2.0)
            key = f"row:{self.plane.id}/{row.number}"
            yield Text(key, "title", at, str(row.number), "large", anchor="left", off=off)
        if sheets.rows:
            top = (self.right, row_top_in(sheets.rows[-1]))
            yield Text(self.key, "note", top, "row", "small", anchor="left", shift=1.2, off=(PAST_MM - 2.0, 0.0))

    def rafter_lines(self) -> Iterator[Line]:
        """Centre lines of the rafters."""
        for x in self.plan.framing.supports_of(self.plane.id):
            if self.left <= x <= self.right:
                for low, high in spans_at_x(self.whole, x):
                    yield Line(self.key, "rafter", (x, low), (x, high))

    def nail_lines(self) -> Iterator[Line]:
        """Nailed lines that lie wholly in the part."""
        for line in self.plan.sheathing.nail_lines:
            xs = (line.start[0], line.end[0])
            if line.plane == self.plane.id and self.left <= min(xs) and max(xs) <= self.right:
                yield Line(f"piece:{line.plane}/{line.piece}", "nail_line", line.start, line.end)

    def snap_lines(self, sheets: PlaneSheets) -> Iterator[Line | Text]:
        """A line at the top of every row but the last, each with its distance from the eave at the left end."""
        for row in sheets.rows:
            y, key = row_top_in(row), f"row:{self.plane.id}/{row.number}"
            spans = spans_at_y(self.ring, y)
            start = spans[0][0] if spans else self._nearest_x(y)
            yield Line(key, "dimension", (start, y), (self.left - 0.01, y), past=(0.0, PAST_MM))
            if row is not sheets.rows[-1] and spans:
                yield Line(key, "snap_line", (spans[0][0], y), (spans[-1][1], y))
            shown = self.plan.units.inches(row.snap_in)
            off = (-PAST_MM - 1.5, 0.0)
            yield Text(key, "dimension", (self.left, y), shown, "large", anchor="right", off=off)

    def _nearest_x(self, y: float) -> float:
        """Leftmost corner at a height where no level line through the inside runs, such as the top edge."""
        gap = min(abs(corner[1] - y) for corner in self.ring)
        return min(x for x, corner_y in self.ring if abs(corner_y - y) < gap + 1e-6)

    def edges(self) -> Iterator[Line | Text]:
        """The plane's edges by kind, each with its word outside; those round a hole without."""
        outer = len(self.plane.edges)
        for number, edge in enumerate(self.plane.all_edges):
            ends = self.plane.to_plane(edge.start), self.plane.to_plane(edge.end)
            shown = _between(*ends, self.left, self.right)
            if shown is None:
                continue
            start, end = shown
            yield Line(self.key, edge.kind, start, end)
            if number >= outer:
                continue
            angle, span = direction_deg(start, end), math.dist(start, end)
            word = word_of(edge.kind)
            yield Text(self.key, "note", middle(start, end), word, "small", angle, back=True, shift=-1.0, span=span)

    def holes(self) -> Iterator[Text]:
        """What each hole is left for, in its middle."""
        for ring, edges in zip(self.plane.opening_polygons, self.plane.opening_edges, strict=True):
            shown = self.clipped(ring)
            if shown:
                word = next((self._opening_word(edge) for edge in edges if edge.opening is not None), "left open")
                at = visual_centre(shown, 8)
                yield Text(self.key, "note", at, word, "small", within=shown, shorter=("",))

    def _opening_word(self, edge: PlaneEdge) -> str:
        return next((o.kind for o in self.plan.job.openings if o.id == edge.opening), "left open")

    def match_lines(self) -> Iterator[Line | Text]:
        """Where the plane goes on at either side, with the distance from its left end."""
        left, _, right, _ = box(self.plane.polygon)
        ends: tuple[tuple[float, bool, Anchor], ...] = (
            (self.left, self.left > left, "left"),
            (self.right, self.right < right, "right"),
        )
        for x, inside, anchor in ends:
            if inside:
                yield Line(self.key, "pitch_break", (x, self.low), (x, self.high), past=(4.0, 4.0))
                text = f"match line, {self.plan.units.length(x - left)} from the left end"
                yield Text(self.key, "note", (x, self.high), text, "small", anchor=anchor, off=(0.0, 6.5))

    def measures(self) -> Iterator[Dimension]:
        """Level width below the eave, length up the slope at the right."""
        units = self.plan.units
        x0, x1 = max(self.left, box(self.ring)[0]), min(self.right, box(self.ring)[2])
        width, length = units.length(x1 - x0), units.length(self.high - self.low)
        yield Dimension(self.key, (x1, self.low), (x0, self.low), width, 9.0, "horizontal", "large")
        x = self.right
        yield Dimension(self.key, (x, self.high), (x, self.low), length, 17.0, "vertical", "large")


def _between(start: Point2, end: Point2, x0: float, x1: float) -> tuple[Point2, Point2] | None:
    """The part of a line between two x, None where there is none."""
    dx = end[0] - start[0]
    if abs(dx) < 1e-9:
        return (start, end) if x0 - 1e-6 <= start[0] <= x1 + 1e-6 else None
    a, b = sorted(((x0 - start[0]) / dx, (x1 - start[0]) / dx))
    low, high = max(a, 0.0), min(b, 1.0)
    if high - low < 1e-9:
        return None

    def at(part: float) -> Point2:
        return start[0] + part * dx, start[1] + part * (end[1] - start[1])

    return at(low), at(high)
