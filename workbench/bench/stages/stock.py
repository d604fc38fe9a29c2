"""The stock a wing is framed with: rafter, layout, ridge board, hips and valleys, as fields."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

from PySide6.QtWidgets import QLabel, QVBoxLayout, QWidget

from workbench.bench.document import Document
from workbench.bench.fields import ChoiceField, LengthField, add_row, new_form
from workbench.bench.panel import note
from workbench.bench.selected import selected_plane
from workbench.bench.selection import Selection
from workbench.bench.stages.form_base import OwnLength
from workbench.errors import BadInput
from workbench.job import edits
from workbench.job.model import Job, Wing

_Change = Callable[..., Job]


class StockForm(QWidget):
    """Fields of the selected plane's wing; every one is an undo step of its own."""

    def __init__(self, document: Document, selection: Selection, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._document = document
        self._selection = selection
        units = document.plan.units
        self.rafter_depth = LengthField(units, None, "Rafter depth", self)
        self.rafter_thickness = LengthField(units, None, "Rafter thickness", self)
        self.spacing = LengthField(units, None, "Spacing on centre", self)
        self.start = ChoiceField(
            (("left", "from the left end"), ("right", "from the right end")), "left", "Layout", self
        )
        self.tail = ChoiceField(
            (("plumb", "plumb"), ("square", "square"), ("level", "level")), "plumb", "Tail cut", self
        )
        self.ridge = LengthField(units, None, "Ridge thickness", self)
        self.ridge_depth = OwnLength(units, None, "Ridge depth", self)
        self.ridge_depth.edit.setPlaceholderText("as deep as the cut rafter")
        self.hip_top = ChoiceField(
            (("dropped", "dropped, edges in the planes"), ("backed", "backed, bevelled to both planes")),
            "dropped",
            "Hip top",
            self,
        )
        self.hip_head = ChoiceField(
            (("commons", "between the commons"), ("ridge", "against the ridge")), "commons", "Hip head", self
        )
        self.hip = LengthField(units, None, "Hip, valley thickness", self)
        self.hip_depth = OwnLength(units, None, "Hip, valley depth", self)
        self.hip_depth.edit.setPlaceholderText("as deep as needed")
        self._hips = (self.hip_top, self.hip_head, self.hip, self.hip_depth)
        self._lengths = (
            self.rafter_depth,
            self.rafter_thickness,
            self.spacing,
            self.ridge,
            self.ridge_depth,
            self.hip,
            self.hip_depth,
        )
        self._title = note("", self)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(8)
        column.addWidget(self._title)
        self._form = form = new_form()
        self._labels: list[QLabel] = [
            add_row(form, field)
            for field in (
                self.rafter_depth,
                self.rafter_thickness,
                self.spacing,
                self.start,
                self.tail,
                self.ridge,
                self.ridge_depth,
                *self._hips,
            )
        ]
        for label in self._labels:
            label.setWordWrap(True)
        column.addLayout(form)
        self._connect()

    def refresh(self) -> None:
        """Show the wing of the selected plane."""
        wing = self._wing()
        self.setEnabled(wing is not None)
        for field in self._lengths:
            field.set_units(self._document.plan.units)
        if wing is None:
            self._title.setText("Draw a roof first.")
            return
        self._title.setText(f"Of {wing.name}, for all its planes.")
        self.rafter_depth.set_value(wing.rafter.depth_in)
        self.rafter_thickness.set_value(wing.rafter.thickness_in)
        self.spacing.set_value(wing.rafter.spacing_in)
        self.start.set_value(wing.rafter.start)
        self.tail.set_value(wing.rafter.tail)
        self.ridge.set_value(wing.ridge.thickness_in)
        self.ridge_depth.set_value(wing.ridge.depth_in)
        self.hip_top.set_value(wing.hips.top)
        self.hip_head.set_value(wing.hips.head)
        self.hip.set_value(wing.hips.thickness_in)
        self.hip_depth.set_value(wing.hips.depth_in)
        self._show_hips(wing)

    def _show_hips(self, wing: Wing) -> None:
        """Hip settings where the wing has a hip or a valley."""
        planes = (plane for plane in self._document.plan.roof.planes if plane.wing == wing.id)
        shown = any(edge.kind in ("hip", "valley") for plane in planes for edge in plane.all_edges)
        for field in self._hips:
            if self._form.isRowVisible(field) != shown:
                self._form.setRowVisible(field, shown)

    def _connect(self) -> None:
        rafter, ridge, hips = edits.set_rafter, edits.set_ridge, edits.set_hips
        for field, change, name, words in (
            (self.rafter_depth, rafter, "depth_in", "rafter depth"),
            (self.rafter_thickness, rafter, "thickness_in", "rafter thickness"),
            (self.spacing, rafter, "spacing_in", "rafter spacing"),
            (self.start, rafter, "start", "end of the layout"),
            (self.tail, rafter, "tail", "tail cut"),
            (self.ridge, ridge, "thickness_in", "ridge thickness"),
            (self.ridge_depth, ridge, "depth_in", "ridge depth"),
            (self.hip_top, hips, "top", "hip top"),
            (self.hip_head, hips, "head", "hip head"),
            (self.hip, hips, "thickness_in", "hip thickness"),
            (self.hip_depth, hips, "depth_in", "hip depth"),
        ):
            field.committed.connect(self._setter(field, change, name, words))
            if isinstance(field, OwnLength):
                field.cleared.connect(self._setter(field, change, name, words))

    def _setter(self, field: LengthField | ChoiceField, change: _Change, name: str, words: str) -> Callable[..., None]:
        def take(value: object = None) -> None:
            self._apply(field, change, f"Change {words}", {name: value})

        return take

    def _apply(self, field: LengthField | ChoiceField, change: _Change, text: str, fields: dict[str, Any]) -> None:
        wing = self._wing()
        if wing is None:
            return
        try:
            self._document.apply(change(self._document.job, wing.id, **fields), text)
        except BadInput as error:
            field.show_error(str(error))

    def _wing(self) -> Wing | None:
        plane = selected_plane(self._document.plan, self._selection)
        wings = self._document.plan.job.wings
        return next((wing for wing in wings if plane is not None and wing.id == plane.wing), None)
