"""Roofs framed over sheathed ones: the sleepers their valley jacks stand on, flat on the roof below.

Sources: the foot is marked at the main roof's sheathing angle, the edge is ripped at 90° less both backings (seen in a
copy); lengths and angles are geometry.
"""

from __future__ import annotations

import math
from collections.abc import Iterator

from workbench.findings import GEOMETRY
from workbench.framing.group import SLEEPER_IN, Group
from workbench.framing.model import Cut, Hand, Measure, Member, Placement
from workbench.framing.space import cross2, dihedral, dot, flat, unit, unit2
from workbench.framing.stock import section_name, stock_length
from workbench.framing.timber import SAME_IN
from workbench.measure import Trace, Units
from workbench.roof.model import Plane, PlaneEdge, Point3

_NEARLY = 1e-3  # radians: nearer than this to the course line or to straight up the slope is that line
_RIP_SOURCE = "seen in a copy: 90° less both backings; geometry"


def laid_edges(group: Group, plane: Plane) -> Iterator[tuple[PlaneEdge, Plane]]:
    """The valleys of a plane that lie on a roof that runs on below, with that roof's plane."""
    for edge in plane.all_edges:
        below = group.by_id.get(edge.neighbour or "")
        if edge.kind == "valley" and below is not None and not group.shares(plane, edge):
            yield edge, below


def laid_under(group: Group, plane: Plane, tip: Point3) -> Plane | None:
    """The roof below that a plane's ridge runs down to at a point, or None."""
    for edge, below in laid_edges(group, plane):
        if min(math.dist(edge.start, tip), math.dist(edge.end, tip)) < SAME_IN:
            return below
    return None


def sleepers(group: Group, units: Units) -> list[Member]:
    """One sleeper for every valley that lies on a roof below."""
    return [
        _sleeper(group, plane, edge, below, units) for plane in group.planes for edge, below in laid_edges(group, plane)
    ]


def _sleeper(group: Group, plane: Plane, edge: PlaneEdge, below: Plane, units: Units) -> Member:
    low, high = sorted((edge.start, edge.end), key=lambda point: point[2])
    length = edge.length_in
    along = unit((high[0] - low[0], high[1] - low[1], high[2] - low[2]))
    # In the plane of the roof below: from its course line to the sleeper.
    course = math.acos(min(1.0, abs(dot(along, (*below.across, 0.0)))))
    rip = dihedral(group.slopes[plane.id], group.slopes[below.id]) - math.pi / 2.0
    wing = group.wing_of(plane.id)
    width = wing.rafter.depth_in
    foot, head, ends = _ends(course, width, length)
    hand: Hand = "left" if cross2(unit2(flat(low), flat(high)), plane.uphill) > 0.0 else "right"
    # Both ends run off to the same side: along the course line at the foot, straight down the slope at the head.
    ring = ((0.0, width), (foot, 0.0), (max(length - head, foot), 0.0), (length, width))
    cuts = (
        *ends,
        Cut("rip along the edge under the jacks", 0.0, math.degrees(rip), 0.0, 0.0),
    )
    return Member(
        mark="Sleeper",
        kind="sleeper",
        count=1,
        length_in=length,
        stock_in=stock_length(length) or length,
        section=section_name(SLEEPER_IN, width),
        depth_in=width,
        thickness_in=SLEEPER_IN,
        cuts=cuts,
        profile=ring,
        measures=(Measure("upper edge", (0.0, width), (length, width), length),),
        placements=(Placement(below.id, low, high, hand),),
        traces=_traces(length, course, rip, units),
        angle_deg=math.degrees(math.asin(along[2])),
        left=1 if hand == "left" else 0,
        right=1 if hand == "right" else 0,
    )


def _ends(course: float, width: float, length: float) -> tuple[float, float, tuple[Cut, Cut]]:
    """How far the ends of a sleeper run off at its foot and head, and their cuts; square along a level or upright line.

    A sleeper that lies along the course line, or straight up the slope, has nothing to run off against.
    """
    foot = width / math.tan(course) if course > _NEARLY else math.inf
    head = width * math.tan(course) if course < math.pi / 2.0 - _NEARLY else math.inf
    if foot > length or math.isinf(head):
        return 0.0, 0.0, (Cut("square cut", 0.0, 0.0, 0.0, 0.0), Cut("square cut", 0.0, 0.0, 0.0, length))
    cuts = (
        Cut("foot cut, along the course line", math.degrees(math.pi / 2.0 - course), 0.0, 12.0 / math.tan(course), 0.0),
        Cut("head cut, straight down the slope", math.degrees(course), 0.0, 12.0 * math.tan(course), length),
    )
    return foot, head, cuts


def _traces(length: float, course: float, rip: float, units: Units) -> tuple[Trace, ...]:
    return (
        Trace("sleeper length", length, "in", "true length of the valley", units.tape(length), GEOMETRY),
        Trace(
            "sheathing angle of the roof below",
            math.degrees(course),
            "deg",
            "tan D / cos θ, from the course line to the valley in the plane of that roof",
            f"{math.degrees(course):.5f}°",
            GEOMETRY,
        ),
        Trace(
            "rip bevel",
            math.degrees(rip),
            "deg",
            "angle between the planes less 90°",
            f"{math.degrees(rip + math.pi / 2.0):.5f}° − 90° = {math.degrees(rip):.5f}°",
            _RIP_SOURCE,
        ),
    )
