"""Any one input against any one quantity, on the Quantities page; the line is dragged to another value."""

from __future__ import annotations

import math

from PySide6.QtWidgets import QHBoxLayout, QLabel, QVBoxLayout, QWidget

from workbench.bench.document import Document
from workbench.bench.fields import ChoiceField
from workbench.bench.how import HowButton
from workbench.bench.panel import note
from workbench.bench.stages.form_base import Form
from workbench.bench.stages.slope.curve import Curve
from workbench.bench.stages.slope.plot import Format, SweepPlot
from workbench.bench.stages.slope.plot import held as held_slope
from workbench.bench.stages.slope.sweep_part import QUANTITY_WORDS, value_format
from workbench.errors import BadInput
from workbench.findings import GEOMETRY
from workbench.job.change import value_of
from workbench.job.inputs import INPUTS, Input
from workbench.job.model import Job
from workbench.measure import Trace, Units
from workbench.plan import Plan
from workbench.quantities.hours import plan_hours
from workbench.quantities.waste import LUMBER
from workbench.sweep import STEPPED, SWEPT, SweepPoint, SweepQuantity, at_value, sweep_input, usual_values

_WAIT_MS = 250
_STEP_IN, _LEAP_IN = 0.25, 1.0


class InputSweep(Form):
    """What to move, what to look at, the plot; reckoned off to the side, the last curve stays meanwhile."""

    def __init__(self, document: Document, parent: QWidget | None = None) -> None:
        super().__init__(document, parent)
        self._shown_for: tuple[object, ...] = ()
        self.wing = ChoiceField([("", "")], "", "Wing")
        self.input = ChoiceField([(name, INPUTS[name].words) for name in SWEPT], "eave_overhang_in", "Input")
        self.quantity = ChoiceField(list(QUANTITY_WORDS.items()), "area", "Quantity")
        self.add(self.wing, self.input, self.quantity)
        self.value = QLabel(self)
        self.value.setWordWrap(True)
        self.plot = SweepPlot(self)
        self.plot.setAccessibleName("Chosen input against the chosen quantity")
        inside = QVBoxLayout()
        inside.setSpacing(6)
        self.how = HowButton("this figure", self)
        row = QHBoxLayout()
        row.addWidget(self.value, 1)
        row.addWidget(self.how)
        inside.addLayout(row)
        inside.addWidget(self.plot)
        self.about = note("Drag the line, or move it with the left and right keys.", self)
        inside.addWidget(self.about)
        self.column.addLayout(inside)
        self._curve = Curve(_WAIT_MS, self)
        self._curve.due.connect(self._reckon)
        self._curve.reckoned.connect(self._reckoned)
        for field in (self.wing, self.input, self.quantity):
            field.committed.connect(lambda _: self.refresh())
        self.plot.previewed.connect(self._preview)
        self.plot.chosen.connect(self._choose)
        self.plot.cancelled.connect(document.cancel_preview)

    def refresh(self) -> None:
        """Show the plan's job: line and words at once, the curve as soon as it is reckoned."""
        job = self.document.plan.job
        self.setVisible(bool(job.wings))
        if not job.wings:
            self._curve.give_up()
            return
        self.wing.set_choices([(wing.id, wing.name) for wing in job.wings])
        if self.wing.value not in {wing.id for wing in job.wings}:
            self.wing.set_value(job.wings[0].id)
        self.show_row(self.wing, len(job.wings) > 1)
        name, units = self._input(), self.document.plan.units
        info = INPUTS[name]
        slope = info.kind == "slope"
        self.plot.set_across(
            f"{info.words}, {'rise in 12' if slope else 'inches' if units.system == 'ft_in' else 'mm'}",
            "{:g}".format if slope else _length_format(units),
            held_slope if slope else _held_length,
            0.05 if slope else _STEP_IN,
            _LEAP_IN,
        )
        now = self._now()
        if now is not None:
            self.plot.show_slope(now)
        self._show_value()
        if self.document.previewing:
            return
        if self._wanted() != self._shown_for:
            self._curve.ask()

    def stop(self) -> None:
        """Let nothing run on; call it before the page goes."""
        self._curve.stop()

    def _wanted(self) -> tuple[object, ...]:
        return (self.document.job, self.wing.value, self.input.value, self.quantity.value)

    def _there(self, job: Job) -> bool:
        """Whether the job still has the wing; another may have been opened since."""
        return any(wing.id == self.wing.value for wing in job.wings)

    def _now(self) -> float | None:
        job, name = self.document.plan.job, self._input()
        if not self._there(job):
            return None
        now = value_of(job, name, str(self.wing.value))
        if name == "first_piece_in" and now is None:
            now = job.sheathing.panel_length_in / 2.0
        return now if isinstance(now, float) else None

    def _reckon(self) -> None:
        if not self._there(self.document.job):
            return  # another document was opened while it waited; coming into sight shows that one
        self._shown_for = self._wanted()
        job, wing, name = self.document.job, str(self.wing.value), self._input()
        quantity = self._quantity()
        values = usual_values(job, wing, name)
        self._curve.reckon(values, lambda value: sweep_input(job, wing, name, (value,), quantity))

    def _reckoned(self, points: tuple[SweepPoint, ...]) -> None:
        quantity = self._quantity()
        write = value_format(quantity, self.document.plan.units)
        self.plot.show_points(points, write, steps=quantity in STEPPED)
        self._show_value()

    def _show_value(self) -> None:
        now, units, name = self._now(), self.document.plan.units, self._input()
        words = QUANTITY_WORDS[self._quantity()]
        self.how.set_traces(_traces(self.document.plan, str(self.wing.value), self._quantity()))
        if now is None:
            self.value.setText(f"This wing has no {INPUTS[name].words}.")
            return
        value = self.plot.value_at(now)
        shown = units.slope(now / 12.0) if INPUTS[name].kind == "slope" else units.length(now)
        if value is None:
            self.value.setText(f"{INPUTS[name].words.capitalize()} {shown}.")
            return
        write = value_format(self._quantity(), units)
        self.value.setText(f"{words.capitalize()} at {INPUTS[name].words} {shown}: {write(value)}")

    def _input(self) -> Input:
        return next(name for name in SWEPT if name == self.input.value)

    def _quantity(self) -> SweepQuantity:
        return next(name for name in QUANTITY_WORDS if name == self.quantity.value)

    def _moved(self, value: float) -> Job | None:
        if not self._there(self.document.job):
            return None
        try:
            return at_value(self.document.job, str(self.wing.value), self._input(), value)
        except BadInput as error:
            self.document.refuse(error)
            return None

    def _preview(self, value: float) -> None:
        job = self._moved(value)
        if job is not None:
            self.document.preview(job)

    def _choose(self, value: float) -> None:
        job = self._moved(value)
        if job is not None:
            self.document.apply(job, f"Change {INPUTS[self._input()].words}")


def _traces(plan: Plan, wing: str, quantity: SweepQuantity) -> tuple[Trace, ...]:
    """How the figure of the present job came about."""
    planes, units = [plane for plane in plan.roof.planes if plane.wing == wing], plan.units
    match quantity:
        case "sheets":
            return plan.sheathing.traces
        case "lumber":
            return tuple(q.trace for q in plan.quantities if q.code.startswith(LUMBER))
        case "hours":
            found = plan_hours(plan.job, plan.roof.planes, plan.framing, plan.sheathing)
            return tuple(task.trace for task in found.tasks)
        case "price":
            return tuple(q.trace for q in plan.quantities if q.code == "roofing-price")
        case "area":
            total = sum(plane.area_sqft for plane in planes)
            values = " + ".join(units.area(plane.area_sqft) for plane in planes) + f" = {units.area(total)}"
            return (
                Trace("roof area", total, "sqft", "sum of the wing's planes, overhangs included", values, GEOMETRY),
            )
        case "ridge_height":
            top = max((corner[2] for plane in planes for corner in plane.corners), default=0.0)
            words = "highest corner of the wing's planes"
            return (Trace("height of the ridge", top, "in", words, units.length(top), GEOMETRY),)
        case "rafter_length":
            on_wing = {plane.id for plane in planes}
            return tuple(
                trace
                for member in plan.framing.members
                if member.kind == "common_rafter" and any(p.plane in on_wing for p in member.placements)
                for trace in member.traces
            )


def _held_length(value: float, reach: float) -> float:
    """The length a drag means: quarters of an inch; a key's own step stays."""
    del reach
    return math.floor(value / _STEP_IN + 0.5) * _STEP_IN


def _length_format(units: Units) -> Format:
    return lambda value: units.compact(value)
