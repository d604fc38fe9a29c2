"""The camera of the 3-D view, against Qt's own look-at and perspective matrices."""

from __future__ import annotations

import math
from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from PySide6.QtGui import QMatrix4x4, QVector3D

from workbench.bench.settings import Settings
from workbench.bench.space.camera import FIELD, HOME_DEG, Camera

_CAMERAS = st.builds(
    Camera,
    centre=st.tuples(*[st.floats(-500.0, 500.0)] * 3),
    distance=st.floats(50.0, 5000.0),
    azimuth=st.floats(-math.pi, math.pi),
    elevation=st.floats(-0.5, 1.4),
)
_POINTS = st.lists(st.tuples(*[st.floats(-2000.0, 2000.0)] * 3), min_size=1, max_size=12)


def _matrix(qt: QMatrix4x4):
    return np.array(qt.data()).reshape(4, 4).T


@settings(max_examples=60, deadline=None)
@given(_CAMERAS)
def test_view_matrix_is_that_of_qt_s_look_at(camera) -> None:
    qt = QMatrix4x4()
    qt.lookAt(QVector3D(*camera.eye), QVector3D(*camera.centre), QVector3D(0.0, 0.0, 1.0))
    # Qt computes in single precision.
    assert np.allclose(camera.view_matrix(), _matrix(qt), atol=0.02)


@pytest.mark.parametrize("aspect", [0.5, 1.0, 1.9])
def test_projection_is_qt_s_perspective_with_the_field_across_the_smaller_side(aspect: float) -> None:
    upright = FIELD if aspect >= 1.0 else 2.0 * math.atan(math.tan(FIELD / 2.0) / aspect)
    qt = QMatrix4x4()
    qt.perspective(math.degrees(upright), aspect, 10.0, 4000.0)
    assert np.allclose(Camera().projection_matrix(aspect, 10.0, 4000.0), _matrix(qt), rtol=1e-5, atol=1e-5)


@settings(max_examples=60, deadline=None)
@given(_CAMERAS, st.floats(0.0, 1.0), st.floats(0.0, 1.0), st.floats(10.0, 3000.0))
def test_ray_through_a_pixel_leads_to_what_is_seen_there(camera, x: float, y: float, far: float) -> None:
    width, height = 640.0, 480.0
    eye, direction = camera.ray(x * width, y * height, width, height)
    assert camera.on_screen((eye + far * direction)[None, :], width, height)[0] == pytest.approx(
        (x * width, y * height), abs=1e-6
    )


@settings(max_examples=80, deadline=None)
@given(_CAMERAS, _POINTS, st.sampled_from([(640.0, 480.0), (300.0, 700.0)]))
def test_fitted_camera_holds_every_point_and_touches_the_margin(camera, points, size) -> None:
    width, height = size
    found = np.array(points)
    fitted = camera.fitted(found, width / height)
    seen = fitted.on_screen(found, width, height)
    assert (seen >= -0.01).all()
    assert (seen <= np.array(size) + 0.01).all()
    spread = np.ptp(found @ camera.axes[:2].T, axis=0).max()  # as seen, not in depth
    if spread > 100.0 and fitted.distance < 100_000.0:
        # The margin is a tenth of the distance; nearer than that a point is out of view, or behind the eye.
        nearer = replace(fitted, distance=fitted.distance / 1.1 * 0.98)
        depth = (nearer.eye - found) @ nearer.axes[2]
        seen = nearer.on_screen(found[depth > 0.0], width, height)
        assert (depth <= 0.0).any() or (seen < 0.0).any() or (seen > np.array(size)).any()


def test_everything_near_the_roof_lies_between_near_and_far() -> None:
    camera = Camera(distance=900.0)
    near, far = camera.depths(np.array([0.0, 0.0, 0.0]), 400.0)
    assert 0.0 < near <= 500.0
    assert far >= 1300.0
    close, _ = camera.nearer(50.0).depths(np.array([0.0, 0.0, 0.0]), 400.0)
    assert close > 0.0


def test_front_looks_from_low_y_and_above_has_the_front_below() -> None:
    point = np.array([[0.0, -100.0, 0.0], [0.0, 100.0, 0.0], [100.0, 0.0, 0.0]])
    assert Camera().seen("front").eye[1] < 0.0
    front, back, right = Camera().seen("above").on_screen(point, 400.0, 400.0)
    assert front[1] > back[1]
    assert right[0] > 200.0
    assert Camera().seen("left").eye[0] < 0.0


def test_turning_stops_straight_above_and_a_little_below_the_ground() -> None:
    assert Camera().turned(0.0, 9.0).elevation == pytest.approx(math.pi / 2.0)
    assert -0.6 < Camera().turned(0.0, -9.0).elevation < 0.0


def test_moving_takes_the_roof_along_with_the_pointer() -> None:
    camera = Camera(distance=1000.0)
    before = camera.on_screen(np.array([camera.centre]), 600.0, 500.0)[0]
    after = camera.moved(30.0, -20.0, 500.0).on_screen(np.array([camera.centre]), 600.0, 500.0)[0]
    assert after - before == pytest.approx((30.0, 20.0), abs=0.5)


def test_where_one_looks_from_is_remembered_from_run_to_run(ini) -> None:
    Settings(ini).space_look = (123.0, 45.5)
    again = Settings(ini)
    assert again.space_look == (123.0, 45.5)
    camera = Camera().turned_to(*again.space_look)
    assert math.degrees(camera.azimuth) == pytest.approx(123.0)
    assert math.degrees(camera.elevation) == pytest.approx(45.5)


def test_a_damaged_setting_looks_from_the_usual_side(ini) -> None:
    settings = Settings(ini)
    for text in ("", "nonsense", "1 2 3", "9999 0"):
        settings._store.setValue("space/look", text)
        assert settings.space_look == HOME_DEG
