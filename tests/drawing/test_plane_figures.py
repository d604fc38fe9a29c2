"""Plane figures against shapely, a general-purpose reference."""

from __future__ import annotations

import math

import pytest
import shapely
from hypothesis import given, settings
from hypothesis import strategies as st

from workbench.drawing import shapes

numbers = st.integers(-400, 400).map(float)


@st.composite
def star_rings(draw):
    """Simple rings: corners at rising angles round a middle, not always convex."""
    count = draw(st.integers(3, 9))
    radii = draw(st.lists(st.integers(20, 200), min_size=count, max_size=count))
    dx, dy = draw(numbers), draw(numbers)
    ring = tuple(
        (dx + radius * math.cos(math.tau * i / count), dy + radius * math.sin(math.tau * i / count))
        for i, radius in enumerate(radii)
    )
    return ring if draw(st.booleans()) else ring[::-1]


@settings(max_examples=60, deadline=None)
@given(star_rings())
def test_area_and_centre_of_gravity(ring):
    figure = shapely.Polygon(ring)
    assert abs(shapes.area(ring)) == pytest.approx(figure.area)
    assert shapes.centroid(ring) == pytest.approx((figure.centroid.x, figure.centroid.y), abs=1e-6)
    assert shapes.box(ring) == pytest.approx(figure.bounds)


@settings(max_examples=60, deadline=None)
@given(star_rings(), numbers, numbers)
def test_inside_and_distance(ring, x, y):
    figure, point = shapely.Polygon(ring), shapely.Point(x, y)
    assert shapes.distance_to_outline(ring, (x, y)) == pytest.approx(figure.exterior.distance(point), abs=1e-6)
    if figure.exterior.distance(point) > 1e-6:
        assert shapes.contains(ring, (x, y)) == figure.contains(point)


@settings(max_examples=60, deadline=None)
@given(star_rings())
def test_visual_centre_lies_inside(ring):
    centre = shapes.visual_centre(ring)
    figure = shapely.Polygon(ring)
    if figure.contains(figure.centroid.buffer(0.5)):
        assert figure.contains(shapely.Point(centre))


def test_visual_centre_of_a_rectangle_is_its_middle():
    assert shapes.visual_centre(((0.0, 0.0), (96.0, 0.0), (96.0, 48.0), (0.0, 48.0))) == pytest.approx((48.0, 24.0))


@settings(max_examples=60, deadline=None)
@given(star_rings(), st.floats(0.05, 0.95))
def test_spans_on_a_line(ring, part):
    x0, y0, x1, y1 = shapes.box(ring)
    figure = shapely.Polygon(ring)
    x, y = x0 + part * (x1 - x0), y0 + part * (y1 - y0)
    upright = figure.intersection(shapely.LineString([(x, y0 - 1), (x, y1 + 1)])).length
    level = figure.intersection(shapely.LineString([(x0 - 1, y), (x1 + 1, y)])).length
    assert sum(high - low for low, high in shapes.spans_at_x(ring, x)) == pytest.approx(upright, abs=1e-4)
    assert sum(high - low for low, high in shapes.spans_at_y(ring, y)) == pytest.approx(level, abs=1e-4)


@settings(max_examples=60, deadline=None)
@given(star_rings(), st.floats(0.0, 0.6), st.floats(0.1, 0.4))
def test_part_between_two_lines(ring, start, width):
    x0, y0, x1, y1 = shapes.box(ring)
    left, right = x0 + start * (x1 - x0), x0 + (start + width) * (x1 - x0)
    part = shapes.clipped_to_x(ring, left, right)
    expected = shapely.Polygon(ring).intersection(shapely.box(left, y0 - 1, right, y1 + 1)).area
    assert abs(shapes.area(part)) == pytest.approx(expected, rel=1e-6, abs=1e-6)
