"""A cricket: the small roof of two planes behind a chimney that turns the water off to both sides."""

from __future__ import annotations

from workbench.job.values import SlopeIn12, Value


class Cricket(Value, frozen=True, kw_only=True):
    """A cricket over the whole width of a chimney, framed over the sheathed plane.

    Its ridge is level and runs from the middle of the chimney's upper side until it meets the plane.

    Attributes:
        slope_in_12: Slope of its two planes; None takes the plane's own.
    """

    slope_in_12: SlopeIn12 | None = None
