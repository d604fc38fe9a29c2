"""The handout's pages as pictures: the very PDF that is saved, drawn by the PDF library. No widgets here."""

from __future__ import annotations

from collections.abc import Callable, Collection
from dataclasses import dataclass

import pypdfium2
from PySide6.QtGui import QImage

from workbench.exchange.pdfium import PDFIUM
from workbench.handout import Part, render_handout
from workbench.plan import Plan

PREVIEW_DPI = 110.0
PRINT_DPI = 200.0
_POINTS_PER_INCH = 72.0


@dataclass(frozen=True)
class Page:
    """One page as a picture.

    Attributes:
        number: 1 for the first.
        count: Pages in all.
        image: The picture.
    """

    number: int
    count: int
    image: QImage


def handout_bytes(plan: Plan, paper: str, parts: Collection[Part] = ()) -> bytes:
    """The handout as PDF, on ``letter`` or ``a4``: all of it, or some parts."""
    return render_handout(plan, "a4" if paper == "a4" else "letter", parts)


def draw_pages(pdf: bytes, dpi: float, tell: Callable[[Page], None], given_up: Callable[[], bool]) -> None:
    """Draw page after page until all are done or it is given up."""
    with PDFIUM:
        document = pypdfium2.PdfDocument(pdf)
        count = len(document)
    try:
        for index in range(count):
            if given_up():
                return
            with PDFIUM:
                image = _image(document, index, dpi)
            tell(Page(index + 1, count, image))
    finally:
        with PDFIUM:
            document.close()


def _image(document: pypdfium2.PdfDocument, index: int, dpi: float) -> QImage:
    page = document[index]
    bitmap = page.render(scale=dpi / _POINTS_PER_INCH, rev_byteorder=False, prefer_bgrx=True)
    # The copy owns its pixels; the bitmap's buffer goes with the page.
    image = QImage(bitmap.buffer, bitmap.width, bitmap.height, bitmap.stride, QImage.Format.Format_RGB32).copy()
    bitmap.close()
    page.close()
    return image
