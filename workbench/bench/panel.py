"""The right side's pages: one title, parts with small headings, one scroll bar for the whole page."""

from __future__ import annotations

import math
import time

from PySide6.QtCore import QEvent, QObject, Qt, QTimer
from PySide6.QtGui import QShowEvent
from PySide6.QtWidgets import QFrame, QHBoxLayout, QLabel, QLayout, QScrollArea, QVBoxLayout, QWidget

from workbench.bench import theme
from workbench.bench.document import Document
from workbench.bench.selected import selected_plane
from workbench.bench.selection import Selection
from workbench.bench.unraised import unraised
from workbench.plan import Plan
from workbench.roof.model import Plane

MARGIN = 16
SCROLL_BAR = 12  # as wide as the style sheet makes it

_READABLE_S = 0.1  # figures that change more often can't be read


class Panel(QWidget):
    """A page of the right side. Subclasses fill it in ``build`` and show the plan in ``refresh``.

    A page that is out of sight does nothing: it is refreshed when it comes into sight.
    """

    title = ""

    def __init__(self, document: Document, selection: Selection, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.document = document
        self.selection = selection
        self.setAccessibleName(self.title)
        self._stale = True
        outer = QVBoxLayout(self)
        outer.setContentsMargins(0, 0, 0, 0)
        outer.setSpacing(0)
        self._scroll = QScrollArea(self)
        self._scroll.setWidgetResizable(True)
        self._scroll.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        # Always there, unseen while there is nothing to scroll: the page keeps its width.
        self._scroll.setVerticalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOn)
        bar = self._scroll.verticalScrollBar()
        bar.rangeChanged.connect(self._range_changed)
        bar.setEnabled(False)
        self._scroll.setFocusPolicy(Qt.FocusPolicy.NoFocus)
        self._inside = QWidget(self._scroll)
        self.column = QVBoxLayout(self._inside)
        self.column.setContentsMargins(MARGIN, 6, MARGIN - SCROLL_BAR, MARGIN)
        self.column.setSpacing(8)
        self._scroll.setWidget(self._inside)
        self._scroll.viewport().installEventFilter(self)
        self._head = QWidget(self)
        self.pinned = QVBoxLayout(self._head)
        self.pinned.setContentsMargins(MARGIN, 14, MARGIN, 6)
        self.pinned.setSpacing(8)
        heading = QLabel(self.title, self._head)
        heading.setFont(theme.heading_font(theme.FONT_POINTS + 3))
        self.pinned.addWidget(heading)
        outer.addWidget(self._head)
        outer.addWidget(self._scroll, 1)
        self.build()
        self.column.addStretch(1)
        self._refreshed = 0.0
        self._dragged = False
        self._later = QTimer(self)
        self._later.setSingleShot(True)
        self._later.timeout.connect(lambda: unraised(self._catch_up))
        document.shown.connect(self._plan_shown)
        selection.changed.connect(self._shown)

    @property
    def plan(self) -> Plan:
        """The plan on show."""
        return self.document.plan

    @property
    def plane(self) -> Plane | None:
        """The selected plane."""
        return selected_plane(self.plan, self.selection)

    def build(self) -> None:
        """Put the widgets into ``column``."""
        raise NotImplementedError

    def refresh(self) -> None:
        """Show the plan and the selection."""
        raise NotImplementedError

    def refresh_now(self) -> None:
        """Refresh, whether in sight or not."""
        self._stale = False
        self._later.stop()
        self.refresh()
        self._refreshed = time.monotonic()

    def add_heading(self, text: str, beside: QWidget | None = None) -> QLabel:
        """Begin a part of the page; ``beside`` stands at the right end of its line."""
        label = heading(text, self._inside)
        # A margin of its own and no spacing: a heading that is hidden takes no room.
        label.setContentsMargins(0, 10, 0, 0)
        if beside is None:
            self.column.addWidget(label)
        else:
            row = QHBoxLayout()
            row.setContentsMargins(0, 0, 0, 0)
            row.addWidget(label, 1)
            row.addWidget(beside, 0, Qt.AlignmentFlag.AlignBottom)
            self.column.addLayout(row)
        return label

    def add_note(self, text: str = "") -> QLabel:
        """Add a wrapped line of quiet text."""
        label = note(text, self._inside)
        self.column.addWidget(label)
        return label

    def add(self, what: QWidget | QLayout) -> None:
        """Add a widget or a layout."""
        if isinstance(what, QWidget):
            self.column.addWidget(what)
        else:
            self.column.addLayout(what)

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:
        """Keep the page as wide as its view, so that wrapped text wraps."""
        if watched is self._scroll.viewport() and event.type() == QEvent.Type.Resize:
            self._inside.setFixedWidth(self._scroll.viewport().width())
        return super().eventFilter(watched, event)

    def showEvent(self, event: QShowEvent) -> None:
        """Coming into sight: catch up."""
        super().showEvent(event)
        if self._stale:
            unraised(self.refresh_now)

    def _range_changed(self, least: int, greatest: int) -> None:
        # A bar that is off has no handle to be seen.
        self._scroll.verticalScrollBar().setEnabled(greatest > least)

    def _plan_shown(self) -> None:
        """Another plan is on show; of the frames of a drag only as many are followed as can be read."""
        soon = self._refreshed + _READABLE_S - time.monotonic()
        first, self._dragged = not self._dragged, self.document.previewing
        if first or not self._dragged or soon <= 0.0 or not self.isVisible():
            self._shown()
            return
        self._stale = True
        if not self._later.isActive():
            self._later.start(math.ceil(1000.0 * soon))

    def _catch_up(self) -> None:
        if self._stale and self.isVisible():
            self.refresh_now()

    def _shown(self) -> None:
        if self.isVisible():
            self.refresh_now()
        else:
            self._stale = True


def heading(text: str, parent: QWidget | None = None) -> QLabel:
    """A small bold heading."""
    label = QLabel(text, parent)
    label.setFont(theme.heading_font(theme.FONT_POINTS))
    return label


def note(text: str, parent: QWidget | None = None) -> QLabel:
    """Wrapped quiet text."""
    label = QLabel(text, parent)
    label.setWordWrap(True)
    label.setProperty("quiet", True)
    label.setTextFormat(Qt.TextFormat.PlainText)
    return label


def rule(parent: QWidget | None = None) -> QFrame:
    """A thin line between parts."""
    line = QFrame(parent)
    line.setFrameShape(QFrame.Shape.NoFrame)
    line.setFixedHeight(1)
    line.setStyleSheet(f"background: {theme.current().colours.line};")
    return line
