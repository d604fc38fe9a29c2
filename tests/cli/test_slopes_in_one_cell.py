"""Several slopes of one job in one cell: the unit once, the one of most area first."""

from __future__ import annotations

from workbench.compare import compare_rows, figures_of
from workbench.job.read import read_job
from workbench.measure import Units
from workbench.plan import solve
from workbench.resources import sample_jobs


def test_the_unit_is_said_once() -> None:
    said = {}
    for name in ("small-house", "plain-gable"):
        plan = solve(read_job(next(path for path in sample_jobs() if path.stem == name)), "preview")
        rows = compare_rows((figures_of(plan, "", "The job", ()),), Units())
        said[name] = next(row.values[0] for row in rows if row.key == "slopes_in_12")
    assert said == {"small-house": "7, 8.26, 2.5 in 12", "plain-gable": "7 in 12"}
