"""What several tests of joined roofs need: rectangles, shapes in plan, and what every joined roof must keep to."""

from __future__ import annotations

import random
from collections.abc import Callable

import pytest
import shapely
from shapely.geometry import Point, Polygon

from workbench.job.model import Job
from workbench.measure import Units
from workbench.roof.build import BuiltRoof, build_roof, build_wing
from workbench.roof.model import Plane, PlaneEdge


def plan_shape(plane: Plane) -> Polygon:
    return Polygon([corner[:2] for corner in plane.corners], [[c[:2] for c in ring] for ring in plane.openings])


def height(plane: Plane, x: float, y: float) -> float:
    x0, y0, z0 = plane.origin
    return z0 + ((x - x0) * plane.uphill[0] + (y - y0) * plane.uphill[1]) * plane.tangent


def union_area(planes: list[Plane]) -> float:
    return shapely.union_all([plan_shape(plane) for plane in planes], grid_size=1e-6).area


def check_edges(planes: tuple[Plane, ...], within: float) -> None:
    """Rings close, corners lie on their plane, shared edges are the same floats and one kind on both planes."""
    by_id = {plane.id: plane for plane in planes}
    assert len(by_id) == len(planes)
    for plane in planes:
        assert plan_shape(plane).is_valid
        for ring, edges in zip((plane.corners, *plane.openings), (plane.edges, *plane.opening_edges), strict=True):
            assert [edge.start for edge in edges] == list(ring)
            assert [edge.end for edge in edges] == [*ring[1:], ring[0]]
        for edge in plane.all_edges:
            for corner in (edge.start, edge.end):
                assert height(plane, *corner[:2]) == pytest.approx(corner[2], abs=within)
            if edge.neighbour is not None:
                _check_neighbour(plane, edge, by_id[edge.neighbour], within)


def _check_neighbour(plane: Plane, edge: PlaneEdge, other: Plane, within: float) -> None:
    for corner in (edge.start, edge.end):
        assert height(other, *corner[:2]) == pytest.approx(corner[2], abs=within)
    twins = [e for e in other.all_edges if {e.start, e.end} == {edge.start, edge.end}]
    if any(twin.neighbour == plane.id for twin in twins):
        assert [twin.kind for twin in twins] == [edge.kind]
        return
    # Three planes meet here, or the other roof runs on below.
    if twins:
        assert all(twin.neighbour is not None for twin in twins)
    else:
        middle = Point((edge.start[0] + edge.end[0]) / 2.0, (edge.start[1] + edge.end[1]) / 2.0)
        assert plan_shape(other).contains(middle)


def check_cover(job: Job, built: BuiltRoof, within: float, samples: int = 60) -> None:
    """The highest plane of the wings as built alone is the highest that is left, wherever one looks (shapely)."""
    alone = [plane for wing in job.wings for plane in build_wing(wing, Units()).planes]
    before = [(plane, plan_shape(plane)) for plane in alone]
    after = [(plane, plan_shape(plane)) for plane in built.roof.planes]
    assert union_area(list(built.roof.planes)) == pytest.approx(union_area(alone), abs=0.01 + 1e4 * within)
    left, low, right, high = shapely.union_all([shape for _, shape in before]).bounds
    rng = random.Random(samples)
    for _ in range(samples):
        point = Point(rng.uniform(left, right), rng.uniform(low, high))
        if min(shape.boundary.distance(point) for _, shape in before + after) < 1e-3:
            continue
        tops = [height(plane, point.x, point.y) for plane, shape in before if shape.contains(point)]
        left_over = [height(plane, point.x, point.y) for plane, shape in after if shape.contains(point)]
        assert bool(tops) == bool(left_over)
        if tops:
            assert max(left_over) == pytest.approx(max(tops), abs=10.0 * within)


def check_stacked(planes: tuple[Plane, ...]) -> None:
    """Where two planes lie over one another they are of two wings and one is clearly above."""
    shapes = [plan_shape(plane) for plane in planes]
    for i, first in enumerate(planes):
        for j in range(i):
            shared = shapes[i].intersection(shapes[j])
            if shared.area > 0.01:
                assert first.wing != planes[j].wing
                spot = shared.representative_point()
                assert abs(height(first, spot.x, spot.y) - height(planes[j], spot.x, spot.y)) > 1e-4


def build_and_check(job: Job, *, may_be_undecided: bool = False, within: float = 1e-6) -> BuiltRoof:
    built = build_roof(job.wings, Units(), job.openings)
    check_edges(built.roof.planes, within)
    codes = {finding.code for finding in built.findings}
    if "roofs-cross" not in codes:
        check_stacked(built.roof.planes)
    assert may_be_undecided or "roof-not-watertight" not in codes
    if not job.openings and "wing-trimmed" not in codes:
        check_cover(job, built, within)
    return built


@pytest.fixture
def joined() -> Callable[[Job], BuiltRoof]:
    """Builds the roof of a job and checks what every joined roof must keep to."""
    return build_and_check


@pytest.fixture(scope="session")
def joined_anew() -> Callable[..., BuiltRoof]:
    """The same for tests that call it with many jobs."""
    return build_and_check


@pytest.fixture
def in_plan() -> Callable[[Plane], Polygon]:
    """The shape of a plane in plan, for shapely."""
    return plan_shape


@pytest.fixture
def height_of() -> Callable[[Plane, float, float], float]:
    """The height of a plane over a plan point."""
    return height
