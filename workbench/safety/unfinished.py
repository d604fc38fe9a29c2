"""While a roof is not sheathed: its bare rafters, and the leading edge of what is laid. Inches, plane axes."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence

from shapely import LineString, box
from shapely.geometry.base import BaseGeometry

from workbench.job.safety import Safety
from workbench.roof.model import Plane, Point2
from workbench.safety.areas import plane_shape, to_area
from workbench.safety.model import FALL_WORDS, Fall, FallKind, Ring
from workbench.safety.site import SAME_IN, Site, judged
from workbench.sheathing.model import Row


def leading_edge_in(safety: Safety, rows: Sequence[Row]) -> float | None:
    """How far up the slope a plane is sheathed: -inf while it is bare, None when nothing is left to lay."""
    if safety.stage == "sheathed":
        return None
    if safety.stage == "framed" or not rows or safety.rows_laid <= 0:
        return -math.inf
    if safety.rows_laid >= len(rows):
        return None
    row = rows[safety.rows_laid - 1]
    return row.bottom_in + row.width_in


def unfinished_falls(site: Site, plane: Plane, number: int) -> Iterator[Fall]:
    """The leading edge and the bare rafters of a plane at the stage of work looked at.

    Args:
        site: What falls are judged by.
        plane: The plane.
        number: Falls counted on it before.
    """
    y = leading_edge_in(site.safety, site.rows.get(plane.id, ()))
    if y is None:
        return
    shape = plane_shape(plane)
    left, low, right, top = shape.bounds
    bare = shape.intersection(box(left - 1.0, max(y, low - 1.0), right + 1.0, top + 1.0)) if y > low else shape
    for start, end in _level_parts(shape, left, right, y) if y > low + SAME_IN else []:
        number += 1
        yield _fall(site, plane, "leading_edge", number, start, end, ())
    for rings in to_area(bare):
        number += 1
        highest = max(rings[0], key=lambda corner: corner[1])
        lowest = min(rings[0], key=lambda corner: corner[1])
        yield _fall(site, plane, "bare_rafters", number, lowest, highest, rings[0])


def _level_parts(shape: BaseGeometry, left: float, right: float, y: float) -> list[tuple[Point2, Point2]]:
    cut = shape.intersection(LineString([(left - 1.0, y), (right + 1.0, y)]))
    lines = [part for part in getattr(cut, "geoms", [cut]) if isinstance(part, LineString) and part.length > SAME_IN]
    spans = [sorted((float(x), float(y)) for x, y in line.coords) for line in lines]
    return sorted((span[0], span[-1]) for span in spans)


def _fall(site: Site, plane: Plane, kind: FallKind, number: int, start: Point2, end: Point2, ring: Ring) -> Fall:
    a, b = plane.to_space(start), plane.to_space(end)
    drops = sorted(point[2] - site.safety.floor_in for point in (a, b))
    trigger, needed = judged(site.rules, plane.tangent, kind, drops[1])
    name = f"{FALL_WORDS[kind]} of {plane.name}"
    return Fall(f"{plane.id}#{number}", plane.id, kind, name, a, b, ring, "", drops[0], drops[1], trigger, needed)
