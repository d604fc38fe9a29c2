"""The 3-D view itself: turning, moving, zooming and picking over the batches that draw the scene."""

from __future__ import annotations

import logging
import math
from collections.abc import Callable, Hashable
from typing import NamedTuple

import numpy as np
from pyqtgraph.opengl import GLViewWidget
from PySide6.QtCore import QPointF, Qt, QTimer, Signal
from PySide6.QtGui import QKeyEvent, QMatrix4x4, QMouseEvent, QResizeEvent, QSurfaceFormat, QWheelEvent
from PySide6.QtWidgets import QApplication, QWidget

from workbench.bench import theme
from workbench.bench.space.batch import Batch, Look, Programs
from workbench.bench.space.camera import Camera, ViewName
from workbench.bench.space.dress import FACE, LINE, Palette, Records, face_records, line_records, palette, plain_faces
from workbench.bench.space.parts import LAYERS, Floats, Layer, Shape
from workbench.bench.space.scene import Scene
from workbench.bench.space.walls import ground_lines
from workbench.bench.unraised import unraised
from workbench.plan import Plan
from workbench.roof.model import Point2

VIEW_KEYS: dict[ViewName, Qt.Key] = {
    "home": Qt.Key.Key_Home,
    "front": Qt.Key.Key_F,
    "back": Qt.Key.Key_B,
    "left": Qt.Key.Key_L,
    "right": Qt.Key.Key_R,
    "above": Qt.Key.Key_A,
}
"""The key of each named view while the view has the focus."""
FIT_KEY = Qt.Key.Key_0

_TURN_A_PIXEL = math.radians(0.4)
_TURN_A_KEY = math.radians(7.5)
_MOVE_A_KEY = 40.0
_ZOOM_A_STEP = 1.15
_PICK_PX = 6.0
_GRID_FT_IN, _GRID_MM_IN = 48.0, 1000.0 / 25.4
_PX_A_POINT, _MARK_PX, _GROUND_PX = 1.25, 3.2, 1.0
_SEEN_THROUGH = 0.30
_LINE_PULL, _MARK_PULL = 0.0004, 0.002


class _Dressed(NamedTuple):
    """A part's records: of what shape, and which of its keys stands out in them (-1 for none)."""

    shape: Shape
    owner: int
    faces: Records
    lines: Records


class SpaceView(GLViewWidget):
    """The house in space. It knows nothing of the document: it is shown plans and keys.

    Signals:
        picked: ``(key)`` what was clicked; empty for nothing.
        failed: The graphics card can't do it after all.
    """

    picked = Signal(str)
    failed = Signal()

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        wanted = QSurfaceFormat(self.format())
        wanted.setSamples(4)
        wanted.setDepthBufferSize(24)
        self.setFormat(wanted)
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.setAccessibleName("The house in space")
        self.setMinimumSize(160, 120)
        self.scene = Scene()
        self.camera = self.first = Camera()
        """Where one looks from, and where one begins to."""
        self.layers: tuple[Layer, ...] = LAYERS
        self._key = ""
        self._plan: Plan | None = None
        self._generation = 0
        self._programs: Programs | None = None
        self._colours = self._palette()
        self._dressed: dict[tuple[Layer, Hashable], _Dressed] = {}
        self._ground_drawn: tuple[float, tuple[Point2, ...], Palette] | None = None
        self._pressed: QPointF | None = None
        self._last = QPointF()
        self._turned = False
        self._to_fit = True
        self.ground = Batch(LINE, "lines")
        self.faces, self.lines = Batch(FACE, "solid"), Batch(LINE, "lines", _LINE_PULL)
        self.behind, self.behind_lines = Batch(FACE, "seen_through"), Batch(LINE, "seen_through")
        self.marks = Batch(LINE, "lines", _MARK_PULL)
        for batch in self._batches:
            self.addItem(batch)
        theme.current().changed.connect(self.dress)
        self.dress()

    @property
    def _batches(self) -> tuple[Batch, ...]:
        """In the order they are drawn."""
        return self.ground, self.faces, self.lines, self.behind, self.behind_lines, self.marks

    # What is shown

    def show_plan(self, plan: Plan) -> None:
        """Show a plan; what is as before is neither made nor sent again."""
        self._plan = plan
        self.scene.show(plan, self._made)
        self._draw_ground()
        self._draw()

    def set_layers(self, layers: tuple[Layer, ...]) -> None:
        """Show these layers only."""
        self.layers = layers
        if self._plan is not None:
            self.scene.show(self._plan, self._made)
            self._draw()

    @property
    def _made(self) -> tuple[Layer, ...]:
        """Layers to keep up: the planes' edges stand out even where only sheets are on show."""
        return self.layers if "planes" in self.layers else ("planes", *self.layers)

    def mark(self, key: str) -> None:
        """Let a selected object stand out."""
        if key != self._key:
            self._key = key
            self._draw()

    def dress(self) -> None:
        """Take the theme's colours."""
        self._colours = self._palette()
        self._dressed.clear()
        self.setBackgroundColor(theme.current().paper)
        self._draw_ground()
        self._draw()

    # Where from

    def look(self, name: ViewName) -> None:
        """Look from a named side, everything in view."""
        self._see(self.camera.seen(name))
        self.fit()

    def fit(self) -> None:
        """Everything in view, or with an object selected just as well: the whole house."""
        self._to_fit = not self.isVisible()
        self._see(self.camera.fitted(self.scene.outer_points(), self._aspect))

    def begin(self) -> None:
        """Look at a new house as if for the first time."""
        self.camera = self.first
        self.fit()

    @property
    def _aspect(self) -> float:
        return self.width() / max(1, self.height())

    def _see(self, camera: Camera) -> None:
        self.camera = camera
        self.update()

    # Drawing

    def _palette(self) -> Palette:
        now = theme.current()
        return palette(now.scheme, now.colours.ink, now.colours.paper, now.colours.accent)

    def _draw_ground(self) -> None:
        """The grid round the building lines; a slope that is dragged leaves it alone."""
        step = _GRID_MM_IN if self._plan is not None and self._plan.units.system == "mm" else _GRID_FT_IN
        corners = [corner for wing in self._plan.wings for corner in wing.outline] if self._plan is not None else []
        drawn = (step, tuple(corners), self._colours)
        if drawn == self._ground_drawn:
            return
        self._ground_drawn = drawn
        lines, strength = ground_lines(np.array(corners, dtype=float).reshape(-1, 2), step)
        self.ground.put([line_records(lines, np.full(len(lines), _GROUND_PX), self._colours.ground, strength)])

    def _draw(self) -> None:
        dressed: dict[tuple[Layer, Hashable], _Dressed] = {}
        for layer in self.layers:
            for ident, part in self.scene.parts(layer).items():
                owner = part.keys.index(self._key) if self._key in part.keys else -1
                known = self._dressed.get((layer, ident))
                if known is None or known.shape is not part.shape or known.owner != owner:
                    known = self._dress_part(layer, part.shape, owner, known)
                dressed[layer, ident] = known
        self._dressed = dressed
        self.faces.put([entry.faces for entry in dressed.values()])
        self.lines.put([entry.lines for entry in dressed.values()])
        marked = self.scene.mark(self._key, self._made)
        accent = self._colours.accent
        weights = np.full(len(marked.lines), _MARK_PX)
        self.marks.put([line_records(marked.lines, weights, accent)])
        self.behind_lines.put([line_records(marked.lines, weights, accent, _SEEN_THROUGH)])
        self.behind.put([plain_faces(marked.hidden, accent, _SEEN_THROUGH)])

    def _dress_part(self, layer: Layer, shape: Shape, owner: int, known: _Dressed | None) -> _Dressed:
        faces = face_records(shape, self._colours, layer, shape.face_owner == owner if owner >= 0 else None)
        if known is not None and known.shape is shape:
            return _Dressed(shape, owner, faces, known.lines)
        lines = line_records(shape.lines, shape.weights * _PX_A_POINT, self._colours.edges[layer])
        return _Dressed(shape, owner, faces, lines)

    # Qt's and pyqtgraph's own

    def initializeGL(self) -> None:
        """A graphics context is new: at first, and whenever the dock floats or comes back."""
        self._guarded(self._begin_context)

    def _begin_context(self) -> None:
        super().initializeGL()
        self._generation += 1
        self._programs = Programs()

    def viewMatrix(self) -> QMatrix4x4:
        return QMatrix4x4(self.camera.view_matrix().ravel().tolist())

    def projectionMatrix(self, region: object = None, viewport: object = None) -> QMatrix4x4:
        return QMatrix4x4(self._projection()[0].ravel().tolist())

    def paintGL(self) -> None:
        """Tell the batches what this frame looks like, and let them draw."""
        if self._programs is not None:
            self._guarded(self._paint)

    def drawItemTree(self, *_: object, **_named: object) -> None:
        for batch in self._batches:
            batch.paint()

    def _paint(self) -> None:
        projection, near = self._projection()
        scale = self.devicePixelRatioF()
        half = (self.width() * scale / 2.0, self.height() * scale / 2.0)
        look = Look(self.camera.view_matrix(), projection, half, near, scale, self._generation, self._programs)
        for batch in self._batches:
            batch.look = look
        super().paintGL()

    def _guarded(self, work: Callable[[], None]) -> None:
        """Graphics that fail once fail at every frame: then the view is given up."""
        try:
            work()
        except Exception:
            logging.getLogger(__name__).exception("the 3-D view broke down")
            self._programs = None
            QTimer.singleShot(0, self, self.failed.emit)

    def _projection(self) -> tuple[Floats, float]:
        points = self.scene.outer_points()
        if len(points):
            low, high = points.min(axis=0), points.max(axis=0)
            middle, radius = (low + high) / 2.0, float(np.linalg.norm(high - low)) * 1.2 + 200.0
        else:
            middle, radius = np.array(self.camera.centre), self.camera.distance
        near, far = self.camera.depths(middle, radius)
        return self.camera.projection_matrix(self._aspect, near, far), near

    def resizeEvent(self, event: QResizeEvent) -> None:
        super().resizeEvent(event)
        if self._to_fit and self._plan is not None:
            unraised(self.fit)

    def mousePressEvent(self, event: QMouseEvent) -> None:
        self._pressed = self._last = event.position()
        self._turned = False
        event.accept()

    def mouseMoveEvent(self, event: QMouseEvent) -> None:
        """Turn with the left button; move with the middle one, or with Shift."""
        if self._pressed is None:
            return
        shift = event.position() - self._last
        far = (event.position() - self._pressed).manhattanLength() >= QApplication.startDragDistance()
        self._turned = self._turned or far
        if not self._turned:
            return
        self._last = event.position()
        buttons = event.buttons()
        shifted = bool(event.modifiers() & Qt.KeyboardModifier.ShiftModifier)
        if buttons & Qt.MouseButton.MiddleButton or (buttons & Qt.MouseButton.LeftButton and shifted):
            self._see(self.camera.moved(shift.x(), -shift.y(), min(self.width(), self.height())))
        elif buttons & Qt.MouseButton.LeftButton:
            self._see(self.camera.turned(shift.x() * _TURN_A_PIXEL, shift.y() * _TURN_A_PIXEL))

    def mouseReleaseEvent(self, event: QMouseEvent) -> None:
        """A click that turned nothing picks."""
        pressed, self._pressed = self._pressed, None
        if pressed is not None and not self._turned and event.button() == Qt.MouseButton.LeftButton:
            unraised(lambda: self.picked.emit(self.key_at(event.position())))

    def key_at(self, point: QPointF) -> str:
        """What is seen at a pixel."""
        eye, direction = self.camera.ray(point.x(), point.y(), self.width(), self.height())
        reach = _PICK_PX * self.camera.inches_a_pixel(min(self.width(), self.height())) / self.camera.distance
        return self.scene.pick(eye, direction, self.layers, reach)

    def wheelEvent(self, event: QWheelEvent) -> None:
        """Nearer or further, at the centre."""
        steps = event.angleDelta().y() / 120.0
        self._see(self.camera.nearer(_ZOOM_A_STEP**steps))
        event.accept()

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Named views, arrows to turn, with Shift to move, + and - to zoom, Esc to select nothing."""
        act = self._key_action(Qt.Key(event.key()), bool(event.modifiers() & Qt.KeyboardModifier.ShiftModifier))
        other = event.modifiers() & ~(Qt.KeyboardModifier.ShiftModifier | Qt.KeyboardModifier.KeypadModifier)
        if act is None or other:
            event.ignore()
            return
        event.accept()
        unraised(act)

    def keyReleaseEvent(self, event: QKeyEvent) -> None:
        """Nothing is held down here."""
        event.ignore()

    def _key_action(self, key: Qt.Key, shifted: bool) -> Callable[[], None] | None:
        for name, own in VIEW_KEYS.items():
            if key == own:
                return lambda: self.look(name)
        arrows = {
            Qt.Key.Key_Left: (-1.0, 0.0),
            Qt.Key.Key_Right: (1.0, 0.0),
            Qt.Key.Key_Up: (0.0, 1.0),
            Qt.Key.Key_Down: (0.0, -1.0),
        }
        if key in arrows:
            across, up = arrows[key]
            return lambda: self._arrow(across, up, shifted)
        if key in (Qt.Key.Key_Plus, Qt.Key.Key_Equal):
            return lambda: self._see(self.camera.nearer(_ZOOM_A_STEP))
        if key == Qt.Key.Key_Minus:
            return lambda: self._see(self.camera.nearer(1.0 / _ZOOM_A_STEP))
        others: dict[Qt.Key, Callable[[], None]] = {FIT_KEY: self.fit, Qt.Key.Key_Escape: lambda: self.picked.emit("")}
        return others.get(key)

    def _arrow(self, across: float, up: float, shifted: bool) -> None:
        if shifted:
            step = _MOVE_A_KEY
            self._see(self.camera.moved(across * step, up * step, min(self.width(), self.height())))
        else:
            self._see(self.camera.turned(across * _TURN_A_KEY, -up * _TURN_A_KEY))
