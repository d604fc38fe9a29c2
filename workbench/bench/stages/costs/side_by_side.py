"""All designs side by side: what is compared and the job stand still, the alternatives scroll beside them."""

from __future__ import annotations

from collections.abc import Sequence

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import QCheckBox, QFrame, QHBoxLayout, QHeaderView, QScrollArea, QVBoxLayout, QWidget

from workbench.bench.panel import SCROLL_BAR
from workbench.bench.table import Cells, Table
from workbench.compare import CompareRow, Figures, compare_rows
from workbench.measure import Units

_LONGEST_HEADING = 18
_IN_HAND = "▸ "


class SideBySide(QWidget):
    """The figures of the job and of every alternative; what differs from the job is bold, with how much under it.

    Signals:
        chosen: ``(id)`` an alternative's heading was clicked.
    """

    chosen = Signal(str)

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.job: Table | None = None
        """What is compared, and the job."""
        self.others: Table | None = None
        """The alternatives, a column each."""
        self._figures: tuple[Figures, ...] = ()
        self._rows: tuple[CompareRow, ...] = ()
        self._in_hand = ""
        self.only = QCheckBox("Only what differs", self)
        self.only.setToolTip("Leave out the rows in which every alternative has the job's figure")
        self.only.toggled.connect(lambda _: self._fill())
        self._scroll = QScrollArea(self)
        self._scroll.setFrameShape(QFrame.Shape.NoFrame)
        self._scroll.setVerticalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self._scroll.setAccessibleName("Alternatives, scrolled sideways")
        self._row = QHBoxLayout()
        self._row.setSpacing(0)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(6)
        column.addWidget(self.only)
        column.addLayout(self._row)

    @property
    def columns(self) -> tuple[str, ...]:
        """Headings of the alternatives' columns."""
        model = None if self.others is None else self.others.model()
        count = 0 if model is None else model.columnCount()
        return tuple(str(model.headerData(i, Qt.Orientation.Horizontal)) for i in range(count)) if model else ()

    def show_figures(self, figures: Sequence[Figures], units: Units, in_hand: str) -> None:
        """Show the job's figures and the alternatives', the job's first; ``in_hand`` is the alternative marked."""
        shown = tuple(figures)
        named = tuple((f.id, f.name) for f in shown)
        other = named != tuple((f.id, f.name) for f in self._figures) or in_hand != self._in_hand
        self._figures, self._in_hand = shown, in_hand
        self._rows = compare_rows(shown, units) if len(shown) > 1 else ()
        self.setVisible(bool(self._rows))
        if other or self.job is None:
            self._make()
        self._fill()

    def _make(self) -> None:
        """Tables with these designs' headings; a table's headings stay as they were made."""
        at = self._scroll.horizontalScrollBar().value()
        if self.job is not None:
            self._row.removeWidget(self.job)
            self.job.hide()
            self.job.deleteLater()
        names = [f.name for f in self._figures] or [""]
        self.job = Table("What is compared, and the job", ("", _heading(names[0])), numeric=(1,), parent=self)
        heads = [f"{_IN_HAND if f.id == self._in_hand else ''}{_heading(f.name)}" for f in self._figures[1:]]
        self.others = Table(
            "Alternatives side by side", heads or [""], numeric=range(max(1, len(heads))), parent=self._scroll
        )
        header = self.others.horizontalHeader()
        header.setSectionResizeMode(QHeaderView.ResizeMode.ResizeToContents)
        header.setSectionsClickable(True)
        header.sectionClicked.connect(self._clicked)
        for table in (self.job, self.others):
            table.setShowGrid(True)
        self._scroll.setWidget(self.others)  # deletes the one before
        self._row.insertWidget(0, self.job, 0, Qt.AlignmentFlag.AlignTop)
        self._row.addWidget(self._scroll, 1, Qt.AlignmentFlag.AlignTop)
        self._scroll.horizontalScrollBar().setValue(at)

    def _fill(self) -> None:
        job, others = self.job, self.others
        if job is None or others is None:
            return
        only = self.only.isChecked()
        rows = [row for row in self._rows if not only or any(row.differences)]
        job.set_rows([Cells((row.words, row.values[0]), row.key) for row in rows])
        others.set_rows([_cells(row) for row in rows])
        line = job.fontMetrics().height()
        heights = [(2 if any(row.differences) else 1) * line + 8 for row in rows]
        for table in (job, others):
            table.set_heights(heights)
        header = job.horizontalHeader()
        header.setSectionResizeMode(QHeaderView.ResizeMode.ResizeToContents)
        job.setFixedWidth(header.length() + 2 * job.frameWidth())
        others.setFixedWidth(others.horizontalHeader().length() + 2 * others.frameWidth())
        self._scroll.setFixedHeight(others.height() + SCROLL_BAR)

    def _clicked(self, column: int) -> None:
        if column + 1 < len(self._figures):
            self.chosen.emit(self._figures[column + 1].id)


def _cells(row: CompareRow) -> Cells:
    """One row of the alternatives: value, and under it what it differs by."""
    pairs = list(zip(row.values, row.differences, strict=True))[1:]
    return Cells(
        tuple(f"{value}\n{told}" if told else value for value, told in pairs),
        row.key,
        strong=frozenset(i for i, (_, told) in enumerate(pairs) if told),
    )


def _heading(name: str) -> str:
    """A name short enough to stand over a column."""
    return name if len(name) <= _LONGEST_HEADING else f"{name[: _LONGEST_HEADING - 1].rstrip()}…"
