"""What lies over and under the drawing in screen pixels: grid, rubber lines, handles, the snap's marker and word."""

from __future__ import annotations

import math
from collections.abc import Callable

from PySide6.QtCore import QLineF, QPointF, QRectF, Qt
from PySide6.QtGui import QColor, QFontMetricsF, QPainter, QPen

from workbench.bench import theme
from workbench.bench.surface.painter import font_of, mixed
from workbench.bench.surface.snapping import Segment, coarse_step
from workbench.bench.surface.tools.base import Feedback
from workbench.measure import System
from workbench.roof.model import Point2

HANDLE_PX = 4.5
"""Radius of a handle; what catches the pointer is larger."""

_MARKER_PX = 5.0
_LABEL_PX = 300.0
ToPx = Callable[[Point2], QPointF]


def paint_grid(painter: QPainter, visible: QRectF, to_px: ToPx, step: float, system: System) -> None:
    """Thin lines at every step, stronger ones at whole feet or metres, on whole pixels."""
    colours = theme.current()
    # Width 0 is one pixel of the device at any scaling of the screen.
    fine = QPen(mixed(colours.paper, colours.grid, 0.7), 0.0)
    strong = QPen(mixed(colours.grid, colours.line, 0.35), 0.0)
    ratio = painter.device().devicePixelRatioF()
    coarse = coarse_step(step, system)
    for pen, spacing, skip in ((fine, step, coarse), (strong, coarse, 0.0)):
        painter.setPen(pen)
        painter.drawLines(_grid_lines(visible, to_px, spacing, skip, ratio))


def paint_feedback(painter: QPainter, feedback: Feedback, to_px: ToPx, area: QRectF) -> None:
    """Everything a tool shows, in pixels."""
    colours = theme.current()
    painter.setRenderHint(QPainter.RenderHint.Antialiasing)
    guide = QPen(mixed(colours.accent, colours.paper, 0.35), 1.0)
    guide.setDashPattern([4.0, 3.0])
    _lines(painter, guide, feedback.guides, to_px)
    _lines(painter, QPen(colours.accent, 1.8), feedback.lines, to_px)
    for point in feedback.handles:
        paint_handle(painter, to_px(point), held=point == feedback.held)
    if feedback.snap is not None:
        at = to_px(feedback.snap.point)
        _marker(painter, at, colours.accent)
        _words(painter, at, feedback, area)
    elif feedback.at is not None:
        _words(painter, to_px(feedback.at), feedback, area)


def paint_handle(painter: QPainter, at: QPointF, *, held: bool = False) -> None:
    """The one handle: round, hollow, in the accent; filled while it is selected or in the hand."""
    colours = theme.current()
    painter.setPen(QPen(colours.accent, 1.6))
    painter.setBrush(colours.accent if held else colours.paper)
    painter.drawEllipse(at, HANDLE_PX, HANDLE_PX)


def paint_hint(painter: QPainter, area: QRectF, title: str, text: str) -> None:
    """A quiet word in the middle of an empty surface."""
    colours = theme.current()
    middle = area.center()
    painter.setFont(theme.heading_font())
    painter.setPen(colours.quiet)
    box = QRectF(area.left() + 24.0, middle.y() - 44.0, area.width() - 48.0, 28.0)
    painter.drawText(box, int(Qt.AlignmentFlag.AlignCenter), title)
    painter.setFont(font_of("label"))
    box = QRectF(area.left() + 24.0, middle.y() - 12.0, area.width() - 48.0, 60.0)
    flags = int(Qt.AlignmentFlag.AlignHCenter | Qt.AlignmentFlag.AlignTop) | int(Qt.TextFlag.TextWordWrap)
    painter.drawText(box, flags, text)


def _lines(painter: QPainter, pen: QPen, lines: tuple[Segment, ...], to_px: ToPx) -> None:
    painter.setPen(pen)
    painter.drawLines([QLineF(to_px(start), to_px(end)) for start, end in lines])


def _marker(painter: QPainter, at: QPointF, colour: QColor) -> None:
    """The one snap marker, whatever caught the pointer: the word beside it says what."""
    pen = QPen(colour, 1.4)
    painter.setPen(pen)
    painter.setBrush(Qt.BrushStyle.NoBrush)
    r = _MARKER_PX
    painter.drawLine(QLineF(at.x() - r, at.y(), at.x() + r, at.y()))
    painter.drawLine(QLineF(at.x(), at.y() - r, at.x(), at.y() + r))


def _words(painter: QPainter, at: QPointF, feedback: Feedback, area: QRectF) -> None:
    """Live measures, the snap's word and what is wrong, in one small label beside the pointer, inside the view."""
    colours = theme.current()
    word = feedback.snap.word if feedback.snap else ""
    problem = f"⚠ {feedback.problem}" if feedback.problem else ""
    rows = [row for row in ((feedback.live, colours.ink), (word, colours.accent), (problem, colours.warning)) if row[0]]
    if not rows:
        return
    font = font_of("label")
    metrics = QFontMetricsF(font)
    wrap = int(Qt.AlignmentFlag.AlignLeft) | int(Qt.TextFlag.TextWordWrap)
    room = QRectF(0.0, 0.0, _LABEL_PX, 1000.0)
    sizes = [metrics.boundingRect(room, wrap, text) for text, _ in rows]
    width = max(size.width() for size in sizes) + 16.0
    height = sum(size.height() for size in sizes) + 8.0
    left, top = at.x() + 16.0, at.y() + 14.0
    if left + width > area.right() - 4.0:
        left = at.x() - 16.0 - width
    if top + height > area.bottom() - 4.0:
        top = at.y() - 14.0 - height
    left = min(max(left, area.left() + 4.0), area.right() - 4.0 - width)
    top = min(max(top, area.top() + 4.0), area.bottom() - 4.0 - height)
    painter.setPen(QPen(colours.line, 1.0))
    painter.setBrush(colours.paper)
    painter.drawRoundedRect(QRectF(left, top, width, height), 3.0, 3.0)
    painter.setFont(font)
    y = top + 4.0
    for (text, colour), size in zip(rows, sizes, strict=True):
        painter.setPen(colour)
        painter.drawText(QRectF(left + 8.0, y, width - 14.0, size.height()), wrap, text)
        y += size.height()


def _grid_lines(visible: QRectF, to_px: ToPx, spacing: float, skip: float, ratio: float) -> list[QLineF]:
    """Lines at every ``spacing`` inches of the visible rectangle but where lines at every ``skip`` will lie."""
    lines: list[QLineF] = []
    top, bottom = to_px((0.0, visible.bottom())).y(), to_px((0.0, visible.top())).y()
    left, right = to_px((visible.left(), 0.0)).x(), to_px((visible.right(), 0.0)).x()
    for x in _steps(visible.left(), visible.right(), spacing, skip):
        px = (math.floor(to_px((x, 0.0)).x() * ratio) + 0.5) / ratio
        lines.append(QLineF(px, top, px, bottom))
    for y in _steps(visible.top(), visible.bottom(), spacing, skip):
        px = (math.floor(to_px((0.0, y)).y() * ratio) + 0.5) / ratio
        lines.append(QLineF(left, px, right, px))
    return lines


def _steps(low: float, high: float, spacing: float, skip: float) -> list[float]:
    first, last = math.ceil(low / spacing), math.floor(high / spacing)
    every = round(skip / spacing) if skip else 0
    return [number * spacing for number in range(first, last + 1) if not every or number % every]
