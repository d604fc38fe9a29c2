"""One number of the section strip: its word, its mark (given or to find), and the field it is typed in."""

from __future__ import annotations

import math

from PySide6.QtCore import QEvent, QObject, Qt, Signal
from PySide6.QtGui import QKeyEvent
from PySide6.QtWidgets import QFrame, QHBoxLayout, QLabel, QToolButton, QVBoxLayout, QWidget

from workbench.bench import theme
from workbench.bench.fields import Field, LengthField, SlopeField
from workbench.bench.strip.measures import Measurable, Measure
from workbench.measure import Units

BOX_WIDTH = 176


class NumberBox(QFrame):
    """A measure beside its handle.

    Signals:
        typed: ``(value)`` a value was typed: inches, or rise in 12 for the slope.
        nudged: ``(steps, whole)`` an arrow key moved it by one step, by whole inches with Shift.
        marked: The mark was clicked.
        entered: The number has the focus now.
    """

    typed = Signal(float)
    nudged = Signal(int, bool)
    marked = Signal()
    entered = Signal()

    def __init__(self, measure: Measure, units: Units, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.name: Measurable = measure.name
        self._slope = measure.name == "slope"
        self._marked_as: tuple[str, str, bool] | None = None
        self._word = QLabel(measure.word)
        self._mark = QToolButton()
        self._mark.setAutoRaise(True)
        self._mark.clicked.connect(self.marked)
        kind = SlopeField if self._slope else LengthField
        self.field: Field = kind(units, self._scaled(measure.value), measure.word)
        self.field.edit.installEventFilter(self)
        self.field.committed.connect(self._committed)
        self._lay_out()
        self.show_measure(measure, units)
        theme.current().changed.connect(self._dress)

    def _lay_out(self) -> None:
        self._mark.setFixedWidth(self._mark.fontMetrics().horizontalAdvance("to find") + 14)
        line = QHBoxLayout()
        line.setContentsMargins(0, 0, 0, 0)
        line.setSpacing(4)
        line.addWidget(self.field, 1)
        line.addWidget(self._mark, 0, Qt.AlignmentFlag.AlignTop)
        column = QVBoxLayout(self)
        column.setContentsMargins(5, 0, 4, 3)
        column.setSpacing(0)
        column.addWidget(self._word)
        column.addLayout(line)
        self.setFixedWidth(BOX_WIDTH)

    @property
    def mark_button(self) -> QToolButton:
        """The button that says given or to find."""
        return self._mark

    def show_measure(self, measure: Measure, units: Units) -> None:
        """Show a measure's value and mark."""
        show_in(self.field, self._scaled(measure.value), units, read_only=measure.mark == "to find")
        angle = units.angle(math.atan(measure.value / 12.0)) if self._slope else ""
        self._word.setText(f"{measure.word} · {angle}" if angle else measure.word)
        marked = (measure.word, measure.mark, measure.can_find)
        if marked == self._marked_as:
            return
        self._marked_as = marked
        self._mark.setText(measure.mark)
        self._mark.setEnabled(measure.can_find)
        self._mark.setToolTip(_hint(measure))
        self._mark.setAccessibleName(f"{measure.word}: {measure.mark}")
        self._mark.setAccessibleDescription(_hint(measure))
        self.setProperty("mark", measure.mark)
        self._dress()

    def event(self, event: QEvent) -> bool:
        """Grow for a sentence under the number, over the neighbours, and shrink when it goes."""
        if event.type() == QEvent.Type.LayoutRequest:
            self.adjustSize()
            if self.field.error:
                self.raise_()
        return super().event(event)

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:
        """Up and down in the number move it by one step; coming in tells whose number it is."""
        if event.type() == QEvent.Type.FocusIn:
            self.entered.emit()
        if event.type() == QEvent.Type.KeyPress and isinstance(event, QKeyEvent):
            steps = {Qt.Key.Key_Up: 1, Qt.Key.Key_Down: -1}.get(Qt.Key(event.key()))
            if steps is not None and not self.field.edit.isReadOnly():
                self.nudged.emit(steps, bool(event.modifiers() & Qt.KeyboardModifier.ShiftModifier))
                return True
        return super().eventFilter(watched, event)

    def _scaled(self, value: float) -> float:
        return value / 12.0 if self._slope else value

    def _committed(self, value: float) -> None:
        self.typed.emit(12.0 * value if self._slope else value)

    def _dress(self) -> None:
        colours = theme.current().colours
        found = self.property("mark") == "to find"
        border = f"1px dashed {colours.accent}" if found else f"1px solid {colours.line}"
        ground, ink = (colours.accent, colours.on_accent) if found else ("transparent", colours.quiet)
        edge = colours.accent if found else colours.line
        self.setStyleSheet(
            f"NumberBox {{ background: {colours.panel}; border: {border}; border-radius: 4px; }}"
            f"QToolButton {{ color: {ink}; background: {ground}; border: 1px solid {edge};"
            f" border-radius: 3px; padding: 1px; }}"
            "QLineEdit { padding: 0 5px; min-height: 19px; }"
            f"QToolButton:disabled {{ border: 0; }}"
            f"QToolButton:hover:enabled, QToolButton:focus {{ border: 1px solid {colours.accent}; }}"
        )


def show_in(field: Field, value: float, units: Units, *, read_only: bool) -> None:
    """Show a value in a field; what is shown already is left alone, since a drag shows many at every move."""
    if isinstance(field, LengthField):
        field.set_units(units)
    if field.value != value:
        field.set_value(value)
    if field.edit.isReadOnly() != read_only:
        field.set_read_only(read_only)


def _hint(measure: Measure) -> str:
    if not measure.can_find:
        return "Always given here."
    match measure.mark:
        case "given":
            return "Click to make this the one to find."
        case "to find":
            return "Found from the others. Click to give it instead."
        case "follows":
            return "Follows from the others. Click to give this one instead."
