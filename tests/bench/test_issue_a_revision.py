"""File ▸ Issue a revision: recorded in the job as one step, told in the window."""

from __future__ import annotations

from pathlib import Path

from workbench.job import edits
from workbench.revisions import what_changed


def test_a_revision_is_issued_once_and_can_be_undone(window, small_house: Path) -> None:
    window.files.open_path(small_house)
    before = window.document.job
    window.menus.actions["issue"].trigger()
    assert [record.revision for record in window.document.job.issued] == [before.revision]
    window.menus.actions["issue"].trigger()
    assert "Nothing has changed" in window.message.text
    window.history.undo()
    assert window.document.job == before
    window.history.redo()
    window.document.apply(edits.set_rafter(window.document.job, before.wings[0].id, tail="square"), "Change tail")
    changed = what_changed(window.document.plan)
    assert changed is not None and changed.against == before.revision


def test_nothing_drawn_is_nothing_to_issue(window) -> None:
    window.issue_revision()
    assert "no roof" in window.message.text
