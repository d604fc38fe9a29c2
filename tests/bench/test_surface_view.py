"""The drawing surface with real events: zoom, pan, pick, drag, typed numbers, keys, and what is painted."""

from __future__ import annotations

import math
from dataclasses import replace

import numpy as np
import pytest
from PySide6.QtCore import QPoint, QPointF, QRectF, Qt
from PySide6.QtGui import QImage, QWheelEvent
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication

from workbench.bench import theme
from workbench.bench.document import Document
from workbench.bench.selection import Selection
from workbench.bench.surface.stage_drawing import stage_drawing
from workbench.bench.surface.view import Surface
from workbench.drawing.primitives import Line
from workbench.job.edits import add_wing, set_job, set_wing
from workbench.job.model import Job, Units
from workbench.roof.model import Roof

GABLE = ((0.0, 0.0), (480.0, 0.0), (480.0, 336.0), (0.0, 336.0))
NONE, LEFT, MIDDLE = Qt.KeyboardModifier.NoModifier, Qt.MouseButton.LeftButton, Qt.MouseButton.MiddleButton


def gable():
    job, _ = add_wing(
        Job(), GABLE, ["eave", "rake", "eave", "rake"], name="main", eave_overhang_in=16.0, rake_overhang_in=12.0
    )
    return job


class Bench:
    """A document, its selection and a surface, with pointer and keys in plan inches."""

    def __init__(self, qtbot, job=None):
        self.document = Document()
        self.selection = Selection()
        self.surface = Surface(self.document, self.selection)
        qtbot.addWidget(self.surface)
        self.surface.resize(1000, 700)
        self.surface.show()
        if job is not None:
            self.document.new(job)
        self.surface.fit()
        self.surface.setFocus()

    def px(self, x, y):
        return self.surface.to_px((x, y)).toPoint()

    def move(self, x, y):
        QTest.mouseMove(self.surface.viewport(), self.px(x, y))

    def click(self, x, y):
        self.move(x, y)
        QTest.mouseClick(self.surface.viewport(), LEFT, NONE, self.px(x, y))

    def press(self, x, y):
        QTest.mousePress(self.surface.viewport(), LEFT, NONE, self.px(x, y))

    def release(self, x, y):
        QTest.mouseRelease(self.surface.viewport(), LEFT, NONE, self.px(x, y))

    def drag(self, start, end):
        self.press(*start)
        for step in (0.3, 0.7, 1.0):
            self.move(start[0] + step * (end[0] - start[0]), start[1] + step * (end[1] - start[1]))
        self.release(*end)

    def type(self, text):
        for character in text:
            if character == "\t":
                QTest.keyClick(QApplication.focusWidget(), Qt.Key.Key_Tab)
            elif character == "\n":
                QTest.keyClick(QApplication.focusWidget(), Qt.Key.Key_Return)
            else:
                QTest.keyClicks(QApplication.focusWidget(), character)

    def key(self, key):
        QTest.keyClick(self.surface, key)

    def wheel(self, x, y, clicks):
        at = QPointF(self.px(x, y))
        event = QWheelEvent(
            at,
            QPointF(self.surface.mapToGlobal(at.toPoint())),
            QPoint(),
            QPoint(0, 120 * clicks),
            Qt.MouseButton.NoButton,
            NONE,
            Qt.ScrollPhase.NoScrollPhase,
            False,
        )
        QApplication.sendEvent(self.surface.viewport(), event)

    def image(self):
        return self.surface.grab().toImage().convertToFormat(QImage.Format.Format_RGB32)


@pytest.fixture
def empty(qtbot):
    return Bench(qtbot)


@pytest.fixture
def drawn(qtbot):
    return Bench(qtbot, gable())


def ink_share(image, colour, tolerance=40):
    """Share of pixels near a colour."""
    pixels = np.frombuffer(image.constBits(), np.uint8).reshape(image.height(), image.width(), 4)[:, :, :3].astype(int)
    far = np.abs(pixels - (colour.blue(), colour.green(), colour.red())).sum(axis=2)
    return float((far < tolerance).mean())


class TestCamera:
    def test_the_wheel_keeps_the_place_under_the_pointer(self, drawn):
        before = drawn.surface.to_plan(QPointF(drawn.px(400.0, 100.0)))
        at = drawn.px(400.0, 100.0)
        scale = drawn.surface.px_per_in
        drawn.wheel(400.0, 100.0, 3)
        after = drawn.surface.to_plan(QPointF(at))
        assert drawn.surface.px_per_in > 1.5 * scale
        # Each of the three steps scrolls by whole pixels.
        assert math.dist(before, after) * drawn.surface.px_per_in < 3 * math.hypot(0.5, 0.5)

    def test_many_zooms_there_and_back_do_not_drift(self, drawn):
        at = drawn.px(400.0, 100.0)
        before = drawn.surface.to_plan(QPointF(at))
        for _ in range(40):
            drawn.surface.zoom(1.2, QPointF(at))
        for _ in range(40):
            drawn.surface.zoom(1.0 / 1.2, QPointF(at))
        assert math.dist(before, drawn.surface.to_plan(QPointF(at))) < 2.0 / drawn.surface.px_per_in

    def test_middle_drag_pans(self, drawn):
        before = drawn.surface.to_px((0.0, 0.0))
        view = drawn.surface.viewport()
        QTest.mousePress(view, MIDDLE, NONE, QPoint(300, 300))
        QTest.mouseMove(view, QPoint(340, 280))
        QTest.mouseRelease(view, MIDDLE, NONE, QPoint(340, 280))
        moved = drawn.surface.to_px((0.0, 0.0)) - before
        assert (round(moved.x()), round(moved.y())) == (40, -20)
        assert drawn.selection.key == ""

    def test_space_drag_pans_and_selects_nothing(self, drawn):
        before = drawn.surface.to_px((0.0, 0.0))
        view = drawn.surface.viewport()
        QTest.keyPress(drawn.surface, Qt.Key.Key_Space)
        QTest.mousePress(view, LEFT, NONE, QPoint(500, 350))
        QTest.mouseMove(view, QPoint(530, 350))
        QTest.mouseRelease(view, LEFT, NONE, QPoint(530, 350))
        QTest.keyRelease(drawn.surface, Qt.Key.Key_Space)
        assert round(drawn.surface.to_px((0.0, 0.0)).x() - before.x()) == 30
        assert drawn.selection.key == ""
        drawn.click(200.0, 60.0)
        assert drawn.selection.key.startswith("plane:")

    @pytest.mark.parametrize("key", [Qt.Key.Key_Home, Qt.Key.Key_0])
    def test_home_and_ctrl_0_fit(self, drawn, key):
        drawn.surface.zoom(20.0)
        QTest.keyClick(drawn.surface, key, Qt.KeyboardModifier.ControlModifier if key == Qt.Key.Key_0 else NONE)
        seen = drawn.surface.visible()
        assert seen.contains(QRectF(-12.0, -16.0, 504.0, 368.0))

    def test_plus_and_minus(self, drawn):
        scale = drawn.surface.px_per_in
        drawn.key(Qt.Key.Key_Plus)
        assert drawn.surface.px_per_in > scale
        drawn.key(Qt.Key.Key_Minus)
        assert drawn.surface.px_per_in == pytest.approx(scale)

    def test_y_runs_up(self, drawn):
        assert drawn.surface.to_px((0.0, 100.0)).y() < drawn.surface.to_px((0.0, 0.0)).y()

    def test_an_opened_job_is_fitted(self, drawn):
        far, _ = add_wing(Job(), [(x + 5000.0, y) for x, y in GABLE], ["eave", "rake", "eave", "rake"])
        drawn.document.new(far)
        assert drawn.surface.visible().contains(QPointF(5240.0, 168.0))


class TestPicking:
    def test_plane_edge_and_nothing(self, drawn):
        drawn.click(240.0, 60.0)
        assert drawn.selection.key == "plane:wing-1/e1"
        drawn.click(240.0, 300.0)
        assert drawn.selection.key == "plane:wing-1/e3"
        drawn.click(240.0, -16.0)
        assert drawn.selection.key == "edge:wing-1/e1"
        drawn.click(-60.0, -80.0)
        assert drawn.selection.key == ""

    def test_a_corner_once_its_wing_is_selected(self, drawn):
        drawn.click(480.0, 336.0)
        assert drawn.selection.key.startswith("plane:")
        drawn.click(480.0, 336.0)
        assert drawn.selection.key == "corner:wing-1/2"

    def test_selection_is_told_in_words(self, drawn, qtbot):
        with qtbot.waitSignal(drawn.surface.hint) as told:
            drawn.click(240.0, -16.0)
        assert told.args == ["Front of main: eave, 40' 0\""] or told.args == ["Front of main: eave, 40'"]
        assert "eave" in drawn.surface.accessibleDescription()

    def test_what_is_selected_elsewhere_comes_into_view(self, drawn):
        drawn.surface.zoom(30.0)
        drawn.selection.select("plane:wing-1/e3")
        assert drawn.surface.visible().contains(QPointF(240.0, 250.0))


class TestDragging:
    def test_an_edge_with_one_undo_step(self, drawn):
        drawn.drag((200.0, -16.0), (200.0, -64.0))
        assert drawn.document.stack.count() == 1
        assert drawn.document.stack.undoText() == "Move edge"
        assert drawn.document.job.wings[0].outline[0] == (0.0, -48.0)
        drawn.document.stack.undo()
        assert drawn.document.job.wings[0].outline == GABLE

    def test_a_corner_is_live_and_esc_puts_it_back(self, drawn):
        drawn.selection.select("wing:wing-1")
        drawn.press(480.0, 336.0)
        drawn.move(500.0, 360.0)
        drawn.move(540.0, 400.0)
        assert drawn.document.plan.job.wings[0].outline[2] != (480.0, 336.0)
        assert drawn.document.job.wings[0].outline[2] == (480.0, 336.0)
        drawn.key(Qt.Key.Key_Escape)
        assert drawn.document.plan.job.wings[0].outline[2] == (480.0, 336.0)
        drawn.release(540.0, 400.0)
        assert drawn.document.stack.count() == 0

    def test_keys_for_kinds_and_delete(self, drawn):
        drawn.click(490.0, 100.0)
        assert drawn.selection.key == "edge:wing-1/e2"
        drawn.key(Qt.Key.Key_E)
        assert drawn.document.job.wings[0].edges[1].kind == "eave"
        assert len(drawn.document.plan.roof.planes) == 3
        drawn.key(Qt.Key.Key_Delete)
        assert drawn.document.job.wings == ()
        drawn.document.stack.undo()
        assert len(drawn.document.plan.roof.planes) == 3

    def test_only_the_plan_stage_changes_what_is_drawn(self, drawn):
        drawn.surface.set_stage("frame")
        drawn.drag((200.0, -16.0), (200.0, -64.0))
        drawn.selection.select("plane:wing-1/e1")
        drawn.key(Qt.Key.Key_Delete)
        assert drawn.document.stack.count() == 0


class TestDrawing:
    def test_a_gable_by_typing_only(self, empty):
        empty.surface.start_tool("rectangle")
        empty.type("0\t0\n")
        empty.type("40'\t28'\n")
        assert empty.document.job.wings[0].outline == GABLE
        assert [plane.name for plane in empty.document.plan.roof.planes] == ["front main", "back main"]
        assert empty.surface.tool_name == "select"
        assert empty.selection.key == "wing:wing-1"

    def test_an_outline_with_the_mouse_for_the_way_and_keys_for_the_length(self, empty):
        empty.surface.start_tool("outline")
        empty.click(0.0, 0.0)
        empty.move(200.0, 3.0)
        empty.type("40'\n")
        empty.move(478.0, 100.0)
        empty.type("336\n")
        empty.move(200.0, 338.0)
        empty.type("480\n")
        empty.key(Qt.Key.Key_Return)
        assert empty.document.job.wings[0].outline == GABLE

    def test_the_box_shows_at_a_digit_and_tab_leads_to_the_angle(self, empty):
        empty.surface.start_tool("outline")
        empty.click(0.0, 0.0)
        empty.move(100.0, 50.0)
        assert not empty.surface.number_box.isVisible()
        empty.type("1")
        box = empty.surface.number_box
        assert box.isVisible()
        empty.type("0'\t30\n")
        assert not box.isVisible()
        x, y = empty.surface._tool.feedback().lines[0][1]
        assert (x, y) == pytest.approx((120.0 * math.cos(math.pi / 6.0), 60.0), abs=1.0 / 64.0)

    def test_what_cannot_be_read_is_said_in_the_box_and_can_be_mended(self, empty):
        empty.surface.start_tool("outline")
        empty.click(0.0, 0.0)
        empty.move(100.0, 0.0)
        empty.type("4x\n")
        box = empty.surface.number_box
        assert box.isVisible()
        assert "4x" in box.error
        QTest.keyClick(QApplication.focusWidget(), Qt.Key.Key_Escape)
        assert not box.isVisible()
        assert empty.surface.tool_name == "outline"
        empty.key(Qt.Key.Key_Escape)
        assert empty.surface.tool_name == "select"

    def test_a_single_plane_asks_for_its_landing(self, empty):
        empty.surface.start_tool("plane")
        empty.click(0.0, 0.0)
        empty.move(200.0, 0.0)
        empty.type("20'\n")
        empty.move(100.0, 50.0)
        empty.type("10'\n")
        assert empty.surface.number_box.isVisible()
        empty.type("15'\n")
        wing = empty.document.job.wings[0]
        assert wing.outline == ((0.0, 0.0), (240.0, 0.0), (240.0, 120.0), (0.0, 120.0))
        assert wing.landing.landing_in == 180.0
        assert len(empty.document.plan.roof.planes) == 1

    def test_typed_corners_outside_come_into_view(self, empty):
        empty.surface.start_tool("outline")
        empty.type("0\t0\n")
        empty.type("300'\t0\n")
        assert empty.surface.visible().contains(QPointF(3600.0, 0.0))

    def test_a_refused_outline_is_told(self, empty, qtbot):
        empty.surface.start_tool("outline")
        empty.click(0.0, 0.0)
        with qtbot.waitSignal(empty.document.refused) as told:
            empty.key(Qt.Key.Key_Return)
        assert "three corners" in told.args[0]

    def test_in_millimetres_a_bare_number_is_millimetres(self, empty):
        empty.document.new(set_job(Job(), units=Units(system="mm")))
        empty.surface.start_tool("rectangle")
        empty.type("0\t0\n")
        empty.type("12000\t8000\n")
        outline = empty.document.job.wings[0].outline
        assert outline[2] == pytest.approx((12000.0 / 25.4, 8000.0 / 25.4), abs=1.0 / 64.0)

    def test_opening_another_job_ends_drawing(self, empty):
        empty.surface.start_tool("outline")
        empty.click(0.0, 0.0)
        empty.document.new(gable())
        assert empty.surface.tool_name == "select"


class TestPainting:
    def test_unchanged_items_are_kept_when_the_slope_changes(self, drawn):
        items = dict(drawn.surface._items._items)
        drawn.document.preview(set_wing(drawn.document.job, "wing-1", slope_in_12=9.0))
        after = drawn.surface._items._items
        kept = [ident for ident in items if after.get(ident) is items[ident]]
        assert len(kept) == len(items)

    def test_a_removed_wing_leaves_nothing(self, drawn):
        drawn.document.new(Job())
        assert drawn.surface.scene().items() == []

    def test_the_empty_surface_says_how_to_begin(self, empty):
        assert ink_share(empty.image(), theme.current().quiet) > 0.0005

    @pytest.mark.parametrize("scheme", ["light", "dark"])
    @pytest.mark.parametrize("stage", ["plan", "slope", "frame", "sheets", "safety", "quantities"])
    def test_every_stage_paints_on_its_ground(self, drawn, stage, scheme):
        theme.current().choose(scheme)
        drawn.surface.set_stage(stage)
        image = drawn.image()
        assert (
            image.pixelColor(3, 3).lightness() > 230 if scheme == "light" else image.pixelColor(3, 3).lightness() < 60
        )
        assert ink_share(image, theme.current().ink, 150) > 0.0005

    def test_selection_shows_in_the_accent(self, drawn):
        plain = ink_share(drawn.image(), theme.current().accent)
        drawn.selection.select("edge:wing-1/e1")
        assert ink_share(drawn.image(), theme.current().accent) > plain + 0.001

    def test_a_wing_that_cannot_be_solved_is_still_drawn(self, drawn):
        unsolved = replace(drawn.document.plan, wings=(), roof=Roof())
        lines = [item for item in stage_drawing(unsolved, "plan").items if isinstance(item, Line)]
        assert [(line.key, line.role) for line in lines] == [
            ("edge:wing-1/e1", "eave"),
            ("edge:wing-1/e2", "rake"),
            ("edge:wing-1/e3", "eave"),
            ("edge:wing-1/e4", "rake"),
        ]
