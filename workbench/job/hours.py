"""Crew, working day and the log of hours that jobs really took."""

from __future__ import annotations

import re
from collections.abc import Sequence
from datetime import datetime
from typing import Annotated, Literal

from msgspec import Meta

from workbench.errors import JobError
from workbench.job.values import SlopeIn12, Value
from workbench.rules.hours import Nailing, SlopeFactor, TaskName

Crew = Literal[1, 2, 3]
_PAIR = re.compile(r"(?P<slope>\d+(?:\.\d+)?)(?: in 12)?\s*[:×x]\s*(?P<factor>\d+(?:\.\d+)?)")

Moment = Annotated[str, Meta(max_length=20)]


class Actual(Value, frozen=True, kw_only=True):
    """What one piece of work really took.

    Attributes:
        task: Which task.
        amount: How much was done, in the task's unit: anchors, members, square feet or feet.
        hours: Hours on the clock.
        crew: How many worked.
        slope_in_12: Slope of the roof it was done on; None where it is not known, taken as one that can be walked on.
        date: When, as the user wrote it.
        note: Free text.
    """

    task: TaskName
    amount: Annotated[float, Meta(gt=0.0, le=1e6)]
    hours: Annotated[float, Meta(gt=0.0, le=10_000.0, description="hours on the clock")]
    crew: Crew = 2
    slope_in_12: SlopeIn12 | None = None
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
        steep: How much longer work up on a roof takes by its slope, in order; empty takes the table's.
    """

    crew: Crew = 2
    nailing: Nailing = "pneumatic"
    day_hours: Annotated[float, Meta(ge=1.0, le=16.0)] = 8.0
    weekends: bool = False
    start: Moment = ""
    log: Annotated[tuple[Actual, ...], Meta(max_length=2000)] = ()
    steep: Annotated[tuple[SlopeFactor, ...], Meta(max_length=20)] = ()

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
        JobError: The start can't be read, or the slopes are out of order.
    """
    slopes = [each.slope_in_12 for each in hours.steep]
    if any(b <= a for a, b in zip(slopes, slopes[1:], strict=False)):
        msg = "hours.steep: each slope has to be steeper than the one before; put them in order."
        raise JobError(msg)
    if hours.start:
        begins = moment(hours.start)
        if not 2000 <= begins.year <= 2200:
            msg = f'hours.start is "{hours.start}"; give a year from 2000 to 2200.'
            raise JobError(msg)


def steep_words(factors: Sequence[SlopeFactor]) -> str:
    """Factors by slope as they are shown and typed: ``8: 1.2; 12: 1.75``."""
    return "; ".join(f"{each.slope_in_12:g}: {each.factor:g}" for each in factors)


def parse_steep(text: str) -> tuple[SlopeFactor, ...]:
    """Factors by slope as typed; nothing typed is none.

    Raises:
        JobError: A part can't be read, or a figure is past what it may be.
    """
    found: list[SlopeFactor] = []
    for part in filter(None, (part.strip() for part in text.split(";"))):
        pair = _PAIR.fullmatch(part)
        slope, factor = (float(pair["slope"]), float(pair["factor"])) if pair is not None else (0.0, 0.0)
        if not (0.0 < slope <= 120.0 and 0.1 <= factor <= 20.0):
            msg = f'"{part}" is no slope with its factor; write slope in 12 and factor like 8: 1.2; 12: 1.75.'
            raise JobError(msg)
        found.append(SlopeFactor(slope_in_12=slope, factor=factor))
    return tuple(found)
