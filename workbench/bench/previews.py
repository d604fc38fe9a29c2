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
from workbench.plan import Plan, solve
from workbench.roof.build import BuiltRoof, build_roof

Reach = Literal["roof", "frame", "all"]
"""Up to which stage of the work a preview is worked out."""


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
    order: tuple[Reach, ...] = ("roof", "frame", "all")
    return not isinstance(plan, Preview) or order.index(reach) <= order.index(plan.reach)


def _partial(job: Job, reach: Reach, last: Plan) -> Preview:
    units = Units(job.units.system, job.units.fraction)
    built = build_roof(job.wings, units, job.openings)
    framing = last.framing
    if reach == "frame":
        thick = sheathing_thickness(job.sheathing.thickness)
        framing = frame_roof(built.wings, units, sheathing_in=thick)[0]
    return Preview(
        job,
        units,
        built.solved,
        built.roof,
        framing,
        last.sheathing,
        last.safety,
        last.quantities,
        in_order((*built.findings, *_of_later_stages(last))),
        lumber=last.lumber,
        screening=last.screening,
        reach=reach,
    )


def _of_later_stages(last: Plan) -> tuple[Finding, ...]:
    """The findings of a plan that are not its roof's: those stay until they are worked out anew."""
    before: BuiltRoof = build_roof(last.job.wings, last.units, last.job.openings)
    known = set(before.findings)
    return tuple(finding for finding in last.findings if finding not in known)
