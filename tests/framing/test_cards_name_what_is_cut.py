"""What a cut card tells to cut is wood of the board: every cut has its side, every seat lies on the outline."""

from __future__ import annotations

import pytest
import shapely
from msgspec.structs import replace

from workbench.drawing.cut_card import cut_sides
from workbench.job.read import read_job
from workbench.plan import solve
from workbench.resources import sample_jobs

JOBS = [path.name for path in sample_jobs()]


@pytest.fixture(scope="module", params=JOBS)
def members(request):
    path = next(path for path in sample_jobs() if path.name == request.param)
    return solve(read_job(path), "preview").framing.members


def test_every_cut_is_a_side_of_the_board(members):
    for member in members:
        across = [cut for cut in member.cuts if not cut.name.startswith("rip")]
        assert len(cut_sides(member)) == len(across), member.mark


def test_seats_lie_on_the_outline(members):
    """Reference: shapely, distance of points from a ring."""
    for member in members:
        ring = shapely.LinearRing(member.profile)
        for measure in member.measures:
            if measure.name.endswith("seat"):
                middle = shapely.Point(*((a + b) / 2.0 for a, b in zip(measure.start, measure.end, strict=True)))
                assert ring.distance(middle) < 1e-6, member.mark


def test_a_depth_that_nobody_sells_is_told_and_goes_with_a_depth_given():
    job = read_job(next(path for path in sample_jobs() if path.stem == "cut-up-house"))
    told = [each for each in solve(job, "preview").findings if each.code == "deeper-than-sawn"]
    # The cut end of a 2x10 at 9 in 12: 9.25 · 1.25 = 11.5625 in, and a 2x12 is 11 1/4 in deep.
    assert [each.object for each in told if '11 9/16"' in each.text] == ["main", "dormer"]
    wings = tuple(
        replace(wing, ridge=replace(wing.ridge, depth_in=11.25), hips=replace(wing.hips, depth_in=11.875))
        for wing in job.wings
    )
    given = solve(replace(job, wings=wings), "preview").findings
    assert not [each for each in given if each.code == "deeper-than-sawn"]
