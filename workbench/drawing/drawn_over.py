"""What is drawn over by roofs that come after it: where such a piece can still be named. Plan axes, inches."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from typing import Any

import numpy as np
import shapely

from workbench.drawing.boxes import Extent
from workbench.drawing.shapes import box, contains, keyholed
from workbench.roof.model import Plane, Point2

_library: Any = shapely
_SEEN_SQIN = 36.0

Ring = tuple[Point2, ...]


class DrawnOver:
    """Planes in drawing order that are asked what of a ring on one of them is left to be seen.

    Args:
        planes: In drawing order.
        centre: Where a ring is named.
    """

    def __init__(self, planes: Sequence[Plane], centre: Callable[[Ring], Point2]) -> None:
        self._centre = centre
        wings = list(dict.fromkeys(plane.wing for plane in planes))
        self._rings: dict[str, list[tuple[Extent, Ring]]] = {wing: [] for wing in wings}
        for plane in planes:
            ring = tuple((corner[0], corner[1]) for corner in plane.corners)
            self._rings[plane.wing].append((box(ring), ring))
        lows = np.array([[min(e[k] for e, _ in self._rings[wing]) for k in (0, 1)] for wing in wings])
        highs = np.array([[max(e[k] for e, _ in self._rings[wing]) for k in (2, 3)] for wing in wings])
        self._above: dict[str, Any] = {}
        self._over: dict[str, list[tuple[Extent, Ring]]] = {}
        for i, wing in enumerate(wings):
            meeting = ((lows[i + 1 :] < highs[i]) & (highs[i + 1 :] > lows[i])).all(axis=1)
            self._over[wing] = [
                each for j in np.flatnonzero(meeting).tolist() for each in self._rings[wings[i + 1 + j]]
            ]

    def named_in(self, wing: str, ring: Ring) -> tuple[Point2, Ring] | None:
        """Where a ring of a wing is named, and the part of it that is named there; None where nothing of it shows."""
        at = self._centre(ring)
        over = self._over[wing]
        if not any(_in(at, extent) and contains(other, at) for extent, other in over):
            return at, ring
        if wing not in self._above:
            self._above[wing] = _library.union_all([_shape(other) for _, other in over])
        parts = _library.get_parts(_library.difference(_shape(ring), self._above[wing]))
        left = [part for part in parts if part.geom_type == "Polygon" and part.area >= _SEEN_SQIN]
        if not left:
            return None
        seen = max(left, key=lambda part: part.area)
        outline, *holes = [
            tuple((float(x), float(y)) for x, y in part.coords[:-1]) for part in (seen.exterior, *seen.interiors)
        ]
        shown = keyholed(outline, holes)
        return self._centre(shown), shown


def _in(point: Point2, extent: Extent) -> bool:
    return extent[0] < point[0] < extent[2] and extent[1] < point[1] < extent[3]


def _shape(ring: Ring) -> Any:
    return _library.make_valid(_library.polygons(ring))
