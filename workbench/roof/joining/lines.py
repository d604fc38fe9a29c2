"""The lines along which anything can change: edges, building lines, openings, and where two planes are level."""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator

from workbench.roof.joining.geometry import Segment, Shapes
from workbench.roof.joining.noding import NEAR_IN
from workbench.roof.joining.scene import SAME_SLOPE, Layer, Scene
from workbench.roof.model import Point2

_PAST_IN = 3.0 * NEAR_IN  # a line is drawn this far past where it ends, so that it surely meets what bounds it


def scene_lines(scene: Scene) -> tuple[list[Segment], list[Segment]]:
    """All segments that bound cells, inches: those with ends of their own, and those that end where they meet one."""
    firm: dict[Segment, None] = {}
    for layer in scene.layers:
        _add(firm, layer.sides)
    for outline in scene.outlines:
        _add(firm, _ring_sides(outline))
    for ring in scene.footprints:
        if ring is not None:
            _add(firm, _ring_sides(ring))
    loose: dict[Segment, None] = {}
    alike: set[int] = set()
    for first, second in _meeting(scene):
        _add(loose, _level_line(first, second))
        if first.is_one_plane_with(second):
            alike.update((first.wing, second.wing))
    for wing in sorted(alike):
        _add(loose, _run_out(scene, wing))
    return list(firm), list(loose)


def _add(lines: dict[Segment, None], segments: Iterable[Segment]) -> None:
    for ax, ay, bx, by in segments:
        if math.hypot(bx - ax, by - ay) > NEAR_IN and (bx, by, ax, ay) not in lines:
            lines[ax, ay, bx, by] = None


def _ring_sides(ring: tuple[Point2, ...]) -> Iterator[Segment]:
    return ((*a, *b) for a, b in zip(ring, ring[1:] + ring[:1], strict=True))


def _meeting(scene: Scene) -> Iterator[tuple[Layer, Layer]]:
    """Pairs of planes of two wings that overlap in plan."""
    touching = Shapes([layer.ring for layer in scene.layers]).touching()
    pairs = ((scene.layers[i], scene.layers[j]) for i, j in touching)
    return ((first, second) for first, second in pairs if first.wing != second.wing)


def _run_out(scene: Scene, wing: int) -> Iterator[Segment]:
    """The sides of a building line run on through the overhangs: there two wings with one plane part."""
    points = [point for layer in scene.layers if layer.wing == wing for point in layer.ring]
    outline = scene.outlines[wing]
    reach = max(
        max(abs(ends(p[axis] for p in points) - ends(p[axis] for p in outline)) for axis in (0, 1))
        for ends in (min, max)
    )
    for ax, ay, bx, by in _ring_sides(outline) if reach > 0.0 else ():
        length = math.hypot(bx - ax, by - ay)
        dx, dy = (bx - ax) / length * 2.0 * reach, (by - ay) / length * 2.0 * reach
        yield ax - dx, ay - dy, bx + dx, by + dy


def _level_line(first: Layer, second: Layer) -> Iterator[Segment]:
    """Where two planes have one height, as far as both reach along that line."""
    nx, ny = first.slope_x - second.slope_x, first.slope_y - second.slope_y
    steep = math.hypot(nx, ny)
    if steep < SAME_SLOPE:
        return
    nx, ny = nx / steep, ny / steep
    x, y = first.ring[0]
    off = (first.height((x, y)) - second.height((x, y))) / steep
    place, way = (x - off * nx, y - off * ny), (-ny, nx)
    one, other = _reach(first.ring, place, way), _reach(second.ring, place, way)
    if one is None or other is None:
        return
    low, high = max(one[0], other[0]) - _PAST_IN, min(one[1], other[1]) + _PAST_IN
    if low < high:
        yield (*_along(place, way, low), *_along(place, way, high))


def _reach(ring: tuple[Point2, ...], place: Point2, way: Point2) -> tuple[float, float] | None:
    """From where to where along a line a ring reaches; None if the line passes it."""
    spots = [(dx * way[0] + dy * way[1], dx * way[1] - dy * way[0]) for dx, dy in _from(place, ring)]
    met = [along for along, off in spots if abs(off) <= _PAST_IN]
    for (a, off_a), (b, off_b) in zip(spots, spots[1:] + spots[:1], strict=True):
        if off_a * off_b < 0.0:
            met.append(a + (b - a) * off_a / (off_a - off_b))
    return (min(met), max(met)) if met else None


def _from(place: Point2, ring: tuple[Point2, ...]) -> list[Point2]:
    return [(x - place[0], y - place[1]) for x, y in ring]


def _along(place: Point2, way: Point2, distance: float) -> Point2:
    return place[0] + distance * way[0], place[1] + distance * way[1]
