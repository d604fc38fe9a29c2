"""A short list of things that can be selected, as high as it needs up to a few rows."""

from __future__ import annotations

from collections.abc import Sequence

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import QListWidget, QListWidgetItem, QWidget

_MOST_ROWS = 8


class KeyList(QListWidget):
    """Rows of text, each with the key of what it is.

    Signals:
        chosen: ``(key)`` the user moved to this row.
    """

    chosen = Signal(str)

    def __init__(self, name: str, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._rows: tuple[tuple[str, str], ...] = ()
        self._filling = False
        self.setAccessibleName(name)
        self.setUniformItemSizes(True)
        self.setStyleSheet("QListView::item { padding: 5px 4px; }")
        self.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.currentItemChanged.connect(self._moved)

    def show_rows(self, rows: Sequence[tuple[str, str]], current: str) -> None:
        """Show ``(key, text)`` rows with one of them current, without telling it."""
        self._filling = True
        if tuple(rows) != self._rows:
            self._show_texts(tuple(rows))
        row = next((number for number, (key, _) in enumerate(rows) if key == current), -1)
        if row != self.currentRow():
            self.setCurrentRow(row)
        self._filling = False

    def _show_texts(self, rows: tuple[tuple[str, str], ...]) -> None:
        if len(rows) != len(self._rows):
            self.clear()
            self.addItems([text for _, text in rows])
        self._rows = rows
        for number, (_, text) in enumerate(rows):
            self.item(number).setText(text)
        row_px = self.sizeHintForRow(0) if rows else 0
        self.setFixedHeight(row_px * min(len(rows), _MOST_ROWS) + 2 * self.frameWidth() + 2)

    def _moved(self, item: QListWidgetItem | None) -> None:
        if item is not None and not self._filling:
            self.chosen.emit(self._rows[self.row(item)][0])
