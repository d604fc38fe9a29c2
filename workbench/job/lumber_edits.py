"""Edits of the lumber settings; pure, like those in ``edits.py``."""

from __future__ import annotations

from typing import Any

from msgspec.structs import replace

from workbench.job.edited import checked, replaced
from workbench.job.lumber import SectionStock
from workbench.job.model import Job


def set_lumber(job: Job, **fields: Any) -> Job:
    """Change fields of the lumber settings.

    Raises:
        EditError: A value can't be used: a length that is none, a species or grade that no table has.
    """
    return checked(replace(job, lumber=replaced(job.lumber, fields)))


def set_section(job: Job, section: str, **fields: Any) -> Job:
    """Change what differs for one section, beginning where nothing does; an entry with nothing in it is dropped.

    Raises:
        EditError: A value can't be used.
    """
    known = {own.section: own for own in job.lumber.sections}
    known[section] = replaced(known.get(section, SectionStock(section=section)), fields)
    sections = tuple(own for own in known.values() if own.lengths_in or own.species or own.grade)
    return checked(replace(job, lumber=replace(job.lumber, sections=sections)))
