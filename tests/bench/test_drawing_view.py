"""Small drawings in panels: everything printed stays inside, and what is under the pointer is known."""

from __future__ import annotations

import math

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from PySide6.QtCore import QPoint, QRectF, Qt

from workbench.bench.drawing_view import DrawingView, _px_box, fitted
from workbench.drawing.primitives import Dimension, Drawing, Polygon, Text

lengths = st.floats(min_value=1.0, max_value=600.0)


def _box(wide: float, high: float, key: str = "piece:a/1A") -> Polygon:
    return Polygon(key, "sheet", ((0.0, 0.0), (wide, 0.0), (wide, high), (0.0, high)))


@settings(max_examples=40, deadline=None)
@given(lengths, lengths)
def test_drawing_fits_with_its_texts_and_dimensions(wide: float, high: float) -> None:
    drawing = Drawing(
        (
            _box(wide, high),
            Dimension("", (0.0, high), (wide, high), "12' 6 1/2\"", offset=6.0),
            Text("", "note", (0.0, 0.0), "a longer note", anchor="right"),
        )
    )
    into = QRectF(6.0, 6.0, 340.0, 200.0)
    to_px = fitted(drawing, into)
    scale = to_px.m11()
    assert math.isclose(to_px.m22(), -scale)
    box = _px_box(drawing, scale).translated(to_px.dx(), to_px.dy())
    assert into.adjusted(-2.0, -2.0, 2.0, 2.0).contains(box)


def test_scale_has_a_greatest_value_so_that_small_things_are_not_blown_up() -> None:
    assert fitted(Drawing((_box(1.0, 1.0),)), QRectF(0, 0, 400, 400), 9.5).m11() == pytest.approx(9.5)


def test_empty_drawing_and_no_room_give_no_scale() -> None:
    assert fitted(Drawing(), QRectF(0, 0, 100, 100)).isIdentity()
    assert fitted(Drawing((_box(1.0, 1.0),)), QRectF(0, 0, 0, 0)).isIdentity()


def test_pointer_and_press_tell_the_topmost_object(qtbot) -> None:
    view = DrawingView("Sheet", 120)
    qtbot.addWidget(view)
    view.resize(240, 120)
    view.show()
    view.show_drawing(Drawing((_box(96.0, 48.0, "stock:1"), _box(48.0, 48.0, "piece:a/1A"))))
    hovered: list[str] = []
    view.hovered.connect(hovered.append)
    qtbot.mouseMove(view, QPoint(60, 60))
    qtbot.mouseMove(view, QPoint(200, 60))
    assert hovered == ["piece:a/1A", "stock:1"]
    with qtbot.waitSignal(view.chosen) as told:
        qtbot.mouseClick(view, Qt.MouseButton.LeftButton, pos=QPoint(60, 60))
    assert told.args == ["piece:a/1A"]
    assert not view.grab().isNull()
