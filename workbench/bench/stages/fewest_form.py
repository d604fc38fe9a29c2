"""Looking for fewest sheets, as the right side of the sheets stage offers it."""

from __future__ import annotations

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QHBoxLayout, QProgressBar, QPushButton, QVBoxLayout, QWidget

from workbench.bench.document import Document
from workbench.bench.fewest import FewestSearch, fewest_words
from workbench.bench.fields import ChoiceField
from workbench.bench.panel import note

_LIMITS: tuple[tuple[object, str], ...] = (
    (10.0, "for at most 10 seconds"),
    (60.0, "for at most 1 minute"),
    (600.0, "for at most 10 minutes"),
)


class FewestForm(QWidget):
    """A button to begin, how far it is, a button to stop, and what came of it."""

    def __init__(self, document: Document, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._document = document
        self._search: FewestSearch | None = None
        self.said = note("", self)
        self.said.setTextInteractionFlags(Qt.TextInteractionFlag.TextSelectableByMouse)
        self.start = QPushButton("Look for fewest sheets", self)
        self.start.setToolTip("Search longer than while drawing; the window goes on meanwhile (Ctrl+L)")
        self.cancel = QPushButton("Stop", self)
        self.cancel.setToolTip("Stop looking and use the best found so far")
        self.limit = ChoiceField(_LIMITS, 10.0, "Look for at most", self)
        self.bar = QProgressBar(self)
        self.bar.setTextVisible(False)
        self.bar.setAccessibleName("Time taken of the time given")
        self.bar.setFixedHeight(6)
        row = QHBoxLayout()
        row.setContentsMargins(0, 0, 0, 0)
        row.setSpacing(8)
        row.addWidget(self.start)
        row.addWidget(self.cancel)
        row.addWidget(self.limit, 1)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(6)
        column.addWidget(self.said)
        column.addWidget(self.bar)
        column.addLayout(row)
        self.start.clicked.connect(self._start)
        self.cancel.clicked.connect(self._cancel)

    def serve(self, search: FewestSearch) -> None:
        """Begin and stop this search."""
        self._search = search
        search.changed.connect(self.refresh)
        self.limit.set_value(search.limit_s)
        self.limit.committed.connect(self._limited)
        self.refresh()

    def refresh(self) -> None:
        """Show how far it is."""
        search = self._search
        if search is None:
            return
        running = search.running
        self.said.setText(fewest_words(search, self._document.plan))
        # Hiding what has the keyboard would send the keyboard elsewhere: hand it over first.
        if running and self.start.hasFocus():
            self.cancel.setVisible(True)
            self.cancel.setFocus()
        elif not running and self.cancel.hasFocus():
            self.start.setVisible(True)
            self.start.setFocus()
        self.start.setVisible(not running)
        self.start.setEnabled(search.worth_while)
        self.cancel.setVisible(running)
        self.limit.setEnabled(not running)
        self.limit.setVisible(running or search.worth_while)
        self.bar.setVisible(running)
        if running:
            seconds = search.told.seconds if search.told is not None else 0.0
            self.bar.setRange(0, max(1, round(10 * search.limit_s)))
            self.bar.setValue(min(self.bar.maximum(), round(10 * seconds)))

    def _start(self) -> None:
        if self._search is not None:
            self._search.start()

    def _cancel(self) -> None:
        if self._search is not None:
            self._search.cancel()

    def _limited(self, seconds: object) -> None:
        if self._search is not None and isinstance(seconds, float):
            self._search.limit_s = seconds
