"""What the sheets of one plane have to cover, in plane axes. Inches.

The plane's polygon less its openings, run past the tail at its eaves and cut back by the slot at its ridges.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from functools import cached_property, lru_cache

from shapely.geometry import LineString, MultiPolygon, Polygon, box
from shapely.geometry.base import BaseGeometry
from shapely.ops import unary_union

from workbench.roof.model import Plane, PlaneEdge, Point2

SAME_IN = 1e-6
"""Points nearer than this are the same point."""

_LEAST_STRIP_IN = 1e-3  # a narrower run past the tail or slot is none
_SLIT_IN = 1e-4


@dataclass(frozen=True)
class Region:
    """The area to cover.

    Attributes:
        rings: Its parts, each an anticlockwise ring of corners; empty where nothing is left to cover.
        rectangle: (left, bottom, right, top) when it is one upright rectangle, else None.
        holes: Openings inside the parts, each a ring of corners.
    """

    rings: tuple[tuple[Point2, ...], ...]
    rectangle: tuple[float, float, float, float] | None
    holes: tuple[tuple[Point2, ...], ...] = ()

    @cached_property
    def bottom_in(self) -> float:
        """Height of the lowest point, up the slope."""
        return min(y for ring in self.rings for _, y in ring)

    @cached_property
    def top_in(self) -> float:
        """Height of the highest point, up the slope."""
        return max(y for ring in self.rings for _, y in ring)

    @cached_property
    def area_sqin(self) -> float:
        """Area, square inches."""
        if self.holes:
            return float(self.shape.area)
        return sum(ring_area(ring) for ring in self.rings)

    @cached_property
    def shape(self) -> Polygon | MultiPolygon:
        """The same for the geometry library."""
        parts = [Polygon(ring) for ring in self.rings]
        whole = parts[0] if len(parts) == 1 else MultiPolygon(parts)
        left = whole.difference(self._open) if self.holes else whole
        return left if isinstance(left, (Polygon, MultiPolygon)) else MultiPolygon()

    @cached_property
    def _open(self) -> BaseGeometry:
        return unary_union([Polygon(hole).buffer(0.0) for hole in self.holes])

    @cached_property
    def _border(self) -> BaseGeometry:
        return self.shape.boundary

    def clipped(self, left: float, bottom: float, right: float, top: float) -> list[tuple[Point2, ...]]:
        """The parts of the region inside a box, as anticlockwise rings from left to right."""
        if self.rectangle is not None:
            x0, y0, x1, y1 = self.rectangle
            x0, y0, x1, y1 = max(x0, left), max(y0, bottom), min(x1, right), min(y1, top)
            if x1 - x0 <= SAME_IN or y1 - y0 <= SAME_IN:
                return []
            return [((x0, y0), (x1, y0), (x1, y1), (x0, y1))]
        parts = [part for ring in self.rings for part in clipped_ring(ring, (left, bottom, right, top))]
        if self.holes:
            parts = [ring for part in parts for ring in self._without_holes(part)]
        return sorted(parts, key=_leftmost)

    def perimeter_within(self, left: float, bottom: float, right: float, top: float) -> float:
        """Length round the parts of the region inside a box, round the openings in them too."""
        if self.holes:
            inside = self.shape.intersection(box(left, bottom, right, top))
            return sum(part.length for part in getattr(inside, "geoms", [inside]) if isinstance(part, Polygon))
        return sum(map(_round, self.clipped(left, bottom, right, top)))

    @cached_property
    def perimeter_in(self) -> float:
        """Length round the region and its openings."""
        return float(self.shape.length) if self.holes else sum(map(_round, self.rings))

    def _without_holes(self, part: tuple[Point2, ...]) -> list[tuple[Point2, ...]]:
        """A part less the openings; one that lies wholly inside is let out below by a slit no saw can be as thin as."""
        shape = Polygon(part)
        if not shape.intersects(self._open):
            return [part]
        left = shape.difference(self._open)
        low = min(y for _, y in part) - 1.0
        for hole in [hole for piece in getattr(left, "geoms", [left]) for hole in getattr(piece, "interiors", ())]:
            x = (hole.bounds[0] + hole.bounds[2]) / 2.0
            left = left.difference(box(x, low, x + _SLIT_IN, hole.bounds[1] + SAME_IN))
        return _rings(left)

    def chords_across(self, y: float) -> list[tuple[float, float]]:
        """Level chords at a height: (left, right) of each."""
        if self.rectangle is not None:
            left, bottom, right, top = self.rectangle
            return [(left, right)] if bottom <= y <= top else []
        low, _, high, _ = self.shape.bounds
        return [(a[0], b[0]) for a, b in self._chords(((low - 1.0, y), (high + 1.0, y)))]

    def chords_up(self, x: float, bottom: float, top: float) -> list[tuple[float, float]]:
        """Chords up the slope at x, between two heights: (low, high) of each."""
        if self.rectangle is not None:
            left, y0, right, y1 = self.rectangle
            return [(max(y0, bottom), min(y1, top))] if left <= x <= right else []
        return [(a[1], b[1]) for a, b in self._chords(((x, bottom), (x, top)))]

    def _chords(self, ends: tuple[Point2, Point2]) -> list[tuple[Point2, Point2]]:
        # What lies along the border is an edge of the plane, not a chord.
        line = self.shape.intersection(LineString(ends)).difference(self._border)
        found: list[tuple[Point2, Point2]] = []
        for part in getattr(line, "geoms", [line]):
            if not isinstance(part, LineString) or part.length <= SAME_IN:
                continue
            points = sorted((float(x), float(y)) for x, y in part.coords)
            found.append((points[0], points[-1]))
        return sorted(found)


def _round(ring: tuple[Point2, ...]) -> float:
    return sum(math.dist(a, b) for a, b in zip(ring, ring[1:] + ring[:1], strict=True))


def ring_area(ring: tuple[Point2, ...]) -> float:
    """Area of a ring, positive when it runs anticlockwise, square inches."""
    return sum(a[0] * b[1] - b[0] * a[1] for a, b in zip(ring, ring[1:] + ring[:1], strict=True)) / 2.0


def clipped_ring(ring: tuple[Point2, ...], within: tuple[float, float, float, float]) -> list[tuple[Point2, ...]]:
    """The parts of a ring inside a box (left, bottom, right, top), as anticlockwise rings."""
    if not _is_convex(ring):
        return _rings(_polygon(ring).intersection(box(*within)))
    left, bottom, right, top = within
    xs, ys = [x for x, _ in ring], [y for _, y in ring]
    part = ring
    # Most rings reach over one or two sides of the box only.
    for axis, limit, sense, cut in (
        (0, left, 1.0, min(xs) < left),
        (0, right, -1.0, max(xs) > right),
        (1, bottom, 1.0, min(ys) < bottom),
        (1, top, -1.0, max(ys) > top),
    ):
        if cut:
            part = _kept(part, axis, limit, sense)
    if part is ring:
        part = _apart(ring)
    return [part] if len(part) >= 3 and ring_area(part) > SAME_IN else []


def upright_between(ring: tuple[Point2, ...], left: float, right: float) -> tuple[float, float] | None:
    """Bottom and top of the part of a ring between two x where it is one upright rectangle; else None, or unsure."""
    if right - left <= _LEAST_STRIP_IN:
        return None
    low = high = math.nan
    found = 0
    ax, ay = ring[-1]
    for bx, by in ring:
        if left < bx < right:
            return None
        if (ax <= left and bx >= right) or (bx <= left and ax >= right):
            if ay != by or found == 2:
                return None
            low, high, found = high, by, found + 1
        ax, ay = bx, by
    if found != 2 or abs(high - low) <= _LEAST_STRIP_IN:
        return None
    return (low, high) if low < high else (high, low)


def _kept(ring: tuple[Point2, ...], axis: int, limit: float, sense: float) -> tuple[Point2, ...]:
    """A convex ring cut along an upright or level line; ``sense`` 1 keeps what lies above the limit, -1 below."""
    points: list[Point2] = []
    for a, b in zip(ring, ring[1:] + ring[:1], strict=True):
        from_a, from_b = (a[axis] - limit) * sense, (b[axis] - limit) * sense
        if from_a >= 0.0:
            points.append(a)
        if (from_a < -SAME_IN and from_b > SAME_IN) or (from_a > SAME_IN and from_b < -SAME_IN):
            share = from_a / (from_a - from_b)
            across = a[1 - axis] + share * (b[1 - axis] - a[1 - axis])
            points.append((limit, across) if axis == 0 else (across, limit))
        elif from_a < 0.0 <= from_a + SAME_IN:
            points.append((limit, a[1]) if axis == 0 else (a[0], limit))
    return _apart(points)


def _apart(points: Sequence[Point2]) -> tuple[Point2, ...]:
    """Corners without those that are the same point as the one before."""
    return tuple(
        p for i, p in enumerate(points) if abs(p[0] - points[i - 1][0]) + abs(p[1] - points[i - 1][1]) > SAME_IN
    )


@lru_cache(maxsize=256)
def _polygon(ring: tuple[Point2, ...]) -> Polygon:
    return Polygon(ring)


@lru_cache(maxsize=1024)
def _is_convex(ring: tuple[Point2, ...]) -> bool:
    corners = zip(ring[-1:] + ring[:-1], ring, ring[1:] + ring[:1], strict=True)
    return all((b[0] - a[0]) * (c[1] - b[1]) - (b[1] - a[1]) * (c[0] - b[0]) >= -SAME_IN for a, b, c in corners)


def covered_region(plane: Plane, past_tail_in: float, ridge_slot_in: float) -> Region:
    """The area the sheets of a plane must cover.

    Args:
        plane: The plane.
        past_tail_in: Run of the sheathing past the eaves, measured up the slope.
        ridge_slot_in: Slot left open at the ridges, measured up the slope.
    """
    past_tail_in = past_tail_in if past_tail_in > _LEAST_STRIP_IN else 0.0
    ridge_slot_in = ridge_slot_in if ridge_slot_in > _LEAST_STRIP_IN else 0.0
    holes = plane.opening_polygons
    whole = None if holes else _rectangle(plane.polygon)
    if whole is not None:
        kinds = _kinds_below_and_above(plane, whole)
        if kinds is not None:
            left, bottom, right, top = whole
            bottom -= past_tail_in if kinds[0] == "eave" else 0.0
            top -= ridge_slot_in if kinds[1] == "ridge" else 0.0
            if top - bottom <= SAME_IN or right - left <= SAME_IN:
                return Region((), None)
            return Region((((left, bottom), (right, bottom), (right, top), (left, top)),), (left, bottom, right, top))
    shape: BaseGeometry = Polygon(plane.polygon).buffer(0.0)
    corners, count = plane.polygon, len(plane.edges)
    for i, edge in enumerate(plane.edges):
        start, end = corners[i], corners[(i + 1) % count]
        if edge.kind == "eave" and past_tail_in > 0.0:
            before, after = corners[i - 1], corners[(i + 2) % count]
            shape = shape.union(_past(start, end, before, after, past_tail_in))
        elif edge.kind == "ridge" and ridge_slot_in > 0.0:
            y = min(start[1], end[1]) - ridge_slot_in
            left, right = min(start[0], end[0]), max(start[0], end[0])
            shape = shape.difference(box(left, y, right, max(start[1], end[1]) + 1.0))
    return region_of(shape, holes)


def region_of(shape: BaseGeometry, holes: tuple[tuple[Point2, ...], ...] = (), least_sqin: float = 0.0) -> Region:
    """The region of a shape; parts of it that are no larger than an area are left out."""
    rings = tuple(sorted((ring for ring in _rings(shape) if ring_area(ring) > least_sqin), key=_leftmost))
    upright = _rectangle(rings[0]) if len(rings) == 1 and not holes else None
    if upright is not None:
        left, bottom, right, top = upright
        rings = (((left, bottom), (right, bottom), (right, top), (left, top)),)
    return Region(rings, upright, holes if rings else ())


def _past(start: Point2, end: Point2, before: Point2, after: Point2, past_in: float) -> Polygon:
    """The strip below an eave, its ends on the neighbouring edges run on downhill."""
    y = min(start[1], end[1]) - past_in
    return Polygon([start, (_run_on(before, start, y), y), (_run_on(after, end, y), y), end])


def _run_on(far: Point2, near: Point2, y: float) -> float:
    rise = far[1] - near[1]
    if rise <= SAME_IN:  # the neighbour does not come down to this eave
        return near[0]
    return near[0] + (near[0] - far[0]) * (near[1] - y) / rise


def _rings(shape: BaseGeometry) -> list[tuple[Point2, ...]]:
    found: list[tuple[Point2, ...]] = []
    for part in getattr(shape, "geoms", [shape]):
        if isinstance(part, Polygon) and part.area > SAME_IN:
            ring = tuple((float(x), float(y)) for x, y in list(part.exterior.coords)[:-1])
            found.append(ring if ring_area(ring) > 0.0 else ring[::-1])
    return found


def _leftmost(ring: tuple[Point2, ...]) -> Point2:
    return min(ring)


def _rectangle(ring: tuple[Point2, ...]) -> tuple[float, float, float, float] | None:
    xs, ys = [x for x, _ in ring], [y for _, y in ring]
    left, right, bottom, top = min(xs), max(xs), min(ys), max(ys)
    upright = all(
        min(abs(x - left), abs(x - right)) <= SAME_IN or min(abs(y - bottom), abs(y - top)) <= SAME_IN for x, y in ring
    )
    if not upright or abs(ring_area(ring) - (right - left) * (top - bottom)) > SAME_IN * (1.0 + right - left):
        return None
    return left, bottom, right, top


def _kinds_below_and_above(plane: Plane, upright: tuple[float, float, float, float]) -> tuple[str, str] | None:
    """Kind of the bottom and the top edge of an upright rectangle, None where one is of several kinds."""
    _, bottom, _, top = upright
    below: set[str] = set()
    above: set[str] = set()
    for edge, start, end in edges_of(plane):
        if abs(start[1] - end[1]) > SAME_IN:
            continue
        if abs(start[1] - bottom) <= SAME_IN:
            below.add(edge.kind)
        elif abs(start[1] - top) <= SAME_IN:
            above.add(edge.kind)
    return (below.pop(), above.pop()) if len(below) == 1 and len(above) == 1 else None


def edges_of(plane: Plane) -> list[tuple[PlaneEdge, Point2, Point2]]:
    """Each edge of the plane, those of its openings last, with its ends in plane axes."""
    rings = zip((plane.edges, *plane.opening_edges), (plane.polygon, *plane.opening_polygons), strict=True)
    return [side for edges, ring in rings for side in zip(edges, ring, ring[1:] + ring[:1], strict=True)]
