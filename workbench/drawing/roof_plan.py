"""The roof from above: building line, planes, edges by kind, names, slopes, lengths. Plan axes, inches."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass

from workbench.drawing.primitives import Arrow, Drawing, Line, Polygon, Primitive, Text
from workbench.drawing.shapes import box, direction_deg, middle, spans_at_x, visual_centre
from workbench.drawing.styles import word_of
from workbench.plan import Plan
from workbench.roof.model import EdgeKind, Plane, PlaneEdge, Point2, Point3

OFF_EDGE_MM = 1.5
"""Printed distance of an outer edge's text from its line."""


@dataclass(frozen=True, slots=True)
class DrawnEdge:
    """One edge of the roof, drawn once though it may stand on two planes.

    Attributes:
        key: ``edge:<wing>/<edge>`` for an edge of the outline, ``<kind>:<n>`` inside the roof.
        kind: What it is.
        start: One end in plan.
        end: The other; the first plane it stands on lies to its left.
        length_in: True length, inches.
        outer: Whether nothing lies on its other side.
    """

    key: str
    kind: EdgeKind
    start: Point2
    end: Point2
    length_in: float
    outer: bool


def roof_plan(plan: Plan, *, names: bool = True, lengths: bool = True, slopes: bool = True) -> Drawing:
    """The roof from above.

    Keys: ``plane:<id>`` planes, names and slope arrows; ``edge:<wing>/<edge>`` edges of the outline; ``<kind>:<n>``
    edges inside the roof; ``wing:<id>`` building lines.
    """
    items: list[Primitive] = [plane_polygon(plane) for plane in plan.roof.planes]
    items += building_lines(plan)
    edges = drawn_edges(plan)
    items += [Line(edge.key, edge.kind, edge.start, edge.end) for edge in edges]
    if slopes:
        items += [arrow for plane in plan.roof.planes for arrow in _slope_arrow(plane)]
    if names or slopes:
        items += [_caption(plan, plane, names=names, slopes=slopes) for plane in plan.roof.planes]
    if lengths:
        items += [edge_text(plan, edge) for edge in edges]
    return Drawing(tuple(items))


def flat(point: Point3) -> Point2:
    """The plan point under a space point."""
    return point[0], point[1]


def plane_polygon(plane: Plane) -> Polygon:
    """A plane as seen from above."""
    return Polygon(f"plane:{plane.id}", "plane", tuple(flat(corner) for corner in plane.corners))


def building_lines(plan: Plan) -> Iterator[Line]:
    """The outside face of the wall framing, side by side."""
    for wing in plan.wings:
        for i, start in enumerate(wing.outline):
            yield Line(f"wing:{wing.wing}", "building_line", start, wing.outline[(i + 1) % len(wing.outline)])


def drawn_edges(plan: Plan) -> tuple[DrawnEdge, ...]:
    """Every edge of the roof once, in the order of the planes."""
    found: dict[tuple[EdgeKind, frozenset[tuple[int, ...]]], DrawnEdge] = {}
    numbers: dict[EdgeKind, int] = {}
    for plane in plan.roof.planes:
        for edge in plane.edges:
            ends = frozenset((_rounded(edge.start), _rounded(edge.end)))
            same = (edge.kind, ends)
            if len(ends) < 2 or same in found:
                continue
            numbers[edge.kind] = numbers.get(edge.kind, 0) + (edge.drawn is None)
            key = f"{edge.kind}:{numbers[edge.kind]}" if edge.drawn is None else edge_key(plane, edge)
            outer = edge.neighbour is None
            found[same] = DrawnEdge(key, edge.kind, flat(edge.start), flat(edge.end), edge.length_in, outer)
    return tuple(found.values())


def edge_key(plane: Plane, edge: PlaneEdge) -> str:
    """Key of an edge of the outline: ``edge:<wing>/<edge>``."""
    drawn = edge.drawn or ""
    return f"edge:{drawn}" if "/" in drawn else f"edge:{plane.wing}/{drawn}"


def edge_text(plan: Plan, edge: DrawnEdge) -> Text:
    """The edge's small word and true length: outside the roof for outer edges, on the line for the others."""
    shown = plan.units.length(edge.length_in)
    # Planes run anticlockwise: outside is to the right of an outer edge.
    return Text(
        edge.key,
        "dimension",
        middle(edge.start, edge.end),
        f"{word_of(edge.kind)} {shown}",
        "label",
        direction_deg(edge.start, edge.end),
        back=not edge.outer,
        shift=-OFF_EDGE_MM if edge.outer else 0.0,
        shorter=(shown,),
        span=math.dist(edge.start, edge.end),
    )


def _rounded(point: Point3) -> tuple[int, ...]:
    return tuple(round(value * 64.0) for value in point)


def _slope_arrow(plane: Plane) -> Iterator[Arrow]:
    """An arrow down the slope, beside the name in the middle of the plane."""
    x, _ = visual_centre(plane.polygon)
    left, _, right, _ = box(plane.polygon)
    found: list[tuple[float, float, float]] = []
    # Far from the name where the plane is still tall there, nearer to it where it tapers.
    for share in (0.4, 0.28, 0.0):
        for at in (x + share * (right - left), x - share * (right - left)):
            found += [(at, low, high) for low, high in spans_at_x(plane.polygon, at)]
        if any(high - low > 0.5 * plane.plane_length_in for _, low, high in found):
            break
    if found:
        at, low, high = max(found, key=lambda span: span[2] - span[1])
        start, end = plane.to_space((at, low + 0.75 * (high - low))), plane.to_space((at, low + 0.2 * (high - low)))
        yield Arrow(f"plane:{plane.id}", "slope_arrow", flat(start), flat(end))


def _caption(plan: Plan, plane: Plane, *, names: bool, slopes: bool) -> Text:
    lines = ([plane.name] if names else []) + ([plan.units.slope(plane.tangent)] if slopes else [])
    ring = tuple(flat(corner) for corner in plane.corners)
    at = flat(plane.to_space(visual_centre(plane.polygon)))
    return Text(
        f"plane:{plane.id}", "plane_name", at, "\n".join(lines), "large", back=True, within=ring, shorter=(lines[0],)
    )
