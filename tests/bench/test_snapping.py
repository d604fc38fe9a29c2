"""The pure snapping function: what is caught, how exactly, and under which word."""

from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st
from shapely.geometry import LineString, Point

from workbench.bench.surface.snapping import (
    Targets,
    coarse_step,
    grid_step,
    left_of,
    on_lattice,
    snap,
    to_segment,
    unit,
)

BOX = Targets(
    ((0.0, 0.0), (480.0, 0.0), (480.0, 336.0), (0.0, 336.0)),
    (
        ((0.0, 0.0), (480.0, 0.0)),
        ((480.0, 0.0), (480.0, 336.0)),
        ((480.0, 336.0), (0.0, 336.0)),
        ((0.0, 336.0), (0.0, 0.0)),
    ),
)
coordinate = st.floats(-2000.0, 2000.0)
points = st.tuples(coordinate, coordinate)
scales = st.floats(0.05, 40.0)


def is_on_lattice(point):
    return all((value * 64.0).is_integer() for value in point)


class TestWords:
    def test_corner(self):
        caught = snap((477.0, 4.0), 1.0, BOX)
        assert caught.word == "corner"
        assert caught.point == (480.0, 0.0)

    def test_corner_is_given_back_as_it_is_even_off_the_lattice(self):
        odd = (1.0 / 3.0, 2.0 / 3.0)
        assert snap((1.0, 1.0), 1.0, Targets((odd,))).point == odd

    def test_middle(self):
        caught = snap((236.0, 5.0), 1.0, BOX)
        assert (caught.word, caught.point) == ("middle", (240.0, 0.0))

    def test_edge_at_whole_grid_steps_from_its_start(self):
        caught = snap((101.0, 3.0), 1.0, BOX, grid=12.0)
        assert (caught.word, caught.point) == ("edge", (96.0, 0.0))

    def test_grid(self):
        caught = snap((100.0, 100.0), 1.0, Targets(), grid=12.0)
        assert (caught.word, caught.point) == ("grid", (96.0, 96.0))

    def test_nothing_caught_is_on_the_lattice_without_a_word(self):
        caught = snap((100.003, 50.009), 1.0, Targets())
        assert caught.word == ""
        assert is_on_lattice(caught.point)

    def test_square_to_the_last_side(self):
        last = ((0.0, 0.0), (100.0, 50.0))
        turn = left_of(unit(*last))
        aim = (100.0 + 200.0 * turn[0] + 3.0, 50.0 + 200.0 * turn[1])
        caught = snap(aim, 1.0, Targets(), base=last[1], last=last)
        assert caught.word == "square to"
        way = (caught.point[0] - 100.0, caught.point[1] - 50.0)
        assert abs(way[0] * 100.0 + way[1] * 50.0) / math.hypot(*way) / math.hypot(100.0, 50.0) < 1e-4

    def test_extension_of_the_last_side(self):
        caught = snap((200.0, 4.0), 1.0, Targets(), base=(100.0, 0.0), last=((0.0, 0.0), (100.0, 0.0)))
        assert (caught.word, caught.point) == ("extension", (200.0, 0.0))

    def test_square_to_the_grid_before_there_is_a_side(self):
        caught = snap((7.0, 200.0), 1.0, Targets(), base=(0.0, 0.0), grid=12.0)
        assert (caught.word, caught.point) == ("square to grid", (0.0, 204.0))

    def test_parallel_to_an_edge_elsewhere(self):
        slanted = Targets((), (((1000.0, 1000.0), (1300.0, 1400.0)),))
        caught = snap((298.0, 401.0), 1.0, slanted, base=(0.0, 0.0))
        assert caught.word == "parallel"
        assert caught.point[1] / caught.point[0] == pytest.approx(4.0 / 3.0, abs=1e-4)

    def test_extension_of_an_edge_elsewhere(self):
        caught = snap((600.0, 3.0), 1.0, BOX)
        assert (caught.word, caught.point) == ("extension", (600.0, 0.0))

    def test_two_lines_at_once_close_a_rectangle(self):
        """Square to the last side and square to the first one: the fourth corner."""
        last, start = ((480.0, 0.0), (480.0, 336.0)), ((0.0, 0.0), (480.0, 0.0))
        caught = snap((4.0, 333.0), 1.0, Targets(), base=last[1], last=last, start=start, grid=12.0)
        assert (caught.word, caught.point) == ("square to", (0.0, 336.0))
        assert len(caught.guides) == 2

    def test_square_foot_on_an_edge(self):
        caught = snap((203.0, 331.0), 1.0, BOX, base=(200.0, 100.0))
        assert caught.point == (200.0, 336.0)
        assert "edge" in caught.word

    def test_corner_beats_edge_and_grid(self):
        assert snap((474.0, 1.0), 1.0, BOX, grid=12.0).word == "corner"


class TestReach:
    @pytest.mark.parametrize("scale", [0.1, 1.0, 10.0])
    def test_tolerance_is_in_screen_pixels(self, scale):
        inside, outside = 9.5 / scale, 10.5 / scale
        lone = Targets(((0.0, 0.0),))
        assert snap((inside, 0.0), scale, lone).word == "corner"
        assert snap((outside, 0.0), scale, lone).word == ""

    def test_an_edge_does_not_go_on_past_its_ends(self):
        lone = Targets((), (((0.0, 0.0), (100.0, 0.0)),))
        assert snap((60.0, 3.0), 1.0, lone).word == "edge"
        assert snap((140.0, 3.0), 1.0, lone).word == "extension"

    @given(points, scales, points)
    def test_what_is_caught_lies_near_the_pointer(self, at, scale, base):
        caught = snap(at, scale, BOX, base=base)
        assert math.dist(caught.point, at) * scale <= 15.0 + 0.02 * scale

    @given(points, scales, points, st.sampled_from([0.0, 1.0, 12.0]))
    def test_always_on_the_lattice(self, at, scale, base, grid):
        assert is_on_lattice(snap(at, scale, BOX, base=on_lattice(base), grid=grid).point)

    @given(points, scales)
    def test_catching_twice_moves_on_only_to_something_stronger_near_by(self, at, scale):
        once = snap(at, scale, BOX, grid=12.0)
        twice = snap(once.point, scale, BOX, grid=12.0)
        if twice.point != once.point:  # a grid step along an edge may lie within reach of a corner
            assert twice.word.split(",")[0] in ("corner", "middle", "edge", "extension")
            assert math.dist(twice.point, once.point) * scale <= 15.0 + 0.02 * scale

    @given(points, points, points)
    def test_distance_to_a_segment_as_shapely_measures_it(self, point, start, end):
        """Reference: shapely, LineString.distance."""
        point, start, end = on_lattice(point), on_lattice(start), on_lattice(end)
        expected = LineString([start, end]).distance(Point(point))
        assert to_segment(point, (start, end)) == pytest.approx(expected, abs=1e-6)


class TestGrid:
    @given(scales, st.sampled_from(["ft_in", "mm"]))
    def test_no_finer_than_the_screen_can_show(self, scale, system):
        step = grid_step(scale, system)
        assert step * scale >= 12.0 or step >= 1200.0

    def test_finer_as_the_view_comes_nearer(self):
        steps = [grid_step(scale, "ft_in") for scale in (0.02, 0.1, 1.0, 3.0, 13.0, 48.0)]
        assert steps == sorted(steps, reverse=True)
        assert steps[0] > steps[-1]

    def test_feet_and_millimetres(self):
        assert grid_step(1.0, "ft_in") == 12.0
        assert grid_step(1.0, "mm") * 25.4 == pytest.approx(500.0)

    @given(scales, st.sampled_from(["ft_in", "mm"]))
    def test_strong_lines_lie_on_fine_ones(self, scale, system):
        step = grid_step(scale, system)
        ratio = coarse_step(step, system) / step
        assert ratio == pytest.approx(round(ratio))
        assert ratio >= 3.9
