"""Forms of the safety page: rules and work, allowances, loads and heat; every change is one undo step."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

from PySide6.QtWidgets import QWidget

from workbench.bench.document import Document
from workbench.bench.fields import ChoiceField, Field, LengthField, NumberField, TextField, typed_lengths
from workbench.bench.stages.form_base import Form
from workbench.job.model import Job
from workbench.job.safety import OWN_RULES, UNNAMED_SOURCE, OwnRules, Safety
from workbench.job.safety_edits import set_safety
from workbench.measure import Units
from workbench.rules.fall_protection import rule_sets

STAGE_CHOICES = (("framed", "bare rafters"), ("sheathing", "sheets being laid"), ("sheathed", "sheathed"))
RESTRAIN_CHOICES = (("all", "every open edge"), ("eaves", "all but the rakes"))
PEOPLE_CHOICES = ((1, "one"), (2, "two, in two halves"))
_OWN_TRIGGERS = (
    ("steep_in", "Steep: from"),
    ("low_slope_in", "Not steep: from"),
    ("leading_edge_in", "Leading edge: from"),
    ("opening_in", "Opening: from"),
    ("walking_surface_in", "Deck: from"),
)
"""From which height on the job's own rules ask for protection."""


class SafetyForm(Form):
    """A form of the job's safety settings."""

    def __init__(self, document: Document, parent: QWidget | None = None) -> None:
        super().__init__(document, parent)
        self._shown: list[tuple[Field | ChoiceField, str]] = []

    def bind(self, field: Field | ChoiceField, name: str) -> None:
        """Let a field show and change a setting."""
        self.add(field)
        self._shown.append((field, name))
        field.committed.connect(self._setter(field, name))

    def show_settings(self, safety: Safety) -> None:
        """Show the settings."""
        for field, name in self._shown:
            if isinstance(field, LengthField):
                field.set_units(self.document.plan.units)
            field.set_value(getattr(safety, name))

    def again(self) -> None:
        """Show the job's settings again."""
        self.show_settings(self.document.job.safety)

    def _setter(self, field: Field | ChoiceField, name: str) -> Callable[[object], None]:
        def take(value: object) -> None:
            fields: dict[str, Any] = {name: value}
            self.edit(field, lambda job: set_safety(job, **fields), f"Change {field.label.lower()}")

        return take


class WorkForm(SafetyForm):
    """Rule set, stage of work, what ropes keep from, people; the job's own rules where they are chosen."""

    def __init__(self, document: Document, parent: QWidget | None = None) -> None:
        super().__init__(document, parent)
        units = document.plan.units
        sets = (*((rules.id, rules.name) for rules in rule_sets()), (OWN_RULES, "our own, with its source"))
        self.rules = ChoiceField(sets, None, "Rule set", self)
        self.add(self.rules)
        self.rules.committed.connect(self._choose_rules)
        self.own_name = TextField("", "Its name", self)
        self.own_source = TextField("", "Its source", self)
        self.add(self.own_name, self.own_source)
        self.own_name.committed.connect(lambda text: self._own(self.own_name, name=text))
        self.own_source.committed.connect(lambda text: self._own(self.own_source, source=text))
        self.own_steep = NumberField(None, "Steep is over", self, least=0.0, unit="in 12")
        self.add(self.own_steep)
        self.own_steep.committed.connect(lambda x: self._own(self.own_steep, steep_over_in_12=x))
        self.own_heights = {name: LengthField(units, None, label, self) for name, label in _OWN_TRIGGERS}
        for name, field in self.own_heights.items():
            self.add(field)
            field.committed.connect(lambda x, name=name, field=field: self._own(field, **{name: x}))
        self.stage = ChoiceField(STAGE_CHOICES, None, "Stage of work", self)
        self.bind(self.stage, "stage")
        self.laid = NumberField(None, "Rows laid", self, least=0.0, decimals=0, whole=True)
        self.add(self.laid)
        self.laid.committed.connect(self._lay)
        self.restrain = ChoiceField(RESTRAIN_CHOICES, None, "Ropes keep from", self)
        self.bind(self.restrain, "restrain")
        self.people = ChoiceField(PEOPLE_CHOICES, None, "People on the roof", self)
        self.bind(self.people, "people")
        self.floor = LengthField(units, None, "Floor below", self)
        self.bind(self.floor, "floor_in")

    def show_settings(self, safety: Safety) -> None:
        """Show the settings; rows laid only while sheets are laid, own rules only where they are used."""
        super().show_settings(safety)
        own = safety.own_rules
        self.rules.set_value(safety.rule_set)
        for field in (self.own_name, self.own_source, self.own_steep, *self.own_heights.values()):
            self.show_row(field, shown=safety.rule_set == OWN_RULES)
        self.own_name.set_value(own.name if own is not None else "")
        self.own_source.set_value(own.source if own is not None else "")
        self.own_steep.set_value(own.steep_over_in_12 if own is not None else None)
        for name, field in self.own_heights.items():
            field.set_units(self.document.plan.units)
            field.set_value(getattr(own, name) if own is not None else None)
        self.show_row(self.laid, shown=safety.stage == "sheathing")
        self.laid.set_value(float(safety.rows_laid))

    def _choose_rules(self, value: object) -> None:
        fields: dict[str, Any] = {"rule_set": value}
        if value == OWN_RULES and self.document.job.safety.own_rules is None:
            # There is no source yet; until it is named the rules are not used, and a finding says so.
            fields["own_rules"] = OwnRules(name="our own rules", source=UNNAMED_SOURCE)
        self.edit(self.rules, lambda job: set_safety(job, **fields), "Choose rule set")

    def _own(self, field: Field | TextField, **fields: Any) -> None:
        own = self.document.job.safety.own_rules
        if own is None:
            return
        given = {name: getattr(own, name) for name in own.__struct_fields__} | fields
        self.edit(field, lambda job: set_safety(job, own_rules=OwnRules(**given)), "Change own rules")

    def _lay(self, value: float) -> None:
        self.edit(self.laid, lambda job: set_safety(job, rows_laid=round(value)), "Change rows laid")


class AllowanceForm(SafetyForm):
    """What is taken off the distance to an edge, and the ropes that can be had."""

    def __init__(self, document: Document, parent: QWidget | None = None) -> None:
        super().__init__(document, parent)
        units = document.plan.units
        for label, name in (
            ("Reach, harness to foot", "reach_in"),
            ("Stretch", "stretch_in"),
            ("Grab travel", "grab_travel_in"),
            ("Anchor movement", "anchor_movement_in"),
            ("Connector and lanyard", "connector_in"),
            ("A hand works out", "work_reach_in"),
        ):
            self.bind(LengthField(units, None, label, self), name)
        self.ropes = TextField("", "Ropes to be had", self, longest=200)
        self.add(self.ropes)
        self.ropes.committed.connect(self._ropes)

    def show_settings(self, safety: Safety) -> None:
        """Show the settings."""
        super().show_settings(safety)
        self.ropes.set_value("; ".join(self.document.plan.units.length(length) for length in safety.ropes_in))

    def field(self, name: str) -> Field | ChoiceField:
        """The field of a setting."""
        return next(field for field, known in self._shown if known == name)

    def _ropes(self, text: str) -> None:
        def change(job: Job) -> Job:
            lengths = typed_lengths(text, self.document.plan.units, "Ropes")
            return set_safety(job, ropes_in=lengths)

        self.edit(self.ropes, change, "Change ropes")


class TemperatureField(NumberField):
    """A temperature kept in degrees Fahrenheit, shown and typed in the job's own degrees."""

    def __init__(self, units: Units, label: str, parent: QWidget | None = None) -> None:
        self._metric = units.system == "mm"
        super().__init__(None, label, parent, decimals=0, unit="°C" if self._metric else "°F")

    def read(self, text: str) -> float:
        """Degrees Fahrenheit."""
        value = super().read(text)
        return 1.8 * value + 32.0 if self._metric else value

    def shown(self, value: float) -> str:
        """In the job's own degrees."""
        return super().shown((value - 32.0) / 1.8 if self._metric else value)

    def set_units(self, units: Units) -> None:
        """Take other units."""
        if self._metric != (units.system == "mm"):
            self._metric = units.system == "mm"
            self.set_note("°C" if self._metric else "°F")
            self.restore()


class LoadForm(SafetyForm):
    """Stacks, lifting, the day's heat."""

    def __init__(self, document: Document, parent: QWidget | None = None) -> None:
        super().__init__(document, parent)
        units = document.plan.units
        self.stack = NumberField(None, "Sheets in a stack", self, least=1.0, decimals=0, whole=True)
        self.add(self.stack)
        self.stack.committed.connect(self._stack)
        self.bind(LengthField(units, None, "Hands out in front", self), "hold_in")
        self.bind(LengthField(units, None, "Lifted by", self), "lift_in")
        self.temperature = TemperatureField(units, "Temperature", self)
        self.bind(self.temperature, "temperature_f")
        self.bind(NumberField(None, "Humidity", self, least=0.0, decimals=0, unit="%"), "humidity")

    def show_settings(self, safety: Safety) -> None:
        """Show the settings."""
        self.temperature.set_units(self.document.plan.units)
        super().show_settings(safety)
        self.stack.set_value(float(safety.stack_sheets))

    def _stack(self, value: float) -> None:
        self.edit(self.stack, lambda job: set_safety(job, stack_sheets=round(value)), "Change stack")
