"""``issue``: record a job's handout as gone out."""

from __future__ import annotations

import argparse

from workbench.job.read import read_job
from workbench.job.write import write_job
from workbench.plan import solve
from workbench.revisions import issue


def issue_job(arguments: argparse.Namespace) -> int:
    """Record what the handout says in the job, so that the next one lists what changed."""
    job = issue(solve(read_job(arguments.job), "full"))
    write_job(job, arguments.job)
    print(f"Issued: revision {job.revision}. The next handout lists what changed since.")
    return 0
