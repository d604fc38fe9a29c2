"""Fields of the day on site: what props stand on, the end of the stick; gable walls of a wing."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

from PySide6.QtWidgets import QWidget

from workbench.bench.document import Document
from workbench.bench.fields import ChoiceField, Field, LengthField, NumberField
from workbench.bench.stages.form_base import Form, OwnLength
from workbench.job.as_built_edits import set_gable_walls, set_site
from workbench.job.edits import set_wing
from workbench.job.model import Wing
from workbench.job.site import Site

_ENDS = (("left", "from the left end"), ("right", "from the right end"))
_FITTED = ((False, "not of this job"), (True, "studs and sloped plates"))
_POCKET = ((False, "closed"), (True, "left open for the ridge"))


class SiteForm(Form):
    """What props stand on, and from which end the stick runs."""

    def __init__(self, document: Document, parent: QWidget | None = None) -> None:
        super().__init__(document, parent)
        self.deck = OwnLength(document.plan.units, None, "Props stand on a deck at", self)
        self.deck.edit.setPlaceholderText("on the plates")
        self.begin = ChoiceField(_ENDS, None, "Layout stick", self)
        self.add(self.deck, self.begin)
        self.deck.committed.connect(self._set_deck)
        self.deck.cleared.connect(self._set_deck)
        self.begin.committed.connect(
            lambda value: self.edit(self.begin, lambda job: set_site(job, stick_from=value), "Change end of the stick")
        )

    def show_site(self, site: Site) -> None:
        """Show the settings."""
        self.deck.set_units(self.document.plan.units)
        self.deck.set_value(site.deck_in)
        self.begin.set_value(site.stick_from)

    def again(self) -> None:
        """Show the job's settings again."""
        self.show_site(self.document.job.site)

    def _set_deck(self, value: float | None = None) -> None:
        self.edit(self.deck, lambda job: set_site(job, deck_in=value), "Change deck for the props")


class GableForm(Form):
    """Gable walls of a wing: whether they are of this job, and their studs, plates and openings."""

    def __init__(self, document: Document, parent: QWidget | None = None) -> None:
        super().__init__(document, parent)
        units = document.plan.units
        self.fitted = ChoiceField(_FITTED, None, "Gable walls", self)
        self.spacing = LengthField(units, None, "Stud spacing", self)
        self.start = ChoiceField(_ENDS, None, "Studs laid out", self)
        self.thickness = LengthField(units, None, "Stud thickness", self)
        self.depth = LengthField(units, None, "Stud depth", self)
        self.plates = NumberField(None, "Sloped plates", self, least=0.0, decimals=0, whole=True)
        self.drop = LengthField(units, None, "Under the rafters by", self)
        self.pocket = ChoiceField(_POCKET, None, "Wall at the ridge", self)
        self.vent_width = LengthField(units, None, "Vent width", self)
        self.vent_height = LengthField(units, None, "Vent height", self)
        self.vent_sill = LengthField(units, None, "Vent over the plate", self)
        self._bound: tuple[tuple[Field | ChoiceField, str], ...] = (
            (self.spacing, "spacing_in"),
            (self.start, "start"),
            (self.thickness, "thickness_in"),
            (self.depth, "depth_in"),
            (self.plates, "plates"),
            (self.drop, "drop_in"),
            (self.pocket, "ridge_pocket"),
            (self.vent_width, "vent_width_in"),
            (self.vent_height, "vent_height_in"),
            (self.vent_sill, "vent_sill_in"),
        )
        self.add(self.fitted)
        self.fitted.committed.connect(self._fit)
        for field, name in self._bound:
            self.add(field)
            field.committed.connect(self._setter(field, name))

    def show_wing(self, wing: Wing) -> None:
        """Show a wing's; the details only where there are walls."""
        self.wing_id = wing.id
        walls = wing.gable_walls
        self.fitted.set_value(walls is not None)
        for field, name in self._bound:
            if isinstance(field, LengthField):
                field.set_units(self.document.plan.units)
            field.set_value(None if walls is None else getattr(walls, name))
            self.show_row(field, walls is not None)
        vented = walls is not None and walls.vent_width_in > 0.0
        self.show_row(self.vent_height, vented)
        self.show_row(self.vent_sill, vented)

    def _fit(self, fitted: object) -> None:
        if fitted:
            self.edit(self.fitted, lambda job: set_gable_walls(job, self.wing_id), "Add gable walls")
        else:
            self.edit(self.fitted, lambda job: set_wing(job, self.wing_id, gable_walls=None), "Take gable walls away")

    def _setter(self, field: Field | ChoiceField, name: str) -> Callable[[object], None]:
        def take(value: object) -> None:
            given = int(value) if name == "plates" and isinstance(value, float) else value
            fields: dict[str, Any] = {name: given}
            self.edit(field, lambda job: set_gable_walls(job, self.wing_id, **fields), f"Change {field.label.lower()}")

        return take
