"""The plan page under the drawing: scaled, turned and moved as plane geometry by complex numbers says."""

from __future__ import annotations

import cmath
import math
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from workbench.errors import EditError, JobError
from workbench.job.model import Job
from workbench.job.read import read_job
from workbench.job.underlay_edits import (
    beside,
    found_from,
    lay_underlay,
    move_underlay,
    remove_underlay,
    scale_underlay,
    set_underlay,
    turn_underlay,
)
from workbench.job.write import write_job

_PLACE = st.floats(-2_000.0, 2_000.0)
_POINT = st.tuples(_PLACE, _PLACE)


def laid(**fields) -> Job:
    return lay_underlay(Job(), "plans/first floor.pdf", **fields)


def plan_of(job: Job, page: complex) -> complex:
    """Where a point of the page lies on the plan."""
    under = job.underlay
    assert under is not None
    turned = page * under.scale_in * cmath.exp(1j * math.radians(under.turn_deg))
    return complex(under.x_in, under.y_in) + turned


def page_of(job: Job, plan: complex) -> complex:
    under = job.underlay
    assert under is not None
    turn = cmath.exp(1j * math.radians(under.turn_deg))
    return (plan - complex(under.x_in, under.y_in)) / (under.scale_in * turn)


@given(_POINT, _POINT, st.floats(12.0, 1_200.0), st.floats(-180.0, 180.0), st.floats(0.1, 3.0))
def test_after_scaling_two_points_of_the_page_are_the_known_distance_apart(a, b, distance, turn, scale) -> None:
    job = laid(turn_deg=turn, scale_in=scale, x_in=30.0, y_in=-12.0)
    if math.dist(a, b) < 60.0:
        return
    page_a, page_b = page_of(job, complex(*a)), page_of(job, complex(*b))
    after = scale_underlay(job, a, b, distance)
    assert abs(plan_of(after, page_a) - complex(*a)) < 1e-6
    assert abs(abs(plan_of(after, page_a) - plan_of(after, page_b)) - distance) < 1e-6


@given(_POINT, _POINT, st.floats(-180.0, 180.0))
def test_after_turning_the_line_runs_level_or_upright_and_its_first_point_stays(a, b, turn) -> None:
    if math.dist(a, b) < 12.0:
        return
    job = laid(turn_deg=turn, scale_in=0.7, x_in=5.0, y_in=9.0)
    page_a, page_b = page_of(job, complex(*a)), page_of(job, complex(*b))
    after = turn_underlay(job, a, b)
    line = plan_of(after, page_b) - plan_of(after, page_a)
    assert abs(plan_of(after, page_a) - complex(*a)) < 1e-6
    assert min(abs(line.real), abs(line.imag)) < 1e-6 * abs(line) + 1e-6
    swing = math.remainder(math.radians(after.underlay.turn_deg - turn), math.tau)
    assert abs(swing) <= math.pi / 4.0 + 1e-6


def test_what_can_t_be_is_refused_in_a_sentence() -> None:
    with pytest.raises(EditError, match="one spot"):
        scale_underlay(laid(), (1.0, 1.0), (1.0, 1.0), 10.0)
    with pytest.raises(EditError, match="over 0"):
        scale_underlay(laid(), (1.0, 1.0), (5.0, 1.0), 0.0)
    with pytest.raises(EditError, match="one spot"):
        turn_underlay(laid(), (1.0, 1.0), (1.0, 1.0))
    with pytest.raises(EditError, match="no page"):
        move_underlay(Job(), (1.0, 1.0))
    with pytest.raises(EditError):
        set_underlay(laid(), strength=2.0)
    with pytest.raises(EditError):
        set_underlay(laid(), page=0)


def test_moved_and_removed() -> None:
    moved = move_underlay(laid(x_in=10.0, y_in=20.0), (5.0, -5.0)).underlay
    assert moved is not None and (moved.x_in, moved.y_in) == (15.0, 15.0)
    assert remove_underlay(laid()).underlay is None


def test_the_way_to_the_page_is_told_from_the_job_s_folder(tmp_path: Path) -> None:
    page = tmp_path / "plans" / "page.pdf"
    jobs = tmp_path / "jobs"
    jobs.mkdir()
    job = lay_underlay(Job(), page.as_posix())
    kept = beside(job, jobs)
    assert kept.underlay is not None and kept.underlay.path == "../plans/page.pdf"
    write_job(kept, jobs / "a.json")
    again = found_from(read_job(jobs / "a.json"), jobs)
    assert again == job
    assert beside(Job(), jobs) == Job() == found_from(Job(), jobs)


def test_older_files_have_no_page(tmp_path: Path) -> None:
    path = tmp_path / "old.json"
    path.write_text('{"format": "roof-workbench-job", "version": 1}')
    assert read_job(path).underlay is None
    path.write_text('{"format": "roof-workbench-job", "version": 1, "underlay": {"page": 2}}')
    with pytest.raises(JobError, match="path"):
        read_job(path)
