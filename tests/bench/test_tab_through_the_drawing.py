"""Everything on the drawing can be selected without a pointer: Tab goes through it, stage by stage."""

from __future__ import annotations

import pytest
from PySide6.QtCore import Qt
from PySide6.QtTest import QTest

from workbench.bench.surface.words import describe, keys_in_turn
from workbench.job import edits
from workbench.job.model import Job
from workbench.plan import solve

MAIN = [(0, 0), (480, 0), (480, 336), (0, 336)]


def house():
    job, _ = edits.add_wing(Job(), MAIN, ["eave", "rake"] * 2, name="main")
    return edits.add_opening(job, "wing-1/e3", x_in=60.0, y_in=60.0, width_in=22.5, length_in=46.0)[0]


@pytest.fixture
def surface(window):
    window.document.new(house())
    window.centre.setCurrentIndex(1)
    window.show_stage("plan")
    window.surface.setFocus()
    return window.surface


def test_every_key_has_its_words() -> None:
    plan = solve(house())
    for stage in ("plan", "slope", "frame", "sheets", "safety", "quantities"):
        keys = keys_in_turn(plan, stage)
        assert keys
        assert len(set(keys)) == len(keys)
        assert all(describe(plan, key) for key in keys)


def test_tab_and_back(window, surface) -> None:
    QTest.keyClick(surface, Qt.Key.Key_Tab)
    assert window.selection.key == "wing:wing-1"
    QTest.keyClick(surface, Qt.Key.Key_Tab)
    assert window.selection.key == "plane:wing-1/e1"
    QTest.keyClick(surface, Qt.Key.Key_Backtab, Qt.KeyboardModifier.ShiftModifier)
    assert window.selection.key == "wing:wing-1"


def test_past_the_last_object_the_focus_goes_on(window, surface) -> None:
    window.selection.select("opening:skylight-1")
    QTest.keyClick(surface, Qt.Key.Key_Tab)
    assert window.selection.key == "opening:skylight-1"
    assert not surface.hasFocus()


def test_an_edge_reached_by_keys_is_changed_by_keys(window, surface) -> None:
    window.selection.select("plane:wing-1/e3")
    QTest.keyClick(surface, Qt.Key.Key_Tab)
    assert window.selection.key == "edge:wing-1/e1"
    QTest.keyClick(surface, Qt.Key.Key_Tab)
    QTest.keyClick(surface, Qt.Key.Key_E)
    assert window.document.job.wing("wing-1").edges[1].kind == "eave"


def test_marks_in_the_frame_stage(window, surface) -> None:
    window.show_stage("frame")
    surface.setFocus()
    QTest.keyClick(surface, Qt.Key.Key_Tab)
    assert window.selection.key == "member:Common 1"
    assert window.pages["frame"].marks.key == "member:Common 1"


def test_one_key_leads_from_part_to_part(window, surface) -> None:
    parts = (window.strip, window.side, window.surface)
    for part in parts:
        window.menus.actions["next part"].trigger()
        focus = window.focusWidget()
        assert focus is part or part.isAncestorOf(focus)
