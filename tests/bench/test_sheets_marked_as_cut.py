"""Sheets marked as cut on the Sheets page: one piece, its whole sheet, taken back, scrapped; undone like all else."""

from __future__ import annotations

import pytest

from workbench.drawing.primitives import Text
from workbench.drawing.sheet_plan import sheets_from_above
from workbench.job import edits
from workbench.job.samples import sample_jobs


@pytest.fixture
def window_on_sheets(make_window):
    window = make_window()
    window.files.open_sample(next(sample.path for sample in sample_jobs() if sample.name == "plain-gable"))
    window.show_stage("sheets")
    return window


def test_a_piece_and_its_sheet_are_marked_and_stay_when_the_job_changes(window_on_sheets) -> None:
    window, page = window_on_sheets, window_on_sheets.pages["sheets"]
    form, document = page.cut_form, window.document
    stock = next(sheet for sheet in document.plan.sheathing.stock if len(sheet.cuts) > 1)
    cut = stock.cuts[0]
    assert not form.cut.isVisible() and not form.said.isVisible()
    window.selection.select(f"piece:{cut.plane}/{cut.label}")
    form.cut.click()
    assert [(c.plane, c.label) for c in document.job.cut_sheets] == [(cut.plane, cut.label)]
    assert form.said.text().startswith("1 of ")
    drawn = [item.text for item in sheets_from_above(document.plan).items if isinstance(item, Text)]
    assert f"{cut.label} ✓" in drawn
    form.sheet.click()
    assert len(document.job.cut_sheets) == len(stock.cuts)
    window.history.undo()
    assert len(document.job.cut_sheets) == 1
    document.apply(edits.set_sheathing(document.job, thickness="5/8"), "Other sheets")
    assert len(document.job.cut_sheets) == 1
    assert "1 fits nowhere now" in form.said.text() and form.scrap.isVisible()
    assert any(finding.code == "cut-sheet-no-longer-fits" for finding in document.plan.findings)
    form.scrap.click()
    assert document.job.cut_sheets == () and not form.scrap.isVisible()


def test_a_piece_is_taken_back(window_on_sheets) -> None:
    window, form = window_on_sheets, window_on_sheets.pages["sheets"].cut_form
    piece = window.document.plan.sheathing.planes[0].pieces[0]
    window.selection.select(f"piece:{piece.plane}/{piece.label}")
    form.cut.click()
    assert form.cut.isChecked()
    form.cut.click()
    assert window.document.job.cut_sheets == ()
