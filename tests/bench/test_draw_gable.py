"""From an empty window to paper with pointer and keys: a gable of 40 by 28 ft, drawn, saved, reopened, printed."""

from __future__ import annotations

import math

import pypdfium2
import pytest
from PySide6.QtCore import Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication, QPushButton

from workbench.exchange.pdfium import PDFIUM

GABLE = ((0.0, 0.0), (480.0, 0.0), (480.0, 336.0), (0.0, 336.0))
CONTROL = Qt.KeyboardModifier.ControlModifier


class Hands:
    """Pointer and keyboard."""

    def __init__(self, qtbot, window):
        self.qtbot, self.window, self.surface = qtbot, window, window.surface
        with qtbot.waitActive(window):
            window.activateWindow()

    def keys(self, text):
        """Type where the focus is; a tab and a newline are their keys."""
        for character in text:
            focus = QApplication.focusWidget()
            if character in "\t\n":
                QTest.keyClick(focus, Qt.Key.Key_Tab if character == "\t" else Qt.Key.Key_Return)
            else:
                QTest.keyClicks(focus, character)

    def shortcut(self, key):
        QTest.keyClick(QApplication.focusWidget() or self.window, key, CONTROL)

    def button(self, words):
        button = next(b for b in self.window.findChildren(QPushButton) if b.text() == words and b.isVisible())
        QTest.mouseClick(button, Qt.MouseButton.LeftButton)

    def point(self, x, y):
        QTest.mouseMove(self.surface.viewport(), self.surface.to_px((x, y)).toPoint())

    def click(self, x, y):
        self.point(x, y)
        at = self.surface.to_px((x, y)).toPoint()
        QTest.mouseClick(self.surface.viewport(), Qt.MouseButton.LeftButton, Qt.KeyboardModifier.NoModifier, at)

    def field(self, name, text):
        """Type into a field of the plan page."""
        edit = next(
            e for e in self.window.pages["plan"].findChildren(type(self._a_line())) if e.accessibleName() == name
        )
        edit.setFocus()
        edit.selectAll()
        self.keys(f"{text}\n")

    def _a_line(self):
        return self.window.pages["plan"].wing_form.name.edit


def draw(hands):
    """The outline by lengths typed in the direction the pointer shows, then overhangs and slope."""
    hands.shortcut(Qt.Key.Key_N)
    hands.button("Draw outline")
    hands.click(0.0, 0.0)
    hands.point(200.0, 2.0)
    hands.keys("40'\n")
    hands.point(481.0, 100.0)
    hands.keys("28'\n")
    hands.point(200.0, 337.0)
    hands.keys("40'\n")
    hands.keys("\n")
    hands.field("Eave overhang", "16")
    hands.field("Rake overhang", "1'")
    hands.field("Slope", "7/12")


def check_planes(plan):
    """Two planes; their area by the closed form (length × run × √(1 + m²), geometry)."""
    assert [plane.name for plane in plan.roof.planes] == ["front main", "back main"]
    expected = (480.0 + 24.0) * (168.0 + 16.0) * math.sqrt(1.0 + (7.0 / 12.0) ** 2) / 144.0
    for plane in plan.roof.planes:
        assert plane.area_sqft == pytest.approx(expected, rel=1e-9)
        kinds = sorted(edge.kind for edge in plane.edges)
        assert kinds == ["eave", "rake", "rake", "ridge"]


def test_a_gable_from_an_empty_window_to_paper(qtbot, make_window, dialogs, tmp_path):
    window = make_window()
    hands = Hands(qtbot, window)
    draw(hands)
    assert window.document.job.wings[0].outline == GABLE
    check_planes(window.document.plan)

    dialogs.save_path = tmp_path / "gable.json"
    hands.shortcut(Qt.Key.Key_S)
    assert dialogs.save_path.exists()
    assert not window.document.modified
    drawn = window.document.job
    assert window.close()

    other = make_window()
    dialogs.open_path = dialogs.save_path
    hands = Hands(qtbot, other)
    hands.shortcut(Qt.Key.Key_O)
    assert other.document.job == drawn
    check_planes(other.document.plan)

    view = other.show_handout()
    qtbot.waitUntil(lambda: bool(view.pdf) and len(view.views) >= 2, timeout=30_000)
    dialogs.pdf_path = tmp_path / "gable.pdf"
    assert view.save_pdf()
    view.close()
    with PDFIUM:  # the preview may be drawing its last page
        pages = pypdfium2.PdfDocument(dialogs.pdf_path.read_bytes())
        text = "\n".join(page.get_textpage().get_text_range() for page in pages)
        pages.close()
    for words in ("front main", "back main", "7 in 12", "Common 1"):
        assert words in text


def test_every_step_of_drawing_is_undone_by_its_name(qtbot, make_window):
    window = make_window()
    draw(Hands(qtbot, window))
    names = [window.document.stack.text(i) for i in range(window.document.stack.count())]
    assert names == ["Draw main", "Change eave overhang", "Change rake overhang"]
    for _ in names:
        window.document.stack.undo()
    assert window.document.job.wings == ()
