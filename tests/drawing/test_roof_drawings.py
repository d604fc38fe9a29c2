"""What the drawings show: every edge once, lengths, rows, snap lines, the section, cut cards and stock sheets."""

from __future__ import annotations

import itertools
import math

import pytest
import shapely

from workbench.drawing.cut_card import cut_angle_text, cut_card, cut_detail, cut_sides
from workbench.drawing.frame_plan import frame_plan
from workbench.drawing.primitives import Arrow, Dimension, Line, Polygon, Text
from workbench.drawing.roof_plan import drawn_edges, roof_plan
from workbench.drawing.section import rafter_profile, section, top_edge_at
from workbench.drawing.sheet_plan import plane_sheets, sheets_from_above
from workbench.drawing.stock_sheet import stock_sheet
from workbench.drawing.styles import STYLES, TEXT_PT
from workbench.measure import Units
from workbench.sheathing.model import StockCut, StockSheet

UNITS = Units()
EDGE_KINDS = ("eave", "rake", "ridge", "hip", "valley", "wall", "pitch_break", "step")


def texts(drawing) -> list[str]:
    return [item.text for item in drawing.items if isinstance(item, Text | Dimension)]


def keys(drawing, kind) -> set[str]:
    return {item.key for item in drawing.items if isinstance(item, kind)}


def test_edge_kinds_differ_without_colour():
    looks = {(STYLES[kind].weight, STYLES[kind].dash) for kind in EDGE_KINDS}
    assert len(looks) == len(EDGE_KINDS)
    assert len({STYLES[kind].word for kind in EDGE_KINDS}) == len(EDGE_KINDS)


def test_text_and_paper_contrast():
    """4.5 : 1 for text, WCAG 2.1 success criterion 1.4.3, from memory."""

    def luminance(grey: float) -> float:
        return grey / 12.92 if grey <= 0.04045 else ((grey + 0.055) / 1.055) ** 2.4

    for role in ("dimension", "note", "title", "plane_name", "slope_arrow"):
        for fill in (1.0, STYLES["sheet_cut"].fill, STYLES["wood"].fill):
            assert (luminance(fill) + 0.05) / (luminance(STYLES[role].ink) + 0.05) >= 4.5
    assert min(TEXT_PT.values()) >= 9.0


def test_every_edge_of_the_roof_once(hipped):
    edges = drawn_edges(hipped)
    assert len({edge.key for edge in edges}) == len(edges)
    outline = shapely.union_all([shapely.Polygon([c[:2] for c in plane.corners]) for plane in hipped.roof.planes])
    lines = [shapely.LineString([edge.start, edge.end]) for edge in edges]
    assert sum(line.length for line, edge in zip(lines, edges, strict=True) if edge.outer) == pytest.approx(
        outline.exterior.length, rel=1e-6
    )
    for a, b in itertools.combinations(lines, 2):
        assert a.intersection(b).length < 1e-6


def test_outer_edges_run_with_the_roof_on_their_left(gable):
    roof = shapely.union_all([shapely.Polygon([c[:2] for c in plane.corners]) for plane in gable.roof.planes])
    for edge in drawn_edges(gable):
        if edge.outer:
            (x0, y0), (x1, y1) = edge.start, edge.end
            length = math.dist(edge.start, edge.end)
            left = ((x0 + x1) / 2 - (y1 - y0) / length, (y0 + y1) / 2 + (x1 - x0) / length)
            assert roof.contains(shapely.Point(left))


def test_roof_plan_names_slopes_and_true_lengths(gable):
    drawing = roof_plan(gable)
    written = "\n".join(texts(drawing))
    for plane in gable.roof.planes:
        assert plane.name in written
        assert f"plane:{plane.id}" in keys(drawing, Polygon)
    assert written.count("7 in 12") == 2
    # A run of 168 + 16 in at 7 in 12, times √(144 + 49) / 12.
    assert gable.units.length(184.0 * math.sqrt(193.0) / 12.0) in written
    assert "ridge 42' 0\"" in written
    assert not texts(roof_plan(gable, names=False, lengths=False, slopes=False))


def test_slope_arrows_point_downhill(hipped):
    planes = {f"plane:{plane.id}": plane for plane in hipped.roof.planes}
    arrows = [item for item in roof_plan(hipped).items if isinstance(item, Arrow)]
    assert len(arrows) == len(planes)
    for arrow in arrows:
        plane = planes[arrow.key]
        fall = (arrow.end[0] - arrow.start[0], arrow.end[1] - arrow.start[1])
        assert fall[0] * plane.uphill[0] + fall[1] * plane.uphill[1] < 0.0
        assert shapely.Polygon([c[:2] for c in plane.corners]).covers(shapely.LineString([arrow.start, arrow.end]))


def test_frame_plan_draws_every_member(gable):
    drawing = frame_plan(gable)
    for member in gable.framing.members:
        drawn = [
            item for item in drawing.items if item.key == f"member:{member.mark}" and isinstance(item, Line | Polygon)
        ]
        assert len(drawn) == len(member.placements)


def test_sheets_from_above_cover_the_plan(gable):
    rings = [item.points for item in sheets_from_above(gable).items if isinstance(item, Polygon)]
    covered = sum(shapely.Polygon(ring).area for ring in rings)
    roof = sum(shapely.Polygon([c[:2] for c in plane.corners]).area for plane in gable.roof.planes)
    assert 0.98 * roof < covered < roof


def test_plane_sheets_show_rows_and_snap_lines(gable):
    for sheets in gable.sheathing.planes:
        drawing = plane_sheets(gable, sheets.plane)
        written = texts(drawing)
        for row in sheets.rows:
            assert gable.units.inches(row.snap_in) in written
            assert str(row.number) in written
        snaps = [item for item in drawing.items if isinstance(item, Line) and item.role == "snap_line"]
        assert [snap.start[1] for snap in snaps] == pytest.approx([row.snap_in for row in sheets.rows[:-1]])
        rafters = {item.start[0] for item in drawing.items if isinstance(item, Line) and item.role == "rafter"}
        assert rafters == set(gable.framing.supports_of(sheets.plane))


def test_snap_lines_stay_in_a_hipped_plane(hipped):
    for sheets in hipped.sheathing.planes:
        figure = shapely.Polygon(hipped.roof.plane(sheets.plane).polygon).buffer(1e-6)
        for item in plane_sheets(hipped, sheets.plane).items:
            if isinstance(item, Line) and item.role == "snap_line":
                ends = [shapely.Point(item.start), shapely.Point(item.end)]
                assert all(figure.covers(end) for end in ends)


def test_parts_of_a_plane_together_name_every_piece(gable):
    sheets = gable.sheathing.planes[0]
    width = gable.roof.plane(sheets.plane).width_in
    named: set[str] = set()
    for part in ((0.0, width / 2), (width / 2, width)):
        drawing = plane_sheets(gable, sheets.plane, part=part)
        assert sum("match line" in text for text in texts(drawing)) == 1
        for item in drawing.items:
            if isinstance(item, Polygon):
                assert all(part[0] - 1e-6 <= x <= part[1] + 1e-6 for x, _ in item.points)
            if isinstance(item, Text) and item.key.startswith("piece:"):
                named.add(item.text.split("\n")[0])
    assert named == {piece.label for piece in sheets.pieces}


def is_nail_line(item) -> bool:
    return isinstance(item, Line) and item.role == "nail_line"


def test_nail_lines_on_request(gable):
    plane = gable.roof.planes[0].id
    nails = [item for item in plane_sheets(gable, plane, nails=True).items if is_nail_line(item)]
    assert len(nails) == sum(line.plane == plane for line in gable.sheathing.nail_lines)
    assert not [item for item in plane_sheets(gable, plane).items if is_nail_line(item)]


@pytest.mark.parametrize("which", ["gable", "shed"])
def test_section_is_true_to_the_solved_rafter(which, request):
    plan = request.getfixturevalue(which)
    for plane in plan.roof.planes:
        cut = plan.section_of(plane.id)
        wing = plan.job.wing(plane.wing)
        ring = rafter_profile(cut, wing).ring
        rafter = shapely.Polygon(ring)
        member = plan.members_of(plane.id)[0]
        assert rafter.area == pytest.approx(shapely.Polygon(member.profile).area, rel=1e-9)
        assert min(x for x, _ in ring) == pytest.approx(-cut.overhang_in)
        # The seat lies on the plate, from the bearing line in.
        seat = shapely.LineString([(0.0, cut.answer.low_plate_in), (cut.answer.seat_in, cut.answer.low_plate_in)])
        assert rafter.exterior.intersection(seat.buffer(1e-6)).length >= cut.answer.seat_in * 0.999
        # The wood passes neither the plate nor the landing block.
        for item in section(plan, plane.id).items:
            if isinstance(item, Polygon) and item.role in ("plate", "support", "landing"):
                assert rafter.intersection(shapely.Polygon(item.points)).area < 1e-6


def test_whole_rafter_rests_on_the_block_corner(shed):
    cut = shed.section_of(shed.roof.planes[0].id)
    deep = cut.given.depth_in * math.hypot(1.0, cut.answer.tangent)
    assert top_edge_at(cut, cut.answer.run_in) - deep == pytest.approx(cut.answer.landing_in)


def test_no_section_no_drawing(gable):
    assert section(gable, "no/plane").items == ()


def test_cut_card_has_every_cut_and_measure(gable):
    for member in gable.framing.members:
        sides = cut_sides(member)
        assert [side.cut for side in sides] == list(member.cuts)
        assert len({(side.start, side.end) for side in sides}) == len(sides)
        written = "\n".join(texts(cut_card(member, gable.units)))
        for measure in member.measures:
            assert gable.units.inches(measure.length_in) in written
        for cut in member.cuts:
            assert cut_angle_text(cut, gable.units) in written
        assert not [t for t in texts(cut_card(member, gable.units, names="none")) if "cut 3" in t]


def test_each_cut_is_matched_with_a_side_of_its_angle(gable):
    common = next(member for member in gable.framing.members if member.kind == "common_rafter")
    for side in cut_sides(common):
        dx, dy = side.end[0] - side.start[0], side.end[1] - side.start[1]
        off_square = math.degrees(math.atan2(abs(dx), abs(dy)))
        assert off_square == pytest.approx(abs(side.cut.angle_deg), abs=1e-6)


def test_detail_shows_only_its_part(gable):
    common = next(member for member in gable.framing.members if member.kind == "common_rafter")
    drawing = cut_detail(common, gable.units, 10.0, 30.0)
    wood = next(item for item in drawing.items if isinstance(item, Polygon))
    assert min(x for x, _ in wood.points) == pytest.approx(10.0)
    assert max(x for x, _ in wood.points) == pytest.approx(30.0)
    assert any("seat" in text for text in texts(drawing))
    assert not any("top edge" in text for text in texts(drawing))


def test_stock_sheet_gives_every_size():
    square = StockCut("p/e", "1A", ((0.0, 0.0), (60.0, 0.0), (60.0, 24.0), (0.0, 24.0)))
    slanted = StockCut("p/e", "1B", ((60.125, 0.0), (96.0, 0.0), (60.125, 48.0)))
    drawing = stock_sheet(StockSheet("Sheet 1", 96.0, 48.0, (square, slanted)), UNITS)
    written = texts(drawing)
    assert any(text.startswith("1A") and "24 × 60" in text for text in written)
    assert "1B" in written
    # Pythagoras: 35 7/8 and 48.
    assert UNITS.compact(math.hypot(35.875, 48.0)) in written
    # The lower edge is marked where the first piece ends, not again at the kerf's other side; the upper edge there.
    marks = [(item.at[1], item.text) for item in drawing.items if isinstance(item, Text) and "60" in item.text.split()]
    assert [(y > 24.0, text) for y, text in marks if text != "1A\n24 × 60"] == [(False, "60"), (True, "60 1/8")]
    assert "24" in written
