"""The outer row takes up what a plane measured on site differs from the plan, at each of its ends.

Widths are checked against sums of rows and gaps, areas and shapes against shapely.
"""

from __future__ import annotations

import math

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from shapely.geometry import Polygon, box
from shapely.ops import unary_union

from workbench.job.as_built import PlaneMeasured
from workbench.job.model import PlaneChoice, Sheathing
from workbench.measure.units import Units
from workbench.roof.model import Roof
from workbench.sheathing.cutting import check_cutting
from workbench.sheathing.first_row import first_row_table
from workbench.sheathing.optimise import optimise_sheathing
from workbench.sheathing.rows import RowRules
from workbench.sheathing.solve import plan_sheathing

GAP = 0.125


def planned(build, width, length, **rules):
    plane = build.upright(width, length)
    return plane, plan_sheathing(Roof((plane,)), build.framing([plane]), Sheathing(**rules))


def measured(build, width, length, left, right, solver=plan_sheathing, **rules):
    plane = build.upright(width, length)
    taken = (PlaneMeasured(plane=plane.id, left_in=left, right_in=right),)
    return solver(Roof((plane,)), build.framing([plane]), Sheathing(**rules), measured=taken)


@pytest.mark.parametrize("rip", ["bottom", "top", "both"])
@given(length=st.floats(60.0, 330.0))
@settings(max_examples=25, deadline=None)
def test_rows_of_every_line_add_up_to_what_was_measured(build, length, rip):
    plane, plan = planned(build, 192.0, length, rip=rip)
    lines = first_row_table(plan.planes[0], plane, RowRules(), rip, Units())
    assert len(lines) == 25
    least, panel = 24.0, 48.0
    for line in lines:
        opened = line.measured_in - sum(line.widths_in) - (len(line.widths_in) - 1) * GAP
        # A bare leftover no wider than a gap opens the gaps by as much, or stays open at the top.
        assert -1e-6 <= opened <= GAP + 1e-6
        assert all(least - 1e-6 <= width <= panel + 1e-6 for width in line.widths_in)


def test_only_the_first_row_changes_until_it_would_be_too_narrow(build):
    # 132 1/4 covers two full rows, two gaps and a first row of 36: sums of rows and gaps.
    plane, plan = planned(build, 192.0, 132.25)
    lines = first_row_table(plan.planes[0], plane, RowRules(), "bottom", Units())
    assert [line.widths_in[0] for line in lines] == pytest.approx([33.0 + 0.25 * k for k in range(25)])
    assert not any(line.switched for line in lines)
    # 121 1/4: a first row of 25; half an inch shorter than 24 the split changes to two rips.
    plane, plan = planned(build, 192.0, 121.25)
    lines = {line.measured_in: line for line in first_row_table(plan.planes[0], plane, RowRules(), "bottom", Units())}
    assert lines[120.25].widths_in == pytest.approx((24.0, 48.0, 48.0))
    assert len(lines[120.0].widths_in) == 3
    assert lines[120.0].switched
    assert lines[120.0].widths_in[1] < 48.0


def test_metric_tables_step_by_five_millimetres(build):
    plane, plan = planned(build, 192.0, 132.25)
    lines = first_row_table(plan.planes[0], plane, RowRules(), "bottom", Units("mm"))
    assert len(lines) == 31
    assert all(abs(line.measured_in * 25.4 / 5.0 - round(line.measured_in * 25.4 / 5.0)) < 1e-6 for line in lines)


def test_a_plane_out_of_square_gets_a_tapered_first_row(build):
    plan = measured(build, 192.0, 132.25, 132.25, 131.25)
    sheets = plan.planes[0]
    first, second = sheets.rows[0], sheets.rows[1]
    assert first.width_ends_in == pytest.approx((36.0, 35.0))
    assert first.snap_ends_in == pytest.approx((36.0, 35.0))
    assert second.snap_ends_in == pytest.approx((84.125, 83.125))
    assert [found.code for found in plan.findings] == ["cut-as-measured"]
    # The full rows stay full, and level with the ridge.
    upper = [piece for piece in sheets.pieces if piece.row > 1]
    assert all(piece.cut_width_in == pytest.approx(48.0) for piece in upper)
    lower = unary_union([Polygon(piece.polygon) for piece in sheets.pieces if piece.row == 1])
    gaps = sum(GAP * 35.5 for _ in sheets.joints_in[0])
    assert lower.area == pytest.approx(192.0 * 35.5 - gaps, abs=1.0)


@pytest.mark.parametrize("solver", [plan_sheathing, optimise_sheathing])
@pytest.mark.parametrize("rip", ["bottom", "top", "both"])
@pytest.mark.parametrize(("left", "right"), [(131.0, 133.0), (133.5, 132.0), (130.0, 130.0), (122.0, 119.5)])
def test_tapered_pieces_cover_what_was_measured_and_can_be_cut(build, solver, rip, left, right):
    plan = measured(build, 240.0, 132.25, left, right, solver, rip=rip)
    pieces = plan.planes[0].pieces
    assert check_cutting(pieces, plan.stock) == []
    shapes = [Polygon(piece.polygon) for piece in pieces]
    edge = [(0.0, 132.25), (240.0, 132.25)] if rip != "top" else [(0.0, 0.0), (240.0, 0.0)]
    other = [(240.0, 132.25 - right), (0.0, 132.25 - left)] if rip != "top" else [(240.0, right), (0.0, left)]
    wanted = Polygon([*edge, *other])
    grown = unary_union([shape.buffer(0.13, join_style="mitre") for shape in shapes])
    assert wanted.difference(grown).area < 1e-6
    assert unary_union(shapes).difference(wanted.buffer(1e-6)).area < 1e-3
    assert sum(shape.area for shape in shapes) == pytest.approx(unary_union(shapes).area, abs=1e-6)
    narrow = min(min(_left_right(shape)) for shape in shapes)
    assert narrow >= 24.0 - 1e-6
    assert all(found.severity != "error" for found in plan.findings)


def _left_right(shape):
    x0, y0, x1, y1 = shape.bounds
    return [shape.intersection(box(x - 0.02, y0 - 1, x + 0.02, y1 + 1)).area / 0.02 for x in (x0 + 1e-9, x1 - 1e-9)]


def test_where_an_end_would_go_under_the_least_width_the_split_changes(build):
    # 121 1/4 planned with a first row of 25; its right end would be 23.
    plan = measured(build, 192.0, 121.25, 121.25, 119.25)
    widths = [row.width_in for row in plan.planes[0].rows]
    assert plan.planes[0].rows[0].width_ends_in[1] >= 24.0 - 1e-6
    assert sum(widths) + 2 * GAP == pytest.approx(121.25)
    assert all(found.severity != "error" for found in plan.findings)


def test_more_taper_than_a_row_can_take_up_is_an_error(build):
    plan = measured(build, 192.0, 121.25, 145.0, 119.0)
    assert [(f.code, f.severity) for f in plan.findings if f.severity == "error"] == [("row-too-narrow", "error")]
    assert check_cutting(plan.planes[0].pieces, plan.stock) == []


def test_measures_that_cannot_be_used_are_told_and_the_drawn_plane_is_cut(build):
    plan = measured(build, 192.0, 132.25, 232.0, 232.0)
    assert [found.code for found in plan.findings] == ["measure-not-used"]
    assert plan.planes[0].covered_in == pytest.approx(132.25)
    triangle = build.polygon([(0.0, 0.0), (240.0, 0.0), (120.0, 120.0)], ["eave", "hip", "hip"])
    taken = (PlaneMeasured(plane=triangle.id, left_in=121.0, right_in=121.0),)
    plan = plan_sheathing(Roof((triangle,)), build.framing([triangle]), Sheathing(), measured=taken)
    assert "measure-not-used" in [found.code for found in plan.findings]


def test_one_measured_end_counts_for_both_and_choices_hold(build):
    plane = build.upright(192.0, 132.25)
    taken = (PlaneMeasured(plane=plane.id, left_in=132.0),)
    choice = (PlaneChoice(plane=plane.id, rip="top"),)
    plan = plan_sheathing(Roof((plane,)), build.framing([plane]), Sheathing(), choice, measured=taken)
    assert plan.planes[0].rows[-1].width_in == pytest.approx(35.75)
    assert plan.planes[0].rows[-1].width_ends_in is None


def test_a_hip_planes_measure_moves_its_eave(build):
    plane = build.polygon([(0.0, 0.0), (480.0, 0.0), (360.0, 132.25), (120.0, 132.25)], ["eave", "hip", "ridge", "hip"])
    taken = (PlaneMeasured(plane=plane.id, left_in=132.75, right_in=132.75),)
    plan = plan_sheathing(Roof((plane,)), build.framing([plane]), Sheathing(), measured=taken)
    assert plan.planes[0].rows[0].width_in == pytest.approx(36.5)
    assert check_cutting(plan.planes[0].pieces, plan.stock) == []
    assert math.isclose(plan.planes[0].covered_in, 132.75)
