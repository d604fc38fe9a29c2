"""Every member from above, on the roof plan. Plan axes, inches."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence

from workbench.drawing.primitives import Drawing, Line, Polygon, Primitive, Text
from workbench.drawing.roof_plan import drawn_edges, flat, ground_items, opening_items
from workbench.drawing.shapes import direction_deg, distance_to_line, middle
from workbench.drawing.truss_lines import truss_items
from workbench.framing.model import RAFTER_KINDS, Member, MemberKind, Placement
from workbench.plan import Plan
from workbench.roof.model import Point2

_AS_BOARDS: frozenset[MemberKind] = frozenset(("hip_rafter", "valley_rafter"))
"""Rafters that are shown with their thickness, as everything is that is no rafter."""

_IN_WALLS: frozenset[MemberKind] = frozenset(("rake_plate", "gable_stud"))
"""Members under the end rafters, which the drawing of their wall shows."""

_FLAT: frozenset[MemberKind] = frozenset(("sleeper",))
"""Members that lie on their side and show their depth."""


def frame_plan(plan: Plan, wing: str | None = None) -> Drawing:
    """The frame from above: rafters as lines, other members with their thickness, one label a mark and plane.

    Keys: ``member:<mark>``; planes, edges and openings as in ``roof_plan``.

    Args:
        plan: The plan.
        wing: Only what stands in the planes of this wing.
    """
    items = ground_items(plan, drawn_edges(plan, wing), wing)
    items += opening_items(plan, wing, words=False)
    items += truss_items(plan, wing)
    boards: list[Primitive] = []
    labels: list[Text] = []
    for member in plan.framing.members:
        if member.kind in _IN_WALLS:
            continue
        placements = [p for p in member.placements if wing is None or _stands_in(plan, wing, member, p)]
        for placement in placements:
            shown = _shown(member, placement)
            (items if isinstance(shown, Line) else boards).append(shown)
        labels += _labels(member, placements)
    return Drawing((*items, *boards, *labels))


def _stands_in(plan: Plan, wing: str, member: Member, placement: Placement) -> bool:
    """Whether a member stands in a wing's planes; hips and valleys also on the edge of one."""
    if placement.plane.startswith(f"{wing}/"):
        return True
    if member.kind not in _AS_BOARDS:
        return False
    at = middle(flat(placement.start), flat(placement.end))
    edges = (edge for plane in plan.roof.planes if plane.wing == wing for edge in plane.edges)
    return any(distance_to_line(at, flat(edge.start), flat(edge.end)) < member.thickness_in for edge in edges)


def is_line(member: Member) -> bool:
    """Whether a member is drawn as its centre line."""
    return member.kind in RAFTER_KINDS and member.kind not in _AS_BOARDS


def _shown(member: Member, placement: Placement) -> Line | Polygon:
    start, end = flat(placement.start), flat(placement.end)
    key = f"member:{member.mark}"
    if is_line(member):
        return Line(key, "rafter", start, end)
    if member.kind not in _FLAT:
        return Polygon(key, "ridge_board", _thick(start, end, member.thickness_in / 2.0, member.thickness_in / 2.0))
    # A flat board's marked edge runs along the valley; the board lies on the side its hand says.
    width = member.depth_in
    left, right = (0.0, width) if placement.hand == "right" else (width, 0.0)
    return Polygon(key, "board", _thick(start, end, left, right))


def _thick(start: Point2, end: Point2, left: float, right: float) -> tuple[Point2, ...]:
    """A line drawn so thick to its left and right."""
    dx, dy = end[0] - start[0], end[1] - start[1]
    length = max(math.hypot(dx, dy), 1e-9)
    nx, ny = -dy / length, dx / length
    return (
        (start[0] - nx * right, start[1] - ny * right),
        (end[0] - nx * right, end[1] - ny * right),
        (end[0] + nx * left, end[1] + ny * left),
        (start[0] + nx * left, start[1] + ny * left),
    )


def _alike(one: tuple[Point2, Point2], other: tuple[Point2, Point2]) -> bool:
    """Whether two lines run the same way, either end first."""
    ((ax, ay), (bx, by)), ((cx, cy), (dx, dy)) = one, other
    return abs((bx - ax) * (dy - cy) - (by - ay) * (dx - cx)) < 1e-6 * math.dist(*one) * math.dist(*other)


def _labels(member: Member, shown: Sequence[Placement]) -> Iterator[Text]:
    """One label for all equal members of a plane, beside the middle one; none where there is no room for it."""
    by_plane: dict[str, list[Placement]] = {}
    for placement in shown:
        by_plane.setdefault(placement.plane, []).append(placement)
    for placements in by_plane.values():
        half = len(placements) // 2
        lines = [(flat(each.start), flat(each.end)) for each in placements]
        start, end = lines[half]
        # Where the middle one is crowded another that lies alike is named: first its neighbours, then on outwards.
        others = (lines[i] for away in range(1, len(lines)) for i in (half - away, half + away) if 0 <= i < len(lines))
        also = tuple(middle(*other) for other in others if _alike(other, (start, end)))
        line = is_line(member)
        text = member.mark if len(placements) == 1 or not line else f"{member.mark} × {len(placements)}"
        yield Text(
            f"member:{member.mark}",
            "note",
            middle(start, end),
            text,
            "label",
            direction_deg(start, end),
            back=True,
            shift=0.5 if line else 1.0,
            shorter=(member.mark, ""),
            span=math.dist(start, end),
            also=also,
            smaller=True,
        )
