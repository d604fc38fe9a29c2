"""A hip house with wing, dormer, skylight and laid-over porch, drawn from nothing by pointer and keys, to paper."""

from __future__ import annotations

import math

import pypdfium2
import pytest
from PySide6.QtCore import Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication, QLineEdit, QPushButton

from workbench.exchange.pdfium import PDFIUM

NONE, LEFT = Qt.KeyboardModifier.NoModifier, Qt.MouseButton.LeftButton


class Hands:
    """Pointer and keyboard."""

    def __init__(self, qtbot, window):
        self.window, self.surface, self.page = window, window.surface, window.pages["plan"]
        with qtbot.waitActive(window):
            window.activateWindow()

    @property
    def job(self):
        return self.window.document.job

    @property
    def plan(self):
        return self.window.document.plan

    def keys(self, text):
        for character in text:
            focus = QApplication.focusWidget()
            if character in "\t\n":
                QTest.keyClick(focus, Qt.Key.Key_Tab if character == "\t" else Qt.Key.Key_Return)
            else:
                QTest.keyClicks(focus, character)

    def verb(self, name):
        self.window.menus.actions[f"tool {name}"].trigger()

    def at(self, x, y):
        return self.surface.to_px((x, y)).toPoint()

    def point(self, x, y):
        QTest.mouseMove(self.surface.viewport(), self.at(x, y))

    def click(self, x, y):
        self.point(x, y)
        QTest.mouseClick(self.surface.viewport(), LEFT, NONE, self.at(x, y))

    def drag(self, start, end):
        self.point(*start)
        QTest.mousePress(self.surface.viewport(), LEFT, NONE, self.at(*start))
        for share in (0.3, 0.7, 1.0):
            self.point(start[0] + share * (end[0] - start[0]), start[1] + share * (end[1] - start[1]))
        QTest.mouseRelease(self.surface.viewport(), LEFT, NONE, self.at(*end))

    def button(self, words):
        button = next(b for b in self.window.findChildren(QPushButton) if b.text() == words and b.isVisible())
        QTest.mouseClick(button, LEFT)

    def field(self, name, text):
        edit = next(e for e in self.page.findChildren(QLineEdit) if e.accessibleName() == name and e.isVisible())
        edit.setFocus()
        edit.selectAll()
        self.keys(f"{text}\n")

    def choose(self, field, words):
        index = field.combo.findText(words)
        field.combo.setCurrentIndex(index)
        field.combo.activated.emit(index)


@pytest.fixture
def hands(qtbot, make_window):
    window = make_window()
    window.resize(1500, 1000)
    hands = Hands(qtbot, window)
    window.files.new()
    return hands


def rectangle(hands, x, y, width, depth, towards):
    """A rectangle from typed numbers: its first corner, then width and depth to the side of the pointer."""
    hands.verb("rectangle")
    hands.keys(f"{x}\t{y}\n")
    hands.point(x + towards[0], y + towards[1])
    hands.keys(f"{width}\t{depth}\n")


def draw_house(hands):
    rectangle(hands, 0, 0, "40'", "28'", (60, 60))
    hands.surface.fit()
    hands.field("Slope", "8")
    hands.field("Eave overhang", "16")
    hands.button("All eaves")
    rectangle(hands, 300, -120, "12'", "20'", (60, 60))
    hands.surface.fit()


def draw_dormer(hands):
    hands.verb("dormer")
    hands.click(200.0, 30.0)
    hands.keys("14'\t2'\t6'\n")


def draw_skylight(hands):
    """On the back plane."""
    hands.verb("opening")
    hands.drag((200.0, 300.0), (230.0, 260.0))


def draw_porch(hands):
    rectangle(hands, 180, 250, "10'", "14'", (60, 60))
    hands.choose(hands.page.wing_form.joins, "laid over the sheathed roof")


def edge_kinds(plan, wing):
    return {edge.kind for plane in plan.roof.planes if plane.wing == wing for edge in plane.all_edges}


def test_drawn_wing_by_wing_the_roofs_join_by_themselves(hands):
    draw_house(hands)
    assert hands.job.wings[0].outline == ((0.0, 0.0), (480.0, 0.0), (480.0, 336.0), (0.0, 336.0))
    assert edge_kinds(hands.plan, "wing-1") >= {"hip", "ridge", "valley", "eave"}
    assert edge_kinds(hands.plan, "wing-2") >= {"valley", "ridge", "rake"}
    # Between equal slopes a valley runs at 45° in plan: length = run · √(2 + m²) (closed form, geometry).
    wing = [plane for plane in hands.plan.roof.planes if plane.wing == "wing-2"]
    valleys = [edge for plane in wing for edge in plane.edges if edge.kind == "valley"]
    for valley in valleys:
        run = abs(valley.end[0] - valley.start[0])
        assert valley.length_in == pytest.approx(run * math.sqrt(2.0 + (8.0 / 12.0) ** 2), rel=1e-9)


def test_a_dormer_by_one_click_and_typed_numbers(hands):
    draw_house(hands)
    draw_dormer(hands)
    wing = hands.job.wings[-1]
    assert (wing.name, wing.outline[:2]) == ("dormer", ((168.0, 24.0), (240.0, 24.0)))
    front = next(plane for plane in hands.plan.roof.planes if plane.id == "wing-1/e1")
    assert len(front.openings) == 1
    assert hands.window.selection.key == f"wing:{wing.id}"


def test_what_is_put_away_unfinished_is_told(hands):
    draw_house(hands)
    wings = hands.job.wings
    hands.verb("dormer")
    hands.click(204, 24)
    hands.verb("outline")
    assert "Draw dormer: not finished" in hands.window.status.hint.text()
    hands.click(600, 300)
    hands.verb("select")
    assert "Draw outline: not finished" in hands.window.status.hint.text()
    hands.verb("outline")
    hands.verb("select")
    assert "not finished" not in hands.window.status.hint.text()
    assert hands.job.wings == wings


def test_a_skylight_by_dragging_then_moved_typed_and_taken_away(hands):
    draw_house(hands)
    draw_skylight(hands)
    (opening,) = hands.job.openings
    assert 12.0 <= opening.width_in <= 48.0
    assert 24.0 <= opening.length_in <= 72.0
    assert hands.window.selection.key == f"opening:{opening.id}"
    hands.field("Width", "22 1/2")
    hands.field("Up the slope", "5'")
    assert (hands.job.openings[0].width_in, hands.job.openings[0].y_in) == (22.5, 60.0)
    hands.surface.setFocus()
    before = hands.job.openings[0].x_in
    QTest.keyClick(hands.surface, Qt.Key.Key_Left)
    assert hands.job.openings[0].x_in > before  # on the back plane the left hand is its right end
    headers = [member for member in hands.plan.framing.members if member.kind == "header"]
    assert headers
    QTest.keyClick(hands.surface, Qt.Key.Key_Delete)
    assert hands.job.openings == ()


def test_a_porch_laid_over_the_roof_stands_on_sleepers(hands):
    draw_house(hands)
    draw_porch(hands)
    assert hands.job.wings[-1].joins == "overframed"
    assert any(member.kind == "sleeper" for member in hands.plan.framing.members)


def test_all_of_it_to_paper_and_back(hands, qtbot, dialogs, tmp_path):
    draw_house(hands)
    draw_dormer(hands)
    draw_skylight(hands)
    draw_porch(hands)
    window = hands.window
    for stage in ("slope", "frame", "sheets", "safety", "quantities", "plan"):
        window.show_stage(stage)
    dialogs.save_path = tmp_path / "house.json"
    window.menus.actions["save"].trigger()
    drawn = window.document.job
    window.menus.actions["new"].trigger()
    dialogs.open_path = dialogs.save_path
    window.menus.actions["open"].trigger()
    assert window.document.job == drawn

    view = window.show_handout()
    qtbot.waitUntil(lambda: bool(view.pdf), timeout=60_000)
    with PDFIUM:  # the preview draws the same pages meanwhile
        pages = pypdfium2.PdfDocument(view.pdf)
        text = "\n".join(page.get_textpage().get_text_range() for page in pages)
        pages.close()
    view.close()
    for words in ("The frame", "Hip 1", "Valley 1", "Valley jack 1", "Sleeper 1", "Header 1", "right dormer"):
        assert words in text


def test_every_step_can_be_undone_and_made_again(hands):
    draw_house(hands)
    draw_dormer(hands)
    draw_skylight(hands)
    drawn = hands.job
    window = hands.window
    count = window.document.stack.count()
    for _ in range(count):
        window.menus.actions["undo"].trigger()
    assert hands.job.wings == ()
    assert window.selection.key == ""
    for _ in range(count):
        window.menus.actions["redo"].trigger()
    assert hands.job == drawn
    assert window.selection.key == "opening:skylight-1"
