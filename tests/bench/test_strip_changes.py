"""Changes made in the section strip, on the job alone: what is typed or marked is what the section then shows."""

from __future__ import annotations

import math

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from workbench.bench.strip.changes import give_heel, with_given, with_unknown, with_value
from workbench.bench.strip.measures import Cut, Measurable, cut_of, measure, measures, value_of
from workbench.errors import EditError
from workbench.job import edits
from workbench.job.model import Job
from workbench.plan import solve

# An invented porch and an invented house.
SHED = ((0.0, 0.0), (288.0, 0.0), (288.0, 162.5), (0.0, 162.5))
HOUSE = ((0.0, 0.0), (480.0, 0.0), (480.0, 336.0), (0.0, 336.0))


def shed_job() -> Job:
    """One plane from a low wall up to a line of blocks, notched at both ends, the slope to find."""
    job, wing = edits.add_wing(Job(), SHED, ("eave", "rake", "wall", "rake"), "porch", eave_overhang_in=16.0)
    return edits.set_landing(job, wing, find="slope", high_end="notched", landing_in=186.0, hap_in=5.0, bearing_in=3.5)


def gable_job() -> Job:
    """Two equal planes, the slope given."""
    job, _ = edits.add_wing(Job(), HOUSE, ("eave", "rake", "eave", "rake"), "main", eave_overhang_in=12.0)
    return job


def cut(job: Job, number: int = 0) -> Cut:
    """The section through a plane of a job."""
    plan = solve(job)
    found = cut_of(plan, plan.roof.planes[number].id)
    assert found is not None
    return found


def test_marks_of_a_landing_name_one_unknown() -> None:
    marks = {m.name: m.mark for m in measures(cut(shed_job()))}
    assert [name for name, mark in marks.items() if mark == "to find"] == ["slope"]
    assert marks["hap_low"] == "follows"
    assert marks["seat"] == "given"
    assert marks["hap_high"] == "given"


def test_a_plain_gable_gives_the_slope_and_finds_the_ridge() -> None:
    found = {m.name: m for m in measures(cut(gable_job()))}
    assert found["slope"].mark == "given"
    assert found["landing"].mark == "to find"
    assert found["landing"].word == "Ridge top"
    assert "hap_high" not in found


@pytest.mark.parametrize(
    ("name", "value"),
    [("low_plate", 100.25), ("landing", 180.0), ("run", 150.0), ("seat", 2.75), ("hap_high", 4.5), ("tail", 20.0)],
)
def test_a_typed_value_is_what_the_section_shows(name: Measurable, value: float) -> None:
    changed = cut(with_value(cut(shed_job()), name, value))
    assert value_of(changed, name) == pytest.approx(value, abs=1e-9)


@pytest.mark.parametrize("number", [0, 1])
@pytest.mark.parametrize(("name", "value"), [("slope", 8.5), ("run", 150.0), ("low_plate", 120.0), ("tail", 18.0)])
def test_a_typed_value_on_either_side_of_a_gable(number: int, name: Measurable, value: float) -> None:
    changed = cut(with_value(cut(gable_job(), number), name, value), number)
    assert value_of(changed, name) == pytest.approx(value, abs=1e-9)


def test_the_run_under_unequal_slopes_moves_the_wall_by_more_than_the_ridge() -> None:
    job = edits.set_edge(gable_job(), "wing-1", "e3", slope_in_12=10.0)
    changed = cut(with_value(cut(job), "run", 210.0))
    assert value_of(changed, "run") == pytest.approx(210.0, abs=1e-6)


def test_what_is_to_find_can_not_be_typed() -> None:
    with pytest.raises(EditError, match="Slope is to find"):
        with_value(cut(shed_job()), "slope", 7.0)


def test_typing_what_follows_makes_it_the_given_one() -> None:
    changed = cut(with_value(cut(shed_job()), "hap_low", 5.5))
    assert value_of(changed, "hap_low") == pytest.approx(5.5)
    found = measure(changed, "seat")
    assert found is not None
    assert found.mark == "follows"


UNKNOWNS: list[Measurable] = ["slope", "run", "low_plate", "landing", "hap_low", "seat", "hap_high"]


@pytest.mark.parametrize("first", UNKNOWNS)
@pytest.mark.parametrize("second", UNKNOWNS)
def test_changing_the_unknown_moves_nothing(first: Measurable, second: Measurable) -> None:
    before = cut(with_unknown(cut(shed_job()), first))
    after = cut(with_unknown(before, second))
    assert after.unknown == second
    assert after.section.landed
    for each in measures(before):
        assert value_of(after, each.name) == pytest.approx(each.value, abs=1e-6), each.name


def test_giving_the_ridge_height_of_a_gable_makes_the_slope_the_unknown_and_back() -> None:
    first = cut(gable_job())
    second = cut(with_given(first, "landing"))
    assert second.wing.landing is not None
    assert second.wing.landing.find == "slope"
    assert second.section.answer.tangent == pytest.approx(7.0 / 12.0)
    raised = cut(with_value(second, "landing", value_of(second, "landing") + 14.0))
    assert raised.section.answer.in_12 > 7.9
    back = cut(with_given(raised, "slope"))
    assert back.wing.landing is None
    assert value_of(back, "slope") == pytest.approx(raised.section.answer.in_12)


@settings(max_examples=25, deadline=None)
@given(st.floats(90.0, 220.0), st.floats(4.0, 7.0))
def test_found_run_lands_where_the_slope_meets_the_blocks(landing: float, slope: float) -> None:
    job = edits.set_landing(shed_job(), "wing-1", find="run", landing_in=landing + 60.0)
    section = cut(edits.set_wing(job, "wing-1", slope_in_12=slope)).section
    answer = section.answer
    rise = answer.landing_in + answer.hap_high_in - answer.low_plate_in - answer.hap_low_in
    assert section.landed
    assert rise / section.answer.run_in == pytest.approx(slope / 12.0)


def test_a_landing_without_an_answer_keeps_the_numbers_of_the_job() -> None:
    shown = cut(edits.set_landing(shed_job(), "wing-1", landing_in=40.0))
    assert shown.unsolved
    assert value_of(shown, "landing") == 40.0
    assert value_of(shown, "run") == pytest.approx(162.5 - 3.5)
    assert shown.unknown == "slope"
    mended = cut(with_value(shown, "landing", 186.0))
    assert mended.section.landed


def test_a_hip_end_can_not_be_given_the_landing_of_the_main_span() -> None:
    job, _ = edits.add_wing(Job(), HOUSE, ("eave", "eave", "eave", "eave"), "house")
    plan = solve(job)
    end = next(plane for plane in plan.roof.planes if plane.drawn == "e2")
    found = cut_of(plan, end.id)
    assert found is not None
    assert not found.can_land
    with pytest.raises(EditError, match="nothing else can be found here"):
        with_unknown(found, "run")


def test_sides_of_a_landing_at_a_ridge_stay_alike() -> None:
    job = edits.set_edge(edits.set_edge(gable_job(), "wing-1", "e1", plate_in=97.125), "wing-1", "e3", plate_in=97.125)
    landed = cut(with_given(cut(job), "landing"))
    changed = cut(with_value(landed, "low_plate", 101.0))
    assert changed.section.landed
    assert {edge.plate_in for edge in changed.wing.edges if edge.kind == "eave"} == {101.0}


def test_the_heel_that_is_to_find_can_not_be_made_to_follow() -> None:
    found = cut(with_unknown(cut(shed_job()), "seat"))
    with pytest.raises(EditError, match="Seat is to find"):
        give_heel(found, "hap_low")


def test_negative_overhang_is_refused_in_one_sentence() -> None:
    with pytest.raises(EditError, match="Overhang can't be less than 0"):
        with_value(cut(shed_job()), "tail", -1.0)
    assert math.isclose(value_of(cut(shed_job()), "tail"), 16.0)
