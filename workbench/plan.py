"""The pipeline: a plan is a pure function of a job.

``solve`` runs stage by stage and never raises for a job that could be read: what can't be solved becomes a finding and
the rest is still solved. Stages are cached by their inputs, so that moving one slope re-solves one wing.
"""

from __future__ import annotations

import gc
from collections.abc import Callable, Generator
from contextlib import contextmanager
from dataclasses import dataclass
from functools import cached_property
from typing import Literal, TypeVar

from workbench.drying_in.model import NOT_DRIED_IN, DryInPlan
from workbench.drying_in.solve import dry_in
from workbench.findings import COMMON_PRACTICE, Finding, has_errors, in_order
from workbench.framing.already_cut import NOTHING_CUT, AlreadyCut, already_cut, still_to_cut
from workbench.framing.group import sheathing_thickness
from workbench.framing.model import Framing, Member
from workbench.framing.solve import frame_roof
from workbench.job.model import Job
from workbench.job.safety import Rating
from workbench.measure import Units
from workbench.quantities.count import count_quantities, plane_bracket
from workbench.quantities.drying_in import with_dry_in
from workbench.quantities.fall_protection import fall_protection_lines
from workbench.quantities.lumber import plan_lumber
from workbench.quantities.lumber_model import NO_LUMBER, LumberPlan
from workbench.quantities.model import Quantity
from workbench.roof.build import BuiltRoof, build_roof, build_wing
from workbench.roof.model import Plane, Roof
from workbench.roof.solved import Section, SolvedWing
from workbench.safety.solve import SafetyPlan, effective_rules, plan_safety
from workbench.screening.model import NOT_SCREENED, ScreeningPlan
from workbench.screening.solve import screen
from workbench.sheathing.already_cut import NO_SHEET_CUT, CutSheets, cut_sheets
from workbench.sheathing.layout_offset import offset_findings
from workbench.sheathing.model import PlaneSheets, SheathingPlan
from workbench.sheathing.optimise import Progress, optimise_sheathing
from workbench.sheathing.solve import plan_sheathing
from workbench.site.model import NO_SITE, SitePlan
from workbench.site.solve import plan_site

Effort = Literal["preview", "live", "full"]
"""How hard to look for fewest sheets."""

FULL_SECONDS = 10.0
"""Seconds that the search for fewest sheets may take where nobody says otherwise."""

_T = TypeVar("_T")


@dataclass(frozen=True)
class Plan:
    """Everything that follows from a job.

    Attributes:
        job: The job it was solved from.
        units: The one formatter for this job.
        wings: Slopes, eaves and sections, one a wing that could be solved.
        roof: All planes.
        framing: Members and the rafter lines.
        sheathing: Sheets, seams, nails.
        safety: Falls, anchors and ropes, loads carried.
        quantities: What to buy.
        findings: From all stages, errors first.
        lumber: The boards to buy and what is cut from each, for what is not cut yet.
        cut: What of the frame is cut already.
        sheets_cut: What of the sheets is cut already.
        screening: Loads, checks with how much is used, outward force at the plates.
        drying_in: Order of work, what it takes, ice barrier and air.
        site: Heights and props, layout sticks, tails, and what was measured on site.
    """

    job: Job
    units: Units
    wings: tuple[SolvedWing, ...]
    roof: Roof
    framing: Framing
    sheathing: SheathingPlan
    safety: SafetyPlan
    quantities: tuple[Quantity, ...]
    findings: tuple[Finding, ...]
    lumber: LumberPlan = NO_LUMBER
    screening: ScreeningPlan = NOT_SCREENED
    site: SitePlan = NO_SITE
    drying_in: DryInPlan = NOT_DRIED_IN
    cut: AlreadyCut = NOTHING_CUT
    sheets_cut: CutSheets = NO_SHEET_CUT

    def section_of(self, plane_id: str) -> Section | None:
        """The section through a plane, or None where it has none."""
        for wing in self.wings:
            section = wing.section_of(plane_id)
            if section is not None:
                return section
        return None

    def sheets_of(self, plane_id: str) -> PlaneSheets | None:
        """The sheets of a plane, or None."""
        return next((sheets for sheets in self.sheathing.planes if sheets.plane == plane_id), None)

    def members_of(self, plane_id: str) -> tuple[Member, ...]:
        """The marks that stand on a plane."""
        return tuple(m for m in self.framing.members if any(p.plane == plane_id for p in m.placements))

    def plane(self, plane_id: str) -> Plane | None:
        """The plane of this id, or None."""
        return next((plane for plane in self.roof.planes if plane.id == plane_id), None)

    @cached_property
    def has_errors(self) -> bool:
        """Whether any finding is an error."""
        return has_errors(self.findings)


def solve(
    job: Job,
    effort: Effort = "live",
    *,
    progress: Callable[[Progress], bool] | None = None,
    limit_s: float | None = None,
    sheets: SheathingPlan | None = None,
    boards: LumberPlan | None = None,
) -> Plan:
    """Everything that follows from a job: the same job gives the same plan.

    Never raises for a job that could be read.

    Args:
        job: The job.
        effort: ``live`` lays the sheets out in milliseconds, ``preview`` quicker and less well, for the frames of a
            drag; ``full`` looks for the fewest, with proof, for some seconds. All are deterministic, ``full`` as long
            as its time limit does not strike.
        progress: Told how far the search for fewest sheets is; where it answers False the best so far is taken.
        limit_s: Seconds that the search for fewest sheets may take; None takes ``FULL_SECONDS``.
        sheets: The sheets as found before for the same roof, frame and settings; None lays them out now.
        boards: The boards as cut before for the same frame and lumber; None cuts them now.
    """
    with _uncollected():
        return _solved(job, effort, progress, FULL_SECONDS if limit_s is None else limit_s, sheets, boards)


@contextmanager
def _uncollected() -> Generator[None]:
    """Without the search for cyclic garbage meanwhile.

    A plan is some hundred thousand values without cycles; looking through all of them again and again makes a long row
    of houses a third dearer than the houses one by one.
    """
    was = gc.isenabled()
    gc.disable()
    try:
        yield
    finally:
        if was:
            gc.enable()


def _solved(
    job: Job,
    effort: Effort,
    progress: Callable[[Progress], bool] | None,
    limit_s: float,
    sheets: SheathingPlan | None,
    boards: LumberPlan | None,
) -> Plan:
    units = Units(job.units.system, job.units.fraction)
    faults: list[Finding] = []
    built = _stage("the roof", lambda: build_roof(job.wings, units, job.openings), BuiltRoof(Roof(), (), ()), faults)
    no_frame: tuple[Framing, tuple[Finding, ...]] = (Framing(), ())
    thick = sheathing_thickness(job.sheathing.thickness)
    framing, framing_findings = _stage(
        "the frame", lambda: frame_roof(built.wings, units, sheathing_in=thick, lumber=job.lumber), no_frame, faults
    )
    sheathing = _stage(
        "the sheets",
        lambda: sheets or sheets_of(job, built, framing, units, effort, progress=progress, limit_s=limit_s),
        SheathingPlan(),
        faults,
    )
    safety = _stage(
        "fall protection", lambda: safety_of(job, built, framing, sheathing, units), _no_safety(job), faults
    )
    screening = _stage(
        "the screening", lambda: screen(job, built.wings, built.roof, framing, units), NOT_SCREENED, faults
    )
    dry = _stage(
        "drying in",
        lambda: dry_in(job, built.wings, built.roof, framing, sheathing, units),
        NOT_DRIED_IN,
        faults,
    )
    laid = _stage(
        "the offset of the layout",
        lambda: offset_findings(
            [built_wing.effective for built_wing in built.wings], built.roof.planes, framing, job.sheathing, units
        ),
        (),
        faults,
    )
    cut = _stage("what is cut already", lambda: already_cut(framing, job.cut_members, units), NOTHING_CUT, faults)
    sheets_cut = _stage(
        "what sheets are cut already",
        lambda: cut_sheets(
            sheathing, job.cut_sheets, built.roof.planes, job.sheathing.thickness, units, brief=effort == "preview"
        ),
        NO_SHEET_CUT,
        faults,
    )
    lumber = _stage(
        "the cutting list of the lumber",
        lambda: boards or plan_lumber(still_to_cut(framing, cut), job.lumber, units, effort),
        NO_LUMBER,
        faults,
    )
    site = _stage(
        "the site sheets",
        lambda: plan_site(job, built.roof, built.wings, framing, thick, units, brief=effort == "preview"),
        NO_SITE,
        faults,
    )
    quantities = _stage(
        "the order list", lambda: count_quantities(job, built.roof, lumber, sheathing, units), (), faults
    )
    rated: dict[str, Rating] = {anchor.id: anchor.rated for anchor in job.safety.anchors}
    ropes = _stage("anchors and ropes to buy", lambda: fall_protection_lines(safety, rated, units), [], faults)
    quantities = with_dry_in((*quantities, *ropes), dry, screening)
    findings = (
        *faults,
        *_empty(job),
        *built.findings,
        *_choice_findings(job, built.roof),
        *_bracket_findings(job, built.roof, units),
        *framing_findings,
        *cut.findings,
        *sheets_cut.findings,
        *lumber.findings,
        *laid,
        *sheathing.findings,
        *safety.findings,
        *screening.findings,
        *dry.findings,
        *site.findings,
    )
    told = in_order(findings)
    parts = (framing, sheathing, safety, quantities, told, lumber, screening, site)
    return Plan(job, units, built.solved, built.roof, *parts, drying_in=dry, cut=cut, sheets_cut=sheets_cut)


def sheets_of(
    job: Job,
    built: BuiltRoof,
    framing: Framing,
    units: Units,
    effort: Effort,
    *,
    progress: Callable[[Progress], bool] | None = None,
    limit_s: float | None = None,
    bare: bool = False,
) -> SheathingPlan:
    """The sheathing stage by itself; ``bare`` leaves out seams and nails."""
    if effort != "full":
        return plan_sheathing(
            built.roof,
            framing,
            job.sheathing,
            job.plane_choices,
            job.fastening,
            units,
            quick=effort == "preview",
            bare=bare,
            measured=job.site.as_built.planes,
        )
    return optimise_sheathing(
        built.roof,
        framing,
        job.sheathing,
        job.plane_choices,
        job.fastening,
        units,
        progress=progress,
        limit_s=FULL_SECONDS if limit_s is None else limit_s,
        measured=job.site.as_built.planes,
    )


def _stage(what: str, work: Callable[[], _T], without: _T, faults: list[Finding]) -> _T:
    """One stage; a fault of the program in it becomes an error finding, and the rest is still solved."""
    try:
        return work()
    except Exception as fault:
        text = (
            f"A fault in this program stopped {what} ({type(fault).__name__}: {fault}); what does not need it is still "
            "solved. Keep the job file and report it."
        )
        faults.append(Finding("stage-failed", "error", "", " ".join(text.split()), "limit of this program"))
        return without


def _no_safety(job: Job) -> SafetyPlan:
    return SafetyPlan(rules=effective_rules(job.safety)[0])


def safety_of(job: Job, built: BuiltRoof, framing: Framing, sheathing: SheathingPlan, units: Units) -> SafetyPlan:
    """The safety stage by itself."""
    return plan_safety(
        job,
        built.roof,
        [plane for wing in job.wings for plane in build_wing(wing, units).measured],
        [wing.effective for wing in built.wings],
        framing,
        sheathing,
        units,
    )


def _empty(job: Job) -> tuple[Finding, ...]:
    if job.wings:
        return ()
    return (Finding("no-roof", "note", "", "Nothing is drawn yet; draw a building outline to begin.", COMMON_PRACTICE),)


def _choice_findings(job: Job, roof: Roof) -> tuple[Finding, ...]:
    known = {plane.id for plane in roof.planes}
    return tuple(
        Finding(
            "choice-without-plane",
            "warning",
            choice.plane,
            f'The sheet choices for "{choice.plane}" have no such plane now; they wait in the job unused.',
            COMMON_PRACTICE,
        )
        for choice in job.plane_choices
        if choice.plane not in known
    )


def _bracket_findings(job: Job, roof: Roof, units: Units) -> tuple[Finding, ...]:
    """Which planes fall in a dearer price bracket than the first; judged on the slope to be framed."""
    lowest = job.brackets[0].from_in_12 if job.brackets else 0.0
    findings: list[Finding] = []
    for plane in roof.planes:
        bracket = plane_bracket(job.brackets, plane.tangent)
        if bracket is None or bracket.from_in_12 <= lowest:
            continue
        text = (
            f"{plane.name}: framed at {units.slope(plane.tangent)}, in the price bracket from "
            f"{bracket.from_in_12:g} in 12 on. The Slope stage shows what would bring it under."
        )
        findings.append(Finding("over-price-bracket", "note", plane.id, text, COMMON_PRACTICE))
    return tuple(findings)
