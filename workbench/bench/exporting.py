"""File ▸ Export: the job as drawing, building model, picture or tables, written off to the side."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from functools import partial
from pathlib import Path

from PySide6.QtCore import QObject, Signal

from workbench.bench.background import Background
from workbench.bench.dialogs import Dialogs
from workbench.bench.document import Document
from workbench.bench.settings import Settings
from workbench.errors import BadInput
from workbench.plan import Plan

FORMAT_WORDS: dict[str, str] = {
    "dxf": "Drawing in space",
    "ifc": "Building model",
    "svg": "Roof plan, drawn",
    "png": "Roof plan, picture",
    "xlsx": "Tables, workbook",
    "csv": "Tables, plain text",
}
"""What each ending holds."""


@dataclass(frozen=True, slots=True)
class _Done:
    """How one export ended; no problem is an empty text."""

    path: Path
    problem: str


class Exporter(QObject):
    """Asks where to, and writes what the ending says.

    Signals:
        warned: ``(sentence)`` it could not be written; an older file is as it was.
        noted: ``(sentence)`` it is written.
    """

    warned = Signal(str)
    noted = Signal(str)

    def __init__(self, document: Document, settings: Settings, dialogs: Dialogs, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self._document = document
        self._settings = settings
        self._dialogs = dialogs
        self._background = Background(self)
        self._background.answered.connect(self._answered)
        self._background.failed.connect(self._failed)

    def export(self) -> None:
        """Ask for a file and write it."""
        path = self._dialogs.ask_export(self._suggested(), export_filter())
        if path is None:
            return
        self._settings.folder = path.parent
        self.noted.emit(f"Writing {path.name}…")
        self._background.start(partial(_write, self._document.plan, path))

    def stop(self) -> None:
        """Wait until nothing is written any more; call it before the window goes."""
        self._background.stop()

    def _suggested(self) -> Path:
        path, job = self._document.path, self._document.job
        letters = [letter if letter.isalnum() else " " for letter in job.name]
        stem = path.stem if path is not None else " ".join("".join(letters).split()) or "roof"
        return self._settings.folder / f"{stem}.dxf"

    def _answered(self, run: int, answer: object) -> None:
        if run != self._background.current or not isinstance(answer, _Done):
            return
        if answer.problem:
            self.warned.emit(answer.problem)
        else:
            self.noted.emit(f"Written: {answer.path}.")

    def _failed(self, run: int, sentence: str) -> None:
        if run == self._background.current:
            self.warned.emit(f"The export broke down ({sentence}). The log says more.")


def export_filter() -> str:
    """The endings a person can choose from, as a file dialog wants them."""
    return ";;".join(f"{words} (*.{ending})" for ending, words in FORMAT_WORDS.items())


def _write(plan: Plan, path: Path, tell: Callable[[object], None], given_up: Callable[[], bool]) -> None:
    from workbench.exchange import write_export  # slow to import, so only where it is wanted

    del given_up  # one file is written whole or not at all
    try:
        write_export(plan, path)
    except BadInput as error:
        tell(_Done(path, str(error)))
    else:
        tell(_Done(path, ""))
