"""The ways to another slope as lines, each with a button that takes it."""

from __future__ import annotations

from collections.abc import Sequence
from functools import partial

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QGridLayout, QLabel, QPushButton, QWidget

from workbench.bench.stages.slope.ways import Way, saved_words
from workbench.job.model import Job


class WayList(QWidget):
    """Lines of ways; they are kept and filled anew, never built again while a handle is dragged.

    Signals:
        taken: ``(job)`` a way was taken.
    """

    taken = Signal(object)

    def __init__(self, name: str, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setAccessibleName(name)
        self._ways: tuple[Way, ...] = ()
        self._lines: list[tuple[QLabel, QPushButton]] = []
        self._grid = QGridLayout(self)
        self._grid.setContentsMargins(0, 0, 0, 0)
        self._grid.setHorizontalSpacing(10)
        self._grid.setVerticalSpacing(4)
        self._grid.setColumnStretch(0, 1)

    @property
    def texts(self) -> tuple[str, ...]:
        """The lines on show."""
        return tuple(label.text() for (label, _), _ in zip(self._lines, self._ways, strict=False))

    def button(self, number: int) -> QPushButton:
        """The button of a line."""
        return self._lines[number][1]

    def show_ways(self, ways: Sequence[Way]) -> None:
        """Show these ways."""
        self._ways = tuple(ways)
        while len(self._lines) < len(self._ways):
            self._add_line(len(self._lines))
        for number, (label, button) in enumerate(self._lines):
            on = number < len(self._ways)
            label.setVisible(on)
            button.setVisible(on)
            if on:
                _fill(label, button, self._ways[number])
        self.setVisible(bool(self._ways))

    def _add_line(self, number: int) -> None:
        label, button = QLabel(self), QPushButton("Apply this", self)
        label.setWordWrap(True)
        button.clicked.connect(partial(self._take, number))
        self._lines.append((label, button))
        self._grid.addWidget(label, number, 0)
        self._grid.addWidget(button, number, 1)

    def _take(self, number: int) -> None:
        job = self._ways[number].job if number < len(self._ways) else None
        if isinstance(job, Job):
            self.taken.emit(job)


def _fill(label: QLabel, button: QPushButton, way: Way) -> None:
    lines = [way.words[:1].upper() + way.words[1:]]
    saved = saved_words(way.saved)
    if saved:
        lines[0] += f": {saved}"
    if way.breaks:
        lines.append(f"⚠ can't be built so: {way.breaks}")
    if way.job is None:
        lines.append("⚠ the drawing can't follow: change it in the plan")
    label.setText("\n".join(lines))
    button.setEnabled(way.job is not None)
    button.setAccessibleName(f"Apply: {way.words}")
