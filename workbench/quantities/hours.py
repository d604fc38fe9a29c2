"""Hours of work by task, for a crew of one, two or three, with a range; from a start time the end."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime, timedelta

from workbench.framing.group import sheathing_thickness
from workbench.framing.model import Framing
from workbench.job.hours import Hours, steep_words
from workbench.job.model import Job
from workbench.measure import Trace
from workbench.quantities.rates import Z80, OwnRate, logged_rates, own_rate, steep_factor
from workbench.quantities.waste import sheets_covered_sqft
from workbench.roof.model import Plane
from workbench.rules.hours import TASKS, HoursTable, TaskName, TaskRate, hours_table
from workbench.sheathing.model import SheathingPlan

_SATURDAY = 5


@dataclass(frozen=True, slots=True)
class TaskHours:
    """What one task takes.

    Attributes:
        task: Its name.
        words: The same in words.
        amount: How much is to be done, in ``unit``.
        unit: Unit of the amount.
        rate: Person-hours for one unit of a crew of two.
        hours: Hours on the clock for the job's crew.
        low: With 80 % not under this.
        high: With 80 % not over this.
        trace: How the hours were found.
    """

    task: TaskName
    words: str
    amount: float
    unit: str
    rate: OwnRate
    hours: float
    low: float
    high: float
    trace: Trace


@dataclass(frozen=True, slots=True)
class HoursPlan:
    """What all of it takes.

    Attributes:
        tasks: In the order of the work; only those with something to do.
        hours: Hours on the clock.
        low: With 80 % not under this, the tasks' errors being independent.
        high: With 80 % not over this.
        crew: How many work.
        begins: When the work begins, or None.
        ends: When it ends, or None; with its range.
        ends_low: Earliest.
        ends_high: Latest.
    """

    tasks: tuple[TaskHours, ...]
    hours: float
    low: float
    high: float
    crew: int
    begins: datetime | None = None
    ends: datetime | None = None
    ends_low: datetime | None = None
    ends_high: datetime | None = None


def plan_hours(job: Job, planes: Sequence[Plane], framing: Framing, sheathing: SheathingPlan) -> HoursPlan:
    """The hours of a job by its own log and, where that is short, the table of starting rates."""
    table, hours = hours_table(), job.hours
    thickness = sheathing_thickness(job.sheathing.thickness)
    tasks: list[TaskHours] = []
    for task in TASKS:
        amount = task_amount(task, job, planes, framing, sheathing)
        if amount > 0.0:
            slow = _steep(task, planes, hours, table)
            tasks.append(_task(table.rate(task, thickness, hours.nailing), amount, hours, table, slow))
    total, low, high = _together(tasks, table)
    begins = hours.begins
    if begins is None or not tasks:
        return HoursPlan(tuple(tasks), total, low, high, hours.crew)
    ends, first, last = (after(begins, clock, hours) for clock in (total, low, high))
    return HoursPlan(tuple(tasks), total, low, high, hours.crew, begins, ends, first, last)


def task_amount(task: TaskName, job: Job, planes: Sequence[Plane], framing: Framing, sheathing: SheathingPlan) -> float:
    """How much of a task a job has, in the task's unit."""
    match task:
        case "fall_protection":
            return float(max(1, len(job.safety.anchors))) if planes else 0.0
        case "cut_rafters" | "raise_frame":
            return float(sum(member.count for member in framing.members))
        case "lay_sheets" | "nail_off":
            return sheets_covered_sqft(sheathing)
        case "edge_metal":
            outer = (e for plane in planes for e in plane.all_edges if e.kind in ("eave", "rake"))
            return sum(edge.length_in for edge in outer) / 12.0
        case "tape":
            t = sheathing.seam_totals
            return (t.upslope + t.level + t.ridge + t.hip + t.valley + t.wall) / 12.0


def after(begins: datetime, clock_hours: float, hours: Hours) -> datetime:
    """When so many working hours after a start are over; each day begins at the start's time of day."""
    day = begins
    left = clock_hours
    while True:
        if not hours.weekends and day.weekday() >= _SATURDAY:
            day += timedelta(days=1)
            continue
        if left <= hours.day_hours + 1e-9:
            return day + timedelta(hours=left)
        left -= hours.day_hours
        day += timedelta(days=1)


def clock_words(value: float) -> str:
    """Hours as they are shown: one decimal under ten, whole from there on."""
    return f"{value:.0f} h" if value >= 10.0 else f"{value:.1f} h"


def rate_words(task: TaskHours) -> str:
    """What a rate is after what was logged, with how sure it is, in a sentence."""
    rate = task.rate
    per = 1.0 if rate.each >= 0.1 else 100.0
    jobs = f"{rate.jobs} logged {'job' if rate.jobs == 1 else 'jobs'}" if rate.jobs else "the table alone"
    words = f"{task.words[:1].upper()}{task.words[1:]}: {rate.each * per:.2g} person-hours "
    words += f"{'a' if per == 1.0 else f'for {per:g}'} {task.unit}, with 80 % from {rate.low * per:.2g} to "
    return f"{words}{rate.high * per:.2g}, by {jobs}; the table says {rate.table * per:.2g}."


def moment_words(moment: datetime) -> str:
    """A time as it is shown: ``Mon 2026-11-30, 14:30``, to the quarter of an hour."""
    quarter = timedelta(minutes=15)
    rounded = datetime.min + round((moment - datetime.min) / quarter) * quarter
    return f"{['Mon', 'Tue', 'Wed', 'Thu', 'Fri', 'Sat', 'Sun'][rounded.weekday()]} {rounded:%Y-%m-%d, %H:%M}"


def hours_words(hours: HoursPlan) -> str:
    """What all takes, in a sentence or two."""
    if not hours.tasks:
        return "There is nothing to be done yet."
    crew = {1: "one", 2: "two", 3: "three"}[hours.crew]
    said = f"Crew of {crew}: {clock_words(hours.hours)}, with 80 % from {clock_words(hours.low)} to "
    said += f"{clock_words(hours.high)}."
    if hours.ends is None or hours.ends_low is None or hours.ends_high is None:
        return said
    return (
        f"{said} Done {moment_words(hours.ends)}; with 80 % from {moment_words(hours.ends_low)} to "
        f"{moment_words(hours.ends_high)}."
    )


def mean_slope_in_12(planes: Sequence[Plane]) -> float | None:
    """Slope of a roof as one figure, its planes weighed by area; None without any. Hours are logged with it."""
    area = sum(plane.area_sqft for plane in planes)
    return sum(plane.area_sqft * plane.in_12 for plane in planes) / area if area > 0.0 else None


def _steep(task: TaskName, planes: Sequence[Plane], hours: Hours, table: HoursTable) -> float:
    """How much longer a task takes for the roof's slopes, its planes weighed by area."""
    area = sum(plane.area_sqft for plane in planes)
    if area <= 0.0:
        return 1.0
    slow = (plane.area_sqft * steep_factor(plane.in_12, task, table, hours.steep) for plane in planes)
    return sum(slow) / area


def _task(table_rate: TaskRate, amount: float, hours: Hours, table: HoursTable, slow: float) -> TaskHours:
    logged = logged_rates(hours.log, table_rate.task, table, hours.steep)
    rate = own_rate(table_rate.each, logged, table.crews_differ, table.jobs_differ)
    clock = amount * rate.each * slow * table.factor(hours.crew) / hours.crew
    # What this job will take: the rate is not known exactly, and jobs differ.
    reach = math.exp(Z80 * math.hypot(rate.spread, table.jobs_differ))
    trace = _trace(table_rate, rate, amount, clock, hours, table, slow)
    return TaskHours(
        table_rate.task, table_rate.words, amount, table_rate.unit, rate, clock, clock / reach, clock * reach, trace
    )


def _trace(
    table_rate: TaskRate, rate: OwnRate, amount: float, clock: float, hours: Hours, table: HoursTable, slow: float
) -> Trace:
    per = table_rate.per
    own = f"own rate from {rate.jobs} logged {'job' if rate.jobs == 1 else 'jobs'}" if rate.jobs else "table rate"
    steep = table_rate.task in table.steep.tasks
    values = (
        f"{amount:,.0f} {table_rate.unit} · {rate.each * per:.3g} person-hours / {per:g} ({own}; with 80 % between "
        f"{rate.low * per:.3g} and {rate.high * per:.3g}; table {rate.table * per:.3g}) · "
        f"{f'{slow:.3g} for the slope · ' if steep else ''}{table.factor(hours.crew):g} / {hours.crew} = {clock:.1f} h"
    )
    source = f"{table_rate.source}; crew: {table.crew_source}"
    if steep:
        by = "the job's own factors" if hours.steep else table.steep.source
        source += f"; slope: {steep_words(hours.steep or table.steep.factors)} (rise in 12: factor), {by}"
    if rate.jobs:
        source = f"the job's log of hours; {source}"
    formula = f"amount · rate{' · slope factor' if steep else ''} · crew factor / crew"
    formula += "; the rate drawn from the table towards what was logged"
    if steep:
        formula += "; the slope factor weighed by the planes' areas"
    return Trace(f"hours to {table_rate.words}", clock, "count", formula, values, source)


def _together(tasks: Sequence[TaskHours], table: HoursTable) -> tuple[float, float, float]:
    """Sum and 80 % range: a lognormal with the summed mean and variance of the tasks (Fenton-Wilkinson).

    The middle of the range is the sum's median, so the sum of the tasks' own hours lies inside it.
    """
    total = sum(task.hours for task in tasks)
    if not tasks:
        return 0.0, 0.0, 0.0
    mean = variance = 0.0
    for task in tasks:
        s2 = task.rate.spread**2 + table.jobs_differ**2
        expected = task.hours * math.exp(s2 / 2.0)
        mean += expected
        variance += expected**2 * (math.exp(s2) - 1.0)
    s2 = math.log1p(variance / mean**2)
    middle = mean * math.exp(-s2 / 2.0)
    reach = math.exp(Z80 * math.sqrt(s2))
    return total, min(total, middle / reach), max(total, middle * reach)
