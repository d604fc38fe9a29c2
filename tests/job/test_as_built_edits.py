"""What was measured on site: kept beside the drawing, refused where it has no place, taken over where asked."""

from __future__ import annotations

import msgspec
import pytest
from msgspec.structs import replace

from workbench.errors import EditError, JobError
from workbench.job.as_built import AsBuilt, PlaneMeasured, PlateMeasured, Taped
from workbench.job.as_built_edits import (
    clear_as_built,
    measure_corner,
    measure_plane,
    measure_plate,
    set_gable_walls,
    set_site,
    take_over_outline,
    take_over_plates,
    tape,
)
from workbench.job.edits import add_wing, remove_wing, set_edge
from workbench.job.model import Job
from workbench.job.site import Site
from workbench.job.validate import check_job

BOX = ((0, 0), (480, 0), (480, 336), (0, 336))


def _job(kinds=("eave", "rake", "eave", "rake")) -> Job:
    return add_wing(Job(), BOX, kinds)[0]


def test_a_job_without_readings_reads_as_before() -> None:
    """A file from before there were readings has no such key."""
    plain = msgspec.json.decode(msgspec.json.encode(_job()))
    del plain["site"]
    for wing in plain["wings"]:
        del wing["gable_walls"]
    assert msgspec.convert(plain, Job) == _job()


def test_a_reading_comes_and_goes() -> None:
    job = measure_plate(_job(), "wing-1", "e1", left_in=97.5)
    assert job.site.as_built.plate("wing-1/e1") == PlateMeasured(edge="wing-1/e1", left_in=97.5)
    job = measure_plate(job, "wing-1", "e1", right_in=97.0)
    assert job.site.as_built.plate("wing-1/e1") == PlateMeasured(edge="wing-1/e1", left_in=97.5, right_in=97.0)
    job = measure_plate(job, "wing-1", "e1", left_in=None, right_in=None)
    assert job == _job()


def test_a_corner_between_two_eaves_is_read_once() -> None:
    job = measure_corner(_job(("eave",) * 4), "wing-1", 1, 97.0)
    assert job.site.as_built.plates == (
        PlateMeasured(edge="wing-1/e2", left_in=97.0),
        PlateMeasured(edge="wing-1/e1", right_in=97.0),
    )


def test_a_corner_between_plates_of_two_heights_asks_for_the_eave() -> None:
    job = set_edge(_job(("eave",) * 4), "wing-1", "e2", plate_in=120.0)
    with pytest.raises(EditError, match="two plates meet at different heights"):
        measure_corner(job, "wing-1", 1, 97.0)


def test_a_rake_has_no_plate_to_measure() -> None:
    with pytest.raises(EditError, match="is no eave"):
        measure_plate(_job(), "wing-1", "e2", left_in=97.0)
    job = add_wing(Job(), BOX, ("eave", "rake", "rake", "rake"))[0]
    with pytest.raises(EditError, match="No eave ends at corner 4"):
        measure_corner(job, "wing-1", 3, 97.0)


def test_a_diagonal_is_one_whichever_way_it_was_taped() -> None:
    job = tape(_job(), "wing-1", "e1", "e3", 586.0)
    job = tape(job, "wing-1", "e3", "e1", 585.5)
    assert job.site.as_built.tapes == (Taped(wing="wing-1", start="e3", end="e1", length_in=585.5),)
    assert tape(job, "wing-1", "e1", "e3", None) == _job()
    with pytest.raises(EditError, match='no edge "e9"'):
        tape(job, "wing-1", "e1", "e9", 10.0)


@pytest.mark.parametrize(
    ("as_built", "said"),
    [
        (AsBuilt(plates=(PlateMeasured(edge="a/e1"), PlateMeasured(edge="a/e1"))), "stands twice"),
        (AsBuilt(planes=(PlaneMeasured(plane="a/e1"), PlaneMeasured(plane="a/e1"))), "stands twice"),
        (AsBuilt(tapes=(Taped(wing="a", start="e1", end="e1", length_in=9.0),)), "to itself"),
        (
            AsBuilt(
                tapes=(
                    Taped(wing="a", start="e1", end="e3", length_in=9.0),
                    Taped(wing="a", start="e3", end="e1", length_in=9.0),
                )
            ),
            "two lengths between",
        ),
    ],
)
def test_readings_that_contradict_each_other_are_refused(as_built: AsBuilt, said: str) -> None:
    with pytest.raises(JobError, match=said):
        check_job(Job(site=Site(as_built=as_built)))


def test_readings_go_with_their_wing() -> None:
    job = measure_plate(_job(), "wing-1", "e1", left_in=97.0)
    job = tape(job, "wing-1", "e1", "e3", 586.0)
    job = measure_plane(job, "wing-1/e1", left_in=200.0)
    job = add_wing(job, [(0, 500), (100, 500), (100, 600), (0, 600)], ("eave", "rake", "eave", "rake"))[0]
    assert remove_wing(job, "wing-1").site == Site()
    assert remove_wing(job, "wing-2").site == job.site
    assert clear_as_built(job, "wing-1").site == clear_as_built(job).site == Site()


def test_one_height_for_all_becomes_the_wings_own() -> None:
    job = set_edge(_job(), "wing-1", "e3", plate_in=98.0)
    taken = take_over_plates(job, "wing-1", {"e1": 97.5, "e3": 97.5}).wing("wing-1")
    assert taken.plate_in == 97.5
    assert all(edge.plate_in is None for edge in taken.edges)


def test_heights_of_their_own_stay_with_their_eaves() -> None:
    taken = take_over_plates(_job(), "wing-1", {"e1": 97.5}).wing("wing-1")
    assert taken.plate_in == 97.125
    assert [edge.plate_in for edge in taken.edges] == [97.5, None, None, None]


def test_an_outline_is_taken_over_whole() -> None:
    moved = ((0.0, 0.0), (480.0, 0.0), (480.5, 336.0), (0.5, 336.0))
    assert take_over_outline(_job(), "wing-1", moved).wing("wing-1").outline == moved
    with pytest.raises(EditError, match="one for each"):
        take_over_outline(_job(), "wing-1", moved[:3])


def test_choices_for_the_site() -> None:
    job = set_site(_job(), deck_in=8.0, stick_from="right")
    assert job.site == replace(Site(), deck_in=8.0, stick_from="right")
    walls = set_gable_walls(job, "wing-1", plates=2).wing("wing-1").gable_walls
    assert walls is not None
    assert (walls.plates, walls.spacing_in) == (2, 16.0)
    with pytest.raises(EditError):
        set_gable_walls(job, "wing-1", spacing_in=0.0)
