"""How the roof is dried in: edge metal, tape or underlayment, valleys, walls, ice barrier, air.

Sizes of rolls and pieces are what is bought; their defaults are common practice and have no source. The makers'
instructions go first.
"""

from __future__ import annotations

from typing import Annotated, Literal

from msgspec import Meta
from msgspec.structs import replace

from workbench.errors import JobError
from workbench.job.values import Identifier, Length, PositiveLength, Value

Tightness = Literal["taped_panels", "underlayment"]
ValleyLining = Literal["none", "open_metal", "open_roll", "closed"]
IrcEdition = Literal["2018", "2021", "2024"]
Air = Literal["not_said", "vented", "unvented"]
VentShare = Literal[150, 300]


class Tape(Value, frozen=True, kw_only=True):
    """One kind of tape: inches.

    Attributes:
        width_in: Width.
        roll_in: Length of a roll.
        lap_in: How far a new length laps over the one before, and one seam's end over another seam.
    """

    width_in: PositiveLength
    roll_in: PositiveLength
    lap_in: Length = 2.0


class IceBarrier(Value, frozen=True, kw_only=True):
    """The ice barrier, where the climate asks for one.

    Attributes:
        edition: Edition of the IRC.
        inside_in: How far past the exterior wall line it has to reach, level.
        wall_in: How far the exterior wall line lies outside the building line as drawn.
        roll_width_in: Width of a roll.
        roll_in: Length of a roll.
        lap_in: Lap of one course over the next.
        end_lap_in: Lap of ends.
    """

    edition: IrcEdition = "2021"
    inside_in: PositiveLength = 24.0
    wall_in: Length = 0.0
    roll_width_in: PositiveLength = 36.0
    roll_in: PositiveLength = 780.0
    lap_in: Length = 3.5
    end_lap_in: Length = 6.0


class DryingIn(Value, frozen=True, kw_only=True):
    """The choices of drying in.

    Attributes:
        tight: What keeps the water out under the covering: sealed panels with ``taped_panels`` seams, or
            ``underlayment``.
        metal_piece_in: Length that edge metal is sold in.
        metal_lap_in: Lap of edge metal.
        metal_up_in: How far edge metal goes up on the deck.
        seam_tape: Tape of the joints between panels.
        wide_tape: Tape of hips, valleys, ridges, walls and edge metal.
        valley: Lining of the valleys.
        valley_width_in: Width of the lining.
        valley_piece_in: Length of a piece or a roll of it.
        valley_lap_in: Lap of its pieces.
        flashing_in: Leg of roof-to-wall flashing, up the wall and out on the deck alike.
        flashing_piece_in: Length of a piece of continuous flashing.
        flashing_lap_in: Its lap.
        course_in: Exposure of a course of the covering: one piece of step flashing each.
        ice: The ice barrier, or None where the climate asks for none.
        air: Whether the space under the roof is vented.
        not_vented: Wings without a vented space of their own: porches, rooms open to the rafters.
        vent_share: Net free area: one part in so many of the vented area.
        vapor_retarder: Whether a Class I or II vapor retarder is on the warm side (with 1/300).
        ridge_vent_sqin_ft: Net free area of the ridge vent by the foot, square inches, as its maker says; None
            takes the open slot itself.
        upper_share: Share of the free area that is wanted in the upper part.
        roll_width_in: Width of a roll of underlayment.
        roll_in: Its length.
        roll_lap_in: Lap of courses where it lies single.
        roll_end_lap_in: Lap of ends.
    """

    tight: Tightness = "taped_panels"
    metal_piece_in: PositiveLength = 120.0
    metal_lap_in: Length = 2.0
    metal_up_in: Length = 2.0
    seam_tape: Tape = Tape(width_in=4.0, roll_in=1080.0)
    wide_tape: Tape = Tape(width_in=6.0, roll_in=900.0)
    valley: ValleyLining = "open_metal"
    valley_width_in: PositiveLength = 24.0
    valley_piece_in: PositiveLength = 120.0
    valley_lap_in: Length = 12.0
    flashing_in: PositiveLength = 4.0
    flashing_piece_in: PositiveLength = 120.0
    flashing_lap_in: Length = 2.0
    course_in: PositiveLength = 5.0
    ice: IceBarrier | None = None
    air: Air = "not_said"
    not_vented: Annotated[tuple[Identifier, ...], Meta(max_length=200)] = ()
    vent_share: VentShare = 150
    vapor_retarder: bool = False
    ridge_vent_sqin_ft: Annotated[float, Meta(gt=0.0, le=400.0)] | None = None
    upper_share: Annotated[float, Meta(ge=0.0, le=1.0)] = 0.5
    roll_width_in: PositiveLength = 36.0
    roll_in: PositiveLength = 1728.0
    roll_lap_in: Length = 2.0
    roll_end_lap_in: Length = 4.0


def vented_without(drying: DryingIn, wing_id: str) -> DryingIn:
    """The choices without a wing that is not there any more."""
    return replace(drying, not_vented=tuple(wing for wing in drying.not_vented if wing != wing_id))


def check_drying_in(drying: DryingIn) -> None:
    """Refuse laps that leave nothing of a piece.

    Raises:
        JobError: One sentence with the place and the mend.
    """
    pieces: list[tuple[str, float, float]] = [
        ("metal_lap_in", drying.metal_lap_in, drying.metal_piece_in),
        ("seam_tape.lap_in", drying.seam_tape.lap_in, drying.seam_tape.roll_in),
        ("wide_tape.lap_in", drying.wide_tape.lap_in, drying.wide_tape.roll_in),
        ("valley_lap_in", drying.valley_lap_in, drying.valley_piece_in),
        ("flashing_lap_in", drying.flashing_lap_in, drying.flashing_piece_in),
        ("roll_lap_in", drying.roll_lap_in, drying.roll_width_in),
        ("roll_end_lap_in", drying.roll_end_lap_in, drying.roll_in),
    ]
    if drying.ice is not None:
        pieces.append(("ice.lap_in", drying.ice.lap_in, drying.ice.roll_width_in))
        pieces.append(("ice.end_lap_in", drying.ice.end_lap_in, drying.ice.roll_in))
    for name, lap, whole in pieces:
        if lap > whole / 2.0:
            msg = f"drying_in.{name} is {lap:g} in, more than half of the {whole:g} in of a piece; give a smaller lap."
            raise JobError(msg)
