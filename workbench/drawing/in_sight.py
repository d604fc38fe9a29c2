"""What of a plane can be seen from above where another roof stands on it: a dormer's, an overframed wing's. Inches."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import Any

import numpy as np
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
    if len({plane.wing for plane in planes}) < 2:
        return {}
    shapes = _library.make_valid(np.array([_shape(plane) for plane in planes]))
    over: dict[int, list[int]] = {}
    for high, low in _lapping(planes, shapes):
        over.setdefault(low, []).append(high)
    found: dict[str, Ring] = {}
    for low, above in sorted(over.items()):
        ring = _largest(_library.difference(shapes[low], _library.union_all(shapes[above])))
        if ring is not None:
            found[planes[low].id] = ring
    return found


def _shape(plane: Plane) -> Any:
    outline, *holes = [[corner[:2] for corner in ring] for ring in (plane.corners, *plane.openings)]
    return (
        _library.polygons(outline, [_library.linearrings(hole) for hole in holes])
        if holes
        else _library.polygons(outline)
    )


def _lapping(planes: Sequence[Plane], shapes: Any) -> Iterator[tuple[int, int]]:
    """Pairs of planes of two wings, the upper one first, that lie one over the other by more than can be overlooked."""
    query: list[tuple[int, int]] = _library.STRtree(shapes).query(shapes, predicate="intersects").T.tolist()
    pairs = sorted((i, j) for i, j in query if i < j and planes[i].wing != planes[j].wing)
    if not pairs:
        return
    first, second = (shapes[[pair[k] for pair in pairs]] for k in (0, 1))
    shared = _library.intersection(first, second)
    areas: list[float] = _library.area(shared).tolist()
    for (i, j), part, area in zip(pairs, shared, areas, strict=True):
        if area < _SEEN_SQIN:
            continue
        spot = part.representative_point()
        place = float(spot.x), float(spot.y)
        heights = [planes[k].to_space(planes[k].to_plane(place))[2] for k in (i, j)]
        if heights[0] != heights[1]:
            yield (i, j) if heights[0] > heights[1] else (j, i)


def _largest(left: Any) -> Ring | None:
    """The ring round the largest area of some geometry."""
    parts = [part for part in _library.get_parts(left) if part.geom_type == "Polygon" and part.area > 0.0]
    if not parts:
        return None
    largest = max(parts, key=lambda part: part.area)
    outline, *holes = [
        tuple((float(x), float(y)) for x, y in part.coords[:-1]) for part in (largest.exterior, *largest.interiors)
    ]
    return keyholed(outline, [list(hole) for hole in holes])
