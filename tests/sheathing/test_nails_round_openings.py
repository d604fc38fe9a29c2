"""Panel edges on the trimmers and headers of openings: edge spacing, common practice, no source. Counted by hand."""

from __future__ import annotations

import dataclasses
import math

import pytest
from hypothesis import Phase, given, settings
from hypothesis import strategies as st
from shapely.geometry import LineString, Polygon

from workbench.framing.model import Framing
from workbench.job import edits
from workbench.job.model import Fastening, Job, Sheathing
from workbench.plan import solve
from workbench.roof.model import PlaneEdge, Roof
from workbench.sheathing.opening_sides import chords_at, without
from workbench.sheathing.solve import plan_sheathing

LEFT, RIGHT, LOW, HIGH = 24.75, 71.25, 12.0, 36.0
"""An opening in the first sheet, between the faces of the rafters at 24 and 72; the one at 48 is cut off."""


@pytest.fixture
def opened(build):
    """A gable's plane of two rows with the opening in it."""
    plane = build.upright(240.0, 96.125)
    ring = [(LEFT, LOW), (LEFT, HIGH), (RIGHT, HIGH), (RIGHT, LOW)]
    corners = tuple(plane.to_space(point) for point in ring)
    edges = tuple(PlaneEdge("wall", a, b) for a, b in zip(corners, (*corners[1:], corners[0]), strict=True))
    return dataclasses.replace(plane, openings=(corners,), opening_edges=(edges,))


def lines_of(build, plane, schedule="common-6-12"):
    frame = Framing((), ((plane.id, build.rafters(240.0)),))
    plan = plan_sheathing(Roof((plane,)), frame, Sheathing(), (), Fastening(schedule=schedule))
    first = min(plan.planes[0].pieces, key=lambda piece: (piece.row, piece.polygon[0][0])).label
    return plan, [line for line in plan.nail_lines if line.piece == first]


def at(lines, x, tolerance=1e-9):
    return sorted(
        (line for line in lines if line.start[0] == line.end[0] and abs(line.start[0] - x) < tolerance),
        key=lambda line: line.start,
    )


def test_the_sides_are_nailed_as_panel_edges(build, opened) -> None:
    _, lines = lines_of(build, opened)
    for x in (LEFT - 0.375, RIGHT + 0.375):
        (side,) = at(lines, x)
        # 23 1/4 in between the end nails, 6 in apart at most: 4 spaces, 5 nails.
        assert (side.kind, side.spacing_in, side.count) == ("edge", 6.0, 5)
        assert (side.start[1], side.end[1]) == pytest.approx((LOW + 0.375, HIGH - 0.375))
    level = [line for line in lines if line.start[1] == line.end[1] and line.start[0] != line.end[0]]
    assert sorted(line.start[1] for line in level) == pytest.approx([LOW - 0.375, HIGH + 0.375])
    # 45 3/4 in between the end nails: 8 spaces, 9 nails.
    assert {(line.kind, line.count) for line in level} == {("edge", 9)}


def test_the_trimmer_above_and_below_is_an_ordinary_rafter(build, opened) -> None:
    _, lines = lines_of(build, opened)
    for x in (24.0, 48.0, 72.0):  # the trimmers, and the rafter cut off between them
        below, above = at(lines, x)
        assert (below.kind, above.kind) == ("field", "field")
        assert (below.start[1], below.end[1]) == pytest.approx((0.375, LOW - 0.375))
        assert (above.start[1], above.end[1]) == pytest.approx((HIGH + 0.375, 48.0 - 0.375), abs=0.1)
        # 11 1/4 in between end nails, 12 in apart at most: 2 nails each.
        assert (below.count, above.count) == (2, 2)


def test_the_trace_tells_it(build, opened) -> None:
    plan, _ = lines_of(build, opened)
    (trace,) = [trace for trace in plan.traces if trace.name == "sheathing nails"]
    assert "along the trimmers and headers of openings as panel edges (common practice, no source)" in trace.formula


def test_no_trimmer_no_edge_line(build, opened) -> None:
    frame = Framing((), ((opened.id, (0.75, 12.0, 48.0, 84.0, 96.0, 132.0, 192.0, 239.25)),))
    plan = plan_sheathing(Roof((opened,)), frame, Sheathing(), (), Fastening(schedule="common-6-12"))
    assert not [line for line in plan.nail_lines for x in (LEFT - 0.375, RIGHT + 0.375) if line.start[0] == x]


@settings(max_examples=10, deadline=None, phases=[Phase.explicit, Phase.generate])
@given(x=st.floats(70.0, 300.0), wide=st.floats(20.0, 60.0), up=st.floats(10.0, 60.0), slope=st.floats(3.0, 12.0))
def test_no_line_runs_over_an_opening(x, wide, up, slope) -> None:
    """Every nailed line lies on its own piece, by shapely; the four sides are nailed."""
    job, wing = edits.add_wing(
        Job(), [(0.0, 0.0), (420.0, 0.0), (420.0, 264.0), (0.0, 264.0)], ["eave", "rake"] * 2, slope_in_12=slope
    )
    job, _ = edits.add_opening(job, f"{wing}/e1", x_in=x, y_in=up, width_in=wide, length_in=40.0)
    plan = solve(job, "preview")
    shapes = {(p.plane, p.label): Polygon(p.polygon).buffer(1e-3) for s in plan.sheathing.planes for p in s.pieces}
    for line in plan.sheathing.nail_lines:
        if line.start != line.end:
            assert shapes[line.plane, line.piece].covers(LineString([line.start, line.end]))
    (plane,) = [plane for plane in plan.roof.planes if plane.openings]
    (ring,) = plane.opening_polygons
    hole = Polygon(ring)
    beside = [
        math.dist(line.start, line.end)
        for line in plan.sheathing.nail_lines
        if line.plane == plane.id
        and line.kind == "edge"
        and hole.exterior.buffer(0.4).covers(LineString([line.start, line.end]))
    ]
    assert sum(beside) > 0.75 * hole.length


def test_chords() -> None:
    ring = [(0.0, 0.0), (10.0, 0.0), (10.0, 9.0), (6.0, 9.0), (6.0, 3.0), (4.0, 3.0), (4.0, 9.0), (0.0, 9.0)]
    assert chords_at(ring, 5.0) == [(0.0, 3.0)]
    assert chords_at(ring, 2.0) == [(0.0, 9.0)]
    assert without([(0.0, 9.0)], 3.0, 5.0) == [(0.0, 3.0), (5.0, 9.0)]
    assert without([(0.0, 9.0)], -1.0, 10.0) == []
