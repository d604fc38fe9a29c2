"""A view of the plan that zooms at the pointer, pans, and fits; y runs up.

The view keeps its own centre and scale and sets both at once: scroll bars, which only know whole pixels, never add up
their roundings, and nothing jumps when the scene grows.
"""

from __future__ import annotations

from PySide6.QtCore import QEvent, QPointF, QRectF, Qt, Signal
from PySide6.QtGui import (
    QKeyEvent,
    QMouseEvent,
    QNativeGestureEvent,
    QPainter,
    QResizeEvent,
    QTransform,
    QWheelEvent,
)
from PySide6.QtWidgets import QFrame, QGraphicsScene, QGraphicsView, QWidget

from workbench.bench.unraised import unraised
from workbench.roof.model import Point2

LEAST_SCALE, GREATEST_SCALE = 0.02, 48.0
"""Pixels an inch: from a street to a saw kerf."""

_REACH_IN = 40_000.0
_WHEEL_STEP = 1.2
_KEY_STEP = 1.4


class CameraView(QGraphicsView):
    """Zoom, pan and fit.

    Signals:
        scale_changed: ``(pixels an inch)``.
    """

    scale_changed = Signal(float)

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._scene = QGraphicsScene(-_REACH_IN, -_REACH_IN, 2.0 * _REACH_IN, 2.0 * _REACH_IN, self)
        self.setScene(self._scene)
        self.setFrameShape(QFrame.Shape.NoFrame)
        self.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.setVerticalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.setTransformationAnchor(QGraphicsView.ViewportAnchor.NoAnchor)
        self.setResizeAnchor(QGraphicsView.ViewportAnchor.NoAnchor)
        self.setRenderHint(QPainter.RenderHint.Antialiasing)
        self.setViewportUpdateMode(QGraphicsView.ViewportUpdateMode.FullViewportUpdate)
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.viewport().setMouseTracking(True)
        self.viewport().setCursor(Qt.CursorShape.ArrowCursor)
        self._centre: Point2 = (240.0, 168.0)
        self._scale = 1.0
        self._pan_from: QPointF | None = None
        self._space = False
        self._fitted = False

    @property
    def px_per_in(self) -> float:
        """Pixels an inch."""
        return self._scale

    @property
    def panning(self) -> bool:
        """Whether the view is in the hand, or about to be: Space is down."""
        return self._pan_from is not None or self._space

    def to_px(self, point: Point2) -> QPointF:
        """A plan point in the viewport's pixels, unrounded."""
        return self.viewportTransform().map(QPointF(point[0], point[1]))

    def to_plan(self, px: QPointF) -> Point2:
        """A pixel of the viewport as a plan point, unrounded."""
        inverted, _ = self.viewportTransform().inverted()
        at = inverted.map(px)
        return at.x(), at.y()

    def visible(self) -> QRectF:
        """The plan rectangle in view (its top is the least y)."""
        width, height = self.viewport().width() / self._scale, self.viewport().height() / self._scale
        return QRectF(self._centre[0] - width / 2.0, self._centre[1] - height / 2.0, width, height)

    def zoom(self, factor: float, at: QPointF | None = None) -> None:
        """Zoom by a factor, the plan point under pixel ``at`` staying where it is (default: the middle)."""
        scale = min(max(self._scale * factor, LEAST_SCALE), GREATEST_SCALE)
        if at is None:
            self._look(self._centre, scale)
            return
        # From the view's own centre, not from what is on the screen: that is rounded to whole pixels.
        away = at - QPointF(self.viewport().width() / 2.0, self.viewport().height() / 2.0)
        shrink = 1.0 / self._scale - 1.0 / scale
        self._look((self._centre[0] + away.x() * shrink, self._centre[1] - away.y() * shrink), scale)

    def zoom_in(self) -> None:
        """A step nearer."""
        self.zoom(_KEY_STEP)

    def zoom_out(self) -> None:
        """A step away."""
        self.zoom(1.0 / _KEY_STEP)

    def pan(self, dx: float, dy: float) -> None:
        """Move the drawing by pixels."""
        self._look((self._centre[0] - dx / self._scale, self._centre[1] + dy / self._scale), self._scale)

    def fit_to(self, bounds: QRectF, margin_px: float = 46.0) -> None:
        """Show a plan rectangle whole, with a margin for lengths and names around it."""
        width = max(self.viewport().width() - 2.0 * margin_px, 40.0)
        height = max(self.viewport().height() - 2.0 * margin_px, 40.0)
        scale = min(width / max(bounds.width(), 1.0), height / max(bounds.height(), 1.0))
        centre = bounds.center()
        self._look((centre.x(), centre.y()), min(max(scale, LEAST_SCALE), 12.0))

    def bring_into_view(self, bounds: QRectF) -> None:
        """Move, and zoom out where needed, so that a plan rectangle is in view; nothing when it is."""
        seen = self.visible()
        if seen.contains(bounds):
            return
        if bounds.width() <= seen.width() * 0.9 and bounds.height() <= seen.height() * 0.9:
            self._look((bounds.center().x(), bounds.center().y()), self._scale)
        else:
            self.fit_to(bounds.united(seen.intersected(bounds)))

    def wheelEvent(self, event: QWheelEvent) -> None:
        """Zoom at the pointer; two fingers on a touch pad pan instead, unless Ctrl is held."""
        fingers = event.phase() != Qt.ScrollPhase.NoScrollPhase and not event.pixelDelta().isNull()
        if fingers and not event.modifiers() & Qt.KeyboardModifier.ControlModifier:
            self.pan(event.pixelDelta().x(), event.pixelDelta().y())
        else:
            self.zoom(_WHEEL_STEP ** (event.angleDelta().y() / 120.0), event.position())
        event.accept()

    def viewportEvent(self, event: QEvent) -> bool:
        """Pinching zooms."""
        if isinstance(event, QNativeGestureEvent) and event.gestureType() == Qt.NativeGestureType.ZoomNativeGesture:
            self.zoom(1.0 + event.value(), event.position())
            return True
        return super().viewportEvent(event)

    def begin_pan(self, event: QMouseEvent) -> bool:
        """Take the view into the hand on the middle button, or on the main one while Space is down."""
        main = event.button() == Qt.MouseButton.LeftButton and self._space
        if event.button() != Qt.MouseButton.MiddleButton and not main:
            return False
        self._pan_from = event.position()
        return True

    def go_on_pan(self, event: QMouseEvent) -> bool:
        """Move the view along with the pointer."""
        if self._pan_from is None:
            return False
        moved = event.position() - self._pan_from
        self._pan_from = event.position()
        self.pan(moved.x(), moved.y())
        return True

    def end_pan(self) -> bool:
        """Let the view go."""
        held, self._pan_from = self._pan_from is not None, None
        return held

    def key_for_view(self, event: QKeyEvent) -> bool:
        """Space, + and -, Home and Ctrl+0."""
        control = bool(event.modifiers() & Qt.KeyboardModifier.ControlModifier)
        key = event.key()
        if key == Qt.Key.Key_Space:
            self._space = True
        elif key in (Qt.Key.Key_Plus, Qt.Key.Key_Equal):
            self.zoom_in()
        elif key == Qt.Key.Key_Minus:
            self.zoom_out()
        elif key == Qt.Key.Key_Home or (control and key == Qt.Key.Key_0):
            self.fit()
        else:
            return False
        return True

    def keyReleaseEvent(self, event: QKeyEvent) -> None:
        """Space up ends panning."""
        if event.key() == Qt.Key.Key_Space and not event.isAutoRepeat():
            self._space = False
        super().keyReleaseEvent(event)

    def fit(self) -> None:
        """Show everything, also when the view is resized, until somebody zooms or pans."""
        self.fit_to(self.whole())
        self._fitted = True

    def whole(self) -> QRectF:
        """The plan rectangle of everything; subclasses know it."""
        raise NotImplementedError

    def resizeEvent(self, event: QResizeEvent) -> None:
        """Keep the centre; a view that shows the whole roof goes on doing so."""
        super().resizeEvent(event)
        if self._fitted:
            unraised(self.fit)
        else:
            self._look(self._centre, self._scale)

    def _look(self, centre: Point2, scale: float) -> None:
        changed = scale != self._scale
        self._fitted = False
        self._centre, self._scale = centre, scale
        self.setTransform(QTransform(scale, 0.0, 0.0, -scale, 0.0, 0.0))
        self.centerOn(QPointF(*centre))
        if changed:
            self.scale_changed.emit(scale)
