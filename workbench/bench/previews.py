"""Plans for the frames of a drag: worked out only as far as the stage in use shows, the rest as it was before.

A large roof takes longer to frame and to sheathe than a frame of a drag may last, and neither is on show while its plan
or its section is drawn. What is not worked out anew says so, so that no old figure is taken for a new one.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from workbench.findings import Finding, in_order
from workbench.framing.group import sheathing_thickness
from workbench.framing.solve import frame_roof
from workbench.job.model import Job
from workbench.measure import Units
from workbench.plan import Plan, safety_of, sheets_of, solve
from workbench.roof.build import BuiltRoof, build_roof

Reach = Literal["roof", "frame", "sheets", "safety", "all"]
"""Up to which stage of the work a preview is worked out."""

_ORDER: tuple[Reach, ...] = ("roof", "frame", "sheets", "safety", "all")


@dataclass(frozen=True)
class Preview(Plan):
    """A plan of which only a part follows from its job.

    Attributes:
        reach: Up to where it does; what comes after is still that of the plan before.
    """

    reach: Reach = "roof"


def preview_plan(job: Job, reach: Reach, last: Plan) -> Plan:
    """The plan of a job as far as it is wanted, in the place of ``last``.

    A fault of the program on the way is left to ``solve``, which makes a finding of it.
    """
    if reach == "all":
        return solve(job, "preview")
    try:
        return _partial(job, reach, last)
    except Exception:
        return solve(job, "preview")


def is_fresh(plan: Plan, reach: Reach) -> bool:
    """Whether a part of a plan follows from its job and is not that of the plan before."""
    return not isinstance(plan, Preview) or _reaches(plan.reach, reach)


def furthest(one: Reach, other: Reach) -> Reach:
    """Which of two goes further."""
    return one if _reaches(one, other) else other


def _reaches(reach: Reach, part: Reach) -> bool:
    return _ORDER.index(part) <= _ORDER.index(reach)


def _partial(job: Job, reach: Reach, last: Plan) -> Preview:
    units = Units(job.units.system, job.units.fraction)
    built = build_roof(job.wings, units, job.openings)
    framing, sheathing, safety = last.framing, last.sheathing, last.safety
    told = [*built.findings]
    if _reaches(reach, "frame"):
        thick = sheathing_thickness(job.sheathing.thickness)
        framing = frame_roof(built.wings, units, sheathing_in=thick)[0]
    if _reaches(reach, "sheets"):
        sheathing = sheets_of(job, built, framing, units, "preview", bare=True)
        told += sheathing.findings
    if _reaches(reach, "safety"):
        safety = safety_of(job, built, framing, sheathing, units)
        told += safety.findings
    return Preview(
        job,
        units,
        built.solved,
        built.roof,
        framing,
        sheathing,
        safety,
        last.quantities,
        in_order((*told, *_of_later_stages(last, reach))),
        lumber=last.lumber,
        cut=last.cut,
        screening=last.screening,
        site=last.site,
        drying_in=last.drying_in,
        reach=reach,
    )


def _of_later_stages(last: Plan, reach: Reach) -> tuple[Finding, ...]:
    """The findings of a plan that are not of the stages worked out anew: those stay until they are too."""
    before: BuiltRoof = build_roof(last.job.wings, last.units, last.job.openings)
    known = set(before.findings)
    if _reaches(reach, "sheets"):
        known.update(last.sheathing.findings)
    if _reaches(reach, "safety"):
        known.update(last.safety.findings)
    return tuple(finding for finding in last.findings if finding not in known)
