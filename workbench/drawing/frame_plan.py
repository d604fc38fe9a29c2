"""Rafters and ridge boards from above, on the roof plan. Plan axes, inches."""

from __future__ import annotations

import math
from collections.abc import Iterator

from workbench.drawing.primitives import Drawing, Line, Polygon, Primitive, Text
from workbench.drawing.roof_plan import building_lines, drawn_edges, flat, plane_polygon
from workbench.drawing.shapes import direction_deg, middle
from workbench.framing.model import Member, Placement
from workbench.plan import Plan
from workbench.roof.model import Point2


def frame_plan(plan: Plan) -> Drawing:
    """The frame from above: rafters as lines, ridge boards with their thickness, one label a mark and plane.

    Keys: ``member:<mark>``; planes and edges as in ``roof_plan``.
    """
    items: list[Primitive] = [plane_polygon(plane) for plane in plan.roof.planes]
    items += building_lines(plan)
    items += [Line(edge.key, edge.kind, edge.start, edge.end) for edge in drawn_edges(plan)]
    for member in plan.framing.members:
        items += [_member(member, placement) for placement in member.placements]
    labels = [label for member in plan.framing.members for label in _labels(member)]
    return Drawing(tuple(items + labels))


def _member(member: Member, placement: Placement) -> Line | Polygon:
    start, end = flat(placement.start), flat(placement.end)
    key = f"member:{member.mark}"
    if member.kind != "ridge_board":
        return Line(key, "rafter", start, end)
    return Polygon(key, "ridge_board", _thick(start, end, member.thickness_in))


def _thick(start: Point2, end: Point2, thickness: float) -> tuple[Point2, ...]:
    dx, dy = end[0] - start[0], end[1] - start[1]
    length = max((dx * dx + dy * dy) ** 0.5, 1e-9)
    nx, ny = -dy / length * thickness / 2.0, dx / length * thickness / 2.0
    return (
        (start[0] - nx, start[1] - ny),
        (end[0] - nx, end[1] - ny),
        (end[0] + nx, end[1] + ny),
        (start[0] + nx, start[1] + ny),
    )


def _labels(member: Member) -> Iterator[Text]:
    """One label for all equal members of a plane, beside the middle one."""
    by_plane: dict[str, list[Placement]] = {}
    for placement in member.placements:
        by_plane.setdefault(placement.plane, []).append(placement)
    for placements in by_plane.values():
        chosen = placements[len(placements) // 2]
        start, end = flat(chosen.start), flat(chosen.end)
        ridge = member.kind == "ridge_board"
        text = member.mark if ridge or len(placements) == 1 else f"{member.mark} × {len(placements)}"
        yield Text(
            f"member:{member.mark}",
            "note",
            middle(start, end),
            text,
            "label",
            direction_deg(start, end),
            back=True,
            shift=1.0 if ridge else 0.5,
            shorter=(member.mark,),
            span=math.dist(start, end),
        )
