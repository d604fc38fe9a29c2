"""Edits of crew, working day and the log of hours; pure, like those in ``edits.py``."""

from __future__ import annotations

from typing import Any

from msgspec.structs import replace

from workbench.errors import EditError
from workbench.job.edited import checked, replaced
from workbench.job.hours import Actual
from workbench.job.model import Job


def set_hours(job: Job, **fields: Any) -> Job:
    """Change fields of the hours: crew, nailing, day, weekends, start. Raises EditError."""
    return checked(replace(job, hours=replaced(job.hours, fields)))


def log_hours(job: Job, actual: Actual) -> Job:
    """Log what a piece of work really took. Raises EditError."""
    return set_hours(job, log=(*job.hours.log, actual))


def drop_logged(job: Job, index: int) -> Job:
    """Take one entry of the log away.

    Raises:
        EditError: There is none.
    """
    if not 0 <= index < len(job.hours.log):
        msg = f"The log of hours has no entry {index + 1}."
        raise EditError(msg)
    return set_hours(job, log=tuple(actual for i, actual in enumerate(job.hours.log) if i != index))
