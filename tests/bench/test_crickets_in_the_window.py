"""A cricket in the window: set and changed on the plan page, its planes selected in every stage, printed."""

from __future__ import annotations

import pytest
from PySide6.QtCore import Qt
from PySide6.QtTest import QTest

from workbench.bench.stages.plan import PlanPanel
from workbench.handout.document import render_handout
from workbench.job import edits
from workbench.job.crickets import Cricket
from workbench.job.model import Job


@pytest.fixture
def window(make_window):
    window = make_window()
    job, _ = edits.add_wing(Job(), [(0, 0), (480, 0), (480, 336), (0, 336)], ["eave", "rake", "eave", "rake"])
    job, _ = edits.add_opening(job, "wing-1/e1", x_in=200.0, y_in=60.0, width_in=60.0, length_in=36.0, kind="chimney")
    window.files.new()
    window.document.new(job)
    window.show_stage("plan")
    return window


def choose(field, value):
    index = field._values.index(value)
    field.combo.setCurrentIndex(index)
    field.combo.activated.emit(index)


def test_set_change_and_take_away(window):
    window.selection.select("opening:chimney-1")
    form = window.findChild(PlanPanel).opening_form
    assert form.form.isRowVisible(form.cricket)
    assert not form.form.isRowVisible(form.cricket_slope)
    choose(form.cricket, True)
    assert window.document.job.openings[0].cricket == Cricket()
    assert window.document.plan.plane("chimney-1-cricket/left") is not None
    form.cricket_slope.edit.setFocus()
    QTest.keyClicks(form.cricket_slope.edit, "4/12")
    QTest.keyClick(form.cricket_slope.edit, Qt.Key.Key_Return)
    assert window.document.job.openings[0].cricket == Cricket(slope_in_12=4.0)
    choose(form.cricket, False)
    assert window.document.job.openings[0].cricket is None
    window.document.stack.undo()
    assert window.document.job.openings[0].cricket == Cricket(slope_in_12=4.0)
    choose(form.kind, "skylight")
    assert not form.form.isRowVisible(form.cricket)


def test_its_planes_are_no_trouble_in_any_stage(window):
    window.document.apply(edits.set_opening(window.document.job, "chimney-1", cricket=Cricket()), "Change opening")
    planes = [plane.id for plane in window.document.plan.roof.planes if "cricket" in plane.id]
    assert len(planes) == 2
    for stage in ("plan", "slope", "frame", "sheets", "safety", "quantities"):
        window.show_stage(stage)
        for plane in planes:
            window.selection.select(f"plane:{plane}")
            for edge in ("chimney", "left"):
                window.selection.select(f"edge:chimney-1-cricket/{edge}")
    assert render_handout(window.document.plan).startswith(b"%PDF")
