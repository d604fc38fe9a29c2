"""The best choices for the job, as the right side of the sheets stage offers them."""

from __future__ import annotations

from PySide6.QtWidgets import QHBoxLayout, QProgressBar, QPushButton, QVBoxLayout, QWidget

from workbench.bench.best import BestChoices, best_words, choice_words
from workbench.bench.document import Document
from workbench.bench.fewest import FewestSearch
from workbench.bench.panel import note
from workbench.bench.table import Cells, Table
from workbench.sheathing.choices import Bought


class BestForm(QWidget):
    """A button to compare, the list that comes out, a button to take one."""

    def __init__(self, document: Document, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._document = document
        self._best: BestChoices | None = None
        self._search: FewestSearch | None = None
        self.said = note("", self)
        self.bar = QProgressBar(self)
        self.bar.setTextVisible(False)
        self.bar.setAccessibleName("Sets of choices looked at")
        self.bar.setFixedHeight(6)
        self.table = Table(
            "Sets of choices, the best first",
            ("Choices", "Sheets", "Cuts", "Sizes"),
            numeric=(1, 2, 3),
            wrap=True,
            parent=self,
        )
        self.table.chosen.connect(self._marked)
        self.compare = QPushButton("Compare all choices", self)
        self.compare.setToolTip("Find the best of all choices for this job; the window goes on meanwhile")
        self.cancel = QPushButton("Stop", self)
        self.cancel.setToolTip("Stop comparing")
        self.take = QPushButton("Take the marked row", self)
        self.take.setToolTip("Make its choices the job's own and look for its fewest sheets")
        row = QHBoxLayout()
        row.setContentsMargins(0, 0, 0, 0)
        row.setSpacing(8)
        for button in (self.compare, self.cancel, self.take):
            row.addWidget(button)
        row.addStretch(1)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(6)
        for widget in (self.said, self.bar, self.table):
            column.addWidget(widget)
        column.addLayout(row)

    def serve(self, best: BestChoices, search: FewestSearch) -> None:
        """Begin and stop this comparison; what is taken is searched for its fewest sheets."""
        self._best, self._search = best, search
        best.changed.connect(self.refresh)
        self.compare.clicked.connect(best.start)
        self.cancel.clicked.connect(best.cancel)
        self.take.clicked.connect(self._take)
        self.refresh()

    def refresh(self) -> None:
        """Show how far it is and what came out."""
        best = self._best
        if best is None:
            return
        self.said.setText(best_words(best))
        running = best.running
        self.compare.setVisible(not running)
        self.compare.setEnabled(bool(self._document.plan.sheathing.planes))
        self.cancel.setVisible(running)
        self.bar.setVisible(running)
        if running and best.looked is not None:
            self.bar.setRange(0, best.looked.total)
            self.bar.setValue(best.looked.done)
        elif running:
            self.bar.setRange(0, 1)
            self.bar.setValue(0)
        rows = [self._row(number, bought) for number, bought in enumerate(best.listed)]
        self.table.setVisible(bool(rows))
        self.table.set_rows(rows)
        self.take.setVisible(bool(rows))
        self._marked(self.table.key)

    @property
    def marked(self) -> Bought | None:
        """The choices in the marked row."""
        best = self._best
        number = self.table.key.partition(":")[2]
        return best.listed[int(number)] if best is not None and number and int(number) < len(best.listed) else None

    def _row(self, number: int, bought: Bought) -> Cells:
        used = "in use, " if self._best is not None and self._best.in_use(bought) else ""
        worth = "by the quick layout"
        if bought.sheets <= bought.at_least:
            worth = "fewest proven"
        elif bought.searched:
            worth = f"searched, at least {bought.at_least}"
        words = f"{choice_words(bought, self._document.plan.units)}\n{used}{worth}"
        return Cells((words, f"{bought.sheets}", f"{bought.cuts}", f"{bought.sizes}"), f"set:{number}")

    def _marked(self, _: str) -> None:
        bought = self.marked
        self.take.setEnabled(bought is not None and self._best is not None and not self._best.in_use(bought))

    def _take(self) -> None:
        bought = self.marked
        if bought is None or self._best is None or self._search is None:
            return
        self._best.take(bought)
        if bought.searched and self._search.worth_while:
            self._search.start()
