"""Where on the roof something is put: a plane with the eave it rises from, and how far along and up a place is.

Level distances are measured from the left end of the eave's building line, as seen from outside below, and in from that
line. Inches.
"""

from __future__ import annotations

from dataclasses import dataclass

from workbench.bench.surface.tools.base import Host, edge_index, opening_of, side_of, wing_of
from workbench.drawing.roof_plan import plane_ring, planes_alone
from workbench.drawing.shapes import contains
from workbench.job.model import Wing
from workbench.plan import Plan
from workbench.roof.model import Plane, Point2


@dataclass(frozen=True)
class Site:
    """A plane to put something on.

    Attributes:
        plane: The plane as joined.
        alone: The plane as its wing has it alone: what openings are measured on.
        wing: Its wing as the job has it.
        start: Left end of the eave's building line.
        end: Right end of it.
    """

    plane: Plane
    alone: Plane
    wing: Wing
    start: Point2
    end: Point2

    @property
    def key(self) -> str:
        """Key of the plane."""
        return f"plane:{self.plane.id}"

    def along(self, point: Point2) -> Point2:
        """How far a plan point lies to the right of the eave's left end, and in from the building line, level."""
        dx, dy = point[0] - self.start[0], point[1] - self.start[1]
        across, uphill = self.plane.across, self.plane.uphill
        return dx * across[0] + dy * across[1], dx * uphill[0] + dy * uphill[1]

    def at(self, right: float, inward: float) -> Point2:
        """The plan point there."""
        across, uphill = self.plane.across, self.plane.uphill
        return (
            self.start[0] + right * across[0] + inward * uphill[0],
            self.start[1] + right * across[1] + inward * uphill[1],
        )

    def height(self, inward: float) -> float:
        """Height of the plane that far in from the building line, carried on past its edges where need be."""
        return self.alone.to_space(self.alone.to_plane(self.at(0.0, inward)))[2]

    @property
    def top(self) -> tuple[float, float]:
        """How far in the plane's highest point lies, and its height."""
        highest = max(self.alone.corners, key=lambda corner: corner[2])
        return self.along((highest[0], highest[1]))[1], highest[2]


def site_of(plan: Plan, plane: Plane) -> Site | None:
    """The site on a plane, or None where its wing is no longer there."""
    wing = next((wing for wing in plan.job.wings if wing.id == plane.wing), None)
    alone = next((each for each in planes_alone(plan, plane.wing) if each.id == plane.whole), None)
    index = None if wing is None else edge_index(wing, plane.drawn)
    if wing is None or alone is None or index is None:
        return None
    return Site(plane, alone, wing, *side_of(wing, index))


def site_at(host: Host, at: Point2) -> Site | None:
    """The site under a plan point, on the highest plane there; None beside the roof."""
    plan = host.plan
    over = [plane for plane in plan.roof.planes if contains(plane_ring(plane), at)]
    if not over:
        return None
    return site_of(plan, max(over, key=lambda plane: plane.to_space(plane.to_plane(at))[2]))


def site_selected(host: Host) -> Site | None:
    """The site on the selected plane, else on the first of the selected wing, else on the first of all."""
    plan, key = host.plan, host.selected
    kind, _, name = key.partition(":")
    opening, wing = opening_of(plan.job, key), wing_of(plan.job, key)
    planes = plan.roof.planes
    of_wing = [plane for plane in planes if wing is not None and plane.wing == wing.id]
    named = [plane for plane in planes if kind == "plane" and plane.id == name]
    held = [plane for plane in planes if opening is not None and plane.whole == opening.plane]
    found = next(iter([*named, *held, *of_wing, *planes]), None)
    return None if found is None else site_of(plan, found)
