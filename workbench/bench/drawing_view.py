"""A small drawing in a panel: fitted into its place with everything printed around it."""

from __future__ import annotations

import math

from PySide6.QtCore import QEvent, QPointF, QRectF, QSize, Qt, Signal
from PySide6.QtGui import QMouseEvent, QPainter, QPaintEvent, QResizeEvent, QTransform
from PySide6.QtWidgets import QSizePolicy, QWidget

from workbench.bench import theme
from workbench.bench.surface.painter import (
    Marks,
    dimension_shape,
    fitting_text,
    paint_drawing,
    rooms_of,
    text_box,
)
from workbench.drawing.primitives import Arrow, Dimension, Drawing, Line, Polygon, Text
from workbench.drawing.shapes import contains

_EDGE_PX = 6.0
LARGEST_SCALE = 24.0  # pixels an inch


class DrawingView(QWidget):
    """Shows one drawing.

    Signals:
        hovered: ``(key)`` the object under the pointer is another; empty for none.
        chosen: ``(key)`` an object was pressed.
    """

    hovered = Signal(str)
    chosen = Signal(str)

    def __init__(
        self, name: str, height: int, parent: QWidget | None = None, *, largest_scale: float = LARGEST_SCALE
    ) -> None:
        super().__init__(parent)
        self._largest_scale = largest_scale
        self.setAccessibleName(name)
        self._drawing = Drawing()
        self._to_px = QTransform()
        self._selected = ""
        self._hovered = ""
        self._height = height
        self.setMouseTracking(True)
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Fixed)
        theme.current().changed.connect(self.update)

    @property
    def drawing(self) -> Drawing:
        """The drawing on show."""
        return self._drawing

    def show_drawing(self, drawing: Drawing, selected: str = "") -> None:
        """Show another drawing, with one object marked."""
        if drawing == self._drawing and selected == self._selected:
            return
        self._drawing, self._selected = drawing, selected
        self._fit()
        self.update()

    def set_height(self, height: int) -> None:
        """Take another height."""
        if height != self._height:
            self._height = height
            self.updateGeometry()

    def sizeHint(self) -> QSize:
        """The height it was given."""
        return QSize(200, self._height)

    def resizeEvent(self, event: QResizeEvent) -> None:
        """Fit again."""
        super().resizeEvent(event)
        self._fit()

    def paintEvent(self, event: QPaintEvent) -> None:
        """Ground, then the drawing."""
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        painter.fillRect(self.rect(), theme.current().paper)
        marks = Marks(frozenset(filter(None, [self._selected])), frozenset(filter(None, [self._hovered])))
        paint_drawing(painter, self._drawing, self._to_px, marks)
        painter.setPen(theme.current().line)
        painter.setBrush(Qt.BrushStyle.NoBrush)
        painter.drawRect(QRectF(self.rect()).adjusted(0.5, 0.5, -0.5, -0.5))

    def mouseMoveEvent(self, event: QMouseEvent) -> None:
        """Tell what is under the pointer."""
        self._hover(self._key_at(event.position()))

    def leaveEvent(self, event: QEvent) -> None:
        """Nothing is under the pointer."""
        self._hover("")

    def mousePressEvent(self, event: QMouseEvent) -> None:
        """Tell what was pressed."""
        key = self._key_at(event.position())
        if key and event.button() == Qt.MouseButton.LeftButton:
            self.chosen.emit(key)

    def _hover(self, key: str) -> None:
        if key != self._hovered:
            self._hovered = key
            self.hovered.emit(key)
            self.update()

    def _key_at(self, at: QPointF) -> str:
        back, possible = self._to_px.inverted()
        if not possible:
            return ""
        point = back.map(at)
        for item in reversed(self._drawing.items):
            if isinstance(item, Polygon) and contains(item.points, (point.x(), point.y())):
                return item.key
        return ""

    def _fit(self) -> None:
        into = QRectF(self.rect()).adjusted(_EDGE_PX, _EDGE_PX, -_EDGE_PX, -_EDGE_PX)
        self._to_px = fitted(self._drawing, into, self._largest_scale)


def fitted(drawing: Drawing, into: QRectF, largest_scale: float = LARGEST_SCALE) -> QTransform:
    """Maps a drawing's inches into a rectangle of pixels, with its texts and dimensions inside as well."""
    if not drawing.items or into.width() <= 0 or into.height() <= 0:
        return QTransform()
    x0, y0, x1, y1 = drawing.bounds()
    wide, high = max(x1 - x0, 1e-6), max(y1 - y0, 1e-6)
    scale = min(into.width() / wide, into.height() / high, largest_scale)
    box = _px_box(drawing, scale)
    for _ in range(2):
        # What texts and dimensions stand out by hardly changes with the scale: two rounds settle it.
        room_x = max(into.width() - (box.width() - wide * scale), 20.0)
        room_y = max(into.height() - (box.height() - high * scale), 20.0)
        scale = min(room_x / wide, room_y / high, largest_scale)
        box = _px_box(drawing, scale)
    centre = into.center() - box.center()
    return QTransform(scale, 0.0, 0.0, -scale, centre.x(), centre.y())


def _px_box(drawing: Drawing, scale: float) -> QRectF:
    """Rectangle around everything at a scale, pixels, y down, the drawing's zero at zero."""
    to_px = QTransform.fromScale(scale, -scale)
    rooms = rooms_of(drawing)
    box = QRectF()
    for item in drawing.items:
        match item:
            case Polygon():
                points = [to_px.map(QPointF(*point)) for point in item.points]
            case Line() | Arrow():
                points = [to_px.map(QPointF(*item.start)), to_px.map(QPointF(*item.end))]
            case Dimension():
                points = _dimension_points(item, to_px)
            case Text():
                text = fitting_text(item, scale, rooms.get(item.key, math.inf))
                points = _text_points(item, text, to_px) if text else []
        for point in points:
            box = box.united(QRectF(point.x() - 0.5, point.y() - 0.5, 1.0, 1.0))
    return box


def _dimension_points(item: Dimension, to_px: QTransform) -> list[QPointF]:
    start = to_px.map(QPointF(*item.start))
    shape = dimension_shape(item, to_px.map(QPointF(*item.end)) - start)
    text = Text(item.key, "dimension", (0.0, 0.0), item.text, item.size, shape.angle_deg, shift=0.6)
    lines = [start + point for line in shape.lines for point in (line.p1(), line.p2())]
    return [*lines, *(start + shape.middle + point for point in _text_points(text, item.text, QTransform()))]


def _text_points(item: Text, text: str, to_px: QTransform) -> list[QPointF]:
    placed = text_box(item, text)
    at = to_px.map(QPointF(*item.at)) + placed.offset
    turn = QTransform().rotate(placed.turn_deg)
    rect = placed.rect
    return [
        at + turn.map(corner) for corner in (rect.topLeft(), rect.topRight(), rect.bottomLeft(), rect.bottomRight())
    ]
