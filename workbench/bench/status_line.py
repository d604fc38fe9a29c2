"""The line at the foot of the window: what to do next, where the pointer is, what runs, how lengths are shown."""

from __future__ import annotations

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QLabel, QMenu, QStatusBar, QToolButton

from workbench.bench.fewest import FewestSearch


class StatusLine:
    """Fills a status bar."""

    def __init__(self, bar: QStatusBar, search: FewestSearch) -> None:
        self._search = search
        bar.setSizeGripEnabled(False)
        bar.setContentsMargins(8, 0, 8, 0)
        self.hint = QLabel(bar)
        self.hint.setTextFormat(Qt.TextFormat.PlainText)
        self.cursor_at = QLabel(bar)
        self.cursor_at.setProperty("quiet", True)
        self.looking = _button(bar)
        self.looking.setToolTip("A search for fewest sheets is running; press to go to it")
        self.units = _button(bar)
        self.units.setPopupMode(QToolButton.ToolButtonPopupMode.InstantPopup)
        self.units.setToolTip("How lengths are shown in this job")
        bar.addWidget(self.hint, 1)
        for widget in (self.cursor_at, self.looking, self.units):
            bar.addPermanentWidget(widget)
        search.changed.connect(self._show_search)
        self._show_search()

    def show_units(self, words: str) -> None:
        """Show how lengths are shown."""
        self.units.setText(words)
        self.units.setAccessibleName(f"Units: {words}")

    def set_units_menu(self, menu: QMenu) -> None:
        """What the units' button opens."""
        self.units.setMenu(menu)

    def _show_search(self) -> None:
        self.looking.setVisible(self._search.running)
        told = self._search.told
        so_far = "" if told is None else f": {told.sheets} so far, {told.seconds:.0f} s"
        self.looking.setText(f"Looking for fewest sheets{so_far}")


def _button(bar: QStatusBar) -> QToolButton:
    button = QToolButton(bar)
    button.setAutoRaise(True)
    return button
