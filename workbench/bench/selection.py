"""What is selected: one key shared by the drawing, the section strip, the tables and the panels."""

from __future__ import annotations

from PySide6.QtCore import QObject, Signal


class Selection(QObject):
    """The selected object's key, ``kind:id`` (``plane:main/e1``, ``edge:main/e1``, ``member:Common 1``,
    ``piece:main/e1/2C``, ``wing:main``, ``opening:skylight-1``), or an empty string.

    Signals:
        changed: ``(key)`` after the selection changed.
    """

    changed = Signal(str)

    def __init__(self, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self._key = ""

    @property
    def key(self) -> str:
        """The selected key."""
        return self._key

    @property
    def kind(self) -> str:
        """What kind of object is selected; empty for nothing."""
        return self._key.partition(":")[0]

    @property
    def id(self) -> str:
        """Id of the selected object."""
        return self._key.partition(":")[2]

    def select(self, key: str) -> None:
        """Select one object, or nothing with an empty string."""
        if key != self._key:
            self._key = key
            self.changed.emit(key)
