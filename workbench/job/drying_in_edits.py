"""Edits of the choices of drying in; pure, like those in ``edits.py``."""

from __future__ import annotations

from typing import Any

from msgspec.structs import replace

from workbench.job.drying_in import IceBarrier
from workbench.job.edited import checked, replaced
from workbench.job.model import Job


def set_drying_in(job: Job, **fields: Any) -> Job:
    """Change choices of drying in. Raises EditError."""
    return checked(replace(job, drying_in=replaced(job.drying_in, fields)))


def set_seam_tape(job: Job, **fields: Any) -> Job:
    """Change the tape of the joints between panels. Raises EditError."""
    return set_drying_in(job, seam_tape=replaced(job.drying_in.seam_tape, fields))


def set_wide_tape(job: Job, **fields: Any) -> Job:
    """Change the tape of hips, valleys, ridges, walls and metal. Raises EditError."""
    return set_drying_in(job, wide_tape=replaced(job.drying_in.wide_tape, fields))


def set_ice(job: Job, **fields: Any) -> Job:
    """Lay an ice barrier, or change it. Raises EditError."""
    return set_drying_in(job, ice=replaced(job.drying_in.ice or IceBarrier(), fields))
