"""Files: autosave, recovery after a crash, two windows on one file, files changed by others."""

from __future__ import annotations

from pathlib import Path

import pytest

from workbench.bench import files as files_module
from workbench.bench.dialogs import RecoveryDialog, leftover_words
from workbench.job import edits
from workbench.job.autosave import Autosave, Leftover, leftovers
from workbench.job.read import read_job


@pytest.fixture
def quick_autosave(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(files_module, "AUTOSAVE_AFTER_MS", 20)


@pytest.fixture
def own_file(small_house: Path, tmp_path: Path) -> Path:
    path = tmp_path / "own.json"
    path.write_bytes(small_house.read_bytes())
    return path


def _rename(window, name: str) -> None:
    window.document.apply(edits.set_job(window.document.job, name=name), "Change name")


def _crash(window, state: Path) -> None:
    """End a window as a killed program does: the system drops its locks, nothing else happens."""
    window.files.autosave_now()
    autosave = window.files._autosave
    autosave.release()
    window.files._autosave = None
    window.document.stack.setClean()


def test_change_is_autosaved_by_itself_and_a_save_forgets_it(
    qtbot, quick_autosave, make_window, own_file, state: Path
) -> None:
    window = make_window()
    window.files.open_path(own_file)
    _rename(window, "Changed")
    qtbot.waitUntil(lambda: len(list(state.glob("*.json"))) == 1)
    assert read_job(own_file).name != "Changed"  # never into the user's own file
    assert window.files.save()
    assert not any(state.glob("*.json"))
    assert read_job(own_file).name == "Changed"


def test_undo_and_redo_are_autosaved_as_any_change(qtbot, quick_autosave, make_window, own_file, state: Path) -> None:
    window = make_window()
    window.files.open_path(own_file)
    _rename(window, "Changed")
    qtbot.waitUntil(lambda: any(state.glob("*.json")))
    window.document.stack.undo()
    assert not any(state.glob("*.json"))
    window.document.stack.redo()
    qtbot.waitUntil(lambda: any(state.glob("*.json")))


def test_crash_is_recovered_into_its_file_s_document(make_window, dialogs, own_file, state: Path) -> None:
    first = make_window()
    first.files.open_path(own_file)
    _rename(first, "Unsaved work")
    _crash(first, state)
    second = make_window()
    dialogs.recover = True
    assert second.files.offer_recovery()
    assert dialogs.asked[-1] == "recovery 1"
    assert second.document.job.name == "Unsaved work"
    assert second.document.path == own_file.resolve()
    assert second.document.modified
    # Kept again in the new window's own slot: another crash would lose nothing.
    assert len(list(state.glob("*.json"))) == 1
    assert second.files.save()
    assert read_job(own_file).name == "Unsaved work"
    assert leftovers(state) == ()


def test_recovery_can_wait_and_can_be_refused(make_window, dialogs, own_file, state: Path) -> None:
    first = make_window()
    first.files.open_path(own_file)
    _rename(first, "Unsaved work")
    _crash(first, state)
    second = make_window()
    dialogs.recover = None
    assert not second.files.offer_recovery()
    assert second.files.has_leftovers()
    second.show_start()
    assert not second.start.recover.isHidden()
    dialogs.recover = False
    assert not second.files.offer_recovery()
    assert not second.files.has_leftovers()


def test_recovered_work_of_a_file_open_elsewhere_becomes_a_job_of_its_own(
    make_window, dialogs, own_file, state: Path
) -> None:
    first = make_window()
    first.files.open_path(own_file)
    _rename(first, "Unsaved work")
    _crash(first, state)
    holder = make_window()
    holder.files.open_path(own_file)
    other = make_window()
    dialogs.recover = True
    assert other.files.offer_recovery()
    assert other.document.path is None
    assert other.document.job.name == "Unsaved work"


def test_two_windows_cannot_have_one_file_open(make_window, dialogs, own_file) -> None:
    first, second = make_window(), make_window()
    assert first.files.open_path(own_file)
    assert not second.files.open_path(own_file)
    assert "another window has it open" in second.message.text
    dialogs.save_path = own_file
    assert not second.files.save_as()
    assert first.close()
    assert second.files.open_path(own_file)


def test_refused_file_does_not_cost_the_window_its_own(make_window, own_file, tmp_path: Path) -> None:
    first, second = make_window(), make_window()
    first.files.open_path(own_file)
    (tmp_path / "bad.json").write_text("{")
    assert not first.files.open_path(tmp_path / "bad.json")
    assert not second.files.open_path(own_file)


@pytest.mark.parametrize("answer", ["cancel", "save", "save_as"])
def test_file_changed_by_another_program_is_not_overwritten_unasked(
    make_window, dialogs, own_file, tmp_path: Path, answer: str
) -> None:
    window = make_window()
    window.files.open_path(own_file)
    _rename(window, "Mine")
    theirs = own_file.read_bytes() + b"\n"
    own_file.write_bytes(theirs)
    dialogs.overwrite, dialogs.save_path = answer, tmp_path / "mine.json"
    assert window.files.save() == (answer != "cancel")
    assert "overwrite own.json" in dialogs.asked
    assert (own_file.read_bytes() == theirs) == (answer != "save")
    assert (tmp_path / "mine.json").exists() == (answer == "save_as")


def test_file_that_cannot_be_written_is_told_and_the_work_stays_modified(make_window, dialogs, own_file) -> None:
    window = make_window()
    window.files.open_path(own_file)
    _rename(window, "Mine")
    dialogs.save_path = own_file.parent / "no such folder" / "x.json"
    assert not window.files.save_as()
    assert "can't be written" in window.message.text
    assert window.document.modified
    assert window.document.path == own_file


def test_name_suggested_for_a_new_file_is_the_job_s(make_window, dialogs, small_house) -> None:
    window = make_window()
    window.files.open_sample(small_house)
    _rename(window, "Long/house: north?")
    window.files.save_as()
    assert dialogs.asked[-1] == "save Long house north.json"


def test_recovery_dialog_says_what_differs_and_gives_the_choice_back(qtbot, own_file, state: Path) -> None:
    slot = Autosave(state)
    slot.write(edits.set_job(read_job(own_file), name="Other name"), own_file)
    slot.release()
    found: tuple[Leftover, ...] = leftovers(state)
    assert "differs from the file: the name" in leftover_words(found[0])
    dialog = RecoveryDialog(found)
    qtbot.addWidget(dialog)
    dialog.open_button.click()
    assert dialog.choice is not None
    assert dialog.choice.recover
    assert dialog.choice.leftover == found[0]
    later = RecoveryDialog(found)
    qtbot.addWidget(later)
    later.later_button.click()
    assert later.choice is None
