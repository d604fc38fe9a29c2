"""Work off to the side: one task at a time for one owner, a newer one puts an end to the older."""

from __future__ import annotations

import logging
from collections.abc import Callable

from PySide6.QtCore import QObject, QThreadPool, Signal


class Background(QObject):
    """Runs a task in a pool of its own and passes its answers on to the window's thread.

    Signals:
        answered: ``(run, answer)`` one answer; compare ``run`` with ``current`` to drop what is out of date.
        finished: ``(run)`` the task has ended, or was given up.
        failed: ``(run, sentence)`` the task broke down.
    """

    answered = Signal(int, object)
    finished = Signal(int)
    failed = Signal(int, str)

    def __init__(self, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self._pool = QThreadPool(self)
        self._pool.setMaxThreadCount(1)
        self.current = 0

    def start(self, task: Callable[[Callable[[object], None], Callable[[], bool]], None]) -> int:
        """Run ``task(tell, given_up)``; what ran before is given up. Returns the number of the run."""
        self.current += 1
        run = self.current
        tell, done, fail = self.answered.emit, self.finished.emit, self.failed.emit

        def work() -> None:
            try:
                task(lambda answer: tell(run, answer), lambda: self.current != run)
            except Exception as error:
                # In a pool nobody is above to catch it; the log gets the whole of it, the window a sentence.
                logging.getLogger(__name__).exception("work off to the side broke down")
                fail(run, f"{type(error).__name__}: {error}")
            finally:
                done(run)

        self._pool.start(work)
        return run

    def give_up(self) -> None:
        """Let nothing that runs be heard any more."""
        self.current += 1

    def stop(self, at_most_ms: int = 5_000) -> None:
        """Give up and wait until nothing runs; call it before the owner goes."""
        self.give_up()
        self._pool.waitForDone(at_most_ms)
