"""What a laid-out drawing is played with: a PDF page, an SVG, whatever draws lines, outlines and texts."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Protocol

from workbench.drawing.primitives import Anchor
from workbench.roof.model import Point2


class Ink(Protocol):
    """Draws on a page measured in points from its lower left corner; greys run from 0 black to 1 white."""

    def line(self, start: Point2, end: Point2, weight: float, *, ink: float = 0.0, dash: Sequence[float] = ()) -> None:
        """Draw a line."""
        ...

    def polygon(
        self,
        ring: Sequence[Point2],
        weight: float,
        *,
        fill: float | None = None,
        ink: float = 0.0,
        dash: Sequence[float] = (),
    ) -> None:
        """Draw an outline (none at weight 0), filled with a grey."""
        ...

    def text(
        self,
        x: float,
        y: float,
        text: str,
        size: float,
        *,
        bold: bool = False,
        anchor: Anchor = "left",
        angle_deg: float = 0.0,
        ink: float = 0.0,
    ) -> None:
        """Write one line; the point is its baseline's left end, middle or right end."""
        ...
