"""Members of the frame: what is cut, how, and where it stands. Inches and degrees, unrounded."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from workbench.measure.trace import Trace
from workbench.roof.model import Point2, Point3

MemberKind = Literal["common_rafter", "ridge_board", "barge_rafter"]


@dataclass(frozen=True, slots=True)
class Cut:
    """One saw cut.

    Attributes:
        name: ``ridge plumb cut``, ``seat cut``, ``heel cut``, ``tail plumb cut`` ...
        angle_deg: Saw mitre: the angle between the cut and the square across the stock, degrees (0 is square).
        bevel_deg: Saw bevel (blade tilt), degrees.
        in_12: The same as "x in 12": tan(angle) * 12 for a plumb cut, with ``level`` cuts marked on the run side.
        at_in: Where the cut meets the top edge, measured along the top edge from the lower long point, inches;
            for cuts on the bottom edge the point squared up to the top edge.
    """

    name: str
    angle_deg: float
    bevel_deg: float
    in_12: float
    at_in: float


@dataclass(frozen=True, slots=True)
class Measure:
    """A length to be marked on the stock, from one point of the profile to another (profile axes)."""

    name: str
    start: Point2
    end: Point2
    length_in: float


@dataclass(frozen=True, slots=True)
class Placement:
    """Where one of the equal members stands: the centre line of its top edge in space, low end first."""

    plane: str
    start: Point3
    end: Point3


@dataclass(frozen=True)
class Member:
    """A mark: all members of the same cut.

    Attributes:
        mark: Kind and number, such as ``Common 1``.
        kind: Stable kind.
        count: How many.
        length_in: Length along the top edge, long point to short point as the cuts leave it.
        stock_in: Length of the board to buy.
        section: Nominal section, such as ``2x8``.
        depth_in: Depth square to the edge.
        thickness_in: Thickness.
        cuts: Every cut, from the low end up.
        profile: Side view in its own axes: x along the top edge from the lower end, y square up from the bottom edge;
            closed ring, so the top edge lies at y = depth.
        measures: What to mark on the stock.
        placements: Where each stands.
        traces: How the figures were found.
        angle_deg: Slope it stands at, degrees.
    """

    mark: str
    kind: MemberKind
    count: int
    length_in: float
    stock_in: float
    section: str
    depth_in: float
    thickness_in: float
    cuts: tuple[Cut, ...]
    profile: tuple[Point2, ...]
    measures: tuple[Measure, ...]
    placements: tuple[Placement, ...]
    traces: tuple[Trace, ...]
    angle_deg: float


@dataclass(frozen=True)
class Framing:
    """The frame of a job.

    Attributes:
        members: All marks, in the order of work.
        supports: For each plane id the x positions (plane axes, inches) of the rafter centre lines that carry sheets,
            from left to right.
    """

    members: tuple[Member, ...] = ()
    supports: tuple[tuple[str, tuple[float, ...]], ...] = ()

    def supports_of(self, plane_id: str) -> tuple[float, ...]:
        """Rafter centre lines of one plane, empty where it has none."""
        return dict(self.supports).get(plane_id, ())
