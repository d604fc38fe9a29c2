"""The window as a user meets it: real widgets, real files, scripted answers to dialogs."""

from __future__ import annotations

from pathlib import Path

import pytest
from PySide6.QtCore import QMimeData, QPointF, Qt, QUrl
from PySide6.QtGui import QDropEvent
from PySide6.QtWidgets import QApplication

from workbench.bench.app import begin
from workbench.bench.menus import STAGES
from workbench.job import edits
from workbench.job.model import Units
from workbench.job.read import read_job


def _edit(window, text: str = "Change name", **fields) -> None:
    window.document.apply(edits.set_job(window.document.job, **(fields or {"name": "Changed"})), text)


def test_start_page_offers_samples_and_opens_them_as_new_jobs(qtbot, window) -> None:
    begin(window, None)
    assert window.centre.currentWidget() is window.start
    assert len(window.start.samples) >= 3
    qtbot.mouseClick(window.start.samples[0], Qt.MouseButton.LeftButton)
    assert window.centre.currentWidget() is not window.start
    assert window.document.path is None
    assert window.document.plan.roof.planes
    assert not window.document.modified


def test_slope_typed_into_the_field_is_one_named_undo_step(qtbot, window, small_house) -> None:
    window.files.open_sample(small_house)
    window.show_stage("slope")
    plane = window.document.plan.roof.planes[0]
    field = next(f for f in window.pages["plan"].findChildren(_slope_field()) if f.value is not None)
    window.show_stage("plan")
    before = plane.tangent
    field.edit.setFocus()
    field.edit.selectAll()
    qtbot.keyClicks(field.edit, "6/12")
    qtbot.keyClick(field.edit, Qt.Key.Key_Return)
    assert window.document.plan.roof.planes[0].tangent == pytest.approx(0.5)
    undo = window.menus.actions["undo"]
    assert undo.text().replace("&", "").lower().startswith("undo ")
    assert len(undo.text()) > len("&Undo ")
    undo.trigger()
    assert window.document.plan.roof.planes[0].tangent == pytest.approx(before)
    redo = window.menus.actions["redo"]
    assert redo.isEnabled()
    redo.trigger()
    assert window.document.plan.roof.planes[0].tangent == pytest.approx(0.5)


def _slope_field():
    from workbench.bench.fields import SlopeField

    return SlopeField


def test_save_and_reopen_gives_the_same_job(qtbot, window, dialogs, small_house, tmp_path: Path) -> None:
    window.files.open_sample(small_house)
    _edit(window, revision="C")
    assert window.isWindowModified()
    dialogs.save_path = tmp_path / "mine.json"
    window.menus.actions["save"].trigger()
    assert "save" in dialogs.asked[-1]
    assert not window.isWindowModified()
    assert window.windowTitle() == "mine.json[*] – Roof Workbench"
    saved = window.document.job
    assert read_job(tmp_path / "mine.json") == saved
    window.menus.actions["new"].trigger()
    assert window.document.job.wings == ()
    assert window.files.open_path(tmp_path / "mine.json")
    assert window.document.job == saved
    assert window.settings.recent[0] == (tmp_path / "mine.json").resolve()


@pytest.mark.parametrize("answer", ["cancel", "discard", "save"])
def test_unsaved_work_is_guarded_on_close(window, dialogs, small_house, tmp_path: Path, answer) -> None:
    window.files.open_sample(small_house)
    _edit(window)
    dialogs.unsaved, dialogs.save_path = answer, tmp_path / "kept.json"
    closed = window.close()
    assert dialogs.asked[0].startswith("unsaved")
    assert closed == (answer != "cancel")
    assert (tmp_path / "kept.json").exists() == (answer == "save")


def test_cancelling_the_file_dialog_keeps_the_window_open(window, dialogs, small_house) -> None:
    window.files.open_sample(small_house)
    _edit(window)
    dialogs.unsaved, dialogs.save_path = "save", None
    assert not window.close()


@pytest.mark.parametrize(
    ("content", "said"),
    [
        (b"{ not json", "not readable as JSON"),
        (b'{"format": "something-else"}', "not a job file of the workbench"),
        (b'{"format": "roof-workbench-job", "version": 99}', "newer program"),
    ],
)
def test_bad_file_leaves_the_document_and_says_why(window, small_house, tmp_path: Path, content, said: str) -> None:
    window.files.open_sample(small_house)
    before = window.document.plan
    bad = tmp_path / "bad.json"
    bad.write_bytes(content)
    assert not window.files.open_path(bad)
    assert window.document.plan is before
    assert said in window.message.text
    assert "bad.json" in window.message.text


def test_bad_file_at_the_start_shows_the_start_page_and_the_sentence(window, tmp_path: Path) -> None:
    begin(window, tmp_path / "missing.json")
    assert window.centre.currentWidget() is window.start
    assert "there is no such file" in window.message.text


def test_file_dropped_on_the_window_is_opened(window, small_house) -> None:
    data = QMimeData()
    data.setUrls([QUrl.fromLocalFile(str(small_house))])
    event = QDropEvent(
        QPointF(50, 50),
        Qt.DropAction.CopyAction,
        data,
        Qt.MouseButton.LeftButton,
        Qt.KeyboardModifier.NoModifier,
    )
    window.dropEvent(event)
    assert window.document.path == small_house


def test_every_stage_can_be_reached_by_its_action_and_shows_its_page(window, small_house) -> None:
    window.files.open_sample(small_house)
    for name, _ in STAGES:
        window.menus.actions[f"stage {name}"].trigger()
        assert window.stage == name
        assert window.side.currentWidget() is window.pages[name]
        assert window.stages.button(name).isChecked()
    window.menus.actions["next stage"].trigger()
    assert window.stage == STAGES[-1][0]
    window.menus.actions["previous stage"].trigger()
    assert window.stage == STAGES[-2][0]


def test_units_are_the_job_s_and_an_undo_step(window, small_house) -> None:
    window.files.open_sample(small_house)
    window.menus.unit_action(Units(system="mm")).trigger()
    assert window.document.job.units.system == "mm"
    assert window.status.units.text() == "Millimetres"
    assert window.figures.figures[3].value.endswith("mm")
    window.menus.actions["undo"].trigger()
    assert window.document.job.units.system == "ft_in"
    assert window.menus.unit_action(window.document.job.units).isChecked()


def test_missing_recent_file_is_grey(window, small_house, tmp_path: Path) -> None:
    here, gone = tmp_path / "here.json", tmp_path / "gone.json"
    for path in (here, gone):
        path.write_bytes(small_house.read_bytes())
        window.files.open_path(path)
    gone.unlink()
    window.menus.recent.aboutToShow.emit()
    entries = {action.text(): action.isEnabled() for action in window.menus.recent.actions()[:2]}
    assert entries == {"&1 gone.json (missing)": False, "&2 here.json": True}


def test_findings_figure_leads_to_the_list_and_a_row_to_the_object(qtbot, window, small_house) -> None:
    window.files.open_sample(small_house)
    window.figures.findings.click()
    page = window.pages["findings"]
    assert window.side.currentWidget() is page
    assert len(page.rows) == len(window.document.plan.findings)
    row = next(row for row in page.rows if row.key)
    qtbot.keyClick(row, Qt.Key.Key_Return)
    assert window.selection.key == row.key


def test_shape_of_the_window_is_remembered(make_window) -> None:
    first = make_window()
    first.files.new()
    first.resize(1000, 760)
    first.upright.setSizes([100, 400])
    QApplication.processEvents()
    strip = first.strip.height()
    assert first.close()
    second = make_window()
    second.files.new()
    QApplication.processEvents()
    # The offscreen screen is 800 wide, so that only the height comes back as it was.
    assert second.height() == 760
    assert second.strip.height() == strip
    second.menus.actions["reset"].trigger()
    QApplication.processEvents()
    assert second.strip.height() < strip


def test_refused_edit_is_told_in_the_window(window) -> None:
    from workbench.errors import EditError

    window.document.refuse(EditError("The edge can't go there; keep it outside the other."))
    assert window.message.text == "The edge can't go there; keep it outside the other."


def test_dark_colours_can_be_chosen_and_are_kept(window) -> None:
    from workbench.bench import theme

    next(a for a in window.menus.colours.actions() if "Dark" in a.text()).trigger()
    assert theme.current().scheme == "dark"
    assert window.settings.colours == "dark"


def test_shortcut_sheet_lists_every_key_once(window) -> None:
    sheet = window.show_shortcuts()
    keys = [key for cells in sheet.table.rows for key in cells.texts[1].split(", ") if key.startswith(("Ctrl", "F"))]
    assert "F1" in keys
    assert len(keys) == len(set(keys))
    sheet.close()
