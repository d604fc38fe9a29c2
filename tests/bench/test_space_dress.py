"""Greys and accent of the 3-D view, and the records sent to the graphics card."""

from __future__ import annotations

import math

import numpy as np
import pytest

from workbench.bench import theme
from workbench.bench.space.dress import FACE, LINE, Packed, face_records, line_records, palette, rgb, shades
from workbench.bench.space.parts import LAYERS, Shape
from workbench.framing.solids import both_sides


def _palette(scheme):
    colours = theme.SCHEMES[scheme]
    return palette(scheme, colours.ink, colours.paper, colours.accent)


def _slope(in_12: float, towards: float) -> np.ndarray:
    """Upward normal of a plane that falls in a plan direction (degrees)."""
    angle = math.atan(in_12 / 12.0)
    a = math.radians(towards)
    return np.array([[math.sin(angle) * math.cos(a), math.sin(angle) * math.sin(a), math.cos(angle)]])


def test_flat_is_lighter_than_steep_and_the_back_darker_than_the_front() -> None:
    for towards in (90.0, 0.0):
        rising = [float(shades(_slope(in_12, towards))[0]) for in_12 in (0.5, 4.0, 8.0, 12.0, 18.0)]
        assert rising == sorted(rising, reverse=True)
    assert shades(_slope(7.0, -90.0))[0] > shades(_slope(7.0, 90.0))[0] + 0.1
    assert shades(-_slope(7.0, -90.0))[0] < shades(_slope(7.0, 90.0))[0]


@pytest.mark.parametrize("scheme", ["light", "dark"])
def test_everything_but_the_accent_is_grey(scheme) -> None:
    colours = _palette(scheme)
    for layer in LAYERS:
        for colour in (*colours.ramps[layer], colours.edges[layer]):
            assert colour.max() - colour.min() < 0.06, (layer, colour)
    assert colours.accent.max() - colours.accent.min() > 0.3


@pytest.mark.parametrize("scheme", ["light", "dark"])
def test_roof_stands_off_the_ground_it_is_drawn_on(scheme) -> None:
    colours, paper = _palette(scheme), rgb(theme.SCHEMES[scheme].paper)
    dark, light = colours.ramps["planes"]
    for in_12 in (3.0, 7.0, 12.0):
        for towards in (-90.0, 90.0, 0.0, 180.0):
            face = dark + (light - dark) * shades(_slope(in_12, towards))[0]
            assert abs(face - paper).mean() > 0.1
    assert abs(colours.edges["planes"] - paper).mean() > 0.6


def test_marked_faces_have_the_accent_and_the_others_stay() -> None:
    triangles = both_sides(np.array([[[0.0, 0.0, 0.0], [1.0, 0.0, 0.0], [0.0, 1.0, 0.0]]]))
    shape = Shape(triangles, np.array([0, 1]))
    plain = face_records(shape, _palette("light"), "planes")
    marked = face_records(shape, _palette("light"), "planes", np.array([True, False]))
    assert plain.dtype == FACE
    assert len(plain) == 6
    assert (plain["colour"][3:] == marked["colour"][3:]).all()
    red, green, blue, alpha = (int(v) for v in marked["colour"][0])
    assert min(green, blue) > red + 20
    assert alpha == 255
    assert (plain["at"] == triangles.reshape(-1, 3).astype("f4")).all()


def test_line_is_two_triangles_between_its_ends() -> None:
    lines = np.array([[[0.0, 0.0, 0.0], [10.0, 0.0, 0.0]]])
    records = line_records(lines, np.array([2.0]), np.array([1.0, 0.0, 0.0]), np.array([[1.0, 0.0]]))
    assert records.dtype == LINE
    assert len(records) == 6
    # Put aside by hand in a plane seen from above: a strip of the line's length and width, its area 20.
    along = records["there"] - records["here"]
    across = np.stack([-along[:, 1], along[:, 0]], axis=1) / 10.0
    corners = records["here"][:, :2] + across * (records["side"] * records["weight"] / 2.0)[:, None]
    a, b = corners.reshape(2, 3, 2)
    areas = [abs((t[1] - t[0])[0] * (t[2] - t[0])[1] - (t[1] - t[0])[1] * (t[2] - t[0])[0]) / 2.0 for t in (a, b)]
    assert areas == pytest.approx([10.0, 10.0])
    assert {tuple(corner) for corner in corners.tolist()} == {(0.0, 1.0), (0.0, -1.0), (10.0, 1.0), (10.0, -1.0)}
    assert set(records["colour"][records["here"][:, 0] == 0.0][:, 3]) == {255}
    assert set(records["colour"][records["here"][:, 0] == 10.0][:, 3]) == {0}


def test_packed_sends_only_what_changed() -> None:
    packed = Packed(FACE)
    one, two, three = (np.zeros(count, dtype=FACE) for count in (3, 6, 3))
    assert packed.put([one, two, three]) is None
    assert packed.put([one, two, three]) == []
    other = two.copy()
    other["colour"] = 9
    assert packed.put([one, other, three]) == [slice(3, 9)]
    assert (packed.data["colour"][3:9] == 9).all()
    assert packed.put([one, three]) is None
    assert len(packed.data) == 6
