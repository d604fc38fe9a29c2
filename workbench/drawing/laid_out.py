"""What a drawing set out on a page is made of: strokes, areas and placed texts. Points."""

from __future__ import annotations

from dataclasses import dataclass

from workbench.drawing.primitives import Anchor, Hatch, Role
from workbench.drawing.shapes import box
from workbench.roof.model import Point2

Segment = tuple[Point2, Point2]


@dataclass(frozen=True, slots=True)
class Stroke:
    """A line, points."""

    role: Role
    start: Point2
    end: Point2
    solid: bool = False


@dataclass(frozen=True, slots=True)
class Area:
    """A filled outline, points; ``fill`` is a grey from 0 black to 1 white, or None."""

    key: str
    role: Role
    ring: tuple[Point2, ...]
    fill: float | None
    hatch: Hatch = "none"
    outlined: bool = True


@dataclass(frozen=True, slots=True)
class Lettering:
    """One text, placed.

    Attributes:
        key: Object it belongs to.
        role: What it says.
        lines: Its lines, top first.
        size_pt: Size of type.
        centre: Middle of the block.
        angle_deg: Turn, between -90 and 90.
        anchor: How lines stand against each other.
        box: Corners of the block.
        back: Grey laid behind it, or None.
    """

    key: str
    role: Role
    lines: tuple[str, ...]
    size_pt: float
    centre: Point2
    angle_deg: float
    anchor: Anchor
    box: tuple[Point2, ...]
    back: float | None


@dataclass(frozen=True)
class Layout:
    """A drawing set out: areas and strokes in drawing order, then texts; ``leaders`` of them away from their place."""

    marks: tuple[Area | Stroke, ...]
    texts: tuple[Lettering, ...]
    leaders: int = 0

    def bounds(self) -> tuple[float, float, float, float]:
        """Least and greatest x and y of everything, points."""
        points: list[Point2] = [point for text in self.texts for point in text.box]
        for mark in self.marks:
            points += mark.ring if isinstance(mark, Area) else (mark.start, mark.end)
        return box(points) if points else (0.0, 0.0, 0.0, 0.0)
