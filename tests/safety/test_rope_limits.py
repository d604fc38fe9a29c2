"""Permitted ropes: against the geometry library in one plane, against a numeric search over ridges and hips."""

from __future__ import annotations

import math

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.optimize import minimize_scalar
from shapely import LineString, Point

from workbench.job.edits import set_wing
from workbench.job.safety_edits import add_anchor, set_anchor, set_ground, set_guard, set_safety
from workbench.measure import Units
from workbench.measure.parse import parse_length
from workbench.safety.ropes import rope_to_buy
from workbench.safety.words import anchor_words, at_most, rope_words

UNITS = Units()

ALLOWED = 60.0 + 12.0 + 12.0 + 6.0  # the defaults: reach, stretch, grab travel, anchor movement


def limits_by_name(anchor):
    return {limit.fall.name: limit for limit in anchor.limits}


def over_one_fold(a, fold, b):
    """Shortest way from a to b over a fold, both in space, by numeric search (scipy.optimize): nothing is unfolded."""
    p, q = (np.array(end) for end in fold)

    def length(t):
        corner = p + t * (q - p)
        return math.dist(a, corner) + math.dist(corner, b)

    return minimize_scalar(length, bounds=(0.0, 1.0), method="bounded", options={"xatol": 1e-10}).fun


@given(st.floats(5.0, 475.0), st.floats(1.0, 160.0), st.floats(2.0, 14.0))
@settings(max_examples=40)
def test_in_one_plane_a_limit_is_the_distance_less_the_allowances(build, x, y, in_12):
    job, _ = add_anchor(build.gable(slope_in_12=in_12), "wing-1/e1", x_in=x, y_in=min(y, 140.0))
    plane = build.roof_of(job).plane("wing-1/e1")
    anchor = build.safety_of(job).anchors[0]
    found = limits_by_name(anchor)
    corners = plane.polygon
    for name, i in (("eave of front main", 0), ("right rake of front main", 1), ("left rake of front main", 3)):
        edge = LineString([corners[i], corners[(i + 1) % 4]])
        expected = edge.distance(Point(anchor.point))  # shapely
        assert found[name].distance_in == pytest.approx(expected, abs=1e-6)
        assert found[name].total_in == pytest.approx(expected - ALLOWED, abs=1e-6)
    assert anchor.limits == tuple(sorted(anchor.limits, key=lambda limit: round(limit.total_in, 6)))
    assert anchor.governs is anchor.limits[0]


@given(st.floats(20.0, 460.0), st.floats(20.0, 150.0), st.floats(3.0, 12.0))
@settings(max_examples=6)
def test_over_the_ridge_the_far_eave_is_as_far_as_the_shortest_way_over_it(build, x, y, in_12):
    job, _ = add_anchor(build.gable(slope_in_12=in_12), "wing-1/e1", x_in=x, y_in=y)
    roof = build.roof_of(job)
    near, far = roof.plane("wing-1/e1"), roof.plane("wing-1/e3")
    ridge = next((edge.start, edge.end) for edge in near.edges if edge.kind == "ridge")
    anchor = build.safety_of(job).anchors[0]
    start, found = anchor.space, limits_by_name(anchor)["eave of back main"]
    points = [far.to_space((t * 480.0, 0.0)) for t in np.linspace(0.0, 1.0, 241)]
    assert found.distance_in == pytest.approx(min(over_one_fold(start, ridge, p) for p in points), abs=0.02)
    assert not found.straight


def test_over_a_hip_the_next_eave_is_measured_by_unfolding(build):
    job, _ = add_anchor(build.hip(slope_in_12=6.0), "wing-1/e1", x_in=150.0, y_in=120.0)
    roof = build.roof_of(job)
    front, right = roof.plane("wing-1/e1"), roof.plane("wing-1/e4")
    fold = next((edge.start, edge.end) for edge in front.edges if edge.neighbour == right.id)
    start = front.to_space((150.0, 120.0))
    eave = next(edge for edge in right.edges if edge.kind == "eave")
    points = [np.array(eave.start) + t * (np.array(eave.end) - np.array(eave.start)) for t in np.linspace(0, 1, 289)]
    found = limits_by_name(build.safety_of(job).anchors[0])["eave of left main"]
    assert not found.straight
    assert found.distance_in == pytest.approx(min(over_one_fold(start, fold, tuple(p)) for p in points), abs=0.05)
    assert found.distance_in > min(math.dist(start, p) for p in points) + 1.0  # the straight line runs under the roof


def test_across_a_valley_the_straight_distance_in_space_is_the_limit(build):
    job, _ = add_anchor(build.ell(slope_in_12=8.0), "wing-1/e3", x_in=60.0, y_in=60.0)
    roof = build.roof_of(job)
    mine = roof.plane("wing-1/e3")
    start = mine.to_space((60.0, 60.0))
    anchor = build.safety_of(job).anchors[0]
    other = roof.plane("wing-1/e4")
    eave = next(edge for edge in other.edges if edge.kind == "eave")
    points = [np.array(eave.start) + t * (np.array(eave.end) - np.array(eave.start)) for t in np.linspace(0, 1, 2001)]
    found = next(limit for limit in anchor.limits if limit.fall.plane == other.id and limit.fall.kind == "eave")
    assert found.straight
    assert found.distance_in == pytest.approx(min(math.dist(start, p) for p in points), abs=0.02)
    valley = next((edge.start, edge.end) for edge in mine.edges if edge.neighbour == other.id)
    assert found.distance_in < min(over_one_fold(start, valley, tuple(p)) for p in points[::20])
    assert "leaves the roof" in found.trace.values


@given(st.floats(10.0, 470.0), st.floats(5.0, 155.0))
@settings(max_examples=8)
def test_no_limit_is_longer_than_the_way_over_the_roof_and_none_shorter_than_straight(build, x, y):
    """Whatever the fold: straight in space ≤ measured ≤ the shortest way over one fold."""
    job, _ = add_anchor(build.hip(slope_in_12=9.0), "wing-1/e1", x_in=x, y_in=y)
    roof = build.roof_of(job)
    anchor = build.safety_of(job).anchors[0]
    if not anchor.plane:
        return
    front = roof.plane("wing-1/e1")
    for limit in anchor.limits:
        a, b = np.array(limit.fall.start), np.array(limit.fall.end)
        points = [tuple(a + t * (b - a)) for t in np.linspace(0, 1, 61)]
        assert limit.distance_in >= min(math.dist(anchor.space, p) for p in points) - 2.5
        folds = [(e.start, e.end) for e in front.edges if e.neighbour == limit.fall.plane]
        if folds:
            assert limit.distance_in <= min(over_one_fold(anchor.space, folds[0], p) for p in points) + 1e-6


def test_an_anchor_on_the_ridge_follows_the_ridge_when_the_slope_changes(build):
    job, anchor_id = add_anchor(build.gable(slope_in_12=4.0), "wing-1/e1", x_in=240.0)
    for in_12 in (4.0, 9.0):
        steeper = set_wing(job, "wing-1", slope_in_12=in_12)
        anchor = build.safety_of(steeper).anchor(anchor_id)
        ridge = max(y for _, y in build.roof_of(steeper).plane("wing-1/e1").polygon)
        assert anchor.point == pytest.approx((240.0, ridge))


def test_a_guarded_eave_is_no_edge_and_an_unguarded_deck_is(build):
    job, _ = add_anchor(build.gable(), "wing-1/e1", x_in=240.0)
    for faults in ({"guarded": False}, {"wide": False}, {"strong": False}, {"drop_in": 72.0}):
        given = {"kind": "deck", "guarded": True, "wide": True, "strong": True, "drop_in": 30.0, **faults}
        plan = build.safety_of(set_guard(job, "wing-1/e1", **given))
        assert "eave of front main" in limits_by_name(plan.anchors[0])
        assert any(finding.code == "guard-not-counted" for finding in plan.findings)
    good = set_guard(job, "wing-1/e1", kind="deck", guarded=True, wide=True, strong=True, drop_in=30.0)
    plan = build.safety_of(good)
    assert "eave of front main" not in limits_by_name(plan.anchors[0])
    assert not any(finding.code == "guard-not-counted" for finding in plan.findings)


def test_only_the_eave_limits_and_it_is_said(build):
    job, _ = add_anchor(build.gable(), "wing-1/e1", x_in=60.0)
    plan = build.safety_of(job, restrain="eaves")
    anchor = plan.anchors[0]
    assert anchor.governs.fall.kind == "eave"
    assert any("NOT restrain" in finding.text for finding in plan.findings)
    assert {exposure.fall.name for exposure in anchor.exposed} == {"left rake of front main", "right rake of back main"}


def test_near_a_rake_no_length_is_left_and_it_is_said(build):
    job, _ = add_anchor(build.gable(), "wing-1/e1", x_in=40.0)
    plan = build.safety_of(job)
    anchor = plan.anchors[0]
    assert anchor.set_in == 0.0
    assert anchor.served == ()
    assert anchor.limits[0].total_in == pytest.approx(40.0 - ALLOWED)
    assert "rope-no-length" in {finding.code for finding in plan.findings}


def test_a_tied_rope_that_is_too_long_is_told_with_the_edges_it_passes(build):
    job, anchor_id = add_anchor(build.gable(), "wing-1/e1", x_in=240.0)
    plan = build.safety_of(set_anchor(job, anchor_id, rope_in=300.0))
    assert {"rope-too-long", "rake-not-restrained"} <= {finding.code for finding in plan.findings}
    assert plan.anchors[0].set_in == 324.0


def test_bare_rafters_under_an_anchor_leave_nothing(build):
    job, _ = add_anchor(build.gable(), "wing-1/e1", x_in=240.0, valid_from="framed")
    plan = build.safety_of(job, stage="framed")
    assert plan.anchors[0].governs.fall.kind == "bare_rafters"
    assert plan.anchors[0].governs.distance_in == 0.0
    assert plan.anchors[0].set_in == 0.0


def test_an_anchor_counts_only_from_its_stage_of_work(build):
    job, _ = add_anchor(build.gable(), "wing-1/e1", x_in=240.0, valid_from="sheathed")
    plan = build.safety_of(job, stage="framed")
    assert not plan.anchors[0].built
    assert "anchor-not-built" in {finding.code for finding in plan.findings}
    assert build.safety_of(job, stage="sheathed").planes[0].share > 0.0


def test_a_rope_tied_too_long_never_stands_as_what_is_permitted(build):
    job, _ = add_anchor(build.gable(), "wing-1/e1", x_in=240.0)
    (free,) = build.safety_of(job).anchors
    assert not free.too_long and free.rope_in == free.permitted_in > 0.0
    tied, _ = add_anchor(build.gable(), "wing-1/e1", x_in=240.0, rope_in=free.permitted_in + 60.0)
    (long,) = build.safety_of(tied).anchors
    assert long.too_long and long.permitted_in == pytest.approx(free.permitted_in)
    words = rope_words(long, UNITS)
    assert words.startswith(at_most(free.permitted_in, UNITS)) and "TOO LONG" in words
    assert f"stop it at {at_most(free.permitted_in, UNITS)}" in anchor_words(long, UNITS)
    short, _ = add_anchor(build.gable(), "wing-1/e1", x_in=240.0, rope_in=free.permitted_in - 6.0)
    (short,) = build.safety_of(short).anchors
    assert not short.too_long and rope_words(short, UNITS) == at_most(short.rope_in, UNITS)


@pytest.mark.parametrize("units", [UNITS, Units(system="mm")])
def test_a_rope_is_never_shown_longer_than_it_may_be(build, units):
    """To the nearest 1/16 in or mm it could be shown up to half of that too long."""
    for k in range(12):
        x = 240.0 - 11.0 * k / 7.0
        job, _ = add_anchor(build.gable(), "wing-1/e1", x_in=x, rope_in=None)
        (anchor,) = build.safety_of(job, stretch_in=12.0 + 0.007 * k).anchors
        shown = parse_length(at_most(anchor.rope_in, units))
        assert anchor.rope_in - 1.0 / 16.0 < shown <= anchor.rope_in + 1e-5
        assert rope_words(anchor, units) == at_most(anchor.rope_in, units)


def test_an_anchor_off_the_roof_is_an_error_in_one_sentence(build):
    job, _ = add_anchor(build.gable(), "wing-1/e1", x_in=480.0 + 36.0)
    plan = build.safety_of(job)
    found = [finding for finding in plan.findings if finding.code == "anchor-off-roof"]
    assert [finding.severity for finding in found] == ["error"]
    assert "3' 0\" off the roof" in found[0].text
    assert plan.anchors[0].plane == ""


def test_every_limit_says_how_it_was_found(build):
    job, _ = add_anchor(build.gable(), "wing-1/e1", x_in=240.0)
    for limit in build.safety_of(job).anchors[0].limits:
        assert "reach" in limit.trace.formula
        assert limit.trace.value == limit.total_in
        assert limit.trace.source


def test_the_rope_to_buy_is_the_longest_that_is_not_too_long():
    """Ropes of 25, 50 and 75 ft; 31 ft are allowed, with 2 ft of lanyard, and the eave is 40 ft down."""
    bought = rope_to_buy((900.0, 300.0, 600.0), 372.0, 24.0, 480.0)
    assert bought.length_in == 300.0
    assert bought.next_in == 600.0
    assert bought.next_hangs_in == pytest.approx(600.0 + 24.0 - 480.0)
    assert rope_to_buy((300.0,), 299.0, 24.0, 480.0).length_in is None
    assert rope_to_buy((300.0,), 301.0, 24.0, 480.0).next_in is None


def test_ground_lines_do_not_change_how_long_a_rope_may_be(build):
    job, _ = add_anchor(build.gable(), "wing-1/e1", x_in=240.0)
    plan = build.safety_of(set_ground(job, "wing-1/e1", -60.0, -24.0))
    assert plan.anchors[0].set_in == build.safety_of(job).anchors[0].set_in
    assert build.safety_of(set_safety(job, reach_in=72.0)).anchors[0].set_in == plan.anchors[0].set_in - 12.0


def test_anchors_that_are_not_arrest_grade_are_told_together(build):
    """OSHA letter of interpretation of 30 May 1996: on a slope the anchors of restraint are to be those of arrest."""
    job = build.gable()
    for x in (100.0, 200.0, 300.0):
        job, last = add_anchor(job, "wing-1/e1", x_in=x)
    found = [f for f in build.safety_of(job).findings if f.code == "anchor-rating"]
    assert len(found) == 1
    assert "A-1, A-2, A-3" in found[0].text
    assert "30 May 1996" in found[0].source
    rated = build.safety_of(set_anchor(set_anchor(job, last, rated="arrest"), "A-1", rated="restraint"))
    assert sum(f.code == "anchor-rating" for f in rated.findings) == 2
