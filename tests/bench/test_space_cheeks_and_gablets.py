"""Walls in mid-roof in the 3-D view: a dormer's cheeks as far as they stand out, the wall of a gable over a hip."""

from __future__ import annotations

import math

import pytest
from shapely.geometry import Polygon

from workbench.bench.space.walls import Wall, walls_of
from workbench.job import edits
from workbench.job.model import Job, Upper
from workbench.plan import solve

MAIN = [(0, 0), (480, 0), (480, 336), (0, 336)]


def walls(job: Job, wing: str) -> list[Wall]:
    return next(given for given in walls_of(solve(job)) if given.wing.wing == wing).walls()


def area(wall: Wall) -> float:
    return Polygon(wall.ring).area


def test_a_shed_dormers_cheek_is_the_triangle_over_the_roof() -> None:
    """From the front wall, 30 in high over the roof, back to where roof and plate are level: 30/(9/12) = 40 in."""
    job, _ = edits.add_wing(Job(), MAIN, ["eave", "rake", "eave", "rake"], slope_in_12=9.0, name="main")
    job = edits.set_heel(job, "wing-1", given="hap", hap_in=6.0)
    plate = 97.125 + 6.0 + 30.0 * 9.0 / 12.0 + 30.0
    outline = [(180, 30), (300, 30), (300, 150), (180, 150)]
    job, _ = edits.add_wing(job, outline, ["rake", "eave", "rake", "eave"], slope_in_12=9.0, plate_in=plate)
    cheeks = [wall for wall in walls(job, "wing-2") if wall.edge in (1, 3)]
    assert len(cheeks) == 2
    for cheek in cheeks:
        assert math.dist(cheek.foot[0][:2], cheek.foot[1][:2]) == pytest.approx(40.0, abs=1e-6)
        assert area(cheek) == pytest.approx(30.0 * 40.0 / 2.0, rel=1e-6)


def test_the_wall_of_a_gable_over_a_hip_is_there() -> None:
    """Half as wide as the level foot on either side of the ridge, up to 2 in under the rafters' tops."""
    job, _ = edits.add_wing(Job(), MAIN, ["eave"] * 4, slope_in_12=12.0)
    job = edits.set_heel(job, "wing-1", given="hap", hap_in=6.0)
    for edge in ("e2", "e4"):
        job = edits.set_edge(job, "wing-1", edge, upper=Upper(height_in=66.0, slope_in_12=None))
    plan = solve(job)
    foot = next(e for e in plan.roof.plane("wing-1/e2").edges if e.kind == "wall")  # type: ignore[union-attr]
    gables = [wall for wall in walls(job, "wing-1") if wall.foot[0][2] > 100.0]
    assert len(gables) == 4  # two halves at each end
    mine = [wall for wall in gables if wall.foot[0][0] > 240.0]
    half = foot.length_in / 2.0
    assert sum(map(area, mine)) == pytest.approx(half * (half - 2.0), rel=1e-9)
    assert {round(wall.foot[0][2], 6) for wall in gables} == {round(foot.start[2], 6)}
