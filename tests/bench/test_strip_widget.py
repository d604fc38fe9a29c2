"""The section strip as a real widget: dragging, typing, marking, undo."""

from __future__ import annotations

import pytest
from PySide6.QtCore import QPoint, Qt
from pytestqt.qtbot import QtBot

from workbench.bench import theme
from workbench.bench.document import Document
from workbench.bench.selection import Selection
from workbench.bench.strip.widget import SectionStrip
from workbench.job import edits
from workbench.job.model import Job

SHED = ((0.0, 0.0), (288.0, 0.0), (288.0, 162.5), (0.0, 162.5))
HOUSE = ((0.0, 0.0), (480.0, 0.0), (480.0, 336.0), (0.0, 336.0))


def shed_job() -> Job:
    job, wing = edits.add_wing(Job(), SHED, ("eave", "rake", "wall", "rake"), "porch", eave_overhang_in=16.0)
    return edits.set_landing(job, wing, find="slope", high_end="notched", landing_in=186.0, hap_in=5.0, bearing_in=3.5)


def gable_job() -> Job:
    return edits.add_wing(Job(), HOUSE, ("eave", "rake", "eave", "rake"), "main", eave_overhang_in=12.0)[0]


class Strip:
    """A shown strip with its document."""

    def __init__(self, qtbot: QtBot, job: Job) -> None:
        self.document = Document()
        self.document.new(job)
        self.selection = Selection()
        self.widget = SectionStrip(self.document, self.selection)
        qtbot.addWidget(self.widget)
        self.widget.resize(1100, 320)
        self.widget.show()
        self.qtbot = qtbot

    def pixel(self, name: str) -> QPoint:
        """Where a handle is."""
        view = self.widget.view
        handle = next(h for h in view.handles if h.name == name)
        x, y = view.handle_pixel(handle)
        return QPoint(round(x), round(y))

    def press(self, name: str) -> QPoint:
        start = self.pixel(name)
        self.qtbot.mousePress(self.widget.view, Qt.MouseButton.LeftButton, pos=start)
        return start

    def drag(self, name: str, dx: int, dy: int) -> None:
        start = self.press(name)
        end = start + QPoint(dx, dy)
        self.qtbot.mouseMove(self.widget.view, start + QPoint(dx // 2, dy // 2))
        self.qtbot.mouseMove(self.widget.view, end)
        self.qtbot.mouseRelease(self.widget.view, Qt.MouseButton.LeftButton, pos=end)


@pytest.fixture
def shed(qtbot: QtBot) -> Strip:
    return Strip(qtbot, shed_job())


def slope_of(document: Document) -> float:
    return document.plan.roof.planes[0].in_12


def test_dragging_the_landing_raises_the_slope_live_and_is_one_undo_step(shed: Strip) -> None:
    before = slope_of(shed.document)
    inches = 20.0 / shed.widget.view.mapping.factor
    start = shed.press("landing")
    shed.qtbot.mouseMove(shed.widget.view, start + QPoint(0, -20))
    assert slope_of(shed.document) > before
    assert shed.document.stack.count() == 0
    shed.qtbot.mouseRelease(shed.widget.view, Qt.MouseButton.LeftButton, pos=start + QPoint(0, -20))
    assert shed.document.stack.count() == 1
    assert shed.document.stack.undoText() == "Change landing height"
    landing = shed.document.job.wings[0].landing
    assert landing is not None
    assert landing.landing_in == pytest.approx(186.0 + inches, abs=1 / 16)
    shed.document.stack.undo()
    assert slope_of(shed.document) == pytest.approx(before)


def test_esc_puts_a_dragged_handle_back(shed: Strip) -> None:
    before = shed.document.job
    start = shed.press("low_plate")
    shed.qtbot.mouseMove(shed.widget.view, start + QPoint(0, 15))
    assert shed.document.plan.job != before
    shed.qtbot.keyClick(shed.widget, Qt.Key.Key_Escape)
    assert shed.document.plan.job == before
    shed.qtbot.mouseRelease(shed.widget.view, Qt.MouseButton.LeftButton, pos=start)
    assert shed.document.stack.count() == 0


def test_what_is_to_find_can_not_be_dragged(shed: Strip) -> None:
    shed.drag("slope", 0, -30)
    assert shed.document.stack.count() == 0


def test_the_rafter_turns_when_the_slope_is_given(qtbot: QtBot) -> None:
    strip = Strip(qtbot, gable_job())
    strip.drag("slope", 0, -25)
    assert slope_of(strip.document) > 7.5
    assert strip.document.stack.undoText() == "Change slope"


def test_the_rafter_itself_can_be_taken_when_the_slope_is_given(qtbot: QtBot) -> None:
    strip = Strip(qtbot, gable_job())
    on = strip.pixel("slope") + QPoint(22, -9)
    qtbot.mousePress(strip.widget.view, Qt.MouseButton.LeftButton, pos=on)
    qtbot.mouseMove(strip.widget.view, on + QPoint(0, -20))
    qtbot.mouseRelease(strip.widget.view, Qt.MouseButton.LeftButton, pos=on + QPoint(0, -20))
    assert slope_of(strip.document) > 7.2


def test_the_rafter_can_not_be_taken_when_the_slope_is_to_find(shed: Strip) -> None:
    on = shed.pixel("slope") + QPoint(20, -8)
    shed.qtbot.mousePress(shed.widget.view, Qt.MouseButton.LeftButton, pos=on)
    shed.qtbot.mouseMove(shed.widget.view, on + QPoint(0, -20))
    assert not shed.widget.view.held


def test_what_can_not_be_read_is_said_under_the_number(shed: Strip) -> None:
    box = shed.widget.boxes["landing"]
    height = box.height()
    box.field.edit.selectAll()
    shed.qtbot.keyClicks(box.field.edit, "tall")
    shed.qtbot.keyClick(box.field.edit, Qt.Key.Key_Return)
    shed.qtbot.waitUntil(lambda: box.height() > height)
    assert box.field.error
    shed.qtbot.keyClick(box.field.edit, Qt.Key.Key_Escape)
    shed.qtbot.waitUntil(lambda: box.height() == height)


def test_dragging_the_run_moves_the_drawn_wall(shed: Strip) -> None:
    before = shed.document.job.wings[0].outline[2][1]
    inches = 24.0 / shed.widget.view.mapping.factor
    shed.drag("run", 24, 0)
    assert shed.document.job.wings[0].outline[2][1] == pytest.approx(before + inches, abs=1 / 16)


def test_the_scale_does_not_change_under_the_hand(shed: Strip) -> None:
    start = shed.press("landing")
    factor = shed.widget.view.mapping.factor
    shed.qtbot.mouseMove(shed.widget.view, start + QPoint(0, -40))
    assert shed.widget.view.mapping.factor == factor
    shed.qtbot.mouseRelease(shed.widget.view, Qt.MouseButton.LeftButton, pos=start + QPoint(0, -40))
    assert shed.widget.view.mapping.factor < factor


def test_typing_a_number_is_one_step_and_shows_in_the_plan(shed: Strip) -> None:
    edit = shed.widget.boxes["low_plate"].field.edit
    edit.setFocus()
    edit.selectAll()
    shed.qtbot.keyClicks(edit, "8' 4\"")
    shed.qtbot.keyClick(edit, Qt.Key.Key_Return)
    assert shed.document.job.wings[0].plate_in == 100.0
    assert shed.document.stack.undoText() == "Change low plate"


def test_a_bad_number_says_why_beside_itself(shed: Strip) -> None:
    box = shed.widget.boxes["tail"]
    box.field.edit.selectAll()
    shed.qtbot.keyClicks(box.field.edit, "-5")
    shed.qtbot.keyClick(box.field.edit, Qt.Key.Key_Return)
    assert "less than 0" in box.field.error
    assert shed.document.stack.count() == 0


def test_arrows_nudge_by_a_sixteenth_and_with_shift_by_an_inch(shed: Strip) -> None:
    edit = shed.widget.boxes["low_plate"].field.edit
    shed.qtbot.keyClick(edit, Qt.Key.Key_Up)
    assert shed.document.job.wings[0].plate_in == pytest.approx(97.1875)
    shed.qtbot.keyClick(edit, Qt.Key.Key_Down, Qt.KeyboardModifier.ShiftModifier)
    assert shed.document.job.wings[0].plate_in == pytest.approx(97.0)


def test_clicking_a_mark_makes_that_one_the_unknown(shed: Strip) -> None:
    before = slope_of(shed.document)
    shed.widget.boxes["run"].mark_button.click()
    landing = shed.document.job.wings[0].landing
    assert landing is not None
    assert landing.find == "run"
    assert slope_of(shed.document) == pytest.approx(before)
    assert shed.widget.boxes["run"].mark_button.text() == "to find"
    assert shed.widget.boxes["run"].field.edit.isReadOnly()
    assert shed.widget.boxes["slope"].mark_button.text() == "given"


def test_giving_the_ridge_height_of_a_plain_gable(qtbot: QtBot) -> None:
    strip = Strip(qtbot, gable_job())
    strip.widget.boxes["landing"].mark_button.click()
    landing = strip.document.job.wings[0].landing
    assert landing is not None
    assert landing.find == "slope"
    strip.document.stack.undo()
    assert strip.document.job.wings[0].landing is None


def test_no_solution_is_said_in_words_and_the_numbers_stay(shed: Strip) -> None:
    shed.document.apply(edits.set_landing(shed.document.job, "wing-1", landing_in=40.0), "Lower the landing")
    assert "No rising rafter lands" in shed.widget.hint
    assert shed.widget.boxes["landing"].field.value == 40.0


def test_an_empty_job_says_how_to_begin(qtbot: QtBot) -> None:
    strip = Strip(qtbot, Job())
    assert strip.widget.hint.startswith("Draw a roof")
    assert not strip.widget.boxes


def test_every_number_can_be_reached_by_tab_in_the_order_of_the_section(shed: Strip) -> None:
    reached = []
    at = shed.widget.boxes["slope"].field.edit.nextInFocusChain()
    start = at
    while True:
        reached += [name for name, box in shed.widget.boxes.items() if box.field.edit is at]
        at = at.nextInFocusChain()
        if at is start:
            break
    first = reached.index("tail")
    expected = ["tail", "hap_low", "seat", "low_plate", "run", "landing", "hap_high", "slope"]
    assert reached[first:] + reached[:first] == expected


def test_numbers_do_not_lie_over_one_another(shed: Strip) -> None:
    rects = [box.geometry() for box in shed.widget.boxes.values()]
    for i, a in enumerate(rects):
        assert shed.widget.view.rect().contains(a)
        assert not any(a.intersects(b) for b in rects[i + 1 :])


def test_dark_colours_are_taken_at_once(shed: Strip) -> None:
    theme.current().choose("dark")
    image = shed.widget.grab().toImage()
    assert image.pixelColor(4, image.height() // 2).lightness() < 80
