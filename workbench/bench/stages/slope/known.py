"""What is to find and what is given: one row a measure, a radio button and its value."""

from __future__ import annotations

from collections.abc import Callable
from functools import partial

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QButtonGroup, QGridLayout, QLabel, QRadioButton, QWidget

from workbench.bench import theme
from workbench.bench.document import Document
from workbench.bench.fields import Field, LengthField, SlopeField
from workbench.bench.strip.boxes import show_in
from workbench.bench.strip.changes import step_text, with_unknown, with_value
from workbench.bench.strip.measures import Cut, Measurable, Measure, measures, word_of
from workbench.errors import BadInput
from workbench.job.model import Job
from workbench.measure import Units

_ORDER: tuple[Measurable, ...] = ("slope", "run", "low_plate", "landing", "hap_low", "seat", "hap_high", "tail")


class KnownMeasures(QWidget):
    """The radio list of what can be to find, each with its value; a value that is given can be typed.

    Signals:
        refused: ``(sentence)`` what was chosen can't be to find.
    """

    refused = Signal(str)

    def __init__(self, document: Document, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._document = document
        self._cut: Cut | None = None
        self._group = QButtonGroup(self)
        self._group.setExclusive(True)
        self._radios: dict[Measurable, QRadioButton] = {}
        self._fields: dict[Measurable, Field] = {}
        self._marks: dict[Measurable, QLabel] = {}
        self._grid = QGridLayout(self)
        self._grid.setContentsMargins(0, 0, 0, 0)
        self._grid.setHorizontalSpacing(10)
        self._grid.setVerticalSpacing(4)
        self._grid.setColumnStretch(1, 1)
        self._grid.setColumnMinimumWidth(2, 56)
        for row, name in enumerate(_ORDER):
            self._add_row(row, name, Units())
        theme.current().changed.connect(self._dress)
        self._dress()

    @property
    def fields(self) -> dict[Measurable, Field]:
        """The value of each measure."""
        return self._fields

    @property
    def radios(self) -> dict[Measurable, QRadioButton]:
        """The choice of what is to find."""
        return self._radios

    def show_cut(self, cut: Cut | None, units: Units) -> None:
        """Show the measures of a section; all is hidden without one."""
        self._cut = cut
        shown: dict[Measurable, Measure] = {} if cut is None else {m.name: m for m in measures(cut)}
        for name in _ORDER:
            found = shown.get(name)
            for widget in (self._radios[name], self._fields[name], self._marks[name]):
                widget.setVisible(found is not None)
            if found is not None:
                self._show(found, units)

    def _add_row(self, row: int, name: Measurable, units: Units) -> None:
        radio, mark = QRadioButton(self), QLabel(self)
        mark.setProperty("quiet", True)
        field: Field = SlopeField(units, None, name) if name == "slope" else LengthField(units, None, name)
        field.setParent(self)
        radio.clicked.connect(partial(self._find, name))
        field.committed.connect(partial(self._typed, name))
        radio.setProperty("fixed", name == "tail")
        if name != "tail":
            self._group.addButton(radio)
        self._radios[name], self._fields[name], self._marks[name] = radio, field, mark
        self._grid.addWidget(radio, row, 0)
        self._grid.addWidget(field, row, 1)
        self._grid.addWidget(mark, row, 2)

    def _show(self, measure: Measure, units: Units) -> None:
        radio, field = self._radios[measure.name], self._fields[measure.name]
        radio.setText(measure.word)
        # The overhang is no unknown: its row keeps the words in line with the others without a button to press.
        radio.setEnabled(measure.can_find)
        radio.setChecked(measure.mark == "to find")
        radio.setAccessibleName(f"Find {measure.word.lower()}")
        if field.label != measure.word:
            field.label = measure.word
            field.edit.setAccessibleName(measure.word)
        value = measure.value / 12.0 if measure.name == "slope" else measure.value
        show_in(field, value, units, read_only=measure.mark == "to find")
        self._marks[measure.name].setText(measure.mark)

    def _dress(self) -> None:
        """A ring that is seen on both grounds; the overhang's row has none, as it is never to find."""
        colours = theme.current().colours
        self.setStyleSheet(
            "QRadioButton::indicator { width: 12px; height: 12px; border-radius: 7px; }"
            f"QRadioButton::indicator {{ border: 1px solid {colours.quiet}; background: {colours.paper}; }}"
            f"QRadioButton::indicator:checked {{ border: 4px solid {colours.accent}; width: 6px; height: 6px; }}"
            f"QRadioButton:focus {{ color: {colours.accent}; }}"
            'QRadioButton[fixed="true"]::indicator { border-color: transparent; background: transparent; }'
            f'QRadioButton[fixed="true"] {{ color: {colours.ink}; }}'
        )

    def _find(self, name: Measurable) -> None:
        cut = self._cut
        if cut is not None:
            self._edit(name, lambda: with_unknown(cut, name), f"Find {word_of(cut, name).lower()}")

    def _typed(self, name: Measurable, value: float) -> None:
        cut = self._cut
        if cut is not None:
            inches = 12.0 * value if name == "slope" else value
            self._edit(name, lambda: with_value(cut, name, inches), step_text(name))

    def _edit(self, name: Measurable, change: Callable[[], Job], text: str) -> None:
        try:
            job = change()
        except BadInput as error:
            self._fields[name].show_error(str(error))
            if self._cut is not None:
                self._radios[self._cut.unknown].setChecked(True)
            return
        self._document.apply(job, text)
