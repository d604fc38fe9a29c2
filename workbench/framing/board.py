"""A board of a roof: what is cut, where it stands and how that was found. Inches."""

from __future__ import annotations

from dataclasses import dataclass

from workbench.findings import GEOMETRY, Finding
from workbench.framing.group import Group
from workbench.framing.model import MemberKind
from workbench.framing.peak import ORDINARY, Head
from workbench.framing.space import add2
from workbench.framing.stick import Stick
from workbench.measure import Units
from workbench.roof.model import Plane, Point2, Point3
from workbench.roof.solved import Section

SHORTEST_IN = 6.0
"""What has less than this left between its joints, level, is not cut: blocks go there (common practice, no source)."""


@dataclass(frozen=True, slots=True)
class HipFacts:
    """What is known of a hip or valley, for its traces. Radians, inches; pairs are left and right.

    Attributes:
        eaves: Plan angle D between it and the level lines of the planes.
        slopes: Slopes of the planes, rise / run.
        corner: s of the building corner it stands over; None where it starts inside the roof.
        top: s of the point where the lines meet at its upper end.
        drop: Plumb drop of a dropped hip.
        backing: Bevels of a backed one.
        dihedral: Angle between the planes.
        through: s from which a long valley lies in one plane.
        head: What is told of its upper end.
    """

    eaves: tuple[float, float]
    slopes: tuple[float, float]
    corner: float | None
    top: float
    drop: float
    backing: tuple[float, float]
    dihedral: float
    through: float | None
    head: Head = ORDINARY


@dataclass(frozen=True, slots=True)
class RafterFacts:
    """What is known of a common or jack rafter, for its traces.

    Attributes:
        low: s where its line starts, at the eave or the middle of a valley.
        high: s where its line ends, at the middle of a ridge or hip.
        building: s of the building line, or None.
        low_rate: Level inches that the line it starts on gains up the slope per inch to the right: 0 on an eave, the
            tangent of the plan angle D on a valley.
        high_rate: The same of the line it ends on.
        spacing: Layout spacing.
        section: The landing section, for a common.
        head: What is told of its upper end.
    """

    low: float
    high: float
    building: float | None
    low_rate: float
    high_rate: float
    spacing: float
    section: Section | None
    head: Head = ORDINARY


@dataclass(frozen=True, slots=True)
class Board:
    """A stick and where it stands.

    Attributes:
        kind: What it is.
        plane: Plane id; of a hip or valley the plane to its left.
        origin: Plan point of s = 0, w = 0.
        direction: Unit plan vector, uphill.
        stick: What is cut.
        facts: How it was found.
        plies: How many boards side by side make the timber it is one of.
    """

    kind: MemberKind
    plane: str
    origin: Point2
    direction: Point2
    stick: Stick
    facts: HipFacts | RafterFacts
    plies: int = 1

    def at(self, s: float) -> Point3:
        """Space point of the top edge's centre line."""
        point = add2(self.origin, self.direction, s)
        return point[0], point[1], self.stick.top(s)

    @property
    def start(self) -> Point3:
        """Low end of the top edge's centre line."""
        return self.at(self.stick.low.middle)

    @property
    def end(self) -> Point3:
        """High end of the top edge's centre line."""
        return self.at(self.stick.high.middle)


class Remarks:
    """Findings made while boards are cut.

    Args:
        group: The wings, framed together.
        units: How lengths are shown.
    """

    def __init__(self, group: Group, units: Units) -> None:
        self.group = group
        self.units = units
        self.findings: list[Finding] = []

    def left_out(self, plane: Plane, what: str, why: str) -> None:
        """Something that is not cut, and why."""
        wing = self.group.wing_of(plane.id)
        text = f"{wing.name}: {what} is not in the cut list: {why}."
        self.findings.append(Finding("member-left-out", "warning", wing.id, text, GEOMETRY))

    def squared(self, plane: Plane, what: str, gap: float) -> None:
        """An end that meets too many timbers and is cut square, clear of them all, leaving a gap (none where 0)."""
        if gap <= 0.0:
            return
        wing = self.group.wing_of(plane.id)
        text = (
            f"{wing.name}: {what} meets more timbers at one end than two cuts fit. It is cut square there, clear of "
            f"all of them, which leaves gaps of up to {self.units.length(gap)}; block it, or scribe it on site."
        )
        self.findings.append(Finding("end-cut-square", "note", wing.id, text, GEOMETRY))
