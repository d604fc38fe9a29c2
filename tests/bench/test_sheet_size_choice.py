"""The size of the sheets as one choice: 4 x 8 to 4 x 10 ft and 1220 x 2440 mm (common practice, no source)."""

from __future__ import annotations

import pytest
from msgspec.structs import replace

from workbench.bench.stages.panel_size import SIZES, usual_size
from workbench.job.model import Sheathing
from workbench.job.samples import sample_jobs


@pytest.fixture
def panel(make_window):
    window = make_window()
    window.files.open_sample(next(sample.path for sample in sample_jobs() if sample.name == "plain-gable"))
    window.show_stage("sheets")
    return window.pages["sheets"]


def test_a_size_chosen_goes_into_the_job_in_one_step(panel):
    assert panel.size.value == (48.0, 96.0)
    panel.size.combo.activated.emit(1)
    sheathing = panel.document.job.sheathing
    assert (sheathing.panel_width_in, sheathing.panel_length_in) == (48.0, 108.0)
    assert panel.size.value == (48.0, 108.0)


def test_another_size_is_shown_as_such_and_choosing_it_changes_nothing(panel):
    before = panel.document.job.sheathing
    panel.size.combo.activated.emit(len(SIZES))
    assert panel.document.job.sheathing == before
    assert panel.size.value == (48.0, 96.0)


def test_sizes_are_known_by_their_measures():
    assert usual_size(Sheathing(panel_width_in=48.031, panel_length_in=96.063)) == SIZES[3][0]
    assert usual_size(replace(Sheathing(), panel_length_in=90.0)) == (0.0, 0.0)
