"""The layout stick drawn: a strip with a line at each member's near face and a cross beyond it. Inches."""

from __future__ import annotations

from collections.abc import Iterator

from workbench.drawing.primitives import Drawing, Line, Polygon, Primitive, Text
from workbench.measure import Units
from workbench.roof.model import Point2
from workbench.site.model import LayoutStick, StickMark

HIGH_IN = 5.0
"""Height of the strip as drawn; it only has to be seen."""

ROW_IN = 288.0
"""A longer stick goes on in another row."""

_APART_IN = 55.0
_LEGIBLE_IN = 9.0  # figures closer than that would lie on each other; the table has them all
_PAST_IN = 12.0
_CROSS_IN = 4.0
_CENTRED = ("hip_rafter", "valley_rafter")


def stick_strip(stick: LayoutStick, units: Units) -> Drawing:
    """The stick up to a little past its last mark, in rows of 24 ft; a line close behind another has no figure."""
    items: list[Primitive] = []
    length, rows = _drawn_length(stick), strip_rows(stick)
    for row in range(rows):
        start, stop = row * ROW_IN, min((row + 1) * ROW_IN, length)
        y = -row * _APART_IN
        items.append(Polygon("", "plate", _box(stop - start, y), tint=0.0))
        mine = [mark for mark in stick.marks if _row_of(mark.line_in, rows) == row]
        told = -_LEGIBLE_IN
        for mark in mine:
            items += _mark(mark, start, y)
            if mark.line_in - start >= told + _LEGIBLE_IN:
                told = mark.line_in - start
                items.append(_figure(mark, start, y, units))
    return Drawing(tuple(items))


def strip_rows(stick: LayoutStick) -> int:
    """In how many rows a stick is drawn."""
    return max(1, -int(-_drawn_length(stick) // ROW_IN))


def _drawn_length(stick: LayoutStick) -> float:
    return min(stick.length_in, stick.marks[-1].line_in + _PAST_IN) if stick.marks else stick.length_in


def _row_of(at: float, rows: int) -> int:
    return min(max(int(at // ROW_IN), 0), rows - 1)


def _box(length: float, y: float) -> tuple[Point2, ...]:
    return (0.0, y), (length, y), (length, y + HIGH_IN), (0.0, y + HIGH_IN)


def _figure(mark: StickMark, start: float, y: float, units: Units) -> Text:
    at: Point2 = (mark.line_in - start, y + HIGH_IN)
    return Text("", "note", at, units.compact(mark.line_in), "small", 90.0, anchor="left", shift=0.0, off=(0.0, 1.0))


def _mark(mark: StickMark, start: float, y: float) -> Iterator[Primitive]:
    x = mark.line_in - start
    yield Line("", "cut_line", (x, y), (x, y + HIGH_IN))
    if mark.kind in _CENTRED:
        return
    low, high = y + (HIGH_IN - _CROSS_IN) / 2.0, y + (HIGH_IN + _CROSS_IN) / 2.0
    yield Line("", "dimension", (x + 0.4, low), (x + 0.4 + _CROSS_IN, high))
    yield Line("", "dimension", (x + 0.4, high), (x + 0.4 + _CROSS_IN, low))
