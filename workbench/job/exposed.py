"""Eaves and rakes that are seen from below: in another material than the sheets."""

from __future__ import annotations

from typing import Annotated, Literal

from msgspec import Meta

from workbench.job.values import Length, PositiveLength, Value

Finish = Literal["boards", "panel"]


class ExposedEdges(Value, frozen=True, kw_only=True):
    """The strips along the roof's edges that are seen from below; the ordinary sheets begin where they end.

    Attributes:
        finish: ``boards`` laid along the eave, or finish ``panel``s of the sheets' size.
        eaves_in: Width up the slope, from the lower edge of the sheathing; 0 where the sheets run to the eave.
        rakes_in: Width in from the rake's edge, level; 0 where the sheets run to the rake.
        thickness_in: Thickness of the boards or finish panels.
        board_in: What one board covers, up the slope.
    """

    finish: Finish = "boards"
    eaves_in: Length = 0.0
    rakes_in: Length = 0.0
    thickness_in: PositiveLength = 0.75
    board_in: Annotated[float, Meta(ge=1.0, le=48.0, description="inches")] = 5.25

    @property
    def any(self) -> bool:
        """Whether there is any such strip."""
        return self.eaves_in > 0.0 or self.rakes_in > 0.0
