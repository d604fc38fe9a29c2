"""Members of the frame: what is cut, how, and where it stands. Inches and degrees, unrounded."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property
from typing import Literal

from workbench.measure.trace import Trace
from workbench.roof.model import Point2, Point3

MemberKind = Literal[
    "common_rafter",
    "barge_rafter",
    "ridge_board",
    "purlin",
    "hip_rafter",
    "valley_rafter",
    "hip_jack",
    "valley_jack",
    "cripple_jack",
    "header",
    "sleeper",
    "fascia",
    "sub_fascia",
    "lookout",
    "eave_block",
    "ridge_block",
    "row_block",
    "collar_tie",
    "rafter_tie",
    "rake_plate",
    "gable_stud",
]
Hand = Literal["", "left", "right"]
LongPoint = Literal["", "left", "right", "middle", "faces"]

RAFTER_KINDS: frozenset[MemberKind] = frozenset(
    (
        "common_rafter",
        "barge_rafter",
        "hip_rafter",
        "valley_rafter",
        "hip_jack",
        "valley_jack",
        "cripple_jack",
    )
)
"""Kinds that run up a slope and are nailed to."""


@dataclass(frozen=True, slots=True)
class Cut:
    """One saw cut, or the two cheeks of a double one.

    Left and right are those of one who looks up the slope along the member; for a mark that is needed both ways round
    the cuts are those of the left-hand one.

    Attributes:
        name: ``ridge plumb cut``, ``seat cut``, ``heel cut``, ``tail plumb cut``, ``double cheek cut at the ridge`` ...
        angle_deg: Saw mitre: the angle between the cut and the square across the stock, degrees (0 is square).
        bevel_deg: Saw bevel (blade tilt), degrees; of a double cheek that of the left one.
        in_12: The same as "x in 12": tan(angle) * 12 for a plumb cut, with ``level`` cuts marked on the run side.
        at_in: Where the cut meets the top edge, measured along the top edge from the lower long point, inches;
            for cuts on the bottom edge the point squared up to the top edge. A bevelled cut's long point.
        other_bevel_deg: Bevel of the right cheek of a double cheek cut, degrees; None where one cut goes through.
        side_in_12: The bevel as set on a framing square laid on the top edge: this much on the blade against 12 on the
            tongue, marked along the tongue; None for a cut without a bevel.
        other_side_in_12: The same of the right cheek.
        long: Where the long point of a bevelled cut is: on the ``left`` or ``right`` face, in the ``middle`` (a
            pointed end) or on both ``faces`` (an end with a notch); empty without a bevel.
        middle_in: For a double cheek, from the left face to where its cheeks meet, square across, inches.
    """

    name: str
    angle_deg: float
    bevel_deg: float
    in_12: float
    at_in: float
    other_bevel_deg: float | None = None
    side_in_12: float | None = None
    other_side_in_12: float | None = None
    long: LongPoint = ""
    middle_in: float | None = None


@dataclass(frozen=True, slots=True)
class Measure:
    """A length to be marked on the stock, from one point of the profile to another (profile axes)."""

    name: str
    start: Point2
    end: Point2
    length_in: float


@dataclass(frozen=True, slots=True)
class Placement:
    """Where one of the equal members stands: the centre line of its top edge in space, low end first.

    Attributes:
        plane: The plane it stands in; for a hip or valley the one to its left.
        start: Low end.
        end: High end.
        hand: For a mark that is needed both ways round, which of the two this one is; ``right`` too for a ridge board
            that lies turned over.
    """

    plane: str
    start: Point3
    end: Point3
    hand: Hand = ""


@dataclass(frozen=True)
class Member:
    """A mark: all members of the same cut.

    Attributes:
        mark: Kind and number, such as ``Common 1``.
        kind: Stable kind.
        count: How many.
        length_in: Length along the top edge, long point to long point as the cuts leave it.
        stock_in: Length of the board to buy.
        section: Nominal section, such as ``2x8``.
        depth_in: Depth square to the edge.
        thickness_in: Thickness.
        cuts: Every cut, from the low end up.
        profile: Side view in its own axes: x along the top edge from the lower end, y square up from the bottom edge;
            closed ring, so the top edge lies at y = depth. Bevelled ends show their long points.
        measures: What to mark on the stock.
        placements: Where each stands.
        traces: How the figures were found.
        angle_deg: Slope it stands at, degrees.
        left: Of the count, how many are cut as drawn, where the mark is needed both ways round.
        right: Of the count, how many are cut as the mirror image.
        top: The top edge seen square on: x along it from the lower long point, y across, the left face at
            +thickness / 2; closed ring, empty where both ends are square.
        drop_in: How far, plumb, the top edge lies under the line where the planes meet (a dropped hip).
        backing_deg: Bevel of the left and right half of a backed hip's top edge, degrees off square; of one of several
            boards that is bevelled over its whole width that bevel alone; empty if none.
        plies: How many boards like this, side by side, make one member.
        high_face: Of a board bevelled over its whole width, the face that keeps its height.
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
    left: int = 0
    right: int = 0
    top: tuple[Point2, ...] = ()
    drop_in: float = 0.0
    backing_deg: tuple[float, ...] = ()
    plies: int = 1
    high_face: Hand = ""


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
        return self._supports.get(plane_id, ())

    @cached_property
    def _supports(self) -> dict[str, tuple[float, ...]]:
        return dict(self.supports)
