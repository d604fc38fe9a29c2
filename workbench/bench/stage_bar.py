"""The row of stages on top, with the job's name and the way to the handout at its right end."""

from __future__ import annotations

from PySide6.QtCore import Qt, Signal
from PySide6.QtGui import QFontMetrics
from PySide6.QtWidgets import QButtonGroup, QHBoxLayout, QPushButton, QWidget

from workbench.bench import theme
from workbench.bench.menus import STAGES


class StageBar(QWidget):
    """One button a stage, the one in use underlined.

    Signals:
        chosen: ``(name)`` go to this stage.
    """

    chosen = Signal(str)

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setAttribute(Qt.WidgetAttribute.WA_StyledBackground)
        row = QHBoxLayout(self)
        row.setContentsMargins(8, 0, 12, 0)
        row.setSpacing(0)
        self._group = QButtonGroup(self)
        self._buttons: dict[str, QPushButton] = {}
        for number, (name, words) in enumerate(STAGES, start=1):
            button = QPushButton(words, self)
            button.setCheckable(True)
            button.setToolTip(f"{words} (Ctrl+{number})")
            button.setProperty("stage", True)
            button.clicked.connect(self._pressed)
            # Room for the bold letters of the stage in use.
            bold = QFontMetrics(theme.heading_font(theme.FONT_POINTS))
            button.setMinimumWidth(bold.horizontalAdvance(words) + 32)
            self._group.addButton(button)
            self._buttons[name] = button
            row.addWidget(button)
        row.addStretch(1)
        self.job = QPushButton(self)
        self.job.setProperty("stage", True)
        self.job.setToolTip("Name, date, revision and units of the job (Ctrl+J)")
        self.handout = QPushButton("Handout…", self)
        self.handout.setToolTip("Preview, print or save the handout (Ctrl+P)")
        row.addWidget(self.job)
        row.addSpacing(8)
        row.addWidget(self.handout)
        theme.current().changed.connect(self._dress)
        self._dress()

    def button(self, name: str) -> QPushButton:
        """The button of a stage."""
        return self._buttons[name]

    def show_stage(self, name: str) -> None:
        """Underline a stage."""
        self._buttons[name].setChecked(True)

    def show_job(self, name: str, revision: str) -> None:
        """Show the job's name and revision."""
        text = f"{name}, revision {revision}" if revision else name
        self.job.setText(self.job.fontMetrics().elidedText(text, Qt.TextElideMode.ElideRight, 420))
        self.job.setAccessibleName(f"Job: {text}")

    def _pressed(self) -> None:
        self.chosen.emit(next(name for name, button in self._buttons.items() if button.isChecked()))

    def _dress(self) -> None:
        c = theme.current().colours
        self.setStyleSheet(
            f"StageBar {{ background: {c.panel}; border-bottom: 1px solid {c.line}; }}"
            f"QPushButton[stage=true] {{ background: transparent; border: 0; border-radius: 0; padding: 9px 14px 7px;"
            f" border-bottom: 2px solid transparent; color: {c.quiet}; }}"
            f"QPushButton[stage=true]:hover {{ color: {c.ink}; }}"
            f"QPushButton[stage=true]:focus {{ color: {c.accent}; border-bottom: 2px solid {c.line}; }}"
            f"QPushButton[stage=true]:checked {{ color: {c.ink}; font-weight: bold;"
            f" border-bottom: 2px solid {c.accent}; }}"
        )
