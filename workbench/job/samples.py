"""The sample jobs that come with the program: one invented scenario."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path

from workbench.job.read import read_job
from workbench.resources import sample_jobs as sample_files


@dataclass(frozen=True, slots=True)
class Sample:
    """A sample job: its file name without ending, its title and its file."""

    name: str
    title: str
    path: Path


def sample_jobs() -> tuple[Sample, ...]:
    """All sample jobs, sorted by file name.

    Raises:
        JobError: One of them can't be read.
    """
    return tuple(Sample(path.stem, read_job(path).name, path) for path in sample_files())
