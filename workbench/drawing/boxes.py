"""Blocks of text as turned boxes: whether they meet, lie inside outlines, and where free ones may stand. Points."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence

import numpy as np
from numpy.typing import NDArray

from workbench.drawing.shapes import box, contains, middle, sides
from workbench.roof.model import Point2

Extent = tuple[float, float, float, float]
"""Least x and y, greatest x and y."""


def overlap(a: Sequence[Point2], b: Sequence[Point2]) -> bool:
    """Whether two convex outlines share any inside (separating axes)."""
    for ring in (a, b):
        for (x0, y0), (x1, y1) in sides(ring):
            nx, ny = y0 - y1, x1 - x0
            first = [nx * x + ny * y for x, y in a]
            second = [nx * x + ny * y for x, y in b]
            if max(first) <= min(second) + 1e-9 or max(second) <= min(first) + 1e-9:
                return False
    return True


def text_box(centre: Point2, width: float, height: float, angle_deg: float) -> tuple[Point2, ...]:
    """Corners of a turned block, anticlockwise from its lower left."""
    cos, sin = math.cos(math.radians(angle_deg)), math.sin(math.radians(angle_deg))
    half = ((-width, -height), (width, -height), (width, height), (-width, height))
    return tuple((centre[0] + (x * cos - y * sin) / 2.0, centre[1] + (x * sin + y * cos) / 2.0) for x, y in half)


def readable(angle_deg: float) -> float:
    """The same line's angle turned so that text on it reads from below or from the right."""
    angle = (angle_deg + 180.0) % 360.0 - 180.0
    # A hair of noise must not turn one upright text to the left and its neighbour to the right.
    if angle > 90.0 + 1e-6:
        return angle - 180.0
    return angle + 180.0 if angle <= -90.0 + 1e-6 else angle


def extent_of(a: Point2, b: Point2) -> Extent:
    """The upright box of a line."""
    return min(a[0], b[0]), min(a[1], b[1]), max(a[0], b[0]), max(a[1], b[1])


class Extents:
    """Many upright boxes that are asked which of them another one meets; numbered as they were added."""

    def __init__(self) -> None:
        self._extents: list[Extent] = []
        self._columns: NDArray[np.float64] | None = None

    def add(self, extent: Extent) -> None:
        """Add one."""
        self._extents.append(extent)
        self._columns = None

    def meeting(self, other: Extent) -> list[int]:
        """Numbers of those that share any inside with a box."""
        if not self._extents:
            return []
        if self._columns is None:
            self._columns = np.array(self._extents).T
        left, low, right, high = self._columns
        x0, y0, x1, y1 = other
        hits: list[int] = np.flatnonzero((left < x1) & (right > x0) & (low < y1) & (high > y0)).tolist()
        return hits


def spiral(foot: Point2, width: float, height: float) -> Iterator[Point2]:
    """Middles for a block of this size round a point, nearest first."""
    for reach in range(9, 9 * 15, 9):
        for step in range(16):
            turn = math.tau * ((step + 2) % 16) / 16.0
            yield foot[0] + (reach + width / 2.0) * math.cos(turn), foot[1] + (reach + height / 2.0) * math.sin(turn)


def lies_inside(ring: tuple[Point2, ...], corners: tuple[Point2, ...]) -> bool:
    """Whether a block lies wholly in an outline of any shape."""
    x0, y0, x1, y1 = box(ring)
    if not all(x0 <= x <= x1 and y0 <= y <= y1 for x, y in corners):
        return False
    if not all(contains(ring, corner) for corner in corners):
        return False
    return not any(contains(corners, point) for point in ring) and not any(
        _cross(a, b, c, d) for a, b in sides(ring) for c, d in sides(corners)
    )


def touches(ring: tuple[Point2, ...], corners: tuple[Point2, ...]) -> bool:
    """Whether a block and an outline of any shape share any point."""
    return (
        any(contains(ring, corner) for corner in (*corners, middle(corners[0], corners[2])))
        or any(contains(corners, point) for point in ring)
        or any(_cross(a, b, c, d) for a, b in sides(ring) for c, d in sides(corners))
    )


def _cross(a: Point2, b: Point2, c: Point2, d: Point2) -> bool:
    def side(p: Point2, q: Point2, r: Point2) -> float:
        return (q[0] - p[0]) * (r[1] - p[1]) - (q[1] - p[1]) * (r[0] - p[0])

    return side(a, b, c) * side(a, b, d) < 0.0 and side(c, d, a) * side(c, d, b) < 0.0


def nearest_side(corners: tuple[Point2, ...], foot: Point2) -> Point2:
    """Middle of the block's side that lies nearest to a point."""
    return min((middle(a, b) for a, b in sides(corners)), key=lambda point: math.dist(point, foot))
