"""The one place that talks to reportlab: fonts, widths, and a pen that writes a PDF. Points from the lower left."""

from __future__ import annotations

import io
import math
from collections.abc import Sequence
from functools import cache
from importlib import import_module
from typing import Any

from workbench.drawing.primitives import Anchor
from workbench.resources import resource_path
from workbench.roof.model import Point2

REGULAR, BOLD = "DejaVuSans", "DejaVuSans-Bold"
_FILES = {REGULAR: "DejaVuSans.ttf", BOLD: "DejaVuSans-Bold.ttf"}
PROGRAM = "Roof Workbench"


# reportlab ships no types: it enters here as Any and leaves as plain numbers and bytes.
@cache
def _pdfmetrics() -> Any:
    """The library's font register, with our fonts in it."""
    pdfmetrics: Any = import_module("reportlab.pdfbase.pdfmetrics")
    ttfonts: Any = import_module("reportlab.pdfbase.ttfonts")
    for name, file in _FILES.items():
        pdfmetrics.registerFont(ttfonts.TTFont(name, str(resource_path("fonts", file))))
    return pdfmetrics


def text_width(text: str, size: float, *, bold: bool = False) -> float:
    """Width of a text, points."""
    return float(_pdfmetrics().stringWidth(text, BOLD if bold else REGULAR, size))


def bold_width(text: str, size: float) -> float:
    """Width of a text in bold, points."""
    return text_width(text, size, bold=True)


def has_glyph(character: str, *, bold: bool = False) -> bool:
    """Whether the font can write a character."""
    return ord(character) in _pdfmetrics().getFont(BOLD if bold else REGULAR).face.charToGlyph


def writable(text: str) -> str:
    """The text with every character the font lacks written as a question mark, on one line."""
    return "".join(character if has_glyph(character) else "?" for character in " ".join(text.split()))


class Pen:
    """Writes pages of one document; the same calls give the same bytes."""

    def __init__(self, title: str, subject: str) -> None:
        """Start a document.

        Args:
            title: Its title.
            subject: What it is about.
        """
        _pdfmetrics()
        canvas: Any = import_module("reportlab.pdfgen.canvas")
        self._out = io.BytesIO()
        self._canvas = canvas.Canvas(
            self._out, invariant=1, pageCompression=1, initialFontName=REGULAR, initialFontSize=9.0, lang="en-US"
        )
        self._canvas.setTitle(title)
        self._canvas.setAuthor(PROGRAM)
        self._canvas.setSubject(subject)
        self._canvas.setCreator(PROGRAM)
        self._canvas.setViewerPreference("PrintScaling", "None")
        self._pages = 0

    def start_page(self, width: float, height: float, bookmark: str) -> None:
        """Begin a page of this size, with an entry in the document's outline."""
        if self._pages:
            self._canvas.showPage()
        self._pages += 1
        self._canvas.setPageSize((width, height))
        self._canvas.setLineCap(1)
        self._canvas.setLineJoin(1)
        key = f"page-{self._pages}"
        self._canvas.bookmarkPage(key)
        self._canvas.addOutlineEntry(bookmark, key, 0, 0)

    def finish(self) -> bytes:
        """End the document."""
        self._canvas.showOutline()
        self._canvas.save()
        return self._out.getvalue()

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
        """Write one line; the point is its baseline's left end, middle or right end."""
        canvas = self._canvas
        canvas.setFont(BOLD if bold else REGULAR, size)
        canvas.setFillGray(ink)
        width = text_width(text, size, bold=bold)
        along = {"left": 0.0, "centre": -width / 2.0, "right": -width}[anchor]
        if abs(angle_deg) < 1e-9:
            canvas.drawString(x + along, y, text)
            return
        cos, sin = math.cos(math.radians(angle_deg)), math.sin(math.radians(angle_deg))
        line = canvas.beginText()
        line.setTextTransform(cos, sin, -sin, cos, x + along * cos, y + along * sin)
        line.textOut(text)
        canvas.drawText(line)

    def line(self, start: Point2, end: Point2, weight: float, *, ink: float = 0.0, dash: Sequence[float] = ()) -> None:
        """Draw a line."""
        self._stroke(weight, ink, dash)
        self._canvas.line(start[0], start[1], end[0], end[1])

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
        path = self._canvas.beginPath()
        path.moveTo(*ring[0])
        for point in ring[1:]:
            path.lineTo(*point)
        path.close()
        if fill is not None:
            self._canvas.setFillGray(fill)
        self._stroke(weight, ink, dash)
        self._canvas.drawPath(path, stroke=int(weight > 0.0), fill=int(fill is not None))

    def box(self, x: float, y: float, width: float, height: float, weight: float, *, fill: float | None = None) -> None:
        """Draw an upright rectangle from its lower left corner."""
        corners = ((x, y), (x + width, y), (x + width, y + height), (x, y + height))
        self.polygon(corners, weight, fill=fill)

    def _stroke(self, weight: float, ink: float, dash: Sequence[float]) -> None:
        if weight > 0.0:
            self._canvas.setLineWidth(weight)
        self._canvas.setStrokeGray(ink)
        # Round caps lengthen every dash by the weight; flat ones keep the pattern as it is written.
        self._canvas.setLineCap(0 if dash else 1)
        self._canvas.setDash(list(dash))
