"""No looking for unreachable objects while a hand drags: with all that is kept, one look takes several frames.

Python frees what nobody refers to at once; only rings of objects wait for a look, and few are made in a drag.
"""

from __future__ import annotations

import gc
import time

from PySide6.QtCore import QTimer

_REST_S = 1.0


class _Calm:
    """When the last frame was, and whether the end of the drag is waited for."""

    def __init__(self) -> None:
        self.last = 0.0
        self.waiting = False

    def keep(self) -> None:
        self.last = time.monotonic()
        if not self.waiting and gc.isenabled():
            self.waiting = True
            gc.disable()
            QTimer.singleShot(round(1000.0 * _REST_S), self.look)

    def look(self) -> None:
        if time.monotonic() - self.last < 0.9 * _REST_S:
            QTimer.singleShot(round(1000.0 * _REST_S), self.look)
            return
        self.waiting = False
        gc.enable()


_calm = _Calm()


def keep_calm() -> None:
    """A frame of a drag is drawn: look for unreachable objects again when none has been for a second."""
    _calm.keep()
