"""Names of planes stand where the plane is in sight, not under the roof that stands on it."""

from __future__ import annotations

import pytest
from shapely.geometry import Point, Polygon

from workbench.drawing.in_sight import rings_in_sight
from workbench.drawing.primitives import Text
from workbench.drawing.roof_plan import roof_plan
from workbench.job import edits
from workbench.job.model import Job
from workbench.plan import solve

MAIN = [(0, 0), (480, 0), (480, 336), (0, 336)]


def with_dormer(joins: str) -> Job:
    """A gable dormer right over the middle of the front plane."""
    job, _ = edits.add_wing(Job(), MAIN, ["eave", "rake", "eave", "rake"], name="main", slope_in_12=9.0)
    outline = [(180, 20), (300, 20), (300, 160), (180, 160)]
    kinds = ["rake", "eave", "rake", "eave"]
    fields = {"slope_in_12": 9.0, "plate_in": 150.0, "joins": joins}
    return edits.add_wing(job, outline, kinds, name="dormer", **fields)[0]


@pytest.mark.parametrize("joins", ["framed", "overframed"])
def test_no_name_stands_on_a_roof_of_another_wing(joins: str) -> None:
    plan = solve(with_dormer(joins))
    over = [Polygon([c[:2] for c in plane.corners]) for plane in plan.roof.planes if plane.wing == "wing-2"]
    names = [item for item in roof_plan(plan).items if isinstance(item, Text) and item.role == "plane_name"]
    mine = [item for item in names if item.key.startswith("plane:wing-1/")]
    assert len(mine) >= 2
    assert not any(shape.contains(Point(item.at)) for item in mine for shape in over)


def test_planes_with_nothing_above_them_are_left_alone() -> None:
    job, _ = edits.add_wing(Job(), MAIN, ["eave", "rake", "eave", "rake"])
    assert rings_in_sight(solve(job).roof.planes) == {}
    seen = rings_in_sight(solve(with_dormer("overframed")).roof.planes)
    assert list(seen) == ["wing-1/e1"]
    assert rings_in_sight(()) == {}
