"""What kind of sheets they are, how two halves come out of one, and how they are nailed, as fields."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

from msgspec.structs import replace
from PySide6.QtWidgets import QWidget

from workbench.bench.document import Document
from workbench.bench.fields import ChoiceField
from workbench.bench.panel import note
from workbench.bench.stages.form_base import Form, OwnLength, OwnNumber
from workbench.job.edits import set_job, set_sheathing
from workbench.job.model import Job
from workbench.rules.nailing import nailing_schedules

# Performance categories and span ratings of sheathing as graded under DOC PS 1 and PS 2 (from memory).
_THICKNESSES = ("3/8", "7/16", "15/32", "1/2", "19/32", "5/8", "23/32", "3/4", "7/8", "1", "1 1/8")
_RATINGS = ("16/0", "20/0", "24/0", "24/16", "32/16", "40/20", "48/24")
_HALVES = ((True, "two, the cut shared"), (False, "one and a narrower rest"))
_FACES = ((False, "one has to go up"), (True, "alike, turned as needed"))


class PanelKindForm(Form):
    """Thickness, span rating, halves, nailing schedule: of the whole job."""

    def __init__(self, document: Document, parent: QWidget | None = None) -> None:
        super().__init__(document, parent)
        self.thickness = ChoiceField((), None, "Thickness", self)
        self.rating = ChoiceField((), None, "Span rating", self)
        self.halves = ChoiceField(_HALVES, None, "Halves of a sheet", self)
        self.faces = ChoiceField(_FACES, None, "Faces of a sheet", self)
        schedules = tuple((schedule.id, schedule.name) for schedule in nailing_schedules())
        self.schedule = ChoiceField(schedules, None, "Nailing schedule", self)
        self.box = OwnNumber(None, "Nails in a box", self, least=1.0, decimals=0, whole=True)
        self.box.edit.setPlaceholderText("not counted in boxes")
        self.box.committed.connect(lambda count: self._box(round(count)))
        self.box.cleared.connect(lambda: self._box(None))
        units = document.plan.units
        self.zone = OwnLength(units, None, "Edge strip", self)
        self.zone_spacing = OwnLength(units, None, "Nails in the strip", self)
        for length, name, tip in (
            (self.zone, "zone_in", "Width of the strip along eaves, rakes and ridges that is nailed closer"),
            (self.zone_spacing, "zone_spacing_in", "Spacing of the nails in that strip, at most"),
        ):
            length.edit.setPlaceholderText("as the schedule says")
            length.setToolTip(tip)
            length.committed.connect(self._fastening(length, name))
            length.cleared.connect(self._fastening(length, name))
        self.add(
            self.thickness, self.rating, self.halves, self.faces, self.schedule, self.zone, self.zone_spacing, self.box
        )
        self.nailing = note("", self)
        self.column.addWidget(self.nailing)
        self.thickness.committed.connect(self._sheathing(self.thickness, "thickness"))
        self.rating.committed.connect(self._sheathing(self.rating, "span_rating"))
        self.halves.committed.connect(self._sheathing(self.halves, "halves_nominal"))
        self.faces.committed.connect(self._sheathing(self.faces, "mirrored"))
        self.schedule.committed.connect(self._choose_schedule)

    def show_job(self, job: Job) -> None:
        """Show a job's; a kind that is not in the list stands in it as the job has it."""
        sheathing = job.sheathing
        self.thickness.set_choices(_with_own(_THICKNESSES, sheathing.thickness))
        self.thickness.set_value(sheathing.thickness)
        self.rating.set_choices(_with_own(_RATINGS, sheathing.span_rating))
        self.rating.set_value(sheathing.span_rating)
        self.halves.set_value(sheathing.halves_nominal)
        self.faces.set_value(sheathing.mirrored)
        self.schedule.set_value(job.fastening.schedule)
        for length, value in (
            (self.zone, job.fastening.zone_in),
            (self.zone_spacing, job.fastening.zone_spacing_in),
        ):
            length.set_units(self.document.plan.units)
            length.set_value(value)
        box = job.fastening.box_of
        self.box.set_value(float(box) if box is not None else None)
        found = next((each for each in nailing_schedules() if each.id == job.fastening.schedule), None)
        self.nailing.setText(f"{found.nail}. {found.note} Source: {found.source}" if found is not None else "")

    def again(self) -> None:
        """Show the job's own again."""
        self.show_job(self.document.job)

    def _sheathing(self, field: ChoiceField, name: str) -> Callable[[object], None]:
        def take(value: object) -> None:
            fields: dict[str, Any] = {name: value}
            self.edit(field, lambda job: set_sheathing(job, **fields), f"Change {field.label.lower()}")

        return take

    def _choose_schedule(self, value: object) -> None:
        def change(job: Job) -> Job:
            return set_job(job, fastening=replace(job.fastening, schedule=str(value)))

        self.edit(self.schedule, change, "Change nailing schedule")

    def _fastening(self, field: OwnLength, name: str) -> Callable[..., None]:
        def take(value: float | None = None) -> None:
            def change(job: Job) -> Job:
                fields: dict[str, Any] = {name: value}
                return set_job(job, fastening=replace(job.fastening, **fields))

            self.edit(field, change, f"Change {field.label.lower()}")

        return take

    def _box(self, count: int | None) -> None:
        def change(job: Job) -> Job:
            return set_job(job, fastening=replace(job.fastening, box_of=count))

        self.edit(self.box, change, "Change nails in a box")


def _with_own(known: tuple[str, ...], own: str) -> tuple[tuple[object, str], ...]:
    choices = tuple((each, each) for each in known)
    return choices if own in known or not own else (*choices, (own, f"{own}, as in the job"))
