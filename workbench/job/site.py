"""What the crew decides on the deck: from where props stand, from which end the layout stick runs, what was measured;
and gable walls, where a wing asks for them.
"""

from __future__ import annotations

from typing import Annotated, Literal

from msgspec import Meta

from workbench.job.as_built import AsBuilt
from workbench.job.values import Length, Position, PositiveLength, Value


class Site(Value, frozen=True, kw_only=True):
    """Choices for the day the roof is raised.

    Attributes:
        deck_in: Height of the deck that props stand on, from the level that plates are drawn from; None measures
            them from the plate.
        stick_from: End of each plane, seen from outside below, that the layout stick runs from.
        as_built: What was measured.
    """

    deck_in: Position | None = None
    stick_from: Literal["left", "right"] = "left"
    as_built: AsBuilt = AsBuilt()


class GableWalls(Value, frozen=True, kw_only=True):
    """Studs and sloped plates of the gable walls of a wing, over its top plate.

    Attributes:
        spacing_in: Spacing of the studs, on centre.
        start: End of the wall, seen from outside below, that the studs are laid out from.
        thickness_in: Thickness of studs and plates.
        depth_in: Depth of the studs, width of the plates.
        plates: Sloped plates on the studs; 0 brings the studs up to the rafter itself.
        drop_in: Plumb from the underside of the rafters down to the top of what carries them.
        ridge_pocket: Leaves the ridge board's way through the wall open.
        vent_width_in: Width of an opening for a vent in the middle of the gable; 0 for none.
        vent_height_in: Its height.
        vent_sill_in: Height of its lower side above the top plate.
    """

    spacing_in: Annotated[float, Meta(ge=4.0, le=48.0, description="inches")] = 16.0
    start: Literal["left", "right"] = "left"
    thickness_in: PositiveLength = 1.5
    depth_in: PositiveLength = 3.5
    plates: Annotated[int, Meta(ge=0, le=2)] = 1
    drop_in: Length = 0.0
    ridge_pocket: bool = False
    vent_width_in: Length = 0.0
    vent_height_in: Length = 0.0
    vent_sill_in: Length = 0.0
