"""The screening stage of the plan. It never says that a roof may be built so: the engineer and the code do."""

from __future__ import annotations

from collections.abc import Sequence

from workbench.findings import COMMON_PRACTICE, Finding
from workbench.framing.model import Framing
from workbench.job.model import Job
from workbench.measure import Units
from workbench.roof.model import Roof
from workbench.roof.solved import BuiltWing
from workbench.screening.connectors import called, connector_findings
from workbench.screening.frame import Frame
from workbench.screening.limits import limit_checks
from workbench.screening.loads import load_findings, wood_of
from workbench.screening.model import Check, ScreeningPlan
from workbench.screening.rafters import CHECKED, rafter_checks
from workbench.screening.sheets import sheathing_checks
from workbench.screening.snow_places import snow_places
from workbench.screening.thrust import push_checks, ridge_checks, thrust_checks, thrusts


def screen(job: Job, wings: Sequence[BuiltWing], roof: Roof, framing: Framing, units: Units) -> ScreeningPlan:
    """Check the frame and the panels against loads and limits.

    Args:
        job: The job.
        wings: Its wings as built.
        roof: All planes.
        framing: Members.
        units: How figures are shown in texts.
    """
    if not roof.planes:
        return ScreeningPlan()
    frame = Frame(job, wings, roof, framing, units)
    sections = sorted({member.section for member in framing.members if member.kind in CHECKED})
    pushed = thrusts(frame)
    checks: list[Check] = []
    findings: list[Finding] = load_findings(job.screening, job.lumber, sections, roof.planes, units)
    for found, told in (
        rafter_checks(frame),
        sheathing_checks(frame),
        thrust_checks(frame, pushed),
        ridge_checks(frame),
        limit_checks(frame),
    ):
        checks += found
        findings += told
    checks += push_checks(frame)
    findings += snow_places(job.screening.snow, roof.planes, units)
    findings += [*_raised_ties(checks), *connector_findings(frame), *_without_wing(frame)]
    assumed = not job.screening.loads_given or any(not wood_of(job.lumber, section).given for section in sections)
    return ScreeningPlan(
        assumed, tuple(frame.loads.values()), tuple(checks), tuple(pushed), called(frame), tuple(findings)
    )


def _raised_ties(checks: Sequence[Check]) -> list[Finding]:
    """Rafter ties higher than any span table allows for."""
    return [
        Finding(
            "ties-too-high",
            "warning",
            check.object,
            f"{check.subject}: {check.text}. Lower the ties, or have the engineer size the rafters.",
            check.source,
        )
        for check in checks
        if check.kind == "rafter_span" and check.verdict == "engineer"
    ]


def _without_wing(frame: Frame) -> list[Finding]:
    known = {wing.id for wing in frame.job.wings}
    return [
        Finding(
            "limits-without-wing",
            "warning",
            "",
            f'The loads and limits name a wing "{limits.wing}" that is not there now; they wait in the job unused.',
            COMMON_PRACTICE,
        )
        for limits in frame.job.screening.wings
        if limits.wing not in known
    ]
