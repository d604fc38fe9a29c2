"""Exposed eaves and rakes drawn: what they are covered with, and where the sheets begin. Inches."""

from __future__ import annotations

from collections.abc import Iterator

from workbench.drawing.primitives import Line, Polygon, Primitive, Text
from workbench.drawing.roof_plan import flat
from workbench.drawing.shapes import box, clipped_to_x, visual_centre
from workbench.plan import Plan
from workbench.roof.model import Point2

_LEAST_PART_IN = 1.0


def exposed_from_above(plan: Plan, plane_id: str) -> Iterator[Primitive]:
    """A plane's strips projected to plan."""
    plane = plan.plane(plane_id)
    if plane is None:
        return
    for strip in plan.sheathing.exposed:
        if strip.plane == plane_id:
            for ring in strip.polygons:
                yield Polygon(f"plane:{plane_id}", "board", tuple(flat(plane.to_space(p)) for p in ring), hatch="grain")


def exposed_on_plane(plan: Plan, plane_id: str, left: float, right: float) -> Iterator[Primitive]:
    """A plane's strips in its own axes, between two x: boards by their grain, panels piece by piece."""
    key = f"plane:{plane_id}"
    for strip in plan.sheathing.exposed:
        if strip.plane != plane_id:
            continue
        for whole in strip.polygons:
            ring = _shown(whole, left, right)
            if not ring:
                continue
            yield Polygon(key, "board", ring, hatch="none" if strip.pieces else "grain")
            if not strip.pieces:
                yield Text(
                    key, "title", visual_centre(ring, 8), "boards", "small", back=True, within=ring, shorter=("",)
                )
        for piece in strip.pieces:
            ring = _shown(piece.polygon, left, right)
            if ring:
                at = visual_centre(ring, 8)
                yield Polygon(key, "board", ring)
                yield Text(key, "title", at, piece.label, "small", back=True, within=ring, shorter=("",))
        for a, b in strip.changes:
            if left <= min(a[0], b[0]) and max(a[0], b[0]) <= right:
                yield Line(key, "cut_line", a, b)


def exposed_words(plan: Plan, plane_id: str) -> str:
    """What is exposed on a plane and where the sheets begin; empty where nothing is."""
    strips = [strip for strip in plan.sheathing.exposed if strip.plane == plane_id]
    if not strips:
        return ""
    finish = "boards" if plan.job.sheathing.exposed.finish == "boards" else "finish panels"
    said: list[str] = []
    for strip in strips:
        width = plan.units.inches(strip.width_in)
        if strip.edge == "eave":
            courses = f", {strip.courses} courses" if strip.courses else ""
            said.append(f"{finish} {width} up from the eave{courses}: row 1 begins there")
        else:
            said.append(f"{finish} {width} in from the rake")
    return f"Exposed: {'; '.join(said)}. Snap and tape the line where the finish changes."


def _shown(ring: tuple[Point2, ...], left: float, right: float) -> tuple[Point2, ...]:
    x0, _, x1, _ = box(ring)
    if left <= x0 and x1 <= right:
        return ring
    part = clipped_to_x(ring, left, right)
    return part if len(part) > 2 and box(part)[2] - box(part)[0] > _LEAST_PART_IN else ()
