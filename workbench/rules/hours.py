"""Hours of work by task: starting rates as data (``resources/rules/hours.json``), each with its source."""

from __future__ import annotations

from collections.abc import Sequence
from functools import cache
from typing import Annotated, Literal

import msgspec

from workbench.resources import resource_text

TaskName = Literal["fall_protection", "cut_rafters", "raise_frame", "lay_sheets", "nail_off", "edge_metal", "tape"]
Nailing = Literal["hand", "pneumatic"]
TASKS: tuple[TaskName, ...] = (
    "fall_protection",
    "cut_rafters",
    "raise_frame",
    "lay_sheets",
    "nail_off",
    "edge_metal",
    "tape",
)
"""In the order of the work."""


class TaskRate(msgspec.Struct, frozen=True, kw_only=True, forbid_unknown_fields=True):
    """What a task takes: so many person-hours for ``per`` units."""

    task: TaskName
    words: str
    unit: str
    person_hours: float
    per: float
    source: str

    @property
    def each(self) -> float:
        """Person-hours for one unit."""
        return self.person_hours / self.per


class _Output(msgspec.Struct, frozen=True, kw_only=True, forbid_unknown_fields=True):
    up_to_in: float
    hand_sqft: float
    pneumatic_sqft: float


class _Sheets(msgspec.Struct, frozen=True, kw_only=True, forbid_unknown_fields=True):
    unit: str
    crew: int
    day_hours: float
    lay_share: float
    lay_source: str
    nail_source: str
    lay_words: str
    nail_words: str
    output: tuple[_Output, ...]


class _CrewFactor(msgspec.Struct, frozen=True, kw_only=True, forbid_unknown_fields=True):
    one: float
    two: float
    three: float


class SlopeFactor(msgspec.Struct, frozen=True, kw_only=True, forbid_unknown_fields=True):
    """How much longer work on a roof takes at a slope, rise in 12."""

    slope_in_12: Annotated[float, msgspec.Meta(gt=0.0, le=120.0, description="inches of rise in 12 of run")]
    factor: Annotated[float, msgspec.Meta(ge=0.1, le=20.0)]


class _Steep(msgspec.Struct, frozen=True, kw_only=True, forbid_unknown_fields=True):
    factors: tuple[SlopeFactor, ...]
    tasks: tuple[TaskName, ...]
    source: str


class HoursTable(msgspec.Struct, frozen=True, kw_only=True, forbid_unknown_fields=True):
    """All starting rates.

    Attributes:
        crews_differ: How far one crew's rate lies from the table's, as a standard deviation of its logarithm.
        jobs_differ: How far one job of the same crew lies from its rate, likewise.
    """

    edition: str
    note: str
    tasks: tuple[TaskRate, ...]
    sheets: _Sheets
    crew_factor: _CrewFactor
    crew_source: str
    steep: _Steep
    crews_differ: float
    jobs_differ: float
    spread_source: str

    def rate(self, task: TaskName, thickness_in: float, nailing: Nailing) -> TaskRate:
        """The starting rate of a task; laying and nailing off go by the sheets' thickness and the way of nailing."""
        for rate in self.tasks:
            if rate.task == task:
                return rate
        sheets = self.sheets
        output = next(step for step in sheets.output if thickness_in <= step.up_to_in + 1e-9)
        day = sheets.crew * sheets.day_hours
        lay = sheets.lay_share * day / output.hand_sqft
        if task == "lay_sheets":
            hours, words, source = lay, sheets.lay_words, sheets.lay_source
        else:
            together = day / (output.hand_sqft if nailing == "hand" else output.pneumatic_sqft)
            hours, words, source = together - lay, sheets.nail_words, sheets.nail_source
        return TaskRate(task=task, words=words, unit=sheets.unit, person_hours=100.0 * hours, per=100.0, source=source)

    def factor(self, crew: int) -> float:
        """Person-hours of a crew of one, two or three against those of two."""
        match crew:
            case 1:
                return self.crew_factor.one
            case 3:
                return self.crew_factor.three
            case _:
                return self.crew_factor.two


def slope_factor(in_12: float, factors: Sequence[SlopeFactor]) -> float:
    """The factor at a slope: straight between two slopes, level before the first and after the last; 1 without any."""
    if not factors:
        return 1.0
    before = factors[0]
    for after in factors:
        if in_12 <= after.slope_in_12:
            wide = after.slope_in_12 - before.slope_in_12
            share = (in_12 - before.slope_in_12) / wide if wide > 0.0 else 0.0
            return before.factor + max(0.0, share) * (after.factor - before.factor)
        before = after
    return before.factor


@cache
def hours_table() -> HoursTable:
    """The starting rates."""
    return msgspec.json.decode(resource_text("rules", "hours.json"), type=HoursTable)
