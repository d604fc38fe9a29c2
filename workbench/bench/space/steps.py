"""Walls in mid-roof: over the foot of a gable that stands on a hip, and at steps between planes of one wing. Inches."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence

from workbench.roof.model import Plane, PlaneEdge, Point2, Point3

_ON_LINE_IN = 0.01
_LEAST_IN = 0.25
_UNDER_IN = 2.0  # the top stays that much under the rafters' top edges, so that its line is not in the roof

Upright = tuple[tuple[Point3, Point3], tuple[Point3, Point3]]
"""Foot and top of a wall, both from left to right as seen from the side of its foot."""


def mid_roof_walls(planes: Sequence[Plane]) -> Iterator[tuple[str, Upright]]:
    """The walls between planes of one wing that end over one another, with the drawn edge of the lower plane."""
    free = [(plane, edge) for plane in planes for edge in plane.edges if _ends_alone(edge)]
    for plane, foot in free:
        if foot.kind not in ("wall", "step"):
            continue
        for other, top in free:
            if other is not plane and (upright := _upright(foot, top)) is not None:
                yield plane.drawn, upright


def _ends_alone(edge: PlaneEdge) -> bool:
    return edge.neighbour is None and edge.drawn is None and edge.opening is None


def _upright(foot: PlaneEdge, top: PlaneEdge) -> Upright | None:
    """The wall between two edges that run over one another, as far as both reach; None where there is none."""
    # The foot keeps its own plane to its left: seen from that plane it runs from right to left.
    begin, end = (foot.end[0], foot.end[1]), (foot.start[0], foot.start[1])
    length = math.dist(begin, end)
    if length < _LEAST_IN:
        return None
    spots = [_along(begin, end, point) for point in (top.start, top.end)]
    if any(abs(off) > _ON_LINE_IN for _, off in spots):
        return None
    low, high = max(0.0, min(s for s, _ in spots)), min(length, max(s for s, _ in spots))
    if high - low < _LEAST_IN:
        return None
    at = [_on(foot.end, foot.start, s / length) for s in (low, high)]
    (first, _), (second, _) = spots
    over = [_on(top.start, top.end, (s - first) / (second - first)) for s in (low, high)]
    rises = [b[2] - a[2] for a, b in zip(at, over, strict=True)]
    if max(rises) < _LEAST_IN or min(rises) < -_LEAST_IN:
        return None
    tops = [(x, y, max(z - _UNDER_IN, a[2])) for (x, y, z), a in zip(over, at, strict=True)]
    return (at[0], at[1]), (tops[0], tops[1])


def _along(begin: Point2, end: Point2, point: Point3) -> Point2:
    """How far along a line in plan a point lies, and how far off it."""
    length = math.dist(begin, end)
    ux, uy = (end[0] - begin[0]) / length, (end[1] - begin[1]) / length
    dx, dy = point[0] - begin[0], point[1] - begin[1]
    return dx * ux + dy * uy, dx * uy - dy * ux


def _on(start: Point3, end: Point3, share: float) -> Point3:
    x, y, z = (a + share * (b - a) for a, b in zip(start, end, strict=True))
    return x, y, z
