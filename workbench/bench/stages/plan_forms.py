"""Fields of a wing, an edge and a corner; every change is one undo step, every error stands at its field."""

from __future__ import annotations

import math
from collections.abc import Callable
from typing import Any, cast

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QVBoxLayout, QWidget

from workbench.bench.document import Document
from workbench.bench.fields import ChoiceField, Field, LengthField, SlopeField, TextField, add_row, new_form
from workbench.bench.panel import note
from workbench.bench.selection import Selection
from workbench.bench.surface.menu import set_kind
from workbench.bench.surface.tools.base import edge_index, side_of
from workbench.bench.surface.tools.kinds import KIND_WORDS
from workbench.bench.surface.words import side_name
from workbench.errors import BadInput
from workbench.job.edits import move_corner, set_edge, set_wing
from workbench.job.model import Edge, Job, OutlineKind, Unknown, Wing

_LABEL_PX = 118
AS_THE_WING = "as the wing"
_FASCIA = (("level", "level fascia"), ("equal_overhang", "equal overhang"))


class OwnLength(LengthField):
    """A length of an edge's own; emptied, the wing's holds again.

    Signals:
        cleared: The user emptied it.
    """

    cleared = Signal()

    def commit(self) -> None:
        """Read what was typed; nothing typed means as the wing."""
        if not _emptied(self):
            super().commit()
        elif self.value is None:
            self.restore()
        else:
            self.cleared.emit()


class OwnSlope(SlopeField):
    """A slope of an edge's own; emptied, the wing's holds again.

    Signals:
        cleared: The user emptied it.
    """

    cleared = Signal()

    def commit(self) -> None:
        """Read what was typed; nothing typed means as the wing."""
        if not _emptied(self):
            super().commit()
        elif self.value is None:
            self.restore()
        else:
            self.cleared.emit()


class _Form(QWidget):
    """A form of the selected wing that edits through the document."""

    def __init__(self, document: Document, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.document = document
        self.wing_id = ""
        self.column = QVBoxLayout(self)
        self.column.setContentsMargins(0, 0, 0, 0)
        self.column.setSpacing(8)
        self.form = new_form()
        self.column.addLayout(self.form)

    def add(self, *fields: Field | TextField | ChoiceField) -> None:
        """Put fields into the form, the labels of all forms equally wide."""
        for field in fields:
            add_row(self.form, field).setMinimumWidth(_LABEL_PX)

    def edit(self, field: Field | TextField, change: Callable[[Job], Job], text: str) -> None:
        """Make an edit, or say at the field why it can't be made and keep what was typed there."""
        typed = field.edit.text()
        try:
            self.document.apply(change(self.document.job), text)
        except BadInput as error:
            self.again()
            field.edit.setText(typed)
            field.edit.setModified(True)
            field.show_error(str(error))

    def again(self) -> None:
        """Show the wing's values again."""
        wing = next((wing for wing in self.document.job.wings if wing.id == self.wing_id), None)
        if wing is not None:
            self.show_wing(wing)

    def show_wing(self, wing: Wing) -> None:
        """Show a wing."""
        raise NotImplementedError


class WingForm(_Form):
    """Name, slope, plate, overhangs."""

    def __init__(self, document: Document, parent: QWidget | None = None) -> None:
        super().__init__(document, parent)
        units = document.plan.units
        self.name = TextField("", "Name", self)
        self.slope = SlopeField(units, None, "Slope", self)
        self.plate = LengthField(units, None, "Plate height", self)
        self.eaves = LengthField(units, None, "Eave overhang", self)
        self.rakes = LengthField(units, None, "Rake overhang", self)
        self.fascia = ChoiceField(_FASCIA, "level", "Unequal slopes", self)
        self.add(self.name, self.slope, self.plate, self.eaves, self.rakes, self.fascia)
        self.found = note("", self)
        self.column.addWidget(self.found)
        self.name.committed.connect(lambda text: self._set(self.name, "name", text))
        self.slope.committed.connect(lambda m: self._set(self.slope, "slope_in_12", in_12(m)))
        self.plate.committed.connect(lambda x: self._set(self.plate, "plate_in", x))
        self.eaves.committed.connect(lambda x: self._set(self.eaves, "eave_overhang_in", x))
        self.rakes.committed.connect(lambda x: self._set(self.rakes, "rake_overhang_in", x))
        self.fascia.committed.connect(self._set_fascia)

    def show_wing(self, wing: Wing) -> None:
        """Show a wing; what its landing solves can be seen only."""
        self.wing_id = wing.id
        units = self.document.plan.units
        for field in (self.slope, self.plate, self.eaves, self.rakes):
            field.set_units(units)
        find = wing.landing.find if wing.landing is not None else None
        self.name.set_value(wing.name)
        self.slope.set_value(self._slope(wing, find))
        self.slope.set_read_only(find == "slope")
        self.slope.set_note(self._note(wing) if find == "slope" else "")
        self.plate.set_value(self._plate(wing, find))
        self.plate.set_read_only(find == "low_plate")
        self.plate.set_note(self._note(wing) if find == "low_plate" else "")
        self.eaves.set_value(wing.eave_overhang_in)
        self.rakes.set_value(wing.rake_overhang_in)
        self.fascia.set_value(wing.fascia)
        self.found.setText(_found_sentence(find, landed=self._landed(wing)))
        self.found.setVisible(find is not None)

    def _landed(self, wing: Wing) -> bool:
        """Whether the landing has a solution."""
        solved = next((each for each in self.document.plan.wings if each.wing == wing.id), None)
        return solved is not None and any(section.landed for section in solved.sections)

    def _note(self, wing: Wing) -> str:
        return "solved" if self._landed(wing) else "not solved"

    def _slope(self, wing: Wing, find: Unknown | None) -> float:
        eave = self._solved(wing) if find == "slope" else None
        return wing.slope_in_12 / 12.0 if eave is None else eave[0]

    def _plate(self, wing: Wing, find: Unknown | None) -> float:
        eave = self._solved(wing) if find == "low_plate" else None
        return wing.plate_in if eave is None else eave[1]

    def _solved(self, wing: Wing) -> tuple[float, float] | None:
        """Slope and plate of the wing's first eave as solved."""
        solved = next((each for each in self.document.plan.wings if each.wing == wing.id), None)
        return (solved.eaves[0].tangent, solved.eaves[0].plate_in) if solved is not None and solved.eaves else None

    def _set(self, field: Field | TextField, name: str, value: object) -> None:
        values: dict[str, Any] = {name: value}
        self.edit(field, lambda job: set_wing(job, self.wing_id, **values), f"Change {field.label.lower()}")

    def _set_fascia(self, value: object) -> None:
        job = set_wing(self.document.job, self.wing_id, fascia=value)
        self.document.apply(job, "Change fascia")


class EdgeForm(_Form):
    """Which edge, what it is, and what differs on it from the wing."""

    def __init__(self, document: Document, selection: Selection, parent: QWidget | None = None) -> None:
        super().__init__(document, parent)
        self._selection = selection
        units = document.plan.units
        self.side = ChoiceField((), "", "Edge", self)
        self.kind = ChoiceField(KIND_WORDS, "eave", "It is", self)
        self.slope = OwnSlope(units, None, "Own slope", self)
        self.plate = OwnLength(units, None, "Own plate height", self)
        self.overhang = OwnLength(units, None, "Own overhang", self)
        self.add(self.side, self.kind, self.slope, self.plate, self.overhang)
        self.side.committed.connect(self._choose)
        self.kind.committed.connect(self._set_kind)
        self._own: tuple[tuple[OwnSlope | OwnLength, str], ...] = (
            (self.slope, "slope_in_12"),
            (self.plate, "plate_in"),
            (self.overhang, "overhang_in"),
        )
        for field, name in self._own:
            field.edit.setPlaceholderText(AS_THE_WING)
            field.cleared.connect(self._setter(field, name))
            field.committed.connect(self._setter(field, name))

    def show_wing(self, wing: Wing) -> None:
        """Show the selected edge of a wing; the others can be chosen."""
        self.wing_id = wing.id
        edge = self._edge(wing)
        self.side.set_choices(self._choices(wing))
        self.side.set_value(edge.id if edge is not None else "")
        self.kind.set_value(edge.kind if edge is not None else None)
        eave = edge is not None and edge.kind == "eave"
        for row, shown in ((1, edge is not None), (2, eave), (3, eave), (4, edge is not None and edge.kind != "wall")):
            self.form.setRowVisible(row, shown)
        if edge is None:
            return
        for field, _ in self._own:
            field.set_units(self.document.plan.units)
        self.slope.set_value(None if edge.slope_in_12 is None else edge.slope_in_12 / 12.0)
        self.plate.set_value(edge.plate_in)
        self.overhang.set_value(edge.overhang_in)

    def _choices(self, wing: Wing) -> tuple[tuple[object, str], ...]:
        units = self.document.plan.units
        sides = [
            (edge.id, f"{side_name(wing, i)}, {units.length(math.dist(*side_of(wing, i)))}")
            for i, edge in enumerate(wing.edges)
        ]
        return (("", "choose one, or click it"), *sides)

    def _edge(self, wing: Wing) -> Edge | None:
        wing_id, _, edge_id = self._selection.id.partition("/")
        if self._selection.kind != "edge" or wing_id != wing.id:
            return None
        index = edge_index(wing, edge_id)
        return None if index is None else wing.edges[index]

    def _choose(self, edge_id: object) -> None:
        self._selection.select(f"edge:{self.wing_id}/{edge_id}" if edge_id else f"wing:{self.wing_id}")

    def _set_kind(self, kind: object) -> None:
        edge_id = str(self.side.value)
        try:
            set_kind(self.document, self.wing_id, edge_id, cast("OutlineKind", kind))
        except BadInput as error:
            self.again()
            self.kind.show_error(str(error))

    def _setter(self, field: OwnSlope | OwnLength, name: str) -> Callable[..., None]:
        def take(value: float | None = None) -> None:
            edge_id = str(self.side.value)
            own = in_12(value) if value is not None and name == "slope_in_12" else value
            values: dict[str, Any] = {name: own}
            text = f"Change {field.label.lower()}"
            self.edit(field, lambda job: set_edge(job, self.wing_id, edge_id, **values), text)

        return take


class CornerForm(_Form):
    """Where the selected corner is."""

    def __init__(self, document: Document, selection: Selection, parent: QWidget | None = None) -> None:
        super().__init__(document, parent)
        self._selection = selection
        units = document.plan.units
        self.right = LengthField(units, None, "Right", self)
        self.up = LengthField(units, None, "Up", self)
        self.add(self.right, self.up)
        self.right.committed.connect(lambda x: self._set(self.right, x, None))
        self.up.committed.connect(lambda y: self._set(self.up, None, y))

    def show_wing(self, wing: Wing) -> None:
        """Show the selected corner of a wing."""
        self.wing_id = wing.id
        index = self._index
        if not 0 <= index < len(wing.outline):
            return
        for field, value in zip((self.right, self.up), wing.outline[index], strict=True):
            field.set_units(self.document.plan.units)
            field.set_value(value)

    @property
    def _index(self) -> int:
        number = self._selection.id.rpartition("/")[2]
        return int(number) if self._selection.kind == "corner" and number.isdigit() else -1

    def _set(self, field: LengthField, x: float | None, y: float | None) -> None:
        index = self._index

        def change(job: Job) -> Job:
            old = job.wing(self.wing_id).outline[index]
            return move_corner(job, self.wing_id, index, (old[0] if x is None else x, old[1] if y is None else y))

        self.edit(field, change, "Move corner")


def in_12(m: float) -> float:
    """Inches of rise in 12, without the noise of the last bits."""
    return round(12.0 * m, 10)


def _emptied(field: Field) -> bool:
    """Whether the user left it empty."""
    return field.edit.isModified() and not field.edit.text().strip()


def _found_sentence(find: Unknown | None, *, landed: bool) -> str:
    if find is None:
        return ""
    if not landed:
        return "The landing has no solution as it stands; the findings say why, and the Slope stage changes it."
    what = "The slope" if find == "slope" else "One measure"
    return f"{what} is solved from its landing; the Slope stage and the section strip change it."
