"""Planes measured on the day: the outer row takes up what the framing differs from the plan. Inches.

The outer row is the rip at the eave, or the one at the top where the rips go there. It is as wide at each end as the
length measured there asks for, so that on a plane out of square it tapers; all other rows stay as planned. Where it
would come out under the least width, or over a panel, the split is made afresh (common practice, no source).
"""

from __future__ import annotations

from dataclasses import dataclass, replace

from workbench.findings import COMMON_PRACTICE, Finding
from workbench.job.as_built import PlaneMeasured
from workbench.measure.units import Units
from workbench.roof.model import Plane, Point2
from workbench.sheathing.layout import Layout
from workbench.sheathing.model import PlaneSheets, Row
from workbench.sheathing.region import Region, ring_area
from workbench.sheathing.rows import (
    NOISE_IN,
    RipPlace,
    RowOption,
    RowRules,
    choose_option,
    fitted,
    place_rows,
    row_options,
    switched,
)

STEP_IN, STEP_MM = 0.25, 5.0
REACH_IN, REACH_MM = 3.0, 75.0

_LEAST_TAPER_IN = 1.0 / 64.0  # ends that differ by less are as good as equal
_MOST_OFF_IN = 24.0  # a plane that much longer or shorter than drawn is another plane


@dataclass(frozen=True, slots=True)
class Measured:
    """A plane's length up the slope as measured on the framing at its two ends, tail to top, seen from the eave."""

    left_in: float
    right_in: float

    @property
    def taper_in(self) -> float:
        """By how much the ends differ; 0 where that is too little to cut."""
        taper = abs(self.left_in - self.right_in)
        return taper if taper >= _LEAST_TAPER_IN else 0.0


@dataclass(frozen=True, slots=True)
class FirstRow:
    """One line of the table for the day.

    Attributes:
        measured_in: Length of the plane up the slope, tail to top.
        outer_in: Width of the outer row.
        widths_in: Widths of all rows from the eave up.
        switched: Whether other rows differ from the plan as well.
    """

    measured_in: float
    outer_in: float
    widths_in: tuple[float, ...]
    switched: bool


def first_row_table(sheets: PlaneSheets, plane: Plane, rules: RowRules, rip: RipPlace, units: Units) -> list[FirstRow]:
    """The outer row's width for every length that may be measured: round steps about the planned one.

    Args:
        sheets: The plane as planned.
        plane: The same plane.
        rules: What its rows are split by.
        rip: Where its rips go.
        units: Metric ones step by 5 mm, others by 1/4 in.

    Returns:
        Shortest first; lengths that no rows can be made of are left out.
    """
    metric = units.system == "mm"
    step, reach = (STEP_MM / 25.4, REACH_MM / 25.4) if metric else (STEP_IN, REACH_IN)
    options = row_options(sheets.covered_in, rules)
    chosen = next((one.split for one in sheets.options if one.chosen), options[0].split)
    planned = next((option for option in options if option.split == chosen), options[0])
    more = sheets.covered_in - plane.plane_length_in
    middle, count = round(plane.plane_length_in / step), round(reach / step)
    lines: list[FirstRow] = []
    for k in range(middle - count, middle + count + 1):
        length = k * step + more
        if length < rules.least_in:
            continue
        kept = fitted(planned, length, rules)
        option = kept or _afresh(length, chosen, rules)
        widths = tuple(row.width_in for row in place_rows(option, rules, rip))
        lines.append(FirstRow(k * step, widths[-1 if rip == "top" else 0], widths, kept is None))
    return lines


def _afresh(length_in: float, split: str, rules: RowRules) -> RowOption:
    options = switched(length_in, rules)
    return next((option for option in options if option.split == split), choose_option(options, "fewest"))


def can_be_measured(plane: Plane) -> bool:
    """Whether two lengths say how long the plane is everywhere: one level edge below, one level edge or point above."""
    if plane.opening_polygons:
        return False
    low = min(y for _, y in plane.polygon)
    high = max(y for _, y in plane.polygon)
    below = [x for x, y in plane.polygon if y - low <= NOISE_IN]
    above = [x for x, y in plane.polygon if high - y <= NOISE_IN]
    return len(below) == 2 and len(above) == 2 and len(plane.polygon) == 4


def measured_region(region: Region, plane: Plane, measured: Measured, rip: RipPlace) -> Region | None:
    """What is to be covered as it was measured; None where two lengths can't say.

    The edge that moves is the one the outer row lies at, so that all other rows stay parallel to the other edge.
    """
    if not can_be_measured(plane) or len(region.rings) != 1:
        return None
    longer = [length - plane.plane_length_in for length in (measured.left_in, measured.right_in)]
    if not measured.taper_in:
        longer = [sum(longer) / 2.0] * 2
    if max(abs(more) for more in longer) > _MOST_OFF_IN:
        return None
    ring = region.rings[0]
    edge = region.top_in if rip == "top" else region.bottom_in
    sense = 1.0 if rip == "top" else -1.0
    left, right = min(x for x, _ in ring), max(x for x, _ in ring)

    def moved(corner: Point2) -> Point2:
        x, y = corner
        if abs(y - edge) > NOISE_IN:
            return corner
        share = (x - left) / (right - left)
        return x, y + sense * (longer[0] + (longer[1] - longer[0]) * share)

    made = tuple(moved(corner) for corner in ring)
    if ring_area(made) <= 0.0:
        return None
    if region.rectangle is None or measured.taper_in:
        return Region((made,), None)
    low, high = min(y for _, y in made), max(y for _, y in made)
    return Region((((left, low), (right, low), (right, high), (left, high)),), (left, low, right, high))


def measured_rules(rules: RowRules, region: Region, measured: Measured) -> RowRules:
    """The rules of the rows once the plane was measured; ``region`` is what was to be covered by the plan."""
    return replace(rules, planned_in=region.top_in - region.bottom_in, taper_in=measured.taper_in)


def measured_of(plane: Plane, taken: PlaneMeasured | None) -> Measured | None:
    """What was measured on a plane; where only one end was, the other is taken to be as long."""
    if taken is None:
        return None
    ends = [end for end in (taken.left_in, taken.right_in) if end is not None]
    return Measured(ends[0], ends[-1]) if ends else None


def measured_rows(layout: Layout, measured: Measured | None) -> tuple[Row, ...]:
    """The rows of a plane, with what each end has of its own where the plane tapers."""
    rows = layout.rows
    taper = layout.rules.rows.taper_in
    if measured is None or not taper or not rows:
        return rows
    less = (0.0, taper) if measured.left_in > measured.right_in else (taper, 0.0)
    at_top = layout.rules.rip == "top"
    found: list[Row] = []
    for row in rows:
        outer = row is rows[-1 if at_top else 0]
        width = (row.width_in - less[0], row.width_in - less[1]) if outer else None
        snap = (row.snap_in - less[0], row.snap_in - less[1]) if outer or not at_top else None
        found.append(replace(row, width_ends_in=width, snap_ends_in=snap))
    return tuple(found)


def measured_findings(plane: Plane, measured: Measured, layout: Layout, units: Units) -> list[Finding]:
    """What a framer must know about a measured plane.

    Args:
        plane: The plane as drawn.
        measured: What was measured.
        layout: What was laid out.
        units: What lengths are shown in.
    """
    rules = layout.rules.rows
    said = units.length(measured.left_in)
    if measured.taper_in:
        said = f"{said} at the left and {units.length(measured.right_in)} at the right"
    if rules.planned_in is None:
        why = f"over {units.length(_MOST_OFF_IN)} from the {units.length(plane.plane_length_in)} drawn"
        if not can_be_measured(plane):
            why = f"two lengths do not say its shape, drawn {units.length(plane.plane_length_in)} long"
        text = f"{plane.name}: measured {said}, {why}. The sheets are for the plane as drawn: check it, or draw it so."
        return [Finding("measure-not-used", "error", plane.id, text, COMMON_PRACTICE)]
    outer = layout.rows[-1 if layout.rules.rip == "top" else 0]
    narrow = outer.width_in - rules.taper_in
    if rules.taper_in and narrow < rules.least_in - NOISE_IN:
        text = (
            f"{plane.name}: measured {said}: row {outer.number} is {units.length(narrow)} wide at one end, under "
            f"the least width of {units.length(rules.least_in)}. Straighten the edge, or block the row's."
        )
        return [Finding("row-too-narrow", "error", plane.id, text, COMMON_PRACTICE)]
    widths = ", ".join(units.compact(row.width_in) for row in layout.rows)
    taper = f"; row {outer.number} tapers to {units.length(narrow)}" if rules.taper_in else ""
    text = f"{plane.name}: rows cut for the measured {said}: {widths} from the eave up{taper}."
    return [Finding("cut-as-measured", "note", plane.id, text, COMMON_PRACTICE)]
