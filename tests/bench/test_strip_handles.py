"""Handles of the section strip: where they stand, and what value a drag means; no window needed."""

from __future__ import annotations

import math

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from shapely.geometry import Point, Polygon

from workbench.bench.strip.changes import with_unknown, with_value
from workbench.bench.strip.handles import bracket_wedge, dragged_value, handles, nudged_value, pivot, step_of
from workbench.bench.strip.layout import GAP, fit, stack
from workbench.bench.strip.measures import Cut, Measurable, cut_of, measures, value_of
from workbench.bench.strip.words import bracket_words, brackets_shown, hint_for
from workbench.drawing.section import rafter_profile
from workbench.job import edits
from workbench.job.model import Job, PriceBracket
from workbench.job.model import Units as JobUnits
from workbench.plan import solve

SHED = ((0.0, 0.0), (288.0, 0.0), (288.0, 162.5), (0.0, 162.5))
HOUSE = ((0.0, 0.0), (480.0, 0.0), (480.0, 336.0), (0.0, 336.0))


def shed_cut(**landing: object) -> Cut:
    job, wing = edits.add_wing(Job(), SHED, ("eave", "rake", "wall", "rake"), "porch", eave_overhang_in=16.0)
    fields = {"find": "slope", "high_end": "notched", "landing_in": 186.0, "hap_in": 5.0, "bearing_in": 3.5} | landing
    return cut(edits.set_landing(job, wing, **fields))


def gable_cut(slope: float = 7.0) -> Cut:
    job, _ = edits.add_wing(Job(), HOUSE, ("eave", "rake", "eave", "rake"), "main", slope_in_12=slope)
    return cut(job)


def cut(job: Job) -> Cut:
    plan = solve(job)
    found = cut_of(plan, plan.roof.planes[0].id)
    assert found is not None
    return found


def test_one_handle_a_measure_and_only_given_ones_move() -> None:
    shown = shed_cut()
    by_name = {handle.name: handle for handle in handles(shown)}
    assert list(by_name) == [m.name for m in measures(shown)]
    assert not by_name["slope"].movable
    assert not by_name["hap_low"].movable
    assert by_name["landing"].movable


@pytest.mark.parametrize("high_end", ["notched", "whole", "face"])
def test_anchors_stand_on_the_drawn_rafter(high_end: str) -> None:
    """The handles of the top edge lie on the profile that the drawing's own section has."""
    shown = shed_cut(high_end=high_end)
    ring = Polygon(rafter_profile(shown.section, shown.wing).ring)
    for handle in handles(shown):
        if handle.name in ("slope", "tail", "hap_low", "seat", "hap_high"):
            assert ring.exterior.distance(Point(handle.anchor)) < 1e-6, handle.name


DRAGS: list[tuple[Measurable, tuple[float, float]]] = [
    ("low_plate", (3.0, 4.0)),
    ("landing", (-2.0, -5.0)),
    ("run", (6.0, 1.0)),
    ("seat", (-0.5, 3.0)),
    ("tail", (-4.0, 2.0)),
    ("hap_high", (0.0, 0.25)),
]


@pytest.mark.parametrize(("name", "by"), DRAGS)
def test_dragging_changes_the_measure_by_the_movement_along_its_axis(name: Measurable, by: tuple[float, float]) -> None:
    shown = shed_cut()
    handle = next(h for h in handles(shown) if h.name == name)
    start = (handle.anchor[0] + 0.3, handle.anchor[1] - 0.2)
    value = dragged_value(shown, handle, start, (start[0] + by[0], start[1] + by[1]), shown.job)
    moved = by[0] if handle.axis == "level" else by[1]
    expected = value_of(shown, name) + (-moved if name == "tail" else moved)
    assert value == pytest.approx(expected, abs=1 / 32)
    assert math.isclose(value * 16, round(value * 16), abs_tol=1e-9)


@given(st.floats(1.0, 12.0), st.floats(60.0, 160.0))
@settings(max_examples=40, deadline=None)
def test_turning_the_rafter_puts_its_top_edge_under_the_pointer(wanted: float, x: float) -> None:
    shown = gable_cut()
    handle = next(h for h in handles(shown) if h.name == "slope")
    x0, y0 = pivot(shown)
    start = (x, y0 + (x - x0) * shown.section.answer.tangent)
    in_12 = dragged_value(shown, handle, start, (x, y0 + (x - x0) * wanted / 12.0), shown.job)
    assert in_12 == pytest.approx(wanted, abs=0.061)


def test_a_whole_slope_holds_the_rafter_when_it_comes_near() -> None:
    shown = gable_cut()
    handle = next(h for h in handles(shown) if h.name == "slope")
    (x0, y0), x = pivot(shown), 100.0
    start = (x, y0 + (x - x0) * 7.0 / 12.0)
    assert dragged_value(shown, handle, start, (x, y0 + (x - x0) * 8.04 / 12.0), shown.job) == 8.0


def test_turning_about_the_high_end_when_the_low_plate_is_to_find() -> None:
    shown = cut(with_unknown(shed_cut(), "low_plate"))
    x0, y0 = pivot(shown)
    steeper = cut(with_value(shown, "slope", 9.0))
    assert x0 == pytest.approx(159.0)
    assert pivot(steeper)[1] == pytest.approx(y0)
    handle = next(h for h in handles(shown) if h.name == "slope")
    start = (40.0, y0 + (40.0 - x0) * shown.section.answer.tangent)
    assert dragged_value(shown, handle, start, (40.0, y0 + (40.0 - x0) * 9.0 / 12.0), shown.job) == pytest.approx(9.0)


def test_nudges_land_on_the_tape_first() -> None:
    shown = cut(with_value(shed_cut(), "landing", 186.03))
    assert nudged_value(shown, "landing", 1, shown.job) == pytest.approx(186.0625)
    assert nudged_value(shown, "landing", -1, shown.job) == pytest.approx(186.0)
    assert nudged_value(shown, "landing", 1, shown.job, whole=True) == pytest.approx(187.0)


def test_steps_are_millimetres_where_the_job_shows_millimetres() -> None:
    job = edits.set_job(shed_cut().job, units=JobUnits(system="mm"))
    assert step_of(job) * 25.4 == pytest.approx(1.0)
    assert step_of(job, whole=True) * 25.4 == pytest.approx(10.0)


def test_overhang_and_seat_can_not_be_dragged_under_nothing() -> None:
    shown = shed_cut()
    for name in ("tail", "seat"):
        handle = next(h for h in handles(shown) if h.name == name)
        far = (400.0, 0.0) if name == "tail" else (-400.0, 0.0)
        assert dragged_value(shown, handle, (0.0, 0.0), far, shown.job) == 0.0


@given(st.floats(2.0, 20.0), st.floats(2.0, 11.9))
@settings(max_examples=40, deadline=None)
def test_the_rafter_is_in_the_wedge_just_when_it_is_as_steep_as_the_bracket(start: float, slope: float) -> None:
    """Points of the top edge against the wedge by shapely: the reference for point in polygon."""
    shown = gable_cut(round(slope, 2))
    answer = shown.section.answer
    low = answer.low_plate_in + answer.hap_low_in
    wedge = Polygon(bracket_wedge(shown, start, 400.0, low + 900.0))
    on_top_edge = Point(50.0, low + 50.0 * answer.tangent)
    if abs(answer.in_12 - start) > 1e-6:
        assert wedge.contains(on_top_edge) == (answer.in_12 > start)


def test_no_wedge_out_of_sight() -> None:
    shown = gable_cut()
    assert bracket_wedge(shown, 8.0, -1.0, 500.0) == ()


@given(st.floats(-50, 50), st.floats(60, 400), st.floats(50, 150), st.floats(160, 400))
@settings(max_examples=40)
def test_fit_is_uniform_fills_one_side_and_goes_back(x0: float, x1: float, y0: float, y1: float) -> None:
    scale = fit((x0, y0, x1, y1), (10.0, 20.0, 700.0, 200.0))
    left, bottom = scale.to_pixels((x0, y0))
    right, top = scale.to_pixels((x1, y1))
    assert (right - left) / (x1 - x0) == pytest.approx((bottom - top) / (y1 - y0))
    assert min(left - 10, top - 20) >= -1e-6
    assert max(right - 710, bottom - 220) <= 1e-6
    assert max((right - left) / 700, (bottom - top) / 200) == pytest.approx(1.0)
    assert scale.to_section(scale.to_pixels((33.0, 99.0))) == pytest.approx((33.0, 99.0))


@given(st.lists(st.tuples(st.floats(-50, 350), st.floats(20, 60)), min_size=1, max_size=5))
@settings(max_examples=60)
def test_stacked_boxes_never_overlap_and_stay_in_the_column_when_they_fit(wanted: list[tuple[float, float]]) -> None:
    wanted = sorted(wanted)
    tops = stack(wanted, 0.0, 330.0)
    for (top, (_, height)), following in zip(zip(tops, wanted, strict=True), tops[1:], strict=False):
        assert following >= top + height + GAP - 1e-6
    assert tops[0] >= -1e-6
    if sum(height + GAP for _, height in wanted) - GAP <= 330.0:
        assert tops[-1] + wanted[-1][1] <= 330.0 + 1e-6


def test_the_bracket_to_get_out_of_comes_before_the_next_above_it() -> None:
    brackets = tuple(PriceBracket(from_in_12=start) for start in (0.0, 8.0, 10.0))
    job = edits.set_job(gable_cut().job, brackets=brackets)
    assert [b.from_in_12 for b in brackets_shown(job, 7.9 / 12)] == [8.0]
    assert [b.from_in_12 for b in brackets_shown(job, 8.0 / 12)] == [8.0, 10.0]
    assert [b.from_in_12 for b in brackets_shown(job, 11.0 / 12)] == [10.0]
    assert bracket_words(brackets_shown(job, 8.0 / 12)[0], 8.0 / 12).startswith("⚠ in the price bracket")


def test_every_measure_has_its_hint_by_its_mark() -> None:
    hints = {m.name: hint_for(m) for m in measures(shed_cut())}
    assert "click its mark" in hints["slope"]
    assert "follows from the others" in hints["hap_low"]
    assert "drag up and down" in hints["landing"]
