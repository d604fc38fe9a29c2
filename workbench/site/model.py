"""What the crew needs on the deck the day the roof is raised. Inches and degrees, unrounded."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from workbench.findings import Finding
from workbench.framing.model import MemberKind
from workbench.job.model import Tail as TailCut
from workbench.measure import Trace
from workbench.roof.model import Point2

SetKind = Literal["ridge", "hip", "valley"]
PropPlace = Literal["one end", "other end", "joint", "halfway", "head"]


@dataclass(frozen=True, slots=True)
class Prop:
    """One prop under a ridge board, hip or valley.

    Attributes:
        place: Where along it the prop stands.
        at: Plan point of its centre.
        along_in: The same along the wall it is measured from, from that wall's left end; None without a wall.
        off_in: And in from that wall's building line.
        top_in: Height of the member's top edge there, as set.
        depth_in: Plumb depth of the member there.
        base_in: Height of what the prop stands on.
        length_in: The prop, from what it stands on to the member's underside on its centre line.
        bevel_deg: How far its top is cut off square.
        long_in: Its long point: what is cut off a board so thick, on the uphill side.
        trace: How its length was found.
    """

    place: PropPlace
    at: Point2
    along_in: float | None
    off_in: float | None
    top_in: float
    depth_in: float
    base_in: float
    length_in: float
    bevel_deg: float
    long_in: float
    trace: Trace


@dataclass(frozen=True, slots=True)
class SetHeight:
    """A ridge board, hip or valley to be set: how high, and what holds it up until rafters do.

    Attributes:
        kind: What it is.
        mark: Its mark.
        name: The planes it lies between, in words.
        wall: The wall its props are measured from, by its plane; empty where there is none.
        top_in: Height of its highest point, from the level that plates are drawn from.
        above_plate_in: The same above the plate of its wing.
        above_deck_in: The same above the deck; None where no deck's height is given.
        props: Its props, from the left or from the foot.
    """

    kind: SetKind
    mark: str
    name: str
    wall: str
    top_in: float
    above_plate_in: float
    above_deck_in: float | None
    props: tuple[Prop, ...]


@dataclass(frozen=True, slots=True)
class StickMark:
    """One line on the layout stick.

    Attributes:
        line_in: Where the line is drawn: the member's near face, from the stick's beginning.
        centre_in: Its centre line.
        mark: The mark that stands there.
        kind: What it is.
        hand: ``left`` or ``right`` for a mark that is cut both ways, else empty.
    """

    line_in: float
    centre_in: float
    mark: str
    kind: MemberKind
    hand: str


@dataclass(frozen=True)
class LayoutStick:
    """Running marks along a plate or a ridge. The cross goes on the far side of every line.

    Attributes:
        on: What it is laid along.
        planes: Ids of the planes it serves, with equal marks.
        name: Where it is, in words.
        begins: Which end it runs from, in words.
        length_in: From where it begins to its other end.
        marks: From where it begins.
        trace: How its lines were found.
    """

    on: Literal["plate", "ridge"]
    planes: tuple[str, ...]
    name: str
    begins: str
    length_in: float
    marks: tuple[StickMark, ...]
    trace: Trace


@dataclass(frozen=True)
class JackStick:
    """Where jacks meet a hip or valley, along its top edge.

    Attributes:
        mark: The hip's or valley's mark.
        kind: Which of the two it is.
        count: How many are alike.
        length_in: Its length along the top edge.
        marks: From its low end: centre of each jack on the centre line, and the jack; those of both sides that meet in
            one point once.
    """

    mark: str
    kind: Literal["hip", "valley"]
    count: int
    length_in: float
    marks: tuple[tuple[float, str], ...]


@dataclass(frozen=True, slots=True)
class Seat:
    """How one rafter sits on the plate as it was measured.

    Attributes:
        mark: The rafter's mark.
        depth_in: Its depth square to the edge.
        at_in: Its centre along the plate, from the left corner seen from outside below.
        plate_in: Height of the plate there, straight between what was measured at the corners.
        off_in: How far that is over (+) or under (−) the plate as drawn.
        hap_in: Height above plate that keeps its top edge in the plane.
        seat_in: Level length of the seat that goes with it; not over 0 where it passes over the plate.
        notch_in: Depth of the notch square to the rafter; 0 where none is cut.
        shim_in: What fills the gap under a rafter cut as drawn; 0 where the plate is not low.
    """

    mark: str
    depth_in: float
    at_in: float
    plate_in: float
    off_in: float
    hap_in: float
    seat_in: float
    notch_in: float
    shim_in: float


@dataclass(frozen=True)
class MeasuredPlate:
    """An eave whose plate was measured.

    Attributes:
        edge: The drawn eave, as ``wing/edge``.
        name: Where it is, in words.
        drawn_in: Plate height as drawn.
        left_in: As measured at the left corner, or as drawn.
        right_in: At the right corner.
        drawn_seat_in: Seat as drawn; None where no rafter sits here.
        seats: The rafters from left to right.
        traces: How the first one's figures were found.
    """

    edge: str
    name: str
    drawn_in: float
    left_in: float
    right_in: float
    drawn_seat_in: float | None
    seats: tuple[Seat, ...]
    traces: tuple[Trace, ...]


@dataclass(frozen=True, slots=True)
class TapedLength:
    """A taped length against the drawn one.

    Attributes:
        name: Between which corners, in words.
        drawn_in: As drawn.
        measured_in: As taped.
        fitted_in: As the corrected outline has it.
    """

    name: str
    drawn_in: float
    measured_in: float
    fitted_in: float


@dataclass(frozen=True)
class Squaring:
    """What taped lengths say of a wing's building line.

    Attributes:
        wing: Wing id.
        name: Its name.
        lengths: What was taped.
        out_of_square_in: Difference of the two diagonals of a four-cornered outline, measured less drawn; None
            where there are not two.
        shifts: How far each corner moves, in the order of the outline, so that all taped lengths fit.
        outline: The outline with the corners moved.
        fits: Whether all lengths fit.
        trace: How it was found.
    """

    wing: str
    name: str
    lengths: tuple[TapedLength, ...]
    out_of_square_in: float | None
    shifts: tuple[Point2, ...]
    outline: tuple[Point2, ...]
    fits: bool
    trace: Trace


@dataclass(frozen=True, slots=True)
class MeasuredLengths:
    """A plane whose length was taped at both ends, or at one.

    Attributes:
        plane: Plane id.
        name: Its name.
        drawn_in: Plane length as drawn.
        left_in: As measured along the left end; where only the other end was, as long as that.
        right_in: Along the right end.
    """

    plane: str
    name: str
    drawn_in: float
    left_in: float
    right_in: float

    @property
    def taper_in(self) -> float:
        """How much longer the right end is."""
        return self.right_in - self.left_in


@dataclass(frozen=True)
class Tail:
    """The rafter tails of one eave and what is fixed to them.

    Attributes:
        edge: The drawn eave, as ``wing/edge``.
        plane: The plane over it.
        name: Where it is, in words.
        tail: How it is cut: ``plumb``, ``square`` or with a ``level`` return.
        overhang_in: Level, from the building line to the tail's cut.
        depth_in: Rafter depth square to its edge.
        face_in: Height of the tail's face: its plumb cut, what a level cut leaves of it, or the square cut.
        top_in: Height of the rafter's top edge at the tail.
        bottom_in: Height of the tail's lowest point.
        tangent: Slope, rise / run.
        fascia_in: Depth of the fascia; None where there is none.
        fascia_thickness_in: Its thickness.
        fascia_drop_in: How far under the tail's top a fascia with a square upper edge is set, so that its outer top
            corner does not lift the sheathing; 0 with a bevelled edge.
        fascia_below_in: How far the fascia reaches below the tail (under 0: it leaves so much of the tail bare).
        sub_fascia_thickness_in: Thickness of the sub-fascia; 0 where there is none.
        sub_fascia_bevel_deg: Bevel of its upper edge, and of a bevelled fascia's.
        plate_in: Top of the plate.
        hap_in: Height above plate.
        soffit_in: Height of a level soffit's upper side, at the tail's lowest point.
        soffit_over_plate_in: The same over the plate (under 0: below it).
        soffit_over_ground_in: The same over the ground, at the lower end of the ground line.
        frieze_in: Height at which the rafter's underside meets the wall line: top of a frieze without a level soffit.
        barge_overhang_in: Rake overhang beside it; 0 where there is none.
        traces: How the figures were found.
    """

    edge: str
    plane: str
    name: str
    tail: TailCut
    overhang_in: float
    depth_in: float
    face_in: float
    top_in: float
    bottom_in: float
    tangent: float
    fascia_in: float | None
    fascia_thickness_in: float
    fascia_drop_in: float
    fascia_below_in: float
    sub_fascia_thickness_in: float
    sub_fascia_bevel_deg: float
    plate_in: float
    hap_in: float
    soffit_in: float
    soffit_over_plate_in: float
    soffit_over_ground_in: float
    frieze_in: float
    barge_overhang_in: float
    traces: tuple[Trace, ...]


@dataclass(frozen=True, slots=True)
class Covering:
    """What the sheathing's thickness does along one line of the roof.

    Attributes:
        kind: ``plane``, ``ridge``, ``hip``, ``valley`` or ``overframed``.
        name: Where, in words.
        figure_in: What it amounts to: plumb thickness on a plane; elsewhere how far along the sheet its upper face is
            longer (ridge, hip) or shorter (valley) than its lower one when it is cut to lie close; on an overframed
            roof how far up the slope the sheathing of the roof below pushes the valley's edge.
        bevel_deg: Bevel of the sheet's edge that lies close, off square.
        trace: How it was found.
    """

    kind: Literal["plane", "ridge", "hip", "valley", "overframed"]
    name: str
    figure_in: float
    bevel_deg: float
    trace: Trace


@dataclass(frozen=True)
class SitePlan:
    """All of it.

    Attributes:
        heights: Ridge boards, hips and valleys to be set.
        sticks: Layout sticks, plates first.
        jacks: Where jacks meet hips and valleys.
        tails: One an eave.
        coverings: What the sheathing's thickness does.
        plates: Eaves whose plates were measured.
        squarings: Wings on which lengths were taped.
        lengths: Planes whose lengths were taped.
        base_words: What props stand on, in words.
        findings: What stands against it.
    """

    heights: tuple[SetHeight, ...] = ()
    sticks: tuple[LayoutStick, ...] = ()
    jacks: tuple[JackStick, ...] = ()
    tails: tuple[Tail, ...] = ()
    coverings: tuple[Covering, ...] = ()
    plates: tuple[MeasuredPlate, ...] = ()
    squarings: tuple[Squaring, ...] = ()
    lengths: tuple[MeasuredLengths, ...] = ()
    base_words: str = ""
    findings: tuple[Finding, ...] = ()


NO_SITE = SitePlan()
"""Nothing to set out."""
