"""Fields of a wing and of a corner; every change is one undo step, every error stands at its field."""

from __future__ import annotations

from typing import Any

from PySide6.QtWidgets import QWidget

from workbench.bench.document import Document
from workbench.bench.fields import ChoiceField, Field, LengthField, SlopeField, TextField
from workbench.bench.panel import note
from workbench.bench.selection import Selection
from workbench.bench.stages.form_base import Form, in_12
from workbench.job.edits import move_corner, set_wing
from workbench.job.model import Job, Unknown, Wing

_FASCIA = (("level", "level fascia"), ("equal_overhang", "equal overhang"))
_CALLED = {
    "name": "name",
    "slope_in_12": "slope",
    "plate_in": "plate height",
    "eave_overhang_in": "eave overhang",
    "rake_overhang_in": "rake overhang",
    "fascia": "fascia",
    "joins": "how the roofs meet",
    "stands_on": "what it stands on",
}
_JOINS = (("framed", "framed in, roof below cut away"), ("overframed", "laid over the sheathed roof"))
_STANDS_ON = (("walls", "walls"), ("posts", "posts, open below"))


class WingForm(Form):
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
        self.joins = ChoiceField(_JOINS, "framed", "On other roofs", self)
        self.stands = ChoiceField(_STANDS_ON, "walls", "Stands on", self)
        self.add(self.name, self.slope, self.plate, self.eaves, self.rakes, self.fascia, self.joins, self.stands)
        self.found = note("", self)
        self.column.addWidget(self.found)
        self.name.committed.connect(lambda text: self._set(self.name, "name", text))
        self.slope.committed.connect(lambda m: self._set(self.slope, "slope_in_12", in_12(m)))
        self.plate.committed.connect(lambda x: self._set(self.plate, "plate_in", x))
        self.eaves.committed.connect(lambda x: self._set(self.eaves, "eave_overhang_in", x))
        self.rakes.committed.connect(lambda x: self._set(self.rakes, "rake_overhang_in", x))
        self.fascia.committed.connect(lambda value: self._set(self.fascia, "fascia", value))
        self.stands.committed.connect(lambda value: self._set(self.stands, "stands_on", value))
        self.joins.committed.connect(lambda value: self._set(self.joins, "joins", value))

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
        self.joins.set_value(wing.joins)
        self.stands.set_value(wing.stands_on)
        self.show_row(self.joins, len(self.document.plan.job.wings) > 1)
        # A plane drawn by hand is given by its own height: the plate and the fascia follow from it.
        self.show_row(self.plate, wing.single is None)
        self.show_row(self.fascia, wing.single is None)
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

    def _set(self, field: Field | TextField | ChoiceField, name: str, value: object) -> None:
        values: dict[str, Any] = {name: value}
        self.edit(field, lambda job: set_wing(job, self.wing_id, **values), f"Change {_CALLED[name]}")


class CornerForm(Form):
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


def _found_sentence(find: Unknown | None, *, landed: bool) -> str:
    if find is None:
        return ""
    if not landed:
        return "The landing has no solution as it stands; the findings say why, and the Slope stage changes it."
    what = "The slope" if find == "slope" else "One measure"
    return f"{what} is solved from its landing; the Slope stage and the section strip change it."
