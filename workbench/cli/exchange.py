"""``export``: the solved job in the open format that the file's ending names."""

from __future__ import annotations

import argparse

from workbench.job.read import read_job
from workbench.plan import solve


def export(arguments: argparse.Namespace) -> int:
    """Write the export; the plan's own errors do not change the status, its findings stand in ``check``."""
    from workbench.exchange.export import write_export, writer_for  # slow to import, so only where it is wanted

    writer_for(arguments.output)  # an ending that is not known is told before the work begins
    job = read_job(arguments.job)
    write_export(solve(job, "full"), arguments.output)
    print(f"Written: {arguments.output}")
    return 0
