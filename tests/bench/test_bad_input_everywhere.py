"""Rubbish typed into every field: a sentence beside the field, the job as it was, and Esc brings the value back."""

from __future__ import annotations

import pytest
from PySide6.QtCore import Qt

from workbench.bench.field_base import Field
from workbench.bench.menus import STAGES
from workbench.plan import solve
from workbench.resources import sample_job_path


@pytest.mark.parametrize("text", ["rubbish", "1 / 0"])
def test_rubbish_is_told_at_its_field_and_esc_brings_the_value_back(qtbot, window, monkeypatch, text: str) -> None:
    monkeypatch.setattr("workbench.bench.document.solve", lambda job, *_, **__: solve(job, "preview"))
    window.files.open_sample(sample_job_path("vaulted-room.json"))
    document, driven = window.document, 0
    before = document.job
    for stage, _ in STAGES:
        window.show_stage(stage)
        for field in window.findChildren(Field):
            if not field.isVisible() or not field.isEnabled() or field.edit.isReadOnly():
                continue
            shown = field.edit.text()
            field.edit.setFocus()
            field.edit.selectAll()
            qtbot.keyClicks(field.edit, text)
            qtbot.keyClick(field.edit, Qt.Key.Key_Return)
            where = f"{field.label} in {stage}"
            assert field.error.startswith("⚠ "), where
            assert field.error.rstrip().endswith((".", ")", '"')), (where, field.error)
            assert "Traceback" not in field.error and "Error" not in field.error, where
            assert field.edit.text() == text, where
            assert document.job is before, where
            qtbot.keyClick(field.edit, Qt.Key.Key_Escape)
            assert (field.edit.text(), field.error) == (shown, ""), where
            driven += 1
    assert driven > 60
    assert document.stack.count() == 0
