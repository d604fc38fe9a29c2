"""Starting the window."""

from __future__ import annotations

import sys
from functools import partial
from pathlib import Path

from PySide6.QtCore import QEvent, QTimer, Signal
from PySide6.QtGui import QFileOpenEvent, QIcon
from PySide6.QtWidgets import QApplication

from workbench.bench import theme
from workbench.bench.crash import CrashGuard, start_log
from workbench.bench.settings import Settings
from workbench.bench.window import Window
from workbench.job.autosave import APP_NAME
from workbench.resources import resource_path


class Application(QApplication):
    """The application; the system may ask it to open a file.

    Signals:
        file_wanted: ``(path)``.
    """

    file_wanted = Signal(object)

    def event(self, event: QEvent) -> bool:
        """Take the system's wish to open a file."""
        if isinstance(event, QFileOpenEvent):
            self.file_wanted.emit(Path(event.file()))
            return True
        return super().event(event)


def run(path: Path | None = None) -> int:
    """Open the window on a job, or on the start page; return when it is closed.

    A job that can't be read is told in the window, which then shows the start page.
    """
    log = start_log()
    app = Application(sys.argv[:1])
    app.setApplicationName(APP_NAME)
    app.setApplicationDisplayName("")  # the window's title says the name itself
    app.setDesktopFileName(APP_NAME)
    settings = Settings()
    theme.dress(app)
    theme.current().choose(settings.colours)
    app.setWindowIcon(QIcon(str(resource_path("icons", "roof.svg"))))
    window = Window(settings)
    guard = CrashGuard(window.files.autosave_now, partial(window.dialogs.tell, "Unexpected error"), log)
    guard.install()
    app.file_wanted.connect(window.files.open_path)
    begin(window, path)
    window.show()
    return app.exec()


def begin(window: Window, path: Path | None) -> None:
    """Show the job or the start page, and offer what was left unsaved once the window is up."""
    if path is None or not window.files.open_path(path):
        window.show_start()
    QTimer.singleShot(0, window, window.files.offer_recovery)
