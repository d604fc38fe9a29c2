"""Fields of a skylight or chimney: what it is, where it lies on its plane, its size."""

from __future__ import annotations

from PySide6.QtWidgets import QPushButton, QWidget

from workbench.bench.document import Document
from workbench.bench.fields import ChoiceField, LengthField
from workbench.bench.panel import note
from workbench.bench.selection import Selection
from workbench.bench.stages.form_base import Form
from workbench.bench.surface.tools.base import opening_of
from workbench.bench.surface.tools.opening import OPENING_WORDS
from workbench.job.edits import remove_opening, set_opening
from workbench.job.model import Opening, Wing


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
        self.add(self.kind, self.left, self.up, self.wide, self.long)
        self.place = note("", self)
        self.column.addWidget(self.place)
        self.remove = QPushButton("Close opening", self)
        self.remove.clicked.connect(self._remove)
        self.column.addWidget(self.remove)
        self.kind.committed.connect(lambda kind: self._set(self.kind, "kind", kind))
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
        self.place.setText(self._sentence(opening))

    def _sentence(self, opening: Opening) -> str:
        plane = next((plane for plane in self.document.plan.roof.planes if plane.whole == opening.plane), None)
        if plane is None:
            return "Its plane is not there now; it waits in the job."
        return f"On {plane.name}, measured from the plane's left end as seen from outside, and up from its lowest line."

    def _set(self, field: LengthField | ChoiceField, name: str, value: object) -> None:
        opening_id = self._selection.id
        self.edit(field, lambda job: set_opening(job, opening_id, **{name: value}), "Change opening")

    def _remove(self) -> None:
        opening = opening_of(self.document.job, self._selection.key)
        if opening is not None:
            self.document.apply(remove_opening(self.document.job, opening.id), f"Remove {opening.kind}")
            self._selection.select("")
