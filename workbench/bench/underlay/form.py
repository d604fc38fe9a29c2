"""The plan page under the drawing, as the right side of the plan stage offers it."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path
from typing import Any

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QButtonGroup, QCheckBox, QHBoxLayout, QPushButton, QWidget

from workbench.bench.document import Document
from workbench.bench.fields import ChoiceField, LengthField, NumberField
from workbench.bench.panel import note
from workbench.bench.stages.form_base import Form
from workbench.bench.surface.tools import UNDERLAY_VERBS
from workbench.bench.underlay.layer import UnderlayLayer
from workbench.job.underlay import Underlay
from workbench.job.underlay_edits import remove_underlay, set_underlay

_POINTS = 72.0
_PRINTED: tuple[tuple[float, str], ...] = (
    (96.0, '1/8" to the foot'),
    (64.0, '3/16" to the foot'),
    (48.0, '1/4" to the foot'),
    (32.0, '3/8" to the foot'),
    (24.0, '1/2" to the foot'),
    (16.0, '3/4" to the foot'),
    (12.0, '1" to the foot'),
    (50.0, "1 : 50"),
    (100.0, "1 : 100"),
    (200.0, "1 : 200"),
)
"""Scales that plans are printed at (common practice, no source)."""


class UnderlayForm(Form):
    """Lay, scale, turn, move, fade, hide and remove the page.

    Signals:
        tool_asked: ``(name)`` a tool of the surface to start.
        page_asked: A file is to be chosen.
    """

    tool_asked = Signal(str)
    page_asked = Signal()

    def __init__(self, document: Document, parent: QWidget | None = None) -> None:
        super().__init__(document, parent)
        units = document.plan.units
        self._layer: UnderlayLayer | None = None
        self.said = note("", self)
        self.column.insertWidget(0, self.said)
        self.verbs = self._verb_row()
        self.column.insertWidget(1, self.verbs)
        self.page = NumberField(None, "Page", self, least=1.0, decimals=0, whole=True)
        self.printed = ChoiceField((), None, "Printed at", self)
        self.x = LengthField(units, None, "Left corner, right", self)
        self.y = LengthField(units, None, "Left corner, up", self)
        self.turn = NumberField(None, "Turned by", self, decimals=2, unit="°")
        self.strength = NumberField(None, "Strength", self, least=5.0, decimals=0, unit="%")
        self.add(self.page, self.printed, self.x, self.y, self.turn, self.strength)
        self.shown = QCheckBox("Show the page", self)
        self.shown.clicked.connect(lambda on: self._set(None, "Show" if on else "Hide", shown=on))
        self.column.addWidget(self.shown)
        self.page.committed.connect(lambda x: self._set(self.page, "Choose page of", page=round(x)))
        self.printed.committed.connect(self._print_scale)
        self.x.committed.connect(lambda x: self._set(self.x, "Move", x_in=x))
        self.y.committed.connect(lambda y: self._set(self.y, "Move", y_in=y))
        self.turn.committed.connect(lambda x: self._set(self.turn, "Turn", turn_deg=x))
        self.strength.committed.connect(lambda x: self._set(self.strength, "Fade", strength=x / 100.0))
        self._build_buttons()

    def serve(self, layer: UnderlayLayer) -> None:
        """Show this layer's page."""
        self._layer = layer
        layer.changed.connect(self.again)
        self.again()

    def show_tool(self, name: str) -> None:
        """Let the button of the tool in use be down."""
        self._group.setExclusive(False)
        for verb, button in zip(UNDERLAY_VERBS, self.buttons, strict=True):
            button.setChecked(verb.name == name)
        self._group.setExclusive(True)

    def again(self) -> None:
        """Show the job's page."""
        under = self.document.plan.job.underlay
        layer = self._layer
        there = under is not None
        for field in (self.page, self.printed, self.x, self.y, self.turn, self.strength):
            self.show_row(field, there)
        for widget in (self.verbs, self.shown, self.remove):
            widget.setVisible(there)
        problem = layer.problem if layer is not None else ""
        self.retry.setVisible(there and bool(problem))
        self.lay.setText("Another page…" if there else "Lay a plan page below…")
        self.said.setText(self._words(under))
        self.said.setProperty("quiet", not problem)
        self.said.setProperty("warning", bool(problem))
        self.said.style().unpolish(self.said)
        self.said.style().polish(self.said)
        if under is None:
            return
        count = layer.page.count if layer is not None and layer.page is not None else under.page
        self.show_row(self.page, count > 1 or under.page > 1)
        self.page.set_value(float(under.page))
        self.page.set_note(f"of {count}" if count > 1 else "")
        self._show_printed(under)
        for field, value in ((self.x, under.x_in), (self.y, under.y_in)):
            field.set_units(self.document.plan.units)
            field.set_value(value)
        self.turn.set_value(under.turn_deg)
        self.strength.set_value(100.0 * under.strength)
        self.shown.setChecked(under.shown)

    def _verb_row(self) -> QWidget:
        row_of = QWidget(self)
        row = QHBoxLayout(row_of)
        row.setContentsMargins(0, 0, 0, 0)
        row.setSpacing(6)
        self._group = QButtonGroup(self)
        self.buttons: list[QPushButton] = []
        for verb in UNDERLAY_VERBS:
            button = QPushButton(verb.words, self)
            button.setCheckable(True)
            button.setToolTip(verb.tip)
            button.setStatusTip(verb.tip)
            button.setAccessibleName(f"{verb.words} the plan page")
            button.setAccessibleDescription(verb.tip)
            button.clicked.connect(lambda _=False, name=verb.name: self.tool_asked.emit(name))
            self._group.addButton(button)
            row.addWidget(button)
            self.buttons.append(button)
        row.addStretch(1)
        return row_of

    def _build_buttons(self) -> None:
        self.lay = QPushButton(self)
        self.lay.setToolTip("A PDF page, a PNG or JPEG picture, or the lines of a DXF file, to trace the roof from")
        self.retry = QPushButton("Read it again", self)
        self.remove = QPushButton("Take it away", self)
        self.lay.clicked.connect(self.page_asked)
        self.retry.clicked.connect(lambda: self._layer.read_again() if self._layer is not None else None)
        self.remove.clicked.connect(lambda: self._apply(remove_underlay, "Take the plan page away"))
        row = QHBoxLayout()
        row.setSpacing(6)
        for button in (self.lay, self.retry, self.remove):
            row.addWidget(button)
        row.addStretch(1)
        self.column.addLayout(row)

    def _words(self, under: Underlay | None) -> str:
        layer = self._layer
        if under is None:
            return "A page of the plan set to trace the roof from. It stays a file of its own beside the job."
        if layer is not None and layer.problem:
            return f"⚠ {layer.problem}"
        name = Path(under.path).name
        if layer is not None and layer.reading:
            return f"{name}: reading…"
        return f"{name}. Scale it first: two ends of a measure that is written on it."

    def _show_printed(self, under: Underlay) -> None:
        paper = under.path.lower().endswith(".pdf")
        self.show_row(self.printed, paper)
        if not paper:
            return
        ratio = round(under.scale_in * _POINTS, 6)
        known = any(ratio == each for each, _ in _PRINTED)
        own = () if known else ((ratio, f"1 : {ratio:,.1f}, as scaled"),)
        self.printed.set_choices((*_PRINTED, *own))
        self.printed.set_value(ratio)

    def _print_scale(self, ratio: object) -> None:
        if isinstance(ratio, float):
            self._set(self.printed, "Scale", scale_in=ratio / _POINTS)

    def _set(self, field: Any, what: str, **fields: Any) -> None:
        if field is None:
            self._apply(lambda job: set_underlay(job, **fields), f"{what} the plan page")
        else:
            self.edit(field, lambda job: set_underlay(job, **fields), f"{what} the plan page")

    def _apply(self, change: Callable[..., Any], text: str) -> None:
        self.document.apply(change(self.document.job), text)
