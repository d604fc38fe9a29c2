"""Jobs with planes drawn by hand, split planes and crickets are solved to the end, whatever is drawn."""

from __future__ import annotations

from typing import Any

from hypothesis import given, settings
from hypothesis import strategies as st

from workbench.errors import EditError
from workbench.handout.document import render_handout
from workbench.job import edits, planes_edits
from workbench.job.crickets import Cricket
from workbench.job.model import Job, OutlineKind
from workbench.job.planes import Single
from workbench.plan import solve

SHAPES: tuple[Any, ...] = (
    ((0, 0), (480, 0), (480, 336), (0, 336)),
    ((0, 0), (480, 0), (480, 240), (240, 240), (240, 480), (0, 480)),
)


@st.composite
def jobs(draw: st.DrawFn) -> Job:
    """A wing with a plane drawn over it, a line on its front plane and a chimney with a cricket."""
    outline = draw(st.sampled_from(SHAPES))
    kinds: list[OutlineKind] = ["eave", *(draw(st.sampled_from(["eave", "rake"])) for _ in outline[1:])]
    job, _ = edits.add_wing(
        Job(), outline, kinds, slope_in_12=draw(st.sampled_from([4.0, 7.0, 12.0])), eave_overhang_in=12.0
    )
    x, y = draw(st.integers(-5, 20)) * 20.0, draw(st.integers(-5, 15)) * 20.0
    wide, deep = draw(st.integers(3, 15)) * 20.0, draw(st.integers(3, 15)) * 20.0
    single = Single(
        uphill_deg=draw(st.sampled_from([0.0, 90.0, 180.0, 270.0, 33.0, 211.0])),
        line=(x, y),
        height_in=draw(st.sampled_from([90.0, 105.0, 150.0])),
        meets=draw(st.sampled_from(["auto", "over", "under"])),
    )
    ring = ((x, y), (x + wide, y), (x + wide, y + deep), (x, y + deep))
    job, _ = planes_edits.add_single(
        job, ring, ["eave", "rake", "rake", "rake"], single, slope_in_12=draw(st.sampled_from([1.0, 7.0, 12.0]))
    )
    try:
        job, _ = planes_edits.add_split(
            job,
            "wing-1",
            "e1",
            (draw(st.integers(0, 24)) * 20.0, 4.0),
            (draw(st.integers(0, 24)) * 20.0, 90.0),
            slope_in_12=draw(st.sampled_from([None, 5.0, 12.0])),
        )
        job, chimney = edits.add_opening(
            job,
            "wing-1/e1",
            x_in=draw(st.integers(20, 300)) * 1.0,
            y_in=30.0,
            width_in=48.0,
            length_in=36.0,
            kind="chimney",
        )
        job = edits.set_opening(job, chimney, cricket=Cricket())
    except EditError:
        pass
    return job


@settings(max_examples=6, deadline=None)
@given(jobs())
def test_no_stage_fails(job: Job) -> None:
    plan = solve(job)
    assert "stage-failed" not in [finding.code for finding in plan.findings], plan.findings[0].text
    assert all(plane.area_sqft > 0.0 for plane in plan.roof.planes)
    assert plan.sheathing.at_least <= plan.sheathing.count


def test_a_house_with_a_plane_drawn_by_hand_prints() -> None:
    job, _ = edits.add_wing(Job(), SHAPES[0], ["eave", "rake", "eave", "rake"], slope_in_12=7.0)
    ring = ((480.0, 0.0), (480.0, 336.0), (300.0, 336.0), (300.0, 0.0))
    single = Single(uphill_deg=180.0, line=(480.0, 0.0), height_in=103.0)
    job, _ = planes_edits.add_single(job, ring, ["eave", "rake", "rake", "rake"], single, slope_in_12=9.0)
    job, _ = planes_edits.add_split(job, "wing-1", "e3", (200.0, 336.0), (200.0, 168.0))
    assert render_handout(solve(job)).startswith(b"%PDF")
