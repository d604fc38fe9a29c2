"""Solved plans for the drawing tests; the building is invented."""

from __future__ import annotations

import pytest

from workbench.job.model import Edge, Job, Landing, Wing
from workbench.plan import solve


def make_wing(outline, kinds, **fields):
    edges = tuple(Edge(id=f"e{i}", kind=kind) for i, kind in enumerate(kinds))
    return Wing(id="main", name="main", outline=outline, edges=edges, **fields)


@pytest.fixture(scope="session")
def gable():
    """40 by 28 ft, 7 in 12, overhangs 16 and 12 in."""
    outline = ((0.0, 0.0), (480.0, 0.0), (480.0, 336.0), (0.0, 336.0))
    wing = make_wing(
        outline, ("eave", "rake", "eave", "rake"), slope_in_12=7.0, eave_overhang_in=16.0, rake_overhang_in=12.0
    )
    return solve(Job(name="Gable (invented)", wings=(wing,)))


@pytest.fixture(scope="session")
def hipped():
    """An L with hips and a valley."""
    outline = ((0.0, 0.0), (240.0, 0.0), (240.0, -120.0), (480.0, -120.0), (480.0, 336.0), (0.0, 336.0))
    wing = make_wing(outline, ("eave",) * 6, slope_in_12=6.62, eave_overhang_in=16.0)
    return solve(Job(name="Hip (invented)", wings=(wing,)))


@pytest.fixture(scope="session")
def shed():
    """A single plane whose rafters land whole on blocks; the slope is found."""
    outline = ((0.0, 0.0), (240.0, 0.0), (240.0, 162.5), (0.0, 162.5))
    landing = Landing(find="slope", high_end="whole", landing_in=180.0)
    wing = make_wing(outline, ("eave", "rake", "wall", "rake"), eave_overhang_in=12.0, landing=landing)
    return solve(Job(name="Shed (invented)", wings=(wing,)))
