"""A laid-out drawing played on a page with the styles of its roles."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from workbench.drawing.laid_out import Area, Layout, Lettering, Stroke
from workbench.drawing.layout import CAP, LINE_STEP, lay_out
from workbench.drawing.primitives import Drawing, Role
from workbench.drawing.shapes import box, sides, spans_at_y
from workbench.drawing.styles import HATCH_STEP_PT, HATCH_WEIGHT_PT, STYLES
from workbench.handout.ink import Ink
from workbench.handout.pen import bold_width
from workbench.roof.model import Point2

INCH_SCALES = (4, 6, 8, 12, 16, 24, 32, 48, 64, 96, 128, 192, 256, 384, 512, 768, 1024)
METRIC_SCALES = (5, 10, 20, 25, 40, 50, 75, 100, 150, 200, 250, 500, 1000)
_BOLD_ROLES: frozenset[Role] = frozenset({"plane_name", "title"})


@dataclass(frozen=True)
class Scaled:
    """A drawing at the scale it is printed at.

    Attributes:
        layout: Set out in points.
        scale: One to so many; None where it is not to scale.
        pt_per_in: Points per inch of the real thing.
    """

    layout: Layout
    scale: int | None
    pt_per_in: float

    @property
    def size(self) -> tuple[float, float]:
        """Width and height with all texts, points."""
        x0, y0, x1, y1 = self.layout.bounds()
        return x1 - x0, y1 - y0


def to_points(length_in: float, scale: float) -> float:
    """Printed length of a real one at a scale of one to ``scale``."""
    return length_in * 72.0 / scale


def set_out(drawing: Drawing, pt_per_in: float) -> Layout:
    """Set a drawing out with the widths of the printed font (the bold ones, so that nothing is too narrow)."""
    return lay_out(drawing, pt_per_in, bold_width)


def fit(drawing: Drawing, width: float, height: float, *, metric: bool = False, largest: int = 1) -> Scaled:
    """The drawing at the largest standard scale that fits; not to scale where none does.

    Takes what ``fit_over`` takes.
    """
    scaled = fit_over(drawing, width, height, metric=metric, largest=largest)
    if scaled is not None:
        return scaled
    x0, y0, x1, y1 = drawing.bounds()
    least = min(width / max(x1 - x0, 1e-9), height / max(y1 - y0, 1e-9), to_points(1.0, largest))
    for _ in range(12):
        least *= 0.8
        scaled = Scaled(set_out(drawing, least), None, least)
        if scaled.size[0] <= width and scaled.size[1] <= height:
            return scaled
    return Scaled(set_out(drawing, least), None, least)


def fit_over(
    drawing: Drawing, width: float, height: float, *, metric: bool = False, largest: int = 1, over: float = 0.0
) -> Scaled | None:
    """The drawing at the largest standard scale that fits, None where none does.

    Args:
        drawing: What to print.
        width: Points to be had.
        height: Points to be had.
        metric: Take the metric row of scales.
        largest: Larger scales than one to this are left out.
        over: Points per inch that must be surpassed.
    """
    x0, y0, x1, y1 = drawing.bounds()
    for scale in METRIC_SCALES if metric else INCH_SCALES:
        pt_per_in = to_points(1.0, scale)
        if pt_per_in <= over * 1.001:
            break
        if scale < largest or (x1 - x0) * pt_per_in > width or (y1 - y0) * pt_per_in > height:
            continue
        scaled = Scaled(set_out(drawing, pt_per_in), scale, pt_per_in)
        if scaled.size[0] <= width and scaled.size[1] <= height:
            return scaled
    return None


def scale_text(scale: int | None, *, metric: bool = False) -> str:
    """The scale in words: ``Scale 1:48 (1/4" = 1')``."""
    if scale is None:
        return "Not to scale"
    if metric:
        return f"Scale 1:{scale}"
    sixteenths = 16 * 12 / scale
    if sixteenths != int(sixteenths) and 2 * sixteenths != int(2 * sixteenths):
        return f"Scale 1:{scale}"
    upper, lower = (int(sixteenths), 16) if sixteenths == int(sixteenths) else (int(2 * sixteenths), 32)
    whole, part = divmod(upper, lower)
    common = math.gcd(part, lower)
    fraction = f"{part // common}/{lower // common}" if part else ""
    inches = " ".join(word for word in (str(whole) if whole else "", fraction) if word)
    return f"Scale 1:{scale} ({inches}\" = 1')"


def paint(pen: Ink, layout: Layout, x: float, y: float) -> None:
    """Play a layout with its lower left corner at a point of the page."""
    x0, y0, _, _ = layout.bounds()
    dx, dy = x - x0, y - y0
    for mark in layout.marks:
        if isinstance(mark, Area):
            _paint_area(pen, mark, dx, dy)
        else:
            _paint_stroke(pen, mark, dx, dy)
    for text in layout.texts:
        _paint_text(pen, text, dx, dy)


def _moved(ring: Sequence[Point2], dx: float, dy: float) -> tuple[Point2, ...]:
    return tuple((x + dx, y + dy) for x, y in ring)


def _paint_area(pen: Ink, area: Area, dx: float, dy: float) -> None:
    style = STYLES[area.role]
    ring = _moved(area.ring, dx, dy)
    hatch = list(_hatch(area, ring))
    weight = style.weight if area.outlined else 0.0
    if area.fill is not None and (hatch or weight == 0.0):
        pen.polygon(ring, 0.0, fill=area.fill)
    for start, end in hatch:
        pen.line(start, end, HATCH_WEIGHT_PT, ink=0.45)
    if weight > 0.0:
        pen.polygon(ring, weight, fill=None if hatch else area.fill, ink=style.ink, dash=style.dash)


def _hatch(area: Area, ring: tuple[Point2, ...]) -> Iterator[tuple[Point2, Point2]]:
    if area.hatch == "diagonal":
        yield from _parallels(ring, 45.0, HATCH_STEP_PT)
    elif area.hatch == "cross":
        yield from _parallels(ring, 45.0, HATCH_STEP_PT)
        yield from _parallels(ring, -45.0, HATCH_STEP_PT)
    elif area.hatch == "grain":
        a, b = max(sides(ring), key=lambda side: math.dist(*side))
        yield from _parallels(ring, math.degrees(math.atan2(b[1] - a[1], b[0] - a[0])), 4.0 * HATCH_STEP_PT)


def _parallels(ring: Sequence[Point2], angle_deg: float, step: float) -> Iterator[tuple[Point2, Point2]]:
    """Lines at an angle and a step, cut off at the outline."""
    cos, sin = math.cos(math.radians(angle_deg)), math.sin(math.radians(angle_deg))
    turned = [(x * cos + y * sin, y * cos - x * sin) for x, y in ring]
    _, low, _, high = box(turned)
    level = (math.floor(low / step) + 1) * step
    while level < high:
        for start, end in spans_at_y(turned, level):
            a, b = (start, level), (end, level)
            yield (a[0] * cos - a[1] * sin, a[0] * sin + a[1] * cos), (b[0] * cos - b[1] * sin, b[0] * sin + b[1] * cos)
        level += step


def _paint_stroke(pen: Ink, stroke: Stroke, dx: float, dy: float) -> None:
    style = STYLES[stroke.role]
    start, end = _moved((stroke.start, stroke.end), dx, dy)
    pen.line(start, end, style.weight, ink=style.ink, dash=() if stroke.solid else style.dash)


def _paint_text(pen: Ink, text: Lettering, dx: float, dy: float) -> None:
    if text.back is not None:
        pen.polygon(_moved(text.box, dx, dy), 0.0, fill=text.back)
    bold = text.role in _BOLD_ROLES
    angle = math.radians(text.angle_deg)
    cos, sin = math.cos(angle), math.sin(angle)
    x, y = text.centre[0] + dx, text.centre[1] + dy
    height = (CAP + LINE_STEP * (len(text.lines) - 1)) * text.size_pt
    for i, line in enumerate(text.lines):
        up = height / 2.0 - CAP * text.size_pt - i * LINE_STEP * text.size_pt
        pen.text(
            x - up * sin,
            y + up * cos,
            line,
            text.size_pt,
            bold=bold,
            anchor="centre",
            angle_deg=text.angle_deg,
            ink=STYLES[text.role].ink,
        )
