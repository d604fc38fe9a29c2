"""The slope against one quantity, on which the slope is dragged."""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence

import numpy as np
import pyqtgraph as pg
from PySide6.QtCore import Qt, Signal
from PySide6.QtGui import QFont, QKeyEvent
from PySide6.QtWidgets import QSizePolicy, QWidget

from workbench.bench import theme
from workbench.sweep import SweepPoint

Format = Callable[[float], str]


class _WordAxis(pg.AxisItem):
    """An axis whose numbers are written by the job's own formatter."""

    def __init__(self, orientation: str) -> None:
        super().__init__(orientation)
        self.write: Format = "{:g}".format
        self.enableAutoSIPrefix(False)

    def tickStrings(self, values: Sequence[float], scale: float, spacing: float) -> list[str]:
        """The numbers at the ticks."""
        del scale, spacing
        return [self.write(value) for value in values]


class SweepPlot(pg.PlotWidget):
    """The curve, the brackets' limits with their words, and the present slope as a line to drag.

    Signals:
        previewed: ``(in_12)`` the line is being dragged.
        chosen: ``(in_12)`` the line was let go, or moved by a key.
        cancelled: Esc while the line was in hand.
    """

    previewed = Signal(float)
    chosen = Signal(float)
    cancelled = Signal()

    def __init__(self, parent: QWidget | None = None) -> None:
        self._across, self._up = _WordAxis("bottom"), _WordAxis("left")
        super().__init__(parent, axisItems={"bottom": self._across, "left": self._up}, enableMenu=False)
        self.setMinimumHeight(230)
        self.setSizePolicy(QSizePolicy.Policy.Preferred, QSizePolicy.Policy.Fixed)
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.setMouseEnabled(x=False, y=False)
        self.hideButtons()
        self._curve = self.plot([], [], connect="finite")
        self._limits: list[pg.InfiniteLine] = []
        self._limit_words: tuple[tuple[float, str], ...] = ()
        self._line = pg.InfiniteLine(angle=90, movable=True)
        self._line.sigPositionChanged.connect(self._moved)
        self._line.sigPositionChangeFinished.connect(self._let_go)
        self.addItem(self._line)
        self._telling = True
        self._steps = False
        self._words = "slope, rise in 12"
        self._hold: Callable[[float, float], float] = held
        self._step, self._leap = 0.05, 1.0
        self._points: tuple[SweepPoint, ...] = ()
        theme.current().changed.connect(self.restyle)
        self.restyle()

    @property
    def points(self) -> tuple[SweepPoint, ...]:
        """The curve's points."""
        return self._points

    @property
    def slope_line(self) -> pg.InfiniteLine:
        """The line of the present slope."""
        return self._line

    def set_across(
        self, words: str, write: Format, hold: Callable[[float, float], float], step: float, leap: float
    ) -> None:
        """Let another input run across.

        Args:
            words: What it is.
            write: How its values are written.
            hold: What value a drag means, and within which reach it is held.
            step: How far a key moves it.
            leap: How far with Shift.
        """
        self._words, self._hold, self._step, self._leap = words, hold, step, leap
        self._across.write = write
        self.restyle()

    def show_points(self, points: Sequence[SweepPoint], write: Format, *, steps: bool = False) -> None:
        """Show another curve; values are written by ``write``; ``steps`` draws each value level about its point."""
        self._points = tuple(points)
        self._steps = steps
        self._up.write = write
        xs = np.array([point.at for point in points], dtype=float)
        ys = np.array([math.nan if point.value is None else point.value for point in points], dtype=float)
        if steps and len(xs) > 1:
            middles = (xs[:-1] + xs[1:]) / 2.0
            self._curve.setData(np.concatenate((xs[:1], middles, xs[-1:])), ys, stepMode="center")
        else:
            self._curve.setData(xs, ys, stepMode=None)
        known = ys[np.isfinite(ys)]
        if len(known):
            low, high = float(known.min()), float(known.max())
            room = (high - low) * 0.12 or max(1.0, abs(high) * 0.05)
            self.setYRange(low - room, high + room, padding=0)
        if len(xs):
            self.setXRange(float(xs[0]), float(xs[-1]), padding=0.02)

    def show_limits(self, limits: Sequence[tuple[float, str]]) -> None:
        """Show where price brackets begin, each with its words."""
        if tuple(limits) == self._limit_words:
            return
        self._limit_words = tuple(limits)
        for line in self._limits:
            self.removeItem(line)
        self._limits = []
        for at, words in limits:
            options = {"position": 0.97, "anchors": [(1.0, 1.0), (1.0, 1.0)], "rotateAxis": (1, 0)}
            line = pg.InfiniteLine(pos=at, angle=90, movable=False, label=words, labelOpts=options)
            self._limits.append(line)
            self.addItem(line)
        self.restyle()

    def show_slope(self, in_12: float) -> None:
        """Put the line at the present slope without telling."""
        if self._line.moving:
            return
        self._telling = False
        self._line.setValue(in_12)
        self._telling = True

    def value_at(self, in_12: float) -> float | None:
        """The curve's value at a slope, between its points in a straight line; None where there is none."""
        known = [(point.at, point.value) for point in self._points if point.value is not None]
        if not known or not known[0][0] <= in_12 <= known[-1][0]:
            return None
        if self._steps:
            return min(known, key=lambda point: abs(point[0] - in_12))[1]
        return float(np.interp(in_12, [x for x, _ in known], [y for _, y in known]))

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Left and right move the slope, with Shift by whole numbers; Esc lets a dragged line go back."""
        steps = {Qt.Key.Key_Left: -1, Qt.Key.Key_Right: 1}.get(Qt.Key(event.key()))
        if event.key() == Qt.Key.Key_Escape and self._line.moving:
            self._line.moving = False
            self.cancelled.emit()
        elif steps is not None:
            step = self._leap if event.modifiers() & Qt.KeyboardModifier.ShiftModifier else self._step
            first = math.floor if steps > 0 else math.ceil
            now = float(self._line.value())
            self.chosen.emit(self._hold(step * (first(now / step + (1e-9 if steps > 0 else -1e-9)) + steps), 0.0))
        else:
            super().keyPressEvent(event)
            return
        event.accept()

    def restyle(self) -> None:
        """Take the theme's colours."""
        colours = theme.current()
        font = QFont(theme.FONT_FAMILY)
        font.setPointSizeF(8.5)
        self.setBackground(colours.paper)
        for axis in (self._across, self._up):
            axis.setPen(pg.mkPen(colours.line))
            axis.setTextPen(pg.mkPen(colours.quiet))
            axis.setTickFont(font)
        self._across.setLabel(self._words, color=colours.colours.quiet)
        self._curve.setPen(pg.mkPen(colours.ink, width=2))
        for line in self._limits:
            line.setPen(pg.mkPen(colours.quiet, width=1.4, style=Qt.PenStyle.DashLine))
            line.label.setColor(colours.quiet)
            line.label.setFont(font)
        self._line.setPen(pg.mkPen(colours.accent, width=2.5))
        self._line.setHoverPen(pg.mkPen(colours.accent, width=4))

    def _moved(self) -> None:
        if self._telling:
            self.previewed.emit(self._hold(float(self._line.value()), NEAR))

    def _let_go(self) -> None:
        if self._telling:
            self.chosen.emit(self._hold(float(self._line.value()), NEAR))


NEAR = 0.06
"""From so near a whole number holds the line."""


def held(in_12: float, reach: float = NEAR) -> float:
    """The slope a drag means: hundredths in 12, held by whole numbers when it comes near; 0.25 to 24."""
    nearest = round(in_12)
    value = float(nearest) if abs(in_12 - nearest) < reach else round(in_12, 2)
    return min(24.0, max(0.25, value))
