"""Where Tab leads when widgets come into a page later than what stands below them."""

from __future__ import annotations

from collections.abc import Iterable

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QWidget


def tab_before(widget: QWidget, come: Iterable[QWidget]) -> None:
    """Let Tab lead through these, in their order, right before it comes to ``widget``.

    Qt appends what is made later to the end of the chain, wherever it stands. All must take the focus by Tab, since
    only such widgets can be put in order.
    """
    before = widget.previousInFocusChain()
    while before.focusPolicy() == Qt.FocusPolicy.NoFocus and before is not widget:
        before = before.previousInFocusChain()
    for each in come:
        QWidget.setTabOrder(before, each)
        before = each
