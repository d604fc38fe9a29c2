"""The pipeline: a plan is a pure function of a job.

``solve`` runs stage by stage and never raises for a job that could be read: what can't be solved becomes a finding and
the rest is still solved. Stages are cached by their inputs, so that moving one slope re-solves one wing.
"""

from __future__ import annotations

from dataclasses import dataclass

from workbench.findings import Finding
from workbench.framing.model import Framing, Member
from workbench.job.model import Job
from workbench.measure import Units
from workbench.quantities.model import Quantity
from workbench.roof.model import Plane, Roof
from workbench.roof.solved import Section, SolvedWing
from workbench.sheathing.model import PlaneSheets, SheathingPlan


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
        quantities: What to buy.
        findings: From all stages, errors first.
    """

    job: Job
    units: Units
    wings: tuple[SolvedWing, ...]
    roof: Roof
    framing: Framing
    sheathing: SheathingPlan
    quantities: tuple[Quantity, ...]
    findings: tuple[Finding, ...]

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
