"""Pages of plan sets, pictures and drawings, read for the ground of the drawing. No widgets here.

A picture becomes ink on nothing: the lighter a place, the less of it there is, so that the page lies over any ground,
light or dark, and hides nothing.
"""

from __future__ import annotations

import importlib.util
from dataclasses import dataclass
from pathlib import Path

import numpy as np
import pypdfium2
from PySide6.QtCore import QPointF, QSize
from PySide6.QtGui import QImage, QImageReader, QPainterPath

from workbench.errors import BadInput
from workbench.exchange.pdfium import PDFIUM

SUFFIXES = (".pdf", ".png", ".jpg", ".jpeg", ".dxf")
_LONGEST_PX = 4_000
_PDF_DPI = 200.0
_POINTS = 72.0
_MOST_LINES = 200_000
_FIRST_IN = {".pdf": 48.0 / 72.0, ".png": 1.0, ".jpg": 1.0, ".jpeg": 1.0, ".dxf": 1.0}
_DXF_UNITS_IN = {1: 1.0, 2: 12.0, 4: 1.0 / 25.4, 5: 1.0 / 2.54, 6: 1.0 / 0.0254, 8: 1e-6, 10: 36.0, 14: 1.0 / 0.254}
"""Inches in one unit of a DXF file, by the number its header names (HEADER variable $INSUNITS of the DXF reference)."""


@dataclass(frozen=True)
class Page:
    """One page.

    Attributes:
        width: Its width in its own measure: points of a PDF page, pixels of a picture, units of a drawing.
        height: Its height in the same.
        count: Pages of the file.
        unit_in: Plan inches that one of its own measure stands for, as far as the file says or is usual: a plan
            printed at a quarter inch to the foot.
        image: The picture, ink on nothing; None where there are lines instead.
        lines: The lines, from the page's lower left corner up; None where there is a picture.
    """

    width: float
    height: float
    count: int
    unit_in: float
    image: QImage | None = None
    lines: QPainterPath | None = None


def read_page(path: Path, number: int) -> Page:
    """Read a page.

    Args:
        path: The file.
        number: Which page of a PDF, the first is 1.

    Raises:
        BadInput: One sentence with what is wrong and the mend.
    """
    if not path.is_file():
        msg = f"The plan page {path} is not there; put it back, or choose it again. The roof does not need it."
        raise BadInput(msg)
    suffix = path.suffix.lower()
    if suffix not in SUFFIXES:
        msg = f"{path.name} is no plan page; choose a PDF, PNG, JPEG or DXF file."
        raise BadInput(msg)
    try:
        if suffix == ".pdf":
            with PDFIUM:
                return _pdf_page(path, number)
        return _dxf_lines(path) if suffix == ".dxf" else _picture(path)
    except (OSError, MemoryError) as error:
        msg = f"{path.name} can't be read ({error}); choose another file."
        raise BadInput(msg) from None


def _pdf_page(path: Path, number: int) -> Page:
    try:
        document = pypdfium2.PdfDocument(path)
    except pypdfium2.PdfiumError as error:
        msg = f"{path.name} can't be read as PDF ({error}); choose another file, or save it anew without a password."
        raise BadInput(msg) from None
    try:
        count = len(document)
        if not 1 <= number <= count:
            pages = "1 page" if count == 1 else f"{count} pages"
            msg = f"{path.name} has {pages}, so there is no page {number}; choose one of them."
            raise BadInput(msg)
        page = document[number - 1]
        width, height = page.get_size()
        scale = min(_PDF_DPI / _POINTS, _LONGEST_PX / max(width, height, 1.0))
        bitmap = page.render(scale=scale, rev_byteorder=False, prefer_bgrx=True)
        form = QImage.Format.Format_RGB32
        image = ink(QImage(bitmap.buffer, bitmap.width, bitmap.height, bitmap.stride, form))
        bitmap.close()
        page.close()
        return Page(width, height, count, _FIRST_IN[".pdf"], image)
    except pypdfium2.PdfiumError as error:
        msg = f"Page {number} of {path.name} can't be drawn ({error}); choose another."
        raise BadInput(msg) from None
    finally:
        document.close()


def _picture(path: Path) -> Page:
    reader = QImageReader(str(path))
    reader.setAutoTransform(True)  # as the camera was held
    size = reader.size()
    if size.isValid() and max(size.width(), size.height()) > _LONGEST_PX:
        by = _LONGEST_PX / max(size.width(), size.height())
        reader.setScaledSize(QSize(round(size.width() * by), round(size.height() * by)))
    image = reader.read()
    if image.isNull():
        msg = f"{path.name} can't be read as a picture ({reader.errorString()}); choose another file."
        raise BadInput(msg)
    width, height = float(image.width()), float(image.height())
    if size.isValid() and not size.isEmpty():
        long = max(size.width(), size.height())
        by = long / max(width, height)
        width, height = width * by, height * by
    return Page(width, height, 1, 720.0 / width, ink(image))  # as if it showed sixty feet


def ink(image: QImage) -> QImage:
    """The picture as ink on nothing: white is gone, black stays, colours keep their hue."""
    plain = image.convertToFormat(QImage.Format.Format_ARGB32)
    wide, high = plain.width(), plain.height()
    pixels = np.frombuffer(plain.constBits(), np.uint8).reshape(high, plain.bytesPerLine())[:, : 4 * wide]
    bgra = pixels.reshape(high, wide, 4).astype(np.uint16)
    cover = bgra[..., 3:]
    colours = (bgra[..., :3] * cover + 255 * (255 - cover)) // 255  # on white paper
    alpha = 255 - colours.min(axis=2, keepdims=True)
    strong = np.where(alpha > 0, 255 - (255 - colours) * 255 // np.maximum(alpha, 1), 0)
    made = np.concatenate([strong, alpha], axis=2).astype(np.uint8)
    return QImage(made.tobytes(), wide, high, 4 * wide, QImage.Format.Format_ARGB32).copy()


def _dxf_lines(path: Path) -> Page:
    if importlib.util.find_spec("ezdxf") is None:
        msg = "Reading DXF files needs the package ezdxf; install roof-workbench[exchange], or save the plan as PDF."
        raise BadInput(msg)
    from workbench.bench.underlay.dxf import dxf_lines  # only where it is wanted: it takes a second to import

    lines, unit = dxf_lines(path, _MOST_LINES)
    bounds = lines.boundingRect()
    if lines.isEmpty():
        msg = f"{path.name} holds no lines in its model space; choose another file."
        raise BadInput(msg)
    lines.translate(-QPointF(bounds.left(), bounds.top()))
    return Page(bounds.width(), bounds.height(), 1, _DXF_UNITS_IN.get(unit, 1.0), None, lines)
