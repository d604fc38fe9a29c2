"""Setting out: printed sizes, and texts that lie neither on each other nor outside their outline."""

from __future__ import annotations

import itertools
import math

import pytest
import shapely
from hypothesis import given, settings
from hypothesis import strategies as st

from workbench.drawing.boxes import lies_inside, overlap, readable, text_box, touches
from workbench.drawing.laid_out import Area, Stroke
from workbench.drawing.layout import lay_out
from workbench.drawing.primitives import Arrow, Dimension, Drawing, Line, Polygon, Text
from workbench.drawing.roof_plan import roof_plan
from workbench.drawing.sheet_plan import plane_sheets
from workbench.drawing.styles import TEXT_PT

MM = 72.0 / 25.4


def wide(text: str, size: float) -> float:
    """A plain font: every character as wide as 0.6 of its size."""
    return 0.6 * size * len(text)


def collisions(layout) -> list[tuple[tuple[str, ...], tuple[str, ...]]]:
    boxes = [(shapely.Polygon(text.box), text.lines) for text in layout.texts]
    return [
        (lines_a, lines_b)
        for (a, lines_a), (b, lines_b) in itertools.combinations(boxes, 2)
        if a.intersection(b).area > 0.01
    ]


boxes = st.builds(
    text_box,
    st.tuples(st.floats(-50, 50), st.floats(-50, 50)),
    st.floats(5, 60),
    st.floats(5, 30),
    st.floats(-90, 90),
)


@settings(max_examples=150, deadline=None)
@given(boxes, boxes)
def test_overlap_of_turned_boxes_as_shapely_says(a, b):
    shared = shapely.Polygon(a).intersection(shapely.Polygon(b)).area
    if shared > 1e-6:
        assert overlap(a, b)
        assert touches(a, b)
    elif shapely.Polygon(a).distance(shapely.Polygon(b)) > 1e-6:
        assert not overlap(a, b)
        assert not touches(a, b)


@settings(max_examples=100, deadline=None)
@given(boxes, boxes)
def test_lying_inside_as_shapely_says(a, b):
    outer = shapely.Polygon(a)
    if outer.buffer(-1e-6).contains(shapely.Polygon(b)):
        assert lies_inside(a, b)
    elif not outer.buffer(1e-6).contains(shapely.Polygon(b)):
        assert not lies_inside(a, b)


@given(st.floats(-720, 720))
def test_text_reads_from_below_or_from_the_right(angle):
    turned = readable(angle)
    assert -90.0 < turned <= 90.0 + 1e-5
    assert math.isclose(math.sin(math.radians(2 * turned)), math.sin(math.radians(2 * angle)), abs_tol=1e-6)


@pytest.mark.parametrize("scale", [24, 48, 64, 96, 128])
def test_no_text_on_another_on_the_roof(gable, hipped, scale):
    for plan in (gable, hipped):
        assert collisions(lay_out(roof_plan(plan), 72.0 / scale, wide)) == []
        for plane in plan.roof.planes:
            assert collisions(lay_out(plane_sheets(plan, plane.id), 72.0 / scale, wide)) == []


@pytest.mark.parametrize("scale", [32, 64, 96])
def test_every_piece_is_named_whatever_the_scale(hipped, scale):
    for sheets in hipped.sheathing.planes:
        layout = lay_out(plane_sheets(hipped, sheets.plane), 72.0 / scale, wide)
        written = [text.lines[0] for text in layout.texts if text.key.startswith("piece:")]
        assert sorted(written) == sorted(piece.label for piece in sheets.pieces)


def test_a_label_that_fits_stays_in_its_piece(gable):
    layout = lay_out(plane_sheets(gable, gable.roof.planes[0].id), 72.0 / 48, wide)
    areas = {mark.key: mark.ring for mark in layout.marks if isinstance(mark, Area)}
    labels = [text for text in layout.texts if text.key.startswith("piece:")]
    assert labels
    for text in labels:
        assert shapely.Polygon(areas[text.key]).buffer(1e-6).contains(shapely.Polygon(text.box))


def test_text_too_long_for_its_outline_is_written_shorter_then_set_outside():
    ring = ((0.0, 0.0), (100.0, 0.0), (100.0, 30.0), (0.0, 30.0))
    text = Text("piece:p/1A", "title", (50.0, 15.0), "1A 24 by 96", "label", within=ring, shorter=("1A",))
    drawing = Drawing((Polygon("piece:p/1A", "sheet_cut", ring), text))
    long = lay_out(drawing, 1.0, wide)
    assert long.texts[0].lines == ("1A 24 by 96",)
    assert long.leaders == 0
    short = lay_out(drawing, 0.6, wide)
    assert short.texts[0].lines == ("1A",)
    assert short.leaders == 0
    outside = lay_out(drawing, 0.2, wide)
    assert outside.texts[0].lines == ("1A",)
    assert outside.leaders == 1
    assert any(isinstance(mark, Stroke) and mark.solid for mark in outside.marks)


def test_text_is_not_longer_than_its_span():
    text = Text("edge:a/b", "dimension", (50.0, 0.0), "hip 23' 3 5/16\"", "label", 45.0, shorter=("23'",), span=40.0)
    assert lay_out(Drawing((text,)), 4.0, wide).texts[0].lines == ("hip 23' 3 5/16\"",)
    assert lay_out(Drawing((text,)), 1.0, wide).texts[0].lines == ("23'",)


def test_printed_offsets_do_not_grow_with_the_scale():
    drawing = Drawing(
        (
            Line("a", "snap_line", (0.0, 0.0), (10.0, 0.0), past=(2.0, 3.0)),
            Dimension("d", (0.0, 0.0), (100.0, 0.0), "100", 6.0),
            Text("t", "note", (0.0, 50.0), "x", "label", off=(0.0, 5.0)),
        )
    )
    for scale in (1.0, 3.0):
        layout = lay_out(drawing, scale, wide)
        line = layout.marks[0]
        assert isinstance(line, Stroke)
        assert line.start[0] == pytest.approx(-2.0 * MM)
        assert line.end[0] == pytest.approx(10.0 * scale + 3.0 * MM)
        measured = next(
            mark for mark in layout.marks if isinstance(mark, Stroke) and mark.start[1] == pytest.approx(6.0 * MM)
        )
        assert math.dist(measured.start, measured.end) == pytest.approx(100.0 * scale)
        note = next(text for text in layout.texts if text.key == "t")
        assert note.centre[1] == pytest.approx(50.0 * scale + 5.0 * MM)
        assert note.size_pt == TEXT_PT["label"]


def test_an_arrow_ends_with_its_head():
    layout = lay_out(Drawing((Arrow("a", "slope_arrow", (0.0, 0.0), (0.0, -100.0)),)), 1.0, wide)
    head = next(mark for mark in layout.marks if isinstance(mark, Area))
    assert min(y for _, y in head.ring) == pytest.approx(-100.0)


def test_nothing_to_draw():
    layout = lay_out(Drawing(), 1.0, wide)
    assert layout.bounds() == (0.0, 0.0, 0.0, 0.0)
