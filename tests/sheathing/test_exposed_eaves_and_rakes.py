"""Eaves and rakes in another material: the sheets begin where it ends, and it is counted by itself."""

from __future__ import annotations

import math

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from shapely.geometry import Polygon
from shapely.ops import unary_union

from workbench.job.exposed import ExposedEdges
from workbench.job.model import Sheathing
from workbench.roof.model import Roof
from workbench.sheathing.cutting import check_cutting
from workbench.sheathing.solve import plan_sheathing


def plan_of(build, roof, exposed, **more):
    return plan_sheathing(roof, build.framing(roof.planes), Sheathing(exposed=exposed, **more))


def codes(plan):
    return [finding.code for finding in plan.findings]


def test_nothing_changes_where_no_edge_is_exposed(build):
    roof = Roof((build.upright(240.0, 150.0),))
    plan = plan_of(build, roof, ExposedEdges())
    assert plan == plan_sheathing(roof, build.framing(roof.planes), Sheathing())
    assert plan.exposed == ()


def test_the_first_row_begins_at_the_change_and_its_snap_line_is_read_from_the_eave(build):
    roof = Roof((build.upright(240.0, 168.125),))  # 24 in of boards, and three whole rows with a gap between each two
    plan = plan_of(build, roof, ExposedEdges(eaves_in=24.0, board_in=6.0, thickness_in=0.4375))
    rows = plan.planes[0].rows
    assert [row.width_in for row in rows] == pytest.approx([47.875, 48.0, 48.0], abs=1e-6)
    assert rows[0].bottom_in == pytest.approx(24.0)
    assert rows[0].snap_in == pytest.approx(24.0 + rows[0].width_in)
    (strip,) = plan.exposed
    # By hand: four courses of 6 in, 240 in long; two nails at each of the rafters.
    supports = build.framing(roof.planes).supports_of("main/front")
    assert (strip.courses, strip.length_in, strip.nails) == (4, pytest.approx(960.0), 4 * 2 * len(supports))
    assert strip.changes == (((0.0, 24.0), (240.0, 24.0)),)
    told = next(finding for finding in plan.findings if finding.code == "exposed-change")
    assert "row 1 begins there, above 4 courses" in told.text
    assert "exposed-thickness" not in codes(plan)


def test_the_change_is_a_seam_and_the_thickness_a_caution(build):
    roof = Roof((build.upright(240.0, 150.0),))
    without = plan_of(build, roof, ExposedEdges()).seam_totals
    plan = plan_of(build, roof, ExposedEdges(eaves_in=30.125, rakes_in=24.0))
    changes = [line for strip in plan.exposed for line in strip.changes]
    lengths = sorted(round(math.dist(a, b), 3) for a, b in changes)
    assert lengths == [119.875, 119.875, 192.0]
    assert plan.seam_totals.upslope > without.upslope
    caution = next(finding for finding in plan.findings if finding.code == "exposed-thickness")
    assert caution.severity == "warning"
    assert "5/16" in caution.text  # 3/4 less 7/16


def test_a_change_along_a_rake_has_to_lie_on_a_rafter_and_says_where_it_would(build):
    roof = Roof((build.upright(240.0, 150.0),))  # rafters 24 in on centre
    astray = plan_of(build, roof, ExposedEdges(rakes_in=15.0))
    told = next(finding for finding in astray.findings if finding.code == "exposed-change-off-rafter")
    assert told.severity == "error"
    assert "2' 0\"" in told.text
    good = plan_of(build, roof, ExposedEdges(rakes_in=24.0))
    assert "exposed-change-off-rafter" not in codes(good)
    # The sheets' edge at the change is nailed to that rafter.
    upright = [line for line in good.nail_lines if line.start[0] == line.end[0]]
    ends = [line for line in upright if abs(line.start[0] - 24.375) < 1e-6]
    assert {line.kind for line in ends} == {"edge"}


def test_a_strip_that_leaves_nothing_is_told_and_the_plane_laid_with_sheets(build):
    roof = Roof((build.upright(240.0, 60.0),))
    plan = plan_of(build, roof, ExposedEdges(eaves_in=60.0))
    assert "exposed-too-wide" in codes(plan)
    assert plan.exposed == ()
    assert plan.planes[0].covered_in == pytest.approx(60.0)


@settings(max_examples=25, deadline=None)
@given(
    width=st.integers(150, 500),
    up=st.integers(70, 200),
    eaves=st.sampled_from([0.0, 10.5, 24.0, 48.0, 60.0]),
    rakes=st.sampled_from([0.0, 12.0, 24.0]),
    finish=st.sampled_from(["boards", "panel"]),
    hip=st.booleans(),
    past=st.sampled_from([0.0, 1.5]),
)
def test_strips_and_sheets_cover_every_plane_once(build, width, up, eaves, rakes, finish, hip, past):
    roof = build.hip(float(width), min(2.0 * up, width * 0.9)) if hip else build.gable(float(width), float(up))
    exposed = ExposedEdges(finish=finish, eaves_in=eaves, rakes_in=rakes)
    plan = plan_of(build, roof, exposed, past_tail_in=past, gap_in=0.0)
    whole = plan_of(build, roof, ExposedEdges(), past_tail_in=past, gap_in=0.0)
    assert "seams-disagree" not in codes(plan)
    assert check_cutting([piece for plane in plan.planes for piece in plane.pieces], plan.stock) == []
    finish_pieces = [piece for strip in plan.exposed for piece in strip.pieces]
    assert check_cutting(finish_pieces, plan.exposed_stock) == []
    for sheets, before in zip(plan.planes, whole.planes, strict=True):
        strips = [Polygon(ring) for s in plan.exposed if s.plane == sheets.plane for ring in s.polygons]
        parts = [*strips, *(Polygon(piece.polygon) for piece in sheets.pieces)]
        all_over = unary_union([Polygon(piece.polygon) for piece in before.pieces])
        assert sum(part.area for part in parts) == pytest.approx(all_over.area, rel=1e-5)
        assert unary_union(parts).symmetric_difference(all_over).area < 1.0
    if finish == "panel":
        area = sum(Polygon(piece.polygon).area for piece in finish_pieces)
        assert area == pytest.approx(sum(strip.area_sqin for strip in plan.exposed), rel=1e-5, abs=1e-6)
