"""Pieces against shapely, a general-purpose geometry library: grown by half a gap they tile what is to be covered."""

from __future__ import annotations

import itertools

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from shapely.geometry import LineString, Polygon, box
from shapely.ops import polygonize, unary_union

from workbench.framing.model import Framing
from workbench.job.model import Sheathing
from workbench.roof.model import Roof
from workbench.sheathing.solve import plan_sheathing

SIXTEENTHS = 1.0 / 16.0
GAPS = st.sampled_from([0.0, 0.125, 0.25])


def length(low, high):
    return st.integers(int(low / SIXTEENTHS), int(high / SIXTEENTHS)).map(lambda n: n * SIXTEENTHS)


@st.composite
def shapes(draw):
    """Rectangles, trapezoids, triangles, parallelograms and notched planes, with their kinds of edge."""
    width, up = draw(length(30.0, 420.0)), draw(length(20.0, 260.0))
    kind = draw(st.sampled_from(["upright", "hip", "triangle", "leaning", "notched", "valley"]))
    if kind == "upright":
        return [(0, 0), (width, 0), (width, up), (0, up)], ["eave", "rake", "ridge", "rake"]
    if kind == "hip":
        a, b = draw(length(0.0, width / 2.2)), draw(length(0.0, width / 2.2))
        return [(0, 0), (width, 0), (width - b, up), (a, up)], ["eave", "hip", "ridge", "hip"]
    if kind == "triangle":
        return [(0, 0), (width, 0), (draw(length(0.0, width)), up)], ["eave", "hip", "hip"]
    if kind == "leaning":
        lean = draw(length(0.0, up))
        return [(0, 0), (width, 0), (width + lean, up), (lean, up)], ["eave", "valley", "ridge", "hip"]
    if kind == "valley":
        return [(width * 0.4, 0), (width * 0.6, 0), (width, up), (0, up)], ["eave", "valley", "ridge", "valley"]
    a, b, deep = width * 0.3, width * 0.6, up * draw(st.sampled_from([0.3, 0.5, 0.7]))
    points = [(0, 0), (a, 0), (a, deep), (b, deep), (b, 0), (width, 0), (width, up), (0, up)]
    return points, ["eave", "rake", "eave", "rake", "eave", "rake", "ridge", "rake"]


def plan_of(build, shape, gap, rip="bottom", start="left", **more):
    points, kinds = shape
    plane = build.polygon(points, kinds)
    low = min(x for x, _ in points)
    framing = Framing((), ((plane.id, tuple(low + x for x in build.rafters(plane.width_in))),))
    plan = plan_sheathing(Roof((plane,)), framing, Sheathing(gap_in=gap, rip=rip, start=start, **more))
    return plane, plan.planes[0], plan


def grown(piece, sheets, gap):
    """An upright piece with half a gap added on each side where another piece lies."""
    rows = sheets.rows
    row = rows[piece.row - 1]
    # A leftover no wider than a gap opens the gaps between the rows.
    between = rows[1].bottom_in - rows[0].bottom_in - rows[0].width_in if len(rows) > 1 else gap
    joints = sheets.joints_in[piece.row - 1]
    left, low, right, high = Polygon(piece.polygon).bounds
    left -= gap / 2 * any(abs(left - gap / 2 - x) < 1e-6 for x in joints)
    right += gap / 2 * any(abs(right + gap / 2 - x) < 1e-6 for x in joints)
    return box(left, low - between / 2 * (row.number > 1), right, high + between / 2 * (row.number < len(rows)))


@settings(max_examples=60, deadline=None)
@given(
    shape=shapes(), gap=GAPS, rip=st.sampled_from(["bottom", "top", "both"]), start=st.sampled_from(["left", "right"])
)
def test_pieces_lie_in_the_plane_apart_and_leave_nothing_but_gaps(build, shape, gap, rip, start):
    plane, sheets, _ = plan_of(build, shape, gap, rip, start)
    region = Polygon(plane.polygon)
    pieces = [Polygon(piece.polygon) for piece in sheets.pieces]
    assert all(piece.is_valid and piece.area > 0.0 for piece in pieces)
    assert all(piece.difference(region).area < 1e-4 for piece in pieces)
    for one, other in itertools.combinations(pieces, 2):
        assert one.distance(other) > gap - 1e-6 or (gap == 0.0 and one.intersection(other).area < 1e-6)
    # Opened by a half gap and 1/64 in, nothing of the plane stays bare. A leftover no wider than a gap opens the gaps.
    opened = sheets.rows[1].bottom_in - sheets.rows[0].snap_in if len(sheets.rows) > 1 else 2 * gap
    reach = max(gap, opened) / 2.0 + 1.0 / 64.0
    bare = region.difference(unary_union([piece.buffer(reach, join_style="mitre") for piece in pieces]))
    assert bare.area < 1e-3


@settings(max_examples=40, deadline=None)
@given(width=length(30.0, 600.0), up=length(24.0, 300.0), gap=GAPS, start=st.sampled_from(["left", "right"]))
def test_pieces_grown_by_half_a_gap_tile_an_upright_plane(build, width, up, gap, start):
    shape = [(0, 0), (width, 0), (width, up), (0, up)], ["eave", "rake", "ridge", "rake"]
    plane, sheets, _ = plan_of(build, shape, gap, "bottom", start)
    top = sheets.rows[-1].bottom_in + sheets.rows[-1].width_in
    region = box(0.0, 0.0, width, top)
    parts = [grown(piece, sheets, gap) for piece in sheets.pieces]
    assert sum(part.area for part in parts) == pytest.approx(region.area, rel=1e-9)
    assert unary_union(parts).area == pytest.approx(region.area, rel=1e-9)
    assert plane.plane_length_in - top <= gap + 1e-6


@settings(max_examples=40, deadline=None)
@given(width=length(30.0, 600.0), up=length(24.0, 300.0), gap=GAPS)
def test_net_areas_and_gaps_add_up_to_the_plane(build, width, up, gap):
    shape = [(0, 0), (width, 0), (width, up), (0, up)], ["eave", "rake", "ridge", "rake"]
    _, sheets, _ = plan_of(build, shape, gap)
    net = sum(piece.cut_length_in * piece.cut_width_in for piece in sheets.pieces)
    top = sheets.rows[-1].bottom_in + sheets.rows[-1].width_in
    between_rows = top - sum(row.width_in for row in sheets.rows)
    ends = sum(row.width_in * gap * len(joints) for row, joints in zip(sheets.rows, sheets.joints_in, strict=True))
    assert net + between_rows * width + ends == pytest.approx(width * top, rel=1e-9)


@settings(max_examples=40, deadline=None)
@given(shape=shapes(), gap=GAPS)
def test_every_piece_comes_out_of_a_sheet(build, shape, gap):
    _, sheets, _ = plan_of(build, shape, gap)
    for piece in sheets.pieces:
        assert piece.cut_width_in <= 48.0 + 1e-6
        assert piece.cut_length_in <= 96.0 + 2e-3
        assert Polygon(piece.polygon).area <= piece.cut_width_in * piece.cut_length_in + 1e-6


@settings(max_examples=40, deadline=None)
@given(shape=shapes(), gap=GAPS)
def test_seams_are_half_of_what_the_grown_pieces_perimeters_exceed_the_planes(build, shape, gap):
    plane, sheets, plan = plan_of(build, shape, gap)
    joints = [seam for seam in plan.seams if seam.kind in ("upslope", "level")]
    assert plan.seam_totals.upslope + plan.seam_totals.level == pytest.approx(sum(seam.length_in for seam in joints))
    if len(sheets.rows) == 1 and plane.plane_length_in > sheets.rows[0].width_in + 1e-6:
        return  # the row stays short of the top: no seam there
    # Cut the plane along the seams with the geometry library, and count its parts and their perimeters.
    region = Polygon(plane.polygon)
    cut = region.boundary
    for seam in joints:
        (x0, y0), (x1, y1) = seam.start, seam.end
        over = 1e-7 / seam.length_in
        ends = [(x0 - (x1 - x0) * over, y0 - (y1 - y0) * over), (x1 + (x1 - x0) * over, y1 + (y1 - y0) * over)]
        cut = cut.union(LineString(ends))
    parts = [part for part in polygonize(cut) if part.area > 1e-4]
    perimeters = sum(part.length for part in parts)
    assert (perimeters - region.length) / 2.0 == pytest.approx(sum(seam.length_in for seam in joints), abs=1e-2)
    assert len(parts) == len(sheets.pieces)


def test_the_slot_and_the_run_past_the_tail_move_the_edges(build):
    plane = build.upright(480.0, 190.0)
    framing = build.framing([plane])
    plan = plan_sheathing(Roof((plane,)), framing, Sheathing(ridge_slot_in=1.0, past_tail_in=0.75))
    sheets = plan.planes[0]
    assert sheets.covered_in == pytest.approx(189.75)
    assert sheets.rows[0].bottom_in == pytest.approx(-0.75)
    assert sheets.rows[-1].snap_in == pytest.approx(189.75)
    assert max(y for piece in sheets.pieces for _, y in piece.polygon) == pytest.approx(189.0)
    against_wall = build.upright(480.0, 190.0, top="wall")
    plan = plan_sheathing(Roof((against_wall,)), build.framing([against_wall]), Sheathing(ridge_slot_in=1.0))
    assert plan.planes[0].covered_in == pytest.approx(190.0), "the slot is at ridges only"


def test_a_hip_runs_past_the_tail_along_its_own_line(build):
    plane = build.hip(480.0, 336.0).planes[0]
    plan = plan_sheathing(Roof((plane,)), build.framing([plane]), Sheathing(past_tail_in=2.0))
    low = [x for piece in plan.planes[0].pieces for x, y in piece.polygon if abs(y + 2.0) < 1e-6]
    # The hip leans in by 168 in over the plane's length, 187.83 in.
    assert min(low) == pytest.approx(-2.0 * 168.0 / plane.plane_length_in)
    assert max(low) == pytest.approx(480.0 + 2.0 * 168.0 / plane.plane_length_in)
