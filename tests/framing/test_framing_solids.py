"""Triangles of shapes, slabs and boards: areas against shapely, volumes by the divergence theorem, no holes left."""

from __future__ import annotations

import math
from collections import Counter

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from shapely.geometry import Polygon

from workbench.framing.model import Member
from workbench.framing.solids import board, normals_of, slabs, standing, triangles_of
from workbench.job.edits import add_wing
from workbench.job.model import Job
from workbench.plan import solve


def _area(triangles) -> float:
    a, b, c = triangles[:, 0], triangles[:, 1], triangles[:, 2]
    return float(((b - a)[:, 0] * (c - a)[:, 1] - (b - a)[:, 1] * (c - a)[:, 0]).sum() / 2.0)


def _volume(triangles) -> float:
    """Divergence theorem: the signed pyramids from the origin to all faces."""
    return float(np.einsum("ij,ij->i", triangles[:, 0], np.cross(triangles[:, 1], triangles[:, 2])).sum() / 6.0)


def _is_closed(triangles) -> bool:
    """Every side of a triangle is gone along once each way."""
    sides: Counter = Counter()
    for corners in np.round(triangles, 5) + 0.0:
        for a, b in zip(corners, np.roll(corners, -1, axis=0), strict=True):
            sides[tuple(a), tuple(b)] += 1
    return all(sides[b, a] == count for (a, b), count in sides.items() if a != b)


@st.composite
def _stars(draw) -> list[tuple[float, float]]:
    """Rings round the origin, as a rule not convex, either way round."""
    reaches = draw(st.lists(st.floats(5.0, 100.0), min_size=3, max_size=12))
    ring = [
        (r * math.cos(2 * math.pi * i / len(reaches)), r * math.sin(2 * math.pi * i / len(reaches)))
        for i, r in enumerate(reaches)
    ]
    return ring if draw(st.booleans()) else ring[::-1]


@settings(max_examples=60, deadline=None)
@given(_stars())
def test_triangles_cover_the_shape_once_and_turn_left(ring) -> None:
    triangles = triangles_of(ring)
    assert _area(triangles) == pytest.approx(Polygon(ring).area, rel=1e-9)
    assert all(_area(triangles[i : i + 1]) > -1e-9 for i in range(len(triangles)))


def test_triangles_leave_openings_open_even_where_one_touches_the_border() -> None:
    ring = [(0.0, 0.0), (100.0, 0.0), (100.0, 60.0), (0.0, 60.0)]
    holes = [[(10.0, 10.0), (10.0, 20.0), (20.0, 20.0), (20.0, 10.0)], [(50.0, 60.0), (60.0, 40.0), (40.0, 40.0)]]
    triangles = triangles_of(ring, holes)
    assert _area(triangles) == pytest.approx(6000.0 - 100.0 - 200.0)
    middles = triangles.mean(axis=1)
    assert not any(Polygon(hole).contains(Polygon(t).centroid) for hole in holes for t in triangles)
    assert len(middles) >= 8


def test_shape_without_an_inside_has_no_triangles() -> None:
    assert not len(triangles_of([(0.0, 0.0), (10.0, 0.0)]))
    assert not len(triangles_of([(0.0, 0.0), (10.0, 0.0), (20.0, 0.0)]))


@settings(max_examples=40, deadline=None)
@given(st.lists(_stars(), min_size=1, max_size=4), st.floats(0.1, 5.0))
def test_slabs_are_closed_and_hold_area_times_thickness(rings, thickness: float) -> None:
    triangles, owners = slabs(rings, 1.0, 1.0 + thickness)
    for number, ring in enumerate(rings):
        own = triangles[owners == number]
        assert _volume(own) == pytest.approx(Polygon(ring).area * thickness, rel=1e-6)
        assert _is_closed(own)


@pytest.fixture(scope="module")
def members() -> tuple[Member, ...]:
    job, _ = add_wing(
        Job(),
        [(0, 0), (480, 0), (480, 240), (288, 240), (288, 480), (0, 480)],
        ["eave"] * 6,
        eave_overhang_in=16.0,
    )
    return solve(job).framing.members


def test_boards_are_closed_and_square_ended_ones_hold_their_side_view(members) -> None:
    assert {"common_rafter", "hip_rafter", "valley_rafter", "hip_jack", "ridge_board"} <= {m.kind for m in members}
    for member in members:
        solid = board(member)
        assert _is_closed(solid), member.mark
        whole = Polygon(member.profile).area * member.thickness_in
        if member.top:
            # Bevels take wood off the side view, which shows the long points; never a tenth of it here.
            assert 0.9 * whole < _volume(solid) < whole, member.mark
        else:
            assert _volume(solid) == pytest.approx(whole), member.mark


def test_bevel_takes_a_wedge_off_a_jack(members) -> None:
    jack = next(m for m in members if m.kind == "hip_jack" and m.left)
    taken = Polygon(jack.profile).area * jack.thickness_in - _volume(board(jack))
    # The plumb cut leans by the shift between the faces; on the average half of that is gone, at the full depth.
    xs = [x for x, w in jack.top if x > jack.length_in / 2.0]
    assert taken == pytest.approx((max(xs) - min(xs)) / 2.0 * jack.depth_in * jack.thickness_in)


def test_boards_stand_with_their_top_edge_on_the_placements(members) -> None:
    for member in members:
        for placement in member.placements:
            solid = standing(board(member), [placement])
            along = np.subtract(placement.end, placement.start)
            along /= np.linalg.norm(along)
            left = np.array([-along[1], along[0], 0.0]) / math.hypot(along[0], along[1])
            up = np.cross(along, left)
            from_start = solid.reshape(-1, 3) - np.array(placement.start)
            assert (from_start @ up).max() == pytest.approx(0.0, abs=1e-6)
            assert (from_start @ up).min() == pytest.approx(-member.depth_in, abs=1e-6)
            assert np.abs(from_start @ left).max() == pytest.approx(member.thickness_in / 2.0, abs=1e-6)


def test_right_hand_board_is_the_mirror_image_of_the_left_hand_one(members) -> None:
    jack = next(m for m in members if m.left and m.right)
    left, right = (next(p for p in jack.placements if p.hand == hand) for hand in ("left", "right"))
    one, other = standing(board(jack), [left]), standing(board(jack), [right])
    assert _volume(one) == pytest.approx(_volume(other), rel=1e-6)
    assert _is_closed(other)


def test_normals_point_outwards() -> None:
    triangles, _ = slabs([[(0.0, 0.0), (10.0, 0.0), (10.0, 10.0), (0.0, 10.0)]], 0.0, 2.0)
    outward = triangles.mean(axis=1) - np.array([5.0, 5.0, 1.0])
    assert (np.einsum("ij,ij->i", normals_of(triangles), outward) > 0.0).all()
