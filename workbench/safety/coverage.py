"""What the ropes serve together, the strips along eaves they can't, and two people in two halves. Inches."""

from __future__ import annotations

import math
from collections.abc import Sequence

from shapely import LineString
from shapely.geometry.base import BaseGeometry
from shapely.ops import unary_union

from workbench.job.safety import Access, ServedFrom
from workbench.roof.model import Plane, Point2
from workbench.rules.fall_protection import RuleSet
from workbench.safety.anchors import stands_on
from workbench.safety.areas import from_area, to_area
from workbench.safety.model import AnchorPlan, Fall, Halves, PlaneSafety, Strip

_SAMPLE_IN = 12.0
_SAME_IN = 0.1

ACCESS_WORDS: dict[Access, str] = {
    "ladder": "from a ladder",
    "scaffold": "from a scaffold",
    "deck": "from a guarded deck",
}


def plane_safety(
    plane: Plane,
    shape: BaseGeometry,
    anchors: Sequence[AnchorPlan],
    falls: Sequence[Fall],
    served_from: Sequence[ServedFrom],
    rules: RuleSet,
) -> PlaneSafety:
    """What the anchors that may be used serve on a plane."""
    parts = [from_area(area) for anchor in anchors if anchor.built for name, area in anchor.served if name == plane.id]
    steep = rules.is_steep(plane.tangent)
    served = unary_union(parts).intersection(shape)
    rest = shape.difference(served)
    share = served.area / shape.area if shape.area > 0.0 else 0.0
    names = {known.edge: ACCESS_WORDS[known.by] for known in served_from}
    strips = tuple(
        _strip(plane, shape, served, fall, names.get(fall.drawn, ""))
        for fall in falls
        if parts and fall.plane == plane.id and fall.kind == "eave"
    )
    return PlaneSafety(plane.id, steep, to_area(served), to_area(rest), share, strips)


def _strip(plane: Plane, shape: BaseGeometry, served: BaseGeometry, fall: Fall, served_from: str) -> Strip:
    start, end = plane.to_plane(fall.start), plane.to_plane(fall.end)
    count = max(2, math.ceil(math.dist(start, end) / _SAMPLE_IN))
    depths: list[float] = []
    reached: list[float] = []
    for k in range(count):
        share = (k + 0.5) / count
        foot = (start[0] + share * (end[0] - start[0]), start[1] + share * (end[1] - start[1]))
        whole = _first_off(shape, foot)
        first = _first_on(served, foot, whole)
        depths.append(whole if first is None else first)
        reached += [] if first is None else [first]
    return Strip(fall, min(reached, default=max(depths)), max(depths), bool(reached), served_from)


def _first_off(shape: BaseGeometry, foot: Point2) -> float:
    """Length of the plane up the slope from a point of an eave."""
    line = shape.intersection(LineString([foot, (foot[0], foot[1] + 1e5)]))
    return max((line.bounds[3] - foot[1] if not line.is_empty else 0.0), 0.0)


def _first_on(served: BaseGeometry, foot: Point2, length: float) -> float | None:
    """How far up the slope from a point of an eave the first served point lies; None where there is none."""
    line = served.intersection(LineString([foot, (foot[0], foot[1] + length)]))
    return None if line.is_empty else max(line.bounds[1] - foot[1], 0.0)


def halves(planes: Sequence[Plane], anchors: Sequence[AnchorPlan]) -> tuple[Halves, ...]:
    """Each plane that anchors stand on, split at its middle between two people."""
    found: list[Halves] = []
    for plane in planes:
        mine = [
            (anchor, plane.to_plane(anchor.space)[0]) for anchor in anchors if anchor.built and stands_on(anchor, plane)
        ]
        if not mine:
            continue
        xs = [corner[0] for corner in plane.polygon]
        split = (min(xs) + max(xs)) / 2.0
        left = tuple(anchor for anchor, x in mine if x < split - _SAME_IN)
        right = tuple(anchor for anchor, x in mine if x >= split - _SAME_IN)
        crossing = tuple(
            (a.id, b.id) for a in left for b in right if math.dist(a.space, b.space) < a.set_in + b.set_in - _SAME_IN
        )
        found.append(Halves(plane.id, split, tuple(a.id for a in left), tuple(b.id for b in right), crossing))
    return tuple(found)
