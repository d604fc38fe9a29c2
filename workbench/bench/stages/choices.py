"""The choices of laying the sheets beside what each would buy, for the whole roof or for one plane."""

from __future__ import annotations

from collections.abc import Callable

from PySide6.QtCore import QTimer, Signal
from PySide6.QtWidgets import (
    QButtonGroup,
    QGridLayout,
    QHBoxLayout,
    QLabel,
    QPushButton,
    QRadioButton,
    QVBoxLayout,
    QWidget,
)

from workbench.bench.background import Background
from workbench.bench.document import Document
from workbench.bench.panel import heading, note
from workbench.bench.stages.variants import (
    CHOICES,
    Bought,
    ChoiceName,
    buy,
    choices_of,
    chosen_value,
    variants,
    with_choice,
)
from workbench.errors import BadInput
from workbench.job.model import Job

_WAIT_MS = 350


class _Option(QWidget):
    """One choice with what it would buy at its right end."""

    def __init__(self, words: str, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.button = QRadioButton(words, self)
        self.buys = QLabel("", self)
        self.buys.setProperty("quiet", True)
        row = QHBoxLayout(self)
        row.setContentsMargins(0, 0, 0, 0)
        row.addWidget(self.button, 1)
        row.addWidget(self.buys)


class ChoicesForm(QWidget):
    """Radio buttons in groups; the counts come one by one from off to the side.

    Signals:
        refused: ``(sentence)`` a choice could not be made.
    """

    refused = Signal(str)

    def __init__(self, document: Document, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._document = document
        self._plane_id = ""
        self._plane_name = ""
        self._of_plane = False
        self._asked: tuple[Job, str] | None = None
        self._options: dict[tuple[ChoiceName, int], _Option] = {}
        self._values: dict[tuple[ChoiceName, int], object] = {}
        self._bought: dict[tuple[ChoiceName, object], Bought] = {}
        self._groups: list[QButtonGroup] = []
        self._background = Background(self)
        self._background.answered.connect(self._answered)
        self._wait = QTimer(self)
        self._wait.setSingleShot(True)
        self._wait.setInterval(_WAIT_MS)
        self._wait.timeout.connect(self._ask)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(4)
        self._add_scope(column)
        for name, words, values in CHOICES:
            self._add_choice(column, name, words, values)
        self.own_length = note("", self)
        column.addWidget(self.own_length)

    def show_plane(self, plane_id: str, plane_name: str) -> None:
        """Show the choices of the job on show, the plane being the one in hand."""
        self._plane_id, self._plane_name = plane_id, plane_name
        self.one.setText(plane_name or "This plane")
        self.one.setEnabled(bool(plane_id))
        if not plane_id:
            self._of_plane = False
        self.one.setChecked(self._of_plane)
        self.whole.setChecked(not self._of_plane)
        job = self._document.plan.job
        for name, _, values in choices_of(job):
            self._show_choice(job, name, values)
        if self._asked != (job, self.scope):
            # What another job bought says nothing about this one.
            self._background.give_up()
            self._asked = None
            self._bought.clear()
            self._wait.start()
        self._show_bought()

    @property
    def scope(self) -> str:
        """Id of the plane the choices are for; empty for the whole roof."""
        return self._plane_id if self._of_plane else ""

    def bought(self, name: ChoiceName, value: object) -> str:
        """What stands beside a choice."""
        number = next(key for key, known in self._values.items() if key[0] == name and known == value)
        return self._options[number].buys.text()

    def option(self, name: ChoiceName, value: object) -> QRadioButton:
        """The button of a choice."""
        number = next(key for key, known in self._values.items() if key[0] == name and known == value)
        return self._options[number].button

    def stop(self) -> None:
        """Let nothing run any more; the window closes."""
        self._wait.stop()
        self._background.stop()

    def _add_scope(self, column: QVBoxLayout) -> None:
        self.whole, self.one = QPushButton("Whole roof", self), QPushButton("This plane", self)
        scope = QButtonGroup(self)
        row = QHBoxLayout()
        row.setSpacing(6)
        label = QLabel("Choose for", self)
        row.addWidget(label)
        for button in (self.whole, self.one):
            button.setCheckable(True)
            scope.addButton(button)
            row.addWidget(button)
        row.addStretch(1)
        column.addLayout(row)
        self._groups.append(scope)
        self.whole.clicked.connect(self._scope_changed)
        self.one.clicked.connect(self._scope_changed)

    def _add_choice(
        self, column: QVBoxLayout, name: ChoiceName, words: str, values: tuple[tuple[object, str], ...]
    ) -> None:
        column.addSpacing(6)
        column.addWidget(heading(words, self))
        group = QButtonGroup(self)
        grid = QGridLayout()
        grid.setContentsMargins(4, 0, 0, 0)
        grid.setVerticalSpacing(2)
        for number, (value, text) in enumerate(values):
            option = _Option(text, self)
            group.addButton(option.button)
            grid.addWidget(option, number, 0)
            self._options[name, number] = option
            self._values[name, number] = value
            option.button.clicked.connect(self._taker(name, number))
        column.addLayout(grid)
        self._groups.append(group)

    def _taker(self, name: ChoiceName, number: int) -> Callable[[], None]:
        def take() -> None:
            self._take(name, self._values[name, number])

        return take

    def _take(self, name: ChoiceName, value: object) -> None:
        try:
            job = with_choice(self._document.job, self.scope, name, value)
        except BadInput as error:
            self.refused.emit(str(error))
            self.show_plane(self._plane_id, self._plane_name)
            return
        where = self._plane_name if self._of_plane else "whole roof"
        words = next(words for known, words, _ in CHOICES if known == name)
        self._document.apply(job, f"Change “{words.lower()}”, {where}")

    def _scope_changed(self) -> None:
        self._of_plane = self.one.isChecked()
        self.show_plane(self._plane_id, self._plane_name)

    def _show_choice(self, job: Job, name: ChoiceName, values: tuple[tuple[object, str], ...]) -> None:
        chosen = chosen_value(job, self.scope, name)
        known = False
        for number, (value, _) in enumerate(values):
            self._values[name, number] = value
            button = self._options[name, number].button
            group = button.group()
            group.setExclusive(False)
            button.setChecked(value == chosen)
            group.setExclusive(True)
            known = known or value == chosen
        if name == "first_piece_in":
            length = "" if known or not isinstance(chosen, float) else self._document.plan.units.length(chosen)
            self.own_length.setText(f"First piece given as {length}." if length else "")
            self.own_length.setVisible(bool(length))

    def _ask(self) -> None:
        if not self.isVisible():
            return
        job, scope = self._document.plan.job, self.scope
        self._asked = (job, scope)
        if not self._document.plan.sheathing.planes:
            return
        asked = variants(job, scope)
        self._background.start(lambda tell, given_up: buy(asked, tell, given_up))

    def _answered(self, run: int, bought: Bought) -> None:
        if run == self._background.current:
            self._bought[bought.name, bought.value] = bought
            self._show_bought()

    def _show_bought(self) -> None:
        for key, option in self._options.items():
            bought = self._bought.get((key[0], self._values[key]))
            if bought is None:
                text = "…" if self._document.plan.sheathing.planes else ""
            elif bought.sheets is None:
                text = "can't be laid so"
            else:
                text = f"{bought.sheets} sheets"
            option.buys.setText(text)
