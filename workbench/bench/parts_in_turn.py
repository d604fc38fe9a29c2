"""F6: the keyboard goes on from one part of the window to the next."""

from __future__ import annotations

from collections.abc import Sequence

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QApplication, QWidget


def focus_next_part(parts: Sequence[QWidget]) -> None:
    """Give the keyboard to the part after the one that has it: to the first thing in it that takes it."""
    here = QApplication.focusWidget()
    inside = [part is here or (here is not None and part.isAncestorOf(here)) for part in parts]
    after = parts[(inside.index(True) + 1) % len(parts) if any(inside) else 0]
    wanted = Qt.FocusPolicy.TabFocus
    candidates = (after, *after.findChildren(QWidget))
    first = next((w for w in candidates if w.isVisible() and w.isEnabled() and w.focusPolicy() & wanted), None)
    if first is not None:
        first.setFocus(Qt.FocusReason.TabFocusReason)
