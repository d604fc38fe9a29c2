"""The one door to the geometry library: areas between sides, what lies in what, what is near what. Inches.

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


def areas_between(sides: Sequence[tuple[Point2, Point2]]) -> list[tuple[list[list[Point2]], Point2]]:
    """The areas between sides that meet at their ends only; loose ends are left out.

    Returns:
        For each area its rings (the outer one first, without the last corner repeated) and a point inside it.
    """
    lines = _library.linestrings(np.array(sides, dtype=float))
    polygons = _library.get_parts(_library.polygonize(lines))
    insides: list[Point2] = _library.get_coordinates(_library.point_on_surface(polygons)).tolist()
    # Rings come outer one first, area by area.
    rings, owners = _library.get_rings(polygons, return_index=True)
    corners, ring_of = _library.get_coordinates(rings, return_index=True)
    starts: list[int] = np.searchsorted(ring_of, np.arange(len(rings) + 1)).tolist()
    places: list[Point2] = list(zip(corners[:, 0].tolist(), corners[:, 1].tolist(), strict=True))
    areas: list[tuple[list[list[Point2]], Point2]] = [([], (x, y)) for x, y in insides]
    owner_of: list[int] = owners.tolist()
    for ring, owner in enumerate(owner_of):
        areas[owner][0].append(places[starts[ring] : starts[ring + 1] - 1])
    return areas


def distance_to_ring(point: Point2, ring: Ring) -> float:
    """Distance of a point from the nearest side of a ring."""
    return float(_library.distance(_library.points(point), _library.linearrings(ring)))


def is_simple(ring: Ring) -> bool:
    """Whether a ring neither crosses nor touches itself."""
    return bool(_library.is_valid(_library.polygons(ring)))


class Shapes:
    """Areas in plan, each given by its outer ring."""

    def __init__(self, rings: Sequence[Ring]) -> None:
        polygons = _polygons(rings)
        self._shapes = polygons if _library.is_valid(polygons).all() else _library.make_valid(polygons)

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


def _polygons(rings: Sequence[Ring]) -> Any:
    """All rings as areas, made in one call."""
    corners = [corner for ring in rings for corner in ring]
    if not corners:
        return np.array([], dtype=object)
    numbers = np.repeat(np.arange(len(rings)), [len(ring) for ring in rings])
    return _library.polygons(_library.linearrings(np.array(corners, dtype=float), indices=numbers))
