"""Drying in on the sheets page: the order of work, its choices, and the air."""

from __future__ import annotations

from functools import partial
from typing import Any

from PySide6.QtWidgets import QVBoxLayout, QWidget

from workbench.bench.document import Document
from workbench.bench.drawing_view import DrawingView
from workbench.bench.fields import ChoiceField, LengthField, NumberField, add_row, new_form
from workbench.bench.how import HowButton
from workbench.bench.panel import heading, note
from workbench.bench.previews import is_fresh
from workbench.bench.stages.form_base import OwnNumber
from workbench.bench.stages.screening.forms import YES_NO, SettingsForm
from workbench.bench.surface.view import Surface
from workbench.bench.table import Cells, Table
from workbench.drawing.dry_in_plan import dry_in_from_above, steps_over
from workbench.drawing.primitives import Drawing
from workbench.drying_in.model import Step
from workbench.drying_in.tape import left_words
from workbench.drying_in.words import AIR_NOT_SAID, CAUTION, ICE_NOT_SAID, MAKERS_FIRST, air_words, run_words
from workbench.job.drying_in import DryingIn, IceBarrier, Tape
from workbench.job.drying_in_edits import set_drying_in, set_ice, set_seam_tape, set_wide_tape
from workbench.job.model import Job
from workbench.plan import Plan

TIGHT_CHOICES = (("taped_panels", "sealed panels, joints taped"), ("underlayment", "underlayment"))
VALLEY_CHOICES = (
    ("open_metal", "open, metal"),
    ("open_roll", "open, two plies of roll"),
    ("closed", "closed"),
    ("none", "none here"),
)
OVER_CHOICES = (
    ("none", "sheets alone"),
    ("step", "the step in hand"),
    ("so_far", "all steps up to the one in hand"),
    ("every", "every step"),
)
AIR_CHOICES = (("not_said", "not said yet"), ("vented", "yes"), ("unvented", "no"))
SHARE_CHOICES = ((150, "1/150"), (300, "1/300"))
EDITION_CHOICES = (("2018", "IRC 2018"), ("2021", "IRC 2021"), ("2024", "IRC 2024"))


class ChoicesForm(SettingsForm):
    """Metal, valleys, walls, underlayment."""

    def __init__(self, document: Document, parent: QWidget | None = None) -> None:
        super().__init__(document, parent)
        units = document.plan.units

        def length(label: str, name: str) -> None:
            self.bind(LengthField(units, None, label, self), name)

        self.bind(ChoiceField(TIGHT_CHOICES, None, "Kept dry by", self), "tight")
        length("Edge metal, piece", "metal_piece_in")
        length("Edge metal, lap", "metal_lap_in")
        length("Edge metal, up the deck", "metal_up_in")
        self.bind(ChoiceField(VALLEY_CHOICES, None, "Valleys", self), "valley")
        length("Valley lining, width", "valley_width_in")
        length("Valley lining, piece", "valley_piece_in")
        length("Valley lining, lap", "valley_lap_in")
        length("Wall flashing, leg", "flashing_in")
        length("Wall flashing, piece", "flashing_piece_in")
        length("Wall flashing, lap", "flashing_lap_in")
        length("A course shows", "course_in")
        length("Underlayment, width", "roll_width_in")
        length("Underlayment, roll", "roll_in")
        length("Underlayment, lap", "roll_lap_in")
        length("Underlayment, end lap", "roll_end_lap_in")

    def value_of(self, job: Job) -> DryingIn:
        """The choices."""
        return job.drying_in

    def changed(self, job: Job, fields: dict[str, Any]) -> Job:
        """Other choices."""
        return set_drying_in(job, **fields)

    def show_settings(self) -> None:
        """Show the plan's; rolls of underlayment only where it is laid, linings only where there are some."""
        super().show_settings()
        drying = self.document.plan.job.drying_in
        for field, name in self._bound:
            if name.startswith("roll_"):
                self.show_row(field, drying.tight == "underlayment")
            elif name.startswith("valley_"):
                self.show_row(field, drying.valley != "none")


class TapeForm(SettingsForm):
    """One kind of tape."""

    def __init__(self, document: Document, *, wide: bool, parent: QWidget | None = None) -> None:
        super().__init__(document, parent)
        self._wide = wide
        word = "Wide tape" if wide else "Seam tape"
        for label, name in (("width", "width_in"), ("roll", "roll_in"), ("lap", "lap_in")):
            self.bind(LengthField(document.plan.units, None, f"{word}, {label}", self), name)

    def value_of(self, job: Job) -> Tape:
        """The tape."""
        return job.drying_in.wide_tape if self._wide else job.drying_in.seam_tape

    def changed(self, job: Job, fields: dict[str, Any]) -> Job:
        """Another tape."""
        return set_wide_tape(job, **fields) if self._wide else set_seam_tape(job, **fields)


class IceForm(SettingsForm):
    """The ice barrier, its fields only where one is laid."""

    def __init__(self, document: Document, parent: QWidget | None = None) -> None:
        super().__init__(document, parent)
        units = document.plan.units
        self.laid = ChoiceField(YES_NO, None, "Ice barrier", self)
        self.add(self.laid)
        self.laid.committed.connect(self._lay)
        self.bind(ChoiceField(EDITION_CHOICES, None, "By the code of", self), "edition")
        for label, name in (
            ("Inside the wall line", "inside_in"),
            ("Wall line is outside by", "wall_in"),
            ("Barrier, width", "roll_width_in"),
            ("Barrier, roll", "roll_in"),
            ("Barrier, lap", "lap_in"),
            ("Barrier, end lap", "end_lap_in"),
        ):
            self.bind(LengthField(units, None, label, self), name)

    def value_of(self, job: Job) -> IceBarrier:
        """The barrier, or what it would start from."""
        return job.drying_in.ice or IceBarrier()

    def changed(self, job: Job, fields: dict[str, Any]) -> Job:
        """Another barrier."""
        return set_ice(job, **fields)

    def show_settings(self) -> None:
        """Show the plan's."""
        super().show_settings()
        laid = self.document.plan.job.drying_in.ice is not None
        self.laid.set_value(laid)
        for field, _ in self._bound:
            self.show_row(field, laid)

    def _lay(self, on: object) -> None:
        def change(job: Job) -> Job:
            return set_ice(job) if on else set_drying_in(job, ice=None)

        self.edit(self.laid, change, "Lay an ice barrier" if on else "Take the ice barrier away")


class AirForm(SettingsForm):
    """Whether the space under the roof is vented, and by what."""

    def __init__(self, document: Document, parent: QWidget | None = None) -> None:
        super().__init__(document, parent)
        self.bind(ChoiceField(AIR_CHOICES, None, "Space under it vented", self), "air")
        self.bind(ChoiceField(SHARE_CHOICES, None, "Free area", self), "vent_share")
        self.bind(ChoiceField(YES_NO, None, "Vapor retarder", self), "vapor_retarder")
        vent = OwnNumber(None, "Ridge vent, by the foot", self, least=0.1, unit="sq in")
        self.bind(vent, "ridge_vent_sqin_ft", "the open slot")
        share = NumberField(None, "Share wanted at the ridge", self, least=0.0)
        self.bind(share, "upper_share")
        self.wing = ChoiceField(((False, "no"), (True, "yes")), None, "The wing in hand too", self)
        self.add(self.wing)
        self.wing.committed.connect(self._vent_wing)

    def value_of(self, job: Job) -> DryingIn:
        """The choices."""
        return job.drying_in

    def changed(self, job: Job, fields: dict[str, Any]) -> Job:
        """Other choices."""
        return set_drying_in(job, **fields)

    def show_settings(self) -> None:
        """Show the plan's; what the air takes only where there is some."""
        super().show_settings()
        job = self.document.plan.job
        vented = job.drying_in.air == "vented"
        for field, name in self._bound:
            if name != "air":
                self.show_row(field, vented and (name != "vapor_retarder" or job.drying_in.vent_share == 300))
        self.wing.set_value(self.wing_id not in job.drying_in.not_vented)
        self.show_row(self.wing, vented and bool(self.wing_id))

    def _vent_wing(self, on: object) -> None:
        def change(job: Job) -> Job:
            others = tuple(wing for wing in job.drying_in.not_vented if wing != self.wing_id)
            return set_drying_in(job, not_vented=others if on else (*others, self.wing_id))

        self.edit(self.wing, change, "Vent a wing" if on else "Leave a wing unvented")


class DryInPart(QWidget):
    """Order of work, how the step in hand is done, choices."""

    def __init__(self, document: Document, parent: QWidget) -> None:
        super().__init__(parent)
        self.document = document
        self._laid: tuple[object, int] = ("none", 1)
        self._on: Surface | None = None
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(8)
        self._column = column
        self._head("Drying in, in the order of work")
        self.over = ChoiceField(OVER_CHOICES, "none", "On the roof drawing", self)
        self.over.committed.connect(lambda _: self._lay_over())
        over = new_form()
        add_row(over, self.over)
        column.addLayout(over)
        self.caution = note(CAUTION.replace("page", "part"), self)
        column.addWidget(self.caution)
        self.steps = Table("Steps", ("", "What, and how", "Length"), numeric=(2,), stretch=1, wrap=True, parent=self)
        self.steps.chosen.connect(self._show_step)
        self.picture = DrawingView("Where the step in hand is laid", 240, self)
        column.addWidget(self.picture)
        column.addWidget(self.steps)
        self.tape = Table("Tape", ("Tape for", "Seams", "Length", "With laps"), numeric=(1, 2, 3), parent=self)
        column.addWidget(self.tape)
        self.tape_said = note("", self)
        self.how_tape = HowButton("the rolls of tape", self)
        column.addWidget(self.tape_said)
        column.addWidget(self.how_tape)
        self.makers = note(MAKERS_FIRST, self)
        column.addWidget(self.makers)
        self.how = HowButton("the air", self)
        self.air_said = note("", self)
        column.addWidget(self.air_said)
        column.addWidget(self.how)
        self._head("Choices of drying in")
        self.choices = ChoicesForm(document, self)
        self.tapes = (TapeForm(document, wide=False, parent=self), TapeForm(document, wide=True, parent=self))
        self.ice = IceForm(document, self)
        self.air = AirForm(document, self)
        for form in (self.choices, *self.tapes, self.ice, self.air):
            column.addWidget(form)
        self.start = note("Widths, lengths and laps start from common practice, no source. Read what you buy.", self)
        column.addWidget(self.start)

    def refresh(self, wing_id: str) -> None:
        """Show the plan's steps and choices.

        Args:
            wing_id: The wing in hand, or an empty string.
        """
        plan = self.document.plan
        fresh = is_fresh(plan, "all")
        self.steps.setEnabled(fresh)
        if fresh:
            self.steps.set_rows(step_rows(plan))
            self._show_step(self.steps.key)
            self._show_tape(plan)
            self._say_air(plan)
        self.air.wing_id = wing_id
        taped = plan.job.drying_in.tight == "taped_panels"
        for form in (self.choices, *self.tapes, self.ice, self.air):
            form.show_settings()
        for form in self.tapes:
            form.setVisible(taped)

    def _show_step(self, key: str) -> None:
        """Draw the step in hand, or the first one."""
        plan = self.document.plan
        numbers = {f"dry:{step.number}": step.number for step in plan.drying_in.steps}
        self.picture.setVisible(bool(numbers))
        number = numbers.get(key, 1)
        if numbers:
            self.steps.select_key(f"dry:{number}")
            self.picture.show_drawing(dry_in_from_above(plan, number), f"dry:{number}")

        self._lay_over()

    def _lay_over(self) -> None:
        """Lay the steps asked for over the roof's drawing; nothing is built for it unless they are other ones."""
        key = self.steps.key.removeprefix("dry:")
        asked = (self.over.value, int(key) if key.isdigit() else 1)
        surface = self.window().findChild(Surface)
        if surface is None or (asked == self._laid and surface is self._on):
            return
        self._laid, self._on = asked, surface
        surface.lay_over("sheets", None if asked[0] == "none" else partial(_steps_asked, *asked))

    def _show_tape(self, plan: Plan) -> None:
        tapes, units = plan.drying_in.tapes, plan.units
        rows: list[Cells] = []
        for tape in tapes:
            rows.append(Cells((f"{tape.name[:1].upper()}{tape.name[1:]}", "", "", ""), heading=True))
            rows += [
                Cells((use.words, str(use.seams), run_words(use.length_in, units), run_words(use.laid_in, units)))
                for use in tape.uses
            ]
        self.tape.set_rows(rows)
        self.tape_said.setText(" ".join(left_words(tape, units) for tape in tapes))
        self.how_tape.set_traces([tape.trace for tape in tapes])
        for part in (self.tape, self.tape_said, self.how_tape):
            part.setVisible(bool(tapes))

    def _say_air(self, plan: Plan) -> None:
        dry, drying = plan.drying_in, plan.job.drying_in
        said = [] if drying.ice is not None else [ICE_NOT_SAID]
        said += [barrier.trace.values for barrier in dry.barriers[:1]]
        if dry.air is not None:
            said += air_words(dry.air, plan.units)
        elif drying.air == "not_said":
            said.append(AIR_NOT_SAID)
        self.air_said.setText("\n".join(said))
        traces = [barrier.trace for barrier in dry.barriers[:3]]
        self.how.set_traces((*traces, *(dry.air.traces if dry.air is not None else ())))
        self.how.setVisible(self.how.isEnabled())

    def _head(self, text: str) -> None:
        label = heading(text, self)
        label.setContentsMargins(0, 10, 0, 0)
        self._column.addWidget(label)


def _steps_asked(asked: object, number: int, plan: Plan) -> Drawing:
    """The steps to be laid over the roof: the one in hand, those up to it, or every one."""
    every = [step.number for step in plan.drying_in.steps]
    wanted = {"step": [n for n in every if n == number], "so_far": [n for n in every if n <= number], "every": every}
    return steps_over(plan, wanted.get(str(asked), []))


def step_rows(plan: Plan) -> list[Cells]:
    """The steps with how they are done; a row shows where in the picture."""
    return [_row(plan, step) for step in plan.drying_in.steps]


def _row(plan: Plan, step: Step) -> Cells:
    bought = f" Takes {step.bought}." if step.bought else ""
    texts = (str(step.number), f"{step.title}\n{step.how}{bought}", run_words(step.length_in, plan.units))
    return Cells(texts, f"dry:{step.number}")
