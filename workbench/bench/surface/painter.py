"""Paints drawing primitives with Qt, in screen pixels and in the theme's colours.

Weights, dashes and words come from the drawing's own style table, greys become mixtures of the theme's ink and paper,
so that screen and grey print differ in nothing but colour. ``paint_drawing`` paints at once, for the strip, cut cards
and stock sheets; the surface keeps items that call the same functions.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, field
from functools import lru_cache

from PySide6.QtCore import QLineF, QPointF, QRectF, Qt
from PySide6.QtGui import QBrush, QColor, QFont, QFontMetricsF, QPainter, QPen, QPolygonF, QTransform

from workbench.bench import theme
from workbench.drawing.primitives import Arrow, Dimension, Drawing, Hatch, Line, Polygon, Role, Text, TextSize
from workbench.drawing.shapes import contains
from workbench.drawing.styles import STYLES
from workbench.roof.model import Point2

PX_PER_MM = 96.0 / 25.4
PX_PER_PT = 96.0 / 72.0

# A screen is read from nearer than a sheet on a roof.
_SCREEN_PT: Mapping[TextSize, float] = {"small": 8.0, "label": 9.0, "large": 10.5, "title": 13.0}
_HEAD_PX = 9.0
_TICK_PX = 5.0
_BACK_PX = 3.0
_HATCHES: Mapping[Hatch, Qt.BrushStyle] = {
    "none": Qt.BrushStyle.NoBrush,
    "diagonal": Qt.BrushStyle.BDiagPattern,
    "cross": Qt.BrushStyle.DiagCrossPattern,
    "grain": Qt.BrushStyle.HorPattern,
}


@dataclass(frozen=True, slots=True)
class Marks:
    """Which keys stand out.

    Attributes:
        selected: Keys of what is selected.
        hovered: Keys of what the pointer is on.
        quiet: Roles that step back, painted in the grid's grey.
    """

    selected: frozenset[str] = field(default_factory=lambda: frozenset[str]())
    hovered: frozenset[str] = field(default_factory=lambda: frozenset[str]())
    quiet: frozenset[Role] = field(default_factory=lambda: frozenset[Role]())


NO_MARKS = Marks()


def mixed(a: QColor, b: QColor, share: float) -> QColor:
    """The colour ``share`` of the way from a to b."""
    return QColor.fromRgbF(
        a.redF() + (b.redF() - a.redF()) * share,
        a.greenF() + (b.greenF() - a.greenF()) * share,
        a.blueF() + (b.blueF() - a.blueF()) * share,
    )


def pen_of(role: Role, key: str = "", marks: Marks = NO_MARKS) -> QPen:
    """The pen of a role: cosmetic, its weight in screen pixels, heavier and in the accent where it is selected."""
    style = STYLES[role]
    selected, hovered = key in marks.selected, key in marks.hovered
    lit = (selected or hovered) and role not in {"plane", "wood"}
    if style.weight <= 0.0 and not lit:
        return QPen(Qt.PenStyle.NoPen)
    width = max(style.weight * PX_PER_PT, 1.0)
    colours = theme.current()
    pen = QPen(_ink(role, style.ink, marks), width)
    if style.dash:
        pen.setDashPattern([part * PX_PER_PT / width for part in style.dash])
    if lit:
        pen.setColor(colours.accent if selected else mixed(colours.accent, colours.ink, 0.35))
        pen.setWidthF(width + (1.2 if selected else 0.6))
    pen.setCapStyle(Qt.PenCapStyle.FlatCap)
    pen.setJoinStyle(Qt.PenJoinStyle.MiterJoin)
    pen.setCosmetic(True)
    return pen


def brush_of(item: Polygon, marks: Marks = NO_MARKS) -> QBrush:
    """The plain fill of a polygon."""
    colours = theme.current()
    style = STYLES[item.role]
    grey = style.fill if item.tint is None else 1.0 - item.tint
    if item.key in marks.selected:
        return QBrush(colours.accent_soft)
    if grey is None:
        return QBrush(Qt.BrushStyle.NoBrush)
    ground = colours.wood if item.role in {"wood", "plate", "ridge_board", "landing"} else colours.sheet
    if item.role == "plane":
        ground = mixed(colours.paper, colours.sheet, 0.7)
    # Full ink as a fill would drown the text on it: tints go half of the way.
    fill = mixed(ground, colours.ink, 0.5 * (1.0 - grey)) if item.role not in {"wood", "plate", "landing"} else ground
    return QBrush(mixed(fill, colours.accent_soft, 0.45) if item.key in marks.hovered else fill)


def text_colour(role: Role, marks: Marks = NO_MARKS) -> QColor:
    """The colour of text of a role."""
    return _ink(role, STYLES[role].ink, marks)


def font_of(size: TextSize) -> QFont:
    """The font of a size class."""
    return _font(size)


def paint_drawing(painter: QPainter, drawing: Drawing, to_px: QTransform, marks: Marks = NO_MARKS) -> None:
    """Paint a whole drawing.

    Args:
        painter: A painter whose own axes are pixels.
        drawing: What to paint.
        to_px: Maps drawing inches to the painter's pixels, the same scale both ways.
        marks: Which keys stand out.
    """
    scale = math.sqrt(abs(to_px.determinant()))
    rooms = rooms_of(drawing)
    grounds = {item.key: brush_of(item, marks).color() for item in drawing.items if isinstance(item, Polygon)}
    for item in drawing.items:
        match item:
            case Line():
                painter.setPen(pen_of(item.role, item.key, marks))
                painter.drawLine(QLineF(_map(to_px, item.start), _map(to_px, item.end)))
            case Polygon():
                _paint_polygon(painter, item, to_px, marks)
            case Arrow():
                vector = _map(to_px, item.end) - _map(to_px, item.start)
                paint_arrow(painter, item, _map(to_px, item.start), vector, marks)
            case Dimension():
                start = _map(to_px, item.start)
                paint_dimension(painter, item, start, _map(to_px, item.end) - start, marks)
            case Text():
                chosen = fitting_text(item, scale, rooms.get(item.key, math.inf))
                ground = grounds.get(item.key) if item.within else None
                paint_text(painter, item, chosen, _map(to_px, item.at), marks, ground)


def paint_hatch(painter: QPainter, points: QPolygonF, item: Polygon, marks: Marks = NO_MARKS) -> None:
    """Hatch a polygon given in pixels."""
    if item.hatch != "none":
        painter.setPen(Qt.PenStyle.NoPen)
        ink = mixed(_ink(item.role, STYLES[item.role].ink, marks), theme.current().paper, 0.45)
        painter.setBrush(QBrush(ink, _HATCHES[item.hatch]))
        painter.drawPolygon(points)


def paint_arrow(painter: QPainter, item: Arrow, start: QPointF, vector: QPointF, marks: Marks = NO_MARKS) -> None:
    """A line with a head, from ``start`` over ``vector``, both pixels."""
    length = math.hypot(vector.x(), vector.y())
    if length < 2.0 * _HEAD_PX:
        return
    pen = pen_of(item.role, "", marks)
    pen.setJoinStyle(Qt.PenJoinStyle.RoundJoin)
    painter.setPen(pen)
    painter.setBrush(Qt.BrushStyle.NoBrush)
    ux, uy = vector.x() / length, vector.y() / length
    tip = start + vector
    painter.drawLine(QLineF(start, tip))
    back = QPointF(tip.x() - _HEAD_PX * ux, tip.y() - _HEAD_PX * uy)
    side = QPointF(-uy * _HEAD_PX * 0.38, ux * _HEAD_PX * 0.38)
    painter.drawPolyline(QPolygonF([back + side, tip, back - side]))


def paint_dimension(
    painter: QPainter, item: Dimension, start: QPointF, vector: QPointF, marks: Marks = NO_MARKS
) -> None:
    """A measured length from ``start`` over ``vector``, both pixels."""
    shape = dimension_shape(item, vector)
    painter.setPen(pen_of("dimension", item.key, marks))
    painter.translate(start)
    for line in shape.lines:
        painter.drawLine(line)
    text = Text(item.key, "dimension", (0.0, 0.0), item.text, item.size, shape.angle_deg, shift=0.6)
    paint_text(painter, text, item.text, shape.middle, marks)
    painter.translate(-start)


@dataclass(frozen=True, slots=True)
class DimensionShape:
    """Lines of a dimension in pixels from its start point, and where its text goes."""

    lines: tuple[QLineF, ...]
    middle: QPointF
    angle_deg: float


def dimension_shape(item: Dimension, vector: QPointF) -> DimensionShape:
    """Where the lines of a dimension run, in pixels from its start point (y down)."""
    end = QPointF(vector)
    along = end
    if item.level == "horizontal":
        along = QPointF(end.x() or 1e-6, 0.0)
    elif item.level == "vertical":
        along = QPointF(0.0, end.y() or 1e-6)
    length = math.hypot(along.x(), along.y()) or 1.0
    ux, uy = along.x() / length, along.y() / length
    # To the left of the way with y down: (uy, -ux).
    normal = QPointF(uy, -ux)
    offset = item.offset * PX_PER_MM
    a = normal * offset
    rest = end - along
    b = along + normal * offset
    if item.level != "along" and (rest.x() * normal.x() + rest.y() * normal.y()) * offset > 0.0:
        # The line stands off from the further of the two points.
        a, b = a + rest, b + rest
    tick = QPointF(ux - normal.x(), uy - normal.y()) * (_TICK_PX / 2.0)
    gap = normal * math.copysign(3.0, offset)
    lines = (
        QLineF(gap, a + gap),
        QLineF(end + gap, b + gap),
        QLineF(a, b),
        QLineF(a - tick, a + tick),
        QLineF(b - tick, b + tick),
    )
    return DimensionShape(lines, (a + b) / 2.0, math.degrees(math.atan2(-along.y(), along.x())))


def paint_text(
    painter: QPainter, item: Text, text: str, at: QPointF, marks: Marks = NO_MARKS, ground: QColor | None = None
) -> None:
    """Text at a pixel, over ``ground`` where it has a background; nothing when ``text`` is empty."""
    if not text:
        return
    placed = text_box(item, text)
    painter.save()
    painter.translate(at + placed.offset)
    painter.rotate(placed.turn_deg)
    painter.setFont(font_of(item.size))
    if item.back:
        painter.fillRect(placed.rect.adjusted(-_BACK_PX, 0.0, _BACK_PX, 0.0), ground or theme.current().paper)
    painter.setPen(text_colour(item.role, marks))
    painter.drawText(placed.rect, _flags(item), text)
    painter.restore()


@dataclass(frozen=True, slots=True)
class PlacedText:
    """Where text goes: offset in pixels from its point, turn on the screen, box in its own axes."""

    offset: QPointF
    turn_deg: float
    rect: QRectF


def text_box(item: Text, text: str) -> PlacedText:
    """The box of a text around its point, readable from below or from the right."""
    width, height = _text_size(item.size, text)
    angle = math.radians(item.angle_deg)
    away = 0.0
    if item.shift:
        away = item.shift * PX_PER_MM + math.copysign(height / 2.0, item.shift)
    offset = QPointF(-math.sin(angle) * away, -math.cos(angle) * away)
    readable = (item.angle_deg + 90.0) % 180.0 - 90.0
    readable = 90.0 if abs(readable + 90.0) < 1e-6 else readable
    left = {"centre": -width / 2.0, "left": 0.0, "right": -width}[item.anchor]
    return PlacedText(offset, -readable, QRectF(left, -height / 2.0, width, height))


def fitting_text(item: Text, scale: float, room_in: float = math.inf) -> str:
    """The fullest text that has room; empty where none has.

    Args:
        item: The text with its shorter forms.
        scale: Pixels an inch.
        room_in: Inches of line it stands along, for texts that have shorter forms but no span of their own.
    """
    span = item.span or (room_in if item.shorter else math.inf)
    for text in (item.text, *item.shorter):
        if item.within:
            if _inside(item, text, scale):
                return text
        elif _text_size(item.size, text)[0] <= span * scale:
            return text
    return ""


def rooms_of(drawing: Drawing) -> dict[str, float]:
    """For each key the length of its longest line, inches: the room text along it has."""
    rooms: dict[str, float] = {}
    for item in drawing.items:
        if isinstance(item, Line):
            rooms[item.key] = max(rooms.get(item.key, 0.0), math.dist(item.start, item.end))
    return rooms


def _paint_polygon(painter: QPainter, item: Polygon, to_px: QTransform, marks: Marks) -> None:
    points = QPolygonF([_map(to_px, point) for point in item.points])
    painter.setPen(pen_of(item.role, item.key, marks))
    painter.setBrush(brush_of(item, marks))
    painter.drawPolygon(points)
    paint_hatch(painter, points, item, marks)


def _inside(item: Text, text: str, scale: float) -> bool:
    """Whether the text's box lies in the outline it has to stay in."""
    placed = text_box(item, text)
    turn = math.radians(placed.turn_deg)
    cos, sin = math.cos(turn), math.sin(turn)
    left, top, right, bottom = placed.rect.getCoords()
    across, down = placed.offset.x(), placed.offset.y()
    corners = [
        (item.at[0] + (across + x * cos - y * sin) / scale, item.at[1] - (down + x * sin + y * cos) / scale)
        for x in (left, right)
        for y in (top, bottom)
    ]
    upright = _upright(item.within)
    if upright is not None:
        x0, y0, x1, y1 = upright
        return all(x0 < x < x1 and y0 < y < y1 for x, y in corners)
    return all(contains(item.within, corner) for corner in corners)


def _upright(ring: Sequence[Point2]) -> tuple[float, float, float, float] | None:
    """Left, lower, right and upper side of a ring that is an upright rectangle; None of any other."""
    if len(ring) != 4:
        return None
    (ax, ay), (bx, by), (cx, cy), (dx, dy) = ring
    if not ((ax == dx and bx == cx and ay == by and cy == dy) or (ax == bx and cx == dx and by == cy and ay == dy)):
        return None
    return min(ax, cx), min(ay, cy), max(ax, cx), max(ay, cy)


def _map(to_px: QTransform, point: Point2) -> QPointF:
    return to_px.map(QPointF(point[0], point[1]))


def _ink(role: Role, grey: float, marks: Marks) -> QColor:
    return _grey(theme.current().scheme, 0.72 if role in marks.quiet else grey)


@lru_cache(maxsize=64)
def _grey(scheme: theme.Scheme, share: float) -> QColor:
    """The colour ``share`` of the way from ink to paper."""
    colours = theme.SCHEMES[scheme]
    return mixed(QColor(colours.ink), QColor(colours.paper), share)


def _flags(item: Text) -> int:
    side = {
        "centre": Qt.AlignmentFlag.AlignHCenter,
        "left": Qt.AlignmentFlag.AlignLeft,
        "right": Qt.AlignmentFlag.AlignRight,
    }[item.anchor]
    return int(side | Qt.AlignmentFlag.AlignVCenter) | int(Qt.TextFlag.TextDontClip)


@lru_cache(maxsize=8)
def _font(size: TextSize) -> QFont:
    font = QFont(theme.FONT_FAMILY)
    font.setPointSizeF(_SCREEN_PT[size])
    return font


@lru_cache(maxsize=8)
def _metrics(size: TextSize) -> QFontMetricsF:
    return QFontMetricsF(_font(size))


@lru_cache(maxsize=4096)
def _text_size(size: TextSize, text: str) -> tuple[float, float]:
    metrics = _metrics(size)
    lines: Sequence[str] = text.split("\n")
    measure: Callable[[str], float] = metrics.horizontalAdvance
    return max(measure(line) for line in lines) + 1.0, metrics.height() * len(lines)
