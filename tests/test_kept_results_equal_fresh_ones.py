"""What is kept from earlier solves changes nothing: after any edits a plan is the one that a fresh start gives.

No outside source: the same program with all its caches empty is the reference.
"""

from __future__ import annotations

import functools
import gc

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from workbench.bench.previews import preview_plan
from workbench.job import edits
from workbench.job.model import Job
from workbench.job.read import read_job
from workbench.job.samples import sample_jobs
from workbench.plan import Plan, solve

JOBS = {sample.name: read_job(sample.path) for sample in sample_jobs()}
PARTS = (
    "wings",
    "roof",
    "framing",
    "sheathing",
    "safety",
    "quantities",
    "findings",
    "lumber",
    "screening",
    "site",
    "drying_in",
)

edit = st.tuples(
    st.sampled_from(["slope", "overhang", "edge", "move", "spacing"]), st.integers(0, 3), st.floats(-1.0, 1.0)
)


def edited(job: Job, kind: str, number: int, share: float) -> Job:
    """One small edit of one wing."""
    wing = job.wings[number % len(job.wings)]
    match kind:
        case "slope":
            return edits.set_wing(job, wing.id, slope_in_12=wing.slope_in_12 + 2.0 * share)
        case "overhang":
            return edits.set_wing(job, wing.id, eave_overhang_in=wing.eave_overhang_in + 4.0 * (1.0 + share))
        case "edge":
            return edits.move_edge(job, wing.id, wing.edges[number % len(wing.edges)].id, 12.0 * share)
        case "move":
            x, y = round(64.0 * share) / 8.0, round(32.0 * share) / 8.0
            return edits.set_wing(job, wing.id, outline=tuple((a + x, b + y) for a, b in wing.outline))
        case _:
            return edits.set_rafter(job, wing.id, spacing_in=16.0 if share > 0.0 else 24.0)


def forget_all() -> None:
    """Empty every cache of the core."""
    caches = [
        found
        for found in gc.get_objects()
        if isinstance(found, functools._lru_cache_wrapper) and (found.__module__ or "").startswith("workbench.")
    ]
    assert len(caches) > 10
    for cache in caches:
        cache.cache_clear()


def same(one: Plan, other: Plan) -> None:
    for part in PARTS:
        assert getattr(one, part) == getattr(other, part), part


@pytest.mark.parametrize("name", ["cut-up-house", "small-house"])
@settings(max_examples=2, deadline=None)
@given(work=st.lists(edit, min_size=1, max_size=3))
def test_plans(name: str, work: list[tuple[str, int, float]]) -> None:
    job = JOBS[name]
    last = solve(job, "preview")
    for step in work:
        job = edited(job, *step)
        preview_plan(job, "drawn", last)
        kept = solve(job, "preview")
    live = solve(job)
    forget_all()
    same(kept, solve(job, "preview"))
    same(live, solve(job))


@settings(max_examples=2, deadline=None)
@given(first=edit, second=edit)
def test_houses_beside_each_other_know_nothing_of_each_other(
    first: tuple[str, int, float], second: tuple[str, int, float]
) -> None:
    """A house far off changes no plane, rafter line or piece of another."""
    alone = edited(JOBS["cut-up-house"], *first)
    far = edited(JOBS["cut-up-house"], *second)
    wings = tuple(
        edits.set_wing(far, wing.id, outline=tuple((x + 2400.0, y) for x, y in wing.outline)).wings[k]
        for k, wing in enumerate(far.wings)
    )
    job = alone
    for wing in wings:
        kinds = [each.kind for each in wing.edges]
        job, _ = edits.add_wing(job, wing.outline, kinds, slope_in_12=wing.slope_in_12, heel=wing.heel)
    one, both = solve(alone, "preview"), solve(job, "preview")
    mine = {plane.id for plane in one.roof.planes}
    assert one.roof.planes == tuple(plane for plane in both.roof.planes if plane.id in mine)
    for plane in one.roof.planes:
        assert one.framing.supports_of(plane.id) == both.framing.supports_of(plane.id)
        here, there = one.sheets_of(plane.id), both.sheets_of(plane.id)
        assert (here is None) == (there is None)
        if here is not None and there is not None:
            assert [piece.polygon for piece in here.pieces] == [piece.polygon for piece in there.pieces]
