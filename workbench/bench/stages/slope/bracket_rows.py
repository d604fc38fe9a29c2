"""The roofers' price brackets as rows that can be typed: from which slope, what a square costs."""

from __future__ import annotations

from functools import partial

from PySide6.QtWidgets import QGridLayout, QLabel, QPushButton, QVBoxLayout, QWidget

from workbench.bench.document import Document
from workbench.bench.fields import NumberField
from workbench.bench.tab_order import tab_before
from workbench.errors import BadInput
from workbench.job import edits
from workbench.job.model import Job, PriceBracket

_STEP_IN_12 = 2.0


class BracketRows(QWidget):
    """The job's price brackets; every change is one undo step."""

    def __init__(self, document: Document, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._document = document
        self._rows: list[_Row] = []
        self._grid = QGridLayout()
        self._grid.setContentsMargins(0, 0, 0, 0)
        self._grid.setHorizontalSpacing(8)
        self._grid.setVerticalSpacing(4)
        for column, words in enumerate(("From (in 12)", "Price a square", "")):
            head = QLabel(words, self)
            head.setProperty("quiet", True)
            self._grid.addWidget(head, 0, column)
        self._grid.setColumnStretch(0, 1)
        self._grid.setColumnStretch(1, 1)
        self.add_button = QPushButton("Add a bracket", self)
        self.add_button.clicked.connect(self._add)
        column_box = QVBoxLayout(self)
        column_box.setContentsMargins(0, 0, 0, 0)
        column_box.addLayout(self._grid)
        column_box.addWidget(self.add_button)

    @property
    def rows(self) -> list[_Row]:
        """The rows on show, lowest bracket first."""
        return [row for row in self._rows if not row.start.isHidden()]

    def show_brackets(self, brackets: tuple[PriceBracket, ...], here: int | None) -> None:
        """Show the job's brackets; ``here`` is the number of the one the roof is in."""
        while len(self._rows) < len(brackets):
            self._rows.append(self._new_row(len(self._rows)))
        for number, row in enumerate(self._rows):
            row.set_visible(number < len(brackets))
            if number < len(brackets):
                row.show(brackets[number], "this roof" if number == here else "")
                row.remove.setEnabled(len(brackets) > 1)

    def _new_row(self, number: int) -> _Row:
        row = _Row(number, self)
        row.start.committed.connect(partial(self._set_start, number))
        row.price.committed.connect(partial(self._set_price, number))
        row.remove.clicked.connect(partial(self._remove, number))
        for column, widget in enumerate((row.start, row.price, row.remove)):
            self._grid.addWidget(widget, number + 1, column)
        tab_before(self.add_button, (row.start.edit, row.price.edit, row.remove))
        return row

    def _set_start(self, number: int, value: float) -> None:
        brackets = list(self._document.job.brackets)
        brackets[number] = PriceBracket(from_in_12=value, price_per_square=brackets[number].price_per_square)
        self._put(brackets, "Change price bracket", self._rows[number].start)

    def _set_price(self, number: int, value: float) -> None:
        brackets = list(self._document.job.brackets)
        brackets[number] = PriceBracket(from_in_12=brackets[number].from_in_12, price_per_square=value)
        self._put(brackets, "Change price", self._rows[number].price)

    def _add(self) -> None:
        brackets = list(self._document.job.brackets)
        start = brackets[-1].from_in_12 + _STEP_IN_12 if brackets else 0.0
        brackets.append(PriceBracket(from_in_12=min(start, 120.0)))
        self._put(brackets, "Add price bracket", None)

    def _remove(self, number: int) -> None:
        brackets = list(self._document.job.brackets)
        del brackets[number]
        self._put(brackets, "Remove price bracket", None)

    def _put(self, brackets: list[PriceBracket], text: str, field: NumberField | None) -> None:
        """Make the change; brackets typed out of order are put in order."""
        try:
            ordered = tuple(sorted(brackets, key=lambda bracket: bracket.from_in_12))
            job: Job = edits.set_job(self._document.job, brackets=ordered)
        except BadInput as error:
            if field is not None:
                field.show_error(str(error))
            else:
                self._document.refuse(error)
            return
        self._document.apply(job, text)


class _Row:
    """The widgets of one bracket."""

    def __init__(self, number: int, parent: QWidget) -> None:
        self.start = NumberField(None, f"Bracket {number + 1}, from", parent, least=0.0)
        self.price = NumberField(None, f"Bracket {number + 1}, price a square", parent, least=0.0)
        self.price.edit.setPlaceholderText("no price")
        self.remove = QPushButton("Remove", parent)
        self.remove.setAccessibleName(f"Remove bracket {number + 1}")

    def show(self, bracket: PriceBracket, words: str) -> None:
        """Show a bracket; fields that show it already are left alone."""
        if self.start.value != bracket.from_in_12:
            self.start.set_value(bracket.from_in_12)
        if self.price.value != bracket.price_per_square:
            self.price.set_value(bracket.price_per_square)
        self.price.set_note(words)

    def set_visible(self, on: bool) -> None:
        """Show or hide the row."""
        for widget in (self.start, self.price, self.remove):
            widget.setVisible(on)
