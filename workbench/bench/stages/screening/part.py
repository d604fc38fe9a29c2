"""The screening's part of the frame page."""

from __future__ import annotations

from PySide6.QtWidgets import QCheckBox, QHBoxLayout, QLabel, QVBoxLayout, QWidget

from workbench.bench.document import Document
from workbench.bench.how import HowButton
from workbench.bench.panel import heading, note
from workbench.bench.previews import is_fresh
from workbench.bench.selection import Selection
from workbench.bench.stages.screening.forms import LoadsForm, SnowForm, WingLimitsForm
from workbench.bench.stages.screening.lists import ConnectorPart, HeadroomPart
from workbench.bench.stages.screening.rows import check_key, check_rows, load_line, object_of
from workbench.bench.table import Table
from workbench.findings import SCREENING
from workbench.roof.model import Plane
from workbench.screening.model import Check
from workbench.screening.words import NOT_SCREENED

CAUTION = f"Screening, never design. {NOT_SCREENED}"
_BEFORE = "As before the drag: checked anew as soon as the hand rests."


class ScreeningPart(QWidget):
    """Checks, loads and limits, headroom, hardware."""

    def __init__(self, document: Document, selection: Selection, parent: QWidget) -> None:
        super().__init__(parent)
        self.document = document
        self.selection = selection
        self._column = column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(8)
        self.how = HowButton("this check", self)
        self._head("Checks against loads and limits", self.how)
        self.caution = note(CAUTION, self)
        self.caution.setProperty("quiet", False)
        self.caution.setProperty("warning", True)
        column.addWidget(self.caution)
        self.loads_said = note("", self)
        column.addWidget(self.loads_said)
        self.checks = Table("Checks", ("What was checked, and what came of it",), wrap=True, parent=self)
        self.checks.chosen.connect(self._chosen)
        column.addWidget(self.checks)
        self.every = QCheckBox("List every check", self)
        self.every.toggled.connect(self._list)
        column.addWidget(self.every)
        self.source = note("", self)
        column.addWidget(self.source)
        self._head("Loads and limits")
        self.loads = LoadsForm(document, self)
        self.snow = SnowForm(document, self)
        column.addWidget(self.loads)
        column.addWidget(self.snow)
        self.wing_heading = self._head("In this wing")
        self.wing = WingLimitsForm(document, self)
        column.addWidget(self.wing)
        self._head("Headroom")
        self.headroom = HeadroomPart(document, self)
        column.addWidget(self.headroom)
        self._head("Ties, hangers, straps called for")
        self.connectors = ConnectorPart(document, self)
        column.addWidget(self.connectors)

    def refresh(self, plane: Plane | None) -> None:
        """Show the plan's checks and settings.

        Args:
            plane: The plane in hand, whose wing's limits are shown.
        """
        plan = self.document.plan
        fresh = is_fresh(plan, "all")
        self.checks.setEnabled(fresh)
        self.loads_said.setText(load_line(plan) if fresh else _BEFORE)
        if fresh:
            self.checks.set_rows(check_rows(plan, every=self.every.isChecked()))
            self._tell(self.checks.key)
        self.loads.show_settings()
        self.snow.show_settings()
        wing = next((each for each in plan.job.wings if plane is not None and each.id == plane.wing), None)
        for widget in (self.wing_heading, self.wing):
            widget.setVisible(wing is not None)
        if wing is not None:
            self.wing_heading.setText(f"In {wing.name}")
            self.wing.show_wing(wing)
        self.headroom.plane = plane
        self.headroom.hold(self.selection.key)
        self.headroom.refresh()
        self.connectors.refresh()

    @property
    def check(self) -> Check | None:
        """The check in hand."""
        return self._check(self.checks.key)

    def _check(self, key: str) -> Check | None:
        return next((check for check in self.document.plan.screening.checks if check_key(check) == key), None)

    def _list(self) -> None:
        self.checks.set_rows(check_rows(self.document.plan, every=self.every.isChecked()))

    def _chosen(self, key: str) -> None:
        check = self._check(key)
        self._tell(key)
        if check is not None:
            about = object_of(self.document.plan, check)
            if about:
                self.selection.select(about)
                self.checks.select_key(key)

    def _tell(self, key: str) -> None:
        check = self._check(key)
        self.how.set_traces(() if check is None else check.traces)
        source = "" if check is None or not check.source else f"Source: {check.source}. "
        self.source.setText(f"{source}{SCREENING}")

    def _head(self, text: str, beside: QWidget | None = None) -> QLabel:
        label = heading(text, self)
        label.setContentsMargins(0, 10, 0, 0)
        if beside is None:
            self._column.addWidget(label)
        else:
            row = QHBoxLayout()
            row.addWidget(label, 1)
            row.addWidget(beside)
            self._column.addLayout(row)
        return label
