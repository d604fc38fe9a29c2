"""What the checks share: the job, its wings as built, the frame and how figures are shown."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from functools import cached_property

from workbench.findings import Severity
from workbench.framing.model import Framing, Member
from workbench.job.model import Job, Wing
from workbench.measure import Units
from workbench.roof.model import Plane, Roof
from workbench.roof.solved import BuiltWing, Eave, Section
from workbench.screening.loads import plane_loads
from workbench.screening.model import PlaneLoads


@dataclass(frozen=True, eq=False)
class Frame:
    """One job's roof and frame, with its loads.

    Attributes:
        job: The job.
        wings: Its wings as built.
        roof: All planes.
        framing: Members.
        units: How figures are shown.
    """

    job: Job
    wings: Sequence[BuiltWing]
    roof: Roof
    framing: Framing
    units: Units

    @cached_property
    def planes(self) -> dict[str, Plane]:
        """The planes by id."""
        return {plane.id: plane for plane in self.roof.planes}

    @cached_property
    def by_wing(self) -> dict[str, tuple[Plane, ...]]:
        """The planes of each wing that has some."""
        found: dict[str, tuple[Plane, ...]] = {}
        for plane in self.roof.planes:
            found[plane.wing] = (*found.get(plane.wing, ()), plane)
        return found

    @cached_property
    def with_rafters(self) -> dict[str, tuple[Plane, ...]]:
        """The planes of each wing that is framed with rafters; trusses are for their maker."""
        return {wing: planes for wing, planes in self.by_wing.items() if self.is_stick(wing)}

    def is_stick(self, wing_id: str) -> bool:
        """Whether a wing is framed with rafters and not with trusses by others."""
        return self.effective[wing_id].framed_with == "rafters"

    @cached_property
    def loads(self) -> dict[str, PlaneLoads]:
        """Loads by plane id."""
        return {found.plane: found for found in plane_loads(self.job.screening, self.roof.planes, self.units)}

    @cached_property
    def effective(self) -> dict[str, Wing]:
        """The wings with solved values put in, by id."""
        return {built.effective.id: built.effective for built in self.wings}

    @cached_property
    def _eaves(self) -> dict[tuple[str, str], Eave]:
        return {
            (built.effective.id, eave.edge): eave
            for built in self.wings
            if built.solved is not None
            for eave in built.solved.eaves
        }

    def eave(self, plane: Plane) -> Eave | None:
        """The eave a plane rises from; None for a plane over another slope."""
        return None if plane.upper else self._eaves.get((plane.wing, plane.drawn))

    def section(self, plane: Plane) -> Section | None:
        """The section through a plane, or None where it has none."""
        for built in self.wings:
            if built.solved is not None and built.effective.id == plane.wing:
                return built.solved.section_of(plane.id)
        return None

    def members(self, wing_id: str) -> tuple[Member, ...]:
        """The members that stand on a wing's planes."""
        return tuple(self._members.get(wing_id, ()))

    @cached_property
    def _members(self) -> dict[str, list[Member]]:
        wing_of = {plane.id: wing for wing, planes in self.by_wing.items() for plane in planes}
        found: dict[str, list[Member]] = {}
        for member in self.framing.members:
            for wing in dict.fromkeys(wing_of[p.plane] for p in member.placements if p.plane in wing_of):
                found.setdefault(wing, []).append(member)
        return found

    def severity(self, wing_id: str, *, wood_given: bool = True) -> Severity:
        """How grave an overload in a wing is: an error where its loads were given, else a warning."""
        screening = self.job.screening
        given = screening.dead_of(wing_id) is not None and (
            screening.live_psf is not None or screening.snow is not None
        )
        return "error" if given and wood_given else "warning"


def level_of(member: Member, point: tuple[float, float]) -> float:
    """Level distance of a point of a member's side view from its low end, inches."""
    m = math.tan(math.radians(member.angle_deg))
    return (point[0] - (point[1] - member.depth_in) * m) / math.hypot(1.0, m)
