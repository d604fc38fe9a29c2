"""Drawings as plain primitives in real inches, painted alike on screen and on paper.

A primitive says *what* it shows (its role) and *which object* it belongs to (its key); how thick, how dashed and how
grey that is on a page or on the screen is the painter's business, looked up in ``styles.py``. Text has no size in
inches: it keeps its printed size at every scale.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from workbench.roof.model import Point2

Role = Literal[
    "building_line",
    "eave",
    "rake",
    "ridge",
    "hip",
    "valley",
    "wall",
    "pitch_break",
    "step",
    "plane",
    "opening",
    "plane_name",
    "slope_arrow",
    "rafter",
    "ridge_board",
    "board",
    "sheet",
    "sheet_whole",
    "sheet_cut",
    "snap_line",
    "joint",
    "nail_line",
    "off_cut",
    "wood",
    "plate",
    "landing",
    "support",
    "sheathing",
    "cut_line",
    "bracket",
    "ground",
    "open_edge",
    "guarded_edge",
    "anchor",
    "rope",
    "exposed",
    "unserved",
    "dimension",
    "note",
    "title",
]
TextSize = Literal["small", "label", "large", "title"]
Anchor = Literal["centre", "left", "right"]
Hatch = Literal["none", "diagonal", "cross", "grain"]


@dataclass(frozen=True, slots=True)
class Line:
    """A straight line, drawn on past its start and end by ``past`` printed millimetres."""

    key: str
    role: Role
    start: Point2
    end: Point2
    past: Point2 = (0.0, 0.0)


@dataclass(frozen=True, slots=True)
class Polygon:
    """A closed outline, filled by its role's tint (0 white to 1 black when ``tint`` is given) and hatch."""

    key: str
    role: Role
    points: tuple[Point2, ...]
    tint: float | None = None
    hatch: Hatch = "none"


@dataclass(frozen=True, slots=True)
class Arrow:
    """A line with a head at its end."""

    key: str
    role: Role
    start: Point2
    end: Point2


@dataclass(frozen=True, slots=True)
class Text:
    """Real text at a point.

    Attributes:
        key: Object it belongs to.
        role: What it says.
        at: Anchor point, inches.
        text: One line, or several parted by newlines.
        size: Printed size class.
        angle_deg: Anticlockwise turn; painters keep it readable from below or from the right.
        anchor: Horizontal anchor; vertically it is centred.
        back: Whether a plain background is laid behind it, so that lines do not cross it.
        shift: Printed millimetres between the point and the near side of the text, to the left of ``angle_deg`` (to the
            right where negative); 0 centres the text on its point.
        within: Outline the text should stay inside; where it can't, painters that know their scale take a shorter text
            or set it outside with a leader. Empty where it is free.
        shorter: What may be written instead where there is no room, fullest first; an empty one leaves it out.
        off: Printed millimetres to the right and up that the point itself is moved.
        span: Length along its direction, inches, that it should not be longer than; 0 where it is free.
        also: Other points where it may stand as well, taken by painters that look for room.
        smaller: Whether its shortest words may be set small before it is left out.
    """

    key: str
    role: Role
    at: Point2
    text: str
    size: TextSize = "label"
    angle_deg: float = 0.0
    anchor: Anchor = "centre"
    back: bool = False
    shift: float = 0.0
    within: tuple[Point2, ...] = ()
    shorter: tuple[str, ...] = ()
    off: Point2 = (0.0, 0.0)
    span: float = 0.0
    also: tuple[Point2, ...] = ()
    smaller: bool = False


@dataclass(frozen=True, slots=True)
class Dimension:
    """A measured length: witness lines, a line with ticks, and its text.

    Attributes:
        key: Object it belongs to.
        start: First measured point.
        end: Second measured point.
        text: What is written on it, already formatted.
        offset: Distance of the dimension line from the points, in printed millimetres, to the left of start → end.
        level: ``along`` the points, or projected ``horizontal`` or ``vertical``.
        size: Printed size class of the text.
        shorter: What may be written instead where the text is longer than the line, fullest first.
    """

    key: str
    start: Point2
    end: Point2
    text: str
    offset: float = 6.0
    level: Literal["along", "horizontal", "vertical"] = "along"
    size: TextSize = "label"
    shorter: tuple[str, ...] = ()


Primitive = Line | Polygon | Arrow | Text | Dimension


@dataclass(frozen=True)
class Drawing:
    """Primitives in drawing order, first at the back."""

    items: tuple[Primitive, ...] = ()

    def bounds(self) -> tuple[float, float, float, float]:
        """Least and greatest x and y of all points: (x0, y0, x1, y1); all 0 for an empty drawing."""
        points = [point for item in self.items for point in points_of(item)]
        if not points:
            return 0.0, 0.0, 0.0, 0.0
        xs, ys = [x for x, _ in points], [y for _, y in points]
        return min(xs), min(ys), max(xs), max(ys)

    def __add__(self, other: Drawing) -> Drawing:
        """Both drawings, this one at the back."""
        return Drawing(self.items + other.items)


def points_of(item: Primitive) -> tuple[Point2, ...]:
    """The points that fix where a primitive lies."""
    match item:
        case Polygon():
            return item.points
        case Text():
            return (item.at,)
        case Line() | Arrow() | Dimension():
            return (item.start, item.end)
