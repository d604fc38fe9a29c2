"""The 3-D view drawn with OpenGL, on a display: pictures, picking, following, another graphics context."""

from __future__ import annotations

import math

import numpy as np
import pytest
from PySide6.QtCore import QPoint, QPointF, Qt
from PySide6.QtGui import QImage, QWheelEvent
from PySide6.QtWidgets import QApplication

from workbench.bench import theme
from workbench.bench.space.camera import Camera
from workbench.job import edits

pytestmark = pytest.mark.gl


@pytest.fixture
def space(qtbot, window, small_house):
    """The dock, open on the sample with several wings."""
    window.resize(1300, 850)
    window.files.open_sample(small_house)
    window.menus.actions["space"].trigger()
    qtbot.waitUntil(lambda: window.space.view is not None and window.space.view.faces.size > 0)
    qtbot.waitUntil(lambda: window.space.view.isVisible() and window.space.view.isValid())
    qtbot.wait(50)
    return window.space


def _picture(view) -> np.ndarray:
    image = view.grabFramebuffer().convertToFormat(QImage.Format.Format_RGB888)
    rows = np.frombuffer(image.constBits(), dtype=np.uint8).reshape(image.height(), image.bytesPerLine())
    return rows[:, : 3 * image.width()].reshape(image.height(), image.width(), 3).astype(int)


def _greenish(picture: np.ndarray) -> int:
    """Pixels of the accent: blue-green, which no grey is."""
    return int((np.minimum(picture[..., 1], picture[..., 2]) > picture[..., 0] + 25).sum())


def _pixel(view, point) -> QPoint:
    x, y = view.camera.on_screen(np.array([point]), view.width(), view.height())[0]
    return QPoint(round(x), round(y))


def _middle(plane) -> tuple[float, ...]:
    return tuple(np.mean(plane.corners, axis=0))


@pytest.mark.parametrize("scheme", ["light", "dark"])
def test_picture_is_grey_on_the_theme_s_paper(space, scheme) -> None:
    theme.current().choose(scheme)
    picture = _picture(space.view)
    paper = theme.current().paper
    assert tuple(picture[2, 2]) == (paper.red(), paper.green(), paper.blue())
    drawn = np.abs(picture - picture[2, 2]).sum(axis=2) > 60
    assert 0.03 < drawn.mean() < 0.7
    assert _greenish(picture) == 0
    spread = picture.max(axis=2) - picture.min(axis=2)
    assert spread.max() < 24


def test_selection_elsewhere_stands_out_in_the_accent(window, space) -> None:
    plane = window.document.plan.roof.planes[0]
    window.selection.select(f"plane:{plane.id}")
    picture = _picture(space.view)
    pixel = _pixel(space.view, _middle(plane))
    scale = space.view.devicePixelRatioF()
    red, green, blue = picture[round(pixel.y() * scale), round(pixel.x() * scale)]
    assert min(green, blue) > red + 20
    assert plane.name in space.view.accessibleDescription()
    assert not space.caption.isVisible()
    window.selection.select("")
    assert _greenish(_picture(space.view)) == 0


def test_member_under_the_roof_is_seen_through_it(window, space) -> None:
    mark = next(m.mark for m in window.document.plan.framing.members if m.kind == "common_rafter")
    window.selection.select(f"member:{mark}")
    assert _greenish(_picture(space.view)) > 200


def test_click_selects_the_plane_and_beside_the_house_nothing(qtbot, window, space) -> None:
    plane = window.document.plan.roof.planes[0]
    qtbot.mouseClick(space.view, Qt.MouseButton.LeftButton, pos=_pixel(space.view, _middle(plane)))
    assert window.selection.key == f"plane:{plane.id}"
    qtbot.mouseClick(space.view, Qt.MouseButton.LeftButton, pos=QPoint(3, 3))
    assert window.selection.key == ""


def test_every_plane_seen_from_above_is_picked_at_its_middle(qtbot, window, space) -> None:
    space.view.look("above")
    for plane in window.document.plan.roof.planes:
        point = _pixel(space.view, _middle(plane))
        assert space.view.key_at(QPointF(point)) in {f"plane:{p.id}" for p in window.document.plan.roof.planes}


def test_drag_turns_and_does_not_select(qtbot, window, space) -> None:
    before, key = space.view.camera, window.selection.key
    qtbot.mousePress(space.view, Qt.MouseButton.LeftButton, pos=QPoint(150, 200))
    qtbot.mouseMove(space.view, QPoint(190, 210))
    qtbot.mouseMove(space.view, QPoint(230, 220))
    qtbot.mouseRelease(space.view, Qt.MouseButton.LeftButton, pos=QPoint(230, 220))
    after = space.view.camera
    assert math.remainder(after.azimuth - before.azimuth, 2 * math.pi) < -0.2
    assert after.elevation > before.elevation
    assert after.centre == before.centre
    assert window.selection.key == key


@pytest.mark.parametrize(
    ("button", "modifier"),
    [
        (Qt.MouseButton.MiddleButton, Qt.KeyboardModifier.NoModifier),
        (Qt.MouseButton.LeftButton, Qt.KeyboardModifier.ShiftModifier),
    ],
)
def test_middle_button_or_shift_moves_what_is_under_the_pointer_along(qtbot, window, space, button, modifier) -> None:
    view = space.view
    centre = view.camera.centre
    start = _pixel(view, centre)
    qtbot.mousePress(view, button, modifier, start)
    for step in (10, 25, 40):
        _move(view, start + QPoint(step, step), button, modifier)
    qtbot.mouseRelease(view, button, modifier, start + QPoint(40, 40))
    moved = _pixel(view, centre) - start
    assert abs(moved.x() - 40) <= 2
    assert abs(moved.y() - 40) <= 2


def _move(view, point: QPoint, button, modifier) -> None:
    from PySide6.QtCore import QEvent
    from PySide6.QtGui import QMouseEvent

    where = QPointF(point)
    event = QMouseEvent(
        QEvent.Type.MouseMove, where, QPointF(view.mapToGlobal(point)), Qt.MouseButton.NoButton, button, modifier
    )
    QApplication.sendEvent(view, event)


def test_wheel_comes_nearer_at_the_centre(space) -> None:
    view = space.view
    before = view.camera
    middle = QPointF(view.width() / 2.0, view.height() / 2.0)
    event = QWheelEvent(
        middle,
        middle,
        QPoint(),
        QPoint(0, 240),
        Qt.MouseButton.NoButton,
        Qt.KeyboardModifier.NoModifier,
        Qt.ScrollPhase.NoScrollPhase,
        False,
    )
    QApplication.sendEvent(view, event)
    assert view.camera.distance < 0.8 * before.distance
    assert view.camera.centre == before.centre


def test_keys_lead_to_the_named_views_and_back(qtbot, window, space) -> None:
    view = space.view
    qtbot.keyClick(view, Qt.Key.Key_F)
    assert view.camera.eye[1] < -200.0
    qtbot.keyClick(view, Qt.Key.Key_L)
    assert view.camera.eye[0] < -200.0
    qtbot.keyClick(view, Qt.Key.Key_A)
    assert view.camera.elevation == pytest.approx(math.pi / 2.0)
    qtbot.keyClick(view, Qt.Key.Key_Left)
    qtbot.keyClick(view, Qt.Key.Key_Down, Qt.KeyboardModifier.ShiftModifier)
    qtbot.keyClick(view, Qt.Key.Key_Plus)
    turned = view.camera
    qtbot.keyClick(view, Qt.Key.Key_0)
    assert view.camera.azimuth == turned.azimuth
    assert view.camera.distance > turned.distance
    qtbot.keyClick(view, Qt.Key.Key_Home)
    assert 0.2 < view.camera.elevation < 0.8
    window.selection.select(f"plane:{window.document.plan.roof.planes[0].id}")
    qtbot.keyClick(view, Qt.Key.Key_Escape)
    assert window.selection.key == ""


def test_look_menu_does_what_the_keys_do(space) -> None:
    actions = {action.text().split("\t")[0].replace("&", ""): action for action in space.look_menu.actions()}
    actions["Above"].trigger()
    assert space.view.camera.elevation == pytest.approx(math.pi / 2.0)
    assert "Whole house" in actions


def test_whole_house_is_in_view_after_opening(window, space) -> None:
    corners = np.array([corner for plane in window.document.plan.roof.planes for corner in plane.corners])
    seen = space.view.camera.on_screen(corners, space.view.width(), space.view.height())
    assert (seen > 0.0).all()
    assert (seen < np.array([space.view.width(), space.view.height()])).all()


def test_preview_is_followed_at_once_and_given_up_again(window, space) -> None:
    view = space.view
    before, camera = _picture(view), view.camera
    wing = window.document.job.wings[0].id
    porch = next(part for part in view.scene.parts("planes").values() if part.keys[0].startswith("plane:porch/"))
    window.document.preview(edits.set_wing(window.document.job, wing, slope_in_12=11.0))
    assert view.camera == camera
    during = _picture(view)
    assert (np.abs(during - before).sum(axis=2) > 40).sum() > 500
    assert any(part is porch for part in view.scene.parts("planes").values())
    window.document.cancel_preview()
    after = _picture(view)
    assert (np.abs(after - before).sum(axis=2) > 40).sum() == 0


def test_closed_dock_follows_only_when_it_is_opened_again(qtbot, window, space) -> None:
    view = space.view
    plane = window.document.plan.roof.planes[0]
    shapes = [part.shape for part in view.scene.parts("planes").values()]
    window.menus.actions["space"].trigger()
    job = edits.set_wing(window.document.job, plane.wing, slope_in_12=11.0)
    window.document.apply(job, "Change slope")
    assert [part.shape for part in view.scene.parts("planes").values()] == shapes
    window.menus.actions["space"].trigger()
    qtbot.waitUntil(lambda: [part.shape for part in view.scene.parts("planes").values()] != shapes)


def test_layers_are_shown_apart(space) -> None:
    view = space.view
    whole = view.faces.size
    space.layer_buttons["planes"].setChecked(False)
    frame = _picture(view)
    assert view.faces.size < whole
    space.layer_buttons["sheets"].setChecked(True)
    assert view.faces.size > whole
    assert (np.abs(_picture(view) - frame).sum(axis=2) > 40).sum() > 2000
    for button in space.layer_buttons.values():
        button.setChecked(False)
    assert view.faces.size == 0


def test_only_what_changed_is_sent_to_the_graphics_card(window, space) -> None:
    view = space.view
    _picture(view)
    window.selection.select("plane:porch/e1")
    sent = view.faces._unsent
    assert sent is not None
    assert 0 < sum(part.stop - part.start for part in sent) < 0.05 * view.faces.size
    _picture(view)
    assert view.faces._unsent == []


def test_floating_and_docked_again_it_draws_in_its_new_graphics_context(qtbot, space) -> None:
    view = space.view
    space.setFloating(True)
    qtbot.waitUntil(lambda: view.isValid() and view.isVisible())
    qtbot.wait(50)
    assert space.caption.isVisible()
    floating = _picture(view)
    assert (np.abs(floating - floating[2, 2]).sum(axis=2) > 60).mean() > 0.02
    space.setFloating(False)
    qtbot.wait(50)
    docked = _picture(view)
    assert (np.abs(docked - docked[2, 2]).sum(axis=2) > 60).mean() > 0.02


def test_new_job_is_told_to_be_empty_and_the_first_wing_is_fitted(qtbot, window, space) -> None:
    window.document.new()
    qtbot.waitUntil(lambda: space.stack.currentWidget() is space.sentence)
    assert "Nothing is drawn yet" in space.sentence.text()
    job, _ = edits.add_wing(
        window.document.job, [(5000, 0), (5400, 0), (5400, 300), (5000, 300)], ["eave", "rake", "eave", "rake"]
    )
    window.document.apply(job, "Draw")
    qtbot.waitUntil(lambda: space.stack.currentWidget() is space.view)
    seen = space.view.camera.on_screen(space.view.scene.outer_points(), space.view.width(), space.view.height())
    assert (seen > 0.0).all()


def test_graphics_that_break_down_are_given_up_with_a_sentence(qtbot, space, monkeypatch, caplog) -> None:
    view = space.view

    def broken() -> None:
        raise RuntimeError("lost")

    monkeypatch.setattr(view.faces, "paint", broken)
    view.update()
    qtbot.waitUntil(lambda: space.view is None)
    assert "OpenGL" in space.sentence.text()
    assert space.stack.currentWidget() is space.sentence
    assert "broke down" in caplog.text


def test_line_that_runs_behind_the_eye_goes_straight_across_the_picture(window, space) -> None:
    """Close to a long eave both its ends lie beside and behind the eye; they must not be thrown about."""
    view = space.view
    for layer, button in space.layer_buttons.items():
        button.setChecked(layer == "planes")
    corner = min(window.document.plan.plane("main/e1").corners)
    view._see(Camera((corner[0] + 240.0, corner[1], corner[2]), 30.0, math.radians(-97.0), math.radians(3.0)))
    picture = _picture(view)
    ink = picture.sum(axis=2) < 250
    middle = np.flatnonzero(ink[:, picture.shape[1] // 2])
    assert len(middle) > 0
    assert (ink.sum(axis=0) > 0).mean() > 0.95
    assert ink.sum(axis=0).max() <= 10 * view.devicePixelRatioF()
