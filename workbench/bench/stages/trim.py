"""What goes round and between the rafters of a wing, as fields: fascia, lookouts, blocks, ties."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

from msgspec.structs import replace
from PySide6.QtWidgets import QWidget

from workbench.bench.document import Document
from workbench.bench.fields import ChoiceField, Field, LengthField, NumberField, TextField, typed_lengths
from workbench.bench.stages.form_base import Form, OwnLength
from workbench.job.edits import set_trim
from workbench.job.model import Job, Tie, Trim, Wing

_LOOKOUTS = (
    ("ladder", "ladder from the end rafter"),
    ("back", "back over it to the next rafter"),
    ("none", "none"),
)
_BLOCKS = (("none", "none"), ("solid", "solid"), ("vented", "with vent holes"))
_NUMBERS = ["second", "third", "fourth", "fifth", "sixth", "seventh", "eighth", "ninth", "tenth", "eleventh", "twelfth"]
_EVERY = ((1, "every pair"), *((n, f"every {word} pair") for n, word in enumerate(_NUMBERS, start=2)))
_FITTED = ((False, "none"), (True, "fitted"))


class TrimForm(Form):
    """Fascia, lookouts, blocks."""

    def __init__(self, document: Document, parent: QWidget | None = None) -> None:
        super().__init__(document, parent)
        units = document.plan.units
        self.fascia = LengthField(units, None, "Fascia thickness", self)
        self.fascia_depth = OwnLength(units, None, "Fascia depth", self)
        self.fascia_depth.edit.setPlaceholderText("as deep as the tail")
        self.sub_fascia = LengthField(units, None, "Sub-fascia thickness", self)
        self.lookouts = ChoiceField(_LOOKOUTS, None, "Lookouts", self)
        self.lookout_spacing = LengthField(units, None, "Lookout spacing", self)
        self.eave_blocks = ChoiceField(_BLOCKS, None, "Blocks over the plate", self)
        self.ridge_blocks = ChoiceField(_BLOCKS, None, "Blocks at the ridge", self)
        self.rows = TextField("", "Rows of blocks", self, longest=400)
        self.rows.edit.setPlaceholderText("up the slope, such as 4'; 8'")
        self.rows.setToolTip("Distances up the slope from the eave edge, with ; between them")
        self._bound: tuple[tuple[Field | ChoiceField, str], ...] = (
            (self.fascia, "fascia_in"),
            (self.fascia_depth, "fascia_depth_in"),
            (self.sub_fascia, "sub_fascia_in"),
            (self.lookouts, "lookouts"),
            (self.lookout_spacing, "lookout_spacing_in"),
            (self.eave_blocks, "eave_blocks"),
            (self.ridge_blocks, "ridge_blocks"),
        )
        for field, name in self._bound:
            self.add(field)
            field.committed.connect(self._setter(field, name))
        self.fascia_depth.cleared.connect(self._setter(self.fascia_depth, "fascia_depth_in"))
        self.add(self.rows)
        self.rows.committed.connect(self._set_rows)

    def show_wing(self, wing: Wing) -> None:
        """Show a wing's."""
        self.wing_id = wing.id
        units = self.document.plan.units
        for field, name in self._bound:
            if isinstance(field, LengthField):
                field.set_units(units)
            field.set_value(getattr(wing.trim, name))
        self.rows.set_value("; ".join(units.length(row) for row in wing.trim.block_rows_in))
        self.show_row(self.fascia_depth, wing.trim.fascia_in > 0.0)
        self.show_row(self.lookout_spacing, wing.trim.lookouts != "none")

    def _setter(self, field: Field | ChoiceField, name: str) -> Callable[..., None]:
        def take(value: object = None) -> None:
            fields: dict[str, Any] = {name: value}
            self.edit(field, lambda job: set_trim(job, self.wing_id, **fields), f"Change {field.label.lower()}")

        return take

    def _set_rows(self, text: str) -> None:
        def change(job: Job) -> Job:
            rows = typed_lengths(text, self.document.plan.units, self.rows.label)
            return set_trim(job, self.wing_id, block_rows_in=tuple(sorted(rows)))

        self.edit(self.rows, change, "Change rows of blocks")


class TieForm(Form):
    """Collar ties or rafter ties: whether there are any, where they lie, and what they are cut from."""

    def __init__(self, document: Document, name: str, words: str, first: Tie, parent: QWidget | None = None) -> None:
        super().__init__(document, parent)
        self._name = name
        self._words = words
        self._first = first
        units = document.plan.units
        self.fitted = ChoiceField(_FITTED, None, words, self)
        self.share = NumberField(None, "Lower edge at", self, least=0.0, decimals=1, unit="% of the height")
        self.every = ChoiceField(_EVERY, None, "On", self)
        self.thickness = LengthField(units, None, "Thickness", self)
        self.depth = LengthField(units, None, "Depth", self)
        self.add(self.fitted, self.share, self.every, self.thickness, self.depth)
        self.fitted.committed.connect(self._fit)
        self.share.committed.connect(lambda value: self._set(self.share, share=value / 100.0))
        self.every.committed.connect(lambda value: self._set(self.every, every=value))
        self.thickness.committed.connect(lambda value: self._set(self.thickness, thickness_in=value))
        self.depth.committed.connect(lambda value: self._set(self.depth, depth_in=value))

    def show_wing(self, wing: Wing) -> None:
        """Show a wing's."""
        self.wing_id = wing.id
        tie = self._tie(wing.trim)
        self.fitted.set_value(tie is not None)
        for field in (self.share, self.every, self.thickness, self.depth):
            self.show_row(field, tie is not None)
        if tie is None:
            return
        for field in (self.thickness, self.depth):
            field.set_units(self.document.plan.units)
        self.share.set_value(100.0 * tie.share)
        self.every.set_value(tie.every)
        self.thickness.set_value(tie.thickness_in)
        self.depth.set_value(tie.depth_in)

    def _tie(self, trim: Trim) -> Tie | None:
        return getattr(trim, self._name)

    def _fit(self, on: object) -> None:
        fields: dict[str, Any] = {self._name: self._first if on else None}
        text = f"{'Fit' if on else 'Leave out'} {self._words.lower()}"
        self.edit(self.fitted, lambda job: set_trim(job, self.wing_id, **fields), text)

    def _set(self, field: Field | ChoiceField, **changed: Any) -> None:
        def change(job: Job) -> Job:
            tie = self._tie(job.wing(self.wing_id).trim) or self._first
            fields: dict[str, Any] = {self._name: replace(tie, **changed)}
            return set_trim(job, self.wing_id, **fields)

        self.edit(field, change, f"Change {self._words.lower()}")


def tie_forms(document: Document, parent: QWidget | None = None) -> tuple[TieForm, TieForm]:
    """The forms of collar ties, in the upper third of the roof at first, and of rafter ties, in its lower third."""
    collar = TieForm(document, "collar_ties", "Collar ties", Tie(), parent)
    rafter = TieForm(document, "rafter_ties", "Rafter ties", Tie(share=0.0, thickness_in=1.5, depth_in=5.5), parent)
    return collar, rafter
