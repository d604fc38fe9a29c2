"""The one door to the geometry library: noding, what lies in what, what is near what. Inches.

The library's own types say too little for strict checking, so they stay behind this door.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

import numpy as np
import shapely

from workbench.roof.model import Point2

_library: Any = shapely

Segment = tuple[float, float, float, float]
Ring = Sequence[Point2]


def cut_plan(segments: Sequence[Segment], lattice_in: float) -> list[tuple[list[list[Point2]], Point2]]:
    """The areas between segments, rounded to a lattice.

    Args:
        segments: Any segments; loose ends are left out.
        lattice_in: Spacing of the lattice on which crossings are made.

    Returns:
        For each area its rings (the outer one first, without the last corner repeated) and a point inside it.
    """
    lines = _library.linestrings(np.array(segments, dtype=float).reshape(-1, 2, 2))
    noded = _library.unary_union(lines, grid_size=lattice_in)
    areas: list[tuple[list[list[Point2]], Point2]] = []
    for polygon in _library.get_parts(_library.polygonize(_library.get_parts(noded))):
        rings = [_library.get_coordinates(ring)[:-1].tolist() for ring in (polygon.exterior, *polygon.interiors)]
        x, y = _library.get_coordinates(polygon.point_on_surface())[0].tolist()
        areas.append(([[(float(px), float(py)) for px, py in ring] for ring in rings], (float(x), float(y))))
    return areas


def segments_near(points: Sequence[Point2], segments: Sequence[Segment], near_in: float) -> list[list[int]]:
    """For each point the numbers of the segments within a distance, in order."""
    lines = _library.STRtree(_library.linestrings(np.array(segments, dtype=float).reshape(-1, 2, 2)))
    found = lines.query(_library.points(np.array(points)), predicate="dwithin", distance=near_in)
    near: list[list[int]] = [[] for _ in points]
    for point, line in sorted((int(point), int(line)) for point, line in found.T):
        near[point].append(line)
    return near


def distance_to_ring(point: Point2, ring: Ring) -> float:
    """Distance of a point from the nearest side of a ring."""
    return float(_library.distance(_library.points(point), _library.linearrings(ring)))


def is_simple(ring: Ring) -> bool:
    """Whether a ring neither crosses nor touches itself."""
    return bool(_library.is_valid(_library.polygons(ring)))


class Shapes:
    """Areas in plan, each given by its outer ring."""

    def __init__(self, rings: Sequence[Ring]) -> None:
        polygons = np.array([_library.polygons(ring) for ring in rings])
        self._shapes = _library.make_valid(polygons) if len(rings) else polygons

    def holding(self, points: Sequence[Point2]) -> list[tuple[int, int]]:
        """Pairs (point, area) where the area holds the point, in order."""
        if not len(points) or not len(self._shapes):
            return []
        found = _library.STRtree(self._shapes).query(_library.points(np.array(points)), predicate="intersects")
        return sorted((int(point), int(area)) for point, area in found.T)

    def touching(self) -> list[tuple[int, int]]:
        """Pairs of different areas that touch or overlap, the lower number first, in order."""
        if not len(self._shapes):
            return []
        found = _library.STRtree(self._shapes).query(self._shapes, predicate="intersects")
        return sorted((int(i), int(j)) for i, j in found.T if i < j)

    def inside_both(self, line: tuple[Point2, Point2], first: int, second: int) -> list[list[Point2]]:
        """The parts of a line that lie in two areas."""
        both = self._shapes[first], self._shapes[second]
        left = _library.intersection(_library.intersection(_library.linestrings(line), both[0]), both[1])
        return [
            [(float(x), float(y)) for x, y in _library.get_coordinates(part).tolist()]
            for part in _library.get_parts(left)
            if part.geom_type == "LineString" and not part.is_empty
        ]
