"""Undo and redo select what they changed; the Draw menu reaches every tool."""

from __future__ import annotations

import pytest
from PySide6.QtCore import Qt
from PySide6.QtTest import QTest

from workbench.bench.history import changed_key
from workbench.bench.surface.tools import VERBS
from workbench.job import edits
from workbench.job.model import Job

MAIN = ((0.0, 0.0), (480.0, 0.0), (480.0, 336.0), (0.0, 336.0))
CROSS = ((300.0, -120.0), (456.0, -120.0), (456.0, 150.0), (300.0, 150.0))


@pytest.fixture
def job():
    job, _ = edits.add_wing(Job(), MAIN, ["eave", "rake", "eave", "rake"], name="main")
    job, _ = edits.add_wing(job, CROSS, ["rake", "eave", "rake", "eave"], name="cross")
    return edits.add_opening(job, "wing-1/e3", x_in=60.0, y_in=60.0, width_in=22.5, length_in=46.0)[0]


class TestWhatDiffers:
    @pytest.mark.parametrize(
        ("change", "key"),
        [
            (lambda job: edits.set_wing(job, "wing-2", slope_in_12=9.0), "wing:wing-2"),
            (lambda job: edits.set_edge(job, "wing-1", "e2", overhang_in=9.0), "edge:wing-1/e2"),
            (lambda job: edits.move_corner(job, "wing-1", 2, (500.0, 340.0)), "corner:wing-1/2"),
            (lambda job: edits.move_edge(job, "wing-1", "e3", 12.0), "edge:wing-1/e3"),
            (lambda job: edits.move_edge(job, "wing-1", "e4", 12.0), "edge:wing-1/e4"),
            (lambda job: edits.set_opening(job, "skylight-1", x_in=80.0), "opening:skylight-1"),
            (lambda job: edits.remove_opening(job, "skylight-1"), ""),
            (lambda job: edits.remove_wing(job, "wing-2"), ""),
            (lambda job: edits.set_job(job, name="other"), None),
            (lambda job: edits.set_sheathing(job, gap_in=0.0), None),
        ],
    )
    def test_as_fine_as_it_can_be_said(self, job, change, key):
        assert changed_key(job, change(job)) == key

    def test_what_comes_back_is_named(self, job):
        assert changed_key(edits.remove_wing(job, "wing-2"), job) == "wing:wing-2"
        assert changed_key(edits.remove_opening(job, "skylight-1"), job) == "opening:skylight-1"


class TestInTheWindow:
    @pytest.fixture
    def window(self, make_window, job):
        window = make_window()
        window.document.new(job)
        window.centre.setCurrentIndex(1)
        return window

    def test_undo_selects_the_edge_it_put_back(self, window):
        document = window.document
        document.apply(edits.set_edge(document.job, "wing-1", "e2", overhang_in=9.0), "Change overhang")
        window.selection.select("plane:wing-2/e2")
        QTest.keyClick(window, Qt.Key.Key_Z, Qt.KeyboardModifier.ControlModifier)
        assert document.job.wing("wing-1").edges[1].overhang_in is None
        assert window.selection.key == "edge:wing-1/e2"

    def test_undoing_a_drawn_wing_leaves_nothing_selected(self, window):
        document = window.document
        new, wing_id = edits.add_wing(document.job, [(600, 0), (700, 0), (700, 90), (600, 90)], ["eave"] * 4)
        document.apply(new, "Draw wing 3")
        window.selection.select(f"wing:{wing_id}")
        window.menus.actions["undo"].trigger()
        assert window.selection.key == ""
        window.menus.actions["redo"].trigger()
        assert window.selection.key == f"wing:{wing_id}"

    def test_settings_leave_the_selection_alone(self, window):
        document = window.document
        document.apply(edits.set_sheathing(document.job, gap_in=0.0), "Change gap")
        window.selection.select("wing:wing-2")
        window.menus.actions["undo"].trigger()
        assert window.selection.key == "wing:wing-2"

    @pytest.mark.parametrize("verb", VERBS, ids=lambda verb: verb.name)
    def test_every_tool_is_in_the_draw_menu_with_a_letter_and_leads_to_the_plan(self, window, verb):
        window.show_stage("frame")
        action = window.menus.actions[f"tool {verb.name}"]
        assert "&" in action.text()
        assert action in window.menus.draw.actions()
        action.trigger()
        assert window.stage == "plan"
        assert window.surface.tool_name == verb.name

    def test_letters_of_the_draw_menu_differ(self, window):
        texts = [action.text() for action in window.menus.draw.actions() if action.text()]
        letters = [text[text.index("&") + 1].lower() for text in texts]
        assert len(set(letters)) == len(letters)

    def test_all_edges_eaves(self, window):
        window.selection.select("wing:wing-1")
        window.menus.actions["all eaves"].trigger()
        assert {edge.kind for edge in window.document.job.wing("wing-1").edges} == {"eave"}
        assert {edge.kind for edge in window.document.job.wing("wing-2").edges} == {"eave", "rake"}
