"""Sheets and boards found by a longer search, kept for every job they hold for: undo and redo find them again."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from msgspec.structs import replace

from workbench.job.drying_in import DryingIn
from workbench.job.lumber import Lumber
from workbench.job.model import Job
from workbench.job.safety import Safety
from workbench.job.screening import Screening
from workbench.quantities.lumber_model import LumberPlan
from workbench.sheathing.model import SheathingPlan

Ending = Literal["running", "end", "time", "stopped"]
"""How a search came to its end: it still runs, found or proved all it can, its time was up, the user stopped it."""

_MOST = 24


@dataclass(frozen=True)
class Found:
    """What a search found.

    Attributes:
        sheets: The layout and its cut plan.
        quick: Sheets of the quick layout that it started from.
        seconds: Time taken.
        ending: How the search ended.
        boards: The boards that went with it, and the lumber they are cut from; None before the search has ended.
    """

    sheets: SheathingPlan
    quick: int
    seconds: float
    ending: Ending
    boards: tuple[Lumber, LumberPlan] | None = None

    def boards_for(self, job: Job) -> LumberPlan | None:
        """The boards, where they are cut from the lumber of a job; else None."""
        return self.boards[1] if self.boards is not None and self.boards[0] == job.lumber else None


class KeptSheets:
    """Found sheets by what they follow from; the oldest go where there are too many."""

    def __init__(self) -> None:
        self._kept: list[tuple[Job, Found]] = []

    def __bool__(self) -> bool:
        return bool(self._kept)

    def of(self, job: Job) -> Found | None:
        """What was found for the sheets of a job, or None."""
        if not self._kept:
            return None
        inputs = sheet_inputs(job)
        return next((found for known, found in self._kept if known == inputs), None)

    def keep(self, job: Job, found: Found) -> None:
        """Keep what was found, in the place of what was found before."""
        inputs = sheet_inputs(job)
        others = [pair for pair in self._kept if pair[0] != inputs]
        self._kept = [*others[1 - _MOST :], (inputs, found)]

    def clear(self) -> None:
        """Forget everything: another document was opened."""
        self._kept = []


def sheet_inputs(job: Job) -> Job:
    """The job without what no sheet follows from. All else counts as an input, whatever a job may come to hold."""
    return replace(
        job,
        name="",
        note="",
        date="",
        revision="",
        brackets=(),
        safety=Safety(),
        screening=Screening(),
        drying_in=DryingIn(),
        lumber=Lumber(),
        alternatives=(),
        underlay=None,
    )
