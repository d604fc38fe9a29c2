"""Edits of what is cut already; pure, like those in ``edits.py``."""

from __future__ import annotations

from msgspec.structs import replace

from workbench.errors import EditError
from workbench.job.cut_members import CutMembers, with_cut, without_cut
from workbench.job.edited import checked
from workbench.job.model import Job


def mark_cut(job: Job, record: CutMembers) -> Job:
    """Say that some pieces are cut.

    Raises:
        EditError: A value can't be used.
    """
    return checked(replace(job, cut_members=with_cut(job.cut_members, record)))


def take_back_cut(job: Job, index: int, count: int | None = None) -> Job:
    """Say that some pieces of a record are not cut after all, or are scrap; all of it where no count is given.

    Raises:
        EditError: There is no such record.
    """
    if not 0 <= index < len(job.cut_members):
        msg = f"There is no record {index + 1} of cut members; there are {len(job.cut_members)}."
        raise EditError(msg)
    return checked(replace(job, cut_members=without_cut(job.cut_members, index, count)))
