"""Segments cut at their crossings, and the cells between them, against shapely where it can be relied on."""

from __future__ import annotations

import math
import random

import pytest
import shapely

from workbench.roof.joining.cells import cut_into_cells
from workbench.roof.joining.noding import noded


def ring(*corners):
    return [(*a, *b) for a, b in zip(corners, corners[1:] + corners[:1], strict=True)]


def test_crossing_ends_on_a_segment_and_overlap() -> None:
    nodes, sides = noded([(0, 0, 10, 0), (5, -5, 5, 5), (2, 0, 2, 3), (4, 0, 12, 0)])
    assert {(0.0, 0.0), (5.0, 0.0), (2.0, 0.0), (4.0, 0.0), (10.0, 0.0), (12.0, 0.0)} <= set(nodes)
    level = sorted(sorted((nodes[a], nodes[b])) for a, b in sides if nodes[a][1] == nodes[b][1] == 0.0)
    assert [pair[0][0] for pair in level] == [0.0, 2.0, 4.0, 5.0, 10.0]  # each stretch once, overlaps too


def test_a_loose_end_makes_no_node_of_its_own() -> None:
    nodes, sides = noded(ring((0, 0), (10, 0), (10, 10), (0, 10)), loose=[(5, -0.001, 5, 10.001)])
    assert sorted(nodes) == [(0, 0), (0, 10), (5, 0), (5, 10), (10, 0), (10, 10)]
    assert len(sides) == 7


@pytest.mark.parametrize("seed", range(5))
def test_cells_between_random_lines(seed) -> None:
    rng = random.Random(seed)
    segments = ring((0, 0), (100, 0), (100, 100), (0, 100))
    segments += [tuple(rng.uniform(0, 100) for _ in range(4)) for _ in range(25)]
    cells = cut_into_cells(segments)
    lines = shapely.unary_union([shapely.LineString([s[:2], s[2:]]) for s in segments])
    expected = sorted(polygon.area for polygon in shapely.polygonize([lines]).geoms)
    assert sorted(cells.areas.values()) == pytest.approx(expected, rel=1e-9, abs=1e-6)
    assert sum(cells.areas.values()) == pytest.approx(10_000.0)


def test_lines_that_agree_but_for_rounding_are_one() -> None:
    """A rectangle at 45 degrees beside another whose side lies in line with its own."""
    half = math.sqrt(0.5)
    first = [(24.0 + half * a, -24.0 + half * b) for a, b in ((0, 0), (72, 72), (0, 144), (-72, 72))]
    second = [(72.0 + half * a, 24.0 + half * b) for a, b in ((0, 0), (432, 432), (360, 504), (-72, 72))]
    cells = cut_into_cells([*ring(*first), *ring(*second)])
    outlines = [shapely.Polygon(first), shapely.Polygon(second)]
    both = outlines[0].intersection(outlines[1]).area
    assert len(cells.areas) == 3
    assert sum(cells.areas.values()) == pytest.approx(sum(shape.area for shape in outlines) - both)


def test_a_cell_in_a_cell_is_a_hole_of_it() -> None:
    cells = cut_into_cells([*ring((0, 0), (10, 0), (10, 10), (0, 10)), *ring((4, 4), (6, 4), (6, 6), (4, 6))])
    assert sorted(cells.areas.values()) == pytest.approx([4.0, 96.0])
    assert [len(part) for part in cells.parts(cells.areas)] == [2]
