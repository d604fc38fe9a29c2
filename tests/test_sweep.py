"""One quantity against the slope: against closed forms of a gable and a single plane (geometry)."""

from __future__ import annotations

import math

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from workbench.job import edits
from workbench.job.change import value_of
from workbench.job.model import Job, PriceBracket
from workbench.plan import solve
from workbench.sweep import SWEPT, at_slope, roofing_price, sweep, sweep_input, usual_slopes, usual_values

HOUSE = ((0.0, 0.0), (480.0, 0.0), (480.0, 336.0), (0.0, 336.0))
SHED = ((0.0, 0.0), (288.0, 0.0), (288.0, 162.5), (0.0, 162.5))
GABLE_EDGES = ("eave", "rake", "eave", "rake")
PRICES = (PriceBracket(from_in_12=0.0, price_per_square=300.0), PriceBracket(from_in_12=8.0, price_per_square=400.0))


def gable() -> Job:
    return edits.add_wing(Job(brackets=PRICES), HOUSE, GABLE_EDGES, "main", eave_overhang_in=12.0)[0]


def shed() -> Job:
    job, wing = edits.add_wing(Job(), SHED, ("eave", "rake", "wall", "rake"), "porch", eave_overhang_in=16.0)
    return edits.set_landing(job, wing, find="slope", high_end="notched", landing_in=186.0, bearing_in=3.5)


@given(st.floats(2.0, 14.0))
@settings(max_examples=20, deadline=None)
def test_area_of_a_gable_is_its_plan_stretched_by_the_slope(in_12: float) -> None:
    (point,) = sweep(gable(), "wing-1", [in_12], "area")
    assert point.value == pytest.approx(480.0 * 360.0 / 144.0 * math.hypot(1.0, in_12 / 12.0))


def test_ridge_of_a_gable_is_where_both_top_edges_meet() -> None:
    job = edits.set_heel(gable(), "wing-1", given="hap", hap_in=6.0)
    for point in sweep(job, "wing-1", [3.0, 7.0, 12.0], "ridge_height"):
        assert point.value == pytest.approx(97.125 + 6.0 + 168.0 * point.at / 12.0)


def test_rafter_of_a_gable_ends_at_the_ridge_board() -> None:
    (point,) = sweep(gable(), "wing-1", [8.0], "rafter_length")
    assert point.value == pytest.approx((168.0 - 0.75 + 12.0) * math.hypot(1.0, 8.0 / 12.0))


def test_the_price_jumps_at_the_bracket_and_not_before() -> None:
    under, at = sweep(gable(), "wing-1", [8.0 - 1e-6, 8.0], "price")
    assert under.value is not None
    assert at.value is not None
    assert at.value / under.value == pytest.approx(4.0 / 3.0, rel=1e-6)


def test_no_price_no_value() -> None:
    job = edits.set_job(gable(), brackets=(PriceBracket(from_in_12=0.0), PRICES[1]))
    assert [point.value is None for point in sweep(job, "wing-1", [7.0, 8.0], "price")] == [True, False]


def test_sheets_are_what_solving_the_job_at_that_slope_buys() -> None:
    for point in sweep(gable(), "wing-1", [5.0, 9.0], "sheets"):
        count = solve(edits.set_wing(gable(), "wing-1", slope_in_12=point.at)).sheathing.count
        assert point.value == (count or None)


def test_a_found_slope_becomes_given_and_its_landing_follows() -> None:
    steeper = solve(at_slope(shed(), "wing-1", 9.0))
    section = steeper.wings[0].sections[0]
    assert section.given.find == "landing"
    assert section.answer.in_12 == pytest.approx(9.0)
    assert section.answer.landing_in > 186.0


def test_another_unknown_stays_the_unknown() -> None:
    job = edits.set_landing(shed(), "wing-1", find="run")
    section = solve(at_slope(job, "wing-1", 6.0)).wings[0].sections[0]
    assert section.given.find == "run"
    assert section.answer.landing_in == 186.0
    longer, shorter = (p.value for p in sweep(job, "wing-1", [5.0, 8.0], "rafter_length"))
    assert longer is not None
    assert shorter is not None
    assert longer > shorter
    answer = section.answer
    (point,) = sweep(job, "wing-1", [6.0], "rafter_length")
    level = 16.0 + answer.run_in + section.past_in
    assert point.value == pytest.approx(level * math.hypot(1.0, 0.5))


def test_slopes_without_an_answer_have_no_value() -> None:
    job = edits.set_landing(shed(), "wing-1", find="run", landing_in=60.0)
    assert [point.value for point in sweep(job, "wing-1", [3.0, 6.0], "area")] == [None, None]


def test_only_the_eave_asked_for_turns_where_eaves_have_their_own() -> None:
    job = edits.set_edge(gable(), "wing-1", "e3", slope_in_12=10.0)
    turned = at_slope(job, "wing-1", 5.0, edge_id="e3")
    assert turned.wing("wing-1").slope_in_12 == 7.0
    assert turned.wing("wing-1").edges[2].slope_in_12 == 5.0
    with pytest.raises(ValueError, match="no edge"):
        at_slope(job, "wing-1", 5.0, edge_id="e2")
    with pytest.raises(KeyError):
        sweep(job, "wing-9", [5.0], "area")


def test_usual_slopes_hold_the_present_one_and_both_sides_of_each_bracket() -> None:
    slopes = usual_slopes(gable(), 6.62)
    assert slopes == tuple(sorted(set(slopes)))
    assert 6.62 in slopes
    assert 8.0 in slopes
    assert any(8.0 - 1e-5 < x < 8.0 for x in slopes)
    assert usual_slopes(gable(), 17.3)[-1] == 18.0


def test_roofing_price_by_the_square() -> None:
    planes = solve(gable()).roof.planes
    squares = sum(plane.area_sqft for plane in planes) / 100.0
    assert roofing_price(planes, PRICES) == pytest.approx(300.0 * squares)


@pytest.mark.parametrize(
    ("name", "quantity", "closed"),
    [
        # Geometry of a gable 40 x 28 ft at 7 in 12, eaves 12 in out: each figure against the input alone.
        ("eave_overhang_in", "area", lambda x: 480.0 * (336.0 + 2.0 * x) / 144.0 * math.hypot(1.0, 7.0 / 12.0)),
        ("rake_overhang_in", "area", lambda x: (480.0 + 2.0 * x) * 360.0 / 144.0 * math.hypot(1.0, 7.0 / 12.0)),
        ("eave_overhang_in", "rafter_length", lambda x: (168.0 - 0.75 + x) * math.hypot(1.0, 7.0 / 12.0)),
        ("spacing_in", "area", lambda x: 480.0 * 360.0 / 144.0 * math.hypot(1.0, 7.0 / 12.0)),
    ],
)
def test_any_input_against_closed_forms(name, quantity, closed) -> None:
    values = usual_values(gable(), "wing-1", name)
    assert len(values) >= 5
    for point in sweep_input(gable(), "wing-1", name, values, quantity):
        assert point.value == pytest.approx(closed(point.at))


def test_plate_and_height_above_it_lift_the_ridge_by_themselves() -> None:
    job = edits.set_heel(gable(), "wing-1", given="hap", hap_in=6.0)
    for name, base in (("plate_in", 6.0), ("hap_in", 97.125)):
        for point in sweep_input(job, "wing-1", name, usual_values(job, "wing-1", name), "ridge_height"):
            assert point.value == pytest.approx(base + point.at + 168.0 * 7.0 / 12.0)


def test_a_sweep_of_the_whole_job_is_what_solving_each_variant_gives() -> None:
    for point in sweep_input(gable(), "wing-1", "spacing_in", (16.0, 24.0), "sheets"):
        assert point.value == solve(edits.set_rafter(gable(), "wing-1", spacing_in=point.at)).sheathing.count
    close, wide = sweep_input(gable(), "wing-1", "spacing_in", (12.0, 24.0), "lumber")
    assert close.value > wide.value
    short, long = sweep_input(gable(), "wing-1", "eave_overhang_in", (0.0, 36.0), "hours")
    assert long.value > short.value


def test_usual_values_hold_the_present_one_and_an_input_that_is_not_there_has_none() -> None:
    for name in SWEPT:
        values = usual_values(gable(), "wing-1", name)
        now = value_of(gable(), name, "wing-1")
        assert list(values) == sorted(values)
        assert now is None or now in values
    assert usual_values(gable(), "wing-1", "landing_in") == ()
    assert len(usual_values(shed(), "wing-1", "landing_in")) > 5
    (point,) = sweep_input(gable(), "wing-1", "spacing_in", (-1.0,), "area")
    assert point.value is None
