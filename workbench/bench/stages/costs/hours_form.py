"""Hours on the Quantities page: by task with a range, from a start the end, and the log that the rates learn from."""

from __future__ import annotations

from functools import partial

from PySide6.QtWidgets import QCheckBox, QHBoxLayout, QPushButton, QVBoxLayout, QWidget

from workbench.bench.document import Document
from workbench.bench.fields import ChoiceField, NumberField, TextField
from workbench.bench.how import HowButton
from workbench.bench.panel import note
from workbench.bench.stages.form_base import Form
from workbench.bench.table import Cells, Table
from workbench.errors import BadInput
from workbench.job.hours import Actual, parse_steep, steep_words
from workbench.job.hours_edits import drop_logged, log_hours, set_hours
from workbench.plan import Plan
from workbench.quantities.hours import (
    HoursPlan,
    TaskHours,
    clock_words,
    hours_words,
    mean_slope_in_12,
    plan_hours,
    rate_words,
)
from workbench.rules.hours import TASKS, TaskName, hours_table

_CREWS = ((1, "one"), (2, "two"), (3, "three"))
_NAILING = (("pneumatic", "with a nail gun"), ("hand", "by hand"))


class HoursForm(Form):
    """Crew and day, the tasks, what all takes, and what was logged."""

    def __init__(self, document: Document, parent: QWidget | None = None) -> None:
        super().__init__(document, parent)
        self._hours: HoursPlan | None = None
        self.crew = ChoiceField(_CREWS, 2, "Crew")
        self.nailing = ChoiceField(_NAILING, "pneumatic", "Nailing")
        self.day = NumberField(8.0, "Working day", least=1.0, decimals=2, unit="h, without breaks")
        self.start = TextField("", "Start", longest=20)
        self.start.edit.setPlaceholderText("2026-11-30 07:00")
        self.steep = TextField("", "Slower by slope", longest=200)
        self.steep.edit.setPlaceholderText(steep_words(hours_table().steep.factors))
        self.steep.edit.setToolTip(
            "Rise in 12 and how many times as long work up there takes, straight between them. Empty: the table's"
        )
        self.add(self.crew, self.nailing, self.day, self.start, self.steep)
        self.weekends = QCheckBox("Saturdays and Sundays are worked", self)
        self.column.addWidget(self.weekends)
        self.table = Table(
            "Hours by task", ("Task", "How much", "Hours", "80 % range"), numeric=(1, 2, 3), wrap=True, parent=self
        )
        self.table.chosen.connect(lambda _: self._show_how())
        self.column.addWidget(self.table)
        self.total = note("", self)
        self.total.setProperty("quiet", False)
        self.how = HowButton("these hours", self)
        row = QHBoxLayout()
        row.addWidget(self.total, 1)
        row.addWidget(self.how)
        self.column.addLayout(row)
        self.column.addWidget(
            note("Starting rates are rough. Log what the work really takes: they learn from it.", self)
        )
        self.log = LogForm(document, self)
        self.column.addWidget(self.log)
        self.crew.committed.connect(lambda value: self._set(self.crew, "Change crew", crew=value))
        self.nailing.committed.connect(lambda value: self._set(self.nailing, "Change nailing", nailing=value))
        self.day.committed.connect(lambda value: self._set(self.day, "Change working day", day_hours=value))
        self.start.committed.connect(lambda text: self._set(self.start, "Change start", start=text))
        self.steep.committed.connect(self._set_steep)
        self.weekends.clicked.connect(self._weekends)

    def show_plan(self, plan: Plan) -> None:
        """Show the hours of a plan."""
        hours = plan.job.hours
        self._hours = found = plan_hours(plan.job, plan.roof.planes, plan.framing, plan.sheathing)
        self.crew.set_value(hours.crew)
        self.nailing.set_value(hours.nailing)
        self.day.set_value(hours.day_hours)
        self.start.set_value(hours.start)
        self.steep.set_value(steep_words(hours.steep))
        self.weekends.setChecked(hours.weekends)
        self.table.set_rows([_cells(task) for task in found.tasks])
        self.total.setText(hours_words(found))
        self.log.show_log(hours.log, found.tasks)
        self._show_how()

    def again(self) -> None:
        """Show the job's values again."""
        self.show_plan(self.document.plan)

    def _show_how(self) -> None:
        tasks = () if self._hours is None else self._hours.tasks
        chosen = [task for task in tasks if task.task == self.table.key] or tasks
        self.how.set_traces([task.trace for task in chosen])

    def _set(self, field: ChoiceField | NumberField | TextField, text: str, **fields: object) -> None:
        self.edit(field, partial(set_hours, **fields), text)

    def _set_steep(self, text: str) -> None:
        self.edit(self.steep, lambda job: set_hours(job, steep=parse_steep(text)), "Change what steep roofs take")

    def _weekends(self, on: bool) -> None:
        self.document.apply(set_hours(self.document.job, weekends=on), "Change working days")


class LogForm(QWidget):
    """A line to log what a task took, and what was logged."""

    def __init__(self, document: Document, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._document = document
        words = [(task, _task_words(task)) for task in TASKS]
        self.task = ChoiceField(words, TASKS[1], "Task that was done")
        self.amount = NumberField(None, "How much of it", least=0.0)
        self.hours = NumberField(None, "Hours on the clock", least=0.0)
        self.add = QPushButton("Log it", self)
        self.add.setToolTip("With the crew set above, and the slope of this roof")
        self.table = Table(
            "Logged hours", ("Task", "How much", "Slope", "Crew", "Hours"), numeric=(1, 2, 3, 4), parent=self
        )
        self.drop = QPushButton("Drop the marked entry", self)
        self.said = note("", self)
        self.learned = note("", self)
        row = QHBoxLayout()
        row.setContentsMargins(0, 0, 0, 0)
        row.setSpacing(6)
        for part, stretch in ((self.task, 3), (self.amount, 2), (self.hours, 2), (self.add, 0)):
            row.addWidget(part, stretch)
        self.amount.edit.setPlaceholderText("how much")
        self.hours.edit.setPlaceholderText("hours")
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(6)
        column.addLayout(row)
        column.addWidget(self.said)
        column.addWidget(self.table)
        column.addWidget(self.drop)
        column.addWidget(self.learned)
        self.task.committed.connect(lambda _: self._units())
        self.add.clicked.connect(self._add)
        self.drop.clicked.connect(self._drop)
        self._units()

    def show_log(self, log: tuple[Actual, ...], tasks: tuple[TaskHours, ...]) -> None:
        """Show what was logged, and what the rates have learned from it."""
        self.table.set_rows(
            [
                Cells(
                    (
                        _task_words(a.task),
                        f"{a.amount:,.4g} {_unit(a.task)}",
                        "" if a.slope_in_12 is None else f"{a.slope_in_12:.3g}",
                        str(a.crew),
                        f"{a.hours:,.4g}",
                    ),
                    str(i),
                )
                for i, a in enumerate(log)
            ]
        )
        self.table.setVisible(bool(log))
        self.drop.setVisible(bool(log))
        learned = [rate_words(task) for task in tasks if task.rate.jobs]
        self.learned.setText("\n".join(learned))
        self.learned.setVisible(bool(learned))

    def _units(self) -> None:
        task = next(task for task in TASKS if task == self.task.value)
        self.said.setText(f"How much: {_unit(task)}.")

    def _add(self) -> None:
        self.amount.commit()
        self.hours.commit()
        job, amount, hours = self._document.job, self.amount.value, self.hours.value
        task = next(task for task in TASKS if task == self.task.value)
        if not amount or not hours:
            self.said.setText("⚠ Give how much was done and the hours it took, both over 0.")
            return
        try:
            slope = mean_slope_in_12(self._document.plan.roof.planes)
            entry = Actual(task=task, amount=amount, hours=hours, crew=job.hours.crew, slope_in_12=slope, date=job.date)
            self._document.apply(log_hours(job, entry), "Log hours")
        except BadInput as error:
            self.said.setText(f"⚠ {error}")
            return
        self.amount.set_value(None)
        self.hours.set_value(None)
        self._units()

    def _drop(self) -> None:
        if not self.table.key:
            self.said.setText("⚠ Mark an entry of the log first.")
            return
        self._document.apply(drop_logged(self._document.job, int(self.table.key)), "Drop logged hours")


def _cells(task: TaskHours) -> Cells:
    amount = f"{task.amount:,.0f} {task.unit}{'s' if task.unit in ('anchor', 'member') and task.amount != 1 else ''}"
    between = f"{clock_words(task.low).removesuffix(' h')}–{clock_words(task.high).removesuffix(' h')}"
    return Cells((task.words, amount, clock_words(task.hours).removesuffix(" h"), between), task.task)


def _task_words(task: TaskName) -> str:
    return hours_table().rate(task, 0.5, "hand").words


def _unit(task: TaskName) -> str:
    unit = hours_table().rate(task, 0.5, "hand").unit
    return f"{unit}s" if unit in ("anchor", "member") else unit
