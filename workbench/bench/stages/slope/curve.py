"""The work behind a plotted curve: reckoned off to the side, the last one stays on show meanwhile."""

from __future__ import annotations

from collections.abc import Callable
from functools import partial

from PySide6.QtCore import QObject, QTimer, Signal

from workbench.bench.background import Background
from workbench.sweep import SweepPoint

PointsAt = Callable[[float], tuple[SweepPoint, ...]]
"""The points of a curve at one value of what is moved."""


class Curve(QObject):
    """Asked for now and then, reckoned once the asking pauses.

    Signals:
        due: The asking has paused; ``reckon`` is wanted.
        reckoned: ``(points)`` of the newest curve, a tuple of ``SweepPoint``.
    """

    due = Signal()
    reckoned = Signal(object)

    def __init__(self, wait_ms: int, parent: QObject) -> None:
        super().__init__(parent)
        self._background = Background(self)
        self._background.answered.connect(self._answered)
        self._wait = QTimer(self)
        self._wait.setSingleShot(True)
        self._wait.setInterval(wait_ms)
        self._wait.timeout.connect(self.due)

    def ask(self, *, at_once: bool = False) -> None:
        """Let it be due soon."""
        if at_once:
            self._wait.start(0)
        else:
            self._wait.start()

    def reckon(self, values: tuple[float, ...], at: PointsAt) -> None:
        """Reckon the curve at these values; an older one is given up."""
        self._background.start(partial(_point_by_point, values, at))

    def give_up(self) -> None:
        """Leave the curve that is being reckoned."""
        self._background.give_up()

    def stop(self) -> None:
        """Let nothing run on; call it before the page goes."""
        self._wait.stop()
        self._background.stop()

    def _answered(self, run: int, answer: object) -> None:
        if run == self._background.current and isinstance(answer, tuple):
            self.reckoned.emit(answer)


def _point_by_point(
    values: tuple[float, ...], at: PointsAt, tell: Callable[[object], None], given_up: Callable[[], bool]
) -> None:
    """So that a newer question need not wait for the whole of an older one."""
    points: list[SweepPoint] = []
    for value in values:
        if given_up():
            return
        points += at(value)
    tell(tuple(points))
