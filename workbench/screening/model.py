"""What the screening finds: loads by plane, and checks with how much of what is allowed is used. Inches, psf."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from workbench.findings import Finding
from workbench.measure import Trace

CheckKind = Literal[
    "rafter_span",
    "sheathing_span",
    "sheathing_load",
    "thrust",
    "push",
    "notch",
    "ridge",
    "hip",
    "header",
    "covering",
    "ridge_height",
    "headroom",
    "lookout",
    "rake_overhang",
    "tail_overhang",
]
Verdict = Literal["passes", "fails", "open", "engineer", "not_known"]
Load = Literal["roof_live", "snow"]


@dataclass(frozen=True, slots=True)
class PlaneLoads:
    """Loads on one plane, psf on the level.

    Attributes:
        plane: Plane id.
        dead_psf: Dead load, taken from along the slope to the level.
        live_psf: Roof live load; None where snow alone is given.
        snow_psf: The greater of balanced and unbalanced snow as a check in allowable stress takes it; None where there
            is none.
        traces: How they were found.
    """

    plane: str
    dead_psf: float
    live_psf: float | None
    snow_psf: float | None
    traces: tuple[Trace, ...]

    @property
    def cases(self) -> tuple[tuple[Load, float], ...]:
        """The loads to be checked one after the other, each with the dead load."""
        cases: list[tuple[Load, float]] = []
        if self.live_psf:
            cases.append(("roof_live", self.live_psf))
        if self.snow_psf:
            cases.append(("snow", self.snow_psf))
        return tuple(cases)

    @property
    def heaviest_psf(self) -> float:
        """The greater of live load and snow."""
        return max((psf for _, psf in self.cases), default=0.0)


@dataclass(frozen=True, slots=True)
class Check:
    """One thing that was checked.

    Attributes:
        kind: What kind of check.
        object: Id of the mark, plane, wing or point it is about.
        subject: The same in words.
        verdict: Whether it passes; ``open`` where the job has to say more first, ``engineer`` where only the engineer
            can say, ``not_known`` where there is no limit or no table to hold it against.
        use: What is asked over what is allowed; None where there is no such number.
        text: What was compared, with its figures.
        mend: What would pass; empty where it passes or where nothing here can.
        traces: How the figures were found.
        source: Where the rule comes from.
    """

    kind: CheckKind
    object: str
    subject: str
    verdict: Verdict
    use: float | None
    text: str
    mend: str
    traces: tuple[Trace, ...]
    source: str


@dataclass(frozen=True, slots=True)
class Thrust:
    """Outward force at the plates of one plane, pounds a foot of wall, and at each tie where there are some."""

    plane: str
    plf: float
    at_tie_lb: float | None
    trace: Trace


@dataclass(frozen=True, slots=True)
class Called:
    """Hardware that was called for, counted: its name, how many, and how they were counted."""

    id: str
    name: str
    count: int
    trace: Trace


@dataclass(frozen=True)
class ScreeningPlan:
    """The screening of a job.

    Attributes:
        assumed: Whether loads, species or grade are assumed and not given.
        loads: One a plane.
        checks: What was checked, worst of each kind first.
        thrusts: Outward force at the plates, one a plane that has a ridge of boards.
        called: Hardware called for.
        findings: What is wrong or noteworthy.
    """

    assumed: bool = True
    loads: tuple[PlaneLoads, ...] = ()
    checks: tuple[Check, ...] = ()
    thrusts: tuple[Thrust, ...] = ()
    called: tuple[Called, ...] = ()
    findings: tuple[Finding, ...] = ()


NOT_SCREENED = ScreeningPlan()
"""The screening of a job that has nothing to be screened."""
