"""Roofs whose planes change their slope part way up: gambrels, mansards, gablets over hips.

References outside the program: elementary geometry by hand; shapely (areas, overlaps); scipy's half-space
intersections (volumes); and an exact height field: where all edges of a rectilinear outline climb alike, the roof's
height is a function of the greatest-axis distance to the outline alone.
"""

from __future__ import annotations

import math
import random
from collections.abc import Sequence

import numpy as np
import pytest
import shapely
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.spatial import ConvexHull, HalfspaceIntersection
from shapely.geometry import Polygon

from workbench.errors import BadInput, NoSolution
from workbench.roof.model import Point2, Point3
from workbench.roof.wavefront import Break, Face, FrontEdge, Raised, raise_roof

Outline = list[Point2]
RAKE = FrontEdge(0.0)
RECTANGLE: Outline = [(0, 0), (480, 0), (480, 288), (0, 288)]
BARN = FrontEdge(0.5, 0.0, (Break(96.0, 2.0),))  # 24 in 12, then 6 in 12
L_SHAPE: Outline = [(0, 0), (480, 0), (480, 240), (240, 240), (240, 480), (0, 480)]


def faces_of(roof: Raised, edge: int, kind: str = "roof") -> list[Face]:
    return [face for face in roof.faces if edge in face.edges and face.kind == kind]


def area_vector(corners: Sequence[Point3]) -> np.ndarray:
    ring = np.array(corners) - corners[0]
    return np.cross(ring, np.roll(ring, -1, axis=0)).sum(axis=0) / 2.0


def true_area(face: Face) -> float:
    return float(np.linalg.norm(area_vector(face.corners)))


def pieces_of(edge: FrontEdge) -> list[tuple[float, float, float]]:
    """Height, run and run per rise at the foot of each piece of a profile."""
    pieces = [(edge.start_in, 0.0, edge.cot)]
    for change in edge.breaks:
        height, run, cot = pieces[-1]
        pieces.append((change.at_in, run + cot * (change.at_in - height), change.cot))
    return pieces


def volume_under(roof: Raised) -> float:
    """Volume between the roof faces and z = 0, as prisms under triangles."""
    volume = 0.0
    for face in roof.roof_faces:
        (x0, y0, z0), *rest = face.corners
        for (ax, ay, az), (bx, by, bz) in zip(rest, rest[1:], strict=False):
            volume += ((ax - x0) * (by - y0) - (bx - x0) * (ay - y0)) / 2.0 * (z0 + az + bz) / 3.0
    return volume


def assert_sound(outline: Outline, edges: Sequence[FrontEdge], roof: Raised) -> None:
    shape = Polygon(outline)
    plans = [Polygon([corner[:2] for corner in face.corners]) for face in roof.roof_faces]
    assert all(plan.is_valid for plan in plans)
    assert sum(plan.area for plan in plans) == pytest.approx(shape.area, rel=1e-6)
    covered = shapely.union_all(plans, grid_size=1e-7)
    assert covered.symmetric_difference(shape).area <= 1e-6 * shape.area
    # Walls, roof and the floor close: their outward area vectors cancel.
    total = sum((area_vector(face.corners) for face in roof.faces), np.zeros(3))
    assert np.allclose(total, (0, 0, shape.area), atol=1e-6 * shape.area)
    left, low, right, high = shape.bounds
    for number, face in enumerate(roof.faces):
        assert len(face.sides) >= 3
        for side, following in zip(face.sides, face.sides[1:] + face.sides[:1], strict=True):
            assert side.end == following.start
            assert side.start != side.end
            if side.face is not None:
                back = [s for s in roof.faces[side.face].sides if (s.start, s.end) == (side.end, side.start)]
                assert [(s.face, s.outline) for s in back] == [(number, side.outline)]
        if not face.added_wall:
            assert_in_its_piece(face, outline, edges, 5e-8 * max(right - left, high - low))


def assert_in_its_piece(face: Face, outline: Outline, edges: Sequence[FrontEdge], near: float) -> None:
    feet: list[float] = []
    tops: list[float] = []
    for number in face.edges:
        edge, (ax, ay), (bx, by) = edges[number], outline[number], outline[(number + 1) % len(outline)]
        length = math.dist((ax, ay), (bx, by))
        pieces = pieces_of(edge)
        foot, run_there, cot = pieces[face.piece]
        top = next((height for height, _, other in pieces[face.piece + 1 :] if other != cot), math.inf)
        if face.kind == "wall" and face.piece == 0:
            foot, top, cot = -math.inf, math.inf, 0.0
        for x, y, z in face.corners:
            run = ((bx - ax) * (y - ay) - (by - ay) * (x - ax)) / length
            expected = run_there + cot * (z - foot) if cot else run_there
            assert abs(run - expected) < near
        feet.append(foot)
        tops.append(top)
    # Edges in line may come into one plane at different heights.
    assert all(min(feet) - near <= z <= max(tops) + near for *_, z in face.corners)


# ---- by hand ---------------------------------------------------------------------------------------------------------


def test_gambrel() -> None:
    roof = raise_roof(RECTANGLE, [BARN, RAKE, BARN, RAKE])
    assert_sound(RECTANGLE, [BARN, RAKE, BARN, RAKE], roof)
    lower, upper = faces_of(roof, 0)
    assert (lower.piece, upper.piece) == (0, 1)
    # 96 in of rise take 48 in of run; the 96 in of run left to mid-span rise 48 in more, to 144 in.
    assert lower.plan_area == pytest.approx(480 * 48)
    assert upper.plan_area == pytest.approx(480 * 96)
    assert sorted({z for *_, z in lower.corners}) == pytest.approx([0.0, 96.0])
    assert max(z for *_, z in upper.corners) == pytest.approx(144.0)
    (shared,) = [side for side in upper.sides if side.face == roof.faces.index(lower)]
    assert shared is upper.sides[0]
    assert (shared.start, shared.end) == ((0.0, 48.0, 96.0), (480.0, 48.0, 96.0))
    (gable,) = faces_of(roof, 1, "wall")
    assert len(gable.sides) == 5
    assert true_area(gable) == pytest.approx((288 + 192) / 2 * 96 + 192 * 48 / 2)
    assert len(roof.faces) == 6


def test_two_slopes_on_all_four_sides() -> None:
    roof = raise_roof(RECTANGLE, [BARN] * 4)
    assert_sound(RECTANGLE, [BARN] * 4, roof)
    assert [(face.edge, face.piece) for face in roof.faces] == [(k, piece) for k in range(4) for piece in (0, 1)]
    front, above, side, side_above, *_ = roof.faces
    # At 96 in the open top is 384 by 192 in; it closes over half of 192 in.
    assert front.plan_area == pytest.approx((480 + 384) / 2 * 48)
    assert side.plan_area == pytest.approx((288 + 192) / 2 * 48)
    assert above.plan_area == pytest.approx((384 + 192) / 2 * 96)
    assert side_above.plan_area == pytest.approx(192 * 96 / 2)
    assert true_area(front) == pytest.approx(front.plan_area * math.hypot(1, 2))
    # Frustum of a pyramid-like body below (prismatoid formula), a hip roof of equal slopes above.
    frustum = 96 / 6 * (480 * 288 + 4 * 432 * 240 + 384 * 192)
    assert volume_under(roof) == pytest.approx(frustum + 48 * 192 * (3 * 384 - 192) / 6)


def test_gablet_over_a_hip() -> None:
    outline: Outline = [(0, 0), (480, 0), (480, 336), (0, 336)]
    slope = FrontEdge(12 / 7)
    end = FrontEdge(12 / 7, 0.0, (Break(60.0, 0.0),))
    roof = raise_roof(outline, [slope, end, slope, end])
    assert_sound(outline, [slope, end, slope, end], roof)
    inset = 60 * 12 / 7
    (hipped,) = faces_of(roof, 1)
    assert hipped.plan_area == pytest.approx((336 + 336 - 2 * inset) / 2 * inset)
    (gablet,) = faces_of(roof, 1, "wall")
    assert gablet.piece == 1
    assert true_area(gablet) == pytest.approx((336 - 2 * inset) * (98 - 60) / 2)
    assert [(side.outline, side.wall, side.neighbour) for side in hipped.sides] == [
        (1, None, None),
        (None, None, 2),
        (None, 1, None),
        (None, None, 0),
    ]
    (front,) = faces_of(roof, 0)
    (ridge,) = [side for side in front.sides if side.neighbour == 2]
    assert math.dist(ridge.start, (480 - inset, 168, 98)) < 1e-9
    assert math.dist(ridge.end, (inset, 168, 98)) < 1e-9
    assert [side.wall for side in front.sides] == [None, None, 1, None, 3, None]


def test_slope_that_changes_on_one_side_only_bends_the_hips() -> None:
    # The front turns from 12 in 12 to 6 in 12 at 48 in: its hips run on at where 2 * rise meets 1 * rise.
    front, other = FrontEdge(1.0, 0.0, (Break(48.0, 2.0),)), FrontEdge(1.0)
    roof = raise_roof(RECTANGLE, [front, other, other, other])
    assert_sound(RECTANGLE, [front, other, other, other], roof)
    (end,) = faces_of(roof, 1)
    corners = {tuple(round(v, 6) for v in corner) for corner in end.corners}
    # Ridge: 48 + 2 * (z - 48) + z = 288, z = 112; the end's plane has run 112 in by then.
    assert corners == {(480, 0, 0), (480, 288, 0), (480 - 112, 288 - 112, 112), (480 - 48, 48, 48)}


def test_wall_half_way_up_that_carries_a_second_slope() -> None:
    edge = FrontEdge(1.0, 0.0, (Break(48.0, 0.0), Break(72.0, 1.0)))
    roof = raise_roof(RECTANGLE, [edge, RAKE, edge, RAKE])
    assert_sound(RECTANGLE, [edge, RAKE, edge, RAKE], roof)
    assert [face.piece for face in faces_of(roof, 0)] == [0, 2]
    (wall,) = faces_of(roof, 0, "wall")
    assert wall.piece == 1
    assert true_area(wall) == pytest.approx(480 * 24)
    assert max(z for *_, z in faces_of(roof, 0)[1].corners) == pytest.approx(72 + 96)


def test_drawn_corner_between_unlike_profiles_gets_a_step_wall_from_the_break_on() -> None:
    outline: Outline = [(0, 0), (240, 0), (480, 0), (480, 288), (0, 288)]
    plain = FrontEdge(0.5)
    edges = [BARN, plain, RAKE, plain, RAKE]
    roof = raise_roof(outline, edges)
    assert_sound(outline, edges, roof)
    (step,) = [face for face in roof.faces if face.added_wall]
    assert {x for x, _, _ in step.corners} == {240.0}
    assert min(z for *_, z in step.corners) == pytest.approx(96.0)
    assert not roof.takeovers


def test_drawn_corner_beside_a_gablet_keeps_the_gablet() -> None:
    outline: Outline = [(0, 0), (480, 0), (480, 144), (480, 288), (0, 288)]
    gablet, slope = FrontEdge(1.0, 0.0, (Break(48.0, 0.0),)), FrontEdge(1.0)
    edges = [slope, gablet, slope, slope, RAKE]
    roof = raise_roof(outline, edges)
    assert_sound(outline, edges, roof)
    assert len(faces_of(roof, 1, "wall")) == 1
    assert not roof.takeovers


def test_eaves_in_line_with_one_profile_bear_one_face_a_piece() -> None:
    outline: Outline = [(0, 0), (200, 0), (480, 0), (480, 288), (0, 288)]
    roof = raise_roof(outline, [BARN, BARN, RAKE, BARN, RAKE])
    assert [(face.edges, face.piece) for face in roof.roof_faces] == [((0, 1), 0), ((0, 1), 1), ((3,), 0), ((3,), 1)]


def test_profiles_that_meet_on_the_roof_are_settled_by_the_shallower_plane() -> None:
    # A wing parts the back eave of a T; behind its ridge the two parts are in line again and only one turns shallower.
    outline: Outline = [(0, 0), (600, 0), (600, 240), (360, 240), (360, 480), (240, 480), (240, 240), (0, 240)]
    plain, bent = FrontEdge(1.0), FrontEdge(1.0, 0.0, (Break(80.0, 2.0),))
    edges = [plain, RAKE, bent, plain, RAKE, plain, plain, RAKE]
    roof = raise_roof(outline, edges)
    assert_sound(outline, edges, roof)
    (choice,) = roof.takeovers
    assert (choice.kept, choice.dropped, choice.wall) == (2, 6, False)
    assert choice.start[2] == choice.end[2] == pytest.approx(80.0)


def test_break_above_the_ridge_changes_nothing() -> None:
    high = FrontEdge(1.0, 0.0, (Break(500.0, 3.0),))
    assert raise_roof(RECTANGLE, [high, RAKE, high, RAKE]) == raise_roof(RECTANGLE, [FrontEdge(1.0), RAKE] * 2)


def test_break_to_the_same_slope_changes_nothing() -> None:
    same = FrontEdge(1.0, 0.0, (Break(50.0, 1.0),))
    assert raise_roof(RECTANGLE, [same, RAKE, same, RAKE]) == raise_roof(RECTANGLE, [FrontEdge(1.0), RAKE] * 2)


@pytest.mark.parametrize("by", [1e-12, 1e-9, 1e-7, 1e-5])
def test_break_right_above_the_eave_or_the_ridge_is_absorbed(by: float) -> None:
    low = [FrontEdge(1.0, 10.0, (Break(10.0 + by, 2.0),))] * 4
    assert_sound(RECTANGLE, [FrontEdge(1.0, 10.0, (Break(10.0 + by, 2.0),))] * 4, raise_roof(RECTANGLE, low))
    for height in (144.0 - by, 144.0, 144.0 + by):
        top = [FrontEdge(1.0, 0.0, (Break(height, 2.0),))] * 4
        assert_sound(RECTANGLE, top, raise_roof(RECTANGLE, top))


def test_gablets_all_round_leave_the_roof_open() -> None:
    upright = FrontEdge(1.0, 0.0, (Break(48.0, 0.0),))
    with pytest.raises(NoSolution, match=r"between the edges 1, 2, 3 and 4, .* straight up"):
        raise_roof(RECTANGLE, [upright] * 4)


def test_breaks_that_can_not_be_are_refused() -> None:
    def refused(edge: FrontEdge, words: str) -> None:
        with pytest.raises(BadInput, match=words):
            raise_roof(RECTANGLE, [FrontEdge(1.0), edge, FrontEdge(1.0), FrontEdge(1.0)])

    refused(FrontEdge(0.0, 0.0, (Break(10.0, 1.0),)), "Edge 2 is a rake or wall")
    refused(FrontEdge(1.0, 10.0, (Break(10.0, 2.0),)), "edge 2 changes at 10 in, which is not above 10 in")
    refused(FrontEdge(1.0, 0.0, (Break(20.0, 2.0), Break(15.0, 1.0))), "changes at 15 in, which is not above 20 in")
    refused(FrontEdge(1.0, 0.0, (Break(math.nan, 2.0),)), "edge 2 changes at nan in")
    refused(FrontEdge(1.0, 0.0, (Break(10.0, -1.0),)), "edge 2 from 10 in on is -1")


# ---- what must hold --------------------------------------------------------------------------------------------------

COTS = (0.5, 1.0, 12 / 7, 2.0, 3.0)
profiles = st.builds(
    lambda cot, start, steps: FrontEdge(
        cot, start, tuple(Break(start + sum(rise for rise, _ in steps[: k + 1]), c) for k, (_, c) in enumerate(steps))
    ),
    st.sampled_from(COTS),
    st.sampled_from([0.0, 0.0, 0.0, 12.0]),
    st.lists(st.tuples(st.sampled_from([12.0, 24.0, 30.0, 41.7]), st.sampled_from(COTS)), max_size=2),
)


@st.composite
def rectangles_and_ls(draw: st.DrawFn) -> Outline:
    lengths = st.sampled_from([96.0, 144.0, 192.0]) | st.floats(60.0, 300.0)
    a, b, c, d = (draw(lengths) for _ in range(4))
    outline: Outline = [(0, 0), (a + b, 0), (a + b, c), (a, c), (a, c + d), (0, c + d)]
    return draw(st.sampled_from([outline, [(0, 0), (a, 0), (a, c), (0, c)]]))


@settings(max_examples=120, deadline=None)
@given(outline=rectangles_and_ls(), edges=st.lists(profiles, min_size=6, max_size=6))
def test_any_slopes_on_any_side_make_a_sound_roof(outline: Outline, edges: list[FrontEdge]) -> None:
    edges = edges[: len(outline)]
    assert_sound(outline, edges, raise_roof(outline, edges))


@settings(max_examples=80, deadline=None)
@given(
    outline=rectangles_and_ls(),
    edges=st.lists(profiles, min_size=6, max_size=6),
    upright=st.lists(st.sampled_from([None, None, "rake", "gablet"]), min_size=6, max_size=6),
)
def test_gablets_and_rakes_anywhere_give_a_sound_roof_or_a_sentence(
    outline: Outline, edges: list[FrontEdge], upright: list[str | None]
) -> None:
    for k, kind in enumerate(upright):
        if kind == "rake":
            edges[k] = RAKE
        elif kind == "gablet":
            edges[k] = FrontEdge(edges[k].cot, edges[k].start_in, (Break(edges[k].start_in + 24.0, 0.0),))
    edges = edges[: len(outline)]
    try:
        roof = raise_roof(outline, edges)
    except NoSolution as error:
        assert any(edge.cot == 0.0 or edge.breaks for edge in edges)
        assert str(error).endswith(".")
    else:
        assert_sound(outline, edges, roof)


@settings(max_examples=60, deadline=None)
@given(
    outline=rectangles_and_ls(),
    cot=st.sampled_from(COTS),
    steps=st.lists(st.tuples(st.floats(5.0, 40.0), st.sampled_from(COTS)), min_size=1, max_size=3),
)
def test_one_profile_all_round_follows_the_axis_distance(
    outline: Outline, cot: float, steps: list[tuple[float, float]]
) -> None:
    heights = np.cumsum([rise for rise, _ in steps])
    edge = FrontEdge(cot, 0.0, tuple(Break(float(h), c) for h, (_, c) in zip(heights, steps, strict=True)))
    roof = raise_roof(outline, [edge] * len(outline))
    assert_sound(outline, [edge] * len(outline), roof)
    feet = pieces_of(edge)
    for face in roof.faces:
        for x, y, z in face.corners:
            away = min(
                max(min(ax, bx) - x, x - max(ax, bx), min(ay, by) - y, y - max(ay, by), 0.0)
                for (ax, ay), (bx, by) in zip(outline, outline[1:] + outline[:1], strict=True)
            )
            low, run, slope = [foot for foot in feet if foot[1] <= away + 1e-9][-1]
            assert z == pytest.approx(low + (away - run) / slope, abs=1e-6)


def convex(rng: random.Random) -> Outline:
    points = np.array([(rng.uniform(0, 600), rng.uniform(0, 400)) for _ in range(rng.randint(4, 12))])
    return [(float(x), float(y)) for x, y in points[ConvexHull(points).vertices]]


def body(planes: list[list[float]], inside: Sequence[float]) -> ConvexHull:
    return ConvexHull(HalfspaceIntersection(np.array(planes), np.array(inside)).intersections)


def test_convex_outline_bears_one_lower_envelope_upon_another() -> None:
    """All edges change their slopes at one height: the envelope of the lower planes, cut off, bears that of the upper.

    An edge used up below has no upper plane.
    """
    rng = random.Random(4)
    for _ in range(30):
        outline = convex(rng)
        at = rng.uniform(10.0, 30.0)
        cots = [rng.choice(COTS) for _ in outline]
        then = [rng.choice(COTS) for _ in outline]
        edges = [FrontEdge(a, 0.0, (Break(at, b),)) for a, b in zip(cots, then, strict=True)]
        roof = raise_roof(outline, edges)
        assert_sound(outline, edges, roof)
        centre = np.array(Polygon(outline).centroid.coords[0])
        normals, offsets = [], []
        for k, (ax, ay) in enumerate(outline):
            bx, by = outline[(k + 1) % len(outline)]
            normals.append(np.array([ay - by, bx - ax]) / math.dist((ax, ay), (bx, by)))
            offsets.append(float(normals[-1] @ (ax, ay)))
        lower = [[-n[0], -n[1], cot, c] for n, c, cot in zip(normals, offsets, cots, strict=True)]
        whole = body([*lower, [0, 0, -1, 0]], [*centre, 1e-3])
        if whole.points[:, 2].max() <= at:
            assert volume_under(roof) == pytest.approx(whole.volume, rel=1e-6)
            continue
        peak = whole.points[whole.points[:, 2].argmax()]
        below = body([*lower, [0, 0, -1, 0], [0, 0, 1, -at]], [*centre, 1e-3])
        rim = below.points[below.points[:, 2] > at - 1e-9]
        upper = []
        for n, c, cot, c2 in zip(normals, offsets, cots, then, strict=True):
            if np.sum(np.abs(rim[:, :2] @ n - c - cot * at) < 1e-6) >= 2:
                upper.append([-n[0], -n[1], c2, c + cot * at - c2 * at])
        above = body([*upper, [0, 0, -1, at]], [*peak[:2], at + 1e-6 * (peak[2] - at)])
        assert volume_under(roof) == pytest.approx(below.volume + above.volume, rel=1e-5)
