"""Where a pointed-at place really lies: the snaps of the drawing surface, without any window.

A snap is caught within a tolerance in screen pixels, so that it feels alike at every zoom; what it returns is exact, on
the lattice of 1/64 in that everything drawn lies on, and says in a word what caught it. Order, strongest first: corner,
middle, two lines at once, one line (square to, parallel, edge, extension), grid. Plan inches throughout.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from itertools import combinations

from workbench.measure import System
from workbench.roof.model import Point2

LATTICE = 64
TOLERANCE_PX = 10.0

# A grid line every so many pixels at least: closer ones are a grey veil, not a grid.
_LEAST_GRID_PX = 12.0
_INCH_STEPS = (0.25, 1.0, 3.0, 6.0, 12.0, 24.0, 48.0, 120.0, 240.0, 600.0, 1200.0)
_MM_STEPS = (5.0, 10.0, 50.0, 100.0, 500.0, 1000.0, 5000.0, 10_000.0, 50_000.0)
_PARALLEL = 1e-9

Segment = tuple[Point2, Point2]


@dataclass(frozen=True, slots=True)
class Snap:
    """A place with what caught it.

    Attributes:
        point: On the lattice; an existing corner as it is.
        word: What caught it, for showing beside the marker; empty when nothing did.
        guides: The lines it was caught on, to be drawn thin from their origin to the point.
    """

    point: Point2
    word: str = ""
    guides: tuple[Segment, ...] = ()


@dataclass(frozen=True, slots=True)
class Targets:
    """What there is to snap to: corners and edges of wings, and of the line being drawn."""

    corners: tuple[Point2, ...] = ()
    edges: tuple[Segment, ...] = ()


@dataclass(frozen=True, slots=True)
class Ray:
    """A line to snap to, endless both ways unless ``bound`` gives its length.

    Attributes:
        origin: Where lengths along it are counted from.
        direction: Unit vector.
        word: What to call it.
        rank: Lower is stronger.
        bound: Length of an edge, or None for an endless line.
    """

    origin: Point2
    direction: Point2
    word: str
    rank: int
    bound: float | None = None


def on_lattice(point: Point2) -> Point2:
    """The nearest point of the lattice of 1/64 in."""
    return round(point[0] * LATTICE) / LATTICE, round(point[1] * LATTICE) / LATTICE


def grid_step(scale: float, system: System) -> float:
    """Spacing of the grid in inches at this many pixels an inch: the finest that is not too close on the screen."""
    steps = _INCH_STEPS if system == "ft_in" else tuple(mm / 25.4 for mm in _MM_STEPS)
    return next((step for step in steps if step * scale >= _LEAST_GRID_PX), steps[-1])


def coarse_step(step: float, system: System) -> float:
    """Spacing of the stronger grid lines, inches: the next round measure of at least four steps."""
    steps = (12.0, 120.0, 1200.0) if system == "ft_in" else tuple(mm / 25.4 for mm in (100.0, 1000.0, 10_000.0, 1e5))
    return next((coarse for coarse in steps if coarse >= 3.99 * step), 10.0 * step)


def snap(
    at: Point2,
    scale: float,
    targets: Targets,
    *,
    base: Point2 | None = None,
    last: Segment | None = None,
    start: Segment | None = None,
    grid: float = 0.0,
    tolerance_px: float = TOLERANCE_PX,
) -> Snap:
    """Catch a pointed-at place.

    Args:
        at: The pointer, plan inches.
        scale: Pixels an inch.
        targets: What is drawn already.
        base: The corner the next side starts from, if any.
        last: The side that ends at ``base``, if any.
        start: The first side of the line being drawn: its far end can be caught square to it, to close a rectangle.
        grid: Grid spacing in inches; 0 for none.
        tolerance_px: How near, in screen pixels.
    """
    reach = tolerance_px / scale
    caught = _nearest(at, targets.corners, reach)
    if caught is not None:
        return Snap(caught, "corner")
    middle = _nearest(at, [_middle(edge) for edge in targets.edges], reach)
    if middle is not None:
        return Snap(on_lattice(middle), "middle")
    rays = [ray for ray in _rays(targets, base, last, start) if _distance(at, ray) <= reach]
    if rays:
        return _crossing(at, rays, reach) or _along(at, min(rays, key=lambda r: (r.rank, _distance(at, r))), grid)
    if grid > 0.0:
        return Snap(on_lattice((round(at[0] / grid) * grid, round(at[1] / grid) * grid)), "grid")
    return Snap(on_lattice(at))


def unit(start: Point2, end: Point2) -> Point2 | None:
    """Unit vector from one point to the other; None where they are the same."""
    dx, dy = end[0] - start[0], end[1] - start[1]
    length = math.hypot(dx, dy)
    return (dx / length, dy / length) if length > 1e-9 else None


def left_of(direction: Point2) -> Point2:
    """The direction a quarter turn anticlockwise."""
    return -direction[1], direction[0]


def to_segment(point: Point2, segment: Segment) -> float:
    """Distance of a point from a segment, inches."""
    direction = unit(*segment)
    if direction is None:
        return math.dist(point, segment[0])
    along = min(max(_dot(_minus(point, segment[0]), direction), 0.0), math.dist(*segment))
    return math.dist(point, _at(segment[0], direction, along))


def _rays(targets: Targets, base: Point2 | None, last: Segment | None, start: Segment | None) -> list[Ray]:
    rays: list[Ray] = []
    if base is not None:
        rays += _from_base(base, last, targets.edges)
    if start is not None and (direction := unit(*start)) is not None:
        rays.append(Ray(start[0], left_of(direction), "square to", 3))
    for edge in targets.edges:
        direction = unit(*edge)
        if direction is not None:
            rays.append(Ray(edge[0], direction, "edge", 4, math.dist(*edge)))
            rays.append(Ray(edge[1], direction, "extension", 5))
    return rays


def _from_base(base: Point2, last: Segment | None, edges: Iterable[Segment]) -> list[Ray]:
    """Lines through the last corner, each direction once under its strongest name."""
    named: list[tuple[Point2, str, int]] = []
    turned = unit(*last) if last is not None else None
    if turned is not None:
        named += [(left_of(turned), "square to", 0), (turned, "extension", 0)]
    named += [((1.0, 0.0), "square to grid", 1), ((0.0, 1.0), "square to grid", 1)]
    for edge in edges:
        direction = unit(*edge)
        if direction is not None:
            named += [(direction, "parallel", 2), (left_of(direction), "square to", 2)]
    rays: list[Ray] = []
    for direction, word, rank in named:
        if all(abs(_cross(direction, ray.direction)) > _PARALLEL for ray in rays):
            rays.append(Ray(base, direction, word, rank))
    return rays


def _crossing(at: Point2, rays: Sequence[Ray], reach: float) -> Snap | None:
    """The strongest crossing of two lines near the pointer."""
    for a, b in combinations(sorted(rays, key=lambda ray: ray.rank), 2):
        cross = _cross(a.direction, b.direction)
        if abs(cross) < 1e-3:
            continue
        along = _cross(_minus(b.origin, a.origin), b.direction) / cross
        point = _at(a.origin, a.direction, along)
        if math.dist(at, point) <= 1.5 * reach and _within(point, a) and _within(point, b):
            exact = on_lattice(point)
            words = a.word if a.word == b.word else f"{a.word}, {b.word}"
            guides = tuple((ray.origin, exact) for ray in (a, b) if ray.bound is None)
            return Snap(exact, words, guides)
    return None


def _along(at: Point2, ray: Ray, grid: float) -> Snap:
    """The pointer brought onto a line, at a whole number of grid steps from its origin."""
    along = _dot(_minus(at, ray.origin), ray.direction)
    if grid > 0.0:
        along = round(along / grid) * grid
    if ray.bound is not None:
        along = min(max(along, 0.0), ray.bound)
    point = on_lattice(_at(ray.origin, ray.direction, along))
    return Snap(point, ray.word, () if ray.bound is not None else ((ray.origin, point),))


def _distance(at: Point2, ray: Ray) -> float:
    if ray.bound is not None:
        return to_segment(at, (ray.origin, _at(ray.origin, ray.direction, ray.bound)))
    return abs(_cross(ray.direction, _minus(at, ray.origin)))


def _within(point: Point2, ray: Ray) -> bool:
    if ray.bound is None:
        return True
    return -1e-6 <= _dot(_minus(point, ray.origin), ray.direction) <= ray.bound + 1e-6


def _nearest(at: Point2, points: Sequence[Point2], reach: float) -> Point2 | None:
    best = min(points, key=lambda point: math.dist(at, point), default=None)
    return best if best is not None and math.dist(at, best) <= reach else None


def _middle(edge: Segment) -> Point2:
    return (edge[0][0] + edge[1][0]) / 2.0, (edge[0][1] + edge[1][1]) / 2.0


def _at(origin: Point2, direction: Point2, along: float) -> Point2:
    return origin[0] + direction[0] * along, origin[1] + direction[1] * along


def _minus(a: Point2, b: Point2) -> Point2:
    return a[0] - b[0], a[1] - b[1]


def _dot(a: Point2, b: Point2) -> float:
    return a[0] * b[0] + a[1] * b[1]


def _cross(a: Point2, b: Point2) -> float:
    return a[0] * b[1] - a[1] * b[0]
