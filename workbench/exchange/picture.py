"""The roof plan as a picture: SVG and PNG, painted as the handout paints it."""

from __future__ import annotations

import io
import math
from collections.abc import Sequence
from importlib import import_module
from typing import Any
from xml.sax.saxutils import escape

from workbench.drawing.primitives import Anchor, Drawing
from workbench.drawing.roof_plan import roof_plan
from workbench.errors import BadInput
from workbench.exchange.pdfium import PDFIUM
from workbench.findings import SCREENING
from workbench.handout.ink import Ink
from workbench.handout.painter import Scaled, fit, paint, scale_text
from workbench.handout.pen import PROGRAM, Pen, text_width
from workbench.plan import Plan
from workbench.roof.model import Point2

WIDTH_PT, HEIGHT_PT = 1008.0, 720.0
"""Room for the drawing, points: 14 x 10 in."""

MARGIN_PT = 24.0
PNG_DPI = 200.0

_LINE_PT = 15.0
_FAMILY = "'DejaVu Sans', Verdana, sans-serif"
_LEAST_WIDTH_PT = 430.0


def svg_bytes(plan: Plan) -> bytes:
    """The roof plan to scale as SVG, lettered as text; the same plan gives the same bytes.

    Raises:
        BadInput: The job has no roof to draw.
    """
    sheet = _Sheet(plan)
    pen = SvgPen(sheet.width, sheet.height, plan.job.name, SCREENING)
    sheet.draw(pen)
    return pen.finish()


def png_bytes(plan: Plan) -> bytes:
    """The roof plan as PNG, black on white, at 200 dots an inch.

    Raises:
        BadInput: The job has no roof to draw.
    """
    pypdfium2: Any = import_module("pypdfium2")  # without types, and slow to import
    sheet = _Sheet(plan)
    pen = Pen(plan.job.name, "Roof plan")
    pen.start_page(sheet.width, sheet.height, "Roof plan")
    sheet.draw(pen)
    with PDFIUM:
        document: Any = pypdfium2.PdfDocument(pen.finish())
        page: Any = document[0]
        image: Any = page.render(scale=PNG_DPI / 72.0, grayscale=True).to_pil().copy()
        page.close()
        document.close()
    stream = io.BytesIO()
    image.save(stream, "PNG", dpi=(PNG_DPI, PNG_DPI), optimize=True)
    return stream.getvalue()


class _Sheet:
    """The drawing with its title, scale and caution on a page just large enough."""

    def __init__(self, plan: Plan) -> None:
        drawing: Drawing = roof_plan(plan)
        if not plan.roof.planes:
            msg = "This job has no roof that could be solved, so there is no picture to draw; draw a building outline."
            raise BadInput(msg)
        metric = plan.units.system == "mm"
        self._scaled: Scaled = fit(drawing, WIDTH_PT, HEIGHT_PT, metric=metric)
        scale = scale_text(self._scaled.scale, metric=metric)
        revision = f"Revision {plan.job.revision}" if plan.job.revision else "No revision"
        self._words = (
            (plan.job.name, 14.0, True),
            (", ".join(filter(None, (revision, plan.job.date, scale))), 11.0, False),
            (SCREENING, 9.0, True),
        )
        wide, high = self._scaled.size
        lettered = max(text_width(words, size, bold=bold) for words, size, bold in self._words)
        self._foot = len(self._words) * _LINE_PT + 12.0
        self.width = max(wide, lettered, _LEAST_WIDTH_PT) + 2.0 * MARGIN_PT
        self.height = high + self._foot + 2.0 * MARGIN_PT

    def draw(self, pen: Ink) -> None:
        """Drawing above, words below."""
        white = ((0.0, 0.0), (self.width, 0.0), (self.width, self.height), (0.0, self.height))
        pen.polygon(white, 0.0, fill=1.0)
        paint(pen, self._scaled.layout, (self.width - self._scaled.size[0]) / 2.0, MARGIN_PT + self._foot)
        y = MARGIN_PT + self._foot - 12.0
        for words, size, bold in self._words:
            y -= _LINE_PT
            pen.text(MARGIN_PT, y + 3.0, words, size, bold=bold)


class SvgPen:
    """Writes one picture; points from the lower left corner become user units from the upper left one."""

    def __init__(self, width: float, height: float, title: str, description: str) -> None:
        """Begin a picture of this size, points."""
        self._height = height
        self._lines = [
            '<?xml version="1.0" encoding="UTF-8"?>',
            f'<svg xmlns="http://www.w3.org/2000/svg" width="{_number(width)}pt" height="{_number(height)}pt" '
            f'viewBox="0 0 {_number(width)} {_number(height)}" font-family="{_FAMILY}" stroke-linejoin="round">',
            f"<title>{_plain(title)}</title>",
            f"<desc>{_plain(f'{PROGRAM}. {description}')}</desc>",
        ]

    def finish(self) -> bytes:
        """End the picture."""
        return "\n".join([*self._lines, "</svg>", ""]).encode("utf-8")

    def line(self, start: Point2, end: Point2, weight: float, *, ink: float = 0.0, dash: Sequence[float] = ()) -> None:
        """Draw a line."""
        (x1, y1), (x2, y2) = self._at(start), self._at(end)
        self._lines.append(f'<line x1="{x1}" y1="{y1}" x2="{x2}" y2="{y2}"{_stroke(weight, ink, dash)}/>')

    def polygon(
        self,
        ring: Sequence[Point2],
        weight: float,
        *,
        fill: float | None = None,
        ink: float = 0.0,
        dash: Sequence[float] = (),
    ) -> None:
        """Draw an outline (none at weight 0), filled with a grey."""
        points = " ".join(f"{x},{y}" for x, y in map(self._at, ring))
        inside = "none" if fill is None else _grey(fill)
        stroke = _stroke(weight, ink, dash) if weight > 0.0 else ""
        self._lines.append(f'<polygon points="{points}" fill="{inside}" fill-rule="evenodd"{stroke}/>')

    def text(
        self,
        x: float,
        y: float,
        text: str,
        size: float,
        *,
        bold: bool = False,
        anchor: Anchor = "left",
        angle_deg: float = 0.0,
        ink: float = 0.0,
    ) -> None:
        """Write one line, as wide as the handout's font would make it, whatever font is at hand."""
        left, top = self._at((x, y))
        stands = {"left": "start", "centre": "middle", "right": "end"}[anchor]
        turn = f' transform="rotate({_number(-angle_deg)} {left} {top})"' if abs(angle_deg) > 1e-9 else ""
        weight = ' font-weight="bold"' if bold else ""
        width = _number(text_width(text, size, bold=bold))
        self._lines.append(
            f'<text x="{left}" y="{top}" font-size="{_number(size)}" text-anchor="{stands}" textLength="{width}" '
            f'fill="{_grey(ink)}"{weight}{turn}>{_plain(text)}</text>'
        )

    def _at(self, point: Point2) -> tuple[str, str]:
        return _number(point[0]), _number(self._height - point[1])


def _number(value: float) -> str:
    shown = f"{value:.3f}".rstrip("0").rstrip(".")
    return "0" if shown in ("-0", "") else shown


def _grey(value: float) -> str:
    level = max(0, min(255, math.floor(255.0 * value + 0.5)))
    return f"#{level:02x}{level:02x}{level:02x}"


def _stroke(weight: float, ink: float, dash: Sequence[float]) -> str:
    pattern = f' stroke-dasharray="{" ".join(_number(d) for d in dash)}"' if dash else ' stroke-linecap="round"'
    return f' stroke="{_grey(ink)}" stroke-width="{_number(weight)}"{pattern}'


def _plain(text: str) -> str:
    """Escaped, and without the control characters that XML has no place for."""
    kept = "".join(c if c.isprintable() else " " for c in text)
    return escape(kept, {'"': "&quot;"})
