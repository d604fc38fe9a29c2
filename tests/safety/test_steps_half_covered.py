"""A step with a roof behind a part of it is a fall over the rest. Geometry: source is the drawing."""

from __future__ import annotations

from dataclasses import replace

import pytest

from workbench.job import edits
from workbench.job.model import Job
from workbench.measure import Units
from workbench.roof.build import build_roof
from workbench.safety.falls import levels_past

FRONT = [(0.0, 0.0), (480.0, 0.0), (480.0, 120.0), (0.0, 120.0)]


def past(behind_to: float, plate_in: float) -> list[float | None]:
    """Levels past the high edge of a lean-to, 480 in long, with a flat-ended roof behind it up to ``behind_to``."""
    job, _ = edits.add_wing(Job(), FRONT, ["eave", "rake", "wall", "rake"], slope_in_12=4.0, plate_in=97.0)
    back = [(0.0, 120.0), (behind_to, 120.0), (behind_to, 360.0), (0.0, 360.0)]
    job, _ = edits.add_wing(job, back, ["rake", "eave", "rake", "eave"], slope_in_12=4.0, plate_in=plate_in)
    planes = build_roof(job.wings, Units(), job.openings).roof.planes
    own = next(plane for plane in planes if plane.id == "wing-1/e1")
    high = max(own.edges, key=lambda edge: edge.start[2] + edge.end[2])
    return levels_past(planes, replace(high, kind="step", neighbour=None))


def test_a_roof_behind_all_of_it_leaves_no_fall():
    assert past(480.0, 200.0) == []


def test_a_roof_behind_the_middle_alone_leaves_a_fall_over_the_rest():
    levels = past(300.0, 200.0)
    assert levels
    assert set(levels) == {None}
    assert len(levels) == pytest.approx(180.0 / 12.0, abs=3.0)


def test_a_low_roof_behind_is_the_level_below():
    levels = past(480.0, 60.0)
    assert None not in levels
    assert min(level for level in levels if level is not None) < 100.0
