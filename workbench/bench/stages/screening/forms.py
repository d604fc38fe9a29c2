"""Fields of loads and limits; every change is one undo step, an emptied field is "not given" again."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

from PySide6.QtWidgets import QWidget

from workbench.bench.document import Document
from workbench.bench.fields import ChoiceField, Field, LengthField, NumberField, TextField, typed_lengths
from workbench.bench.stages.form_base import Form, OwnLength, OwnNumber
from workbench.job.model import Job, Wing
from workbench.job.screening import Screening, Snow
from workbench.job.screening_edits import set_screening, set_snow, set_wing_limits
from workbench.rules.coverings import coverings
from workbench.rules.snow import snow_rules

YES_NO = ((False, "no"), (True, "yes"))
TIED_CHOICES = (
    ("not_said", "not said yet"),
    ("ceiling_joists", "ceiling joists"),
    ("rafter_ties", "rafter ties"),
    ("ridge_beam", "nothing: a ridge beam carries"),
    ("engineer", "as the engineer says"),
)
EXPOSURE_CHOICES = (
    ("fully", "fully exposed"),
    ("partially", "partially exposed"),
    ("sheltered", "sheltered"),
)
TERRAIN_CHOICES = (
    ("B", "B: woods, suburbs"),
    ("C", "C: open country"),
    ("D", "D: flat, open shore"),
)
RISK_CHOICES = ((1, "I"), (2, "II"), (3, "III"), (4, "IV"))
_AS_JOB = (None, "as the job")


class SettingsForm(Form):
    """Fields bound to the fields of one value of the job."""

    def __init__(self, document: Document, parent: QWidget | None = None) -> None:
        super().__init__(document, parent)
        self._bound: list[tuple[Field | ChoiceField, str]] = []

    def value_of(self, job: Job) -> object:
        """The value whose fields are shown."""
        raise NotImplementedError

    def changed(self, job: Job, fields: dict[str, Any]) -> Job:
        """The job with other fields of it."""
        raise NotImplementedError

    def bind(self, field: Field | ChoiceField, name: str, empty: str = "") -> None:
        """Let a field show and change one; ``empty`` says what holds where nothing is given."""
        self.add(field)
        self._bound.append((field, name))
        field.committed.connect(self._setter(field, name))
        if isinstance(field, OwnLength | OwnNumber):
            field.edit.setPlaceholderText(empty)
            field.cleared.connect(self._setter(field, name))

    def field(self, name: str) -> Field | ChoiceField:
        """The field of a setting."""
        return next(field for field, known in self._bound if known == name)

    def show_settings(self) -> None:
        """Show the plan's."""
        value = self.value_of(self.document.plan.job)
        for field, name in self._bound:
            if isinstance(field, LengthField):
                field.set_units(self.document.plan.units)
            field.set_value(getattr(value, name))

    def again(self) -> None:
        """Show the job's values again."""
        self.show_settings()

    def _setter(self, field: Field | ChoiceField, name: str) -> Callable[..., None]:
        def take(value: object = None) -> None:
            fields = {name: value}
            self.edit(field, lambda job: self.changed(job, fields), f"Change {field.label.lower()}")

        return take


class LoadsForm(SettingsForm):
    """Loads of the place, and limits of the job."""

    def __init__(self, document: Document, parent: QWidget | None = None) -> None:
        super().__init__(document, parent)
        units = document.plan.units
        self.bind(OwnNumber(None, "Roof live load", self, least=0.0, unit="psf"), "live_psf", "not given")
        self.bind(OwnNumber(None, "Dead load, along the slope", self, least=0.0, unit="psf"), "dead_psf", "not given")
        kinds = tuple((kind.id, kind.name) for kind in coverings())
        self.bind(ChoiceField(kinds, None, "Covering", self), "covering")
        self.bind(LengthField(units, None, "Thickness of it", self), "covering_in")
        self.bind(ChoiceField(YES_NO, None, "Ceiling on the rafters", self), "ceiling_attached")
        self.bind(
            OwnNumber(None, "Sag limit, L over", self, least=60.0, decimals=0), "deflection", "180; with ceiling 240"
        )
        self.bind(ChoiceField(TIED_CHOICES, None, "Plates are tied by", self), "tied_by")
        self.bind(OwnLength(units, None, "Roof no higher than", self), "ridge_limit_in", "no limit given")

    def value_of(self, job: Job) -> Screening:
        """Loads and limits."""
        return job.screening

    def changed(self, job: Job, fields: dict[str, Any]) -> Job:
        """Other loads and limits."""
        return set_screening(job, **fields)


class SnowForm(SettingsForm):
    """Snow on the ground, and what turns it into snow on the roof; the factors only where there is snow."""

    def __init__(self, document: Document, parent: QWidget | None = None) -> None:
        super().__init__(document, parent)
        self.ground = OwnNumber(None, "Snow on the ground", self, least=0.0, unit="psf")
        self.ground.edit.setPlaceholderText("not given")
        self.add(self.ground)
        self.ground.committed.connect(self._give)
        self.ground.cleared.connect(self._take_away)
        editions = tuple((edition.id, edition.name) for edition in snow_rules().editions)
        self.bind(ChoiceField(editions, None, "From the map of", self), "edition")
        self.bind(ChoiceField(TERRAIN_CHOICES, None, "Terrain", self), "terrain")
        self.bind(ChoiceField(EXPOSURE_CHOICES, None, "The roof is", self), "exposure")
        self.bind(OwnNumber(None, "Exposure factor Ce", self, least=0.7), "ce", "from the two above")
        thermal = NumberField(None, "Thermal factor Ct", self, least=0.8)
        thermal.setToolTip("1.0 heated; 1.1 cold and ventilated, 1.2 from ASCE 7-22 on; 1.2 unheated; 1.3 freezer")
        self.bind(thermal, "ct")
        self.bind(NumberField(None, "Importance factor Is", self, least=0.5), "importance")
        self.bind(ChoiceField(RISK_CHOICES, None, "Risk category", self), "risk")
        slippery = ChoiceField(YES_NO, None, "Slippery, and snow slides off", self)
        slippery.setToolTip("Metal, glass, slate with nothing in the way. Shingles with granules are not slippery.")
        self.bind(slippery, "slippery")

    def value_of(self, job: Job) -> Snow:
        """The snow, or what it would start from."""
        return job.screening.snow or Snow(ground_psf=0.0)

    def changed(self, job: Job, fields: dict[str, Any]) -> Job:
        """Other factors."""
        return set_snow(job, **fields)

    def show_settings(self) -> None:
        """Show the plan's; factors only where snow is given."""
        super().show_settings()
        snow = self.document.plan.job.screening.snow
        self.ground.set_value(None if snow is None else snow.ground_psf)
        for field, name in self._bound:
            has_factor = name != "importance" or snow is None or snow.edition == "7-16"
            self.show_row(field, shown=snow is not None and has_factor)

    def _give(self, value: float) -> None:
        self.edit(self.ground, lambda job: set_snow(job, ground_psf=value), "Change snow on the ground")

    def _take_away(self) -> None:
        self.edit(self.ground, lambda job: set_screening(job, snow=None), "Take snow away")


class WingLimitsForm(SettingsForm):
    """What differs in the wing in hand."""

    def __init__(self, document: Document, parent: QWidget | None = None) -> None:
        super().__init__(document, parent)
        ceiling = ((None, _AS_JOB[1]), *YES_NO)
        self.bind(ChoiceField(ceiling, None, "Ceiling on its rafters", self), "ceiling_attached")
        self.bind(ChoiceField((_AS_JOB, *TIED_CHOICES), None, "Its plates are tied by", self), "tied_by")
        self.bind(OwnNumber(None, "Its sag limit, L over", self, least=60.0, decimals=0), "deflection", _AS_JOB[1])
        dead = OwnNumber(None, "Its dead load, along the slope", self, least=0.0, unit="psf")
        self.bind(dead, "dead_psf", _AS_JOB[1])
        self.supports = TextField("", "Purlins, beams, walls under them", self, longest=200)
        self.supports.edit.setPlaceholderText("in from the building line, such as 6' 6\"")
        self.supports.setToolTip("Level distances in from the building line, with ; between them")
        self.add(self.supports)
        self.supports.committed.connect(self._support)

    def show_settings(self) -> None:
        """Show what differs in the wing."""
        super().show_settings()
        units = self.document.plan.units
        given = self.document.plan.job.screening.of_wing(self.wing_id or "-").supports_in
        self.supports.set_value("; ".join(units.length(x) for x in given))

    def _support(self, text: str) -> None:
        def change(job: Job) -> Job:
            places = typed_lengths(text, self.document.plan.units, "Supports")
            return set_wing_limits(job, self.wing_id, supports_in=places)

        self.edit(self.supports, change, "Change what carries the rafters")

    def show_wing(self, wing: Wing) -> None:
        """Show what differs in a wing."""
        self.wing_id = wing.id
        self.show_settings()

    def value_of(self, job: Job) -> object:
        """What differs in the wing."""
        return job.screening.of_wing(self.wing_id or "-")

    def changed(self, job: Job, fields: dict[str, Any]) -> Job:
        """Other limits of the wing."""
        return set_wing_limits(job, self.wing_id, **fields)
