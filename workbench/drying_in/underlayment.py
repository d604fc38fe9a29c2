"""Underlayment in courses from the eave up: single, or doubled on low slopes. Inches, plane axes."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import shapely

from workbench.drying_in.model import Material
from workbench.drying_in.pieces import rolls_for
from workbench.job.drying_in import DryingIn
from workbench.job.screening import Screening
from workbench.measure import Trace, Units
from workbench.roof.model import Plane, Roof
from workbench.rules.coverings import covering
from workbench.rules.dry_in import dry_in_rules

_NOISE = 1e-6


@dataclass(frozen=True, slots=True)
class Courses:
    """The courses on one plane: how many, how far apart their lower edges lie, whether doubled, all their lengths."""

    plane: str
    count: int
    exposure_in: float
    doubled: bool
    length_in: float


def is_doubled(plane: Plane, screening: Screening) -> bool:
    """Whether the covering asks for doubled underlayment on this slope."""
    kind = covering(screening.covering)
    return kind.least_in_12 - _NOISE <= plane.in_12 < kind.double_below_in_12 - _NOISE


def courses(roof: Roof, drying: DryingIn, screening: Screening) -> tuple[Courses, ...]:
    """The courses of every plane."""
    return tuple(_courses(plane, drying, doubled=is_doubled(plane, screening)) for plane in roof.planes)


def _courses(plane: Plane, drying: DryingIn, *, doubled: bool) -> Courses:
    wide = drying.roll_width_in
    lap = min(dry_in_rules().underlayment_double_lap_in, wide / 2.0) if doubled else drying.roll_lap_in
    exposure = wide - lap
    shape = shapely.Polygon(plane.polygon)
    high = plane.plane_length_in
    starts: list[tuple[float, float]] = [(0.0, lap)] if doubled else []  # a starter strip under the first course
    y = 0.0
    while y < high - _NOISE and (not starts or starts[-1][1] < high - _NOISE):
        starts.append((y, y + wide))
        y += exposure
    length = sum(_widest(shape, low, min(top, high)) for low, top in starts)
    return Courses(plane.id, len(starts), exposure, doubled, length)


def _widest(shape: shapely.Polygon, low: float, high: float) -> float:
    """How far a strip between two heights reaches across a plane."""
    left, _, right, _ = shape.bounds
    part = shapely.intersection(shape, shapely.box(left, low, right, high))
    return 0.0 if part.is_empty else part.bounds[2] - part.bounds[0]


def underlayment_material(
    found: Sequence[Courses], names: dict[str, str], drying: DryingIn, units: Units
) -> Material | None:
    """Rolls of underlayment for all planes."""
    length = sum(each.length_in for each in found)
    rolls = rolls_for(length, drying.roll_in, drying.roll_end_lap_in)
    if not rolls:
        return None
    parts = ", ".join(
        f"{names[each.plane]}: {each.count} courses{' (doubled)' if each.doubled else ''}, "
        f"{units.length(each.length_in)}"
        for each in found
    )
    trace = Trace(
        "underlayment",
        float(rolls),
        "count",
        "every course as long as the plane is wide there, rolls run on, ends lapped; slanting ends are cut off",
        f"{parts} = {units.length(length)} in rolls of {units.length(drying.roll_in)} → {rolls}",
        dry_in_rules().underlayment_source,
    )
    name = f"underlayment, {units.inches(drying.roll_width_in)} wide, rolls of {units.length(drying.roll_in)}"
    return Material("underlayment", name, float(rolls), "rolls", trace)
