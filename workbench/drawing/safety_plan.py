"""Falls, anchors and what their ropes serve: on the roof from above, and on one plane in its own axes. Inches."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator

from workbench.drawing.primitives import Drawing, Line, Polygon, Primitive, Text
from workbench.drawing.roof_plan import flat, roof_plan
from workbench.drawing.shapes import direction_deg, middle
from workbench.plan import Plan
from workbench.roof.model import Plane, Point2, Point3
from workbench.safety.anchors import stands_on
from workbench.safety.areas import without_holes
from workbench.safety.model import AnchorPlan, Area, Fall
from workbench.safety.words import at_most

MARK_IN = 7.0
"""Radius of an anchor's mark."""

_OUTER = ("eave", "rake", "step")
_SIDES = 16
_LEAST_NAMED_IN = 30.0

Place = Callable[[Point2], Point2]


def safety_from_above(plan: Plan, *, drops: bool = True) -> Drawing:
    """The roof from above with open edges, anchors, rope limits, exposed and unserved parts.

    Keys: ``anchor:<id>`` anchors, ``rope:<id>`` what their ropes do, the others as in ``roof_plan``.

    Args:
        plan: The solved job.
        drops: Write the drop beside every open edge.
    """
    base = roof_plan(plan, lengths=False, slopes=False)
    polygons = [item for item in base.items if isinstance(item, Polygon)]
    rest = [item for item in base.items if not isinstance(item, Polygon)]
    marks: list[Primitive] = []
    for plane in plan.roof.planes:
        marks += _areas(plan, plane, _above(plane))
    lines = [item for item in _open_edges(plan) if drops or not isinstance(item, Text)]
    # Where there is no room for all words, those of a rope that is too long are placed before the others'.
    ordered = sorted(plan.safety.anchors, key=lambda anchor: not anchor.too_long)
    anchors = [item for anchor in ordered if anchor.plane for item in _anchor(plan, anchor, anchor.space)]
    return Drawing((*polygons, *marks, *rest, *lines, *anchors))


def safety_on_plane(plan: Plan, plane_id: str, left: float = -math.inf, right: float = math.inf) -> Drawing:
    """What ropes leave exposed on a plane, how far they reach and its anchors, to be laid over its sheets.

    Args:
        plan: The solved job.
        plane_id: The plane.
        left: Only what lies to the right of this x.
        right: Only what lies to the left of this x.

    Raises:
        KeyError: There is no such plane.
    """
    plane = plan.roof.plane(plane_id)
    items = list(_areas(plan, plane, lambda point: point, left, right, unserved=False))
    for anchor, at in anchors_on(plan, plane):
        if left <= at[0] <= right:
            items += _anchor(plan, anchor, at)
    return Drawing(tuple(items))


def anchors_on(plan: Plan, plane: Plane) -> tuple[tuple[AnchorPlan, Point2], ...]:
    """The anchors that stand on a plane or on an edge it shares, with their places in its axes."""
    here = [anchor for anchor in plan.safety.anchors if stands_on(anchor, plane)]
    return tuple((anchor, plane.to_plane(anchor.space)) for anchor in here)


def _above(plane: Plane) -> Place:
    return lambda point: flat(plane.to_space(point))


def _areas(
    plan: Plan, plane: Plane, place: Place, left: float = -math.inf, right: float = math.inf, *, unserved: bool = True
) -> Iterator[Primitive]:
    found = plan.safety.plane(plane.id)
    if found is None:
        return
    if unserved and found.served:
        for ring in without_holes(found.unserved, left, right):
            yield Polygon(f"rope:{plane.id}", "unserved", tuple(place(point) for point in ring), None, "diagonal")
    for anchor in plan.safety.anchors:
        for exposure in anchor.exposed:
            if exposure.fall.plane != plane.id:
                continue
            for ring in without_holes(exposure.area, left, right):
                yield Polygon(f"rope:{anchor.id}", "exposed", tuple(place(point) for point in ring), None, "cross")
    yield from _limits(plane, found.served, place, left, right)


def _limits(plane: Plane, served: Area, place: Place, left: float, right: float) -> Iterator[Line]:
    """How far the ropes reach, without the sides that are the plane's own."""
    for ring in (ring for rings in served for ring in rings):
        for start, end in zip(ring, ring[1:] + ring[:1], strict=True):
            inside = left <= min(start[0], end[0]) and max(start[0], end[0]) <= right
            if inside and not _on_outline(plane, start, end):
                yield Line(f"rope:{plane.id}", "rope", place(start), place(end))


def _on_outline(plane: Plane, start: Point2, end: Point2) -> bool:
    """Whether a side runs along the plane's outline."""
    x, y = middle(start, end)
    for a, b in zip(plane.polygon, plane.polygon[1:] + plane.polygon[:1], strict=True):
        length = math.dist(a, b)
        if length < 1e-6:
            continue
        across = ((x - a[0]) * (b[1] - a[1]) - (y - a[1]) * (b[0] - a[0])) / length
        along = ((x - a[0]) * (b[0] - a[0]) + (y - a[1]) * (b[1] - a[1])) / length
        if abs(across) < 0.1 and -0.1 <= along <= length + 0.1:
            return True
    return False


def _open_edges(plan: Plan) -> Iterator[Primitive]:
    for fall in plan.safety.falls:
        if fall.kind == "bare_rafters" or (fall.kind in _OUTER and fall.needed == "no" and not fall.guarded):
            continue
        start, end = flat(fall.start), flat(fall.end)
        role = "guarded_edge" if fall.guarded else "open_edge"
        key = f"edge:{fall.drawn}" if fall.drawn else f"rope:{fall.id}"
        yield Line(key, role, start, end)
        if fall.kind in _OUTER and math.dist(start, end) >= _LEAST_NAMED_IN:
            words, *shorter = _fall_words(plan, fall)
            angle = direction_deg(start, end)
            span = math.dist(start, end)
            yield Text(
                key,
                "dimension",
                middle(start, end),
                words,
                "label",
                angle,
                shift=-2.0,
                shorter=tuple(shorter),
                span=span,
            )


def _fall_words(plan: Plan, fall: Fall) -> tuple[str, ...]:
    """What an edge is and how deep one falls there, the fullest first."""
    if fall.guarded:
        return f"{fall.kind}, guarded", "guarded"
    least, most = plan.units.length(fall.least_drop_in), plan.units.length(fall.drop_in)
    if least == most:
        return f"{fall.kind}, fall {most}", f"fall {most}", most
    return f"{fall.kind}, fall {least} to {most}", f"fall up to {most}", most


def _anchor(plan: Plan, anchor: AnchorPlan, at: Point2 | Point3) -> Iterator[Primitive]:
    x, y = at[0], at[1]
    turn = math.tau / _SIDES
    ring = tuple((x + MARK_IN * math.cos(turn * k), y + MARK_IN * math.sin(turn * k)) for k in range(_SIDES))
    key = f"anchor:{anchor.id}"
    yield Polygon(key, "anchor", ring)
    for dx, dy in ((MARK_IN, 0.0), (0.0, MARK_IN)):
        yield Line(key, "anchor", (x - dx, y - dy), (x + dx, y + dy))
    yield Text(key, "note", (x, y), anchor_words(plan, anchor), "label", back=True, shift=4.5)


def anchor_words(plan: Plan, anchor: AnchorPlan) -> str:
    """Name and rope: ``A-1: rope 4' 8"``."""
    if not anchor.built:
        return f"{anchor.name}: not yet"
    rope = f"rope {at_most(anchor.rope_in, plan.units)}" if anchor.rope_in > 0.0 else "no rope"
    return f"{anchor.name}: {rope}{' TOO LONG' if anchor.too_long else ''}"
