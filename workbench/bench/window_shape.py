"""The shape of the window: how large it and its parts are, kept from one run to the next."""

from __future__ import annotations

from PySide6.QtCore import QByteArray
from PySide6.QtWidgets import QMainWindow, QSplitter

from workbench.bench.settings import Settings

FIRST_SIZE = (1280, 800)
_SIDE_WIDTH = 408
_STRIP_HEIGHT = 262


class WindowShape:
    """Keeps and restores the window's size, its two splitters and its docks."""

    def __init__(self, window: QMainWindow, across: QSplitter, upright: QSplitter, settings: Settings) -> None:
        self._window = window
        self._across = across
        self._upright = upright
        self._settings = settings

    def restore(self) -> None:
        """As it was when the program was last closed, or as at first."""
        self._window.resize(*FIRST_SIZE)
        self.reset_sizes()
        for name, restore in (
            ("window", self._window.restoreGeometry),
            ("across", self._across.restoreState),
            ("upright", self._upright.restoreState),
            ("docks", self._window.restoreState),
        ):
            kept = self._settings.layout(name)
            if kept is not None:
                restore(kept)

    def reset_sizes(self) -> None:
        """The splitters as at first."""
        width, height = self._window.width(), self._window.height()
        self._across.setSizes([max(1, width - _SIDE_WIDTH), _SIDE_WIDTH])
        self._upright.setSizes([max(1, height - _STRIP_HEIGHT), _STRIP_HEIGHT])

    def keep(self) -> None:
        """Write it down for the next run."""
        parts: tuple[tuple[str, QByteArray], ...] = (
            ("window", self._window.saveGeometry()),
            ("across", self._across.saveState()),
            ("upright", self._upright.saveState()),
            ("docks", self._window.saveState()),
        )
        for name, state in parts:
            self._settings.keep_layout(name, state)
        self._settings.sync()
