"""Closer nailing along the roof's edges: typed in the window, counted, and taken back."""

from __future__ import annotations

import pytest

from workbench.job.samples import sample_jobs


@pytest.fixture
def panel(make_window):
    window = make_window()
    window.files.open_sample(next(sample.path for sample in sample_jobs() if sample.name == "plain-gable"))
    window.show_stage("sheets")
    return window.pages["sheets"]


def typed(field, text):
    field.edit.setText(text)
    field.edit.setModified(True)
    field.commit()


def nails(panel):
    return sum(panel.document.plan.sheathing.nail_counts.values())


def test_strip_and_spacing_go_into_the_job_and_more_nails_are_counted(panel):
    form, document = panel.kind, panel.document
    before = nails(panel)
    typed(form.zone, "60 in")
    typed(form.zone_spacing, "3 in")
    assert (document.job.fastening.zone_in, document.job.fastening.zone_spacing_in) == (60.0, 3.0)
    assert nails(panel) > before
    typed(form.zone, "")
    typed(form.zone_spacing, "")
    assert (document.job.fastening.zone_in, document.job.fastening.zone_spacing_in) == (None, None)
    assert nails(panel) == before


def test_a_spacing_that_cannot_be_is_told_at_its_field(panel):
    form, document = panel.kind, panel.document
    typed(form.zone_spacing, "nonsense")
    assert document.job.fastening.zone_spacing_in is None
    typed(form.zone_spacing, "0 in")
    assert document.job.fastening.zone_spacing_in is None
