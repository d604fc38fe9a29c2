"""The empty screen: how to begin."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from pathlib import Path

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import QHBoxLayout, QLabel, QPushButton, QScrollArea, QVBoxLayout, QWidget

from workbench.bench import theme
from workbench.bench.panel import heading, note
from workbench.errors import BadInput
from workbench.job.samples import Sample, sample_jobs

_WIDTH = 760
_RECENT_SHOWN = 6


class StartPage(QScrollArea):
    """New, open, recent and sample jobs.

    Signals:
        new_wanted: Begin an empty job.
        open_wanted: Ask for a file.
        path_wanted: ``(path)`` open this file.
        sample_wanted: ``(path)`` open this sample as a new job.
        recovery_wanted: Show what was left unsaved.
    """

    new_wanted = Signal()
    open_wanted = Signal()
    path_wanted = Signal(object)
    sample_wanted = Signal(object)
    recovery_wanted = Signal()

    def __init__(self, samples: Sequence[Sample], parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setWidgetResizable(True)
        self.setAccessibleName("Start page")
        page = QWidget(self)
        outer = QHBoxLayout(page)
        outer.addStretch(1)
        inside = QWidget(page)
        inside.setFixedWidth(_WIDTH)
        outer.addWidget(inside)
        outer.addStretch(1)
        column = QVBoxLayout(inside)
        column.setContentsMargins(0, 56, 0, 32)
        column.setSpacing(10)
        title = QLabel("Roof Workbench", inside)
        title.setFont(theme.heading_font(20))
        column.addWidget(title)
        column.addWidget(
            note("Work a roof out before anyone climbs: slope, rafters, sheets, and what to hand over.", inside)
        )
        column.addSpacing(18)
        column.addLayout(self._begin(inside))
        column.addSpacing(22)
        sides = QHBoxLayout()
        sides.setSpacing(40)
        sides.addLayout(self._samples(samples, inside), 1)
        sides.addLayout(self._recent_side(inside), 1)
        column.addLayout(sides)
        column.addStretch(1)
        column.addWidget(note("Screening, not design: the local code and the engineer decide.", inside))
        self.setWidget(page)
        self.show_recent(())
        self.show_recovery(False)

    def show_recent(self, paths: Sequence[Path]) -> None:
        """List recent files; those that are gone can't be pressed."""
        while (item := self._recent.takeAt(0)) is not None:
            widget = item.widget()
            if widget is not None:
                widget.deleteLater()
        for path in paths[:_RECENT_SHOWN]:
            there = path.exists()
            button = _entry(path.name, str(path.parent) if there else f"{path.parent} · missing", self)
            button.setEnabled(there)
            button.clicked.connect(self._opener(path))
            self._recent.addWidget(button)
        self._no_recent.setVisible(not paths)

    def show_recovery(self, found: bool) -> None:
        """Say whether unsaved work was found."""
        self.recover.setVisible(found)

    def _begin(self, parent: QWidget) -> QHBoxLayout:
        row = QHBoxLayout()
        row.setSpacing(10)
        self.new = QPushButton("&New job", parent)
        self.open = QPushButton("&Open a job…", parent)
        self.recover = QPushButton("&Recover unsaved work…", parent)
        self.new.clicked.connect(self.new_wanted)
        self.open.clicked.connect(self.open_wanted)
        self.recover.clicked.connect(self.recovery_wanted)
        for button in (self.new, self.open, self.recover):
            row.addWidget(button)
        row.addWidget(note("or drop a job file anywhere here", parent), 1)
        return row

    def _samples(self, samples: Sequence[Sample], parent: QWidget) -> QVBoxLayout:
        column = QVBoxLayout()
        column.setSpacing(6)
        column.addWidget(heading("Sample jobs", parent))
        column.addWidget(note("All invented. They open as new jobs, so nothing can go wrong.", parent))
        self.samples: list[QPushButton] = []
        for sample in samples:
            button = _entry(sample.title, "", parent)
            button.clicked.connect(self._sampler(sample.path))
            self.samples.append(button)
            column.addWidget(button)
        column.addStretch(1)
        return column

    def _recent_side(self, parent: QWidget) -> QVBoxLayout:
        column = QVBoxLayout()
        column.setSpacing(6)
        column.addWidget(heading("Recent jobs", parent))
        self._no_recent = note("None yet.", parent)
        column.addWidget(self._no_recent)
        self._recent = QVBoxLayout()
        self._recent.setSpacing(6)
        column.addLayout(self._recent)
        column.addStretch(1)
        return column

    def _opener(self, path: Path) -> Callable[[], None]:
        return lambda: self.path_wanted.emit(path)

    def _sampler(self, path: Path) -> Callable[[], None]:
        return lambda: self.sample_wanted.emit(path)


def _entry(title: str, below: str, parent: QWidget) -> QPushButton:
    """A wide button with a title and a quieter line under it."""
    button = QPushButton(parent)
    button.setCursor(Qt.CursorShape.PointingHandCursor)
    button.setAccessibleName(f"{title}, {below}" if below else title)
    column = QVBoxLayout(button)
    column.setContentsMargins(12, 8, 12, 8)
    column.setSpacing(2)
    labels = [QLabel(title, button)]
    if below:
        labels.append(note(below, button))
        labels[1].setWordWrap(False)
    for label in labels:
        label.setAttribute(Qt.WidgetAttribute.WA_TransparentForMouseEvents)
        column.addWidget(label)
    button.setProperty("lines", len(labels))
    return button


def samples_offered() -> tuple[Sample, ...]:
    """The sample jobs; none where they can't be read."""
    try:
        return sample_jobs()
    except (BadInput, FileNotFoundError):
        return ()  # a damaged installation still opens the user's own jobs
