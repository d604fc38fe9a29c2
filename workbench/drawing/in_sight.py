"""What of a plane can be seen from above where another roof stands on it: a dormer's, an overframed wing's. Inches."""

from __future__ import annotations

from collections.abc import Sequence
from functools import lru_cache
from typing import Any

import shapely

from workbench.drawing.shapes import keyholed
from workbench.roof.model import Plane, Point2

_library: Any = shapely
_SEEN_SQIN = 36.0

Ring = tuple[Point2, ...]


def rings_in_sight(planes: Sequence[Plane]) -> dict[str, Ring]:
    """For each plane that runs on below others, the ring in plan of its largest part that none of them covers.

    Planes with nothing above them are left out, as is one of which nothing is in sight.
    """
    rings = [_ring(plane) for plane in planes]
    if not rings:
        return {}
    lows, highs = ([[end(c[axis] for c in ring) for axis in (0, 1)] for ring in rings] for end in (min, max))
    columns: list[list[float]] = [[row[axis] for row in ends] for ends in (lows, highs) for axis in (0, 1)]
    boxes = _library.box(*columns)
    pairs: list[tuple[int, int]] = _library.STRtree(boxes).query(boxes).T.tolist()
    over: dict[int, list[int]] = {}
    for low, high in pairs:
        if planes[low].wing != planes[high].wing and _stands_over(planes[high], planes[low], rings[high], rings[low]):
            over.setdefault(low, []).append(high)
    found: dict[str, Ring] = {}
    for low, above in over.items():
        ring = _in_sight(rings[low], tuple(rings[high] for high in sorted(above)))
        if ring is not None:
            found[planes[low].id] = ring
    return found


def _stands_over(high: Plane, low: Plane, upper: Ring, lower: Ring) -> bool:
    """Whether one plane covers a part of another: a dormer's with its overhang, an overframed wing's."""
    spot = _shared_spot(*sorted((upper, lower)))  # the same for both orders, and found once
    if spot is None:
        return False
    heights = [plane.to_space(plane.to_plane(spot))[2] for plane in (high, low)]
    return heights[0] > heights[1]


@lru_cache(maxsize=4096)
def _shared_spot(first: Ring, second: Ring) -> Point2 | None:
    """A point in both rings, or None where they share less than can be seen."""
    shared = _shape(first).intersection(_shape(second))
    if shared.area < _SEEN_SQIN:
        return None
    spot = shared.representative_point()
    return float(spot.x), float(spot.y)


@lru_cache(maxsize=1024)
def _shape(ring: Ring) -> Any:
    return _library.polygons(ring).buffer(0)


def _ring(plane: Plane) -> Ring:
    outline = tuple((corner[0], corner[1]) for corner in plane.corners)
    return keyholed(outline, [[(corner[0], corner[1]) for corner in ring] for ring in plane.openings])


@lru_cache(maxsize=256)
def _in_sight(ring: Ring, above: tuple[Ring, ...]) -> Ring | None:
    left = _shape(ring)
    for other in above:
        left = left.difference(_shape(other))
    parts = [part for part in _library.get_parts(left) if part.geom_type == "Polygon" and part.area > 0.0]
    if not parts:
        return None
    largest = max(parts, key=lambda part: part.area)
    outline, *holes = [
        tuple((float(x), float(y)) for x, y in part.coords[:-1]) for part in (largest.exterior, *largest.interiors)
    ]
    return keyholed(outline, [list(hole) for hole in holes])
