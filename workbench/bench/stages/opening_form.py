"""Fields of a skylight or chimney: what it is, where it lies on its plane, its size."""

from __future__ import annotations

from PySide6.QtWidgets import QPushButton, QWidget

from workbench.bench.document import Document
from workbench.bench.fields import ChoiceField, LengthField
from workbench.bench.panel import note
from workbench.bench.selection import Selection
from workbench.bench.stages.form_base import Form, OwnSlope, in_12
from workbench.bench.surface.tools.base import opening_of
from workbench.bench.surface.tools.opening import OPENING_WORDS
from workbench.job.crickets import Cricket
from workbench.job.edits import remove_opening, set_opening
from workbench.job.model import Opening, Wing

_CRICKETS = ((False, "none"), (True, "over its whole width"))


class OpeningForm(Form):
    """The selected opening."""

    def __init__(self, document: Document, selection: Selection, parent: QWidget | None = None) -> None:
        super().__init__(document, parent)
        self._selection = selection
        units = document.plan.units
        self.kind = ChoiceField(OPENING_WORDS, "skylight", "It is a", self)
        self.left = LengthField(units, None, "From the left end", self)
        self.up = LengthField(units, None, "Up the slope", self)
        self.wide = LengthField(units, None, "Width", self)
        self.long = LengthField(units, None, "Length", self)
        self.cricket = ChoiceField(_CRICKETS, False, "Cricket behind it", self)
        self.cricket_slope = OwnSlope(units, None, "Slope of the cricket", self)
        self.cricket_slope.edit.setPlaceholderText("as the plane")
        self.add(self.kind, self.left, self.up, self.wide, self.long, self.cricket, self.cricket_slope)
        self.place = note("", self)
        self.column.addWidget(self.place)
        self.remove = QPushButton("Close opening", self)
        self.remove.clicked.connect(self._remove)
        self.column.addWidget(self.remove)
        self.kind.committed.connect(lambda kind: self._set(self.kind, "kind", kind))
        self.cricket.committed.connect(lambda on: self._set(self.cricket, "cricket", Cricket() if on else None))
        self.cricket_slope.committed.connect(lambda m: self._set_slope(in_12(m)))
        self.cricket_slope.cleared.connect(lambda: self._set_slope(None))
        self._lengths = ((self.left, "x_in"), (self.up, "y_in"), (self.wide, "width_in"), (self.long, "length_in"))
        for field, name in self._lengths:
            field.committed.connect(lambda x, field=field, name=name: self._set(field, name, x))

    def show_wing(self, wing: Wing) -> None:
        """Show the selected opening, on whichever plane of a wing it lies."""
        self.wing_id = wing.id
        opening = opening_of(self.document.plan.job, self._selection.key)
        if opening is None:
            return
        self.kind.set_value(opening.kind)
        for field, name in self._lengths:
            field.set_units(self.document.plan.units)
            field.set_value(getattr(opening, name))
        self.cricket.set_value(opening.cricket is not None)
        self.show_row(self.cricket, opening.kind == "chimney")
        self.show_row(self.cricket_slope, opening.cricket is not None)
        slope = None if opening.cricket is None else opening.cricket.slope_in_12
        self.cricket_slope.set_value(None if slope is None else slope / 12.0)
        self.place.setText(self._sentence(opening))

    def _sentence(self, opening: Opening) -> str:
        plane = next((plane for plane in self.document.plan.roof.planes if plane.whole == opening.plane), None)
        if plane is None:
            return "Its plane is not there now; it waits in the job."
        return f"On {plane.name}, measured from the plane's left end as seen from outside, and up from its lowest line."

    def _set_slope(self, slope_in_12: float | None) -> None:
        self._set(self.cricket_slope, "cricket", Cricket(slope_in_12=slope_in_12))

    def _set(self, field: LengthField | OwnSlope | ChoiceField, name: str, value: object) -> None:
        opening_id = self._selection.id
        self.edit(field, lambda job: set_opening(job, opening_id, **{name: value}), "Change opening")

    def _remove(self) -> None:
        opening = opening_of(self.document.job, self._selection.key)
        if opening is not None:
            self.document.apply(remove_opening(self.document.job, opening.id), f"Remove {opening.kind}")
            self._selection.select("")
