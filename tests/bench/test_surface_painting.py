"""Painting drawings with Qt: labels that keep apart, text that fits, items updated in place, what is picked."""

from __future__ import annotations

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from PySide6.QtCore import QPointF
from PySide6.QtGui import QImage, QPainter, QTransform
from PySide6.QtWidgets import QGraphicsScene
from shapely.affinity import rotate, translate
from shapely.geometry import box

from workbench.bench import theme
from workbench.bench.surface.items import DrawingItems
from workbench.bench.surface.labels import Label, Place, arrange
from workbench.bench.surface.painter import (
    Marks,
    dimension_shape,
    fitting_text,
    mixed,
    paint_drawing,
    pen_of,
    text_box,
)
from workbench.drawing.primitives import Arrow, Dimension, Drawing, Line, Polygon, Text
from workbench.drawing.styles import STYLES

SQUARE = ((0.0, 0.0), (100.0, 0.0), (100.0, 100.0), (0.0, 100.0))

angles = st.floats(-math.pi, math.pi)
labels = st.builds(
    lambda x, y, angle, width, height, slide, rank: Label(
        (x, y), (math.cos(angle), math.sin(angle)), width, height, slide, rank
    ),
    st.floats(0.0, 300.0),
    st.floats(0.0, 300.0),
    angles,
    st.floats(10.0, 90.0),
    st.floats(8.0, 16.0),
    st.floats(1.0, 400.0),
    st.integers(0, 1),
)


def shape_of(label, slide):
    angle = math.degrees(math.atan2(label.along[1], label.along[0]))
    flat = box(-label.width / 2.0, -label.height / 2.0, label.width / 2.0, label.height / 2.0)
    x, y = label.middle[0] + slide * label.along[0], label.middle[1] + slide * label.along[1]
    return translate(rotate(flat, angle, origin=(0.0, 0.0)), x, y)


class TestLabels:
    @given(st.lists(labels, max_size=8))
    def test_labels_on_show_never_overlap(self, given_labels):
        """Reference: shapely, intersection of the rotated boxes."""
        places = arrange(given_labels)
        shapes = [
            shape_of(label, place.slide) for label, place in zip(given_labels, places, strict=True) if place is not None
        ]
        for i, one in enumerate(shapes):
            for other in shapes[:i]:
                assert one.intersection(other).area < 1e-6

    @given(st.lists(labels, min_size=1, max_size=8))
    def test_the_first_in_rank_keeps_its_place(self, given_labels):
        places = arrange(given_labels)
        best = min(range(len(places)), key=lambda i: (given_labels[i].rank, -given_labels[i].slide, i))
        assert places[best] == Place()

    @given(labels)
    def test_a_label_slides_no_further_than_its_line(self, label):
        for place in arrange([label, label]):
            if place is not None and place.slide != 0.0:
                assert abs(place.slide) + label.width / 2.0 <= label.slide / 2.0 + 1e-6

    def test_a_name_that_cannot_slide_always_stays(self):
        name = Label((0.0, 0.0), (1.0, 0.0), 50.0, 12.0, 0.0, 0)
        assert arrange([name, name]) == (Place(), Place())


class TestText:
    @given(st.floats(-720.0, 720.0))
    def test_readable_from_below_or_from_the_right(self, angle):
        turn = -text_box(Text("", "note", (0.0, 0.0), "x", angle_deg=angle), "x").turn_deg
        assert -90.0 < turn <= 90.0
        assert math.isclose(math.sin(math.radians(2.0 * (turn - angle))), 0.0, abs_tol=1e-6)

    def test_shift_stands_off_to_the_left_of_its_direction(self):
        placed = text_box(Text("", "note", (0.0, 0.0), "x", angle_deg=0.0, shift=2.0), "x")
        assert placed.offset.y() < -2.0 * 96.0 / 25.4
        assert placed.offset.x() == pytest.approx(0.0)
        right = text_box(Text("", "note", (0.0, 0.0), "x", angle_deg=90.0, shift=-2.0), "x")
        assert right.offset.x() > 2.0 * 96.0 / 25.4

    def test_the_fullest_text_with_room(self):
        item = Text("", "note", (50.0, 50.0), "a rather long caption", within=SQUARE, shorter=("cap",))
        assert fitting_text(item, 10.0) == "a rather long caption"
        assert fitting_text(item, 0.5) == "cap"
        assert fitting_text(item, 0.01) == ""

    def test_span(self):
        item = Text("", "note", (0.0, 0.0), "eave 40' 0\"", span=480.0, shorter=("40' 0\"",))
        assert fitting_text(item, 1.0) == "eave 40' 0\""
        assert fitting_text(item, 0.11) == "40' 0\""
        assert fitting_text(item, 0.01) == ""


class TestDimension:
    def test_horizontal_runs_level_past_the_further_point(self):
        item = Dimension("", (0.0, 0.0), (100.0, 0.0), "100", 6.0, "horizontal")
        shape = dimension_shape(item, QPointF(100.0, -40.0))
        line = shape.lines[2]
        assert line.y1() == pytest.approx(line.y2())
        assert (line.x1(), line.x2()) == pytest.approx((0.0, 100.0))
        assert line.y1() == pytest.approx(-40.0 - 6.0 * 96.0 / 25.4)

    def test_along_is_parallel_at_its_distance(self):
        shape = dimension_shape(Dimension("", (0.0, 0.0), (30.0, 40.0), "50", -8.0), QPointF(30.0, -40.0))
        line = shape.lines[2]
        assert line.length() == pytest.approx(50.0)
        assert math.hypot(line.x1(), line.y1()) == pytest.approx(8.0 * 96.0 / 25.4)


class TestItems:
    def drawing(self, shift=0.0):
        return Drawing(
            (
                Polygon("plane:a/e1", "plane", tuple((x + shift, y) for x, y in SQUARE)),
                Line("edge:a/e1", "eave", (shift, 0.0), (100.0 + shift, 0.0)),
                Line("member:Common 1", "rafter", (50.0, 0.0), (50.0, 100.0)),
                Line("member:Common 1", "rafter", (70.0, 0.0), (70.0, 100.0)),
                Arrow("plane:a/e1", "slope_arrow", (20.0, 90.0), (20.0, 10.0)),
                Text("plane:a/e1", "plane_name", (50.0, 50.0), "front", back=True, within=SQUARE),
            )
        )

    def test_same_items_after_a_change(self, qapp):
        scene = QGraphicsScene()
        items = DrawingItems(scene)
        items.show(self.drawing())
        before = {id(item) for item in scene.items()}
        items.show(self.drawing(7.0))
        assert {id(item) for item in scene.items()} == before
        assert items.bounds_of("edge:a/e1").left() == 7.0

    def test_only_what_is_gone_is_removed(self, qapp):
        scene = QGraphicsScene()
        items = DrawingItems(scene)
        items.show(self.drawing())
        items.show(Drawing(self.drawing().items[:2]))
        assert len(scene.items()) == 2
        items.show(self.drawing())
        assert len(scene.items()) == 6

    def test_drawing_order_is_kept_when_one_comes_between(self, qapp):
        scene = QGraphicsScene()
        items = DrawingItems(scene)
        first, *rest = self.drawing().items
        items.show(Drawing(tuple(rest)))
        items.show(Drawing((first, *rest)))
        order = sorted(scene.items(), key=lambda item: item.zValue())
        assert order[0].data(0)[1] == "plane:a/e1"

    def test_the_finest_thing_under_the_pointer_is_picked(self, qapp):
        scene = QGraphicsScene()
        items = DrawingItems(scene)
        items.show(self.drawing())
        assert items.key_at((30.0, 1.0), 3.0) == "edge:a/e1"
        assert items.key_at((51.0, 60.0), 3.0) == "member:Common 1"
        assert items.key_at((30.0, 60.0), 3.0) == "plane:a/e1"
        assert items.key_at((-30.0, 60.0), 3.0) == ""

    @pytest.mark.parametrize("stage", ["none", "diagonal", "cross", "grain"])
    def test_a_hatch_that_comes_or_goes(self, qapp, stage):
        scene = QGraphicsScene()
        items = DrawingItems(scene)
        items.show(Drawing((Polygon("a", "bracket", SQUARE),)))
        items.show(Drawing((Polygon("a", "bracket", SQUARE, hatch=stage),)))
        assert len(scene.items()) == 1
        image = QImage(100, 100, QImage.Format.Format_RGB32)
        image.fill(theme.current().paper)
        painter = QPainter(image)
        scene.render(painter)
        painter.end()
        pixels = np.frombuffer(image.constBits(), np.uint8).reshape(100, 100, 4)[20:80, 20:80, 0]
        assert (np.ptp(pixels) > 20) == (stage != "none")


class TestPaintDrawing:
    def test_everything_is_painted_where_it_is(self, qapp):
        drawing = Drawing(
            (
                Polygon("a", "wood", SQUARE),
                Dimension("a", (0.0, 0.0), (100.0, 0.0), "8' 4\"", -8.0, "horizontal"),
                Text("a", "note", (50.0, 50.0), "middle"),
                Arrow("a", "slope_arrow", (50.0, 90.0), (50.0, 60.0)),
            )
        )
        image = QImage(300, 300, QImage.Format.Format_RGB32)
        image.fill(theme.current().paper)
        painter = QPainter(image)
        paint_drawing(painter, drawing, QTransform(2.0, 0.0, 0.0, -2.0, 50.0, 240.0))
        painter.end()
        assert image.pixelColor(60, 60) == theme.current().wood
        assert image.pixelColor(20, 150) == theme.current().paper
        below = [image.pixelColor(150, y).lightness() for y in range(245, 300)]
        assert min(below) < 100

    @pytest.mark.parametrize("role", list(STYLES))
    def test_weights_and_dashes_come_from_the_style_table(self, role):
        style = STYLES[role]
        pen = pen_of(role)
        if style.weight <= 0.0:
            assert pen.style().name == "NoPen"
            return
        assert pen.isCosmetic()
        assert pen.widthF() == pytest.approx(max(style.weight * 96.0 / 72.0, 1.0))
        assert bool(pen.dashPattern()) == bool(style.dash)

    def test_selected_lines_are_heavier_as_well_as_coloured(self):
        lit = pen_of("eave", "edge:a/e1", Marks(selected=frozenset({"edge:a/e1"})))
        assert lit.widthF() > pen_of("eave").widthF()
        assert lit.color() == theme.current().accent

    def test_mixed(self):
        dark, light = theme.current().ink, theme.current().paper
        assert dark.lightness() < mixed(dark, light, 0.5).lightness() < light.lightness()
