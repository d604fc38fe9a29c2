"""What a wing is framed with, where its layout is counted from, and of how many boards its members are made."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

from msgspec.structs import replace
from PySide6.QtWidgets import QWidget

from workbench.bench.document import Document
from workbench.bench.fields import ChoiceField, LengthField
from workbench.bench.stages.form_base import Form
from workbench.job.edits import set_hips, set_rafter, set_wing
from workbench.job.model import Job, Wing

_COUNTS = ((1, "one board"), (2, "two boards side by side"), (3, "three boards side by side"))
_BY_RULE = ((None, "by the width of the opening"), *_COUNTS)
_LOWER = (
    ("long_valley", "a long valley"),
    ("left", "the left valley, run on"),
    ("right", "the right valley, run on"),
    ("hung", "the main ridge: it is hung"),
    ("header", "a header (dormers)"),
)
_FRAMED = (("rafters", "rafters, cut here"), ("trusses", "trusses by others"))


class BuildUpForm(Form):
    """Rafters or trusses, offset of the layout, boards in one member."""

    def __init__(self, document: Document, parent: QWidget | None = None) -> None:
        super().__init__(document, parent)
        self.framed = ChoiceField(_FRAMED, "rafters", "Framed with", self)
        self.offset = LengthField(document.plan.units, None, "Layout offset", self)
        self.offset.setToolTip(
            "How far in from its end the spacings are counted; what brings whole sheets on to rafters is told as a note"
        )
        self.hip = ChoiceField(_COUNTS, 1, "A hip is", self)
        self.valley = ChoiceField(_COUNTS, 1, "A valley is", self)
        self.ridge = ChoiceField(_COUNTS, 1, "A ridge is", self)
        self.header = ChoiceField(_BY_RULE, None, "A header is", self)
        self.trimmer = ChoiceField(
            ((None, "as many as the header"), (1, "one rafter"), (2, "two rafters"), (3, "three rafters")),
            None,
            "Trimmers, each side",
            self,
        )
        self._plies = {
            "hip": self.hip,
            "valley": self.valley,
            "ridge": self.ridge,
            "header": self.header,
            "trimmer": self.trimmer,
        }
        self.lower = ChoiceField(_LOWER, "long_valley", "A lower ridge is carried by", self)
        self.purlin = LengthField(document.plan.units, None, "Purlin thickness", self)
        self.purlin.setToolTip("Boards on edge under pitch breaks; 0 where something else carries the rafters there")
        self.add(self.framed, self.offset, *self._plies.values(), self.lower, self.purlin)
        self.purlin.committed.connect(
            lambda value: self.edit(
                self.purlin, lambda job: set_wing(job, self.wing_id, purlin_in=value), "Change purlin thickness"
            )
        )
        self.lower.committed.connect(
            lambda value: self.edit(
                self.lower, lambda job: set_hips(job, self.wing_id, lower_ridge=value), "Change what carries the ridge"
            )
        )
        self.framed.committed.connect(
            lambda value: self.edit(
                self.framed, lambda job: set_wing(job, self.wing_id, framed_with=value), "Change what it is framed with"
            )
        )
        self.offset.committed.connect(
            lambda value: self.edit(
                self.offset, lambda job: set_rafter(job, self.wing_id, offset_in=value), "Change layout offset"
            )
        )
        for name, field in self._plies.items():
            field.committed.connect(self._setter(field, name))

    def show_wing(self, wing: Wing) -> None:
        """Show a wing's."""
        self.wing_id = wing.id
        for length in (self.offset, self.purlin):
            length.set_units(self.document.plan.units)
        self.purlin.set_value(wing.purlin_in)
        self.framed.set_value(wing.framed_with)
        self.offset.set_value(wing.rafter.offset_in)
        self.lower.set_value(wing.hips.lower_ridge)
        for name, field in self._plies.items():
            field.set_value(getattr(wing.plies, name))
        kinds = {
            edge.kind for plane in self.document.plan.roof.planes if plane.wing == wing.id for edge in plane.all_edges
        }
        cut = wing.framed_with == "rafters"
        opened = any(opening.plane.startswith(f"{wing.id}/") for opening in self.document.plan.job.openings)
        for field, shown in (
            (self.hip, "hip" in kinds),
            (self.valley, "valley" in kinds),
            (self.lower, "valley" in kinds),
            (self.purlin, "pitch_break" in kinds),
            (self.ridge, "ridge" in kinds),
            (self.header, opened),
            (self.trimmer, opened),
        ):
            self.show_row(field, cut and shown)

    def _setter(self, field: ChoiceField, name: str) -> Callable[[object], None]:
        def take(value: object) -> None:
            fields: dict[str, Any] = {name: value}

            def change(job: Job) -> Job:
                plies = replace(job.wing(self.wing_id).plies, **fields)
                return set_wing(job, self.wing_id, plies=plies)

            self.edit(field, change, f"Change boards of a {name}")

        return take
