"""Single planes drawn by hand against the same roofs raised from eaves, and against plain geometry."""

from __future__ import annotations

import math
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from workbench.errors import EditError
from workbench.job import edits
from workbench.job.model import Job, OutlineKind
from workbench.job.planes import Single
from workbench.measure import Units
from workbench.plan import solve
from workbench.roof.build import BuiltRoof, build_roof

BOX = ((0.0, 0.0), (480.0, 0.0), (480.0, 336.0), (0.0, 336.0))
GABLE: tuple[OutlineKind, ...] = ("eave", "rake", "eave", "rake")


def roof_of(job: Job) -> BuiltRoof:
    return build_roof(job.wings, Units(), job.openings)


def add_plane(job: Job, outline: Any, uphill_deg: float, line: Any, height_in: float, **fields: Any) -> Job:
    kinds: list[OutlineKind] = ["eave", *("rake" for _ in outline[1:])]
    meets = fields.pop("meets", "auto")
    single = Single(uphill_deg=uphill_deg, line=line, height_in=height_in, meets=meets)
    return edits.add_wing(job, outline, kinds, single=single, **fields)[0]


def kinds_of(built: BuiltRoof, plane: str) -> list[str]:
    return sorted(edge.kind for edge in built.roof.plane(plane).edges)


def told(built: BuiltRoof) -> list[str]:
    return [finding.code for finding in built.findings]


def flat_heels(job: Job) -> Job:
    for wing in job.wings:
        job = edits.set_heel(job, wing.id, given="hap", hap_in=6.0)
    return job


def test_a_plane_over_a_gable_end_makes_a_hip_end() -> None:
    """The same planes as the wavefront raises over one outline with three eaves."""
    whole, _ = edits.add_wing(Job(), BOX, ("eave", "eave", "eave", "rake"), slope_in_12=7.0, plate_in=97.0)
    whole = edits.set_edge(whole, "wing-1", "e2", slope_in_12=9.0)
    job, _ = edits.add_wing(Job(), BOX, GABLE, slope_in_12=7.0, plate_in=97.0)
    outline = ((480.0, 0.0), (480.0, 336.0), (300.0, 336.0), (300.0, 0.0))
    job = add_plane(job, outline, 180.0, (480.0, 100.0), 103.0, slope_in_12=9.0)
    by_hand, raised = roof_of(flat_heels(job)), roof_of(flat_heels(whole))
    pairs = (("wing-1/e1", "wing-1/e1"), ("wing-1/e3", "wing-1/e3"), ("wing-2/e1", "wing-1/e2"))
    for mine, theirs in pairs:
        assert by_hand.roof.plane(mine).area_sqft == pytest.approx(raised.roof.plane(theirs).area_sqft, rel=1e-9)
    assert kinds_of(by_hand, "wing-2/e1") == ["eave", "hip", "hip"]
    assert "roof-not-watertight" not in told(by_hand)


def test_two_planes_that_rise_to_each_other_meet_at_a_ridge() -> None:
    """Drawn past one another; each keeps its own side of the line, as a gable raised from eaves has them."""
    job = add_plane(Job(), ((0.0, 0.0), (480.0, 0.0), (480.0, 250.0), (0.0, 250.0)), 90.0, (0.0, 0.0), 100.0)
    job = add_plane(job, ((480.0, 336.0), (0.0, 336.0), (0.0, 60.0), (480.0, 60.0)), 270.0, (0.0, 336.0), 100.0)
    built = roof_of(job)
    each = 480.0 * 168.0 * math.hypot(1.0, 7.0 / 12.0) / 144.0
    assert [plane.area_sqft for plane in built.roof.planes] == pytest.approx([each, each], rel=1e-9)
    assert [sum(e.kind == "ridge" for e in plane.edges) for plane in built.roof.planes] == [1, 1]


def test_two_planes_that_fall_to_each_other_meet_in_a_valley() -> None:
    job = add_plane(Job(), ((0.0, 60.0), (200.0, 60.0), (200.0, 200.0), (0.0, 200.0)), 90.0, (0.0, 100.0), 150.0)
    job = add_plane(job, ((200.0, 140.0), (0.0, 140.0), (0.0, 0.0), (200.0, 0.0)), 270.0, (0.0, 100.0), 150.0)
    built = roof_of(job)
    assert sum(e.kind == "valley" for plane in built.roof.planes for e in plane.edges) == 2
    assert max(z for plane in built.roof.planes for _, _, z in plane.corners) > 150.0


def test_a_shed_plane_over_part_of_a_house_ends_on_it_in_a_line() -> None:
    """From the eave wall up, flatter than the roof it stands on: it ends where the main plane has caught up."""
    job, _ = edits.add_wing(Job(), BOX, GABLE, slope_in_12=9.0)
    job = edits.set_heel(job, "wing-1", given="hap", hap_in=6.0)
    top = 97.125 + 6.0
    outline = ((100.0, 0.0), (260.0, 0.0), (260.0, 160.0), (100.0, 160.0))
    job = add_plane(job, outline, 90.0, (100.0, 0.0), top + 30.0, slope_in_12=3.0)
    built = roof_of(job)
    plane = built.roof.plane("wing-2/e1")
    meets = next(edge for edge in plane.edges if edge.neighbour == "wing-1/e1")
    assert meets.kind == "pitch_break"  # the water runs down over both
    assert meets.start[1] == pytest.approx(30.0 / (9.0 / 12.0 - 3.0 / 12.0), abs=1e-6)
    assert "roof-not-watertight" not in told(built)


def test_the_plane_can_be_told_to_stay_below() -> None:
    """A shallower plane let into the main roof from its eave: hidden unless it is told that the lower one stays."""
    job, _ = edits.add_wing(Job(), BOX, GABLE, slope_in_12=9.0)
    job = edits.set_heel(job, "wing-1", given="hap", hap_in=6.0)
    outline = ((100.0, 0.0), (260.0, 0.0), (260.0, 100.0), (100.0, 100.0))
    hidden = add_plane(job, outline, 90.0, (100.0, 0.0), 103.125, slope_in_12=3.0)
    assert "wing-covered" in told(roof_of(hidden))
    shown = add_plane(job, outline, 90.0, (100.0, 0.0), 103.125, slope_in_12=3.0, meets="under")
    built = roof_of(shown)
    assert built.roof.plane("wing-2/e1").area_sqft == pytest.approx(160 * 100 * math.hypot(1.0, 0.25) / 144.0, rel=1e-6)
    assert "roof-not-watertight" in told(built)  # its sides and top end in mid-air inside the house


@settings(max_examples=40)
@given(
    st.floats(0.0, 359.0),
    st.sampled_from([3.0, 6.62, 9.0, 14.0]),
    st.floats(-60.0, 60.0),
    st.sampled_from(["auto", "over", "under"]),
)
def test_every_point_has_the_roof_that_was_chosen(uphill: float, slope: float, shift: float, meets: str) -> None:
    """A plane at any angle over a gable: nothing overlaps, nothing is lost, and heights are those of the planes."""
    job, _ = edits.add_wing(Job(), BOX, GABLE, slope_in_12=8.0)
    outline = ((60.0, 40.0), (420.0, 40.0), (420.0, 300.0), (60.0, 300.0))
    job = add_plane(job, outline, uphill, (240.0, 168.0), 150.0 + shift, slope_in_12=slope, meets=meets)
    built = roof_of(job)
    plan_area = sum(plane.area_sqft / plane.stretch for plane in built.roof.planes) * 144.0
    assert plan_area == pytest.approx(480.0 * 336.0, abs=2.0)
    for plane in built.roof.planes:
        for corner in plane.corners:
            x, y = plane.to_plane(corner)
            assert plane.to_space((x, y)) == pytest.approx(corner, abs=2e-3)


def test_a_plane_at_an_angle_is_solved_to_the_end() -> None:
    job, _ = edits.add_wing(Job(), BOX, GABLE, slope_in_12=8.0, eave_overhang_in=16.0, rake_overhang_in=12.0)
    outline = ((420.0, -40.0), (520.0, 60.0), (420.0, 160.0), (320.0, 60.0))
    job = add_plane(job, outline, 135.0, (470.0, 10.0), 110.0, slope_in_12=5.0, eave_overhang_in=12.0)
    plan = solve(job)
    assert "stage-failed" not in [finding.code for finding in plan.findings]
    assert plan.members_of("wing-2/e1")
    assert plan.sheets_of("wing-2/e1") is not None


def test_what_a_plane_can_not_have_is_refused() -> None:
    job = add_plane(Job(), BOX, 90.0, (0.0, 0.0), 100.0)
    with pytest.raises(EditError, match="take its landing away"):
        edits.set_landing(job, "wing-1", landing_in=200.0)
    with pytest.raises(EditError, match="second slopes and clips"):
        edits.set_edge(job, "wing-1", "e2", clip_height_in=20.0)
