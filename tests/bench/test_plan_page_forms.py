"""The plan page's fields for what roofs can do beyond one slope: joining, second slopes, clips, openings, hips."""

from __future__ import annotations

import pytest
from PySide6.QtCore import Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QHBoxLayout, QWidget

from workbench.bench.document import Document
from workbench.bench.selection import Selection
from workbench.bench.stages.plan import PlanPanel
from workbench.bench.surface.view import Surface
from workbench.job.edits import add_opening, add_wing
from workbench.job.model import Job, Upper

MAIN = ((0.0, 0.0), (480.0, 0.0), (480.0, 336.0), (0.0, 336.0))
CROSS = ((300.0, -120.0), (456.0, -120.0), (456.0, 150.0), (300.0, 150.0))


class Bench:
    def __init__(self, qtbot):
        self.document, self.selection = Document(), Selection()
        self.window = QWidget()
        row = QHBoxLayout(self.window)
        self.surface = Surface(self.document, self.selection, self.window)
        self.panel = PlanPanel(self.document, self.selection, self.window)
        row.addWidget(self.surface, 1)
        row.addWidget(self.panel)
        qtbot.addWidget(self.window)
        job, self.main = add_wing(Job(), MAIN, ["eave", "rake", "eave", "rake"], name="main")
        job, self.cross = add_wing(job, CROSS, ["rake", "eave", "rake", "eave"], name="cross")
        job, self.hole = add_opening(job, f"{self.main}/e3", x_in=60.0, y_in=60.0, width_in=22.5, length_in=46.0)
        self.document.new(job)
        self.window.resize(1200, 900)
        self.window.show()

    @property
    def wing(self):
        return self.document.job.wing(self.main)

    @property
    def opening(self):
        return self.document.job.openings[0]

    def edge(self, number):
        self.selection.select(f"edge:{self.main}/e{number}")
        return self.panel.edge_form

    def enter(self, field, text):
        field.edit.setFocus()
        field.edit.selectAll()
        QTest.keyClick(field.edit, Qt.Key.Key_Delete)
        QTest.keyClicks(field.edit, text)
        QTest.keyClick(field.edit, Qt.Key.Key_Return)


def choose(field, value):
    index = field._values.index(value)
    field.combo.setCurrentIndex(index)
    field.combo.activated.emit(index)


@pytest.fixture
def bench(qtbot):
    return Bench(qtbot)


class TestJoining:
    def test_a_wing_over_another_can_be_laid_over_it(self, bench):
        bench.selection.select(f"wing:{bench.cross}")
        joins = bench.panel.wing_form.joins
        assert joins.isVisible()
        assert joins.value == "framed"
        choose(joins, "overframed")
        assert bench.document.job.wing(bench.cross).joins == "overframed"
        assert bench.document.stack.undoText() == "Change how the roofs meet"

    def test_not_asked_where_there_is_one_wing_only(self, bench):
        bench.document.new(add_wing(Job(), MAIN, ["eave", "rake", "eave", "rake"])[0])
        assert not bench.panel.wing_form.joins.isVisible()


class TestAllEaves:
    def test_one_click_makes_a_hip_roof_and_one_undo_takes_it_back(self, bench):
        bench.selection.select(f"wing:{bench.main}")
        bench.panel.all_eaves.click()
        assert {edge.kind for edge in bench.wing.edges} == {"eave"}
        assert bench.document.stack.count() == 1
        assert not bench.panel.all_eaves.isEnabled()
        assert {e.kind for p in bench.document.plan.roof.planes for e in p.edges} >= {"hip"}
        bench.document.stack.undo()
        assert [edge.kind for edge in bench.wing.edges] == ["eave", "rake", "eave", "rake"]


class TestSecondSlope:
    def test_a_second_slope_begins_half_way_up_and_half_as_steep(self, bench):
        form = bench.edge(1)
        assert not form.change_at.isVisible()
        choose(form.higher, "second")
        top = max(z for p in bench.document.plan.roof.planes for *_, z in p.corners)
        assert bench.wing.edges[0].upper == Upper(height_in=form.change_at.value, slope_in_12=3.5)
        assert 12.0 <= form.change_at.value <= top - 97.125
        assert form.change_at.isVisible()
        assert form.second.isVisible()
        bench.enter(form.change_at, "40")
        bench.enter(form.second, "4 1/2")
        assert bench.wing.edges[0].upper == Upper(height_in=40.0, slope_in_12=4.5)
        assert any(plane.upper for plane in bench.document.plan.roof.planes)

    def test_straight_up_has_no_slope(self, bench):
        form = bench.edge(1)
        choose(form.higher, "straight")
        assert bench.wing.edges[0].upper.slope_in_12 is None
        assert form.change_at.isVisible()
        assert not form.second.isVisible()
        choose(form.higher, "one")
        assert bench.wing.edges[0].upper is None
        assert not form.change_at.isVisible()

    def test_what_cannot_be_used_is_said_at_the_field(self, bench):
        form = bench.edge(1)
        choose(form.higher, "second")
        before = bench.wing.edges[0].upper
        bench.enter(form.change_at, "-5")
        assert form.change_at.error
        assert bench.wing.edges[0].upper == before


class TestClippedGable:
    def test_clipped_at_half_its_height_and_then_by_number(self, bench):
        form = bench.edge(2)
        assert not form.slope.isVisible()
        choose(form.gable, "clipped")
        assert bench.wing.edges[1].clip_height_in == form.clip_at.value
        assert form.slope.isVisible()
        bench.enter(form.clip_at, "5'")
        bench.enter(form.slope, "10")
        edge = bench.wing.edges[1]
        assert (edge.clip_height_in, edge.slope_in_12) == (60.0, 10.0)
        assert f"{bench.main}/e2" in [plane.id for plane in bench.document.plan.roof.planes]
        choose(form.gable, "whole")
        assert bench.wing.edges[1].clip_height_in is None

    def test_an_eave_has_no_gable_and_a_rake_no_second_slope(self, bench):
        form = bench.edge(1)
        assert form.higher.isVisible() and not form.gable.isVisible()
        form = bench.edge(2)
        assert form.gable.isVisible() and not form.higher.isVisible()


class TestOpenings:
    def test_listed_and_chosen_from_the_list(self, bench):
        assert bench.panel.openings.isVisible()
        assert bench.panel.openings.item(0).text() == "skylight: back main, 1' 10 1/2\" × 3' 10\""
        bench.panel.openings.setCurrentRow(0)
        assert bench.selection.key == f"opening:{bench.hole}"
        assert bench.panel.opening_form.isVisible()
        assert not bench.panel.wing_form.isVisible()
        assert bench.panel.opening_heading.text() == "Opening: skylight"

    @pytest.mark.parametrize(
        ("field", "text", "name", "value"),
        [
            ("left", "5' 6", "x_in", 66.0),
            ("up", "72", "y_in", 72.0),
            ("wide", "30 1/2", "width_in", 30.5),
            ("long", "4'", "length_in", 48.0),
        ],
    )
    def test_edited_as_numbers(self, bench, field, text, name, value):
        bench.selection.select(f"opening:{bench.hole}")
        bench.enter(getattr(bench.panel.opening_form, field), text)
        assert getattr(bench.opening, name) == value
        assert bench.document.stack.undoText() == "Change opening"

    def test_a_width_of_nothing_is_said_at_the_field(self, bench):
        bench.selection.select(f"opening:{bench.hole}")
        bench.enter(bench.panel.opening_form.wide, "0")
        assert bench.panel.opening_form.wide.error
        assert bench.opening.width_in == 22.5

    def test_made_a_chimney_and_closed(self, bench):
        bench.selection.select(f"opening:{bench.hole}")
        choose(bench.panel.opening_form.kind, "chimney")
        assert bench.opening.kind == "chimney"
        bench.panel.opening_form.remove.click()
        assert bench.document.job.openings == ()
        assert not bench.panel.openings.isVisible()

    def test_the_sentence_says_where_it_is_measured(self, bench):
        bench.selection.select(f"opening:{bench.hole}")
        assert bench.panel.opening_form.place.text().startswith("On back main, measured from")


class TestHips:
    def test_asked_only_where_there_are_hips_or_valleys(self, bench):
        bench.selection.select(f"wing:{bench.cross}")
        assert bench.panel.stock.hip_top.isVisible()
        bench.document.new(add_wing(Job(), MAIN, ["eave", "rake", "eave", "rake"])[0])
        assert not bench.panel.stock.hip_top.isVisible()

    def test_top_head_and_stock(self, bench):
        bench.selection.select(f"wing:{bench.cross}")
        stock = bench.panel.stock
        choose(stock.hip_top, "backed")
        choose(stock.hip_head, "ridge")
        bench.enter(stock.hip, "3")
        bench.enter(stock.hip_depth, "9 1/4")
        hips = bench.document.job.wing(bench.cross).hips
        assert (hips.top, hips.head, hips.thickness_in, hips.depth_in) == ("backed", "ridge", 3.0, 9.25)
        bench.enter(stock.hip_depth, "")
        assert bench.document.job.wing(bench.cross).hips.depth_in is None
