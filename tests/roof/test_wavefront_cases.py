"""Roofs over an outline that can be worked out by hand, and the sentences for outlines that carry none."""

from __future__ import annotations

import itertools
import math

import pytest

from workbench.errors import BadInput, NoSolution
from workbench.roof.model import Point2, Point3
from workbench.roof.wavefront import Face, FaceSide, FrontEdge, Raised, check_outline, raise_roof

SEVEN = FrontEdge(12 / 7)
SIX = FrontEdge(2.0)
ONE = FrontEdge(1.0)
RAKE = FrontEdge(0.0)
RECTANGLE: list[Point2] = [(0, 0), (480, 0), (480, 336), (0, 336)]


def face_of(roof: Raised, edge: int, kind: str = "roof") -> Face:
    """The only face of this kind that rises from the edge."""
    (face,) = [face for face in roof.faces if edge in face.edges and face.kind == kind]
    return face


def side_to(face: Face, neighbour: int) -> FaceSide:
    (side,) = [side for side in face.sides if side.neighbour == neighbour]
    return side


def near(point: Point3, x: float, y: float, z: float, tolerance: float = 1e-9) -> bool:
    return math.dist(point, (x, y, z)) <= tolerance


def has_corner(face: Face, x: float, y: float, z: float) -> bool:
    return any(near(corner, x, y, z) for corner in face.corners)


def test_gable_ridge_stands_over_exactly_half_the_span() -> None:
    roof = raise_roof(RECTANGLE, [SEVEN, RAKE, SEVEN, RAKE])
    front = face_of(roof, 0)
    assert [side.outline for side in front.sides] == [0, 1, None, 3]
    assert [side.wall for side in front.sides] == [None, 1, None, 3]
    ridge = side_to(front, 2)
    assert near(ridge.start, 480, 168, 98)
    assert near(ridge.end, 0, 168, 98)
    gable = face_of(roof, 1, "wall")
    assert sorted(gable.corners) == sorted([(480.0, 0.0, 0.0), (480.0, 336.0, 0.0), ridge.start])
    assert len(roof.faces) == 4
    assert not roof.takeovers


@pytest.mark.parametrize("span", [100.0, 287.5, 336.0, 431.0625])
@pytest.mark.parametrize("in_12", [3, 5, 7.25, 9, 12])
def test_gable_numbers_are_exact_for_any_span_and_slope(span: float, in_12: float) -> None:
    cot = 12 / in_12
    roof = raise_roof([(0, 0), (480, 0), (480, span), (0, span)], [FrontEdge(cot), RAKE, FrontEdge(cot), RAKE])
    ridge = side_to(face_of(roof, 0), 2)
    assert near(ridge.start, 480, span / 2, span / 2 / cot)


def test_hip_with_unequal_slopes() -> None:
    ends = FrontEdge(12 / 10)
    roof = raise_roof(RECTANGLE, [SEVEN, ends, SEVEN, ends])
    ridge = side_to(face_of(roof, 0), 2)
    # Where m1 * u1 = m2 * u2: 98 in of rise take 98 * 12/10 = 117.6 in of run at the steeper ends.
    assert near(ridge.start, 480 - 117.6, 168, 98)
    assert near(ridge.end, 117.6, 168, 98)
    assert [len(face.sides) for face in roof.roof_faces] == [4, 3, 4, 3]
    assert all(face.kind == "roof" for face in roof.faces)


def test_square_hip_comes_to_one_point() -> None:
    roof = raise_roof([(0, 0), (240, 0), (240, 240), (0, 240)], [ONE] * 4)
    assert [len(face.sides) for face in roof.faces] == [3, 3, 3, 3]
    apex = {face.corners[2] for face in roof.faces}
    assert len(apex) == 1
    assert near(apex.pop(), 120, 120, 120)


def test_shed_is_one_face_that_ends_over_the_high_wall() -> None:
    roof = raise_roof(RECTANGLE, [FrontEdge(3.0), RAKE, RAKE, RAKE])
    (shed,) = roof.roof_faces
    assert [side.outline for side in shed.sides] == [0, 1, 2, 3]
    assert has_corner(shed, 480, 336, 112)
    assert has_corner(shed, 0, 336, 112)
    high = face_of(roof, 2, "wall")
    assert len(high.sides) == 4
    assert max(z for *_, z in high.corners) == pytest.approx(112, abs=1e-9)


def test_one_eave_24_inches_higher() -> None:
    roof = raise_roof(RECTANGLE, [SEVEN, RAKE, FrontEdge(12 / 7, 24.0), RAKE])
    # (z + z - 24) * 12/7 = 336
    ridge = side_to(face_of(roof, 0), 2)
    assert near(ridge.start, 480, 110 * 12 / 7, 110)
    back = face_of(roof, 2)
    assert back.sides[0].outline == 2
    assert back.sides[0].wall == 2
    assert back.sides[0].start == (480.0, 336.0, 24.0)
    wall = face_of(roof, 2, "wall")
    assert len(wall.sides) == 4
    assert wall.edge == 2
    assert not wall.added_wall
    assert len(face_of(roof, 1, "wall").sides) == 4


def test_clipped_gable() -> None:
    roof = raise_roof(RECTANGLE, [SEVEN, FrontEdge(12 / 7, 60.0), SEVEN, RAKE])
    ridge = side_to(face_of(roof, 0), 2)
    assert near(ridge.start, 480 - 38 * 12 / 7, 168, 98)
    assert near(ridge.end, 0, 168, 98)
    clip = face_of(roof, 1)
    inset = 60 * 12 / 7
    assert near(clip.sides[0].start, 480, inset, 60)
    assert near(clip.sides[0].end, 480, 336 - inset, 60)
    front = face_of(roof, 0)
    assert [(side.outline, side.wall, side.neighbour) for side in front.sides] == [
        (0, None, None),
        (1, 1, None),
        (None, None, 1),
        (None, None, 2),
        (3, 3, None),
    ]


def test_l_with_gables() -> None:
    outline: list[Point2] = [(0, 0), (480, 0), (480, 240), (240, 240), (240, 600), (0, 600)]
    roof = raise_roof(outline, [SIX, RAKE, SIX, SIX, RAKE, SIX])
    areas = {face.edge: face.plan_area for face in roof.roof_faces}
    assert areas == pytest.approx({0: 50400, 2: 36000, 3: 50400, 5: 64800})
    valley = side_to(face_of(roof, 2), 3)
    assert near(valley.start, 240, 240, 0)
    assert near(valley.end, 120, 120, 60)
    hip = side_to(face_of(roof, 5), 0)
    assert {hip.start, hip.end} == {(0.0, 0.0, 0.0), valley.end}


def test_t_with_gables_and_a_lower_wing() -> None:
    outline: list[Point2] = [(0, 0), (600, 0), (600, 240), (360, 240), (360, 480), (216, 480), (216, 240), (0, 240)]
    roof = raise_roof(outline, [ONE, RAKE, ONE, ONE, RAKE, ONE, ONE, RAKE])
    # The wing is 144 wide: its ridge, 72 high, runs into the main roof's back plane 72 in from the back eave.
    assert near(side_to(face_of(roof, 3), 5).end, 288, 168, 72) or near(
        side_to(face_of(roof, 3), 5).start, 288, 168, 72
    )
    back = face_of(roof, 2)
    assert back.edges == (2, 6)
    assert [side.outline for side in back.sides].count(2) == 1
    assert {side.neighbour for side in back.sides} == {None, 0, 3, 5}
    assert face_of(roof, 0).plan_area == pytest.approx(600 * 120)


def test_u_keeps_two_eaves_of_one_plane_apart() -> None:
    outline: list[Point2] = [(0, 0), (600, 0), (600, 400), (400, 400), (400, 200), (200, 200), (200, 400), (0, 400)]
    roof = raise_roof(outline, [ONE] * 8)
    assert [face.edges for face in roof.faces] == [(k,) for k in range(8)]
    assert [face.plan_area for face in roof.faces] == pytest.approx(
        [50000, 30000, 10000, 20000, 30000, 20000, 10000, 30000]
    )


def test_cross_with_equal_arms_meets_in_one_point() -> None:
    outline: list[Point2] = [(120, 0), (240, 0), (240, 120), (360, 120), (360, 240), (240, 240)]
    outline += [(240, 360), (120, 360), (120, 240), (0, 240), (0, 120), (120, 120)]
    roof = raise_roof(outline, [SIX] * 12)
    meeting = [face.edge for face in roof.faces if has_corner(face, 180, 180, 30)]
    assert meeting == [1, 2, 4, 5, 7, 8, 10, 11]
    assert len({corner for face in roof.faces for corner in face.corners if near(corner, 180, 180, 30)}) == 1


def test_eaves_in_line_with_one_slope_bear_one_face() -> None:
    outline: list[Point2] = [(0, 0), (200, 0), (480, 0), (480, 336), (0, 336)]
    roof = raise_roof(outline, [SEVEN, SEVEN, RAKE, SEVEN, RAKE])
    front = face_of(roof, 0)
    assert front.edge == 0
    assert front.edges == (0, 1)
    assert [side.outline for side in front.sides] == [0, 1, 2, None, 4]
    assert side_to(face_of(roof, 3), 0).start == side_to(front, 3).end


def test_plane_drawn_with_a_jog_in_its_eave_is_one_face() -> None:
    # The second eave lies 12 in further out and, at 12 in 12, starts 12 in lower: the very same plane.
    outline: list[Point2] = [(0, 0), (240, 0), (240, -12), (480, -12), (480, 240), (0, 240)]
    roof = raise_roof(outline, [FrontEdge(1.0, 12.0), RAKE, FrontEdge(1.0, 0.0), RAKE, FrontEdge(1.0, 12.0), RAKE])
    assert [face.edges for face in roof.roof_faces] == [(0, 2), (4,)]
    assert roof.roof_faces[0].plan_area == pytest.approx(480 * 120 + 240 * 12)


def test_drawn_corner_between_unequal_slopes_gets_a_step_wall() -> None:
    outline: list[Point2] = [(0, 0), (240, 0), (480, 0), (480, 336), (0, 336)]
    roof = raise_roof(outline, [SEVEN, ONE, RAKE, SEVEN, RAKE])
    (step,) = [face for face in roof.faces if face.added_wall]
    assert step.kind == "wall"
    assert step.edge == 5
    assert not roof.takeovers
    beside = [side for side in face_of(roof, 0).sides if side.wall == 5]
    assert [(side.neighbour, side.outline) for side in beside] == [(None, None)]
    assert {x for x, _, _ in step.corners} == {240.0}


LEVELLED: list[Point2] = [(100, -200), (196, -200), (196, 24), (300, 24), (300, 300), (0, 300), (0, 0), (100, 0)]


def test_unequal_eaves_that_come_into_line_are_settled_by_the_shallower_plane() -> None:
    # Both shoulders of the wing reach y = 48 at z = 48, just when the wing, 96 wide, closes between them.
    roof = raise_roof(LEVELLED, [RAKE, ONE, FrontEdge(0.5), ONE, ONE, ONE, ONE, ONE])
    (choice,) = roof.takeovers
    assert (choice.kept, choice.dropped) == (6, 2)
    assert choice.start[1:] == pytest.approx((48, 48))
    assert choice.end[1:] == pytest.approx((48, 48))
    assert not any(face.added_wall for face in roof.faces)
    level = side_to(face_of(roof, 2), 6)
    assert {level.start, level.end} == {choice.start, choice.end}


def test_rake_that_comes_into_line_with_a_plane_ends_level() -> None:
    outline = [(x, 48.0) if y == 24 else (x, y) for x, y in LEVELLED]
    roof = raise_roof(outline, [RAKE, ONE, RAKE, ONE, ONE, ONE, ONE, ONE])
    (choice,) = roof.takeovers
    assert (choice.kept, choice.dropped) == (6, 2)
    assert max(z for *_, z in face_of(roof, 2, "wall").corners) == pytest.approx(48)


def test_wall_that_goes_on_past_an_inside_corner_is_a_step_there() -> None:
    outline: list[Point2] = [(0, 0), (480, 0), (480, 240), (240, 240), (240, 480), (0, 480)]
    roof = raise_roof(outline, [ONE, ONE, ONE, RAKE, ONE, ONE])
    low = face_of(roof, 2)
    (step,) = [side for side in low.sides if side.wall == 3]
    assert step.outline is None
    assert {x for x, _, _ in (step.start, step.end)} == {240.0}
    high = [side for side in face_of(roof, 4).sides if side.wall == 3]
    assert [side.outline for side in high] == [3]
    for face in roof.roof_faces:
        for side in face.sides:
            if side.outline == 3:
                assert min(side.start[1], side.end[1]) >= 240 - 1e-9


def test_start_height_of_a_rake_means_nothing() -> None:
    plain = raise_roof(RECTANGLE, [SEVEN, RAKE, SEVEN, RAKE])
    assert raise_roof(RECTANGLE, [SEVEN, FrontEdge(0.0, 50.0), SEVEN, FrontEdge(0.0, -50.0)]) == plain


def test_moving_up_turning_and_renumbering_change_nothing_else() -> None:
    outline: list[Point2] = [(0, 0), (480, 0), (480, 240), (240, 240), (240, 600), (0, 600)]
    edges = [SIX, FrontEdge(1.5, 12.0), SIX, ONE, RAKE, SEVEN]
    plain = {face.edges: face.plan_area for face in raise_roof(outline, edges).roof_faces}
    up = raise_roof(outline, [FrontEdge(edge.cot, edge.start_in + 97.125) for edge in edges])
    assert {face.edges: face.plan_area for face in up.roof_faces} == pytest.approx(plain)
    c, s = math.cos(0.7), math.sin(0.7)
    turned = raise_roof([(c * x - s * y + 1e4, s * x + c * y) for x, y in outline], edges)
    assert {face.edges: face.plan_area for face in turned.roof_faces} == pytest.approx(plain)
    for shift in range(1, 6):
        there = [(k + shift) % 6 for k in range(6)]
        roof = raise_roof([outline[k] for k in there], [edges[k] for k in there])
        assert {(there[face.edge],): face.plan_area for face in roof.roof_faces} == pytest.approx(plain)


def test_no_roof_over_rakes_alone() -> None:
    with pytest.raises(NoSolution, match="All edges are rakes"):
        raise_roof(RECTANGLE, [RAKE] * 4)


def test_walls_that_keep_the_roof_open_are_named() -> None:
    outline: list[Point2] = [(0, 0), (240, 0), (480, 0), (480, 240), (0, 240)]
    with pytest.raises(NoSolution, match=r"between the edges 2, 3 and 4, which are rakes or walls") as error:
        raise_roof(outline, [ONE, RAKE, RAKE, RAKE, RAKE])
    assert str(error.value).count(".") == 1


BAD_OUTLINES: list[tuple[list[Point2], str]] = [
    ([], "no corners"),
    ([(0, 0), (1, 0)], "only 2 corners; draw at least three"),
    ([(0, 0), (0, 10), (10, 10), (10, 0)], "runs clockwise"),
    ([(0, 0), (10, 0), (10, 10), (10, 10), (0, 10)], r"Corners 3 and 4 .* same point \(10, 10\)"),
    ([(0, 0), (10, 0), (10, 10), (0, 10), (0, 0)], r"Corners 1 and 5 .* same point \(0, 0\)"),
    ([(0, 0), (10, 0), (5, 5), (10, 10), (0, 10), (5, 5)], r"Corners 3 and 6 .* same point \(5, 5\)"),
    ([(0, 0), (10, 0), (0, 10), (10, 10)], r"edge 2 and edge 4 cross at \(5, 5\)"),
    ([(0, 0), (10, 0), (10, 10), (5, -5), (0, 10)], r"crosses itself: edge 1 and edge 3 cross at \(6.66667, 0\)"),
    ([(0, 0), (10, 0), (10, 10), (5, 0), (0, 10)], r"corner 4 \(5, 0\) lies on edge 1"),
    ([(0, 0), (10, 0), (10, 10), (10, 4), (0, 10)], r"Edge 3 .* folds back over edge 2 at corner 3 \(10, 10\)"),
    ([(0, 0), (10, 0), (20, 0)], "folds back"),
    ([(0, 0), (10, math.nan), (20, 5)], "Corner 2 .* not a finite point"),
    ([(0, 0), (math.inf, 0), (20, 5)], "Corner 2 .* not a finite point"),
    ([(3, 3), (3, 3), (3, 3)], "Corners 1 and 2 .* same point"),
]


@pytest.mark.parametrize(("outline", "words"), BAD_OUTLINES)
def test_unfit_outline_is_refused_in_one_sentence(outline: list[Point2], words: str) -> None:
    with pytest.raises(BadInput, match=words) as error:
        check_outline(outline)
    assert str(error.value).endswith(".")
    assert "\n" not in str(error.value)
    with pytest.raises(BadInput):
        raise_roof(outline, [ONE] * len(outline))


def test_edges_must_fit_the_outline_and_have_a_usable_slope() -> None:
    with pytest.raises(BadInput, match="4 edges, but 3 are described"):
        raise_roof(RECTANGLE, [ONE] * 3)
    for cot in (-1.0, 1e-7, 1e9, math.inf, math.nan):
        with pytest.raises(BadInput, match="run per rise of edge 2"):
            raise_roof(RECTANGLE, [ONE, FrontEdge(cot), ONE, ONE])
    with pytest.raises(BadInput, match="start height of edge 3"):
        raise_roof(RECTANGLE, [ONE, ONE, FrontEdge(1.0, math.nan), ONE])


def test_check_outline_takes_every_rotation_of_a_good_outline() -> None:
    for shift in range(len(LEVELLED)):
        check_outline(list(itertools.islice(itertools.cycle(LEVELLED), shift, shift + len(LEVELLED))))
