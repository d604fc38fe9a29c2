"""The line of standing figures: always in sight, each answers "How?", and the findings lead to their list."""

from __future__ import annotations

from PySide6.QtCore import QRect, QSize, Qt, Signal
from PySide6.QtGui import QFontMetrics, QPainter, QPaintEvent, QPen, QResizeEvent
from PySide6.QtWidgets import QAbstractButton, QHBoxLayout, QSizePolicy, QWidget

from workbench.bench import theme
from workbench.bench.document import Document
from workbench.bench.figures_of import FigureText, findings_words, standing_figures
from workbench.bench.how import HowPopup
from workbench.bench.selected import selected_plane
from workbench.bench.selection import Selection
from workbench.measure import Trace

_PAD, _TIGHT_PAD = 12, 7


class Figure(QAbstractButton):
    """A caption over a value; pressing it tells how it was found, or does what it is connected to."""

    def __init__(self, parent: QWidget | None = None, *, hint: str = "How?") -> None:
        super().__init__(parent)
        self._name = ""
        self._value = ""
        self._hint = hint
        self._traces: tuple[Trace, ...] = ()
        self._warning = False
        self._widest = 0
        self._tight = False
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.setCursor(Qt.CursorShape.PointingHandCursor)
        self.setSizePolicy(QSizePolicy.Policy.Maximum, QSizePolicy.Policy.Fixed)
        self.setAttribute(Qt.WidgetAttribute.WA_Hover)

    @property
    def value(self) -> str:
        """What is shown."""
        return self._value

    @property
    def traces(self) -> tuple[Trace, ...]:
        """How it was found."""
        return self._traces

    def show_text(self, text: FigureText, *, warning: bool = False) -> None:
        """Show another figure; an equal one costs nothing."""
        self._traces = text.traces
        if (self._name, self._value, self._warning) == (text.name, text.value, warning):
            return
        self._name, self._value, self._warning = text.name, text.value, warning
        self.setAccessibleName(f"{text.name}: {text.value}. {self._hint}")
        self.setToolTip(f"{text.name}: {text.value}" + (" — press for the formula" if text.traces else ""))
        if self._needed() > self._widest:
            # It only grows, so that the line does not tremble while a slope is dragged.
            self._widest = self._needed()
            self.updateGeometry()
        self.update()

    def forget_width(self) -> None:
        """Take only the room the present value needs."""
        self._widest = self._needed()
        self.updateGeometry()

    def set_tight(self, on: bool) -> None:
        """Take less room: narrow margins, and "How?" in the caption's place instead of beside it."""
        if on != self._tight:
            self._tight = on
            self.forget_width()

    def show_how(self) -> None:
        """Show formula, values and source."""
        if self._traces:
            HowPopup(self._traces, self).show_at(self)

    def sizeHint(self) -> QSize:
        """Room for both lines."""
        small, bold = self._metrics()
        return QSize(max(self._widest, self._needed()), small.height() + bold.height() + 12)

    def minimumSizeHint(self) -> QSize:
        """Narrow windows cut the value short rather than push the line out."""
        return QSize(48, self.sizeHint().height())

    def paintEvent(self, event: QPaintEvent) -> None:
        """Caption quiet, value bold, "How?" in the accent under the pointer or with the focus."""
        colours = theme.current()
        painter = QPainter(self)
        active = self.underMouse() or self.hasFocus()
        if self.isDown():
            painter.fillRect(self.rect(), colours.accent_soft)
        small, bold = self._metrics()
        top = (self.height() - small.height() - bold.height() - 2) // 2
        inner = self.rect().adjusted(self._pad, 0, -self._pad, 0)
        instead = active and self._tight and bool(self._hint)
        painter.setPen(colours.quiet)
        if not instead:
            line = QRect(inner.left(), top, inner.width(), small.height())
            painter.drawText(line, Qt.AlignmentFlag.AlignLeft, self._name)
        if active:
            painter.setPen(colours.accent)
            line = QRect(inner.left(), top, inner.width(), small.height())
            side = Qt.AlignmentFlag.AlignLeft if instead else Qt.AlignmentFlag.AlignRight
            painter.drawText(line, side, self._hint)
        painter.setFont(theme.heading_font(theme.FONT_POINTS + 0.5))
        painter.setPen(colours.warning if self._warning else colours.ink)
        value = bold.elidedText(self._shown(), Qt.TextElideMode.ElideRight, inner.width())
        line = QRect(inner.left(), top + small.height() + 2, inner.width(), bold.height())
        painter.drawText(line, Qt.AlignmentFlag.AlignLeft, value)
        if self.hasFocus():
            painter.setPen(QPen(colours.accent, 1))
            painter.drawRect(self.rect().adjusted(1, 1, -2, -2))
        painter.setPen(colours.line)
        painter.drawLine(self.width() - 1, 10, self.width() - 1, self.height() - 10)

    def roomy_width(self) -> int:
        """The room it would take with all its margins."""
        small, bold = self._metrics()
        captions = small.horizontalAdvance(f"{self._name}  {self._hint}")
        return max(captions, bold.horizontalAdvance(self._shown()) + 2) + 2 * _PAD

    def _needed(self) -> int:
        if not self._tight:
            return self.roomy_width()
        small, bold = self._metrics()
        return max(small.horizontalAdvance(self._name), bold.horizontalAdvance(self._shown()) + 2) + 2 * _TIGHT_PAD

    @property
    def _pad(self) -> int:
        return _TIGHT_PAD if self._tight else _PAD

    def _shown(self) -> str:
        # The sign says it without the colour.
        return f"⚠ {self._value}" if self._warning else self._value

    def _metrics(self) -> tuple[QFontMetrics, QFontMetrics]:
        return QFontMetrics(self.font()), QFontMetrics(theme.heading_font(theme.FONT_POINTS + 0.5))


class FiguresLine(QWidget):
    """The standing figures of the selected plane and of the job.

    Signals:
        findings_wanted: The user asked for the list of findings.
    """

    findings_wanted = Signal()

    def __init__(self, document: Document, selection: Selection, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._document = document
        self._selection = selection
        self.setAccessibleName("Standing figures")
        row = QHBoxLayout(self)
        row.setContentsMargins(4, 0, 4, 0)
        row.setSpacing(0)
        self.plane = Figure(self, hint="")
        self.figures = tuple(Figure(self) for _ in range(6))
        self.findings = Figure(self, hint="Show")
        self.plane.setFocusPolicy(Qt.FocusPolicy.NoFocus)
        self.plane.setCursor(Qt.CursorShape.ArrowCursor)
        for figure in (self.plane, *self.figures):
            row.addWidget(figure)
        row.addStretch(1)
        row.addWidget(self.findings)
        for figure in self.figures:
            figure.clicked.connect(figure.show_how)
        self.findings.clicked.connect(self.findings_wanted)
        document.shown.connect(self.refresh)
        document.replaced.connect(self._fresh)
        selection.changed.connect(self.refresh)
        theme.current().changed.connect(self.update)
        self.refresh()

    def refresh(self) -> None:
        """Show the figures of the plan on show."""
        plan = self._document.plan
        plane = selected_plane(plan, self._selection)
        self.plane.show_text(FigureText("Plane", plane.name if plane is not None else "no plane yet"))
        for figure, text in zip(self.figures, standing_figures(plan, plane), strict=True):
            figure.show_text(text)
        self._fit()
        worse = any(finding.severity != "note" for finding in plan.findings)
        self.findings.show_text(FigureText("Findings", findings_words(plan.findings)), warning=worse)

    def resizeEvent(self, event: QResizeEvent) -> None:
        """In a narrow window figures take less room before any is cut short."""
        super().resizeEvent(event)
        self._fit()

    def _fit(self) -> None:
        every = (self.plane, *self.figures, self.findings)
        tight = sum(figure.roomy_width() for figure in every) + 8 > self.width()
        for figure in every:
            figure.set_tight(tight)

    def _fresh(self) -> None:
        for figure in (self.plane, *self.figures, self.findings):
            figure.forget_width()

    def paintEvent(self, event: QPaintEvent) -> None:
        """A line on top parts the figures from the work."""
        painter = QPainter(self)
        painter.fillRect(self.rect(), theme.current().panel)
        painter.setPen(theme.current().line)
        painter.drawLine(0, 0, self.width(), 0)
