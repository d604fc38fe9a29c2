"""What the 3-D view shows of a plan: areas, keys, what is made anew, what a ray meets, what stands out."""

from __future__ import annotations

from pathlib import Path

import numpy as np
import pytest
from shapely.geometry import Point, Polygon

from workbench.bench.space.parts import LAYERS, first_hit, nearest
from workbench.bench.space.scene import MEMBER_DROP_IN, SHEET_LIFT_IN, Scene
from workbench.bench.space.walls import ground_lines, walls_of
from workbench.job.edits import add_wing, set_wing
from workbench.job.model import Job
from workbench.job.read import read_job
from workbench.job.samples import sample_jobs
from workbench.plan import Plan, solve

DOWN = np.array([0.0, 0.0, -1.0])


@pytest.fixture(scope="module")
def house() -> Plan:
    """A hipped house in an L and a gable apart from it."""
    job, _ = add_wing(
        Job(),
        [(0, 0), (480, 0), (480, 240), (288, 240), (288, 480), (0, 480)],
        ["eave"] * 6,
        name="corner",
        eave_overhang_in=16.0,
    )
    job, _ = add_wing(
        job,
        [(600, 0), (840, 0), (840, 200), (600, 200)],
        ["eave", "rake", "eave", "rake"],
        name="shop",
        rake_overhang_in=8.0,
    )
    return solve(job)


def _scene(plan: Plan, *layers) -> Scene:
    scene = Scene()
    scene.show(plan, layers or LAYERS)
    return scene


def _areas(triangles):
    return np.linalg.norm(np.cross(triangles[:, 1] - triangles[:, 0], triangles[:, 2] - triangles[:, 0]), axis=1) / 2.0


@pytest.mark.parametrize("name", [sample.name for sample in sample_jobs()])
def test_planes_are_drawn_with_their_true_area_on_both_sides(name: str) -> None:
    plan = solve(read_job(next(sample.path for sample in sample_jobs() if sample.name == name)))
    parts = _scene(plan, "planes").parts("planes")
    assert len(parts) == len(plan.roof.planes)
    for plane in plan.roof.planes:
        part = next(part for part in parts.values() if part.keys[0] == f"plane:{plane.id}")
        assert _areas(part.shape.faces).sum() == pytest.approx(2.0 * 144.0 * plane.area_sqft)
        assert len(part.shape.lines) == len(plane.all_edges)


def test_sheets_lie_lifted_on_their_plane_and_members_just_under_it(house) -> None:
    scene = _scene(house)
    plane = house.roof.planes[0]
    normal = np.cross((*plane.across, 0.0), np.subtract(plane.to_space((0.0, 1.0)), plane.origin))
    part = next(part for part in scene.parts("sheets").values() if part.keys[0].startswith(f"piece:{plane.id}/"))
    heights = (part.shape.faces - np.array(plane.origin)) @ normal
    assert heights.max() == pytest.approx(SHEET_LIFT_IN)
    assert heights.min() > 0.0
    ground = 144.0 * plane.area_sqft
    tops = np.isclose(heights, SHEET_LIFT_IN).all(axis=1)
    assert 0.97 * ground < _areas(part.shape.faces[tops]).sum() <= ground + 1e-6
    lines = (part.shape.lines - np.array(plane.origin)) @ normal
    assert np.allclose(lines, SHEET_LIFT_IN)
    common = next(m for m in house.framing.members if m.kind == "common_rafter")
    tops = [
        part.shape.faces.reshape(-1, 3)[:, 2].max()
        for part in scene.parts("members").values()
        if part.keys == (f"member:{common.mark}",)
    ]
    assert max(tops) == pytest.approx(max(p.end[2] for p in common.placements) - MEMBER_DROP_IN)


def test_every_member_and_piece_of_the_plan_is_there(house) -> None:
    scene = _scene(house)
    members = {key for part in scene.parts("members").values() for key in part.keys}
    assert members == {f"member:{member.mark}" for member in house.framing.members}
    pieces = {key for part in scene.parts("sheets").values() for key in part.keys}
    assert pieces == {f"piece:{p.plane}/{p.label}" for sheets in house.sheathing.planes for p in sheets.pieces}


def test_change_of_one_wing_leaves_the_shapes_of_the_other(house) -> None:
    scene = _scene(house)
    before = {layer: scene.parts(layer) for layer in LAYERS}
    shop = house.job.wings[1].id
    scene.show(solve(set_wing(house.job, shop, slope_in_12=9.0)), LAYERS)
    for layer in ("planes", "sheets", "walls"):
        after = scene.parts(layer)
        for ident, part in before[layer].items():
            kept = after[ident].shape is part.shape
            assert kept == (not str(ident).startswith(shop)), (layer, ident)
    kept_shapes = {id(part.shape) for part in before["members"].values()}
    anew = [part for part in scene.parts("members").values() if id(part.shape) not in kept_shapes]
    assert anew
    assert all(part.shape.faces[..., 0].min() > 560.0 for part in anew)


def test_layer_that_is_not_wanted_is_not_made(house) -> None:
    scene = _scene(house, "planes")
    assert scene.parts("planes")
    assert not scene.parts("members")
    assert not scene.parts("sheets")


@pytest.mark.parametrize("point", [(100.0, 20.0), (30.0, 300.0), (400.0, 200.0), (700.0, 50.0), (700.0, 150.0)])
def test_ray_from_above_finds_the_plane_that_lies_there(house, point) -> None:
    scene = _scene(house)
    found = scene.pick(np.array([*point, 1000.0]), DOWN, ("planes", "walls"), 0.0)
    over = [p.id for p in house.roof.planes if Polygon([c[:2] for c in p.corners]).contains(Point(point))]
    assert [found] == [f"plane:{name}" for name in over]


def test_ray_takes_what_is_on_show_only(house) -> None:
    scene = _scene(house)
    common = next(m for m in house.framing.members if m.kind == "common_rafter")
    start, end = common.placements[0].start, common.placements[0].end
    eye = np.array([(start[0] + end[0]) / 2.0, (start[1] + end[1]) / 2.0, 1000.0])
    assert scene.pick(eye, DOWN, ("planes", "members"), 0.0).startswith("plane:")
    assert scene.pick(eye, DOWN, ("members",), 0.0) == f"member:{common.mark}"
    assert scene.pick(eye, DOWN, ("sheets", "members"), 0.0).startswith("piece:")
    assert scene.pick(np.array([-900.0, 0.0, 1000.0]), DOWN, LAYERS, 0.0) == ""


def test_edge_within_reach_is_taken_before_its_plane_but_not_through_another_one(house) -> None:
    scene = _scene(house)
    corner = house.job.wings[0].id
    eye = np.array([100.0, -16.0 + 2.0, 1000.0])
    assert scene.pick(eye, DOWN, ("planes",), 0.01) == f"edge:{corner}/e1"
    assert scene.pick(eye, DOWN, ("planes",), 0.0001).startswith("plane:")
    # Seen level from the front both eaves are 16 in off the ray; the back one is behind the roof.
    ahead = np.array([0.0, 1.0, 0.0])
    level = np.array([100.0, -2000.0, 110.0])
    assert scene.pick(level, ahead, ("planes",), 0.004) == f"plane:{corner}/e1"
    assert scene.pick(level, ahead, ("planes",), 0.01) == f"edge:{corner}/e1"


def test_selected_plane_brings_its_edges_and_a_member_shows_through(house) -> None:
    scene = _scene(house)
    plane = house.roof.planes[0]
    assert len(scene.mark(f"plane:{plane.id}", LAYERS).lines) == len(plane.edges)
    mark = house.framing.members[0]
    assert len(scene.mark(f"member:{mark.mark}", LAYERS).hidden) > 0
    assert len(scene.mark(f"member:{mark.mark}", ("planes",)).hidden) == 0
    corner = house.job.wings[0].id
    eave = scene.mark(f"edge:{corner}/e1", ("planes",)).lines
    assert np.allclose(eave[..., 1], -16.0)
    upright = scene.mark(f"corner:{corner}/1", LAYERS).lines
    assert np.allclose(upright[..., :2], (480.0, 0.0))
    wing = scene.mark(f"wing:{corner}", LAYERS).lines
    assert len(wing) > sum(len(p.edges) for p in house.roof.planes if p.wing == corner)
    assert not len(scene.mark("", LAYERS).lines)


def test_walls_go_up_to_plates_and_gables(house) -> None:
    shop = house.job.wings[1].id
    walls = next(given for given in walls_of(house) if given.wing.wing == shop).walls()
    assert [wall.edge for wall in walls] == [0, 1, 2, 3]
    plate = house.job.wings[1].plate_in
    assert all(z == pytest.approx(plate) for _, _, z in walls[0].top)
    gable = walls[1].top
    assert len(gable) == 3
    ridge = max(corner[2] for plane in house.roof.planes if plane.wing == shop for corner in plane.corners)
    assert gable[1][1] == pytest.approx(100.0)
    assert ridge - 3.0 < gable[1][2] < ridge


def test_walls_of_a_wing_over_another_begin_at_its_roof() -> None:
    job, main = add_wing(Job(), [(0, 0), (480, 0), (480, 300), (0, 300)], ["eave", "rake", "eave", "rake"], name="main")
    job, _ = add_wing(
        job,
        [(200, 40), (280, 40), (280, 150), (200, 150)],
        ["rake", "eave", "rake", "eave"],
        name="dormer",
        plate_in=150.0,
        slope_in_12=4.0,
    )
    plan = solve(job)
    walls = [wall for given in walls_of(plan) for wall in given.walls() if wall.wing != main]
    assert walls
    main_front = plan.plane(f"{main}/e1")
    assert main_front is not None
    for wall in walls:
        for x, y, z in wall.foot:
            on_roof = main_front.to_space(main_front.to_plane((x, y)))[2]
            assert z == pytest.approx(min(on_roof, z + 1.0), abs=1e-6)
            assert z > 90.0
            assert Point(x, y).within(Polygon([(199, 39), (281, 39), (281, 151), (199, 151)]))


def test_wall_inside_another_building_is_left_out() -> None:
    job, _ = add_wing(Job(), [(0, 0), (480, 0), (480, 300), (0, 300)], ["eave", "rake", "eave", "rake"], name="main")
    job, ell = add_wing(
        job, [(150, -120), (330, -120), (330, 150), (150, 150)], ["rake", "eave", "rake", "eave"], name="ell"
    )
    walls = [wall for given in walls_of(solve(job)) for wall in given.walls() if wall.wing == ell]
    low = [wall for wall in walls if max(z for *_, z in wall.foot) == 0.0]
    assert low
    assert all(y < 1.0 for wall in low for _, y, _ in wall.foot)


def test_ground_grid_goes_round_the_house_and_fades_out() -> None:
    points = np.array([[0.0, 0.0], [480.0, 300.0]])
    lines, strength = ground_lines(points, 48.0)
    assert np.allclose(lines[..., 2], 0.0)
    assert np.allclose(lines[..., :2] % 48.0, 0.0)
    assert lines[..., 0].min() < 0.0
    assert lines[..., 0].max() > 480.0
    outermost = np.abs(lines[..., :2] - np.array([240.0, 150.0])).max(axis=2) > 0.95 * 600.0
    assert strength[outermost].max(initial=0.0) < 0.25
    assert strength.max() == 1.0
    far, _ = ground_lines(points * 100.0, 48.0)
    assert len(far) < 20_000
    assert not len(ground_lines(np.empty((0, 2)), 48.0)[0])


def test_first_hit_and_nearest_on_worked_cases() -> None:
    triangle = np.array([[[0.0, 0.0, 5.0], [10.0, 0.0, 5.0], [0.0, 10.0, 5.0]]])
    eye = np.array([2.0, 2.0, 25.0])
    assert first_hit(eye, DOWN, triangle) == (pytest.approx(20.0), 0)
    assert first_hit(eye, DOWN, triangle[:, ::-1])[1] == 0
    assert first_hit(eye, -DOWN, triangle)[1] == -1
    assert first_hit(np.array([9.0, 9.0, 25.0]), DOWN, triangle)[1] == -1
    off, along = nearest(
        eye, DOWN, np.array([[[5.0, -100.0, 1.0], [5.0, 100.0, 1.0]], [[2.0, 2.0, 40.0], [3.0, 2.0, 40.0]]])
    )
    assert off[0] == pytest.approx(3.0)
    assert along[0] == pytest.approx(24.0)
    assert np.isnan(along[1])


def test_empty_job_has_nothing_to_show() -> None:
    scene = _scene(solve(Job()))
    assert all(not scene.parts(layer) for layer in LAYERS)
    assert scene.outer_points().shape == (0, 3)
    assert scene.pick(np.zeros(3), DOWN, LAYERS, 0.01) == ""


def test_sample_with_everything_is_inside_its_outer_points(small_house: Path) -> None:
    scene = _scene(solve(read_job(small_house)))
    points = scene.outer_points()
    low, high = points.min(axis=0) - 1.0, points.max(axis=0) + 1.0
    for part in scene.parts("planes").values():
        corners = part.shape.faces.reshape(-1, 3)
        assert (corners >= low).all()
        assert (corners <= high).all()
