"""Alternatives: changes in words of their own, snapshots, promoting without loss; files that hold nonsense."""

from __future__ import annotations

import json

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from msgspec.structs import replace

from workbench.errors import EditError, JobError
from workbench.job import edits
from workbench.job.alternatives import (
    add_alternative,
    alone,
    promote,
    remove_alternative,
    rename_alternative,
    resolved,
    what_differs,
)
from workbench.job.change import change_words, changed, value_of
from workbench.job.inputs import INPUTS, JOB_INPUTS, Change
from workbench.job.model import Alternative, Job
from workbench.job.read import parse_job
from workbench.job.write import dump_job
from workbench.measure import Units

OUTLINE = [(0.0, 0.0), (480.0, 0.0), (480.0, 336.0), (0.0, 336.0)]
UNITS = Units()


@pytest.fixture
def house() -> Job:
    job, _ = edits.add_wing(Job(name="House"), OUTLINE, ["eave", "rake", "eave", "rake"], slope_in_12=7.0)
    return edits.set_landing(job, "wing-1", find="slope", high_end="notched", landing_in=186.0)


def test_every_input_is_described_and_can_be_read_back_after_a_change(house: Job) -> None:
    assert set(INPUTS) == set(JOB_INPUTS)
    values = {"joins": "overframed", "panel_width_in": 60.0, "panel_length_in": 120.0}
    for name in JOB_INPUTS:
        value = values.get(name, 9.25)
        after = changed(house, [Change(input=name, value=value)])
        assert value_of(after, name, "wing-1") == value
        assert value_of(changed(house, [Change(input=name, value=value, wing="wing-1")]), name, "wing-1") == value


def test_a_slope_that_was_found_is_given_and_the_landing_follows(house: Job) -> None:
    after = changed(house, [Change(input="slope_in_12", value=8.0)])
    assert after.wing("wing-1").slope_in_12 == 8.0
    assert after.wing("wing-1").landing.find == "landing"


def test_a_wing_changed_as_a_whole_leaves_no_edge_behind_but_one_edge_can_go_its_own_way(house: Job) -> None:
    job = edits.set_edge(house, "wing-1", "e1", slope_in_12=4.0, overhang_in=20.0)
    one = changed(job, [Change(input="slope_in_12", value=9.0, wing="wing-1", edge="e3")])
    assert [edge.slope_in_12 for edge in one.wings[0].edges] == [4.0, None, 9.0, None]
    whole = changed(job, [Change(input="slope_in_12", value=9.0), Change(input="rake_overhang_in", value=6.0)])
    assert [edge.slope_in_12 for edge in whole.wings[0].edges] == [None] * 4
    assert whole.wings[0].edges[0].overhang_in == 20.0


@pytest.mark.parametrize(
    "change",
    [
        Change(input="slope_in_12", value=8.0, wing="gone"),
        Change(input="slope_in_12", value="steep"),
        Change(input="slope_in_12", value=-1.0),
        Change(input="spacing_in", value=0.0),
        Change(input="spacing_in", value=16.0, wing="wing-1", edge="gone"),
        Change(input="spacing_in", value=float("nan")),
        Change(input="joins", value="glued"),
    ],
)
def test_a_change_that_can_not_be_made_is_one_sentence(house: Job, change: Change) -> None:
    if change.edge:
        change = replace(change, input="plate_in")
    with pytest.raises(EditError) as caught:
        changed(house, [change])
    assert "\n" not in str(caught.value)


@pytest.mark.parametrize(
    ("change", "words"),
    [
        (Change(input="slope_in_12", value="steep"), 'can\'t be the text "steep"; give a number over 0'),
        (Change(input="joins", value="glued"), 'can\'t be the text "glued"; give "framed" or "overframed"'),
    ],
)
def test_a_wrong_value_is_told_with_what_may_stand_there(house: Job, change: Change, words: str) -> None:
    with pytest.raises(EditError) as caught:
        changed(house, [change])
    assert words in str(caught.value)


def test_a_landing_can_not_be_moved_where_there_is_none() -> None:
    job, _ = edits.add_wing(Job(), OUTLINE, ["eave", "rake", "eave", "rake"])
    with pytest.raises(EditError, match="has a landing"):
        changed(job, [Change(input="landing_in", value=190.0)])


def test_a_snapshot_keeps_the_roof_and_the_job_keeps_its_name(house: Job) -> None:
    job, made = add_alternative(house, "as drawn")
    job = edits.set_job(edits.set_rafter(job, "wing-1", spacing_in=16.0), name="Renamed", revision="C")
    snapshot = resolved(job, job.alternatives[0])
    assert made == "alternative-1"
    assert snapshot.wing("wing-1").rafter.spacing_in == house.wing("wing-1").rafter.spacing_in == 24.0
    assert (snapshot.name, snapshot.revision, snapshot.alternatives) == ("Renamed", "C", ())


def test_promoting_swaps_and_promoting_again_swaps_back(house: Job) -> None:
    job, made = add_alternative(house, "8 in 12", [Change(input="slope_in_12", value=8.0)])
    job, other = add_alternative(job, "16 on centre", [Change(input="spacing_in", value=16.0)])
    before = resolved(job, job.alternatives[1])
    promoted = promote(job, made)
    assert promoted.wing("wing-1").slope_in_12 == 8.0
    assert promoted.alternatives[0].name == "As it was before"
    # The other one is what it was, though the job under it is another now.
    assert resolved(promoted, promoted.alternatives[1]) == before
    back = promote(promoted, made)
    assert alone(back) == alone(job)
    assert promote(promoted, other).alternatives[1].name == "As it was before 2"


def test_names_are_needed_and_unknown_ones_refused(house: Job) -> None:
    job, made = add_alternative(house, " steep ", [Change(input="slope_in_12", value=8.0)])
    assert job.alternatives[0].name == "steep"
    assert rename_alternative(job, made, "steeper").alternatives[0].name == "steeper"
    assert remove_alternative(job, made).alternatives == ()
    for refused in (
        lambda: add_alternative(house, "  "),
        lambda: rename_alternative(job, made, ""),
        lambda: remove_alternative(job, "gone"),
        lambda: promote(job, "gone"),
        lambda: add_alternative(house, "gone", [Change(input="slope_in_12", value=8.0, wing="gone")]),
    ):
        with pytest.raises(EditError):
            refused()


def test_words_say_where_and_from_what_to_what(house: Job) -> None:
    change = Change(input="slope_in_12", value=8.0)
    assert change_words(house, change, UNITS) == "slope 7 in 12 → 8 in 12"
    two, _ = edits.add_wing(house, [(0, 400), (96, 400), (96, 500), (0, 500)], ["eave", "rake", "eave", "rake"], "shed")
    assert change_words(two, change, UNITS).startswith("all wings: slope")
    named = change_words(two, Change(input="plate_in", value=100.0, wing="wing-2"), UNITS)
    assert named == "shed: plate height 8' 1 1/8\" → 8' 4\""
    other = edits.move_corner(edits.set_sheathing(two, panel_length_in=120.0), "wing-2", 0, (1.0, 400.0))
    said = what_differs(two, other, UNITS)
    assert said == ("sheet length 8' 0\" → 10' 0\"", 'wing "shed" changed')
    assert what_differs(two, two, UNITS) == ()


@given(
    st.sampled_from(["slope_in_12", "plate_in", "eave_overhang_in", "spacing_in", "depth_in"]),
    st.floats(2.0, 20.0),
)
@settings(max_examples=20, deadline=None)
def test_any_change_is_told_by_its_own_words_and_survives_the_file(name: str, value: float) -> None:
    job, _ = edits.add_wing(Job(), OUTLINE, ["eave", "rake", "eave", "rake"])
    job, _ = add_alternative(job, "other", [Change(input=name, value=value)])
    again = parse_job(dump_job(job), "job")
    assert again == job
    other = resolved(again, again.alternatives[0])
    said = what_differs(job, other, UNITS)
    assert said == () if value_of(job, name, "wing-1") == value else len(said) == 1


def test_files_with_broken_alternatives_are_refused_with_the_place(house: Job) -> None:
    nested = Alternative(id="a", name="a", snapshot=replace(house, alternatives=(Alternative(id="b", name="b"),)))
    crossed = replace(house.wings[0], outline=((0.0, 0.0), (10.0, 10.0), (10.0, 0.0), (0.0, 10.0)))
    for alternatives, words in (
        ((Alternative(id="a", name="a"), Alternative(id="a", name="b")), "stands twice"),
        ((nested,), "alternatives of its own"),
        ((Alternative(id="a", name="a", snapshot=replace(house, wings=(crossed,))),), "crosses itself"),
    ):
        with pytest.raises(JobError, match=words):
            parse_job(dump_job(replace(house, alternatives=alternatives)), "job")
    text = json.loads(dump_job(house))
    text["alternatives"] = [{"id": "a", "name": "a", "changes": [{"input": "colour", "value": 1}]}]
    with pytest.raises(JobError, match=r"alternatives\[0\]"):
        parse_job(json.dumps(text).encode(), "job")
