"""Alternatives on the Quantities page: kept, compared with the job side by side, made the job."""

from __future__ import annotations

from collections.abc import Callable
from functools import partial

from PySide6.QtCore import QTimer
from PySide6.QtWidgets import QHBoxLayout, QPushButton, QVBoxLayout, QWidget

from workbench.bench.background import Background
from workbench.bench.document import Document
from workbench.bench.fields import ChoiceField, TextField
from workbench.bench.panel import note
from workbench.bench.stages.costs.side_by_side import SideBySide
from workbench.bench.stages.costs.variant_form import VariantForm
from workbench.compare import Figures, each_figures
from workbench.errors import BadInput
from workbench.findings import SCREENING
from workbench.job.alternatives import add_alternative, promote, remove_alternative
from workbench.job.model import Job
from workbench.measure import Units

_WAIT_MS = 200
_SAME = "Nothing differs from the job"


class AlternativesForm(QWidget):
    """The job and its alternatives side by side; solved off to the side, the last table stays meanwhile."""

    def __init__(self, document: Document, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._document = document
        self._solved_for: Job | None = None
        self._coming: list[Figures] = []
        self.figures: tuple[Figures, ...] = ()
        """What is shown, the job's own first."""
        self.name = TextField("", "Name of the alternative")
        self.name.edit.setPlaceholderText("what is different about it")
        self.keep = QPushButton("Keep this design", self)
        self.keep.setToolTip("Keep the job as it is now as an alternative, then go on changing the job")
        self.variant = VariantForm(document, self)
        self.said = note("", self)
        self.choice = ChoiceField([("", "")], "", "Alternative in hand")
        self.promote = QPushButton("Make it the job", self)
        self.promote.setToolTip("The job becomes this alternative; what it was is kept in its place. One step to undo")
        self.drop = QPushButton("Drop it", self)
        self.changes = note("", self)
        self.table = SideBySide(self)
        self._lay_out()
        self.keep.clicked.connect(self._keep)
        self.name.edit.returnPressed.connect(self._keep)
        self.promote.clicked.connect(self._promote)
        self.drop.clicked.connect(self._drop)
        self.choice.committed.connect(lambda _: self._show())
        self.table.chosen.connect(self._choose)
        self.variant.added.connect(self._choose)
        self._background = Background(self)
        self._background.answered.connect(self._answered)
        self._background.failed.connect(self._failed)
        self._wait = QTimer(self)
        self._wait.setSingleShot(True)
        self._wait.setInterval(_WAIT_MS)
        self._wait.timeout.connect(self._solve)

    def refresh(self, job: Job) -> None:
        """Show the alternatives of a job; they are solved anew only where it is another."""
        there = bool(job.alternatives)
        for part in (self.choice, self.promote, self.drop, self.changes):
            part.setVisible(there)
        if not there:
            self._background.give_up()
            self._solved_for, self.figures = None, ()
            self.said.setText(
                "Keep the design as it is and change the job, or add an input at another value: all stand side by side."
            )
            self._show()
            return
        known = [(alternative.id, alternative.name) for alternative in job.alternatives]
        before = self.choice.value
        self.choice.set_choices(known)
        self.choice.set_value(before if before in dict(known) else known[-1][0])
        if job != self._solved_for:
            self.said.setText("Working the alternatives out…")
            self._wait.start()
        self._show()

    def stop(self) -> None:
        """Let nothing run on; call it before the page goes."""
        self._wait.stop()
        self._background.stop()

    def _lay_out(self) -> None:
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(6)
        for parts in ((self.name, self.keep), (self.choice, self.promote, self.drop)):
            row = QHBoxLayout()
            row.setContentsMargins(0, 0, 0, 0)
            row.addWidget(parts[0], 1)
            for part in parts[1:]:
                row.addWidget(part)
            column.addLayout(row)
            if parts[0] is self.name:
                column.addWidget(self.variant)
            column.addWidget(self.said if parts[0] is self.name else self.changes)
        column.addWidget(self.table)

    def _solve(self) -> None:
        job = self._document.job
        self._solved_for, self._coming = job, []
        self._background.start(partial(_task, job))

    def _answered(self, run: int, answer: object) -> None:
        if run != self._background.current or not isinstance(answer, Figures):
            return
        self._coming.append(answer)
        job = self._solved_for
        if job is not None and len(self._coming) == 1 + len(job.alternatives):
            self.figures = tuple(self._coming)
            self.said.setText(f"Sheets are those of the quick layout for each. {SCREENING}")
            self._show()

    def _failed(self, run: int, sentence: str) -> None:
        if run == self._background.current:
            self.said.setText(f"⚠ The alternatives could not be worked out ({sentence}). The log says more.")

    def _show(self) -> None:
        """All designs side by side, and what makes the one in hand another."""
        chosen = next((f for f in self.figures[1:] if f.id == self.choice.value), None)
        said = "" if chosen is None else chosen.problem or f"{'; '.join(chosen.changes) or _SAME}."
        self.changes.setText(said)
        job = self._document.job
        shown = () if chosen is None else self.figures
        self.table.show_figures(shown, Units(job.units.system, job.units.fraction), str(self.choice.value))

    def _choose(self, alternative: str) -> None:
        self.choice.set_value(alternative)
        self._show()

    def _keep(self) -> None:
        name = self.name.edit.text().strip()
        try:
            job, made = add_alternative(self._document.job, name)
        except BadInput as error:
            self.name.show_error(str(error))
            self.name.edit.setFocus()
            return
        self.name.set_value("")
        self.name.restore()
        self._document.apply(job, "Keep an alternative")
        self.choice.set_value(made)

    def _promote(self) -> None:
        self._edit(promote, "Make an alternative the job")

    def _drop(self) -> None:
        self._edit(remove_alternative, "Drop an alternative")

    def _edit(self, edit: Callable[[Job, str], Job], text: str) -> None:
        chosen = self.choice.value
        try:
            self._document.apply(edit(self._document.job, str(chosen)), text)
        except BadInput as error:
            self._document.refuse(error)


def _task(job: Job, tell: Callable[[object], None], given_up: Callable[[], bool]) -> None:
    for figures in each_figures(job):
        if given_up():
            return
        tell(figures)
