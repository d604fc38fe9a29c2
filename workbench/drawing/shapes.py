"""Plane figures that every drawing needs: insides, middles, cuts. Rings are open tuples of corners, either turn."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from functools import lru_cache
from typing import Any

import numpy as np
import shapely

from workbench.roof.model import Point2

Ring = Sequence[Point2]
_TINY = 1e-9
_library: Any = shapely
_numbers: Any = np


def sides(ring: Ring) -> Iterator[tuple[Point2, Point2]]:
    """Every side of a ring, from corner i to corner i + 1."""
    for i, start in enumerate(ring):
        yield start, ring[(i + 1) % len(ring)]


def box(ring: Ring) -> tuple[float, float, float, float]:
    """Least and greatest x and y: (x0, y0, x1, y1)."""
    xs, ys = [x for x, _ in ring], [y for _, y in ring]
    return min(xs), min(ys), max(xs), max(ys)


def area(ring: Ring) -> float:
    """Signed area, positive anticlockwise, in the square of the corners' unit."""
    return sum(a[0] * b[1] - b[0] * a[1] for a, b in sides(ring)) / 2.0


def middle(start: Point2, end: Point2) -> Point2:
    """The point half way."""
    return (start[0] + end[0]) / 2.0, (start[1] + end[1]) / 2.0


def direction_deg(start: Point2, end: Point2) -> float:
    """Anticlockwise angle of a line from the x axis, degrees."""
    return math.degrees(math.atan2(end[1] - start[1], end[0] - start[0]))


def centroid(ring: Ring) -> Point2:
    """Centre of gravity of the inside; the mean corner where there is no inside."""
    size = area(ring)
    if abs(size) < _TINY:
        return sum(x for x, _ in ring) / len(ring), sum(y for _, y in ring) / len(ring)
    x = y = 0.0
    for a, b in sides(ring):
        part = a[0] * b[1] - b[0] * a[1]
        x += (a[0] + b[0]) * part
        y += (a[1] + b[1]) * part
    return x / (6.0 * size), y / (6.0 * size)


def contains(ring: Ring, point: Point2) -> bool:
    """Whether the point lies inside (points on the outline may go either way)."""
    x, y = point
    inside = False
    for (x0, y0), (x1, y1) in sides(ring):
        if (y0 > y) != (y1 > y) and x < x0 + (y - y0) * (x1 - x0) / (y1 - y0):
            inside = not inside
    return inside


def distance_to_line(point: Point2, start: Point2, end: Point2) -> float:
    """Distance from a point to the nearest point of a line from start to end."""
    dx, dy = end[0] - start[0], end[1] - start[1]
    length_2 = dx * dx + dy * dy
    part = 0.0 if length_2 < _TINY else ((point[0] - start[0]) * dx + (point[1] - start[1]) * dy) / length_2
    part = min(1.0, max(0.0, part))
    return math.hypot(point[0] - start[0] - part * dx, point[1] - start[1] - part * dy)


def distance_to_outline(ring: Ring, point: Point2) -> float:
    """Distance from a point to the nearest side."""
    return min(distance_to_line(point, a, b) for a, b in sides(ring))


def visual_centre(ring: Ring, steps: int = 12) -> Point2:
    """A point well inside: far from the outline, and of those the one nearest to the centre of gravity.

    A convex ring's own centre of gravity is taken at once, as this is asked for on every frame of a drag.
    """
    if is_convex(ring):
        return centroid(ring)
    return _roomiest(tuple(ring), steps)


def is_convex(ring: Ring) -> bool:
    """Whether the ring turns one way only."""
    count = len(ring)
    turns = [
        (b[0] - a[0]) * (c[1] - b[1]) - (b[1] - a[1]) * (c[0] - b[0])
        for a, b, c in ((ring[i - 1], ring[i], ring[(i + 1) % count]) for i in range(count))
    ]
    return min(turns) >= -_TINY or max(turns) <= _TINY


@lru_cache(maxsize=1024)
def _roomiest(ring: tuple[Point2, ...], steps: int) -> Point2:
    """Of the heart and a grid of points the one that lies best; all at once, as a drag asks for it on every frame."""
    x0, y0, x1, y1 = box(ring)
    heart = centroid(ring)
    reach = max(x1 - x0, y1 - y0, _TINY)
    part = (np.arange(steps) + 0.5) / steps
    xs = np.concatenate(((heart[0],), np.repeat(x0 + (x1 - x0) * part, steps)))
    ys = np.concatenate(((heart[1],), np.tile(y0 + (y1 - y0) * part, steps)))
    area_of = _library.polygons(ring)
    _library.prepare(area_of)
    inside = _library.contains_xy(area_of, xs, ys)
    if not inside.any():
        return heart
    xs, ys = xs[inside], ys[inside]
    start = np.array(ring)
    way = np.roll(start, -1, axis=0) - start
    (ax, ay), (dx, dy) = start.T[:, :, None], way.T[:, :, None]
    off_x, off_y = xs - ax, ys - ay
    along = np.clip((off_x * dx + off_y * dy) / np.maximum(dx * dx + dy * dy, _TINY), 0.0, 1.0)
    off_x, off_y = off_x - along * dx, off_y - along * dy
    room: Any = np.sqrt((off_x * off_x + off_y * off_y).min(axis=0))
    # Half a step of room is not worth moving far from the heart for.
    score: Any = (room - 0.25 * np.hypot(xs - heart[0], ys - heart[1])) / reach
    best = int(_numbers.argmax(_numbers.round(score, 9)))
    return float(xs[best]), float(ys[best])


def keyholed(ring: Ring, holes: Sequence[Ring]) -> tuple[Point2, ...]:
    """A ring with its holes as one ring: each hole is led to by a slit without width, walked there and back.

    Whatever fills it by odd and even crossings, or measures its area, gets the ring without the holes.

    Args:
        ring: Outline, anticlockwise.
        holes: Outlines of the holes, clockwise.
    """
    merged = list(ring)
    for hole in holes:
        i, j = min(
            ((i, j) for i in range(len(merged)) for j in range(len(hole))),
            key=lambda pair: math.dist(merged[pair[0]], hole[pair[1]]),
        )
        merged[i + 1 : i + 1] = [*hole[j:], *hole[: j + 1], merged[i]]
    return tuple(merged)


def spans_at_x(ring: Ring, x: float) -> list[tuple[float, float]]:
    """The stretches of y that lie inside on the upright line at x, from the bottom up."""
    return _spans([(b, a) for a, b in ring], x)


def spans_at_y(ring: Ring, y: float) -> list[tuple[float, float]]:
    """The stretches of x that lie inside on the level line at y, from left to right."""
    return _spans(ring, y)


def _spans(ring: Ring, level: float) -> list[tuple[float, float]]:
    # Corners exactly on the line are counted with the side above it, so that every crossing is met once.
    hits = sorted(
        a[0] + (level - a[1]) * (b[0] - a[0]) / (b[1] - a[1])
        for a, b in sides(ring)
        if (a[1] > level) != (b[1] > level)
    )
    return [(low, high) for low, high in zip(hits[::2], hits[1::2], strict=False) if high - low > 1e-6]


def clipped_to_x(ring: Ring, x0: float, x1: float) -> tuple[Point2, ...]:
    """The part of a ring between two upright lines (convex or nearly so at the lines), empty where there is none."""
    part = _clipped(list(ring), x0, keep_greater=True)
    return tuple(_clipped(part, x1, keep_greater=False))


def _clipped(ring: list[Point2], x: float, *, keep_greater: bool) -> list[Point2]:
    kept: list[Point2] = []
    for a, b in sides(ring):
        a_in = a[0] >= x if keep_greater else a[0] <= x
        b_in = b[0] >= x if keep_greater else b[0] <= x
        if a_in:
            kept.append(a)
        if a_in != b_in:
            kept.append((x, a[1] + (x - a[0]) * (b[1] - a[1]) / (b[0] - a[0])))
    return kept
