"""Exposed eaves and rakes in the window: every field, and what they come to."""

from __future__ import annotations

import pytest

from workbench.job.exposed import ExposedEdges
from workbench.job.samples import sample_jobs


@pytest.fixture
def panel(make_window):
    window = make_window()
    window.files.open_sample(next(sample.path for sample in sample_jobs() if sample.name == "plain-gable"))
    window.show_stage("sheets")
    return window.pages["sheets"]


def test_every_field_changes_the_job_and_what_it_comes_to_is_said(panel):
    form, document = panel.exposed, panel.document
    before = document.plan.sheathing.count
    assert form.said.text() == ""
    assert not form.form.isRowVisible(form.thickness)
    for field, value in ((form.eaves, 24.0), (form.rakes, 22.5), (form.thickness, 0.5), (form.board, 6.0)):
        field.committed.emit(value)
    assert document.job.sheathing.exposed == ExposedEdges(eaves_in=24.0, rakes_in=22.5, thickness_in=0.5, board_in=6.0)
    form.show_plan(document.plan)
    assert document.plan.sheathing.count < before
    assert " ft. " in form.said.text()
    assert form.form.isRowVisible(form.board)


def test_finish_panels_have_sheets_of_their_own_and_no_boards(panel):
    form, document = panel.exposed, panel.document
    form.eaves.committed.emit(24.0)
    form.finish.committed.emit("panel")
    form.show_plan(document.plan)
    assert document.plan.sheathing.exposed_stock
    assert " sheets. " in form.said.text()
    assert not form.form.isRowVisible(form.board)
    document.stack.undo()
    document.stack.undo()
    assert document.job.sheathing.exposed == ExposedEdges()


def test_a_measure_that_cannot_be_is_refused_at_its_field(panel):
    form, document = panel.exposed, panel.document
    form.thickness.committed.emit(0.0)
    assert document.job.sheathing.exposed == ExposedEdges()
