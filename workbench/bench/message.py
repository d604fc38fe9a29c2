"""A bar over the drawing that says one thing and does not stop anybody."""

from __future__ import annotations

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QFrame, QHBoxLayout, QLabel, QPushButton, QWidget

from workbench.bench import theme


class MessageBar(QFrame):
    """One sentence with a sign and a Close button; hidden while there is nothing to say."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._sign = QLabel("⚠", self)
        self._sign.setProperty("warning", True)
        self._text = QLabel(self)
        self._text.setWordWrap(True)
        self._text.setTextInteractionFlags(
            Qt.TextInteractionFlag.TextSelectableByMouse | Qt.TextInteractionFlag.TextSelectableByKeyboard
        )
        self._close = QPushButton("Close", self)
        self._close.clicked.connect(self.clear)
        row = QHBoxLayout(self)
        row.setContentsMargins(12, 6, 12, 6)
        row.setSpacing(10)
        row.addWidget(self._sign)
        row.addWidget(self._text, 1)
        row.addWidget(self._close)
        theme.current().changed.connect(self._paint)
        self._paint()
        self.hide()

    @property
    def text(self) -> str:
        """The sentence on show, or an empty string."""
        return self._text.text() if not self.isHidden() else ""

    def warn(self, sentence: str) -> None:
        """Say what went wrong."""
        self._say(sentence, warning=True)

    def note(self, sentence: str) -> None:
        """Say what is worth knowing."""
        self._say(sentence, warning=False)

    def clear(self) -> None:
        """Say nothing."""
        self._text.clear()
        self.hide()

    def _say(self, sentence: str, *, warning: bool) -> None:
        self._sign.setVisible(warning)
        self._text.setText(sentence)
        self.setAccessibleName(sentence)
        self.show()

    def _paint(self) -> None:
        colours = theme.current().colours
        self.setStyleSheet(f"MessageBar {{ background: {colours.paper}; border-bottom: 1px solid {colours.line}; }}")
