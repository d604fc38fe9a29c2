"""Lines that split a plane, and slopes solved for a drawn line, against plain geometry and the wavefront."""

from __future__ import annotations

import math
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from workbench.errors import EditError
from workbench.job import edits, planes_edits
from workbench.job.model import Job, OutlineKind
from workbench.measure import Units
from workbench.plan import solve
from workbench.roof.build import BuiltRoof, build_roof
from workbench.roof.model import Plane

BOX = ((0.0, 0.0), (480.0, 0.0), (480.0, 336.0), (0.0, 336.0))
GABLE: tuple[OutlineKind, ...] = ("eave", "rake", "eave", "rake")
HIPS: tuple[OutlineKind, ...] = ("eave",) * 4


def gable(**fields: Any) -> Job:
    return edits.add_wing(Job(), BOX, GABLE, slope_in_12=7.0, **fields)[0]


def roof_of(job: Job) -> BuiltRoof:
    return build_roof(job.wings, Units(), job.openings)


def height(plane: Plane, x: float, y: float) -> float:
    return plane.to_space(plane.to_plane((x, y)))[2]


def test_a_plane_split_as_it_is_has_two_parts_of_one_plane() -> None:
    job, name = planes_edits.add_split(gable(), "wing-1", "e1", (200.0, 0.0), (200.0, 168.0))
    built = roof_of(job)
    left, right = built.roof.plane(f"wing-1/{name}"), built.roof.plane("wing-1/e1")
    stretch = math.hypot(1.0, 7.0 / 12.0)
    assert left.name == "front main, left part"
    assert left.area_sqft == pytest.approx(200 * 168 * stretch / 144, rel=1e-12)
    assert right.area_sqft == pytest.approx(280 * 168 * stretch / 144, rel=1e-12)
    assert [e.neighbour for e in left.edges if e.kind == "pitch_break"] == ["wing-1/e1"]
    assert [e.neighbour for e in right.edges if e.kind == "pitch_break"] == [left.id]
    plan = solve(edits.choose_for_plane(job, left.id, rip="top"))
    assert not plan.has_errors
    assert "pitch-break-needs-support" not in [finding.code for finding in plan.findings]
    assert len({plane.plane for plane in plan.sheathing.planes}) == 3


def test_a_part_turned_about_a_level_line_is_a_second_slope() -> None:
    """The same roof as an eave with a second slope from that height on."""
    turned, name = planes_edits.add_split(gable(), "wing-1", "e1", (0.0, 60.0), (480.0, 60.0), slope_in_12=3.0)
    turned = edits.set_heel(turned, "wing-1", given="hap", hap_in=6.0)
    told = edits.set_heel(gable(), "wing-1", given="hap", hap_in=6.0)
    told = edits.set_edge(told, "wing-1", "e1", upper={"height_in": 6.0 + 60.0 * 7.0 / 12.0, "slope_in_12": 3.0})
    by_line, by_height = roof_of(turned), roof_of(told)
    for mine, theirs in ((f"wing-1/{name}", "wing-1/e1-upper"), ("wing-1/e1", "wing-1/e1"), ("wing-1/e3", "wing-1/e3")):
        assert by_line.roof.plane(mine).area_sqft == pytest.approx(by_height.roof.plane(theirs).area_sqft, rel=1e-9)


def test_a_flatter_foot_sets_its_own_plate() -> None:
    """Turned about a line 60 in up, 4 in 12 below it: the plate lies 60·(7 − 4)/12 = 15 in higher."""
    line = {"side": "right", "fold": "down", "slope_in_12": 4.0}
    job, name = planes_edits.add_split(gable(), "wing-1", "e1", (0.0, 60.0), (480.0, 60.0), **line)
    job = edits.set_heel(job, "wing-1", given="hap", hap_in=6.0)
    built = roof_of(job)
    assert built.roof.plane(f"wing-1/{name}").in_12 == pytest.approx(4.0)
    assert next(e for e in built.solved[0].eaves if e.edge == "e1").plate_in == pytest.approx(97.125 + 15.0)
    assert built.solved[0].section_of("wing-1/e1") is None


def test_a_hip_line_drawn_on_a_gable_is_a_hip_end() -> None:
    """Turned down about a line at 45 degrees from the corner: the plane an eave on that end would raise."""
    job, name = planes_edits.add_split(
        gable(), "wing-1", "e1", (0.0, 0.0), (168.0, 168.0), side="left", slope_in_12=7.0, fold="down"
    )
    hipped, _ = edits.add_wing(Job(), BOX, ("eave", "rake", "eave", "eave"), slope_in_12=7.0)
    by_line, raised = roof_of(job), roof_of(hipped)
    for mine, theirs in ((f"wing-1/{name}", "wing-1/e4"), ("wing-1/e1", "wing-1/e1"), ("wing-1/e3", "wing-1/e3")):
        assert by_line.roof.plane(mine).area_sqft == pytest.approx(raised.roof.plane(theirs).area_sqft, rel=1e-9)


@settings(max_examples=15)
@given(
    st.sampled_from([GABLE, HIPS]),
    st.floats(150.0, 330.0),
    st.floats(150.0, 330.0),
    st.sampled_from(["left", "right"]),
    st.sampled_from([None, 5.0, 8.0, 12.0]),
    st.sampled_from(["up", "down"]),
)
def test_whatever_is_drawn_the_roof_stays_whole(
    kinds: Any, low: float, high: float, side: str, slope: float | None, fold: str
) -> None:
    """Every point of the plan has one plane over it, and where two meet they have one height."""
    job, _ = edits.add_wing(Job(), BOX, kinds, slope_in_12=7.0)
    job, _ = planes_edits.add_split(
        job, "wing-1", "e1", (low, 5.0), (high, 160.0), side=side, slope_in_12=slope, fold=fold
    )
    built = roof_of(job)
    by_id = {plane.id: plane for plane in built.roof.planes}
    area = sum(plane.area_sqft / plane.stretch for plane in by_id.values()) * 144.0
    assert area == pytest.approx(480.0 * 336.0, rel=1e-9)
    for plane in by_id.values():
        for edge in plane.edges:
            if edge.neighbour is not None:
                for x, y, z in (edge.start, edge.end):
                    assert height(by_id[edge.neighbour], x, y) == pytest.approx(z, abs=2e-3)
    assert "stage-failed" not in [finding.code for finding in solve(job).findings]


def test_a_line_that_parts_nothing_is_told() -> None:
    beside, _ = planes_edits.add_split(gable(), "wing-1", "e1", (600.0, 0.0), (600.0, 168.0))
    assert "does not lie on" in next(f.text for f in roof_of(beside).findings if f.code == "split-left-out")
    flat, _ = planes_edits.add_split(gable(), "wing-1", "e1", (200.0, 0.0), (200.0, 168.0), slope_in_12=5.0)
    assert "at least that slope" in next(f.text for f in roof_of(flat).findings if f.code == "split-left-out")
    lost, _ = planes_edits.add_split(gable(), "wing-1", "e2", (200.0, 0.0), (200.0, 168.0))
    assert "waits in the job unused" in next(f.text for f in roof_of(lost).findings if f.code == "split-left-out")


def test_a_ridge_drawn_off_the_middle_solves_the_other_slope() -> None:
    """7 in 12 over 120 in rises 70 in; over the other 216 in that is 70/216 = 3.889 in 12."""
    job = planes_edits.solve_for_line(gable(), "wing-1", "e1", "e3", (0.0, 120.0), (480.0, 120.0))
    assert job.wing("wing-1").edges[2].slope_in_12 == pytest.approx(12.0 * 70.0 / 216.0)
    ridge = next(edge for edge in roof_of(job).roof.plane("wing-1/e1").edges if edge.kind == "ridge")
    assert ridge.start[1] == pytest.approx(120.0, abs=1e-9)


def test_a_ridge_over_unequal_plates_keeps_its_line() -> None:
    job = edits.set_edge(gable(), "wing-1", "e3", plate_in=121.125)
    job = planes_edits.solve_for_line(job, "wing-1", "e1", "e3", (0.0, 200.0), (480.0, 200.0))
    ridge = next(edge for edge in roof_of(job).roof.plane("wing-1/e1").edges if edge.kind == "ridge")
    assert ridge.start[1] == pytest.approx(200.0, abs=1e-9)


def test_a_hip_drawn_through_the_corner_solves_the_end_slope() -> None:
    """Over 168 in from one eave and 100 in from the other: 7·168/100 in 12."""
    job, _ = edits.add_wing(Job(), BOX, HIPS, slope_in_12=7.0)
    job = planes_edits.solve_for_line(job, "wing-1", "e1", "e4", (0.0, 0.0), (100.0, 168.0))
    assert job.wing("wing-1").edges[3].slope_in_12 == pytest.approx(7.0 * 168.0 / 100.0)
    hip = next(e for e in roof_of(job).roof.plane("wing-1/e1").edges if e.kind == "hip" and e.neighbour == "wing-1/e4")
    assert sorted((round(x, 6), round(y, 6)) for x, y, _ in (hip.start, hip.end)) == [(0.0, 0.0), (100.0, 168.0)]
    with pytest.raises(EditError, match="through the corner"):
        planes_edits.solve_for_line(job, "wing-1", "e1", "e4", (60.0, 0.0), (100.0, 168.0))


def test_lines_go_with_what_stands_on_their_part() -> None:
    job, first = planes_edits.add_split(gable(), "wing-1", "e1", (200.0, 0.0), (200.0, 168.0))
    job, second = planes_edits.add_split(job, "wing-1", first, (100.0, 0.0), (100.0, 168.0))
    assert len(roof_of(job).roof.planes) == 4
    job = edits.choose_for_plane(job, f"wing-1/{second}", rip="top")
    job = planes_edits.remove_split(job, "wing-1", first)
    assert job.wing("wing-1").splits == ()
    assert job.plane_choices == ()


def test_an_opening_stays_where_it_is_when_a_line_parts_its_plane() -> None:
    job, _ = edits.add_opening(gable(), "wing-1/e1", x_in=300.0, y_in=60.0, width_in=24.0, length_in=40.0)
    before = [hole for plane in roof_of(job).roof.planes for hole in plane.openings]
    job, _ = planes_edits.add_split(job, "wing-1", "e1", (200.0, 0.0), (200.0, 168.0))
    after = [hole for plane in roof_of(job).roof.planes for hole in plane.openings]
    assert [v for hole in after for c in hole for v in c] == pytest.approx(
        [v for hole in before for c in hole for v in c]
    )
