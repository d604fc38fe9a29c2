"""Where jacks meet hips and valleys: the framing square's figure a foot of run, and geometry by shapely."""

from __future__ import annotations

import math
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from shapely.geometry import LineString

from workbench.framing.solve import frame_roof
from workbench.job.edits import add_wing
from workbench.job.model import Job
from workbench.job.read import read_job
from workbench.measure import Units
from workbench.roof.build import build_roof
from workbench.site.jacks import jack_sticks

UNITS = Units()
BOX = ((0, 0), (480, 0), (480, 336), (0, 336))
L_HOUSE = Path(__file__).parents[2] / "sample_jobs" / "l-house.json"


def _solved(slope: float, overhang: float = 0.0):
    job = add_wing(Job(), BOX, ("eave",) * 4, slope_in_12=slope, eave_overhang_in=overhang)[0]
    built = build_roof(job.wings, UNITS)
    return built, frame_roof(built.wings, UNITS)[0]


@pytest.mark.parametrize(("rise", "per_foot"), [(6, 18.00), (7, 18.36), (8, 18.76), (9, 19.21), (12, 20.78)])
def test_jacks_step_along_the_hip_by_the_square(rise: int, per_foot: float) -> None:
    """Hip length a foot of common run times the spacing: 18.36 at 7, 18.76 at 8, 19.21 at 9 in US Navy Builder 3&2
    Volume 2, NAVEDTRA 14044; 20.78 at 12 in Griffith, Carpentry; 18.00 at 6 is exact arithmetic."""
    built, framing = _solved(rise)
    (stick,) = jack_sticks(framing, built.roof.planes)
    assert (stick.kind, stick.count) == ("hip", 4)
    steps = [b[0] - a[0] for a, b in zip(stick.marks, stick.marks[1:])]
    # 24 in on centre: two feet of run.
    assert steps == pytest.approx([2.0 * per_foot] * len(steps), abs=0.011)


@settings(max_examples=20, deadline=None)
@given(slope=st.floats(3.0, 16.0), overhang=st.floats(0.0, 24.0))
def test_every_hip_jack_meets_its_hip_where_it_is_marked(slope: float, overhang: float) -> None:
    built, framing = _solved(slope, overhang)
    (stick,) = jack_sticks(framing, built.roof.planes)
    hip = next(m for m in framing.members if m.kind == "hip_rafter")
    place = hip.placements[0]
    low, high = place.start, place.end
    line = LineString([low[:2], high[:2]])
    stretch = math.dist(low, high) / math.dist(low[:2], high[:2])
    expected = set()
    for jack in (m for m in framing.members if m.kind == "hip_jack"):
        for one in jack.placements:
            along = (one.end[0] - one.start[0], one.end[1] - one.start[1])
            length = math.hypot(*along)
            on = (one.end[0] + along[0] / length * 4.0, one.end[1] + along[1] / length * 4.0)
            crossing = LineString([one.start[:2], on]).intersection(line)
            if not crossing.is_empty:
                expected.add(round(line.project(crossing) * stretch, 6))
    assert [s for s, _ in stick.marks] == pytest.approx(sorted(expected), abs=1e-4)
    assert stick.length_in == pytest.approx(math.dist(low, high))


def test_both_sides_are_named_where_two_jacks_meet_in_one_point() -> None:
    job = read_job(L_HOUSE)
    built = build_roof(job.wings, UNITS)
    sticks = jack_sticks(frame_roof(built.wings, UNITS)[0], built.roof.planes)
    assert {stick.kind for stick in sticks} == {"hip", "valley"}
    assert any(" and " in mark for stick in sticks for _, mark in stick.marks)
    for stick in sticks:
        lines = [s for s, _ in stick.marks]
        assert lines == sorted(lines)
        assert 0.0 < lines[0] < lines[-1] < stick.length_in


def test_a_gable_has_none() -> None:
    job = add_wing(Job(), BOX, ("eave", "rake", "eave", "rake"))[0]
    built = build_roof(job.wings, UNITS)
    assert jack_sticks(frame_roof(built.wings, UNITS)[0], built.roof.planes) == ()
