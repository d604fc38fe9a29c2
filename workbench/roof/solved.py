"""What solving a wing's slope gives: the effective building line, its eaves and the section through each plane."""

from __future__ import annotations

from dataclasses import dataclass

from workbench.findings import Finding
from workbench.job.model import Wing
from workbench.roof.landing import LandingAnswer, LandingInput
from workbench.roof.model import Plane, Point2


@dataclass(frozen=True, slots=True)
class Eave:
    """One eave as solved. Inches; ``tangent`` is rise / run.

    Attributes:
        edge: Id of the drawn edge.
        tangent: Slope of the plane that rises from it.
        plate_in: Top of the top plate.
        hap_in: Height above plate of the rafter's top edge at the building line.
        overhang_in: Level overhang as solved (level fascia may change the given one).
        break_in: Height (z) at which the plane changes its slope, in the rafters' top edges; None where it does not.
        upper_tangent: Slope from there on; None where there is no change, or where it goes straight up.
    """

    edge: str
    tangent: float
    plate_in: float
    hap_in: float
    overhang_in: float
    break_in: float | None = None
    upper_tangent: float | None = None

    @property
    def tangents(self) -> tuple[float, ...]:
        """Slopes of its planes, the lower one first."""
        return (self.tangent,) if self.upper_tangent is None else (self.tangent, self.upper_tangent)

    @property
    def start_in(self) -> float:
        """Height (z) of the rafters' top edges at the tail's plumb cut."""
        return self.plate_in + self.hap_in - self.tangent * self.overhang_in

    @property
    def break_past_in(self) -> float | None:
        """Level distance in from the building line to the change of slope; None where there is none."""
        return None if self.break_in is None else (self.break_in - self.plate_in - self.hap_in) / self.tangent


@dataclass(frozen=True)
class Section:
    """The vertical cut through one plane, from its low plate to its ridge or landing.

    Every plane that runs from an eave to a ridge, a wall or a top edge has one. ``given`` is what the landing solver
    was asked; where the job gives the slope, the landing is what was found.

    Attributes:
        plane: Plane id.
        given: The solver's input.
        answer: The solver's output.
        overhang_in: Level overhang at the tail.
        past_in: Level length of the rafter past the high bearing line (0 at a ridge or a face).
        landed: Whether the job asked for a landing (otherwise the slope was simply given).
    """

    plane: str
    given: LandingInput
    answer: LandingAnswer
    overhang_in: float
    past_in: float
    landed: bool


@dataclass(frozen=True)
class SolvedWing:
    """One wing as solved.

    Attributes:
        wing: Wing id.
        outline: Effective building line (a found run moves the landing wall).
        eaves: In the order of the outline.
        sections: One a plane that has one.
    """

    wing: str
    outline: tuple[Point2, ...]
    eaves: tuple[Eave, ...]
    sections: tuple[Section, ...]

    def section_of(self, plane_id: str) -> Section | None:
        """The section through this plane, or None."""
        return next((section for section in self.sections if section.plane == plane_id), None)


@dataclass(frozen=True, eq=False)
class BuiltWing:
    """One wing as built: what was solved, the wing with found values put in, its planes and findings.

    Compared by identity: the caches give the same object for the same wing among the same neighbours, and later stages
    cache on it. Where drawn lines split its planes, ``unsplit`` has them as they were before: openings are measured on
    those.
    """

    solved: SolvedWing | None
    effective: Wing
    planes: tuple[Plane, ...]
    findings: tuple[Finding, ...]
    unsplit: tuple[Plane, ...] = ()

    @property
    def measured(self) -> tuple[Plane, ...]:
        """The planes openings are measured on: the unsplit ones, and what lines have made of them."""
        known = {plane.id for plane in self.unsplit}
        return (*self.unsplit, *(plane for plane in self.planes if plane.id not in known))
