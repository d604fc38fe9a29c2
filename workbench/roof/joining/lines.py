"""The lines along which anything can change: edges, building lines, openings, and where two planes are level."""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator

from workbench.roof.joining.cells import LATTICE_IN
from workbench.roof.joining.geometry import Segment, Shapes
from workbench.roof.joining.scene import EQUAL_IN, Layer, Scene
from workbench.roof.model import Point2

_PARALLEL = 1e-9  # two planes whose slopes differ by less never meet in a line
_REACH_IN = 3.0 * LATTICE_IN  # a line is drawn this far past where it ends, so that it surely crosses


def scene_lines(scene: Scene) -> list[Segment]:
    """All segments that bound cells. Inches."""
    lines: dict[Segment, None] = {}
    for layer in scene.layers:
        _add(lines, layer.sides)
    for outline in scene.outlines:
        _add(lines, _ring_sides(outline))
    for ring in scene.footprints:
        if ring is not None:
            _add(lines, _ring_sides(ring))
    shapes = Shapes([layer.ring for layer in scene.layers])
    alike: set[int] = set()
    for first, second in _meeting(scene, shapes):
        _add(lines, _level_line(first, second, shapes))
        if _one_plane(first, second):
            alike.update((first.wing, second.wing))
    for wing in sorted(alike):
        _add(lines, _run_out(scene, wing))
    return list(lines)


def _add(lines: dict[Segment, None], segments: Iterable[Segment]) -> None:
    for ax, ay, bx, by in segments:
        if math.hypot(bx - ax, by - ay) > LATTICE_IN and (bx, by, ax, ay) not in lines:
            lines[ax, ay, bx, by] = None


def _ring_sides(ring: tuple[Point2, ...]) -> Iterator[Segment]:
    return ((*a, *b) for a, b in zip(ring, ring[1:] + ring[:1], strict=True))


def _meeting(scene: Scene, shapes: Shapes) -> Iterator[tuple[Layer, Layer]]:
    """Pairs of planes of two wings that overlap in plan."""
    pairs = ((scene.layers[i], scene.layers[j]) for i, j in shapes.touching())
    return ((first, second) for first, second in pairs if first.wing != second.wing)


def _one_plane(first: Layer, second: Layer) -> bool:
    apart = math.hypot(first.slope_x - second.slope_x, first.slope_y - second.slope_y)
    place = first.ring[0]
    return apart < _PARALLEL and abs(first.height(place) - second.height(place)) < EQUAL_IN


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


def _level_line(first: Layer, second: Layer, shapes: Shapes) -> Iterator[Segment]:
    """Where two planes have one height, within both."""
    nx, ny = first.slope_x - second.slope_x, first.slope_y - second.slope_y
    steep = math.hypot(nx, ny)
    if steep < _PARALLEL:
        return
    left, low, right, high = _shared_box(first, second)
    x, y = (left + right) / 2.0, (low + high) / 2.0
    off = (first.height((x, y)) - second.height((x, y))) / steep
    half = math.hypot(right - left, high - low) / 2.0 + 1.0
    if abs(off) > half:
        return
    ux, uy = -ny / steep, nx / steep
    x, y = x - off * nx / steep, y - off * ny / steep
    line = ((x - half * ux, y - half * uy), (x + half * ux, y + half * uy))
    for part in shapes.inside_both(line, first.number, second.number):
        spans = sorted((px - x) * ux + (py - y) * uy for px, py in part)
        a, b = spans[0] - _REACH_IN, spans[-1] + _REACH_IN
        yield x + a * ux, y + a * uy, x + b * ux, y + b * uy


def _shared_box(first: Layer, second: Layer) -> Segment:
    """Left, low, right, high of what the bounding boxes share."""
    (x0, y0), (x1, y1) = (tuple(zip(*layer.ring, strict=True)) for layer in (first, second))
    return max(min(x0), min(x1)), max(min(y0), min(y1)), min(max(x0), max(x1)), min(max(y0), max(y1))
