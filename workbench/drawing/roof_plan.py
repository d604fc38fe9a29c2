"""The roof from above: building line, planes, edges by kind, names, slopes, lengths. Plan axes, inches."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from functools import lru_cache

import shapely

from workbench.drawing.in_sight import rings_in_sight
from workbench.drawing.primitives import Arrow, Drawing, Line, Polygon, Primitive, Text
from workbench.drawing.shapes import box, direction_deg, keyholed, middle, spans_at_x, visual_centre
from workbench.drawing.styles import word_of
from workbench.job.model import Opening
from workbench.measure import Units
from workbench.plan import Plan
from workbench.roof.build import build_wing
from workbench.roof.joining import footprint
from workbench.roof.model import EdgeKind, Plane, PlaneEdge, Point2, Point3

OFF_EDGE_MM = 1.5
"""Printed distance of an outer edge's text from its line."""


EDGE_SHARE = 0.08
"""Share of a plane's width that its arrow keeps off both ends."""

ALWAYS_SAID_IN = 144.0
"""Outer edges from this length on have it written, if need be with a leader, inches."""


_ON_LINE_IN = 1.0 / 16.0
_WORDS_WIDE = 3.0


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
    edges inside the roof; ``wing:<id>`` building lines; ``opening:<id>`` skylights and chimneys.
    """
    edges = drawn_edges(plan)
    items = ground_items(plan, edges)
    items += opening_items(plan)
    seen = rings_in_sight(plan.roof.planes) if names or slopes else {}
    if slopes:
        items += [arrow for plane in plan.roof.planes for arrow in _slope_arrow(plane, seen.get(plane.id))]
    if names or slopes:
        items += [_caption(plan, plane, seen.get(plane.id), names=names, slopes=slopes) for plane in plan.roof.planes]
    if lengths:
        items += [edge_text(plan, edge) for edge in edges]
    return Drawing(tuple(items))


def flat(point: Point3) -> Point2:
    """The plan point under a space point."""
    return point[0], point[1]


def ground_items(plan: Plan, edges: Sequence[DrawnEdge], wing: str | None = None) -> list[Primitive]:
    """What everything else is drawn on: planes, the lower ones first, building lines, edges by kind.

    Args:
        plan: The plan.
        edges: The edges to draw.
        wing: Only the planes and the building line of this wing.
    """
    planes = [plane for plane in plan.roof.planes if wing is None or plane.wing == wing]
    items: list[Primitive] = [plane_polygon(plane) for plane in lowest_first(planes)]
    items += (line for line in building_lines(plan) if wing is None or line.key == f"wing:{wing}")
    items += [Line(edge.key, edge.kind, edge.start, edge.end) for edge in edges]
    return items


def plane_polygon(plane: Plane) -> Polygon:
    """A plane as seen from above, its holes left out."""
    return Polygon(f"plane:{plane.id}", "plane", plane_ring(plane))


def plane_ring(plane: Plane) -> tuple[Point2, ...]:
    """The outline of a plane in plan, led round its holes."""
    outline = tuple(flat(corner) for corner in plane.corners)
    return keyholed(outline, [[flat(corner) for corner in ring] for ring in plane.openings])


def lowest_first(planes: Sequence[Plane]) -> list[Plane]:
    """The planes so that what lies over another comes after it, else in the order of their wings.

    A wing lies over those its valleys end on while they run on below (an overframed wing, a dormer's overhang).
    """
    by_id = {plane.id: plane for plane in planes}
    below: dict[str, dict[str, None]] = {plane.wing: {} for plane in planes}
    for plane in planes:
        for edge in plane.all_edges:
            other = by_id.get(edge.neighbour or "")
            if other is not None and other.wing != plane.wing and not _shared(other, edge, plane.id):
                below[plane.wing][other.wing] = None
    order: list[str] = []

    def put(wing: str, above: frozenset[str]) -> None:
        for under in below[wing]:
            if under not in order and under not in above:
                put(under, above | {wing})
        if wing not in order:
            order.append(wing)

    for wing in below:
        put(wing, frozenset())
    return sorted(planes, key=lambda plane: order.index(plane.wing))


def _shared(other: Plane, edge: PlaneEdge, plane_id: str) -> bool:
    return any(e.neighbour == plane_id and {e.start, e.end} == {edge.start, edge.end} for e in other.all_edges)


def opening_ring(opening: Opening, planes: Sequence[Plane]) -> tuple[Point2, ...]:
    """Plan corners of an opening, from its lower left one; empty where its plane is not there.

    Args:
        opening: The skylight or chimney.
        planes: The planes of its wing as built alone.
    """
    plane = next((plane for plane in planes if plane.id == opening.plane), None)
    return () if plane is None else footprint(plane, opening)


def planes_alone(plan: Plan, wing_id: str) -> tuple[Plane, ...]:
    """The planes of a wing as it has them alone: what its openings are measured on."""
    units = Units(plan.job.units.system, plan.job.units.fraction)
    wing = next((wing for wing in plan.job.wings if wing.id == wing_id), None)
    return () if wing is None else build_wing(wing, units).measured


def opening_items(plan: Plan, wing: str | None = None, *, words: bool = True) -> list[Primitive]:
    """Skylights, open, and chimneys, hatched, of all wings or of one; each with its word where there is room."""
    items: list[Primitive] = []
    for opening in plan.job.openings:
        if wing is not None and not opening.plane.startswith(f"{wing}/"):
            continue
        ring = opening_ring(opening, planes_alone(plan, opening.plane.partition("/")[0]))
        if ring:
            key = f"opening:{opening.id}"
            items.append(Polygon(key, "opening", ring, hatch="diagonal" if opening.kind == "chimney" else "none"))
            if words:
                at = middle(ring[0], ring[2])
                items.append(Text(key, "note", at, opening.kind, "small", back=True, within=ring, shorter=("",)))
    return items


def building_lines(plan: Plan) -> Iterator[Line]:
    """The outside face of the wall framing, side by side, where it is not inside another wing."""
    outlines = tuple(wing.outline for wing in plan.wings)
    for wing, lines in zip(plan.wings, _outer_lines(outlines), strict=True):
        for start, end in lines:
            yield Line(f"wing:{wing.wing}", "building_line", start, end)


@lru_cache(maxsize=64)
def _outer_lines(outlines: tuple[tuple[Point2, ...], ...]) -> tuple[tuple[tuple[Point2, Point2], ...], ...]:
    """For each outline the parts of its sides that do not lie inside another one; on its line they may."""
    shapes = [shapely.Polygon(outline) for outline in outlines]
    insides = [shapely.buffer(shape, -_ON_LINE_IN, join_style="mitre") for shape in shapes]
    found: list[tuple[tuple[Point2, Point2], ...]] = []
    for i, outline in enumerate(outlines):
        others = [insides[j] for j in range(len(outlines)) if j != i and shapely.intersects(shapes[j], shapes[i])]
        sides = list(zip(outline, outline[1:] + outline[:1], strict=True))
        found.append(tuple(_cleared(sides, others) if others else sides))
    return tuple(found)


def _cleared(sides: Sequence[tuple[Point2, Point2]], others: Sequence[shapely.Geometry]) -> list[tuple[Point2, Point2]]:
    covered = shapely.union_all(others)
    left: list[tuple[Point2, Point2]] = []
    for side in sides:
        for part in shapely.get_parts(shapely.difference(shapely.LineString(side), covered)):
            ends: list[list[float]] = shapely.get_coordinates(part).tolist()
            if len(ends) > 1:
                left.append(((ends[0][0], ends[0][1]), (ends[-1][0], ends[-1][1])))
    return left


def drawn_edges(plan: Plan, wing: str | None = None) -> tuple[DrawnEdge, ...]:
    """Every edge of the roof, or of one wing, once, in the order of the planes."""
    found: dict[tuple[EdgeKind, frozenset[tuple[int, ...]]], DrawnEdge] = {}
    numbers: dict[EdgeKind, int] = {}
    planes = (plane for plane in plan.roof.planes if wing is None or plane.wing == wing)
    for plane in planes:
        for edge in plane.all_edges:
            if edge.opening is not None:
                continue
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
        # What has no room stands on its plane's page or its cut card; a long outer edge always has its length.
        shorter=(shown,) if edge.outer and edge.length_in >= ALWAYS_SAID_IN else (shown, ""),
        span=math.dist(edge.start, edge.end),
    )


def _rounded(point: Point3) -> tuple[int, ...]:
    return tuple(round(value * 64.0) for value in point)


def _slope_arrow(plane: Plane, seen: tuple[Point2, ...] | None) -> Iterator[Arrow]:
    """An arrow down the slope, beside the name in the middle of the plane."""
    ring = keyholed(plane.polygon, plane.opening_polygons) if seen is None else tuple(map(plane.to_plane, seen))
    x, _ = visual_centre(ring)
    left, _, right, _ = box(ring)
    room = EDGE_SHARE * (right - left)
    found: list[tuple[float, float, float]] = []
    # Far from the name where the plane is still tall there, nearer to it where it tapers.
    for share in (0.4, 0.28, 0.2, 0.0):
        for at in (x + share * (right - left), x - share * (right - left)):
            if left + room <= at <= right - room or not share:
                found += [(at, low, high) for low, high in spans_at_x(ring, at)]
        if any(high - low > 0.5 * plane.plane_length_in for _, low, high in found):
            break
    if found:
        at, low, high = max(found, key=lambda span: span[2] - span[1])
        start, end = plane.to_space((at, low + 0.75 * (high - low))), plane.to_space((at, low + 0.2 * (high - low)))
        yield Arrow(f"plane:{plane.id}", "slope_arrow", flat(start), flat(end))


def _caption(plan: Plan, plane: Plane, seen: tuple[Point2, ...] | None, *, names: bool, slopes: bool) -> Text:
    """Name and slope in the middle of the plane, or of what can be seen of it where another roof stands on it."""
    lines = ([plane.name] if names else []) + ([plan.units.slope(plane.tangent)] if slopes else [])
    ring = plane_ring(plane) if seen is None else seen
    if seen is None:
        at = flat(plane.to_space(visual_centre(keyholed(plane.polygon, plane.opening_polygons))))
    else:
        # Words are wider than high: room across counts for less.
        x, y = visual_centre(tuple((x / _WORDS_WIDE, y) for x, y in seen), 16)
        at = (x * _WORDS_WIDE, y)
    return Text(
        f"plane:{plane.id}", "plane_name", at, "\n".join(lines), "large", back=True, within=ring, shorter=(lines[0],)
    )
