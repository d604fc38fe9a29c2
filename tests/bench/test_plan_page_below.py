"""The plan page under the drawing: read from every kind of file, laid, scaled by two clicks and a typed distance."""

from __future__ import annotations

import math
from pathlib import Path

import ezdxf
import pypdfium2
import pytest
from PySide6.QtCore import QPointF, Qt
from PySide6.QtGui import QColor, QImage

from workbench.bench.underlay.layer import placed
from workbench.bench.underlay.pages import read_page
from workbench.errors import BadInput
from workbench.job.read import read_job
from workbench.job.underlay import Underlay


@pytest.fixture
def pdf(tmp_path: Path) -> Path:
    """Two pages, the second 720 by 360 points."""
    document = pypdfium2.PdfDocument.new()
    document.new_page(612, 792)
    document.new_page(720, 360)
    path = tmp_path / "first floor.pdf"
    document.save(path)
    document.close()
    return path


@pytest.fixture
def picture(tmp_path: Path) -> Path:
    """White with one black pixel in the lower left corner and a red one at the upper right."""
    image = QImage(80, 40, QImage.Format.Format_RGB32)
    image.fill(QColor("white"))
    image.setPixelColor(0, 39, QColor("black"))
    image.setPixelColor(79, 0, QColor("red"))
    path = tmp_path / "page.png"
    assert image.save(str(path))
    return path


@pytest.fixture
def dxf(tmp_path: Path) -> Path:
    """A rectangle of 20 by 10 ft, in feet, away from the origin; with a circle of 2 ft inside."""
    document = ezdxf.new(units=2)
    space = document.modelspace()
    space.add_lwpolyline([(100, 50), (120, 50), (120, 60), (100, 60)], close=True)
    space.add_circle((110, 55), 1.0)
    path = tmp_path / "plan.dxf"
    document.saveas(path)
    return path


def test_pages_of_a_pdf_have_their_size_in_points(pdf: Path) -> None:
    page = read_page(pdf, 2)
    assert (page.width, page.height, page.count) == (720.0, 360.0, 2)
    assert page.image is not None and page.image.width() == pytest.approx(2000, abs=1)
    # A quarter inch to the foot: 72 points are 48 inches.
    assert 72.0 * page.unit_in == pytest.approx(48.0)


def test_white_is_nothing_black_stays_and_colours_keep_their_hue(picture: Path) -> None:
    page = read_page(picture, 1)
    assert page.image is not None and (page.width, page.height) == (80.0, 40.0)
    assert page.image.pixelColor(40, 20).alpha() == 0
    assert page.image.pixelColor(0, 39).getRgb() == (0, 0, 0, 255)
    assert page.image.pixelColor(79, 0).getRgb() == (255, 0, 0, 255)


def test_lines_of_a_dxf_file_come_in_its_own_units(dxf: Path) -> None:
    page = read_page(dxf, 1)
    assert page.lines is not None
    assert (page.width, page.height) == (pytest.approx(20.0), pytest.approx(10.0))
    assert page.unit_in == 12.0
    assert page.lines.boundingRect().topLeft() == QPointF(0.0, 0.0)


@pytest.mark.parametrize(
    ("name", "content", "word"),
    [
        ("gone.pdf", None, "is not there"),
        ("broken.pdf", b"no pdf at all", "can't be read as PDF"),
        ("broken.png", b"no picture", "can't be read as a picture"),
        ("broken.dxf", b"no drawing", "choose another"),
        ("plan.txt", b"words", "is no plan page"),
    ],
)
def test_what_can_t_be_read_is_told_in_a_sentence(tmp_path: Path, name: str, content: bytes | None, word: str) -> None:
    path = tmp_path / name
    if content is not None:
        path.write_bytes(content)
    with pytest.raises(BadInput, match=word):
        read_page(path, 1)


def test_a_page_that_is_not_in_the_pdf_is_told(pdf: Path) -> None:
    with pytest.raises(BadInput, match="has 2 pages, so there is no page 3"):
        read_page(pdf, 3)


def test_a_page_lies_where_the_job_says(picture: Path) -> None:
    page = read_page(picture, 1)
    under = Underlay(path="x.png", scale_in=3.0, x_in=100.0, y_in=50.0, turn_deg=90.0)
    at = placed(under, page).map(QPointF(80.0, -40.0))  # the picture's upper right corner in the item
    assert (at.x(), at.y()) == (pytest.approx(100.0 - 120.0), pytest.approx(50.0 + 240.0))


@pytest.fixture
def traced(qtbot, window, dialogs, pdf: Path):
    """An empty job with the PDF's first page below."""
    window.files.new()
    dialogs.page_path = pdf
    window.pages["plan"].underlay.lay.click()
    qtbot.waitUntil(lambda: window.underlay.item is not None, timeout=20_000)
    return window


def _click(qtbot, surface, x: float, y: float) -> None:
    at = surface.to_px((x, y)).toPoint()
    qtbot.mouseMove(surface.viewport(), at)
    qtbot.mouseClick(surface.viewport(), Qt.MouseButton.LeftButton, pos=at)


def test_a_page_is_laid_scaled_by_two_points_and_undone(qtbot, traced) -> None:
    document, surface, form = traced.document, traced.surface, traced.pages["plan"].underlay
    under = document.job.underlay
    assert under is not None and document.stack.undoText() == "Lay a plan page below"
    assert form.page.isVisible() and form.buttons[0].isVisible()
    assert surface.visible().contains(traced.underlay.bounds)
    a = (under.x_in + 48.0, under.y_in + 60.0)
    form.buttons[0].click()
    _click(qtbot, surface, *a)
    _click(qtbot, surface, under.x_in + 240.0, under.y_in + 60.0)
    assert surface.number_box.isVisible()
    qtbot.keyClicks(surface.number_box.findChild(type(form.x.edit).__mro__[1]), "24'")
    qtbot.keyClick(surface.number_box.findChild(type(form.x.edit).__mro__[1]), Qt.Key.Key_Return)
    scaled = document.job.underlay
    assert scaled is not None and scaled.scale_in == pytest.approx(under.scale_in * 288.0 / 192.0, rel=0.02)
    assert document.stack.undoText() == "Scale the plan page"
    assert surface.tool_name == "select"
    traced.history.undo()
    assert document.job.underlay == under


def test_a_page_is_moved_turned_faded_hidden_and_taken_away(qtbot, traced) -> None:
    document, surface, form = traced.document, traced.surface, traced.pages["plan"].underlay
    under = document.job.underlay
    surface.set_grid_catches(False)
    form.buttons[2].click()
    _click(qtbot, surface, under.x_in, under.y_in)
    _click(qtbot, surface, under.x_in + 96.0, under.y_in + 48.0)
    moved = document.job.underlay
    assert math.dist((moved.x_in, moved.y_in), (under.x_in + 96.0, under.y_in + 48.0)) < 8.0
    form.buttons[1].click()
    _click(qtbot, surface, moved.x_in + 60.0, moved.y_in + 60.0)
    _click(qtbot, surface, moved.x_in + 300.0, moved.y_in + 72.0)
    assert document.job.underlay.turn_deg == pytest.approx(-math.degrees(math.atan2(12.0, 240.0)), abs=0.4)
    form.strength.edit.setText("20")
    form.strength.edit.setModified(True)
    form.strength.commit()
    assert traced.underlay.item.opacity() == pytest.approx(0.2)
    form.shown.click()
    assert not traced.underlay.item.isVisible()
    form.remove.click()
    assert document.job.underlay is None and traced.underlay.item is None
    traced.history.undo()
    qtbot.waitUntil(lambda: traced.underlay.item is not None, timeout=20_000)


def test_another_page_of_the_file_is_chosen(qtbot, traced) -> None:
    form = traced.pages["plan"].underlay
    form.page.edit.setText("2")
    form.page.edit.setModified(True)
    form.page.commit()
    qtbot.waitUntil(lambda: traced.underlay.page is not None and traced.underlay.page.width == 720.0, timeout=20_000)
    form.page.edit.setText("9")
    form.page.edit.setModified(True)
    form.page.commit()
    qtbot.waitUntil(lambda: bool(traced.underlay.problem), timeout=20_000)
    assert "no page 9" in form.said.text()


def test_a_saved_job_finds_its_page_again_and_says_where_it_is_gone(qtbot, traced, dialogs, pdf: Path) -> None:
    dialogs.save_path = pdf.parent / "jobs.json"
    assert traced.files.save()
    assert read_job(dialogs.save_path).underlay.path == pdf.name
    before = traced.document.job
    traced.files.new()
    assert traced.underlay.item is None
    pdf.rename(pdf.with_name("elsewhere.pdf"))
    traced.files.open_path(dialogs.save_path)
    assert traced.document.job == before
    form = traced.pages["plan"].underlay
    qtbot.waitUntil(lambda: bool(traced.underlay.problem), timeout=20_000)
    assert "is not there" in form.said.text() and form.retry.isVisible()
    pdf.with_name("elsewhere.pdf").rename(pdf)
    form.retry.click()
    qtbot.waitUntil(lambda: traced.underlay.item is not None, timeout=20_000)
    assert not form.retry.isVisible()


def test_a_dropped_page_that_can_t_be_read_is_told_and_changes_nothing(qtbot, window, tmp_path: Path) -> None:
    path = tmp_path / "broken.pdf"
    path.write_bytes(b"nothing")
    window.tracing.lay(path)
    qtbot.waitUntil(lambda: bool(window.message.text), timeout=20_000)
    assert "can't be read as PDF" in window.message.text
    assert window.document.job.underlay is None
