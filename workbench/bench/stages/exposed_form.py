"""Exposed eaves and rakes in another material, as fields."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

from msgspec.structs import replace
from PySide6.QtWidgets import QWidget

from workbench.bench.document import Document
from workbench.bench.fields import ChoiceField, LengthField
from workbench.bench.panel import note
from workbench.bench.stages.form_base import Form
from workbench.job.edits import set_sheathing
from workbench.job.model import Job
from workbench.plan import Plan

_FINISHES = (("boards", "boards along the eave"), ("panel", "finish panels, the sheets' size"))


class ExposedForm(Form):
    """Widths of the strips, what they are made of, and what that comes to."""

    def __init__(self, document: Document, parent: QWidget | None = None) -> None:
        super().__init__(document, parent)
        units = document.plan.units
        self.eaves = LengthField(units, None, "Up from the eaves", self)
        self.rakes = LengthField(units, None, "In from the rakes", self)
        self.finish = ChoiceField(_FINISHES, None, "Finish", self)
        self.thickness = LengthField(units, None, "Its thickness", self)
        self.board = LengthField(units, None, "One board covers", self)
        self._lengths = (
            (self.eaves, "eaves_in", "Up the slope, from the lower edge of the sheathing; 0 where none is exposed"),
            (self.rakes, "rakes_in", "Level, from the rake's edge; 0 where none is exposed"),
            (self.thickness, "thickness_in", "Where it differs from the sheets' the deck has a step"),
            (self.board, "board_in", "What a board covers up the slope"),
        )
        for field, name, tip in self._lengths:
            field.setToolTip(tip)
            field.committed.connect(self._setter(field, name))
        self.finish.committed.connect(self._setter(self.finish, "finish"))
        self.add(self.eaves, self.rakes, self.finish, self.thickness, self.board)
        self.said = note("", self)
        self.column.addWidget(self.said)

    def show_plan(self, plan: Plan) -> None:
        """Show a plan's."""
        exposed = plan.job.sheathing.exposed
        for field, name, _ in self._lengths:
            field.set_units(plan.units)
            field.set_value(getattr(exposed, name))
        self.finish.set_value(exposed.finish)
        for field in (self.finish, self.thickness, self.board):
            self.show_row(field, exposed.any and (field is not self.board or exposed.finish == "boards"))
        self.said.setText(exposed_words(plan))
        self.said.setVisible(bool(self.said.text()))

    def again(self) -> None:
        """Show the job's own again."""
        self.show_plan(self.document.plan)

    def _setter(self, field: LengthField | ChoiceField, name: str) -> Callable[[object], None]:
        def take(value: object) -> None:
            def change(job: Job) -> Job:
                own: dict[str, Any] = {name: value}
                return set_sheathing(job, exposed=replace(job.sheathing.exposed, **own))

            self.edit(field, change, f"Change exposed edges: {field.label.lower()}")

        return take


def exposed_words(plan: Plan) -> str:
    """What the strips come to; empty where no edge is exposed."""
    lines = [line for line in plan.quantities if line.code in ("exposed-boards", "exposed-panels")]
    if not lines:
        return ""
    area = sum(strip.area_sqin for strip in plan.sheathing.exposed) / 144.0
    amount = f"{lines[0].amount:.0f} {lines[0].unit}"
    return (
        f"{plan.units.area(area)} in all: {amount}. The sheets begin where it ends; the findings say where that falls."
    )
