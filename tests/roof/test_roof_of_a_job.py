"""From a job to planes: gables, sheds, low-to-high-wall roofs, and that nothing is special to them."""

from __future__ import annotations

import math

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from shapely.geometry import Polygon
from shapely.ops import unary_union

from workbench.job import edits
from workbench.job.model import Heel, Job, Rafter
from workbench.plan import solve
from workbench.roof.model import Plane

RECTANGLE = [(0.0, 0.0), (480.0, 0.0), (480.0, 336.0), (0.0, 336.0)]
GABLE = ["eave", "rake", "eave", "rake"]
SHED = ["eave", "rake", "wall", "rake"]


def kinds(plane: Plane) -> list[str]:
    return [edge.kind for edge in plane.edges]


def top_of(plane: Plane) -> float:
    return max(corner[2] for corner in plane.corners)


def test_gable_planes_ridge_and_lengths() -> None:
    job, _ = edits.add_wing(Job(), RECTANGLE, GABLE, slope_in_12=6.0, eave_overhang_in=16.0, rake_overhang_in=12.0)
    planes = solve(job).roof.planes
    assert [plane.name for plane in planes] == ["front main", "back main"]
    for plane in planes:
        assert kinds(plane) == ["eave", "rake", "ridge", "rake"]
        # Common per foot of run at 6 in 12 is 13.42 in (framing square, NAVEDTRA 14044): here 184 in of run.
        assert plane.plane_length_in == pytest.approx(184.0 / 12.0 * 13.42, abs=0.08)  # to the table's last digit
        assert plane.area_sqft == pytest.approx(504.0 * 184.0 * math.sqrt(1.25) / 144.0)
        assert plane.polygon[0] == pytest.approx((0.0, 0.0), abs=1e-9)
    ridge_front, ridge_back = planes[0].edges[2], planes[1].edges[2]
    assert {ridge_front.start, ridge_front.end} == {ridge_back.start, ridge_back.end}
    assert ridge_front.neighbour == planes[1].id
    assert ridge_front.start[1] == pytest.approx(168.0)


def test_a_gable_turned_on_the_plan_is_the_same_gable() -> None:
    straight = solve(edits.add_wing(Job(), RECTANGLE, GABLE)[0]).roof.planes
    turn = math.radians(33.0)
    outline = [(x * math.cos(turn) - y * math.sin(turn), x * math.sin(turn) + y * math.cos(turn)) for x, y in RECTANGLE]
    turned = solve(edits.add_wing(Job(), outline, GABLE)[0]).roof.planes
    for a, b in zip(straight, turned, strict=True):
        assert b.area_sqft == pytest.approx(a.area_sqft)
        for p, q in zip(a.polygon, b.polygon, strict=True):
            assert q == pytest.approx(p, abs=1e-6)


def test_shed_rises_to_the_wall_and_a_free_upper_edge_is_a_rake() -> None:
    shed = solve(edits.add_wing(Job(), RECTANGLE, SHED, slope_in_12=3.0, eave_overhang_in=12.0)[0]).roof.planes[0]
    assert kinds(shed) == ["eave", "rake", "wall", "rake"]
    assert shed.name == "main"
    assert shed.plane_length_in == pytest.approx(348.0 * math.hypot(1, 0.25))
    free = edits.add_wing(Job(), RECTANGLE, ["eave", "rake", "rake", "rake"], slope_in_12=3.0, rake_overhang_in=10.0)[0]
    plane = solve(free).roof.planes[0]
    assert plane.plane_length_in == pytest.approx(346.0 * math.hypot(1, 0.25))
    assert plane.width_in == pytest.approx(500.0)


def test_a_hip_comes_out_of_the_same_roof() -> None:
    planes = solve(edits.add_wing(Job(), RECTANGLE, ["eave"] * 4, slope_in_12=6.0)[0]).roof.planes
    assert [plane.name for plane in planes] == ["front main", "right main", "back main", "left main"]
    assert sorted(kinds(planes[0])) == ["eave", "hip", "hip", "ridge"]
    assert sorted(kinds(planes[1])) == ["eave", "hip", "hip"]
    # Regular hip: plan line at 45 degrees, true length per inch of common run is sqrt(2 + m^2) (geometry).
    hip = next(edge for edge in planes[1].edges if edge.kind == "hip")
    assert hip.length_in == pytest.approx(168.0 * math.sqrt(2.25))


def test_an_l_with_hips_has_a_valley() -> None:
    outline = [(0, 0), (480, 0), (480, 240), (240, 240), (240, 480), (0, 480)]
    planes = solve(edits.add_wing(Job(), outline, ["eave"] * 6, slope_in_12=8.0)[0]).roof.planes
    all_kinds = [kind for plane in planes for kind in kinds(plane)]
    assert all_kinds.count("valley") == 2  # one valley, on both of its planes
    assert sum(plane.area_sqft for plane in planes) * 144 == pytest.approx(
        Polygon(outline).area * math.hypot(1, 8 / 12)
    )


def test_unequal_slopes_level_fascia_and_equal_overhang() -> None:
    job, wing = edits.add_wing(Job(), RECTANGLE, GABLE, slope_in_12=4.0, eave_overhang_in=24.0)
    job = edits.set_edge(job, wing, "e3", slope_in_12=8.0)
    front, back = solve(job).roof.planes
    assert min(c[2] for c in front.corners) == pytest.approx(min(c[2] for c in back.corners))
    assert max(c[1] for c in back.corners) == pytest.approx(336.0 + 12.0)  # 24 in at 4 in 12 is 12 in at 8 in 12
    front, back = solve(edits.set_wing(job, wing, fascia="equal_overhang")).roof.planes
    assert max(c[1] for c in back.corners) == pytest.approx(336.0 + 24.0)
    # Top edges meet: the ridge stands where both planes have one height.
    ridge = next(edge for edge in front.edges if edge.kind == "ridge")
    y = ridge.start[1]
    assert 4.0 * y == pytest.approx(8.0 * (336.0 - y))


def test_a_higher_plate_moves_the_ridge() -> None:
    job, wing = edits.add_wing(Job(), RECTANGLE, GABLE, slope_in_12=6.0)
    job = edits.set_edge(job, wing, "e3", plate_in=97.125 + 24.0)
    front, back = solve(job).roof.planes
    ridge = next(edge for edge in front.edges if edge.kind == "ridge")
    # 0.5·y = 24 + 0.5·(336 − y)
    assert ridge.start[1] == pytest.approx(192.0)
    assert top_of(front) == pytest.approx(top_of(back))


@pytest.mark.parametrize("high_end", ["notched", "whole", "face"])
def test_a_landed_roof_passes_through_its_landing(high_end: str) -> None:
    job, wing = edits.add_wing(Job(), RECTANGLE, SHED, heel=Heel(given="hap", hap_in=6.0), eave_overhang_in=16.0)
    job = edits.set_landing(job, wing, find="slope", high_end=high_end, landing_in=250.0, hap_in=5.0, bearing_in=3.5)
    plan = solve(job)
    plane = plan.roof.planes[0]
    bearing_line = 336.0 - (0.0 if high_end == "face" else 3.5)
    over_landing = {
        "notched": 5.0,
        "whole": 7.25 * plane.stretch,
        "face": 0.0,
    }[high_end]
    height = plane.origin[2] + (bearing_line - plane.origin[1]) * plane.tangent
    assert height == pytest.approx(250.0 + over_landing)
    low = plane.origin[2] + (0.0 - plane.origin[1]) * plane.tangent
    assert low == pytest.approx(97.125 + 6.0)


def test_a_gable_landed_on_its_ridge_board() -> None:
    job, wing = edits.add_wing(Job(), RECTANGLE, GABLE, heel=Heel(given="hap", hap_in=6.0))
    job = edits.set_landing(job, wing, find="slope", high_end="ridge", landing_in=200.0)
    planes = solve(job).roof.planes
    # Tops flush at the board's faces: rise over the run less half the board (geometry).
    expected = (200.0 - 97.125 - 6.0) / (168.0 - 0.75)
    assert [plane.tangent for plane in planes] == pytest.approx([expected, expected])


def test_a_found_run_moves_the_wall_and_the_drawing_stays() -> None:
    job, wing = edits.add_wing(Job(), RECTANGLE, SHED, slope_in_12=6.0, heel=Heel(given="hap", hap_in=6.0))
    job = edits.set_landing(job, wing, find="run", high_end="face", landing_in=97.125 + 6.0 + 150.0)
    plan = solve(job)
    assert plan.roof.planes[0].plane_length_in == pytest.approx(300.0 * math.hypot(1, 0.5))
    assert plan.wings[0].outline[2][1] == pytest.approx(300.0)
    assert job.wing(wing).outline[2][1] == 336.0


def test_what_can_not_land_is_a_finding_and_the_roof_is_still_drawn() -> None:
    job, wing = edits.add_wing(Job(), RECTANGLE, SHED)
    job = edits.set_landing(job, wing, find="slope", high_end="face", landing_in=20.0)
    plan = solve(job)
    assert plan.has_errors
    assert [f.code for f in plan.findings if f.severity == "error"] == ["landing-unsolved"]
    assert plan.roof.planes[0].in_12 == pytest.approx(7.0)


def test_a_roof_that_can_not_close_is_a_finding_and_other_wings_go_on() -> None:
    job, _ = edits.add_wing(Job(), RECTANGLE, GABLE)
    odd = [(600.0, 0.0), (900.0, 0.0), (900.0, 300.0), (750.0, 200.0), (600.0, 300.0)]
    job, _ = edits.add_wing(job, odd, ["rake", "rake", "eave", "rake", "rake"])
    plan = solve(job)
    assert {plane.wing for plane in plan.roof.planes} >= {"wing-1"}


def test_wings_that_run_into_each_other_are_joined_and_stacked_ones_are_left() -> None:
    job, _ = edits.add_wing(Job(), RECTANGLE, GABLE)
    across = [(120.0, -200.0), (360.0, -200.0), (360.0, 200.0), (120.0, 200.0)]
    crossing, _ = edits.add_wing(job, across, ["rake", "eave", "rake", "eave"])
    assert "valley" in {kind for plane in solve(crossing).roof.planes for kind in kinds(plane)}
    above, _ = edits.add_wing(job, across, ["rake", "eave", "rake", "eave"], plate_in=400.0)
    assert "valley" not in {kind for plane in solve(above).roof.planes for kind in kinds(plane)}


def test_over_the_price_bracket_is_judged_on_the_slope_to_be_framed() -> None:
    job, wing = edits.add_wing(Job(), RECTANGLE, GABLE, slope_in_12=7.99)
    assert "over-price-bracket" not in [f.code for f in solve(job).findings]
    assert "over-price-bracket" in [f.code for f in solve(edits.set_wing(job, wing, slope_in_12=8.0)).findings]


lengths = st.floats(96.0, 700.0)


@settings(max_examples=60, deadline=None)
@given(
    width=lengths,
    depth=lengths,
    slope=st.floats(1.0, 20.0),
    eave=st.floats(0.0, 36.0),
    rake=st.floats(0.0, 24.0),
    edge_kinds=st.sampled_from(
        [GABLE, SHED, ["eave"] * 4, ["rake", "eave", "rake", "eave"], ["eave", "eave", "eave", "rake"]]
    ),
)
def test_planes_cover_the_outline_once(width, depth, slope, eave, rake, edge_kinds) -> None:
    outline = [(0.0, 0.0), (width, 0.0), (width, depth), (0.0, depth)]
    job, _ = edits.add_wing(
        Job(), outline, edge_kinds, slope_in_12=slope, eave_overhang_in=eave, rake_overhang_in=rake, rafter=Rafter()
    )
    planes = solve(job).roof.planes
    shapes = [Polygon([(c[0], c[1]) for c in plane.corners]) for plane in planes]
    outs = {"eave": eave, "rake": rake, "wall": 0.0}
    bottom, right, top, left = (outs[kind] for kind in edge_kinds)
    whole = (width + left + right) * (depth + bottom + top)
    assert sum(shape.area for shape in shapes) == pytest.approx(whole, rel=1e-9)
    assert unary_union(shapes).area == pytest.approx(whole, rel=1e-6)
    for plane, shape in zip(planes, shapes, strict=True):
        # True area is plan area / cos (geometry).
        assert plane.area_sqft * 144.0 == pytest.approx(shape.area * plane.stretch, rel=1e-9)
        for edge in plane.edges:
            if edge.neighbour is not None:
                other = next(p for p in planes if p.id == edge.neighbour)
                assert any({e.start, e.end} == {edge.start, edge.end} and e.kind == edge.kind for e in other.edges)
