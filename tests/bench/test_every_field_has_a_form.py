"""Every field of the job document can be changed in the window: its fields are driven one after the other and what each
changes in the job is noted. What has no form of its own is named here with the reason."""

from __future__ import annotations

import typing
from collections.abc import Callable, Iterator
from typing import Any

import msgspec
from msgspec.structs import replace
from PySide6.QtWidgets import QAbstractButton, QCheckBox, QRadioButton, QWidget

from workbench.bench.field_base import Field, Frame
from workbench.bench.fields import ChoiceField, LengthField, NumberField, SlopeField, TextField
from workbench.bench.job_panel import NoteEdit
from workbench.bench.window import Window
from workbench.job import edits
from workbench.job.model import Job, Tie
from workbench.job.read import read_job
from workbench.job.safety import OwnRules
from workbench.job.safety_edits import add_anchor, set_guard, set_safety
from workbench.job.underlay_edits import lay_underlay
from workbench.plan import solve
from workbench.resources import sample_job_path

WITHOUT_A_FORM = {
    "Job.format": "says what the file is",
    "Job.version": "version of the file's format",
    "Job.wings": "drawn with the tools of the plan stage",
    "Job.openings": "drawn with Draw opening",
    "Wing.id": "given by the program, never shown",
    "Wing.outline": "corners are dragged, or typed in the corner's form, one at a time",
    "Wing.edges": "drawn with the outline",
    "Edge.id": "given by the program, never shown",
    "Hips.lower_ridge": "asked only where a wing has valleys; driven beside the tests of lumber",
    "Wing.purlin_in": "asked only where a wing has pitch breaks; driven beside the tests of lumber",
    "Opening.id": "given by the program, never shown",
    "Opening.plane": "chosen by drawing the opening on its plane",
    "PlaneChoice.plane": "the plane in hand",
    "Anchor.id": "given by the program",
    "Anchor.plane": "chosen by setting or dragging the anchor on its plane",
    "GroundLine.edge": "the edge in hand",
    "Guard.edge": "the edge in hand",
    "ServedFrom.edge": "the edge in hand",
    "Safety.anchors": "set on the drawing",
    "Underlay.path": "chosen with the file dialog",
    "Landing.run_in": "the run is drawn; this is only the one found last",
}
"""Fields of the document that no form changes, each with its reason."""

ELSEWHERE = (
    "Job.screening",
    "Job.drying_in",
    "Job.lumber",
    "Job.cut_members",
    "Job.cut_sheets",
    "Job.site",
    "Job.alternatives",
    "Job.costs",
    "Job.hours",
    "Job.issued",
    "Wing.single",
    "Wing.splits",
    "Wing.gable_walls",
    "Wing.plies",
    "Opening.cricket",
    "Sheathing.exposed",
)
"""Parts of the document whose forms are driven beside the tests of their own pages."""

STAGES = ("plan", "slope", "frame", "sheets", "safety")


def structs_of(kind: Any, seen: dict[type, None]) -> dict[type, None]:
    """Every struct type that a type can hold."""
    for inside in typing.get_args(kind):
        structs_of(inside, seen)
    if isinstance(kind, type) and issubclass(kind, msgspec.Struct) and kind not in seen:
        seen[kind] = None
        for each in msgspec.structs.fields(kind):
            if f"{kind.__name__}.{each.name}" not in ELSEWHERE:
                structs_of(each.type, seen)
    return seen


def differing(before: Any, after: Any) -> Iterator[str]:
    """``Struct.field`` of every leaf that differs, and of what came or went."""
    if type(before) is not type(after) or not isinstance(before, msgspec.Struct):
        return
    for name in before.__struct_fields__:
        old, new = getattr(before, name), getattr(after, name)
        if old == new:
            continue
        inside = list(differing(old, new))
        if isinstance(old, tuple) and isinstance(new, tuple):
            for one, other in zip(old, new, strict=False):
                inside += differing(one, other)
            for added in new[len(old) :]:
                if isinstance(added, msgspec.Struct):
                    inside += [f"{type(added).__name__}.{each}" for each in _not_default(added)]
        yield from inside or [f"{type(before).__name__}.{name}"]
        if inside and isinstance(old, tuple) and len(old) != len(new):
            yield f"{type(before).__name__}.{name}"


def _not_default(value: msgspec.Struct) -> Iterator[str]:
    for each in msgspec.structs.fields(value):
        if each.required or getattr(value, each.name) != each.default:
            yield each.name


def tries_of(field: Frame) -> Iterator[Callable[[], None]]:
    """Other values given to a field as a user gives them, one after the other."""
    if isinstance(field, ChoiceField):
        others = [index for index in range(field.combo.count()) if index != field.combo.currentIndex()]
        for index in (*others[:1], *others[1:][-1:]):  # of long lists the first and the last will do
            yield lambda index=index: field.combo.activated.emit(index)
        return
    for text in texts_of(field):
        yield lambda text=text: _type(field, text)


def texts_of(field: Frame) -> Iterator[str]:
    match field:
        case LengthField():
            value = field.value
            known = (value + 1.0, value - 1.0, value / 2.0) if value is not None else (20.0, 48.0, 100.0)
            yield from (f"{x} in" for x in known)
        case SlopeField():
            yield from ("5 in 12", "6 in 12")
        case NumberField():
            value = field.value if field.value is not None else 20.0
            yield from (f"{x:g}" for x in (value + 1.0, value - 1.0, value + 20.0))
        case TextField():
            yield from (f"{field.value} so", "12'; 20'", "B", "12' x 14'")
        case _:
            return


def _type(field: Any, text: str) -> None:
    field.edit.setText(text)
    field.edit.setModified(True)
    field.commit()


class Driver:
    """Gives every field in sight another value, notes what it changes, and undoes it."""

    def __init__(self, window: Window) -> None:
        self.window = window
        self.found: set[str] = set()
        self._done: set[QWidget] = set()

    def drive(self) -> None:
        """Drive what is in sight and has not changed anything yet."""
        for widget in self.window.findChildren(QWidget):
            if widget in self._done or not widget.isVisible() or not widget.isEnabled():
                continue
            tries = (self._attempt(each) for each in self._tries(widget))
            # Of a choice two words are chosen; a number is typed until one is taken.
            if any(list(tries) if isinstance(widget, ChoiceField) else tries):
                self._done.add(widget)
            if isinstance(widget, Field | TextField):
                widget.restore()

    def forget(self) -> None:
        """Drive everything again: what is in sight changes something else now."""
        self._done.clear()

    def _tries(self, widget: QWidget) -> Iterator[Callable[[], object]]:
        match widget:
            case Field() if widget.edit.isReadOnly():
                return
            case Frame():
                yield from tries_of(widget)
            case QRadioButton() if widget.isChecked():
                return
            case QCheckBox() | QRadioButton():
                yield widget.click
            case QAbstractButton() if widget.text() in {"to find", "given"}:
                yield widget.click
            case NoteEdit():
                yield lambda: widget.committed.emit("another note")
            case _:
                return

    def _attempt(self, do: Callable[[], object]) -> bool:
        document, selected = self.window.document, self.window.selection.key
        before, depth = document.job, document.stack.index()
        do()
        changed = set(differing(before, document.job))
        self.found |= changed
        while document.stack.index() > depth:
            document.stack.undo()
        self.window.selection.select(selected)
        return bool(changed)


def rich_job() -> Job:
    """Small and quick to solve, with one of everything: a half-hipped wing, a plain one, an opening, an anchor."""
    job, first = edits.add_wing(
        Job(), [(0, 0), (192, 0), (192, 144), (0, 144)], ["eave", "eave", "eave", "rake"], rake_overhang_in=12.0
    )
    job, _ = edits.add_wing(job, [(400, 0), (520, 0), (520, 120), (400, 120)], ["eave", "rake", "eave", "rake"])
    job = edits.set_edge(job, first, "e4", clip_height_in=20.0)
    job = edits.set_edge(job, first, "e3", upper={"height_in": 20.0, "slope_in_12": 4.0})
    tie = Tie(every=3)
    job = edits.set_trim(job, first, fascia_in=0.75, collar_ties=tie, rafter_ties=tie)
    job, _ = edits.add_opening(job, f"{first}/e1", x_in=80.0, y_in=24.0, width_in=24.0, length_in=24.0)
    job, _ = add_anchor(job, f"{first}/e1", x_in=90.0, y_in=60.0)
    job = set_guard(job, f"{first}/e1", kind="deck")
    job = lay_underlay(job, "/nowhere/page.pdf", page=2)
    rules = OwnRules(name="ours", source="the book of the site")
    return set_safety(job, rule_set="own", own_rules=rules, stage="sheathing", temperature_f=80.0, humidity=50.0)


def landed_jobs() -> Iterator[tuple[Job, tuple[tuple[str, tuple[str, ...]], ...]]]:
    """The sample whose rafters must land, once for what is found with a slope and once notched, with a plate."""
    job = read_job(sample_job_path("vaulted-room.json"))
    wing = next(wing for wing in job.wings if wing.landing is not None)
    looks = ((f"wing:{wing.id}", ("slope",)),)
    yield job, looks
    yield edits.set_landing(job, wing.id, find="low_plate", high_end="notched"), looks


LOOKS = (
    ("wing:wing-1", STAGES),
    ("edge:wing-1/e1", ("plan", "safety")),
    ("edge:wing-1/e3", ("plan",)),
    ("edge:wing-1/e4", ("plan",)),
    ("corner:wing-1/1", ("plan",)),
    ("opening:skylight-1", ("plan", "safety")),
    ("anchor:A-1", ("safety",)),
)
"""What is selected, and the stages looked at with it."""


def test_every_field_of_the_document_has_a_form_or_a_reason(window: Window, monkeypatch) -> None:
    # What follows from the job is not looked at here, so the quickest plan will do.
    monkeypatch.setattr("workbench.bench.document.solve", lambda job, *_, **__: solve(job, "preview"))
    driver = Driver(window)
    for job, looks in ((rich_job(), LOOKS), *landed_jobs()):
        window.document.new(replace(job, note="one"))
        window.files.begun.emit()
        for key, stages in looks:
            for stage in stages:
                window.show_stage(stage)
                window.selection.select(key)
                driver.drive()
    window.show_stage("sheets")
    window.pages["sheets"].choices.one.click()
    driver.forget()
    driver.drive()
    window.show_job()
    driver.drive()
    kinds = structs_of(Job, {})
    holders = {name for kind in kinds for name in holders_of(kind)}
    every = {f"{kind.__name__}.{name}" for kind in kinds for name in kind.__struct_fields__}
    missing = sorted(every - holders - driver.found - {*WITHOUT_A_FORM, *ELSEWHERE})
    assert not missing, f"no form changes these, and no reason is named: {', '.join(missing)}"
    unknown = sorted(set(WITHOUT_A_FORM) - every)
    assert not unknown, f"reasons for fields that are no more: {', '.join(unknown)}"


def holders_of(kind: type) -> Iterator[str]:
    """Fields that only hold another struct: its own fields are looked for instead."""
    for each in msgspec.structs.fields(kind):
        if structs_of(each.type, {}):
            yield f"{kind.__name__}.{each.name}"
