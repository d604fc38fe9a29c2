"""The drawn part of the section strip: the cut itself, the bracket's wedge behind it, handles and leaders over it."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

from PySide6.QtCore import QPointF, QRectF, Qt, Signal
from PySide6.QtGui import (
    QBrush,
    QColor,
    QFontMetricsF,
    QKeyEvent,
    QMouseEvent,
    QPainter,
    QPaintEvent,
    QPen,
    QPolygonF,
    QResizeEvent,
    QTransform,
)
from PySide6.QtWidgets import QWidget

from workbench.bench import theme
from workbench.bench.strip.handles import Handle
from workbench.bench.strip.layout import Scale
from workbench.bench.strip.measures import Measurable
from workbench.bench.surface.painter import paint_drawing
from workbench.drawing.primitives import Drawing, Polygon
from workbench.drawing.shapes import contains
from workbench.roof.model import Point2

HANDLE_RADIUS = 5.5
_REACH = 12.0
_AWAY = 0.2


@dataclass(frozen=True)
class Wedge:
    """Slopes of a price bracket the rafter must stay out of.

    Attributes:
        outline: Polygon in section axes: first the low end of the top edge, then the far end of the limit.
        words: What it is.
        over: Whether the rafter is in it.
        hatched: Whether it is the one to stay out of; another above it shows its limit only.
    """

    outline: tuple[Point2, ...]
    words: str
    over: bool
    hatched: bool


@dataclass(frozen=True)
class Leader:
    """A line from a number to its handle: the end at the number, pixels."""

    name: Measurable
    start: Point2


class SectionView(QWidget):
    """The section, true to scale, with handles that can be dragged.

    Signals:
        taken: ``(name, point)`` a handle was pressed, at this section point.
        dragged: ``(point, whole)`` the pointer moved with a handle in hand; whole inches with Shift.
        dropped: The handle was let go.
        cancelled: Esc was pressed with a handle in hand.
        pointed: ``(name)`` the pointer is over this handle, or over none with an empty string.
        resized: The room changed.
    """

    taken = Signal(str, object)
    dragged = Signal(object, bool)
    dropped = Signal()
    cancelled = Signal()
    pointed = Signal(str)
    resized = Signal()

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setFocusPolicy(Qt.FocusPolicy.ClickFocus)
        self.setMouseTracking(True)
        self._drawing = Drawing()
        self._scale = Scale(1.0, 0.0, 0.0)
        self._handles: tuple[Handle, ...] = ()
        self._wedges: tuple[Wedge, ...] = ()
        self._run: tuple[Point2, Point2] | None = None
        self._leaders: tuple[Leader, ...] = ()
        self._hot = ""
        self._focused = ""
        self._held = False

    @property
    def mapping(self) -> Scale:
        """How section inches lie on the view."""
        return self._scale

    @property
    def handles(self) -> tuple[Handle, ...]:
        """The handles on show."""
        return self._handles

    @property
    def held(self) -> bool:
        """Whether a handle is in hand."""
        return self._held

    def show_scale(self, scale: Scale) -> None:
        """Place the drawing."""
        self._scale = scale
        self.update()

    def show_section(
        self, drawing: Drawing, handles: Sequence[Handle], wedges: Sequence[Wedge], run: tuple[Point2, Point2] | None
    ) -> None:
        """Show a section and its handles; an empty drawing clears the view."""
        self._drawing = drawing
        self._handles = tuple(handles)
        self._wedges = tuple(wedges)
        self._run = run
        self.update()

    def show_leaders(self, leaders: Sequence[Leader]) -> None:
        """Where the leaders of the numbers begin."""
        self._leaders = tuple(leaders)
        self.update()

    def show_focus(self, name: str) -> None:
        """Fill the handle whose number has the focus."""
        self._focused = name
        self.update()

    def handle_at(self, pixel: Point2) -> Handle | None:
        """The handle nearest to a pixel within reach, movable ones first; the slope's on the rafter itself."""
        near = [(math.dist(pixel, self.handle_pixel(h)), h) for h in self._handles]
        within = [(not h.movable, distance, h.name, h) for distance, h in near if distance <= _REACH]
        if within:
            return min(within, key=lambda found: found[:3])[3]
        return self._slope_on_rafter(self._scale.to_section(pixel))

    def _slope_on_rafter(self, point: Point2) -> Handle | None:
        """The slope's handle where the rafter can be turned: on its middle part, away from both its ends."""
        slope = next((handle for handle in self._handles if handle.name == "slope"), None)
        rafter = next((item for item in self._drawing.items if item.key.endswith("/rafter")), None)
        if slope is None or self._run is None or not isinstance(rafter, Polygon):
            return None
        (start, _), (end, _) = self._run
        away = min(point[0] - start, end - point[0]) > _AWAY * (end - start)
        return slope if away and contains(rafter.points, point) else None

    def handle_pixel(self, handle: Handle) -> Point2:
        """Middle of a handle on the view."""
        x, y = self._scale.to_pixels(handle.anchor)
        return x + handle.nudge[0], y + handle.nudge[1]

    def cancel(self) -> None:
        """Let go of the handle in hand without a change."""
        if self._held:
            self._held = False
            self.cancelled.emit()
            self.update()

    def mousePressEvent(self, event: QMouseEvent) -> None:
        """Take the handle under the pointer."""
        pixel = (event.position().x(), event.position().y())
        handle = self.handle_at(pixel)
        if event.button() != Qt.MouseButton.LeftButton or handle is None or not handle.movable:
            super().mousePressEvent(event)
            return
        self._held = True
        self._hot = handle.name
        self.taken.emit(handle.name, self._scale.to_section(pixel))
        event.accept()

    def mouseMoveEvent(self, event: QMouseEvent) -> None:
        """Drag the handle in hand, or tell which one the pointer is over."""
        pixel = (event.position().x(), event.position().y())
        if self._held:
            shift = bool(event.modifiers() & Qt.KeyboardModifier.ShiftModifier)
            self.dragged.emit(self._scale.to_section(pixel), shift)
            return
        handle = self.handle_at(pixel)
        name = "" if handle is None else handle.name
        if name != self._hot:
            self._hot = name
            self.pointed.emit(name)
            self.update()

    def mouseReleaseEvent(self, event: QMouseEvent) -> None:
        """Let the handle go where it is."""
        if self._held and event.button() == Qt.MouseButton.LeftButton:
            self._held = False
            self.dropped.emit()
            self.update()

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Esc lets the handle in hand go back."""
        if event.key() == Qt.Key.Key_Escape and self._held:
            self.cancel()
            event.accept()
            return
        super().keyPressEvent(event)

    def resizeEvent(self, event: QResizeEvent) -> None:
        """Tell that the room changed."""
        super().resizeEvent(event)
        self.resized.emit()

    def paintEvent(self, event: QPaintEvent) -> None:
        """Wedge, section, run line, leaders, handles."""
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        painter.fillRect(event.rect(), theme.current().paper)
        for wedge in self._wedges:
            self._draw_wedge(painter, wedge)
        scale = self._scale
        paint_drawing(painter, self._drawing, QTransform(scale.factor, 0, 0, -scale.factor, scale.left, scale.base))
        if self._run is not None:
            self._draw_run(painter, *self._run)
        self._draw_leaders(painter)
        for handle in self._handles:
            self._draw_handle(painter, handle)

    def _draw_wedge(self, painter: QPainter, wedge: Wedge) -> None:
        colours = theme.current()
        ink = QColor(colours.warning if wedge.over else colours.quiet)
        outline = QPolygonF([QPointF(*self._scale.to_pixels(point)) for point in wedge.outline])
        if wedge.hatched:
            hatch = QColor(ink)
            hatch.setAlphaF(0.5)
            painter.setPen(Qt.PenStyle.NoPen)
            painter.setBrush(QBrush(hatch, Qt.BrushStyle.BDiagPattern))
            # A pattern costs several times as much with smoothed edges, and its edges show nothing.
            painter.setRenderHint(QPainter.RenderHint.Antialiasing, False)
            painter.drawPolygon(outline)
            painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        painter.setPen(QPen(ink, 1.4, Qt.PenStyle.DashLine))
        painter.drawLine(outline[0], outline[1])
        if wedge.over:
            self._write_at(painter, outline[2] if len(wedge.outline) == 3 else outline[3], wedge.words, ink)
        else:
            self._write_along(painter, outline[0], outline[1], wedge.words, ink)

    def _write_at(self, painter: QPainter, corner: QPointF, words: str, ink: QColor) -> None:
        """Words beside the wedge's upper left corner, where neither rafter nor limits run."""
        measured = QFontMetricsF(painter.font())
        size = (measured.horizontalAdvance(words) + 12.0, measured.height() + 4.0)
        ground = QRectF(max(4.0, corner.x() - size[0] - 4.0), corner.y() - 2.0, *size)
        painter.fillRect(ground, theme.current().paper)
        painter.setPen(ink)
        painter.drawText(ground, int(Qt.AlignmentFlag.AlignCenter), words)

    def _write_along(self, painter: QPainter, start: QPointF, end: QPointF, words: str, ink: QColor) -> None:
        """Words above the line, ending near its far end, on a plain ground so that the hatch does not cross them."""
        run = QPointF(end - start)
        length = math.hypot(run.x(), run.y())
        measured = QFontMetricsF(painter.font())
        width = measured.horizontalAdvance(words) + 8.0
        if width + 16.0 > length:
            return
        painter.save()
        painter.translate(start)
        painter.rotate(math.degrees(math.atan2(run.y(), run.x())))
        ground = QRectF(length - width - 12.0, -measured.height() - 5.0, width, measured.height() + 2.0)
        painter.fillRect(ground, theme.current().paper)
        painter.setPen(ink)
        painter.drawText(ground, int(Qt.AlignmentFlag.AlignCenter), words)
        painter.restore()

    def _draw_run(self, painter: QPainter, start: Point2, end: Point2) -> None:
        painter.setPen(QPen(theme.current().quiet, 1.0))
        (x0, y), (x1, _) = self._scale.to_pixels(start), self._scale.to_pixels(end)
        painter.drawLine(QPointF(x0, y), QPointF(x1, y))
        for x in (x0, x1):
            painter.drawLine(QPointF(x, y - 6.0), QPointF(x, y + 6.0))
            painter.drawLine(QPointF(x - 3.0, y + 3.0), QPointF(x + 3.0, y - 3.0))

    def _draw_leaders(self, painter: QPainter) -> None:
        by_name = {handle.name: handle for handle in self._handles}
        for leader in self._leaders:
            handle = by_name.get(leader.name)
            if handle is None:
                continue
            hot = leader.name in (self._hot, self._focused)
            pen = QPen(theme.current().accent if hot else theme.current().quiet, 1.2 if hot else 0.7)
            painter.setPen(pen)
            painter.drawLine(QPointF(*leader.start), QPointF(*self.handle_pixel(handle)))

    def _draw_handle(self, painter: QPainter, handle: Handle) -> None:
        colours = theme.current()
        at, anchor = QPointF(*self.handle_pixel(handle)), QPointF(*self._scale.to_pixels(handle.anchor))
        painter.setPen(QPen(colours.quiet, 0.7))
        painter.drawLine(anchor, at)
        if not handle.movable:
            painter.setBrush(colours.quiet)
            painter.setPen(Qt.PenStyle.NoPen)
            painter.drawEllipse(at, 2.5, 2.5)
            return
        hot = handle.name in (self._hot, self._focused)
        painter.setPen(QPen(colours.accent, 2.0))
        painter.setBrush(colours.accent if hot else colours.paper)
        painter.drawEllipse(at, HANDLE_RADIUS, HANDLE_RADIUS)
