"""The dock of the 3-D view where there is no OpenGL, and what is remembered of it."""

from __future__ import annotations

from PySide6.QtCore import Qt
from PySide6.QtGui import QOpenGLContext

from workbench.bench.app import begin
from workbench.bench.settings import Settings
from workbench.bench.shortcuts import shortcut_rows
from workbench.bench.space import dock as dock_module
from workbench.bench.space.dock import NO_OPENGL
from workbench.job import edits


def _without_opengl(monkeypatch) -> None:
    monkeypatch.setattr(QOpenGLContext, "create", lambda self: False)


def test_without_opengl_the_dock_says_so_in_one_sentence_and_the_rest_works(
    qtbot, window, small_house, monkeypatch
) -> None:
    _without_opengl(monkeypatch)
    window.files.open_sample(small_house)
    window.menus.actions["space"].trigger()
    assert window.space.isVisible()
    qtbot.waitUntil(lambda: window.space.sentence.text() == NO_OPENGL)
    assert window.space.stack.currentWidget() is window.space.sentence
    assert window.space.view is None
    assert NO_OPENGL.count(".") == 2  # "2.1" and the end
    assert not window.space.layer_buttons["planes"].isEnabled()
    wing = window.document.job.wings[0].id
    window.document.preview(edits.set_wing(window.document.job, wing, slope_in_12=9.0))
    window.document.apply(edits.set_wing(window.document.job, wing, slope_in_12=9.0), "Change slope")
    window.selection.select(f"wing:{wing}")
    assert window.document.plan.roof.planes[0].in_12 == 9.0


def test_without_the_package_the_dock_says_so(qtbot, window, small_house, monkeypatch) -> None:
    monkeypatch.setattr(QOpenGLContext, "create", lambda self: True)
    monkeypatch.setattr(dock_module.SpaceDock, "_offered_gl", lambda self: True)
    monkeypatch.setitem(__import__("sys").modules, "workbench.bench.space.view", None)
    window.files.open_sample(small_house)
    window.menus.actions["space"].trigger()
    qtbot.waitUntil(lambda: "PyOpenGL" in window.space.sentence.text())
    assert window.space.stack.currentWidget() is window.space.sentence


def test_menu_opens_and_closes_it_and_its_own_button_too(qtbot, window, small_house, monkeypatch) -> None:
    _without_opengl(monkeypatch)
    window.files.open_sample(small_house)
    action = window.menus.actions["space"]
    assert not action.isChecked()
    assert not window.space.isVisible()
    action.trigger()
    assert action.isChecked()
    assert window.space.isVisible()
    window.space.title_bar.closing.click()
    assert not action.isChecked()
    assert not window.space.wanted
    action.trigger()
    action.trigger()
    assert not window.space.isVisible()
    assert action.shortcut().toString() == "Ctrl+D"


def test_no_other_action_has_its_shortcut_and_the_sheet_of_shortcuts_names_its_keys(window) -> None:
    own = window.menus.actions["space"].shortcut()
    others = [name for name, action in window.menus.actions.items() if own in action.shortcuts()]
    assert others == ["space"]
    words = [row.texts[0] for row in shortcut_rows(window.menus.groups)]
    assert "In the 3-D view" in words
    assert "3-D view" in words


def test_it_stays_away_from_the_start_page(window, small_house, monkeypatch) -> None:
    _without_opengl(monkeypatch)
    window.files.open_sample(small_house)
    window.menus.actions["space"].trigger()
    assert window.space.isVisible()
    window.show_start()
    assert not window.space.isVisible()
    assert window.space.wanted
    window.files.open_sample(small_house)
    assert window.space.isVisible()


def test_program_that_ends_while_it_floats_keeps_it_wanted(window, small_house, monkeypatch) -> None:
    _without_opengl(monkeypatch)
    window.files.open_sample(small_house)
    window.menus.actions["space"].trigger()
    window.space.setFloating(True)
    # As the application closes all its windows.
    window.space.close()
    assert window.space.wanted


def test_open_layers_and_width_are_remembered(make_window, small_house, ini, monkeypatch) -> None:
    _without_opengl(monkeypatch)
    first = make_window()
    begin(first, small_house)
    first.resize(1400, 900)
    first.menus.actions["space"].trigger()
    first.resizeDocks([first.space], [460], Qt.Orientation.Horizontal)
    first.space.layer_buttons["sheets"].setChecked(True)
    first.space.layer_buttons["walls"].setChecked(False)
    width = first.space.width()
    first.close()
    second = make_window()
    begin(second, small_house)
    assert second.space.isVisible()
    assert second.menus.actions["space"].isChecked()
    assert second.space.layers == ("planes", "members", "sheets")
    assert second.space.width() == width
    second.menus.actions["space"].trigger()
    second.close()
    third = make_window()
    begin(third, small_house)
    assert not third.space.isVisible()
    assert not third.menus.actions["space"].isChecked()


def test_no_layer_at_all_is_remembered_too(ini) -> None:
    settings = Settings(ini)
    assert settings.space_layers == ("planes", "members", "walls")
    settings.space_layers = ()
    assert Settings(ini).space_layers == ()


def test_hidden_dock_makes_nothing(window, small_house) -> None:
    window.files.open_sample(small_house)
    wing = window.document.job.wings[0].id
    window.document.preview(edits.set_wing(window.document.job, wing, slope_in_12=9.0))
    window.selection.select(f"wing:{wing}")
    assert window.space.view is None
    assert window.space.caption.text() == ""


def test_title_bar_s_buttons_set_it_apart_and_close_it(qtbot, window, small_house, monkeypatch) -> None:
    _without_opengl(monkeypatch)
    window.files.open_sample(small_house)
    window.menus.actions["space"].trigger()
    bar = window.space.title_bar
    assert all(button.accessibleName() for button in (bar.apart, bar.closing))
    qtbot.mouseClick(bar.apart, Qt.MouseButton.LeftButton)
    assert window.space.isFloating()
    qtbot.mouseClick(bar.apart, Qt.MouseButton.LeftButton)
    assert not window.space.isFloating()
    qtbot.mouseClick(bar.closing, Qt.MouseButton.LeftButton)
    assert not window.space.isVisible()
    assert not window.menus.actions["space"].isChecked()


def test_reset_brings_it_back_to_its_side(window, small_house, monkeypatch) -> None:
    _without_opengl(monkeypatch)
    window.files.open_sample(small_house)
    window.menus.actions["space"].trigger()
    window.space.setFloating(True)
    window.reset_layout()
    assert not window.space.isFloating()
    assert window.dockWidgetArea(window.space) == Qt.DockWidgetArea.LeftDockWidgetArea
