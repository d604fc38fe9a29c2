"""Crew, working day and the log of hours that jobs really took."""

from __future__ import annotations

from datetime import datetime
from typing import Annotated, Literal

from msgspec import Meta

from workbench.errors import JobError
from workbench.job.values import Value
from workbench.rules.hours import Nailing, TaskName

Crew = Literal[1, 2, 3]
Moment = Annotated[str, Meta(max_length=20)]


class Actual(Value, frozen=True, kw_only=True):
    """What one piece of work really took.

    Attributes:
        task: Which task.
        amount: How much was done, in the task's unit: anchors, members, square feet or feet.
        hours: Hours on the clock.
        crew: How many worked.
        date: When, as the user wrote it.
        note: Free text.
    """

    task: TaskName
    amount: Annotated[float, Meta(gt=0.0, le=1e6)]
    hours: Annotated[float, Meta(gt=0.0, le=10_000.0, description="hours on the clock")]
    crew: Crew = 2
    date: Annotated[str, Meta(max_length=40)] = ""
    note: Annotated[str, Meta(max_length=200)] = ""


class Hours(Value, frozen=True, kw_only=True):
    """How the hours of the job are reckoned.

    Attributes:
        crew: How many work.
        nailing: By ``hand`` or ``pneumatic``.
        day_hours: Hours worked a day, without breaks.
        weekends: Whether Saturdays and Sundays are worked.
        start: When the work begins, ``2026-11-30 07:00``; empty where it is not known.
        log: Hours that jobs really took; they move the rates.
    """

    crew: Crew = 2
    nailing: Nailing = "pneumatic"
    day_hours: Annotated[float, Meta(ge=1.0, le=16.0)] = 8.0
    weekends: bool = False
    start: Moment = ""
    log: Annotated[tuple[Actual, ...], Meta(max_length=2000)] = ()

    @property
    def begins(self) -> datetime | None:
        """When the work begins; None where it is not known."""
        return moment(self.start) if self.start else None


def moment(text: str) -> datetime:
    """A date with a time of day as written in the job.

    Raises:
        JobError: It can't be read.
    """
    for form in ("%Y-%m-%d %H:%M", "%Y-%m-%dT%H:%M"):
        try:
            return datetime.strptime(text.strip(), form)
        except ValueError:
            continue
    msg = f'hours.start is "{text}"; write day and time like 2026-11-30 07:00.'
    raise JobError(msg)


def check_hours(hours: Hours) -> None:
    """Check what no field of the hours can say alone.

    Raises:
        JobError: The start can't be read.
    """
    if hours.start:
        begins = moment(hours.start)
        if not 2000 <= begins.year <= 2200:
            msg = f'hours.start is "{hours.start}"; give a year from 2000 to 2200.'
            raise JobError(msg)
