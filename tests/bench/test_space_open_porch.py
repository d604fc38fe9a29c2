"""A wing on posts in the 3-D view: beams under its plates and posts at its free corners, no walls."""

from __future__ import annotations

import math

from workbench.bench.space.walls import walls_of
from workbench.job.edits import add_wing, set_wing
from workbench.job.model import Job
from workbench.plan import solve

MAIN = [(0, 0), (480, 0), (480, 336), (0, 336)]
PORCH = [(144, -96), (336, -96), (336, 0), (144, 0)]


def job() -> Job:
    base, _ = add_wing(Job(), MAIN, ["eave", "rake", "eave", "rake"], plate_in=120.0)
    return add_wing(base, PORCH, ["eave", "rake", "wall", "rake"], slope_in_12=2.5, plate_in=84.0)[0]


def walls(of: Job):
    return next(given for given in walls_of(solve(of)) if given.wing.wing == "wing-2").walls()


def width(wall) -> float:
    return math.dist(wall.foot[0][:2], wall.foot[1][:2])


def test_walls_until_it_is_said_that_it_is_open() -> None:
    assert max(width(wall) for wall in walls(job())) == 192.0


def test_posts_and_a_beam() -> None:
    parts = walls(set_wing(job(), "wing-2", stands_on="posts"))
    beams = [part for part in parts if width(part) > 10.0]
    posts = [part for part in parts if width(part) <= 10.0]
    assert [(beam.foot[0][2], beam.top[0][2]) for beam in beams] == [(84.0 - 9.25, 84.0)]
    assert len(posts) == 4  # two faces at each of the two corners away from the house
    assert {corner[1] for post in posts for corner in post.foot} == {-96.0, -90.5}
    assert all(post.foot[0][2] == 0.0 for post in posts)
