"""The drawing surface: the roof from above, with the tools that draw on it."""

from __future__ import annotations

from PySide6.QtCore import QEvent, QPoint, QPointF, QRect, QRectF, Qt, Signal
from PySide6.QtGui import QContextMenuEvent, QFocusEvent, QKeyEvent, QKeySequence, QMouseEvent, QPainter
from PySide6.QtWidgets import QWidget

from workbench.bench import theme
from workbench.bench.document import Document
from workbench.bench.selection import Selection
from workbench.bench.surface.camera import CameraView
from workbench.bench.surface.grid import GridPicture
from workbench.bench.surface.hits import handle_at
from workbench.bench.surface.host import Hands, SurfaceHost
from workbench.bench.surface.items import DrawingItems
from workbench.bench.surface.keys import begins_number, name_of_key
from workbench.bench.surface.menu import edge_menu
from workbench.bench.surface.number_box import NumberBox
from workbench.bench.surface.overlay import paint_feedback, paint_hint
from workbench.bench.surface.stage_drawing import Overlay, laid_over, quiet_roles, stage_drawing, standing_out
from workbench.bench.surface.tools import label_of, make_tool, resting_tool
from workbench.bench.surface.tools.anchors import AnchorsTool
from workbench.bench.surface.tools.base import Pointer, wing_of
from workbench.bench.surface.tools.select import SelectTool
from workbench.bench.surface.words import describe, keys_in_turn, place_words
from workbench.errors import BadInput
from workbench.plan import Plan

EDGE_REACH_PX = 6.0
_EMPTY = QRectF(-120.0, -120.0, 720.0, 576.0)


class Surface(CameraView):
    """Shows the document's plan as the stage asks and hands pointer and keys to the tool in use.

    Signals:
        hint: What the tool wants next, or what is selected, in words.
        cursor_at: Where the pointer is, in the job's units.
        tool_changed: ``(name)`` another tool is in use.
    """

    hint = Signal(str)
    cursor_at = Signal(str)
    tool_changed = Signal(str)

    def __init__(self, document: Document, selection: Selection, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._document = document
        self._selection = selection
        self._stage = "plan"
        self._hovered = ""
        self._own_selection = False
        self._items = DrawingItems(self._scene)
        self._host = SurfaceHost(document, selection, Hands(self.hint.emit, self._open_box, self._finish, self._px))
        self._tool_name = "select"
        self._tool = make_tool("select", self._host)
        self._last_px = QPointF()
        self._grid = GridPicture()
        self._overlays: dict[str, Overlay | None] = {}
        self.ground = QRectF()
        """What lies under the drawing, shown whole while nothing is drawn."""
        self._box = NumberBox(self.viewport())
        self._box.taken.connect(self._typed)
        self._box.closed.connect(self._close_box)
        self.setAccessibleName("Roof drawing")
        document.shown.connect(self._shown)
        document.replaced.connect(self._replaced)
        selection.changed.connect(self._selected)
        self.scale_changed.connect(self._items.set_scale)
        theme.current().changed.connect(self._restyle)
        self._restyle()
        self._redraw()
        self.fit()

    @property
    def stage(self) -> str:
        """The stage whose drawing is shown."""
        return self._stage

    @property
    def tool_name(self) -> str:
        """Name of the tool in use."""
        return self._tool_name

    @property
    def number_box(self) -> NumberBox:
        """The box for typed numbers."""
        return self._box

    @property
    def grid_catches(self) -> bool:
        """Whether the pointer is caught by the grid."""
        return self._host.catching

    def set_grid_catches(self, on: bool) -> None:
        """Let the grid catch the pointer, or only show it."""
        self._host.catching = on

    def set_stage(self, name: str) -> None:
        """Show a stage's drawing; drawing tools belong to the plan stage, and end with it."""
        if name == self._stage:
            return
        self._stage = name
        self._host.set_editable(name == "plan")
        self._hovered = ""
        self.start_tool(resting_tool(name))
        self._items.set_quiet(quiet_roles(name, overlaid=bool(self._overlays.get(name))))
        self._redraw()

    def lay_over(self, stage: str, overlay: Overlay | None) -> None:
        """Lay more over a stage's drawing, or take it off again."""
        if self._overlays.get(stage) is not overlay:
            self._overlays[stage] = overlay
            self._items.set_quiet(quiet_roles(self._stage, overlaid=bool(self._overlays.get(self._stage))))
            self._redraw()

    def whole(self) -> QRectF:
        """The plan rectangle of the whole drawing; room to begin in while there is none."""
        x0, y0, x1, y1 = stage_drawing(self._document.plan, "plan").bounds()
        if x1 > x0 or y1 > y0:
            return QRectF(x0, y0, x1 - x0, y1 - y0)
        return _EMPTY if self.ground.isEmpty() else self.ground

    def start_tool(self, name: str) -> None:
        """Use another tool, by its verb (``tools.VERBS`` lists them).

        Raises:
            KeyError: There is no such tool.
        """
        tool = make_tool(name, self._host)
        left = label_of(self._tool_name) if self._tool.unfinished else ""
        self._tool.cancel()
        self._close_box()
        self._tool, self._tool_name = tool, name
        if name != resting_tool(self._stage):
            self._hover("")
            self.setFocus(Qt.FocusReason.OtherFocusReason)
        tool.start()
        if left:
            self._host.say(f"{left}: not finished, so nothing of it was drawn. {tool.hint}")
        self.tool_changed.emit(name)
        self.viewport().update()

    def key_at(self, px: QPointF) -> str:
        """Key of the object under a pixel: a corner of the selected wing first, then edges, then what it lies in."""
        if self._host.editable and self._tool_name == "select":
            handle = handle_at(self._document.job, self._document.plan, self._selection.key, px, self.to_px)
            if handle:
                return handle
        return self._items.key_at(self.to_plan(px), EDGE_REACH_PX / self.px_per_in)

    # Pointer

    def mousePressEvent(self, event: QMouseEvent) -> None:
        """Pan, or the tool's press."""
        self.setFocus(Qt.FocusReason.MouseFocusReason)
        if self.begin_pan(event) or event.button() != Qt.MouseButton.LeftButton:
            return
        self._close_box()
        self._own_selection = True
        self._tool.press(self._pointer(event))
        self._own_selection = False
        self._after()

    def mouseDoubleClickEvent(self, event: QMouseEvent) -> None:
        """As two presses."""
        self.mousePressEvent(event)

    def mouseMoveEvent(self, event: QMouseEvent) -> None:
        """Pan, or the tool's move; without a button also what the pointer is on."""
        if self.go_on_pan(event):
            return
        self._last_px = event.position()
        pointer = self._pointer(event)
        self._tool.move(pointer)
        if not event.buttons():
            self._hover(pointer.target if self._tool_name not in {"outline", "rectangle", "plane"} else "")
        snapped = self._tool.feedback().snap
        place = snapped.point if snapped is not None else pointer.at
        self.cursor_at.emit("   ".join(place_words(self._document.plan.units, place)))
        self._after()

    def mouseReleaseEvent(self, event: QMouseEvent) -> None:
        """End panning, or the tool's release."""
        if self.end_pan() or event.button() != Qt.MouseButton.LeftButton:
            return
        self._tool.release(self._pointer(event))
        self._after()

    def leaveEvent(self, event: QEvent) -> None:
        """Nothing is under the pointer any more."""
        self._hover("")
        self.cursor_at.emit("")
        super().leaveEvent(event)

    def contextMenuEvent(self, event: QContextMenuEvent) -> None:
        """What an edge is, and what can be done with its wing or opening."""
        if not self._host.editable or self._tool_name != "select":
            return
        by_key = event.reason() == QContextMenuEvent.Reason.Keyboard
        key = self._selection.key if by_key else self.key_at(QPointF(event.pos()))
        if wing_of(self._document.job, key) is None:
            return
        self._selection.select(key)
        menu = edge_menu(self, self._document, key)
        menu.verb.connect(self.start_tool)
        menu.exec(self.mapToGlobal(QPoint(40, 40)) if by_key else event.globalPos())
        menu.deleteLater()

    # Keys

    def event(self, event: QEvent) -> bool:
        """Plain keys of the tools go to the surface before any shortcut of the window."""
        if isinstance(event, QKeyEvent) and event.type() == QEvent.Type.ShortcutOverride:
            if event.matches(QKeySequence.StandardKey.Undo) and self._tool_is_busy():
                # While drawing, undo takes the last corner back, not the edit before.
                event.accept()
                return True
            plain = not event.modifiers() & ~Qt.KeyboardModifier.KeypadModifier
            if plain and (name_of_key(event) or self._begins_number(event)):
                event.accept()
                return True
        return super().event(event)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """A digit opens the number box; the rest is for the tool or the view."""
        if event.matches(QKeySequence.StandardKey.Undo) and self._tool_is_busy():
            self._tool.key("backspace")
            self._after()
            return
        control = event.modifiers() & (Qt.KeyboardModifier.ControlModifier | Qt.KeyboardModifier.AltModifier)
        if not control and self._begins_number(event) and self._tool.asks():
            self._open_box(event.text())
            return
        name = name_of_key(event) if not control else ""
        if name and self._tool.key(name):
            self._after()
            return
        if not self.key_for_view(event):
            super().keyPressEvent(event)

    def focusNextPrevChild(self, following: bool) -> bool:
        """Tab goes through the objects of the stage, and past the last one on to what stands beside the drawing."""
        keys = keys_in_turn(self._document.plan, self._stage)
        if self._tool_is_busy() or not keys:
            return super().focusNextPrevChild(following)
        here = keys.index(self._selection.key) if self._selection.key in keys else -1 if following else len(keys)
        after = here + (1 if following else -1)
        if not 0 <= after < len(keys):
            return super().focusNextPrevChild(following)
        self._selection.select(keys[after])
        return True

    def focusOutEvent(self, event: QFocusEvent) -> None:
        """A held Space that comes up elsewhere must not stay down."""
        self._space = False
        super().focusOutEvent(event)

    # Painting

    def drawBackground(self, painter: QPainter, rect: QRectF | QRect) -> None:
        """Plain ground and the grid."""
        painter.save()
        painter.resetTransform()
        if self._stage == "plan":
            painter.drawPixmap(0, 0, self._grid.of(self, self._document.plan.units.system))
        else:
            painter.fillRect(self.viewport().rect(), theme.current().paper)
        painter.restore()

    def drawForeground(self, painter: QPainter, rect: QRectF | QRect) -> None:
        """What the tool shows, over everything."""
        painter.save()
        painter.resetTransform()
        area = QRectF(self.viewport().rect())
        if self._stage in {"plan", "safety"}:
            feedback = self._tool.feedback()
            if self._box.isVisible():
                feedback = feedback.without_words()
            paint_feedback(painter, feedback, self.to_px, area)
        if not self._document.plan.job.wings and self._tool_name == "select" and self.ground.isEmpty():
            text = "Choose Draw outline, Draw rectangle or Draw single plane to begin."
            paint_hint(painter, area, "Nothing is drawn yet", text)
        painter.restore()

    # The document and the selection

    def _shown(self, before: Plan, after: Plan) -> None:
        self._redraw()
        if self._box.isVisible():
            self._box.show_live(self._tool.asks())
        if not before.job.wings and after.job.wings and not self.visible().contains(self.whole()):
            self.fit()

    def _replaced(self) -> None:
        self.start_tool(resting_tool(self._stage))
        self._selection.select("")
        self.fit()

    def _selected(self, key: str) -> None:
        self._mark()
        self._tell_selected()
        if not self._own_selection and not self._tool_is_busy():
            bounds = self._items.bounds_of(key)
            if not bounds.isEmpty():
                self.bring_into_view(bounds)
        self.viewport().update()

    def _tell_selected(self) -> None:
        """Say what is selected, in words."""
        words = describe(self._document.plan, self._selection.key)
        self.setAccessibleDescription(words)
        if words and self._tool_name == resting_tool(self._stage):
            self.hint.emit(words[0].upper() + words[1:])

    def _redraw(self) -> None:
        drawing = stage_drawing(self._document.plan, self._stage)
        overlay = self._overlays.get(self._stage)
        drawing = drawing if overlay is None else drawing + overlay(self._document.plan)
        self._items.show(drawing, moving=self._document.previewing)
        self._mark()
        self.viewport().update()

    def _mark(self) -> None:
        keys = self._items.drawing_keys
        hovered = standing_out(keys, self._hovered) if self._hovered else frozenset[str]()
        self._items.mark(standing_out(keys, self._selection.key) | laid_over(keys), hovered)

    def _restyle(self) -> None:
        self._items.restyle()
        self.viewport().update()

    # The tool in use

    def _px(self) -> float:
        return self.px_per_in

    def _finish(self) -> None:
        self.start_tool(resting_tool(self._stage))

    def _tool_is_busy(self) -> bool:
        resting = self._tool_name == resting_tool(self._stage)
        return not resting or (isinstance(self._tool, SelectTool | AnchorsTool) and self._tool.dragging)

    def _after(self) -> None:
        if self._box.isVisible():
            self._box.show_live(self._tool.asks())
        self.viewport().update()

    def _hover(self, key: str) -> None:
        if key != self._hovered:
            self._hovered = key
            self._mark()
            if key.startswith(("member:", "opening:")):
                self.hint.emit(describe(self._document.plan, key))
            elif self._tool_name == "select":
                self._tell_selected()

    def _pointer(self, event: QMouseEvent) -> Pointer:
        px = event.position()
        moving = bool(event.buttons()) and event.type() == QEvent.Type.MouseMove
        free = bool(event.modifiers() & Qt.KeyboardModifier.ControlModifier)
        return Pointer(self.to_plan(px), "" if moving else self.key_at(px), free)

    def _begins_number(self, event: QKeyEvent) -> bool:
        return begins_number(event) and self._tool_name != "select"

    # Typed numbers

    def _open_box(self, first: str = "") -> None:
        asks = self._tool.asks()
        if not asks:
            return
        if first and self._box.isVisible():
            self._box.type(first)
            return
        lines = self._tool.feedback().lines
        at = self._last_px if not self._last_px.isNull() else QPointF(self.viewport().rect().center())
        if lines and not QRectF(self.viewport().rect()).contains(at):
            at = QPointF(self.viewport().rect().center())
        self._box.open(asks, self._document.plan.units, at.toPoint(), first)

    def _close_box(self) -> None:
        if self._box.isVisible():
            self._box.hide()
            self.setFocus(Qt.FocusReason.OtherFocusReason)

    def _typed(self, values: dict[str, float]) -> None:
        before = self._box.isVisible()
        tool = self._tool
        # Closed first, so that a tool may ask for the next number at once.
        self._close_box()
        try:
            tool.typed(values)
        except BadInput as error:
            if before:
                self._open_box()
                self._box.show_error(str(error))
            return
        self._keep_in_view()
        self._after()

    def _keep_in_view(self) -> None:
        """Typed corners may lie outside: bring what is drawn so far into view."""
        points = [point for line in self._tool.feedback().lines for point in line]
        if points:
            xs, ys = [x for x, _ in points], [y for _, y in points]
            self.bring_into_view(QRectF(min(xs), min(ys), max(xs) - min(xs) + 1.0, max(ys) - min(ys) + 1.0))
