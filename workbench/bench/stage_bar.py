"""The row of stages on top, with the job's name and the way to the handout at its right end."""

from __future__ import annotations

from PySide6.QtCore import Qt, Signal
from PySide6.QtGui import QFontMetrics, QResizeEvent
from PySide6.QtWidgets import QButtonGroup, QHBoxLayout, QPushButton, QWidget

from workbench.bench import theme
from workbench.bench.menus import STAGES

_JOB_MOST = 420
"""Width of the job's name at most, pixels."""
_AROUND_JOB = 64
"""Margins of the row and of the name's own button."""


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
        self._job_words = ""
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
        self._job_words = f"{name}, revision {revision}" if revision else name
        self.job.setAccessibleName(f"Job: {self._job_words}")
        self._fit_job()

    def resizeEvent(self, event: QResizeEvent) -> None:
        """The job's name gives way first; stages and handout are always read whole."""
        super().resizeEvent(event)
        self._fit_job()

    def _fit_job(self) -> None:
        others = [*self._buttons.values(), self.handout]
        taken = sum(max(button.sizeHint().width(), button.minimumWidth()) for button in others) + _AROUND_JOB
        room = max(0, min(_JOB_MOST, self.width() - taken))
        metrics = self.job.fontMetrics()
        words = metrics.elidedText(self._job_words, Qt.TextElideMode.ElideRight, room)
        self.job.setText(words if room > metrics.horizontalAdvance("mmm") else "…")

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
