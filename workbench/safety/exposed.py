"""Where a rope is too long for an edge: how much of the edge is exposed, free fall, swing and clearance. Inches.

Free fall, swing and clearance are bounds: the rope slides along the edge without friction, the harness point is no
higher above the feet than the reach, and the fall begins at the worst place. A rope over a sharp edge may part.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Mapping, Sequence

from shapely import LineString
from shapely.geometry.base import BaseGeometry

from workbench.roof.model import Plane, Point2, Point3
from workbench.safety.areas import QUARTER, reached, to_area
from workbench.safety.model import Exposure, Fall, Limit
from workbench.safety.ropes import Allowances, Standpoint, measured
from workbench.safety.surface import Stretch, Surface

_STEPS = 48
_EVERY_IN = 24.0
_TINY = 1e-9
_SAME_IN = 1e-6


def exposures_of(
    surface: Surface,
    shapes: Mapping[str, BaseGeometry],
    stand: Standpoint,
    limits: Sequence[Limit],
    set_in: float,
    allowances: Allowances,
    deceleration_in: float,
    ground: Callable[[Fall, Point3], float],
) -> tuple[Exposure, ...]:
    """Every edge that a rope of this length lets a hand, foot or person pass.

    Args:
        surface: The roof.
        shapes: Its planes as shapes.
        stand: The anchor.
        limits: Its limits.
        set_in: Rope, connector and lanyard together.
        allowances: What was taken off.
        deceleration_in: Over which arrest gear stops a fall.
        ground: Height of the level below a point of a fall's edge.
    """
    found: list[Exposure] = []
    for limit in limits:
        if set_in <= limit.total_in + 1e-6 or limit.fall.kind == "bare_rafters":
            continue
        found.append(
            _exposure(surface, shapes, stand, limit, set_in + allowances.slip_in, allowances, deceleration_in, ground)
        )
    return tuple(found)


def _exposure(
    surface: Surface,
    shapes: Mapping[str, BaseGeometry],
    stand: Standpoint,
    limit: Limit,
    radius_in: float,
    allowances: Allowances,
    deceleration_in: float,
    ground: Callable[[Fall, Point3], float],
) -> Exposure:
    fall = limit.fall
    plane = surface.planes[fall.plane]
    start, end = plane.to_plane(fall.start), plane.to_plane(fall.end)
    shape = exposed_shape(surface, shapes, stand, fall, radius_in, allowances.reach_in + allowances.stretch_in)
    along = _extents(shape, start, end)
    passes = radius_in + allowances.stretch_in > limit.distance_in
    if not passes:
        return Exposure(fall, to_area(shape), along, passes, 0.0, 0.0, _drop(fall, ground) - allowances.reach_in)
    parts = measured(surface, stand, fall)
    slack = max(0.0, radius_in - limit.distance_in)
    swing, lowest = _hanging(parts, fall, radius_in)
    feet = lowest - allowances.stretch_in - deceleration_in - allowances.reach_in
    level = max(ground(fall, point) for point in _along(fall))
    return Exposure(fall, to_area(shape), along, passes, slack + allowances.reach_in, swing, feet - level)


def exposed_shape(
    surface: Surface,
    shapes: Mapping[str, BaseGeometry],
    stand: Standpoint,
    fall: Fall,
    radius_in: float,
    within_in: float,
) -> BaseGeometry:
    """Points of the fall's plane that a rope reaches and from which the edge is within a distance."""
    plane: Plane = surface.planes[fall.plane]
    start, end = plane.to_plane(fall.start), plane.to_plane(fall.end)
    # Set out so that the rounded ends lie outside the true distance.
    near = LineString([start, end]).buffer(within_in / math.cos(math.pi / (4.0 * QUARTER)), quad_segs=QUARTER)
    return reached(surface, shapes, stand.chains, stand.at, stand.space, fall.plane, radius_in).intersection(near)


def _extents(shape: BaseGeometry, start: Point2, end: Point2) -> float:
    """Length of a shape along an edge, its parts laid over one another."""
    length = math.dist(start, end)
    if length < _TINY or shape.is_empty:
        return 0.0
    ux, uy = (end[0] - start[0]) / length, (end[1] - start[1]) / length
    spans: list[tuple[float, float]] = []
    for rings in to_area(shape):
        shares = [(x - start[0]) * ux + (y - start[1]) * uy for x, y in rings[0]]
        spans.append((max(0.0, min(shares)), min(length, max(shares))))
    total, reach = 0.0, -math.inf
    for low, high in sorted(spans):
        total += max(0.0, high - max(low, reach))
        reach = max(reach, high)
    return total


def _hanging(parts: Sequence[Stretch], fall: Fall, radius_in: float) -> tuple[float, float]:
    """Greatest level swing, and the lowest place the harness comes to, for a rope that slides along the edge."""
    swing, lowest = 0.0, math.inf
    level = math.dist(fall.start[:2], fall.end[:2])
    for part in parts:
        spots = [part.low + (part.high - part.low) * k / _STEPS for k in range(_STEPS + 1)]
        spots += [part.nearest, _rest(part, fall), *_ends(part, radius_in)]
        over = [t for t in spots if part.low <= t <= part.high and part.distance_in(t) <= radius_in + _SAME_IN]
        if not over:
            continue
        heights = [_height(fall, t) - (radius_in - part.distance_in(t)) for t in over]
        rest = over[min(range(len(over)), key=lambda i: heights[i])]
        lowest = min(lowest, *heights)
        swing = max(swing, max(abs(t - rest) for t in over) * level)
    if lowest is math.inf:
        lowest = min(fall.start[2], fall.end[2])
    return swing, lowest


def _ends(part: Stretch, radius_in: float) -> tuple[float, ...]:
    """Shares of the edge that lie just as far away as the rope is long."""
    square_on, length = part.distance_in(part.foot), math.dist(part.start, part.end)
    if length < _TINY or radius_in <= square_on:
        return ()
    half = math.sqrt(radius_in * radius_in - square_on * square_on) / length
    return part.foot - half, part.foot + half


def _rest(part: Stretch, fall: Fall) -> float:
    """Share of the edge at which a rope that slides along it would hang still.

    Down the edge from the foot of the perpendicular, by the perpendicular times the tangent of the edge's own angle.
    """
    length = math.dist(fall.start, fall.end)
    if length < _TINY:
        return part.nearest
    rise = (fall.end[2] - fall.start[2]) / length
    square_on = part.distance_in(part.foot)
    if abs(rise) >= 1.0 - _TINY:
        return part.nearest
    return min(max(part.foot - square_on * rise / math.sqrt(1.0 - rise * rise) / length, part.low), part.high)


def _height(fall: Fall, t: float) -> float:
    return fall.start[2] + t * (fall.end[2] - fall.start[2])


def _drop(fall: Fall, ground: Callable[[Fall, Point3], float]) -> float:
    return min(point[2] - ground(fall, point) for point in _along(fall))


def _along(fall: Fall) -> list[Point3]:
    """Points of an edge, both ends and no further apart than ``_EVERY_IN``."""
    parts = max(1, math.ceil(math.dist(fall.start, fall.end) / _EVERY_IN))
    (ax, ay, az), (bx, by, bz) = fall.start, fall.end
    shares = [k / parts for k in range(parts + 1)]
    return [(ax + t * (bx - ax), ay + t * (by - ay), az + t * (bz - az)) for t in shares]
