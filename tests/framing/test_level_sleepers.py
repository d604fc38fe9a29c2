"""Sleepers that lie along a course line, or run straight up the slope, have nothing to taper against."""

from __future__ import annotations

import math

import pytest

from workbench.framing.overframe import _ends


@pytest.mark.parametrize("course", [0.0, 1e-9, math.pi / 2.0, math.pi / 2.0 - 1e-9])
def test_square_ends_along_a_level_or_upright_line(course: float) -> None:
    foot, head, cuts = _ends(course, 7.25, 200.0)
    assert (foot, head) == (0.0, 0.0)
    assert [cut.angle_deg for cut in cuts] == [0.0, 0.0]


def test_tapered_ends_add_up_to_a_right_angle() -> None:
    foot, head, cuts = _ends(math.radians(52.0), 7.25, 200.0)
    assert foot * head == pytest.approx(7.25**2)
    assert cuts[0].angle_deg + cuts[1].angle_deg == pytest.approx(90.0)
