"""Fields of a plane drawn by hand, and of a line that splits a plane."""

from __future__ import annotations

from typing import Any

from PySide6.QtWidgets import QPushButton, QWidget

from workbench.bench.document import Document
from workbench.bench.fields import ChoiceField, LengthField, NumberField
from workbench.bench.panel import note
from workbench.bench.selection import Selection
from workbench.bench.stages.form_base import Form, OwnSlope, in_12
from workbench.bench.surface.tools.drawn_plane import MEETS_WORDS
from workbench.bench.surface.tools.plane_line import FOLD_WORDS
from workbench.job.model import Wing
from workbench.job.planes import PlaneSplit
from workbench.job.planes_edits import remove_split, set_single, set_split

_SIDES = (("left", "left of it, start to end"), ("right", "right of it, start to end"))


class SingleForm(Form):
    """Height, way of rising and meeting of a plane drawn by hand; its slope is the wing's."""

    def __init__(self, document: Document, parent: QWidget | None = None) -> None:
        super().__init__(document, parent)
        units = document.plan.units
        self.height = LengthField(units, None, "Rafter tops at the line", self)
        self.right = LengthField(units, None, "The line: right", self)
        self.up = LengthField(units, None, "The line: up", self)
        self.way = NumberField(None, "Rises towards", self, unit="° from right", decimals=4)
        self.meets = ChoiceField(MEETS_WORDS, "auto", "Where roofs cross", self)
        self.add(self.height, self.right, self.up, self.way, self.meets)
        self.column.addWidget(note("The line is level, square to the way the plane rises.", self))
        self.height.committed.connect(lambda z: self._set(self.height, "height_in", z))
        self.way.committed.connect(lambda degrees: self._set(self.way, "uphill_deg", degrees))
        self.meets.committed.connect(lambda value: self._set(self.meets, "meets", value))
        self.right.committed.connect(lambda x: self._set(self.right, "line", (x, self.up.value)))
        self.up.committed.connect(lambda y: self._set(self.up, "line", (self.right.value, y)))

    def show_wing(self, wing: Wing) -> None:
        """Show a plane drawn by hand."""
        self.wing_id = wing.id
        if wing.single is None:
            return
        for field in (self.height, self.right, self.up):
            field.set_units(self.document.plan.units)
        self.height.set_value(wing.single.height_in)
        self.right.set_value(wing.single.line[0])
        self.up.set_value(wing.single.line[1])
        self.way.set_value(wing.single.uphill_deg)
        self.meets.set_value(wing.single.meets)

    def _set(self, field: LengthField | NumberField | ChoiceField, name: str, value: object) -> None:
        values: dict[str, Any] = {name: value}
        self.edit(field, lambda job: set_single(job, self.wing_id, **values), "Change plane")


class LineForm(Form):
    """The line that made the selected plane."""

    def __init__(self, document: Document, selection: Selection, parent: QWidget | None = None) -> None:
        super().__init__(document, parent)
        self._selection = selection
        units = document.plan.units
        self.slope = OwnSlope(units, None, "Slope of the part", self)
        self.slope.edit.setPlaceholderText("as the plane")
        self.fold = ChoiceField(FOLD_WORDS, "up", "From the line it goes", self)
        self.side = ChoiceField(_SIDES, "left", "The part lies", self)
        words = (
            ("start", 0, "Start: right"),
            ("start", 1, "Start: up"),
            ("end", 0, "End: right"),
            ("end", 1, "End: up"),
        )
        self.ends = [(LengthField(units, None, label, self), name, axis) for name, axis, label in words]
        self.add(self.slope, self.fold, self.side, *(field for field, _, _ in self.ends))
        self.remove = QPushButton("Remove line", self)
        self.remove.clicked.connect(self._remove)
        self.column.addWidget(self.remove)
        self.slope.committed.connect(lambda m: self._set(self.slope, "slope_in_12", in_12(m)))
        self.slope.cleared.connect(lambda: self._set(self.slope, "slope_in_12", None))
        self.fold.committed.connect(lambda value: self._set(self.fold, "fold", value))
        self.side.committed.connect(lambda value: self._set(self.side, "side", value))
        for field, name, axis in self.ends:
            field.committed.connect(lambda x, field=field, name=name, axis=axis: self._move(field, name, axis, x))

    def split_of(self, wing: Wing) -> PlaneSplit | None:
        """The line of a wing whose part is selected, or None."""
        name = self._selection.id.partition("/")[2] if self._selection.kind == "plane" else ""
        return next((split for split in wing.splits if split.id == name.partition("-")[0]), None)

    def show_wing(self, wing: Wing) -> None:
        """Show the line whose part of the wing is selected."""
        self.wing_id = wing.id
        split = self.split_of(wing)
        if split is None:
            return
        self.slope.set_value(None if split.slope_in_12 is None else split.slope_in_12 / 12.0)
        self.fold.set_value(split.fold)
        self.show_row(self.fold, split.slope_in_12 is not None)
        self.side.set_value(split.side)
        for field, name, axis in self.ends:
            field.set_units(self.document.plan.units)
            field.set_value(getattr(split, name)[axis])

    def _set(self, field: LengthField | OwnSlope | ChoiceField, name: str, value: object) -> None:
        split = self.split_of(self.document.job.wing(self.wing_id))
        if split is not None:
            values: dict[str, Any] = {name: value}
            self.edit(field, lambda job: set_split(job, self.wing_id, split.id, **values), "Change line")

    def _move(self, field: LengthField, name: str, axis: int, value: float) -> None:
        split = self.split_of(self.document.job.wing(self.wing_id))
        if split is not None:
            old = getattr(split, name)
            self._set(field, name, (value, old[1]) if axis == 0 else (old[0], value))

    def _remove(self) -> None:
        split = self.split_of(self.document.job.wing(self.wing_id))
        if split is not None:
            self.document.apply(remove_split(self.document.job, self.wing_id, split.id), "Remove line")
            self._selection.select(f"wing:{self.wing_id}")
