"""The preview shows the pages of the very PDF that is saved; printing keeps their size."""

from __future__ import annotations

from pathlib import Path

import pypdfium2
import pytest
from PySide6.QtPrintSupport import QPrinter

from workbench.bench.handout_view import print_pages
from workbench.bench.pages import Page, draw_pages

_MM_PER_INCH = 25.4


@pytest.fixture
def gable(window):
    """A window with the plainest sample, so that pages come quickly."""
    from workbench.resources import sample_job_path

    window.files.open_sample(sample_job_path("plain-gable.json"))
    return window


def _finished(qtbot, view) -> None:
    qtbot.waitUntil(lambda: view.state.text().endswith(("pages", "1 page")), timeout=30_000)


def test_preview_shows_every_page_of_the_pdf_that_is_saved(qtbot, gable, dialogs, tmp_path: Path) -> None:
    view = gable.show_handout()
    assert not view.save.isEnabled()
    _finished(qtbot, view)
    dialogs.pdf_path = tmp_path / "handout.pdf"
    view.save.click()
    saved = dialogs.pdf_path.read_bytes()
    assert saved == view.pdf
    document = pypdfium2.PdfDocument(saved)
    assert len(document) == len(view.views) > 1
    text = document[0].get_textpage().get_text_bounded()
    assert gable.document.job.name in text
    document.close()
    view.close()


def test_other_paper_makes_other_pages_and_is_remembered(qtbot, gable) -> None:
    view = gable.show_handout()
    _finished(qtbot, view)
    letter = view.views[0].image.size()
    view.paper.combo.setCurrentIndex(1)
    view.paper.combo.activated.emit(1)
    _finished(qtbot, view)
    a4 = view.views[0].image.size()
    # Letter is 8.5 by 11 in, A4 is 210 by 297 mm (ISO 216).
    assert letter.width() / letter.height() == pytest.approx(8.5 / 11, abs=0.003)
    assert a4.width() / a4.height() == pytest.approx(210 / 297, abs=0.003)
    assert gable.settings.paper == "a4"
    view.close()


def test_page_pictures_have_the_page_s_size_and_can_be_given_up(qtbot, gable) -> None:
    view = gable.show_handout()
    _finished(qtbot, view)
    pages: list[Page] = []
    draw_pages(view.pdf, 72.0, pages.append, lambda: len(pages) >= 2)
    assert len(pages) == 2
    assert (pages[0].image.width(), pages[0].image.height()) == (612, 792)
    view.close()


def test_printed_pages_keep_their_size(qtbot, gable, tmp_path: Path) -> None:
    view = gable.show_handout()
    _finished(qtbot, view)
    printer = QPrinter(QPrinter.PrinterMode.HighResolution)
    printer.setOutputFormat(QPrinter.OutputFormat.PdfFormat)
    printer.setOutputFileName(str(tmp_path / "printed.pdf"))
    printer.setFullPage(True)
    print_pages(view.pdf, printer)
    printed = pypdfium2.PdfDocument((tmp_path / "printed.pdf").read_bytes())
    assert len(printed) == len(view.views)
    picture = next(printed[0].get_objects(filter=(pypdfium2.raw.FPDF_PAGEOBJ_IMAGE,)))
    left, _, right, _ = picture.get_bounds()
    # A letter page printed at full size measures 8.5 in across: within half a millimetre.
    assert (right - left) / 72.0 * _MM_PER_INCH == pytest.approx(8.5 * _MM_PER_INCH, abs=0.5)
    printed.close()
    view.close()


def test_parts_ticked_are_made_by_themselves(qtbot, gable) -> None:
    view = gable.show_handout()
    _finished(qtbot, view)
    pages = len(view.views)
    view.part_actions["safety"].trigger()
    _finished(qtbot, view)
    assert 0 < len(view.views) < pages
    assert view.parts.text() == "1 of 11 parts"
    view.part_actions["safety"].trigger()
    _finished(qtbot, view)
    assert len(view.views) == pages
    view.close()
