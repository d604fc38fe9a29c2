"""New, open, save, the guard of unsaved work, autosave and recovery: everything that touches the job's file."""

from __future__ import annotations

import os
from dataclasses import dataclass
from pathlib import Path

from PySide6.QtCore import QObject, QTimer, Signal
from PySide6.QtGui import QDropEvent

from workbench.bench.dialogs import Dialogs
from workbench.bench.document import Document
from workbench.bench.settings import Settings
from workbench.errors import BadInput
from workbench.job.autosave import Autosave, Leftover, leftovers
from workbench.job.read import read_job

AUTOSAVE_AFTER_MS = 3_000
AUTOSAVE_AT_MOST_MS = 60_000


@dataclass(frozen=True, slots=True)
class _Stamp:
    """How the file looked when it was last read or written here."""

    changed_ns: int
    size: int


class Files(QObject):
    """Keeps one document and its file together.

    Signals:
        warned: ``(sentence)`` something could not be done; nothing was changed.
        noted: ``(sentence)`` worth knowing.
        recent_changed: The list of recent files is another.
        begun: A document was opened or begun; show the work, not the start page.
    """

    warned = Signal(str)
    noted = Signal(str)
    recent_changed = Signal()
    begun = Signal()

    def __init__(
        self,
        document: Document,
        settings: Settings,
        dialogs: Dialogs,
        folder: Path | None = None,
        parent: QObject | None = None,
    ) -> None:
        super().__init__(parent)
        self._document = document
        self._settings = settings
        self._dialogs = dialogs
        self._folder = folder
        self._autosave: Autosave | None = None
        self._stamp: _Stamp | None = None
        self._soon = self._timer(AUTOSAVE_AFTER_MS)
        self._at_latest = self._timer(AUTOSAVE_AT_MOST_MS)
        document.changed.connect(self._changed)
        document.stack.indexChanged.connect(self._changed)  # undo and redo

    def start(self) -> None:
        """Take an autosave slot; without one the work goes on, and that is said."""
        try:
            self._autosave = Autosave(self._folder)
        except BadInput as error:
            self.warned.emit(str(error))

    def new(self) -> bool:
        """Begin an empty job."""
        if not self.may_leave():
            return False
        self._hold(None)
        self._forget()
        self._document.new()
        self._stamp = None
        self.begun.emit()
        return True

    def open(self) -> bool:
        """Ask for a job file and open it."""
        path = self._dialogs.ask_open(self._settings.folder)
        return path is not None and self.open_path(path)

    def open_path(self, path: Path) -> bool:
        """Open a job file; one that can't be read leaves everything as it was."""
        path = path.absolute()
        if not self.may_leave():
            return False
        before = self._document.path
        try:
            if self._autosave is not None:
                self._autosave.hold(path)
            self._document.open(path)
        except BadInput as error:
            self._hold(before)
            self.warned.emit(str(error))
            return False
        self._forget()
        self._stamp = _stamp(path)
        self._remember(path)
        self.begun.emit()
        if not os.access(path, os.W_OK):
            self.noted.emit(f"{path.name} can't be written to: save your changes under another name.")
        return True

    def open_sample(self, path: Path) -> bool:
        """Open a sample as a new job without a file, so that the sample stays as it is."""
        if not self.may_leave():
            return False
        try:
            job = read_job(path)
        except BadInput as error:
            self.warned.emit(str(error))
            return False
        self._hold(None)
        self._forget()
        self._document.new(job)
        self._stamp = None
        self.begun.emit()
        return True

    def save(self) -> bool:
        """Save to the job's own file; ask for one where it has none."""
        path = self._document.path
        if path is None:
            return self.save_as()
        if self._stamp is not None and path.exists() and _stamp(path) != self._stamp:
            match self._dialogs.ask_overwrite(path):
                case "cancel":
                    return False
                case "save_as":
                    return self.save_as()
                case "save":
                    pass
        return self._write(path)

    def save_as(self) -> bool:
        """Ask for a file and save there; the old file stays as it is."""
        path = self._dialogs.ask_save(self._suggested())
        return path is not None and self._write(path.absolute())

    def may_leave(self) -> bool:
        """Whether the open job may be left: saved, not changed, or given up by the user."""
        if not self._document.modified:
            return True
        match self._dialogs.ask_unsaved(self._document.title):
            case "save":
                return self.save()
            case "discard":
                return True
            case "cancel":
                return False

    def close(self) -> bool:
        """Leave for good: ask about unsaved work, then let go of everything."""
        if not self.may_leave():
            return False
        self._document.stack.disconnect(self)
        self._stop_timers()
        if self._autosave is not None:
            self._autosave.discard()
            self._autosave.release()
            self._autosave = None
        return True

    def autosave_now(self) -> None:
        """Keep the job at once; a failure is said, never raised."""
        self._stop_timers()
        if self._autosave is None:
            return
        try:
            self._autosave.write(self._document.job, self._document.path)
        except BadInput as error:
            self.warned.emit(f"The job could not be autosaved. {error}")

    def offer_recovery(self) -> bool:
        """Offer what ended programs left unsaved; tells whether one of them is open now."""
        found = leftovers(self._folder)
        while found:
            choice = self._dialogs.ask_recovery(found)
            if choice is None:
                return False
            if choice.recover:
                return self._recover(choice.leftover)
            choice.leftover.discard()
            found = leftovers(self._folder)
        return False

    def has_leftovers(self) -> bool:
        """Whether there is anything to recover."""
        return bool(leftovers(self._folder))

    def _recover(self, leftover: Leftover) -> bool:
        if not self.may_leave():
            return False
        path = leftover.path
        try:
            if self._autosave is not None:
                self._autosave.hold(path)
        except BadInput:
            # Its file is open in another window: the work is kept as a job of its own.
            path = None
            self._hold(None)
        self._document.recover(leftover.job, path)
        # The leftover goes only once the same job is kept in this window's own slot.
        self.autosave_now()
        leftover.discard()
        self._stamp = None if path is None else _stamp(path)
        self.begun.emit()
        self.noted.emit("This is the recovered work. It is not saved to its file yet.")
        return True

    def _write(self, path: Path) -> bool:
        before = self._document.path
        try:
            if self._autosave is not None:
                self._autosave.hold(path)
            self._document.save(path)
        except BadInput as error:
            self._hold(before)
            self.warned.emit(str(error))
            return False
        self._stop_timers()
        if self._autosave is not None:
            self._autosave.discard()
        self._stamp = _stamp(path)
        self._remember(path)
        self.noted.emit(f"Saved to {path}.")
        return True

    def _changed(self) -> None:
        if not self._document.modified:
            self._forget()
            return
        self._soon.start()
        if not self._at_latest.isActive():
            self._at_latest.start()

    def _forget(self) -> None:
        self._stop_timers()
        if self._autosave is not None:
            self._autosave.discard()

    def _hold(self, path: Path | None) -> None:
        """Hold a file that this window had before, or none; these can't be refused."""
        if self._autosave is None:
            return
        try:
            self._autosave.hold(path)
        except BadInput as error:
            self.warned.emit(str(error))

    def _remember(self, path: Path) -> None:
        self._settings.folder = path.parent
        self._settings.add_recent(path)
        self.recent_changed.emit()

    def _suggested(self) -> Path:
        path = self._document.path
        if path is not None:
            return path
        letters = [letter if letter.isalnum() else " " for letter in self._document.job.name]
        return self._settings.folder / f"{' '.join(''.join(letters).split()) or 'roof'}.json"

    def _timer(self, after_ms: int) -> QTimer:
        timer = QTimer(self)
        timer.setSingleShot(True)
        timer.setInterval(after_ms)
        timer.timeout.connect(self.autosave_now)
        return timer

    def _stop_timers(self) -> None:
        self._soon.stop()
        self._at_latest.stop()


def _stamp(path: Path) -> _Stamp | None:
    try:
        status = path.stat()
    except OSError:
        return None
    return _Stamp(status.st_mtime_ns, status.st_size)


def dropped_file(event: QDropEvent) -> Path | None:
    """The one local file that is dropped, or None."""
    urls = event.mimeData().urls()
    return Path(urls[0].toLocalFile()) if len(urls) == 1 and urls[0].isLocalFile() else None
