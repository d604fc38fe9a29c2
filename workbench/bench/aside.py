"""Long work in a process of its own: what it says is heard in the window's thread, and it can be ended at any time.

A thread would share the interpreter with the window: every frame would wait for its turn.
"""

from __future__ import annotations

import multiprocessing
from collections.abc import Callable
from multiprocessing.connection import Connection
from multiprocessing.context import SpawnProcess

from PySide6.QtCore import QObject, QTimer, Signal

from workbench.bench.unraised import unraised

_POLL_MS = 60
_PATIENCE_MS = 400


class Aside(QObject):
    """One process at a time.

    Signals:
        heard: ``(word)`` what the process said.
        lost: It ended without a last word, or had to be ended because it did not listen.
    """

    heard = Signal(object)
    lost = Signal()

    def __init__(self, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self._process: SpawnProcess | None = None
        self._line: Connection | None = None
        self._asked_to_stop = False
        self._poll = QTimer(self)
        self._poll.setInterval(_POLL_MS)
        self._poll.timeout.connect(lambda: unraised(self._listen))
        self._patience = QTimer(self)
        self._patience.setSingleShot(True)
        self._patience.timeout.connect(lambda: unraised(self._lose))

    @property
    def running(self) -> bool:
        """Whether a process runs."""
        return self._process is not None

    def start(self, work: Callable[..., None], *given: object) -> None:
        """Run ``work(line, *given)``; what ran before is ended.

        Raises:
            OSError: No process could be started.
        """
        self.end()
        self._asked_to_stop = False
        context = multiprocessing.get_context("spawn")
        here, there = context.Pipe()
        process = context.Process(target=work, args=(there, *given), daemon=True)
        try:
            process.start()
        except OSError:
            here.close()
            raise
        finally:
            there.close()
        self._process, self._line = process, here
        self._poll.start()

    def ask_to_stop(self, within_ms: int = _PATIENCE_MS) -> None:
        """Ask it for its last word; one that does not answer soon is ended."""
        if self._line is None or self._asked_to_stop:
            return
        self._asked_to_stop = True
        try:
            self._line.send("stop")
        except OSError:
            self._lose()
            return
        self._patience.start(within_ms)

    def end(self) -> None:
        """End it, without a word."""
        self._poll.stop()
        self._patience.stop()
        process, line = self._process, self._line
        self._process = self._line = None
        if line is not None:
            line.close()
        if process is not None:
            if process.is_alive():
                process.terminate()
            process.join(2.0)
            if process.exitcode is not None:
                process.close()

    def _listen(self) -> None:
        line = self._line
        try:
            # Hearing a word may end the process, or start another.
            while line is not None and line is self._line and line.poll():
                self.heard.emit(line.recv())
        except (EOFError, OSError):
            if line is self._line:
                self._lose()

    def _lose(self) -> None:
        if self.running:
            self.end()
            self.lost.emit()
