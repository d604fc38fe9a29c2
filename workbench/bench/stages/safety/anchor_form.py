"""The form of the selected anchor, and that of the selected edge: its ground, its deck or rail."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

from PySide6.QtWidgets import QCheckBox, QWidget

from workbench.bench.document import Document
from workbench.bench.fields import ChoiceField, Field, LengthField, TextField
from workbench.bench.selection import Selection
from workbench.bench.stages.form_base import Form, OwnLength
from workbench.bench.surface.tools.anchors import anchor_of
from workbench.job.model import Job
from workbench.job.safety import Anchor, Guard
from workbench.job.safety_edits import remove_guard, set_anchor, set_ground, set_guard, set_served_from

FROM_CHOICES = (
    ("framed", "bare rafters on"),
    ("sheathing", "while sheets are laid"),
    ("sheathed", "when sheathed"),
)
RATED_CHOICES = (("unknown", "not known"), ("restraint", "restraint only"), ("arrest", "arrest"))
PEOPLE_CHOICES = tuple((count, "1 person" if count == 1 else f"{count} people") for count in (1, 2, 3, 4))
GUARD_CHOICES = ((None, "none"), ("deck", "deck against it"), ("guardrail", "guardrail on it"))
SERVED_CHOICES = ((None, "not said yet"), ("ladder", "ladder"), ("scaffold", "scaffold"), ("deck", "guarded deck"))


class AnchorForm(Form):
    """Name, place, stage, rating, tied rope of the selected anchor."""

    def __init__(self, document: Document, selection: Selection, parent: QWidget | None = None) -> None:
        super().__init__(document, parent)
        self._selection = selection
        units = document.plan.units
        self.name = TextField("", "Name", self, longest=40)
        self.x = LengthField(units, None, "From the left end", self)
        self.y = OwnLength(units, None, "Up the slope", self)
        self.y.edit.setPlaceholderText("on the top edge")
        self.valid_from = ChoiceField(FROM_CHOICES, None, "Counts from", self)
        self.rated = ChoiceField(RATED_CHOICES, None, "Rated for", self)
        self.people = ChoiceField(PEOPLE_CHOICES, None, "Rated people", self)
        self.rope = OwnLength(units, None, "Rope tied to it", self)
        self.rope.edit.setPlaceholderText("set by the limit")
        self.add(self.name, self.x, self.y, self.valid_from, self.rated, self.people, self.rope)
        for field, key in (
            (self.name, "name"),
            (self.x, "x_in"),
            (self.y, "y_in"),
            (self.valid_from, "valid_from"),
            (self.rated, "rated"),
            (self.people, "people"),
            (self.rope, "rope_in"),
        ):
            field.committed.connect(self._setter(field, key))
        self.y.cleared.connect(self._setter(self.y, "y_in"))
        self.rope.cleared.connect(self._setter(self.rope, "rope_in"))

    @property
    def anchor(self) -> Anchor | None:
        """The selected anchor."""
        return anchor_of(self.document.plan.job, self._selection.key)

    def show_anchor(self, anchor: Anchor) -> None:
        """Show an anchor."""
        for field in (self.x, self.y, self.rope):
            field.set_units(self.document.plan.units)
        self.name.set_value(anchor.name)
        self.x.set_value(anchor.x_in)
        self.y.set_value(anchor.y_in)
        self.valid_from.set_value(anchor.valid_from)
        self.rated.set_value(anchor.rated)
        self.people.set_value(anchor.people)
        self.rope.set_value(anchor.rope_in)

    def again(self) -> None:
        """Show the anchor's values again."""
        anchor = self.anchor
        if anchor is not None:
            self.show_anchor(anchor)

    def _setter(self, field: Field | TextField | ChoiceField, name: str) -> Callable[..., None]:
        def take(value: object = None) -> None:
            anchor = self.anchor
            if anchor is not None:
                fields: dict[str, Any] = {name: value}
                text = f"Change {field.label.lower()} of anchor {anchor.id}"
                self.edit(field, lambda job: set_anchor(job, anchor.id, **fields), text)

        return take


class EdgeForm(Form):
    """Ground below the selected edge, the deck or rail along it, what serves its strip."""

    def __init__(self, document: Document, parent: QWidget | None = None) -> None:
        super().__init__(document, parent)
        self.edge = ""
        units = document.plan.units
        self.start = LengthField(units, None, "Ground at its left", self)
        self.end = LengthField(units, None, "Ground at its right", self)
        self.guard = ChoiceField(GUARD_CHOICES, None, "Deck or rail", self)
        self.drop = LengthField(units, None, "Drop on to it", self)
        self.served = ChoiceField(SERVED_CHOICES, None, "Strip served from", self)
        self.add(self.start, self.end, self.guard, self.drop)
        self.checks: dict[str, QCheckBox] = {}
        for name in ("guarded", "wide", "strong"):
            check = QCheckBox(self)
            check.clicked.connect(self._checker(name))
            self.checks[name] = check
            self.form.addRow("", check)
        self.add(self.served)
        self.start.committed.connect(lambda x: self._ground(self.start, start=x))
        self.end.committed.connect(lambda x: self._ground(self.end, end=x))
        self.guard.committed.connect(self._guard)
        self.drop.committed.connect(
            lambda x: self.edit(self.drop, lambda job: set_guard(job, self.edge, drop_in=x), "Change drop")
        )
        self.served.committed.connect(self._serve)

    def show_edge(self, edge: str, kind: str) -> None:
        """Show a drawn edge, as ``wing/edge``."""
        self.edge = edge
        safety = self.document.plan.job.safety
        line = next((line for line in safety.ground if line.edge == edge), None)
        guard = next((guard for guard in safety.guards if guard.edge == edge), None)
        served = next((served.by for served in safety.served_from if served.edge == edge), None)
        for field, value in ((self.start, line.start_in if line else 0.0), (self.end, line.end_in if line else 0.0)):
            field.set_units(self.document.plan.units)
            field.set_value(value)
        self.guard.set_value(guard.kind if guard else None)
        self._show_guard(guard)
        self.served.set_value(served)
        self.show_row(self.served, shown=kind == "eave")

    def again(self) -> None:
        """Show the edge's values again."""
        kind = "eave" if self.form.isRowVisible(self.served) else ""
        self.show_edge(self.edge, kind)

    def _show_guard(self, guard: Guard | None) -> None:
        deck = guard is not None and guard.kind == "deck"
        words = {
            "guarded": "it has a rail of its own" if deck else "it has mid-rail and toeboard",
            "wide": "it is wide enough" if deck else "it runs along the whole edge",
            "strong": "checked to be strong enough",
        }
        for name, check in self.checks.items():
            self.form.setRowVisible(check, guard is not None)
            check.setText(words[name])
            check.setChecked(guard is not None and bool(getattr(guard, name)))
        self.show_row(self.drop, shown=deck)
        self.drop.set_units(self.document.plan.units)
        self.drop.set_value(guard.drop_in if guard is not None else None)

    def _ground(self, field: LengthField, *, start: float | None = None, end: float | None = None) -> None:
        def change(job: Job) -> Job:
            line = next((line for line in job.safety.ground if line.edge == self.edge), None)
            known = (line.start_in, line.end_in) if line is not None else (0.0, 0.0)
            return set_ground(job, self.edge, known[0] if start is None else start, known[1] if end is None else end)

        self.edit(field, change, "Change ground line")

    def _guard(self, kind: object) -> None:
        def change(job: Job) -> Job:
            if kind is None:
                return remove_guard(job, self.edge)
            fields: dict[str, Any] = {"kind": kind}
            return set_guard(job, self.edge, **fields)

        self.edit(self.guard, change, "Change deck or rail")

    def _checker(self, name: str) -> Callable[[bool], None]:
        def take(on: bool) -> None:
            fields: dict[str, Any] = {name: on}
            self.edit(self.guard, lambda job: set_guard(job, self.edge, **fields), "Change deck or rail")

        return take

    def _serve(self, by: object) -> None:
        how = None if by is None else str(by)
        self.edit(self.served, lambda job: set_served_from(job, self.edge, how), "Change what serves the strip")
