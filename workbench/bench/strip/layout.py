"""Where the drawing and the number boxes of the strip go: plain arithmetic in pixels, y down, without Qt."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from workbench.roof.model import Point2

Bounds = tuple[float, float, float, float]
Box = tuple[float, float, float, float]

GAP = 4.0
BESIDE = 26.0
"""Room between the drawing and its numbers, where the leaders run, pixels."""


@dataclass(frozen=True, slots=True)
class Scale:
    """Uniform mapping of section inches to pixels.

    Attributes:
        factor: Pixels an inch, both ways alike.
        left: Pixel of x = 0.
        base: Pixel of height 0.
    """

    factor: float
    left: float
    base: float

    def to_pixels(self, point: Point2) -> Point2:
        """A section point in pixels."""
        return self.left + point[0] * self.factor, self.base - point[1] * self.factor

    def to_section(self, pixel: Point2) -> Point2:
        """A pixel as a section point, inches."""
        return (pixel[0] - self.left) / self.factor, (self.base - pixel[1]) / self.factor


def fit(bounds: Bounds, room: Box) -> Scale:
    """The largest uniform scale at which bounds (x0, y0, x1, y1, inches) fit the room (x, y, width, height, pixels)."""
    x0, y0, x1, y1 = bounds
    x, y, width, height = room
    factor = min(width / max(x1 - x0, 1e-6), height / max(y1 - y0, 1e-6))
    left = x + (width - factor * (x1 - x0)) / 2.0 - factor * x0
    return Scale(factor, left, y + (height + factor * (y1 - y0)) / 2.0 + factor * y0)


def stack(wanted: Sequence[tuple[float, float]], top: float, bottom: float) -> tuple[float, ...]:
    """Tops of boxes in one column, each as near as can be to where it is wanted, none over another.

    Args:
        wanted: Wanted middle and height of each box, in order from the top.
        top: Upper end of the column.
        bottom: Lower end; boxes that don't fit in all go past it rather than over one another.
    """
    tops: list[float] = []
    edge = top
    for middle, height in wanted:
        edge = max(edge, middle - height / 2.0)
        tops.append(edge)
        edge += height + GAP
    limit = bottom
    for i in range(len(tops) - 1, -1, -1):
        limit -= wanted[i][1]
        tops[i] = min(tops[i], limit)
        limit = tops[i] - GAP
    lowest = top
    for i, (_, height) in enumerate(wanted):
        tops[i] = max(tops[i], lowest)
        lowest = tops[i] + height + GAP
    return tuple(tops)
