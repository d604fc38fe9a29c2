"""Plans for the frames of a drag: worked out only as far as the stage in use shows, the rest as it was before.

A large roof takes longer to frame and to sheathe than a frame of a drag may last, and neither is on show while its plan
or its section is drawn. What is not worked out anew says so, so that no old figure is taken for a new one.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import Literal

from workbench.findings import Finding, in_order
from workbench.framing.group import sheathing_thickness
from workbench.framing.solve import frame_roof, supports_of
from workbench.job.model import Job
from workbench.measure import Units
from workbench.plan import Plan, safety_of, sheets_of, solve
from workbench.roof.build import BuiltRoof, build_roof

Part = Literal["roof", "frame", "sheets", "safety", "all"]
"""What of a plan is asked for."""

Reach = Literal["roof", "frame", "sheets", "safety", "drawn", "all"]
"""How much of the work a preview is: up to what a stage shows, all that can be drawn, or all there is."""

_WORKED_OUT: dict[Reach, frozenset[Part]] = {
    "roof": frozenset(("roof",)),
    "frame": frozenset(("roof", "frame")),
    # Sheets need no more of the frame than the lines they lie on.
    "sheets": frozenset(("roof", "sheets")),
    "safety": frozenset(("roof", "sheets", "safety")),
    "drawn": frozenset(("roof", "frame", "sheets", "safety")),
    "all": frozenset(("roof", "frame", "sheets", "safety", "all")),
}


@dataclass(frozen=True)
class Preview(Plan):
    """A plan of which only a part follows from its job.

    Attributes:
        reach: How much of it does; the rest is still that of the plan before.
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


def is_fresh(plan: Plan, part: Part) -> bool:
    """Whether a part of a plan follows from its job and is not that of the plan before."""
    return not isinstance(plan, Preview) or part in _WORKED_OUT[plan.reach]


def _partial(job: Job, reach: Reach, last: Plan) -> Preview:
    units = Units(job.units.system, job.units.fraction)
    built = build_roof(job.wings, units, job.openings)
    framing, sheathing, safety = last.framing, last.sheathing, last.safety
    told = [*built.findings]
    parts = _WORKED_OUT[reach]
    if "frame" in parts:
        thick = sheathing_thickness(job.sheathing.thickness)
        framing = frame_roof(built.wings, units, sheathing_in=thick, lumber=job.lumber)[0]
    elif "sheets" in parts:
        framing = replace(framing, supports=supports_of(built.wings, units))
    if "sheets" in parts:
        sheathing = sheets_of(job, built, framing, units, "preview", bare=True)
        told += sheathing.findings
    if "safety" in parts:
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


class _Kept:
    """The findings of the last plan that was asked about, by the stages they are of."""

    def __init__(self) -> None:
        self.plan: Plan | None = None
        self.roof: frozenset[Finding] = frozenset()

    def of_roof(self, plan: Plan) -> frozenset[Finding]:
        if plan is not self.plan:
            before: BuiltRoof = build_roof(plan.job.wings, plan.units, plan.job.openings)
            self.plan, self.roof = plan, frozenset(before.findings)
        return self.roof


_kept = _Kept()


def _of_later_stages(last: Plan, reach: Reach) -> tuple[Finding, ...]:
    """The findings of a plan that are not of the stages worked out anew: those stay until they are too."""
    known = set(_kept.of_roof(last))
    if "sheets" in _WORKED_OUT[reach]:
        known.update(last.sheathing.findings)
    if "safety" in _WORKED_OUT[reach]:
        known.update(last.safety.findings)
    return tuple(finding for finding in last.findings if finding not in known)
