"""Keys of the drawing surface, by the names its tools know them by."""

from __future__ import annotations

from PySide6.QtCore import Qt
from PySide6.QtGui import QKeyEvent

_NAMES: dict[int, str] = {
    Qt.Key.Key_Return: "enter",
    Qt.Key.Key_Enter: "enter",
    Qt.Key.Key_Escape: "escape",
    Qt.Key.Key_Backspace: "backspace",
    Qt.Key.Key_Delete: "delete",
    Qt.Key.Key_Left: "left",
    Qt.Key.Key_Right: "right",
    Qt.Key.Key_Up: "up",
    Qt.Key.Key_Down: "down",
    Qt.Key.Key_E: "e",
    Qt.Key.Key_R: "r",
    Qt.Key.Key_W: "w",
    Qt.Key.Key_G: "g",
    Qt.Key.Key_S: "s",
    Qt.Key.Key_H: "h",
}


def name_of_key(event: QKeyEvent) -> str:
    """The key's name, or an empty string for one that no tool knows."""
    return _NAMES.get(event.key(), "")


def begins_number(event: QKeyEvent) -> bool:
    """Whether a number can begin with what the key types."""
    text = event.text()
    return len(text) == 1 and (text.isdigit() or text in ".-")
