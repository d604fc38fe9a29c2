"""Sheets with two faces alike: a piece may be turned over, and says so; otherwise none is."""

from __future__ import annotations

from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from workbench.cli.report import layout_text, plan_json
from workbench.drawing.primitives import Text
from workbench.drawing.stock_sheet import stock_sheet
from workbench.job.edits import set_sheathing
from workbench.job.model import Sheathing
from workbench.job.read import read_job
from workbench.job.samples import sample_jobs
from workbench.measure import Units
from workbench.plan import solve
from workbench.roof.model import Roof
from workbench.sheathing.cutting import check_cutting
from workbench.sheathing.kinds import lie_between, mirrored_ring
from workbench.sheathing.optimise import optimise_sheathing
from workbench.sheathing.solve import plan_sheathing


def left_and_right(build):
    """Two triangles of 60 by 48 in that lean opposite ways; together they are less than a sheet."""
    leaning = build.polygon([(0.0, 0.0), (60.0, 0.0), (60.0, 48.0)], ["eave", "rake", "hip"], plane_id="main/a")
    other = build.polygon([(0.0, 0.0), (60.0, 0.0), (0.0, 48.0)], ["eave", "hip", "rake"], plane_id="main/b")
    return Roof((leaning, other))


@pytest.mark.parametrize("plan_it", [plan_sheathing, optimise_sheathing])
def test_left_and_right_hand_share_a_sheet_only_where_faces_are_alike(build, plan_it):
    roof = left_and_right(build)
    frame = build.framing(roof.planes, spacing=60.0)
    one_face = plan_it(roof, frame, Sheathing())
    alike = plan_it(roof, frame, Sheathing(mirrored=True))
    assert (one_face.count, alike.count) == (2, 1)
    assert not any(cut.turned_over for sheet in one_face.stock for cut in sheet.cuts)
    over = [cut for sheet in alike.stock for cut in sheet.cuts if cut.turned_over]
    assert len(over) == 1
    assert check_cutting([piece for plane in alike.planes for piece in plane.pieces], alike.stock) == []


def test_the_check_sees_a_piece_that_does_not_say_it_is_turned_over(build):
    roof = left_and_right(build)
    plan = plan_sheathing(roof, build.framing(roof.planes, spacing=60.0), Sheathing(mirrored=True))
    pieces = [piece for plane in plan.planes for piece in plane.pieces]
    silent = tuple(
        replace(sheet, cuts=tuple(replace(cut, turned_over=False) for cut in sheet.cuts)) for sheet in plan.stock
    )
    assert any("another shape" in text for text in check_cutting(pieces, silent))


def test_its_drawing_says_turn_over(build):
    roof = left_and_right(build)
    plan = plan_sheathing(roof, build.framing(roof.planes, spacing=60.0), Sheathing(mirrored=True))
    words = [item.text for item in stock_sheet(plan.stock[0], Units()).items if isinstance(item, Text)]
    assert sum("turn over" in word for word in words) == 1


@settings(max_examples=12, deadline=None)
@given(width=st.integers(150, 500), up=st.integers(50, 200), halves=st.booleans())
def test_hips_of_two_faces_alike_are_cut_right(build, width, up, halves):
    roof = build.hip(float(width), min(2.0 * up, width * 0.9))
    frame = build.framing(roof.planes)
    plan = plan_sheathing(roof, frame, Sheathing(halves_nominal=halves, mirrored=True))
    pieces = [piece for plane in plan.planes for piece in plane.pieces]
    assert check_cutting(pieces, plan.stock) == []
    assert plan.at_least <= plan.count


@settings(max_examples=60, deadline=None)
@given(a=st.floats(-2.0, 2.0), b=st.floats(-2.0, 2.0), run=st.floats(5.0, 60.0), foot=st.floats(0.0, 40.0))
def test_turned_over_a_piece_takes_what_its_mirror_image_takes(a, b, run, foot):
    ring = ((0.0, 0.0), (foot + run, 0.0), (foot + run, 30.0), (run, 30.0))
    free = lie_between(ring, a, b, 48.0, mirrors=True)
    plain, image = lie_between(ring, a, b, 48.0), lie_between(mirrored_ring(ring), a, b, 48.0)
    assert free.takes_in == pytest.approx(min(plain.takes_in, image.takes_in))
    assert free.mirrored == (image.takes_in < plain.takes_in - 1e-9)


def test_the_command_line_says_which_pieces_are_turned_over():
    job = read_job(next(sample.path for sample in sample_jobs() if sample.name == "l-house"))
    plan = solve(set_sheathing(job, mirrored=True))
    over = plan_json(plan)["turned_over"]
    assert over
    assert layout_text(plan).count("turn over") == len(over)
    assert plan_json(solve(job))["turned_over"] == []
