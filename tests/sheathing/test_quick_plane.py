"""The quick search of one plane takes the layout that the whole search puts first (no outside source)."""

from __future__ import annotations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from workbench.job import edits
from workbench.job.read import read_job
from workbench.job.samples import sample_jobs
from workbench.measure import Units
from workbench.plan import solve
from workbench.sheathing.search import quick_plane, search_plane
from workbench.sheathing.solve import lay_planes

JOBS = {sample.name: read_job(sample.path) for sample in sample_jobs()}


@pytest.mark.parametrize("name", ["cut-up-house", "small-house"])
@settings(max_examples=6, deadline=None)
@given(slope=st.floats(3.0, 14.0), split=st.sampled_from(["fewest", "halves", "least"]), number=st.integers(0, 3))
def test_the_same_best_layouts(name: str, slope: float, split: str, number: int) -> None:
    job = edits.set_sheathing(JOBS[name], split=split)
    job = edits.set_wing(job, job.wings[number % len(job.wings)].id, slope_in_12=slope)
    plan = solve(job, "preview")
    work = lay_planes(plan.roof, plan.framing, job.sheathing, (), Units(), quick=True)
    assert work.laid
    for one in work.laid:
        quick = quick_plane(one.region, one.supports, one.rules)
        whole = search_plane(one.region, one.supports, one.rules)
        assert (quick.by_split, quick.ways, quick.lawful) == (whole.by_split, whole.ways[:1], whole.lawful)
