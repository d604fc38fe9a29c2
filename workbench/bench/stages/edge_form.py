"""Fields of one edge: what it is, what differs on it from the wing, how its slope or gable goes on higher up."""

from __future__ import annotations

import math
from collections.abc import Callable
from typing import Any, cast

from PySide6.QtWidgets import QWidget

from workbench.bench.document import Document
from workbench.bench.fields import ChoiceField, LengthField, SlopeField
from workbench.bench.selection import Selection
from workbench.bench.stages.form_base import AS_THE_WING, Form, OwnLength, OwnSlope, in_12
from workbench.bench.surface.menu import set_kind
from workbench.bench.surface.tools.base import edge_index, side_of
from workbench.bench.surface.tools.kinds import KIND_WORDS
from workbench.bench.surface.words import side_name
from workbench.errors import BadInput
from workbench.job.edits import set_edge
from workbench.job.model import Edge, OutlineKind, Upper, Wing

_HIGHER_UP = (
    ("one", "the same slope"),
    ("second", "a second slope"),
    ("straight", "straight up: gable over hip"),
)
_GABLE = (("whole", "whole"), ("clipped", "clipped: half hip"))
_SHARE_UP = 0.5
"""Where a second slope or a clip begins at first, as a share of the roof's height over the plate."""


class EdgeForm(Form):
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
        self.higher = ChoiceField(_HIGHER_UP, "one", "Higher up", self)
        self.change_at = LengthField(units, None, "Changes at", self)
        self.change_at.set_note("over the plate")
        self.second = SlopeField(units, None, "Second slope", self)
        self.gable = ChoiceField(_GABLE, "whole", "Gable", self)
        self.clip_at = LengthField(units, None, "Wall ends at", self)
        self.clip_at.set_note("over the plate")
        self.add(self.side, self.kind, self.slope, self.plate, self.overhang)
        self.add(self.higher, self.change_at, self.second, self.gable, self.clip_at)
        self._measures = (self.slope, self.plate, self.overhang, self.change_at, self.second, self.clip_at)
        self._connect()

    def _connect(self) -> None:
        self.side.committed.connect(self._choose)
        self.kind.committed.connect(self._set_kind)
        own: tuple[tuple[OwnSlope | OwnLength, str], ...] = (
            (self.slope, "slope_in_12"),
            (self.plate, "plate_in"),
            (self.overhang, "overhang_in"),
        )
        for field, name in own:
            field.edit.setPlaceholderText(AS_THE_WING)
            field.cleared.connect(self._setter(field, name))
            field.committed.connect(self._setter(field, name))
        self.higher.committed.connect(self._set_higher)
        self.change_at.committed.connect(lambda x: self._set_upper(self.change_at, height_in=x))
        self.second.committed.connect(lambda m: self._set_upper(self.second, slope_in_12=in_12(m)))
        self.gable.committed.connect(self._set_gable)
        self.clip_at.committed.connect(lambda x: self._set(self.clip_at, "Change clipped gable", clip_height_in=x))

    def show_wing(self, wing: Wing) -> None:
        """Show the selected edge of a wing; the others can be chosen."""
        self.wing_id = wing.id
        edge = self._edge(wing)
        self.side.set_choices(self._choices(wing))
        self.side.set_value(edge.id if edge is not None else "")
        self.kind.set_value(edge.kind if edge is not None else None)
        self._show_rows(edge)
        if edge is None:
            return
        for field in self._measures:
            field.set_units(self.document.plan.units)
        self.slope.set_value(None if edge.slope_in_12 is None else edge.slope_in_12 / 12.0)
        self.plate.set_value(edge.plate_in)
        self.overhang.set_value(edge.overhang_in)
        self.higher.set_value(_higher_of(edge))
        upper = edge.upper
        self.change_at.set_value(None if upper is None else upper.height_in)
        self.second.set_value(None if upper is None or upper.slope_in_12 is None else upper.slope_in_12 / 12.0)
        self.gable.set_value("whole" if edge.clip_height_in is None else "clipped")
        self.clip_at.set_value(edge.clip_height_in)

    def _show_rows(self, edge: Edge | None) -> None:
        """What an edge of its kind has, and nothing else."""
        kind = edge.kind if edge is not None else ""
        upper = edge.upper if edge is not None else None
        clipped = edge is not None and edge.clip_height_in is not None
        self.show_row(self.kind, edge is not None)
        self.show_row(self.slope, kind == "eave" or clipped)
        self.show_row(self.plate, kind == "eave")
        self.show_row(self.overhang, kind in ("eave", "rake"))
        self.show_row(self.higher, kind == "eave")
        self.show_row(self.change_at, upper is not None)
        self.show_row(self.second, upper is not None and upper.slope_in_12 is not None)
        self.show_row(self.gable, kind == "rake")
        self.show_row(self.clip_at, clipped)

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

    def _set(self, field: Any, text: str, **values: object) -> None:
        edge_id = str(self.side.value)
        self.edit(field, lambda job: set_edge(job, self.wing_id, edge_id, **values), text)

    def _setter(self, field: OwnSlope | OwnLength, name: str) -> Callable[..., None]:
        def take(value: float | None = None) -> None:
            own = in_12(value) if value is not None and name == "slope_in_12" else value
            self._set(field, f"Change {field.label.lower()}", **{name: own})

        return take

    def _set_higher(self, choice: object) -> None:
        wing = self.document.job.wing(self.wing_id)
        edge = self._edge(wing)
        if edge is None:
            return
        height = edge.upper.height_in if edge.upper is not None else self._height_at(edge)
        slope = edge.slope_in_12 if edge.slope_in_12 is not None else wing.slope_in_12
        offers: dict[object, Upper | None] = {
            "one": None,
            "second": Upper(height_in=height, slope_in_12=slope * _SHARE_UP),
            "straight": Upper(height_in=height, slope_in_12=None),
        }
        self._set(self.higher, "Change what is higher up", upper=offers[choice])

    def _set_upper(self, field: LengthField | SlopeField, **values: float) -> None:
        edge = self._edge(self.document.job.wing(self.wing_id))
        if edge is None or edge.upper is None:
            return
        known = {"height_in": edge.upper.height_in, "slope_in_12": edge.upper.slope_in_12}
        self._set(field, f"Change {field.label.lower()}", upper=Upper(**{**known, **values}))

    def _set_gable(self, choice: object) -> None:
        edge = self._edge(self.document.job.wing(self.wing_id))
        if edge is not None:
            height = self._height_at(edge) if choice == "clipped" else None
            text = "Clip the gable" if choice == "clipped" else "Make the gable whole"
            self._set(self.gable, text, clip_height_in=height)

    def _height_at(self, edge: Edge) -> float:
        """Half way up the wing's roof, over its plate, to the inch."""
        wing = self.document.job.wing(self.wing_id)
        plate = edge.plate_in if edge.plate_in is not None else wing.plate_in
        tops = [z for plane in self.document.plan.roof.planes if plane.wing == wing.id for *_, z in plane.corners]
        return max(float(round(_SHARE_UP * (max(tops, default=plate) - plate))), 12.0)


def _higher_of(edge: Edge) -> str:
    if edge.upper is None:
        return "one"
    return "straight" if edge.upper.slope_in_12 is None else "second"
