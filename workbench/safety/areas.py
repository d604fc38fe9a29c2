"""Parts of planes that a rope reaches, as shapes of the geometry library, in each plane's own axes. Inches."""

from __future__ import annotations

import math
from collections.abc import Iterable, Mapping, Sequence

from shapely import Point, Polygon, box
from shapely.affinity import affine_transform
from shapely.geometry.base import BaseGeometry
from shapely.ops import unary_union

from workbench.roof.model import Plane, Point2, Point3
from workbench.safety.model import Area, Ring
from workbench.safety.surface import Chain, Flat, Surface, Window

QUARTER = 32
"""Straight pieces in a quarter of a circle."""

_OUTSIDE = 1.0 / math.cos(math.pi / (4.0 * QUARTER))
"""What a circle's pieces are set out by, so that they lie outside it."""

_LEAST_SQIN = 1.0
_FAR = 1e6


def plane_shape(plane: Plane) -> BaseGeometry:
    """The whole plane without its openings."""
    shape: BaseGeometry = Polygon(plane.polygon).buffer(0.0)
    for ring in plane.opening_polygons:
        shape = shape.difference(Polygon(ring).buffer(0.0))
    return shape


def disk(at: Point2, radius_in: float, *, outside: bool = False) -> BaseGeometry:
    """A circle as a polygon inside it, or outside it."""
    return Point(at).buffer(radius_in * (_OUTSIDE if outside else 1.0), quad_segs=QUARTER)


def worked_on(
    surface: Surface, shapes: Mapping[str, BaseGeometry], chains: Sequence[Chain], at: Point2, radius_in: float
) -> dict[str, BaseGeometry]:
    """By plane what lies within a radius of an anchor, measured along the roof; never more than that."""
    found: dict[str, list[BaseGeometry]] = {}
    if radius_in <= 0.0:
        return {}
    circle = disk(at, radius_in)
    for chain in chains:
        part = _through(circle, at, chain.windows, radius_in)
        here = _moved(part, chain.flat.back()).intersection(shapes[chain.to])
        if here.area > _LEAST_SQIN:
            found.setdefault(chain.to, []).append(here)
    return {plane: unary_union(parts) for plane, parts in found.items()}


def reached(
    surface: Surface,
    shapes: Mapping[str, BaseGeometry],
    chains: Sequence[Chain],
    at: Point2,
    space: Point3,
    plane_id: str,
    radius_in: float,
) -> BaseGeometry:
    """The part of a plane a rope reaches at most: unfolded where it lies on the roof, straight in space elsewhere."""
    plane = surface.planes[plane_id]
    circle = disk(at, radius_in, outside=True)
    along: list[BaseGeometry] = []
    seen: list[BaseGeometry] = []
    for chain in chains:
        if chain.to != plane_id or chain.hollow:
            continue
        back = chain.flat.back()
        along.append(_moved(_through(circle, at, chain.windows, radius_in), back))
        seen.append(_moved(_wedge(at, chain.windows, 4.0 * radius_in + 1e4), back))
    centre, across = _straight_disk(plane, space, radius_in)
    straight: BaseGeometry = disk(centre, across, outside=True) if across > 0.0 else Polygon()
    if seen:
        straight = straight.difference(unary_union(seen))
    return unary_union([*along, straight]).intersection(shapes[plane_id])


def to_area(shape: BaseGeometry) -> Area:
    """The polygons of a shape as plain rings, the largest first."""
    parts = sorted(_polygons(shape), key=lambda part: (-round(part.area, 3), part.bounds))
    return tuple((_ring(part.exterior.coords), *(_ring(hole.coords) for hole in part.interiors)) for part in parts)


def without_holes(area: Area, left: float = -math.inf, right: float = math.inf) -> tuple[Ring, ...]:
    """The rings of an area between two x, cut upright through its holes so that none is left."""
    low, high = max(left, -_FAR), min(right, _FAR)
    found: list[Ring] = []
    waiting = [Polygon(rings[0], list(rings[1:])) for rings in area]
    if low > -_FAR or high < _FAR:
        waiting = [part for shape in waiting for part in _polygons(shape.intersection(box(low, -_FAR, high, _FAR)))]
    while waiting:
        shape = waiting.pop(0)
        if not shape.interiors:
            found.append(_ring(shape.exterior.coords))
            continue
        middle = Polygon(shape.interiors[0]).centroid.x
        for side in (box(-_FAR, -_FAR, middle, _FAR), box(middle, -_FAR, _FAR, _FAR)):
            waiting += _polygons(shape.intersection(side))
    return tuple(found)


def _polygons(shape: BaseGeometry) -> list[Polygon]:
    parts = getattr(shape, "geoms", [shape])
    return [part for part in parts if isinstance(part, Polygon) and part.area > _LEAST_SQIN]


def from_area(area: Area) -> BaseGeometry:
    """The shape of plain rings."""
    return unary_union([Polygon(rings[0], list(rings[1:])) for rings in area])


def _ring(coords: Iterable[tuple[float, ...]]) -> Ring:
    return tuple((float(point[0]), float(point[1])) for point in list(coords)[:-1])


def _straight_disk(plane: Plane, space: Point3, radius_in: float) -> tuple[Point2, float]:
    """Where a ball round a point of space cuts a plane: middle and radius, 0 where it does not."""
    # The plane's point below or above in plan, then along the slope to the foot of the perpendicular.
    below = plane.to_plane(space)
    lift = space[2] - plane.to_space(below)[2]
    off = lift / plane.stretch
    centre = (below[0], below[1] + lift * plane.tangent / plane.stretch)
    square = radius_in * radius_in - off * off
    return centre, math.sqrt(square) if square > 0.0 else 0.0


def _moved(shape: BaseGeometry, flat: Flat) -> BaseGeometry:
    return affine_transform(shape, [flat.cos, -flat.sin, flat.sin, flat.cos, flat.dx, flat.dy])


def _through(shape: BaseGeometry, at: Point2, windows: Sequence[Window], radius_in: float) -> BaseGeometry:
    return shape.intersection(_wedge(at, windows, 4.0 * radius_in + 1e3)) if windows else shape


def _wedge(at: Point2, windows: Sequence[Window], far_in: float) -> BaseGeometry:
    """What is seen from a point through windows, as far as ``far_in``."""
    whole: BaseGeometry = Point(at).buffer(far_in, quad_segs=8)
    for window in windows:
        whole = whole.intersection(_seen_past(at, window, far_in))
    return whole


def _seen_past(at: Point2, window: Window, far_in: float) -> Polygon:
    """What is seen through a window and lies beyond it."""
    first = _direction(at, window.right)
    turn = (_direction(at, window.left) - first) % math.tau
    steps = max(2, math.ceil(turn / math.radians(20.0)))
    far = far_in / math.cos(turn / steps / 2.0)
    arc = [
        (at[0] + far * math.cos(first + turn * k / steps), at[1] + far * math.sin(first + turn * k / steps))
        for k in range(steps + 1)
    ]
    return Polygon([window.right, *arc, window.left])


def _direction(at: Point2, to: Point2) -> float:
    return math.atan2(to[1] - at[1], to[0] - at[0])
