"""Edits give a new job or one sentence; the old job never changes."""

from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from workbench.errors import EditError
from workbench.job import edits
from workbench.job.model import Job
from workbench.job.validate import signed_area

RECTANGLE = [(0.0, 0.0), (480.0, 0.0), (480.0, 336.0), (0.0, 336.0)]
KINDS = ["eave", "rake", "eave", "rake"]


@pytest.fixture
def job() -> Job:
    return edits.add_wing(Job(), RECTANGLE, KINDS)[0]


def test_a_clockwise_outline_is_turned_with_its_edge_kinds() -> None:
    job, wing_id = edits.add_wing(Job(), RECTANGLE[::-1], ["eave", "rake", "wall", "rake"])
    wing = job.wing(wing_id)
    assert signed_area(wing.outline) > 0
    corners = wing.outline
    kinds = {frozenset((corners[i], corners[(i + 1) % 4])): edge.kind for i, edge in enumerate(wing.edges)}
    assert kinds[frozenset(((480.0, 336.0), (0.0, 336.0)))] == "eave"
    assert kinds[frozenset(((480.0, 0.0), (0.0, 0.0)))] == "wall"


def test_ids_stay_when_another_wing_goes(job: Job) -> None:
    job, second = edits.add_wing(job, [(x + 600, y) for x, y in RECTANGLE], KINDS)
    first = job.wings[0].id
    job = edits.remove_wing(job, first)
    job, third = edits.add_wing(job, RECTANGLE, KINDS)
    assert {wing.id for wing in job.wings} == {second, third}
    assert second != third


def test_moving_an_edge_keeps_its_neighbours_directions(job: Job) -> None:
    wing = edits.move_edge(job, "wing-1", "e3", 24.0).wing("wing-1")
    assert wing.outline == ((0.0, 0.0), (480.0, 0.0), (480.0, 360.0), (0.0, 360.0))


@given(st.floats(-300, 300), st.integers(0, 4))
def test_a_moved_edge_is_parallel_and_as_far_away_as_asked(distance: float, index: int) -> None:
    outline = [(0.0, 0.0), (480.0, 0.0), (560.0, 200.0), (300.0, 460.0), (-40.0, 336.0)]
    moved = edits.moved_edge(outline, index, distance)
    a, b = outline[index], outline[(index + 1) % 5]
    length = math.dist(a, b)
    outward = ((b[1] - a[1]) / length, -(b[0] - a[0]) / length)
    for old, new in ((a, moved[index]), (b, moved[(index + 1) % 5])):
        assert (new[0] - old[0]) * outward[0] + (new[1] - old[1]) * outward[1] == pytest.approx(distance, abs=1e-6)


@pytest.mark.parametrize(
    "edit",
    [
        lambda job: edits.set_wing(job, "wing-1", slope_in_12=0.0),
        lambda job: edits.set_wing(job, "wing-1", slope_in_12=math.nan),
        lambda job: edits.set_wing(job, "wing-1", plate_in=math.inf),
        lambda job: edits.set_wing(job, "wing-1", colour="red"),
        lambda job: edits.set_rafter(job, "wing-1", depth_in=-1.0),
        lambda job: edits.set_edge(job, "wing-1", "e9", kind="rake"),
        lambda job: edits.set_edge(job, "nowhere", "e1", kind="rake"),
        lambda job: edits.move_corner(job, "wing-1", 0, (500.0, 400.0)),
        lambda job: edits.move_edge(job, "wing-1", "e1", -400.0),
        lambda job: edits.set_sheathing(job, gap_in=-0.1),
        lambda job: edits.choose_for_plane(job, "wing-1/e1", rip="left"),
        lambda job: edits.add_wing(job, RECTANGLE[:2], ["eave", "rake"]),
        lambda job: edits.add_wing(job, RECTANGLE, ["rake"] * 4),
        lambda job: edits.add_wing(job, RECTANGLE, ["eave"]),
        lambda job: edits.remove_wing(job, "nowhere"),
    ],
)
def test_what_can_not_be_is_refused_in_one_sentence_and_the_job_stays(job: Job, edit) -> None:
    before = job
    with pytest.raises(EditError) as caught:
        edit(job)
    assert job == before
    text = str(caught.value)
    assert text.endswith(".")
    assert "\n" not in text


def test_the_last_eave_can_not_be_taken(job: Job) -> None:
    job = edits.set_edge(job, "wing-1", "e1", kind="rake")
    with pytest.raises(EditError, match="no eave"):
        edits.set_edge(job, "wing-1", "e3", kind="wall")


def test_a_choice_with_nothing_left_in_it_goes(job: Job) -> None:
    job = edits.choose_for_plane(job, "wing-1/e1", rip="top")
    assert len(job.plane_choices) == 1
    assert edits.choose_for_plane(job, "wing-1/e1", rip=None).plane_choices == ()


def test_landing_begins_with_the_first_field_and_goes_whole(job: Job) -> None:
    landed = edits.set_landing(job, "wing-1", landing_in=200.0)
    assert landed.wing("wing-1").landing.landing_in == 200.0
    assert edits.clear_landing(landed, "wing-1") == job


def test_every_part_of_a_wing_can_be_set(job: Job) -> None:
    """One edit for each part; each gives a job that its file can hold."""
    for change, fields in (
        (edits.set_heel, {"given": "hap", "hap_in": 6.0}),
        (edits.set_rafter, {"tail": "square"}),
        (edits.set_ridge, {"thickness_in": 0.75}),
        (edits.set_hips, {"top": "backed"}),
        (edits.set_trim, {"fascia_in": 0.75}),
        (edits.set_landing, {"landing_in": 200.0}),
    ):
        changed = change(job, "wing-1", **fields)
        assert changed != job
        with pytest.raises(EditError):
            change(job, "wing-1", no_such_field=1)
