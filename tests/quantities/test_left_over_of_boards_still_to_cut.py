"""What is left over of the boards bought never goes under nothing because some members are cut already."""

from __future__ import annotations

import pytest

from workbench.framing.already_cut import record_of
from workbench.job.cut_edits import mark_cut
from workbench.job.read import read_job
from workbench.plan import solve
from workbench.quantities.waste import lumber_bought_in, waste_as_built
from workbench.resources import sample_jobs


def test_cut_members_are_neither_bought_nor_built() -> None:
    job = read_job(next(path for path in sample_jobs() if path.stem == "small-house"))
    plan = solve(job, "live")
    member = max(plan.framing.members, key=lambda member: member.count * member.length_in)
    done = solve(mark_cut(job, record_of(member, 12)), "live")
    lumber = waste_as_built(done.quantities, done.framing, done.sheathing, done.job.sheathing, done.units, done.cut)[1]
    whole = waste_as_built(plan.quantities, plan.framing, plan.sheathing, plan.job.sheathing, plan.units, plan.cut)[1]
    assert lumber.bought == lumber_bought_in(done.quantities) < whole.bought
    assert lumber.placed == pytest.approx(whole.placed - 12 * member.length_in)
    assert lumber.left == lumber.trace.value >= 0.0
    assert "cut already" in lumber.trace.values and "cut already" not in whole.trace.values
