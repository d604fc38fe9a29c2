"""The measures of one section as a person handles them: their words, values, and whether each is given or to find.

No Qt here: the strip and the slope panel share these, and every edit is a job that becomes another job.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from workbench.job.model import Edge, HighEnd, Job, Unknown, Wing
from workbench.plan import Plan
from workbench.roof.landed import find_span, landing_input
from workbench.roof.model import Plane
from workbench.roof.solved import Section, SolvedWing

Measurable = Literal["slope", "run", "low_plate", "landing", "hap_low", "seat", "hap_high", "tail"]
Mark = Literal["given", "to find", "follows"]

_HIGH_WORDS = {"notched": "Landing", "whole": "Landing", "ridge": "Ridge top", "face": "Ledger top"}
_WORDS: dict[Measurable, str] = {
    "slope": "Slope",
    "run": "Run",
    "low_plate": "Low plate",
    "hap_low": "Height above plate",
    "seat": "Seat",
    "hap_high": "Height above landing",
    "tail": "Overhang",
}


@dataclass(frozen=True)
class Cut:
    """One section with the job and the plane it was cut from."""

    job: Job
    plane: Plane
    solved: SolvedWing
    section: Section

    @property
    def wing(self) -> Wing:
        """The wing as the job has it."""
        return self.job.wing(self.plane.wing)

    @property
    def edge(self) -> Edge:
        """The drawn eave the plane rises from."""
        return next(edge for edge in self.wing.edges if edge.id == self.plane.drawn)

    @property
    def high_end(self) -> HighEnd:
        """How the upper end bears."""
        landing = self.wing.landing
        if self.unsolved and landing is not None and not self.at_ridge:
            return landing.high_end
        return self.section.given.high_end

    @property
    def unknown(self) -> Unknown:
        """What is to find."""
        landing = self.wing.landing
        return landing.find if landing is not None and (self.section.landed or self.unsolved) else "landing"

    @property
    def section_heel(self) -> Measurable:
        """Which of seat and height above plate is given (or to find) at the low plate; the other follows."""
        given = self.section.given.low_end if self.section.landed else self.wing.heel.given
        if self.unsolved and self.unknown in ("seat", "hap_low"):
            return self.unknown
        return "seat" if given == "seat" else "hap_low"

    @property
    def unsolved(self) -> bool:
        """Whether the job asks for a landing on this plane that has no answer; the section is then only as drawn."""
        return self.wing.landing is not None and not self.section.landed and self.on_span

    @property
    def on_span(self) -> bool:
        """Whether this is a plane that the wing's landing is worked out on."""
        span = find_span(self.wing)
        if span is None:
            return False
        ends = (span.low, span.high) if span.gable else (span.low,)
        return any(self.wing.edges[i].id == self.plane.drawn for i in ends)

    @property
    def can_land(self) -> bool:
        """Whether the plane can have a landing: on the span, and alike on both sides where rafters meet."""
        if self.wing.landing is not None:
            return self.section.landed or self.unsolved
        ends = [eave for eave in self.solved.eaves if eave.edge in {edge.id for edge in ends_of(self.wing)}]
        alike = len({(eave.tangent, eave.plate_in) for eave in ends}) == 1
        return self.on_span and (alike or not self.at_ridge)

    @property
    def at_ridge(self) -> bool:
        """Whether the wing's rafters run between two eaves, so that they meet at a ridge half way."""
        span = find_span(self.wing)
        return span is not None and span.gable


@dataclass(frozen=True, slots=True)
class Measure:
    """One measure of the section.

    Attributes:
        name: Stable name.
        word: What it is called, as a label.
        value: Inches; for the slope rise in 12.
        mark: ``given`` by the job, ``to find``, or ``follows`` from the others (the seat where the HAP is given).
        can_find: Whether it can be made the unknown.
    """

    name: Measurable
    word: str
    value: float
    mark: Mark
    can_find: bool


def cut_of(plan: Plan, plane_id: str) -> Cut | None:
    """The section through a plane with what is needed to edit it, or None where the plane has none."""
    plane = plan.plane(plane_id)
    for solved in plan.wings:
        section = solved.section_of(plane_id)
        if plane is not None and section is not None:
            return Cut(plan.job, plane, solved, section)
    return None


def word_of(cut: Cut, name: Measurable) -> str:
    """What a measure is called in this section."""
    return _HIGH_WORDS[cut.high_end] if name == "landing" else _WORDS[name]


def value_of(cut: Cut, name: Measurable) -> float:
    """The measure's value as solved: inches, or rise in 12; as the job gives it where there is no answer."""
    answer = cut.section.answer
    landing = cut.wing.landing
    if cut.unsolved and landing is not None and name in ("landing", "hap_high"):
        return landing.landing_in if name == "landing" else landing.hap_in
    span = find_span(cut.wing)
    if cut.unsolved and landing is not None and span is not None and name == "run":
        return landing_input(cut.wing, landing, span).run_in
    if cut.unsolved and name == cut.section_heel:
        return cut.wing.heel.hap_in if name == "hap_low" else cut.wing.heel.seat_in
    values: dict[Measurable, float] = {
        "slope": answer.in_12,
        "run": answer.run_in,
        "low_plate": answer.low_plate_in,
        "landing": answer.landing_in,
        "hap_low": answer.hap_low_in,
        "seat": answer.seat_in,
        "hap_high": answer.hap_high_in,
        "tail": cut.section.overhang_in,
    }
    return values[name]


def measures(cut: Cut) -> tuple[Measure, ...]:
    """Every measure of the section, in the order a person reads the cut: slope first, then from the tail up."""
    names: list[Measurable] = ["slope", "tail", "hap_low", "seat", "low_plate", "run", "landing"]
    if cut.high_end == "notched" and (cut.section.landed or cut.unsolved):
        names.append("hap_high")
    can_land = cut.can_land
    return tuple(
        Measure(name, word_of(cut, name), value_of(cut, name), mark_of(cut, name), can_land and name != "tail")
        for name in names
    )


def measure(cut: Cut, name: Measurable) -> Measure | None:
    """The measure of this name, or None where the section has none."""
    return next((found for found in measures(cut) if found.name == name), None)


def mark_of(cut: Cut, name: Measurable) -> Mark:
    """Whether a measure is given, to find, or follows."""
    if name == cut.unknown:
        return "to find"
    return "follows" if name in ("hap_low", "seat") and name != cut.section_heel else "given"


def ends_of(wing: Wing) -> tuple[Edge, ...]:
    """The eaves that must stay alike for a landing: both where rafters meet at a ridge, else the low one alone."""
    span = find_span(wing)
    if span is None:
        return ()
    return (wing.edges[span.low], wing.edges[span.high]) if span.gable else (wing.edges[span.low],)
