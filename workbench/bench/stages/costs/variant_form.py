"""An alternative from one input at another value: what to change, to what, and it stands beside the job."""

from __future__ import annotations

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QHBoxLayout, QPushButton, QWidget

from workbench.bench.document import Document
from workbench.bench.fields import ChoiceField, TextField, typed_length, typed_slope
from workbench.errors import BadInput
from workbench.job.alternatives import add_alternative
from workbench.job.change import value_words
from workbench.job.inputs import INPUTS, JOB_INPUTS, Change, Input
from workbench.measure import Units

_HINTS = {"slope": "8 in 12", "length": "1' 4\"", "word": "overframed"}


class VariantForm(QWidget):
    """One input, the value it is to have in all wings that have it, and a button.

    Signals:
        added: ``(id)`` an alternative was added.
    """

    added = Signal(str)

    def __init__(self, document: Document, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._document = document
        self.input = ChoiceField([(name, INPUTS[name].words) for name in JOB_INPUTS], JOB_INPUTS[0], "Input to change")
        self.value = TextField("", "Its value in the alternative", longest=40)
        self.add = QPushButton("Add", self)
        self.add.setToolTip("Add an alternative that has this value and else follows the job")
        row = QHBoxLayout(self)
        row.setContentsMargins(0, 0, 0, 0)
        row.setSpacing(6)
        for part, stretch in ((self.input, 3), (self.value, 2), (self.add, 0)):
            row.addWidget(part, stretch)
        self.input.committed.connect(lambda _: self._hint())
        self.add.clicked.connect(self._add)
        self.value.edit.returnPressed.connect(self._add)
        self._hint()

    def _hint(self) -> None:
        self.value.edit.setPlaceholderText(_HINTS[INPUTS[self._input()].kind])

    def _input(self) -> Input:
        return next(name for name in JOB_INPUTS if name == self.input.value)

    def _add(self) -> None:
        job, units, name = self._document.job, self._document.plan.units, self._input()
        try:
            value = _read(self.value.edit.text(), name, units)
            shown = f"{INPUTS[name].words} {value_words(name, value, units)}"
            job, made = add_alternative(job, f"{shown[:1].upper()}{shown[1:]}", [Change(input=name, value=value)])
        except BadInput as error:
            self.value.show_error(str(error))
            self.value.edit.setFocus()
            return
        self.value.set_value("")
        self.value.restore()
        self._document.apply(job, "Add an alternative")
        self.added.emit(made)


def _read(text: str, name: Input, units: Units) -> float | str:
    """The value as typed.

    Raises:
        BadInput: It can't be read.
    """
    info = INPUTS[name]
    match info.kind:
        case "slope":
            return 12.0 * typed_slope(text, info.words.capitalize())
        case "length":
            return typed_length(text, units, info.words.capitalize())
        case _:
            return text.strip()
