"""Planes and rules that sheets do not suit: told in a finding, and what is cut still holds."""

from __future__ import annotations

import pytest
from shapely.geometry import Polygon

from workbench.job.model import Sheathing
from workbench.roof.model import Roof
from workbench.sheathing.cutting import check_cutting
from workbench.sheathing.optimise import optimise_sheathing
from workbench.sheathing.solve import plan_sheathing


def laid(build, plane, spacing=24.0, solver=plan_sheathing, **rules):
    return solver(Roof((plane,)), build.framing([plane], spacing), Sheathing(**rules))


def codes(plan, severity):
    return {found.code for found in plan.findings if found.severity == severity}


@pytest.mark.parametrize("solver", [plan_sheathing, optimise_sheathing])
@pytest.mark.parametrize("size", [(40.0, 30.0), (30.0, 12.0), (5.0, 100.0), (90.0, 47.0)])
def test_a_plane_smaller_than_a_sheet_is_cut_from_one_and_its_narrow_row_told(build, solver, size):
    plan = laid(build, build.upright(*size), solver=solver)
    pieces = plan.planes[0].pieces
    assert check_cutting(pieces, plan.stock) == []
    assert sum(Polygon(piece.polygon).area for piece in pieces) == pytest.approx(size[0] * size[1], rel=0.01)
    assert ("row-too-narrow" in codes(plan, "error")) == (size[1] < 24.0)
    if size[0] <= 96.0 and size[1] <= 48.0:
        assert plan.count == plan.at_least == 1


def test_a_slot_wider_than_the_top_row_leaves_the_rows_below_and_one_wider_than_the_plane_nothing(build):
    plane = build.upright(192.0, 120.0)
    plan = laid(build, plane, ridge_slot_in=50.0)
    assert sum(row.width_in for row in plan.planes[0].rows) + 0.125 == pytest.approx(70.0)
    assert check_cutting(plan.planes[0].pieces, plan.stock) == []
    plan = laid(build, plane, ridge_slot_in=130.0)
    assert codes(plan, "error") == {"nothing-to-sheathe"}
    assert plan.stock == ()


@pytest.mark.parametrize(("spacing", "would"), [(110.0, '96"'), (20.0, '19 3/16"'), (28.0, '32"')])
def test_a_spacing_that_joints_of_whole_sheets_miss_names_one_that_would_do(build, spacing, would):
    plan = laid(build, build.upright(400.0, 96.125), spacing)
    told = [f.text for f in plan.findings if f.code in ("joint-off-framing", "spacing-off-module", "off-framing")]
    assert told, [f.code for f in plan.findings]
    assert any(would in text for text in told), told
    assert check_cutting(plan.planes[0].pieces, plan.stock) == []


@pytest.mark.parametrize("panel", [(48.0, 20.0), (12.0, 30.0), (200.0, 300.0)])
@pytest.mark.parametrize("solver", [plan_sheathing, optimise_sheathing])
def test_sheets_too_short_for_a_bay_or_larger_than_the_plane_never_make_a_wrong_list(build, solver, panel):
    width, length = panel
    plane = build.upright(150.0, 100.0)
    plan = laid(
        build, plane, solver=solver, panel_width_in=width, panel_length_in=length, least_in=min(24.0, width / 2)
    )
    pieces = plan.planes[0].pieces
    assert check_cutting(pieces, plan.stock) == []
    assert all(piece.cut_length_in <= length + 2e-3 and piece.cut_width_in <= width + 1e-6 for piece in pieces)
    covered = sum(Polygon(piece.polygon).area for piece in pieces)
    assert covered == pytest.approx(150.0 * 100.0, rel=0.03)
    if length < 24.0:
        assert codes(plan, "error")
