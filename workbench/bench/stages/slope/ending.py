"""How the upper end bears, and the timber that goes with it."""

from __future__ import annotations

from collections.abc import Callable

from PySide6.QtWidgets import QLabel, QWidget

from workbench.bench.document import Document
from workbench.bench.fields import ChoiceField, LengthField, add_row, new_form
from workbench.bench.strip.boxes import show_in
from workbench.bench.strip.changes import with_high_end
from workbench.bench.strip.measures import Cut
from workbench.errors import BadInput
from workbench.job import edits
from workbench.job.model import HighEnd, Job
from workbench.measure import Units

END_WORDS: dict[HighEnd, str] = {
    "notched": "notched over the landing",
    "whole": "whole, on a bevelled block",
    "ridge": "against a ridge board",
    "face": "against a ledger or beam",
}


class UpperEnd(QWidget):
    """The way of landing and its measures."""

    def __init__(self, document: Document, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._document = document
        self._cut: Cut | None = None
        units = Units()
        self.way = ChoiceField(list(END_WORDS.items()), None, "Upper end")
        self.bearing = LengthField(units, None, "Bearing past its face")
        self.ridge = LengthField(units, None, "Ridge board, thick")
        self.depth = LengthField(units, None, "Rafter, deep")
        form = new_form()
        self._labels: dict[str, QLabel] = {
            "way": add_row(form, self.way),
            "bearing": add_row(form, self.bearing),
            "ridge": add_row(form, self.ridge),
            "depth": add_row(form, self.depth),
        }
        self.setLayout(form)
        self.way.committed.connect(self._choose)
        self.bearing.committed.connect(self._set_bearing)
        self.ridge.committed.connect(self._set_ridge)
        self.depth.committed.connect(self._set_depth)

    def show_cut(self, cut: Cut | None, units: Units) -> None:
        """Show the upper end of a section."""
        self._cut = cut
        self.setVisible(cut is not None)
        if cut is None:
            return
        landing, end = cut.wing.landing, cut.high_end
        if self.way.value != end:
            self.way.set_value(end)
        self.way.combo.setEnabled(cut.can_land and not cut.at_ridge)
        ridge = "Between two eaves the rafters meet at the ridge."
        self.way.combo.setToolTip(ridge if cut.at_ridge else "How the rafter bears at its upper end")
        self._show("bearing", self.bearing, landing is not None and end in ("notched", "whole"))
        self._show("ridge", self.ridge, end == "ridge")
        for field, value in (
            (self.bearing, landing.bearing_in if landing is not None else 0.0),
            (self.ridge, cut.wing.ridge.thickness_in),
            (self.depth, cut.wing.rafter.depth_in),
        ):
            show_in(field, value, units, read_only=False)

    def _show(self, name: str, field: LengthField, on: bool) -> None:
        self._labels[name].setVisible(on)
        field.setVisible(on)

    def _choose(self, end: HighEnd) -> None:
        cut = self._cut
        if cut is None:
            return
        try:
            self._document.apply(with_high_end(cut, end), "Change upper end")
        except BadInput as error:
            self.way.show_error(str(error))

    def _set_bearing(self, value: float) -> None:
        self._apply(self.bearing, "Change bearing", lambda job, wing: edits.set_landing(job, wing, bearing_in=value))

    def _set_ridge(self, value: float) -> None:
        self._apply(self.ridge, "Change ridge board", lambda job, wing: edits.set_ridge(job, wing, thickness_in=value))

    def _set_depth(self, value: float) -> None:
        self._apply(self.depth, "Change rafter depth", lambda job, wing: edits.set_rafter(job, wing, depth_in=value))

    def _apply(self, field: LengthField, text: str, change: Callable[[Job, str], Job]) -> None:
        cut = self._cut
        if cut is None:
            return
        try:
            self._document.apply(change(cut.job, cut.plane.wing), text)
        except BadInput as error:
            field.show_error(str(error))
