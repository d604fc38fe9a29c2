"""Planes, lines and saw settings in space against closed forms. Source: geometry; scipy for turning vectors."""

from __future__ import annotations

import math

import numpy as np
import pytest
from hypothesis import assume, given
from hypothesis import strategies as st
from scipy.spatial.transform import Rotation

from workbench.framing import space

slopes = st.floats(1.0 / 12.0, 24.0 / 12.0)
turns = st.floats(0.0, 2.0 * math.pi)
corners = st.floats(math.radians(35.0), math.radians(145.0))


def two_planes(m1: float, m2: float, corner: float, turn: float) -> tuple[space.Slope, space.Slope, float, float]:
    """Two planes over eaves that meet at a corner of this inside angle, and the uphill directions as angles."""
    up1, up2 = turn + math.pi / 2.0, turn + corner - math.pi / 2.0
    first = space.Slope(m1 * math.cos(up1), m1 * math.sin(up1), 100.0)
    second = space.Slope(m2 * math.cos(up2), m2 * math.sin(up2), 100.0)
    return first, second, up1, up2


@given(slopes, slopes, corners, turns)
def test_where_two_planes_meet(m1: float, m2: float, corner: float, turn: float) -> None:
    first, second, up1, _ = two_planes(m1, m2, corner, turn)
    found = space.meeting_direction(first, second)
    assert found is not None
    (dx, dy), slope = found
    for t in (1.0, 250.0):
        point = (dx * t, dy * t)
        assert first.height(point) == pytest.approx(second.height(point), abs=1e-9)
        assert first.height(point) == pytest.approx(100.0 + slope * t, abs=1e-9)
    # tan D = sin W / (m / m' + cos W), W the inside corner (published roof-geometry notes).
    w = corner
    eave = (math.cos(up1 - math.pi / 2.0), math.sin(up1 - math.pi / 2.0))
    expected = math.atan2(math.sin(w), m1 / m2 + math.cos(w))
    d = space.plan_angle((dx, dy), eave)
    assert d == pytest.approx(min(expected, math.pi - expected), abs=1e-9)
    assert slope == pytest.approx(m1 * math.sin(d), abs=1e-9)


@given(slopes, slopes, corners, turns)
def test_dihedral_is_a_straight_angle_less_both_backings(m1: float, m2: float, corner: float, turn: float) -> None:
    """C5 = asin(sin θ · cos D); dihedral = 180° − (C5 + C5') while the hip lies between its eaves."""
    first, second, up1, up2 = two_planes(m1, m2, corner, turn)
    (dx, dy), _ = space.meeting_direction(first, second) or ((0.0, 0.0), 0.0)
    eaves = [(math.sin(up), -math.cos(up)) for up in (up1, up2)]
    toward = [e[0] * dx + e[1] * dy for e in (eaves[0], (-eaves[1][0], -eaves[1][1]))]
    assume(min(toward) > 1e-6)
    backings = [
        math.asin(math.sin(math.atan(m)) * math.cos(space.plan_angle((dx, dy), eave)))
        for m, eave in zip((m1, m2), eaves, strict=True)
    ]
    assert space.dihedral(first, second) == pytest.approx(math.pi - sum(backings), abs=1e-9)


@given(slopes, turns, st.floats(-1.3, 1.3))
def test_a_plumb_cut_has_the_slope_as_mitre_and_its_plan_angle_as_bevel(m: float, turn: float, beta: float) -> None:
    axes = space.BoardAxes((math.cos(turn), math.sin(turn)), m)
    normal = (math.cos(turn + beta), math.sin(turn + beta), 0.0)
    mitre, bevel = axes.saw(normal)
    assert bevel == pytest.approx(beta, abs=1e-9)
    # For a bevelled plumb cut the line on the board's face is still the plumb line.
    assert mitre == pytest.approx(math.atan(m), abs=1e-9)


@given(slopes, turns)
def test_level_and_square_cuts(m: float, turn: float) -> None:
    axes = space.BoardAxes((math.cos(turn), math.sin(turn)), m)
    assert axes.saw((0.0, 0.0, 1.0)) == pytest.approx((math.pi / 2.0 - math.atan(m), 0.0), abs=1e-9)
    assert axes.saw(axes.along) == pytest.approx((0.0, 0.0), abs=1e-9)


@given(slopes, turns, st.floats(-1.0, 1.0), st.floats(-1.0, 1.0))
def test_saw_settings_against_turned_blades(m: float, turn: float, mitre: float, bevel: float) -> None:
    """A blade square to the board, tilted by the bevel and swung by the mitre (scipy), has the same settings."""
    axes = space.BoardAxes((math.cos(turn), math.sin(turn)), m)
    along, left, up = (np.array(v) for v in (axes.along, axes.left, axes.up))
    # Swing about the face's normal, then tilt about the line of the cut on the face.
    swing = Rotation.from_rotvec(mitre * left)
    line = swing.apply(up)
    tilt = Rotation.from_rotvec(bevel * line)
    normal = tilt.apply(swing.apply(along))
    got = axes.saw(tuple(float(x) for x in normal))
    assert got[0] == pytest.approx(abs(mitre), abs=1e-9)
    assert got[1] == pytest.approx(bevel, abs=1e-9)


def test_parallel_planes_do_not_meet() -> None:
    plane = space.Slope(0.5, 0.0, 1.0)
    assert space.meeting_direction(plane, space.Slope(0.5, 0.0, 9.0)) is None
    assert space.meet2((0.0, 0.0), (1.0, 0.0), (0.0, 5.0), (-2.0, 0.0)) is None


def test_a_point_has_no_direction() -> None:
    with pytest.raises(ValueError, match="no direction"):
        space.unit2((1.0, 1.0), (1.0, 1.0))
    with pytest.raises(ValueError, match="no direction"):
        space.unit((0.0, 0.0, 0.0))
