"""The plan page: tools as buttons, the list of wings, fields of wing, edge and corner."""

from __future__ import annotations

import pytest
from PySide6.QtCore import QPoint, Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QHBoxLayout, QWidget

from workbench.bench.document import Document
from workbench.bench.selection import Selection
from workbench.bench.stages.plan import PlanPanel
from workbench.bench.surface.tools import VERBS
from workbench.bench.surface.view import Surface
from workbench.job.edits import add_wing, set_landing
from workbench.job.model import Job

GABLE = ((0.0, 0.0), (480.0, 0.0), (480.0, 336.0), (0.0, 336.0))
PORCH = ((120.0, -96.0), (300.0, -96.0), (300.0, 0.0), (120.0, 0.0))


@pytest.fixture
def bench(qtbot):
    return Bench(qtbot)


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
        job, self.main = add_wing(Job(), GABLE, ["eave", "rake", "eave", "rake"], name="main")
        job, self.porch = add_wing(job, PORCH, ["eave", "rake", "wall", "rake"], name="porch")
        self.document.new(job)
        self.window.resize(1200, 900)
        self.window.show()

    @property
    def wing(self):
        return self.document.job.wing(self.main)

    def enter(self, field, text):
        field.edit.setFocus()
        field.edit.selectAll()
        QTest.keyClick(field.edit, Qt.Key.Key_Delete)
        QTest.keyClicks(field.edit, text)
        QTest.keyClick(field.edit, Qt.Key.Key_Return)


class TestTools:
    def test_every_tool_has_a_button_with_words(self, bench):
        assert [button.text() for button in bench.panel.buttons] == [verb.words for verb in VERBS]

    @pytest.mark.parametrize("number", range(1, len(VERBS)))
    def test_a_button_starts_its_tool_and_escape_gives_it_up(self, bench, number):
        QTest.mouseClick(bench.panel.buttons[number], Qt.MouseButton.LeftButton)
        assert bench.surface.tool_name == VERBS[number].name
        assert bench.panel.buttons[number].isChecked()
        QTest.keyClick(bench.surface, Qt.Key.Key_Escape)
        assert bench.surface.tool_name == "select"
        assert bench.panel.buttons[0].isChecked()

    def test_the_grid_can_be_told_not_to_catch(self, bench):
        assert bench.surface.grid_catches
        QTest.mouseClick(bench.panel.grid, Qt.MouseButton.LeftButton, pos=QPoint(10, bench.panel.grid.height() // 2))
        assert not bench.surface.grid_catches


class TestWings:
    def test_listed_with_planes_and_slopes(self, bench):
        rows = [bench.panel.wings.item(i).text() for i in range(bench.panel.wings.count())]
        assert rows == ["main: 2 planes, 7 in 12", "porch: 1 plane, 7 in 12"]

    def test_choosing_selects(self, bench):
        bench.panel.wings.setCurrentRow(1)
        assert bench.selection.key == f"wing:{bench.porch}"
        assert bench.panel.wing_form.name.value == "porch"

    def test_the_list_follows_the_selection(self, bench):
        bench.selection.select(f"plane:{bench.porch}/e1")
        assert bench.panel.wings.currentRow() == 1

    def test_remove(self, bench):
        bench.selection.select(f"wing:{bench.porch}")
        bench.panel.remove.click()
        assert [wing.name for wing in bench.document.job.wings] == ["main"]
        bench.document.stack.undo()
        assert bench.panel.wings.count() == 2

    def test_an_empty_job_offers_tools_only(self, bench):
        bench.document.new(Job())
        assert not bench.panel.wing_form.isVisible()
        assert bench.panel.none.isVisible()


class TestWingFields:
    @pytest.mark.parametrize(
        ("field", "text", "name", "value"),
        [
            ("slope", "9", "slope_in_12", 9.0),
            ("slope", "6 5/8 in 12", "slope_in_12", 6.625),
            ("plate", "9' 1 1/8\"", "plate_in", 109.125),
            ("eaves", "16", "eave_overhang_in", 16.0),
            ("rakes", "1'", "rake_overhang_in", 12.0),
        ],
    )
    def test_typed_values_are_one_undo_step_each(self, bench, field, text, name, value):
        bench.enter(getattr(bench.panel.wing_form, field), text)
        assert getattr(bench.wing, name) == value
        assert bench.document.stack.count() == 1
        bench.document.stack.undo()
        assert bench.panel.wing_form.slope.edit.text() == "7 in 12"

    def test_name(self, bench):
        bench.enter(bench.panel.wing_form.name, "long house")
        assert bench.wing.name == "long house"
        assert bench.panel.wing_heading.text() == "Wing: long house"

    def test_what_cannot_be_read_is_said_at_the_field(self, bench):
        plate = bench.panel.wing_form.plate
        bench.enter(plate, "nine feet")
        assert "nine feet" in plate.error
        assert bench.document.stack.count() == 0

    def test_what_cannot_be_used_is_said_at_the_field_and_esc_gives_the_old_value_back(self, bench):
        slope = bench.panel.wing_form.slope
        bench.enter(slope, "89.9deg")
        assert slope.error
        assert bench.document.stack.count() == 0
        assert slope.edit.text() != "7 in 12"
        QTest.keyClick(slope.edit, Qt.Key.Key_Escape)
        assert slope.edit.text() == "7 in 12"
        assert not slope.error

    def test_a_solved_slope_can_be_seen_only(self, bench):
        job = set_landing(bench.document.job, bench.porch, landing_in=150.0)
        bench.document.apply(job, "Land")
        bench.selection.select(f"wing:{bench.porch}")
        form = bench.panel.wing_form
        plane = bench.document.plan.plane(f"{bench.porch}/e1")
        assert form.slope.edit.isReadOnly()
        assert form.slope.value == pytest.approx(plane.tangent)
        assert "solved from its landing" in form.found.text()

    def test_an_impossible_landing_is_not_called_solved(self, bench):
        job = set_landing(bench.document.job, bench.porch, landing_in=-1000.0)
        bench.document.apply(job, "Land")
        bench.selection.select(f"wing:{bench.porch}")
        assert "no solution" in bench.panel.wing_form.found.text()


class TestEdgeFields:
    def test_edges_are_named_by_where_they_are(self, bench):
        combo = bench.panel.edge_form.side.combo
        words = [combo.itemText(i) for i in range(combo.count())]
        assert [word.split(",")[0] for word in words[1:]] == ["front", "right", "back", "left"]

    def test_choosing_an_edge_selects_it(self, bench):
        combo = bench.panel.edge_form.side.combo
        combo.setCurrentIndex(2)
        combo.activated.emit(2)
        assert bench.selection.key == f"edge:{bench.main}/e2"
        assert bench.panel.edge_form.kind.value == "rake"

    def test_kind_in_words(self, bench):
        bench.selection.select(f"edge:{bench.main}/e2")
        combo = bench.panel.edge_form.kind.combo
        assert [combo.itemText(i) for i in range(combo.count())] == ["Eave", "Rake", "Against a wall"]
        combo.setCurrentIndex(0)
        combo.activated.emit(0)
        assert bench.wing.edges[1].kind == "eave"

    def test_the_last_eave_is_refused_at_the_field(self, bench):
        bench.selection.select(f"edge:{bench.porch}/e1")
        kind = bench.panel.edge_form.kind
        kind.combo.setCurrentIndex(1)
        kind.combo.activated.emit(1)
        assert "eave" in kind.error
        assert kind.value == "eave"

    def test_an_own_slope_and_back_to_the_wings(self, bench):
        bench.selection.select(f"edge:{bench.main}/e1")
        slope = bench.panel.edge_form.slope
        assert slope.edit.placeholderText() == "as the wing"
        bench.enter(slope, "5/12")
        assert bench.wing.edges[0].slope_in_12 == pytest.approx(5.0)
        bench.enter(slope, "")
        assert bench.wing.edges[0].slope_in_12 is None
        assert slope.edit.text() == ""

    def test_an_own_overhang_of_a_rake_but_no_slope(self, bench):
        bench.selection.select(f"edge:{bench.main}/e2")
        form = bench.panel.edge_form
        assert not form.slope.isVisible()
        bench.enter(form.overhang, "8")
        assert bench.wing.edges[1].overhang_in == 8.0


class TestCornerFields:
    def test_shown_for_a_corner_only(self, bench):
        assert not bench.panel.corner_form.isVisible()
        bench.selection.select(f"corner:{bench.main}/2")
        assert bench.panel.corner_form.isVisible()
        bench.enter(bench.panel.corner_form.right, "42'")
        assert bench.wing.outline[2] == (504.0, 336.0)

    def test_a_crossing_outline_is_said_at_the_field(self, bench):
        bench.selection.select(f"corner:{bench.main}/2")
        up = bench.panel.corner_form.up
        bench.enter(up, "-100'")
        assert up.error
        assert bench.wing.outline == GABLE
