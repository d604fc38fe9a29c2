"""Brings together the window's parts that the plan page needs: the file dialog, the drawing, the plan stage's form."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING

from PySide6.QtCore import QObject

from workbench.bench.stages.plan import PlanPanel
from workbench.bench.underlay.pages import SUFFIXES

if TYPE_CHECKING:
    from workbench.bench.window import Window


class Tracing(QObject):
    """Chooses a page and lays it under the middle of what is in sight."""

    def __init__(self, window: Window) -> None:
        super().__init__(window)
        self._window = window
        layer = window.underlay
        layer.changed.connect(self._changed)
        layer.refused.connect(window.message.warn)
        page = window.pages["plan"]
        if isinstance(page, PlanPanel):
            page.underlay.serve(layer)
            page.underlay.page_asked.connect(self.ask)

    def ask(self) -> None:
        """Ask for a file and lay its first page under the drawing."""
        window = self._window
        path = window.dialogs.ask_page(window.settings.folder)
        if path is not None:
            self.lay(path)

    def take(self, path: Path) -> None:
        """Lay a plan page under the drawing; any other file is a job to be opened."""
        if path.suffix.lower() in SUFFIXES:
            self.lay(path)
        else:
            self._window.files.open_path(path)

    def lay(self, path: Path) -> None:
        """Lay a file's first page under the drawing."""
        window = self._window
        window.message.clear()
        window.centre.setCurrentIndex(1)
        window.statusBar().show()
        window.show_stage("plan")
        middle = window.surface.visible().center()
        window.underlay.lay(path, (middle.x(), middle.y()))

    def _changed(self) -> None:
        """While nothing is drawn the page is all there is to see: show it whole."""
        surface, layer = self._window.surface, self._window.underlay
        fresh = surface.ground.isEmpty() and not layer.bounds.isEmpty()
        surface.ground = layer.bounds
        if fresh and not self._window.document.job.wings:
            surface.fit()
