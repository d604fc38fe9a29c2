"""The safety stage of the plan: falls, ropes, what they serve, loads and heat. Screening, never a plan for a site."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from functools import lru_cache, partial

from workbench.findings import Finding
from workbench.framing.model import Framing
from workbench.job.model import Job, Wing
from workbench.job.safety import OWN_RULES, UNNAMED_SOURCE, OwnRules, Safety
from workbench.measure import Units
from workbench.roof.model import Plane, Roof
from workbench.rules.fall_protection import Arrest, RuleSet, Trigger, Triggers, rule_set, rule_sets
from workbench.safety.anchors import place, plan_anchor
from workbench.safety.areas import plane_shape
from workbench.safety.coverage import halves, plane_safety
from workbench.safety.falls import all_falls, level_below
from workbench.safety.fewest import fewest_anchors
from workbench.safety.findings import (
    anchor_findings,
    coverage_findings,
    fall_findings,
    placing_findings,
    setting_findings,
)
from workbench.safety.heat import heat
from workbench.safety.model import AnchorPlan, Carrying, Fall, FewestAnchors, Halves, Heat, Ladder, PlaneSafety
from workbench.safety.ropes import Allowances
from workbench.safety.site import Site
from workbench.safety.site_loads import carrying, ladders
from workbench.safety.surface import Surface
from workbench.sheathing.model import Row, SheathingPlan


@dataclass(frozen=True)
class SafetyPlan:
    """Falls, ropes, loads and heat of a job.

    Attributes:
        rules: The rule set in use.
        falls: Every edge one can fall over.
        anchors: In the order of the job.
        planes: What ropes serve, in the order of the roof.
        halves: Planes with anchors, each in two halves.
        ladders: One to the middle of each eave.
        carrying: Weights.
        heat: The day given, or None.
        findings: What is wrong or worth knowing.
        asked: Answers later questions, such as for the fewest anchors.
    """

    rules: RuleSet
    falls: tuple[Fall, ...] = ()
    anchors: tuple[AnchorPlan, ...] = ()
    planes: tuple[PlaneSafety, ...] = ()
    halves: tuple[Halves, ...] = ()
    ladders: tuple[Ladder, ...] = ()
    carrying: Carrying | None = None
    heat: Heat | None = None
    findings: tuple[Finding, ...] = ()
    asked: Asked | None = field(default=None, compare=False, repr=False)

    def falls_of(self, plane_id: str) -> tuple[Fall, ...]:
        """The falls of one plane."""
        return tuple(fall for fall in self.falls if fall.plane == plane_id)

    def plane(self, plane_id: str) -> PlaneSafety | None:
        """What ropes serve on a plane, or None."""
        return next((plane for plane in self.planes if plane.plane == plane_id), None)

    def anchor(self, anchor_id: str) -> AnchorPlan | None:
        """The anchor of this id, or None."""
        return next((anchor for anchor in self.anchors if anchor.id == anchor_id), None)

    def fewest(self, plane_id: str) -> FewestAnchors | None:
        """The fewest anchors that serve what of a plane can be served; worked out when it is asked for."""
        return None if self.asked is None else self.asked.fewest(plane_id, self.falls)


@dataclass(frozen=True)
class Asked:
    """What is needed to answer questions that are not asked at every solve, and the answers given."""

    surface: Surface
    supports: Mapping[str, tuple[float, ...]]
    allowances: Allowances
    rakes: bool
    answers: dict[str, FewestAnchors] = field(default_factory=dict[str, FewestAnchors])

    def fewest(self, plane_id: str, falls: Sequence[Fall]) -> FewestAnchors | None:
        """The fewest anchors for a plane, or None where there is no such plane."""
        plane = self.surface.planes.get(plane_id)
        if plane is None:
            return None
        if plane_id not in self.answers:
            xs = self.supports.get(plane_id, ())
            self.answers[plane_id] = fewest_anchors(self.surface, plane, xs, falls, self.allowances, rakes=self.rakes)
        return self.answers[plane_id]


def plan_safety(
    job: Job,
    roof: Roof,
    alone: Sequence[Plane],
    wings: Sequence[Wing],
    framing: Framing,
    sheathing: SheathingPlan,
    units: Units,
) -> SafetyPlan:
    """The safety stage. Never raises for a job that could be read.

    Args:
        job: The job.
        roof: All planes as joined.
        alone: The planes as each wing has them alone; anchors are measured on these.
        wings: The wings as built, for the drawn edges.
        framing: For the rafters anchors can stand on.
        sheathing: For rows, and for the sheets carried.
        units: For the words.
    """
    safety = job.safety
    rules, known = effective_rules(safety)
    rows = tuple((sheets.plane, sheets.rows) for sheets in sheathing.planes)
    solved = _ropes(safety, rules, roof.planes, tuple(alone), tuple(wings), rows, framing.supports, units)
    drawn = frozenset(f"{wing.id}/{edge.id}" for wing in job.wings for edge in wing.edges)
    with_sheets = {sheets.plane for sheets in sheathing.planes}
    sheathed = [plane for plane in roof.planes if plane.id in with_sheets]
    pieces = sum(len(sheets.pieces) for sheets in sheathing.planes)
    return SafetyPlan(
        rules=rules,
        falls=solved.falls,
        anchors=solved.anchors,
        planes=solved.planes,
        halves=solved.halves,
        ladders=solved.ladders,
        carrying=carrying(job.sheathing, safety, sheathed, sheathing.count, pieces, units) if sheathing.stock else None,
        heat=heat(safety),
        findings=(*setting_findings(safety, known, drawn), *solved.findings),
        asked=solved.asked,
    )


def effective_rules(safety: Safety) -> tuple[RuleSet, bool]:
    """The rule set a job uses, and whether it is known; the program's first where it is not, or names no source."""
    if safety.rule_set == OWN_RULES and safety.own_rules is not None:
        unnamed = safety.own_rules.source == UNNAMED_SOURCE
        return (rule_sets()[0] if unnamed else own_rule_set(safety.own_rules)), True
    try:
        return rule_set(safety.rule_set), True
    except KeyError:
        return rule_sets()[0], False


def own_rule_set(own: OwnRules) -> RuleSet:
    """A job's own rules as a rule set; its arrest figures are the federal ones."""
    federal = rule_sets()[0]

    def trigger(height_in: float) -> Trigger:
        return Trigger(height_in=height_in, by="as the named source says", source=own.source)

    triggers = Triggers(
        steep=trigger(own.steep_in),
        low_slope=trigger(own.low_slope_in),
        leading_edge=trigger(own.leading_edge_in),
        opening=trigger(own.opening_in),
        walking_surface=trigger(own.walking_surface_in),
    )
    arrest = Arrest(
        free_fall_in=federal.arrest.free_fall_in,
        deceleration_in=federal.arrest.deceleration_in,
        anchor=federal.arrest.anchor,
        source=federal.arrest.source,
    )
    return RuleSet(
        id=OWN_RULES,
        name=own.name,
        where="as the job says",
        edition="as the job says",
        steep_over_in_12=own.steep_over_in_12,
        steep_source=own.source,
        triggers=triggers,
        arrest=arrest,
    )


@lru_cache(maxsize=32)
def _ropes(
    safety: Safety,
    rules: RuleSet,
    planes: tuple[Plane, ...],
    alone: tuple[Plane, ...],
    wings: tuple[Wing, ...],
    rows: tuple[tuple[str, tuple[Row, ...]], ...],
    supports: tuple[tuple[str, tuple[float, ...]], ...],
    units: Units,
) -> SafetyPlan:
    """What hangs on the roof's shape only, kept for the next time it is the same."""
    site = Site(planes, wings, safety, rules, dict(rows), units)
    surface = Surface(planes)
    shapes = {plane.id: plane_shape(plane) for plane in planes}
    falls = all_falls(site)
    by_id = {plane.id: plane for plane in alone}
    placed = tuple(place(anchor, by_id, surface) for anchor in safety.anchors)
    anchors = tuple(plan_anchor(site, surface, shapes, each, falls) for each in placed)
    found = tuple(plane_safety(plane, shapes[plane.id], anchors, falls, safety.served_from, rules) for plane in planes)
    split = halves(planes, anchors)
    findings = (
        *fall_findings(site, falls),
        *placing_findings(placed, units),
        *anchor_findings(site, placed, anchors),
        *coverage_findings(site, planes, found, split),
    )
    asked = Asked(surface, dict(supports), Allowances.of(safety), safety.restrain == "all")
    up = ladders(falls, partial(level_below, site), units)
    return SafetyPlan(rules, falls, anchors, found, split, up, None, None, findings, asked)
