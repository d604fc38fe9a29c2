"""How far it is from an anchor to an edge as a rope measures it, over ridges and hips and across valleys.

Over a ridge or hip the rope lies on the roof: the planes are unfolded about the edge they share and the rope is
straight there. Across a valley a taut rope leaves the surface: the straight distance in space is the safe limit, and so
it is wherever the unfolded straight line misses the edge the planes share.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass

from workbench.roof.model import Plane, Point2, Point3

MOST_FOLDS = 3
"""Planes further away than this many folds are measured straight."""

_TINY = 1e-9
_ON_LINE_IN = 1e-6
_FLAT_IN = 1e-6  # a plane that lies this little under its neighbour's extension is no valley


@dataclass(frozen=True, slots=True)
class Fold:
    """An edge over which a rope can run from one plane to another."""

    to: str
    start: Point3
    end: Point3
    hollow: bool


@dataclass(frozen=True, slots=True)
class Flat:
    """A turn and a shift of the plane: p → turned p + shift."""

    cos: float = 1.0
    sin: float = 0.0
    dx: float = 0.0
    dy: float = 0.0

    def of(self, p: Point2) -> Point2:
        """The image of a point."""
        return self.cos * p[0] - self.sin * p[1] + self.dx, self.sin * p[0] + self.cos * p[1] + self.dy

    def after(self, first: Flat) -> Flat:
        """First the other, then this one."""
        dx, dy = self.of((first.dx, first.dy))
        return Flat(self.cos * first.cos - self.sin * first.sin, self.sin * first.cos + self.cos * first.sin, dx, dy)

    def back(self) -> Flat:
        """The inverse."""
        return Flat(
            self.cos, -self.sin, -(self.cos * self.dx + self.sin * self.dy), self.sin * self.dx - self.cos * self.dy
        )


@dataclass(frozen=True, slots=True)
class Window:
    """An edge a straight line from the anchor has to cross, in the anchor plane's unfolded axes, seen anticlockwise."""

    right: Point2
    left: Point2


@dataclass(frozen=True, slots=True)
class Chain:
    """A way from the anchor's plane to another.

    Attributes:
        to: The plane reached.
        flat: From that plane's axes to the unfolded axes.
        windows: What a straight line has to cross.
        hollow: Whether a valley lies on the way.
    """

    to: str
    flat: Flat
    windows: tuple[Window, ...]
    hollow: bool


class Surface:
    """The planes of a roof and the folds between them."""

    def __init__(self, planes: Sequence[Plane]) -> None:
        self.planes = {plane.id: plane for plane in planes}
        self._folds: dict[str, list[Fold]] = {plane.id: [] for plane in planes}
        for plane in planes:
            self._add_folds(plane)

    def _add_folds(self, plane: Plane) -> None:
        for edge in plane.all_edges:
            other = self.planes.get(edge.neighbour or "")
            if other is None or edge.length_in < _ON_LINE_IN:
                continue
            hollow = _is_hollow(plane, other, edge.start, edge.end)
            for mine, theirs in ((plane.id, other.id), (other.id, plane.id)):
                known = any(fold.to == theirs and _same_line(fold, edge.start, edge.end) for fold in self._folds[mine])
                if not known:
                    self._folds[mine].append(Fold(theirs, edge.start, edge.end, hollow))

    def chains(self, plane_id: str, at: Point2) -> tuple[Chain, ...]:
        """Every way from a point to other planes over at most ``MOST_FOLDS`` folds, the own plane first."""
        return tuple(self._walk(at, Chain(plane_id, Flat(), (), hollow=False), (plane_id,)))

    def _walk(self, at: Point2, here: Chain, been: tuple[str, ...]) -> Iterator[Chain]:
        yield here
        if len(been) > MOST_FOLDS:
            return
        for fold in self._folds[here.to]:
            if fold.to in been:
                continue
            mine, other = self.planes[here.to], self.planes[fold.to]
            a, b = (here.flat.of(mine.to_plane(point)) for point in (fold.start, fold.end))
            window = window_of(at, a, b)
            if window is None:
                continue
            flat = _unfolded(other.to_plane(fold.start), other.to_plane(fold.end), a, b)
            windows = here.windows if window == _OPEN else (*here.windows, window)
            yield from self._walk(
                at, Chain(fold.to, flat, windows, hollow=here.hollow or fold.hollow), (*been, fold.to)
            )

    def connected(self, plane_id: str) -> frozenset[str]:
        """Ids of all planes that can be come to over folds, the plane itself included."""
        found, waiting = {plane_id}, [plane_id]
        while waiting:
            for fold in self._folds[waiting.pop()]:
                if fold.to not in found:
                    found.add(fold.to)
                    waiting.append(fold.to)
        return frozenset(found)


_OPEN = Window((0.0, 0.0), (0.0, 0.0))


def window_of(at: Point2, a: Point2, b: Point2) -> Window | None:
    """The window of an edge seen from a point; an open one where the point lies on the edge, None where end on."""
    turn = _cross(at, a, b)
    if abs(turn) <= _ON_LINE_IN * math.dist(a, b):
        along = (at[0] - a[0]) * (b[0] - a[0]) + (at[1] - a[1]) * (b[1] - a[1])
        inside = -_ON_LINE_IN <= along / math.dist(a, b) <= math.dist(a, b) + _ON_LINE_IN
        return _OPEN if inside else None
    return Window(a, b) if turn > 0.0 else Window(b, a)


@dataclass(frozen=True, slots=True)
class Stretch:
    """Part of an edge with a straight measure to it: points start + t·(end − start), t from ``low`` to ``high``.

    Attributes:
        origin: The anchor, in the same axes (2 numbers unfolded, 3 in space).
        start: Start of the whole edge.
        end: End of the whole edge.
        low: From which share of the edge.
        high: To which share.
        straight: Whether the axes are those of space.
    """

    origin: tuple[float, ...]
    start: tuple[float, ...]
    end: tuple[float, ...]
    low: float
    high: float
    straight: bool

    @property
    def foot(self) -> float:
        """Share of the edge at the foot of the perpendicular, inside the edge or not."""
        along = [e - s for s, e in zip(self.start, self.end, strict=True)]
        square = sum(x * x for x in along)
        if square < _TINY:
            return 0.0
        return sum((o - s) * x for o, s, x in zip(self.origin, self.start, along, strict=True)) / square

    @property
    def nearest(self) -> float:
        """Share of the edge at its nearest point."""
        return min(max(self.foot, self.low), self.high)

    def distance_in(self, t: float) -> float:
        """Distance to the point at a share."""
        return math.dist(self.origin, [s + t * (e - s) for s, e in zip(self.start, self.end, strict=True)])

    @property
    def least_in(self) -> float:
        """Distance to the nearest point."""
        return self.distance_in(self.nearest)


def stretches(
    surface: Surface, chains: Sequence[Chain], at: Point2, space: Point3, plane_id: str, start: Point3, end: Point3
) -> tuple[Stretch, ...]:
    """How an edge of a plane is measured from an anchor: unfolded where that can be, straight for the rest.

    Args:
        surface: The roof.
        chains: Of the anchor's point.
        at: The anchor in its own plane.
        space: The anchor in space.
        plane_id: The plane the edge belongs to.
        start: One end of the edge.
        end: The other.
    """
    plane = surface.planes[plane_id]
    found: list[Stretch] = []
    rest = [(0.0, 1.0)]
    for chain in chains:
        if chain.to != plane_id or chain.hollow:
            continue
        a, b = chain.flat.of(plane.to_plane(start)), chain.flat.of(plane.to_plane(end))
        span = _seen(at, chain.windows, a, b)
        if span is None:
            continue
        found.append(Stretch(at, a, b, *span, straight=False))
        rest = [part for known in rest for part in _less(known, span)]
    found += [Stretch(space, start, end, low, high, straight=True) for low, high in rest]
    return tuple(found)


def _seen(at: Point2, windows: Sequence[Window], a: Point2, b: Point2) -> tuple[float, float] | None:
    """Shares of a line between which it is seen through all windows; None where it is not."""
    low, high = 0.0, 1.0
    for window in windows:
        for value_a, value_b in (
            (_cross(at, window.right, a), _cross(at, window.right, b)),
            (-_cross(at, window.left, a), -_cross(at, window.left, b)),
        ):
            slack = _ON_LINE_IN * max(1.0, abs(value_a), abs(value_b))
            if value_a < -slack and value_b < -slack:
                return None
            if value_a < -slack:
                low = max(low, value_a / (value_a - value_b))
            elif value_b < -slack:
                high = min(high, value_a / (value_a - value_b))
    return (low, high) if high - low > _TINY else None


def _less(known: tuple[float, float], span: tuple[float, float]) -> list[tuple[float, float]]:
    parts = [(known[0], min(known[1], span[0])), (max(known[0], span[1]), known[1])]
    return [part for part in parts if part[1] - part[0] > _TINY]


def _is_hollow(plane: Plane, other: Plane, start: Point3, end: Point3) -> bool:
    """Whether two planes meet in a valley along an edge of the first, walked with that plane to the left."""
    dx, dy = end[0] - start[0], end[1] - start[1]
    length = math.hypot(dx, dy)
    if length < _TINY:
        return True
    out = ((start[0] + end[0]) / 2.0 + 12.0 * dy / length, (start[1] + end[1]) / 2.0 - 12.0 * dx / length)
    return height_at(other, out) > height_at(plane, out) + _FLAT_IN


def height_at(plane: Plane, point: Point2) -> float:
    """Height of a plane, extended where need be, over a plan point."""
    return plane.to_space(plane.to_plane(point))[2]


def _unfolded(c: Point2, d: Point2, a: Point2, b: Point2) -> Flat:
    """The turn and shift that take c to a and d towards b."""
    turn = math.atan2(b[1] - a[1], b[0] - a[0]) - math.atan2(d[1] - c[1], d[0] - c[0])
    cos, sin = math.cos(turn), math.sin(turn)
    return Flat(cos, sin, a[0] - (cos * c[0] - sin * c[1]), a[1] - (sin * c[0] + cos * c[1]))


def _cross(o: Point2, a: Point2, b: Point2) -> float:
    return (a[0] - o[0]) * (b[1] - o[1]) - (a[1] - o[1]) * (b[0] - o[0])


def _same_line(fold: Fold, start: Point3, end: Point3) -> bool:
    straight = math.dist(fold.start, start) + math.dist(fold.end, end)
    turned = math.dist(fold.start, end) + math.dist(fold.end, start)
    return min(straight, turned) < 0.1


def plane_at(planes: Mapping[str, Plane], whole: str, plan: Point2, margin_in: float) -> tuple[str, float]:
    """The piece of a plane that a plan point lies in, and how far off the nearest piece it is.

    Args:
        planes: All planes by id.
        whole: The plane as drawn.
        plan: The plan point.
        margin_in: A point this little outside counts as inside.

    Returns:
        The piece's id, empty where the point lies off all of them; the distance along the plane, inches.
    """
    best, off = "", math.inf
    for plane in planes.values():
        if plane.whole != whole:
            continue
        away = off_plane_in(plane, plane.to_plane(plan))
        if away < off:
            best, off = plane.id, away
    return (best if off <= margin_in else ""), off


def off_plane_in(plane: Plane, point: Point2) -> float:
    """How far a point, in the plane's axes, lies off the plane: outside it or inside one of its openings."""
    for ring in plane.opening_polygons:
        if _contains(ring, point):
            return _to_ring(ring, point)
    return outside_in(plane.polygon, point)


def outside_in(ring: Sequence[Point2], point: Point2) -> float:
    """How far a point lies outside a ring; 0 inside."""
    return 0.0 if _contains(ring, point) else _to_ring(ring, point)


def on_plane(plane: Plane, point: Point2) -> Point2:
    """The point itself, or where it lies off the plane the nearest point of the plane's outline."""
    if off_plane_in(plane, point) <= 0.0:
        return point
    rings = (plane.polygon, *plane.opening_polygons)
    sides = [side for ring in rings for side in zip(ring, ring[1:] + ring[:1], strict=True)]
    parts = [Stretch(point, a, b, 0.0, 1.0, straight=False) for a, b in sides]
    nearest = min(parts, key=lambda part: part.least_in)
    t = nearest.nearest
    (ax, ay), (bx, by) = nearest.start, nearest.end
    return ax + t * (bx - ax), ay + t * (by - ay)


def _to_ring(ring: Sequence[Point2], point: Point2) -> float:
    return min(
        Stretch(point, a, b, 0.0, 1.0, straight=False).least_in for a, b in zip(ring, [*ring[1:], ring[0]], strict=True)
    )


def _contains(ring: Sequence[Point2], point: Point2) -> bool:
    x, y = point
    inside = False
    for (x0, y0), (x1, y1) in zip(ring, [*ring[1:], ring[0]], strict=True):
        if (y0 > y) != (y1 > y) and x < x0 + (y - y0) * (x1 - x0) / (y1 - y0):
            inside = not inside
    return inside
