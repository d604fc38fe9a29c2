"""Planes drawn by outline and lines drawn on planes: by pointer, by keys and by numbers, each one undo step."""

from __future__ import annotations

import math

import pytest
from PySide6.QtCore import Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QHBoxLayout, QWidget

from workbench.bench.document import Document
from workbench.bench.selection import Selection
from workbench.bench.stages.plan import PlanPanel
from workbench.bench.surface.tools import make_tool
from workbench.bench.surface.tools.base import Pointer
from workbench.bench.surface.view import Surface
from workbench.errors import BadInput
from workbench.job.edits import add_wing, set_heel
from workbench.job.model import Job
from workbench.job.planes import Single
from workbench.job.planes_edits import add_single, add_split
from workbench.measure import Units
from workbench.plan import solve

GABLE = ((0.0, 0.0), (480.0, 0.0), (480.0, 336.0), (0.0, 336.0))


class Host:
    """What a tool sees; keeps what the tool did."""

    def __init__(self, job):
        self.job, self.shown, self.units = job, None, Units()
        self.scale, self.grid, self.selected, self.editable = 1.0, 12.0, "", True
        self.edits, self.refused, self.asked, self.finished = [], [], 0, 0

    @property
    def plan(self):
        return solve(self.shown or self.job)

    def preview(self, job):
        self.shown = job

    def cancel_preview(self):
        self.shown = None

    def apply(self, job, text):
        self.job, self.shown = job, None
        self.edits.append(text)

    def refuse(self, error):
        self.refused.append(str(error))

    def select(self, key):
        self.selected = key

    def say(self, hint):
        self.hint = hint

    def ask(self):
        self.asked += 1

    def finish(self):
        self.finished += 1


def gable():
    job, _ = add_wing(Job(), GABLE, ["eave", "rake", "eave", "rake"], name="main", slope_in_12=7.0)
    return set_heel(job, "wing-1", given="hap", hap_in=6.0)


def click(tool, x, y, target=""):
    pointer = Pointer((x, y), target)
    tool.move(pointer)
    tool.press(pointer)
    tool.release(pointer)


class TestPlaneByOutline:
    def test_by_clicks_then_numbers(self):
        host = Host(gable())
        tool = make_tool("drawn plane", host)
        for x, y in ((480, 0), (480, 336), (300, 336), (300, 0)):
            click(tool, x, y)
        click(tool, 480, 0)
        assert host.asked == 1
        assert tool.feedback().lines[-1][1] == (390.0, 168.0)  # up the slope, half way over
        assert [ask.name for ask in tool.asks()] == ["slope", "height", "meets"]
        tool.typed({"slope": 0.75, "height": 103.125, "meets": 0.0})
        wing = host.job.wings[1]
        assert wing.single == Single(uphill_deg=180.0, line=(480.0, 0.0), height_in=103.125)
        assert wing.slope_in_12 == 9.0
        assert [edge.kind for edge in wing.edges] == ["eave", "rake", "rake", "rake"]
        assert host.edits == ["Draw wing 2"]
        kinds = {edge.kind for edge in host.plan.roof.plane("wing-2/e1").edges}
        assert kinds == {"eave", "hip"}

    def test_the_height_offered_is_that_of_the_roof_below(self):
        host = Host(gable())
        tool = make_tool("drawn plane", host)
        for x, y in ((100, 60), (200, 60), (200, 120)):
            click(tool, x, y)
        tool.key("enter")
        assert tool.asks()[1].live == pytest.approx(103.125 + 60.0 * 7.0 / 12.0)

    def test_clockwise_rises_to_the_same_side(self):
        host = Host(Job())
        tool = make_tool("drawn plane", host)
        for x, y in ((480, 0), (0, 0), (0, 120), (480, 120)):
            click(tool, x, y)
        tool.key("enter")
        tool.typed({"slope": 0.5, "height": 100.0, "meets": 1.0})
        single = host.job.wings[0].single
        assert single.uphill_deg == pytest.approx(90.0)
        assert single.meets == "over"
        assert max(z for *_, z in host.plan.roof.planes[0].corners) == pytest.approx(160.0)

    def test_backspace_opens_the_outline_again(self):
        host = Host(Job())
        tool = make_tool("drawn plane", host)
        for x, y in ((0, 0), (240, 0), (240, 120)):
            click(tool, x, y)
        tool.key("enter")
        tool.key("backspace")
        assert [ask.name for ask in tool.asks()] == ["length", "angle"]
        tool.key("backspace")
        tool.key("enter")
        assert "three corners" in host.refused[0]


class TestLineOnPlane:
    def test_a_line_makes_two_planes_of_one(self):
        host = Host(gable())
        tool = make_tool("line", host)
        click(tool, 240, 0)
        click(tool, 240, 168)
        click(tool, 300, 80)
        assert host.asked == 1
        tool.typed({"slope": 7.0 / 12.0, "fold": tool.asks()[1].live})
        split = host.job.wings[0].splits[0]
        assert (split.edge, split.side, split.slope_in_12) == ("e1", "right", None)
        assert host.selected == "plane:wing-1/s1"
        assert host.edits == ["Split plane by a line"]
        assert len(host.plan.roof.planes) == 3

    def test_a_part_with_its_own_slope(self):
        host = Host(gable())
        tool = make_tool("line", host)
        tool.typed({"x": 0.0, "y": 60.0})
        tool.typed({"length": 480.0, "angle": 0.0})
        click(tool, 240, 30)
        assert tool.asks()[1].live == 1.0  # down from the line, as it goes now
        tool.typed({"slope": 4.0 / 12.0, "fold": 1.0, "way": 0.0})
        assert host.plan.roof.plane("wing-1/s1").in_12 == pytest.approx(4.0)

    def test_a_ridge_solves_the_slope_on_the_side_clicked(self):
        host = Host(gable())
        tool = make_tool("line", host)
        click(tool, 0, 120)
        click(tool, 480, 120)
        click(tool, 240, 200)
        assert tool.asks()[-1].name == "way"
        tool.typed({"slope": 1.0, "fold": 0.0, "way": 1.0})
        assert host.job.wings[0].edges[2].slope_in_12 == pytest.approx(12.0 * 70.0 / 216.0)
        assert host.selected == "edge:wing-1/e3"
        assert host.edits == ["Solve slope for line"]

    def test_an_end_is_dragged_with_a_preview_and_one_edit(self):
        job, _ = add_split(gable(), "wing-1", "e1", (240.0, 0.0), (240.0, 168.0))
        host = Host(job)
        tool = make_tool("line", host)
        assert (240.0, 168.0) in tool.feedback().handles
        tool.press(Pointer((241.0, 167.0)))
        tool.move(Pointer((301.0, 167.0)))
        assert host.shown.wings[0].splits[0].end[0] == pytest.approx(300.0, abs=2.0)
        tool.release(Pointer((301.0, 167.0)))
        assert host.edits == ["Move line"]
        assert host.selected == "plane:wing-1/s1"
        tool.key("delete")
        assert host.job.wings[0].splits == ()
        assert host.edits[-1] == "Remove line"

    def test_beside_the_roof_it_says_so(self):
        host = Host(gable())
        tool = make_tool("line", host)
        for x in (600, 700, 650):
            click(tool, x, 10)
        tool.typed({"slope": 0.5, "fold": 0.0})
        assert "no plane" in host.hint
        assert not host.edits

    def test_what_no_slope_can_do_is_said(self):
        host = Host(gable())
        tool = make_tool("line", host)
        click(tool, 240, 0)
        click(tool, 240, 168)
        click(tool, 300, 80)
        with pytest.raises(BadInput, match="over 0"):
            tool.typed({"slope": 0.0, "fold": 0.0})


def test_moving_a_wing_takes_its_level_line_and_its_lines_along():
    job, _ = add_split(gable(), "wing-1", "e1", (240.0, 0.0), (240.0, 168.0))
    single = Single(uphill_deg=90.0, line=(600.0, 0.0), height_in=100.0)
    job, _ = add_single(job, ((600, 0), (700, 0), (700, 90), (600, 90)), ["eave", "rake", "rake", "rake"], single)
    host = Host(job)
    before = [plane.area_sqft for plane in host.plan.roof.planes]
    for wing in ("wing-1", "wing-2"):
        host.selected = f"wing:{wing}"
        make_tool("move", host).typed({"right": 24.0, "up": 36.0})
    host.selected = "wing:wing-2"
    make_tool("repeat", host).typed({"right": 240.0, "up": 0.0})
    assert host.job.wings[0].splits[0].start == (264.0, 36.0)
    assert host.job.wings[2].single.line == (864.0, 36.0)
    assert [plane.area_sqft for plane in host.plan.roof.planes][: len(before)] == pytest.approx(before)


@pytest.fixture
def bench(qtbot):
    document, selection = Document(), Selection()
    window = QWidget()
    row = QHBoxLayout(window)
    window.surface = Surface(document, selection, window)
    window.panel = PlanPanel(document, selection, window)
    row.addWidget(window.surface, 1)
    row.addWidget(window.panel)
    window.document, window.selection = document, selection
    qtbot.addWidget(window)
    window.resize(1200, 900)
    window.show()
    return window


def enter(field, text):
    field.edit.setFocus()
    field.edit.selectAll()
    QTest.keyClick(field.edit, Qt.Key.Key_Delete)
    QTest.keyClicks(field.edit, text)
    QTest.keyClick(field.edit, Qt.Key.Key_Return)


def test_a_plane_drawn_by_hand_has_its_fields(bench):
    single = Single(uphill_deg=90.0, line=(0.0, 0.0), height_in=100.0)
    bench.document.new(add_single(Job(), GABLE, ["eave", "rake", "rake", "rake"], single)[0])
    form = bench.panel.single_form
    assert form.isVisible()
    assert not bench.panel.wing_form.plate.isVisible()
    enter(form.height, "9'")
    enter(form.way, "120")
    assert bench.document.job.wings[0].single == Single(uphill_deg=120.0, line=(0.0, 0.0), height_in=108.0)
    uphill = bench.document.plan.roof.planes[0].uphill
    assert math.degrees(math.atan2(uphill[1], uphill[0])) == pytest.approx(120.0)
    bench.document.stack.undo()
    bench.document.stack.undo()
    assert bench.document.job.wings[0].single == single


def test_the_line_of_the_selected_part_has_its_fields(bench):
    job, _ = add_split(gable(), "wing-1", "e1", (0.0, 60.0), (480.0, 60.0))
    bench.document.new(job)
    bench.selection.select("plane:wing-1/e1")
    assert not bench.panel.line_form.isVisible()
    bench.selection.select("plane:wing-1/s1")
    form = bench.panel.line_form
    assert form.isVisible()
    enter(form.slope, "3/12")
    assert bench.document.plan.roof.plane("wing-1/s1").in_12 == pytest.approx(3.0)
    enter(form.slope, "")
    assert bench.document.job.wings[0].splits[0].slope_in_12 is None
    enter(form.ends[1][0], "8'")
    assert bench.document.job.wings[0].splits[0].start == (0.0, 96.0)
    form.remove.click()
    assert bench.document.job.wings[0].splits == ()
    assert bench.document.stack.undoText() == "Remove line"
