"""Unexpected errors: the job is kept, the log says everything, the user gets a sentence and the log's path."""

from __future__ import annotations

import faulthandler
import logging
import sys
import threading
import traceback
from collections.abc import Callable
from logging.handlers import RotatingFileHandler
from pathlib import Path
from types import TracebackType

from PySide6.QtCore import QMessageLogContext, QtMsgType, qInstallMessageHandler

from workbench.job.autosave import state_folder

_LOG = logging.getLogger("workbench")
_LEVELS = {
    QtMsgType.QtDebugMsg: logging.DEBUG,
    QtMsgType.QtInfoMsg: logging.INFO,
    QtMsgType.QtWarningMsg: logging.WARNING,
    QtMsgType.QtCriticalMsg: logging.ERROR,
    QtMsgType.QtFatalMsg: logging.CRITICAL,
}

Rescue = Callable[[], None]
Tell = Callable[[str, str], None]


def log_path(folder: Path | None = None) -> Path:
    """The log file."""
    return (folder or state_folder()) / "workbench.log"


def start_log(folder: Path | None = None) -> Path | None:
    """Write the program's and Qt's messages, and the traces of hard crashes, to the log; None where it can't be."""
    path = log_path(folder)
    try:
        path.parent.mkdir(parents=True, exist_ok=True)
        handler = RotatingFileHandler(path, maxBytes=1_000_000, backupCount=2, encoding="utf-8")
        hard = path.with_suffix(".crash").open("a", encoding="utf-8")
    except OSError:
        return None
    handler.setFormatter(logging.Formatter("%(asctime)s %(levelname)s %(name)s: %(message)s"))
    _LOG.addHandler(handler)
    _LOG.setLevel(logging.INFO)
    faulthandler.enable(hard)
    qInstallMessageHandler(_qt_message)
    return path


class CrashGuard:
    """Takes unexpected errors: rescue the job first, log, then tell once at a time."""

    def __init__(self, rescue: Rescue, tell: Tell, log: Path | None) -> None:
        self._rescue = rescue
        self._tell = tell
        self._log = log
        self._busy = False

    def install(self) -> None:
        """Stand in for the interpreter's own hooks."""
        sys.excepthook = self.caught
        threading.excepthook = self._thread

    def caught(self, kind: type[BaseException], error: BaseException, trace: TracebackType | None) -> None:
        """One unexpected error."""
        if issubclass(kind, KeyboardInterrupt):
            sys.__excepthook__(kind, error, trace)
            return
        _LOG.error("unexpected error", exc_info=(kind, error, trace))
        if self._busy:
            # The telling itself broke, or many come at once: the log has them.
            return
        self._busy = True
        try:
            self._rescue()
            text = "".join(traceback.format_exception(kind, error, trace))
            self._tell(self._sentence(), text)
        finally:
            self._busy = False

    def _sentence(self) -> str:
        where = f" The details are in {self._log}." if self._log is not None else ""
        return f"Something went wrong that should not have. The job as it stands was autosaved.{where}"

    def _thread(self, given: threading.ExceptHookArgs) -> None:
        # Windows must not be touched from another thread: log only.
        _LOG.error(
            "unexpected error in a thread",
            exc_info=(given.exc_type, given.exc_value or given.exc_type(), given.exc_traceback),
        )


def _qt_message(kind: QtMsgType, context: QMessageLogContext, text: str) -> None:
    _LOG.log(_LEVELS.get(kind, logging.INFO), "Qt: %s", text)
