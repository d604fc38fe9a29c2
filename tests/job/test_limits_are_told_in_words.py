"""Values past their limits: the sentence is one that a person would say, with no word of the program in it."""

from __future__ import annotations

import pytest

from workbench.errors import EditError
from workbench.job import edits
from workbench.job.model import Job
from workbench.job.read import read_job
from workbench.job.safety_edits import set_safety
from workbench.resources import sample_job_path


@pytest.fixture(scope="module")
def house() -> Job:
    return read_job(sample_job_path("small-house.json"))


def _told(change) -> str:
    with pytest.raises(EditError) as told:
        change()
    return str(told.value)


def test_each_kind_of_limit(house: Job) -> None:
    wing = house.wings[0].id
    assert (
        _told(lambda: edits.set_wing(house, wing, plate_in=99_999.0)) == "Plate has to be at most 12,000 in (1,000 ft)."
    )
    assert _told(lambda: edits.set_rafter(house, wing, depth_in=-1.0)) == "Depth has to be over 0."
    assert _told(lambda: edits.set_sheathing(house, gap_in=3.0)) == "Gap has to be at most 1 in."
    assert _told(lambda: edits.set_wing(house, wing, slope_in_12=0.0)) == "Slope in 12 has to be over 0."
    assert _told(lambda: edits.set_job(house, name="x" * 300)) == "Name has to have at most 120 letters."
    assert _told(lambda: set_safety(house, stack_sheets=0)) == "Stack sheets has to be at least 1."
    assert _told(lambda: set_safety(house, stack_sheets=1.5)) == "Stack sheets is a count; give a whole number."
    assert _told(lambda: set_safety(house, humidity=101.0)) == "Humidity has to be at most 100."
