"""The section strip: the vertical cut through the selected plane, true to scale, its handles the solver's inputs."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace
from functools import partial
from itertools import pairwise

from PySide6.QtCore import Qt
from PySide6.QtGui import QKeyEvent
from PySide6.QtWidgets import QLabel, QVBoxLayout, QWidget

from workbench.bench import theme
from workbench.bench.document import Document
from workbench.bench.selected import selected_plane
from workbench.bench.selection import Selection
from workbench.bench.strip.boxes import BOX_WIDTH, NumberBox
from workbench.bench.strip.changes import step_text, with_given, with_unknown, with_value
from workbench.bench.strip.handles import (
    Handle,
    bracket_wedge,
    dragged_value,
    handles,
    nudged_value,
    run_line,
)
from workbench.bench.strip.layout import BESIDE, GAP, Scale, fit, stack
from workbench.bench.strip.measures import Cut, Measurable, Measure, cut_of, measures, word_of
from workbench.bench.strip.view import Leader, SectionView, Wedge
from workbench.bench.strip.words import bracket_words, brackets_shown, hint_for, trouble
from workbench.drawing.primitives import Dimension, Drawing, Line, Polygon, Text
from workbench.drawing.section import section
from workbench.errors import BadInput
from workbench.job.model import Job
from workbench.roof.brackets import at_or_over
from workbench.roof.model import Plane, Point2

_REST = (
    "Drag a round handle, or type the number beside it. Arrow keys move it by the smallest step, with Shift by an inch."
)
_MARGIN = 8.0
_COLUMN = BOX_WIDTH + BESIDE + _MARGIN
_LEAST_DRAWN = 60.0


@dataclass(frozen=True)
class _Drag:
    """A handle in hand: the section it was taken in, and where."""

    cut: Cut
    handle: Handle
    start: Point2


class SectionStrip(QWidget):
    """The strip under the drawing."""

    def __init__(self, document: Document, selection: Selection, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._document = document
        self._selection = selection
        self._drag: _Drag | None = None
        self._cut: Cut | None = None
        self._boxes: dict[Measurable, NumberBox] = {}
        self._view = SectionView(self)
        self._view.setAccessibleName("Section through the selected plane")
        self._title = QLabel(self._view)
        self._title.setFont(theme.heading_font())
        self._title.move(10, 6)
        self._hint = QLabel()
        self._hint.setContentsMargins(10, 2, 10, 3)
        self._hint.setWordWrap(True)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(0)
        column.addWidget(self._view, 1)
        column.addWidget(self._hint)
        # Both columns of numbers beside the least drawing: narrower they would lie on one another.
        self.setMinimumSize(int(2 * _COLUMN + _LEAST_DRAWN), 272)
        self._connect()
        self._refresh()

    def _connect(self) -> None:
        self._view.taken.connect(self._take)
        self._view.dragged.connect(self._drag_to)
        self._view.dropped.connect(self._drop)
        self._view.cancelled.connect(self._cancel)
        self._view.pointed.connect(self._point)
        self._view.resized.connect(self._arrange)
        self._document.shown.connect(self._refresh)
        self._document.replaced.connect(self._forget_drag)
        self._selection.changed.connect(self._refresh)
        theme.current().changed.connect(self._recolour)

    @property
    def view(self) -> SectionView:
        """The drawn part."""
        return self._view

    @property
    def boxes(self) -> dict[Measurable, NumberBox]:
        """The numbers, by the name of their measure."""
        return self._boxes

    @property
    def hint(self) -> str:
        """The line under the drawing."""
        return self._hint.text()

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Esc lets the handle in hand go back, wherever the focus is."""
        if event.key() == Qt.Key.Key_Escape and self._view.held:
            self._view.cancel()
            event.accept()
            return
        super().keyPressEvent(event)

    def _refresh(self) -> None:
        plan = self._document.plan
        plane = selected_plane(plan, self._selection)
        self._cut = None if plane is None else cut_of(plan, plane.id)
        self._title.setText("" if plane is None else f"Section: {plane.name}")
        self._title.adjustSize()
        self._show_boxes(() if self._cut is None else measures(self._cut))
        self._say("")
        if self._cut is None:
            self._view.show_section(Drawing(), (), (), None)
            self._view.show_leaders(())
            self._hint.setText(_no_section(plane))
            return
        self._arrange()

    def _show_boxes(self, shown: tuple[Measure, ...]) -> None:
        units = self._document.plan.units
        names = [measure.name for measure in shown]
        if names != list(self._boxes):
            self._rebuild(shown)
        for measure in shown:
            self._boxes[measure.name].show_measure(measure, units)

    def _rebuild(self, shown: tuple[Measure, ...]) -> None:
        """Make the boxes of another set of measures; boxes that stay keep their focus."""
        kept = {m.name for m in shown}
        for name in [name for name in self._boxes if name not in kept]:
            gone = self._boxes.pop(name)
            gone.hide()
            gone.deleteLater()
        for measure in shown:
            if measure.name not in self._boxes:
                self._boxes[measure.name] = self._new_box(measure)
        self._boxes = {m.name: self._boxes[m.name] for m in shown}
        order = list(self._boxes.values())
        for before, after in pairwise(order):
            QWidget.setTabOrder(before.mark_button, after.field.edit)
        for box in order:
            QWidget.setTabOrder(box.field.edit, box.mark_button)

    def _new_box(self, measure: Measure) -> NumberBox:
        box = NumberBox(measure, self._document.plan.units, self._view)
        box.typed.connect(partial(self._typed, measure.name))
        box.nudged.connect(partial(self._nudged, measure.name))
        box.marked.connect(partial(self._marked, measure.name))
        box.entered.connect(partial(self._entered, measure.name))
        box.show()
        return box

    def _arrange(self) -> None:
        """Place drawing and numbers for the room there is; while a handle is in hand the scale stays."""
        cut = self._cut
        if cut is None:
            return
        shown = handles(cut)
        if self._drag is None:
            self._view.show_scale(self._fitted(cut, shown))
        drawing = _plain(section(self._document.plan, cut.plane.id))
        line = run_line(cut)
        ends = ((0.0, line), (cut.section.answer.run_in, line))
        self._view.show_section(drawing, shown, self._wedges(cut), ends)
        if self._drag is None:
            self._place_boxes(shown)

    def _fitted(self, cut: Cut, shown: tuple[Handle, ...]) -> Scale:
        answer, past = cut.section.answer, cut.section.past_in
        line = run_line(cut)
        right = answer.run_in + max(past, 6.0)
        top = answer.low_plate_in + answer.hap_low_in + (answer.run_in + past) * answer.tangent + 2.0
        lowest = answer.low_plate_in + answer.hap_low_in - cut.section.overhang_in * answer.tangent
        bounds = (-cut.section.overhang_in, min(line, lowest - cut.section.given.depth_in), right, top)
        width, height = self._view.width(), self._view.height()
        room = (max(_LEAST_DRAWN, width - 2 * _COLUMN), max(_LEAST_DRAWN, height - 34.0 - 14.0))
        return fit(bounds, (_COLUMN, 34.0, *room))

    def _place_boxes(self, shown: tuple[Handle, ...]) -> None:
        """Numbers left and right in the order of their handles; run and slope where they are measured."""
        scale, cut = self._view.mapping, self._cut
        if cut is None:
            return
        left_edge = scale.to_pixels((-cut.section.overhang_in, 0.0))[0] - BESIDE
        right_edge = scale.to_pixels((cut.section.answer.run_in + max(cut.section.past_in, 4.0), 0.0))[0] + BESIDE
        leaders = [
            *self._column([h for h in shown if h.side == "left"], left_edge - BOX_WIDTH, left_edge),
        ]
        under = self._under_rafter(shown)
        right = [h for h in shown if h.side == "right" or (h.name == "slope" and not under)]
        leaders += [*under, *self._column(right, right_edge, right_edge)]
        self._view.show_leaders(leaders)

    def _column(self, column: list[Handle], x: float, leader_x: float) -> list[Leader]:
        column = sorted(column, key=lambda handle: self._view.handle_pixel(handle)[1])
        heights = [float(self._boxes[handle.name].sizeHint().height()) for handle in column]
        wanted = [(self._view.handle_pixel(h)[1], height) for h, height in zip(column, heights, strict=True)]
        tops = stack(wanted, self._column_top, self._view.height() - GAP)
        leaders = []
        for handle, top, height in zip(column, tops, heights, strict=True):
            self._put(handle.name, x, top)
            leaders.append(Leader(handle.name, (leader_x, top + height / 2.0)))
        return leaders

    @property
    def _column_top(self) -> float:
        """Under the title, and under the words of the bracket the rafter is in."""
        cut = self._cut
        over = cut is not None and any(wedge.over for wedge in self._wedges(cut))
        return 46.0 if over else 28.0

    def _under_rafter(self, shown: tuple[Handle, ...]) -> list[Leader]:
        """The slope's number in the room under the rafter, towards its high end; no leader where there is no room."""
        handle = next(h for h in shown if h.name == "slope")
        box = self._boxes["slope"]
        cut, height = self._cut, float(box.sizeHint().height())
        if cut is None:
            return []
        right = self._view.mapping.to_pixels((cut.section.answer.run_in, 0.0))[0]
        bottom = self._view.mapping.to_pixels((0.0, run_line(cut)))[1]
        x = right - BOX_WIDTH - 10.0
        at = self._view.handle_pixel(handle)
        if x < self._view.mapping.to_pixels((0.0, 0.0))[0] + 2 * BESIDE:
            return []
        y = max(at[1] + 30.0, bottom - height - 30.0)
        self._put("slope", x, y)
        return [Leader("slope", (max(x, min(at[0], x + BOX_WIDTH)), y))]

    def _put(self, name: Measurable, x: float, y: float) -> None:
        box = self._boxes[name]
        box.adjustSize()
        widest = self._view.width() - box.width() - 2
        box.move(round(max(2.0, min(x, widest))), round(max(2.0, min(y, self._view.height() - box.height() - 2))))

    def _wedges(self, cut: Cut) -> tuple[Wedge, ...]:
        """The price bracket to stay out of, hatched, and the limit of the next one above it."""
        right, _ = self._view.mapping.to_section((self._view.width() - BOX_WIDTH - BESIDE, 0.0))
        _, top = self._view.mapping.to_section((0.0, 26.0))
        right, tangent = min(right, cut.section.answer.run_in + 30.0), cut.section.answer.tangent
        wedges: list[Wedge] = []
        for number, bracket in enumerate(brackets_shown(self._document.plan.job, tangent)):
            outline = bracket_wedge(cut, bracket.from_in_12, right, top)
            if outline:
                over = at_or_over(12.0 * tangent, bracket.from_in_12)
                wedges.append(Wedge(outline, bracket_words(bracket, tangent), over, hatched=number == 0))
        return tuple(wedges)

    def _take(self, name: Measurable, start: Point2) -> None:
        cut = self._cut
        if cut is None:
            return
        handle = next(h for h in handles(cut) if h.name == name)
        self._drag = _Drag(cut, handle, start)
        self.setFocus(Qt.FocusReason.MouseFocusReason)

    def _drag_to(self, now: Point2, whole: bool) -> None:
        drag = self._drag
        if drag is None:
            return
        value = dragged_value(drag.cut, drag.handle, drag.start, now, drag.cut.job, whole=whole)
        try:
            job = with_value(drag.cut, drag.handle.name, value)
        except BadInput as error:
            self._say(str(error), warning=True)
            return
        self._document.preview(job)

    def _drop(self) -> None:
        drag, self._drag = self._drag, None
        if drag is not None:
            self._document.apply(self._document.plan.job, step_text(drag.handle.name))
            self._refresh()

    def _cancel(self) -> None:
        self._drag = None
        self._document.cancel_preview()
        self._refresh()

    def _forget_drag(self) -> None:
        self._drag = None
        self._refresh()

    def _typed(self, name: Measurable, value: float) -> None:
        if self._cut is not None:
            cut = self._cut
            self._edit(name, lambda: with_value(cut, name, value), step_text(name))

    def _nudged(self, name: Measurable, steps: int, whole: bool) -> None:
        cut = self._cut
        if cut is None or self._drag is not None:
            return
        self._boxes[name].field.restore()
        value = nudged_value(cut, name, steps, cut.job, whole=whole)
        self._edit(name, lambda: with_value(cut, name, value), step_text(name))
        self._boxes[name].field.edit.selectAll()

    def _marked(self, name: Measurable) -> None:
        cut = self._cut
        if cut is None:
            return
        marks = {m.name: m.mark for m in measures(cut)}
        word = word_of(cut, name)
        if marks[name] == "given":
            self._edit(name, lambda: with_unknown(cut, name), f"Find {word.lower()}")
        else:
            self._edit(name, lambda: with_given(cut, name), f"Give {word.lower()}")

    def _edit(self, name: Measurable, change: Callable[[], Job], text: str) -> None:
        try:
            job = change()
        except BadInput as error:
            self._boxes[name].field.show_error(str(error))
            self._boxes[name].adjustSize()
            self._boxes[name].raise_()
            return
        self._document.apply(job, text)

    def _entered(self, name: Measurable) -> None:
        self._view.show_focus(name)

    def _point(self, name: str) -> None:
        shown = {} if self._cut is None else {m.name: m for m in measures(self._cut)}
        found = next((m for key, m in shown.items() if key == name), None)
        self._say("" if found is None else hint_for(found))

    def _say(self, text: str, *, warning: bool = False) -> None:
        wrong = "" if self._cut is None else trouble(self._document.plan, self._cut)
        self._hint.setText(text or wrong or _REST)
        lit = warning or (bool(wrong) and not text)
        if self._hint.property("warning") != lit:
            self._hint.setProperty("warning", lit)
            self._hint.setProperty("quiet", not lit)
            self._hint.style().unpolish(self._hint)
            self._hint.style().polish(self._hint)

    def _recolour(self) -> None:
        self._view.update()


def _plain(drawing: Drawing) -> Drawing:
    """The section without its measures and words: here the numbers beside the handles say them."""
    kept = [item for item in drawing.items if not isinstance(item, Dimension | Text)]
    shapes = [replace(item, hatch="none") if isinstance(item, Polygon) else item for item in kept]
    return Drawing(tuple(item for item in shapes if not (isinstance(item, Line) and item.role == "dimension")))


def _no_section(plane: Plane | None) -> str:
    if plane is None:
        return "Draw a roof in the plan to see its section here."
    return f"{plane.name} has no section: its rafters have no run between two bearing lines."
