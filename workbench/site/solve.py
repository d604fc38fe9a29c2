"""The site stage of the plan: a pure function of the roof, the frame and what was measured."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from workbench.findings import COMMON_PRACTICE, Finding
from workbench.framing.model import Framing
from workbench.job.model import Job
from workbench.measure import Units
from workbench.roof.model import Plane, Roof
from workbench.roof.solved import BuiltWing
from workbench.site.covering import covering_findings, coverings
from workbench.site.ground_plan import eave_lines
from workbench.site.heights import Base, set_heights
from workbench.site.jacks import jack_sticks
from workbench.site.model import MeasuredLengths, SitePlan
from workbench.site.plates import measured_plates
from workbench.site.square import squarings
from workbench.site.stick import layout_sticks
from workbench.site.tails import tails


def plan_site(
    job: Job,
    roof: Roof,
    wings: Sequence[BuiltWing],
    framing: Framing,
    thickness_in: float,
    units: Units,
    *,
    brief: bool = False,
) -> SitePlan:
    """Heights and props, layout sticks, tails, and what follows from the readings taken on site.

    Args:
        job: The job.
        roof: All planes.
        wings: The wings as built.
        framing: The frame as drawn.
        thickness_in: Of the sheathing.
        units: How lengths are shown.
        brief: Only what follows from the readings, for the frames of a drag.
    """
    site, planes = job.site, roof.planes
    lines = eave_lines(wings)
    plates, plate_findings = measured_plates(framing, lines, site.as_built, units)
    squares, square_findings = squarings(wings, site.as_built, units)
    lengths, length_findings = measured_lengths(job, planes)
    readings = SitePlan(
        plates=plates,
        squarings=squares,
        lengths=lengths,
        base_words=Base(site.deck_in).words(units),
        findings=(*plate_findings, *square_findings, *length_findings),
    )
    if brief:
        return readings
    heights, height_findings = set_heights(framing, planes, wings, site.deck_in, units)
    return replace(
        readings,
        heights=heights,
        sticks=layout_sticks(framing, planes, lines, site.stick_from),
        jacks=jack_sticks(framing, planes),
        tails=tails([line for line in lines if line.wing.framed_with == "rafters"], job.safety.ground, units),
        coverings=coverings(planes, thickness_in, units),
        findings=(*readings.findings, *height_findings, *covering_findings(planes, thickness_in, units)),
    )


def measured_lengths(job: Job, planes: Sequence[Plane]) -> tuple[tuple[MeasuredLengths, ...], tuple[Finding, ...]]:
    """The planes whose lengths were taped, against the drawing; and readings that have no plane now."""
    by_id = {plane.id: plane for plane in planes}
    found: list[MeasuredLengths] = []
    findings: list[Finding] = []
    for reading in job.site.as_built.planes:
        plane = by_id.get(reading.plane)
        if plane is None:
            text = f'The lengths measured on "{reading.plane}" have no such plane now; they wait in the job unused.'
            findings.append(Finding("measured-without-plane", "warning", reading.plane, text, COMMON_PRACTICE))
            continue
        # Where only one end was measured the other is taken to be as long, as the rows of sheets do.
        ends = [end for end in (reading.left_in, reading.right_in) if end is not None]
        if ends:
            found.append(MeasuredLengths(plane.id, plane.name, plane.plane_length_in, ends[0], ends[-1]))
    return tuple(found), tuple(findings)
