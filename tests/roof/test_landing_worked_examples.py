"""Published and trade examples of run, slope and length, put to the landing solver."""

from __future__ import annotations

import math
from dataclasses import replace

import pytest

from workbench.measure.units import Units
from workbench.roof.landing import LandingInput, solve_landing
from workbench.roof.nominal import called_in_12

# Both ends notched alike on plates: the top edge rises as the plates do.
EQUAL = LandingInput(
    run_in=96.0,
    low_plate_in=96.0,
    landing_in=152.0,
    low_end="hap",
    hap_low_in=5.0,
    seat_in=0.0,
    high_end="notched",
    hap_high_in=5.0,
    depth_in=7.25,
    tangent=0.0,
)


def test_seven_in_12_over_a_16_ft_span() -> None:
    """Run 8 ft, length 9 ft 3 1/8 in: NAVEDTRA 14044."""
    answer = solve_landing(EQUAL)
    assert answer.in_12 == pytest.approx(7)
    assert Units(fraction=8).length(answer.length_in) == "9' 3 1/8\""
    assert answer.length_in == pytest.approx(8 * 13.89, abs=8 * 0.005)


def test_twelve_in_12_over_a_25_ft_span() -> None:
    """12.5 ft of run at 16.97 in a foot, 17 ft 8 1/8 in: Griffith, Carpentry."""
    answer = solve_landing(replace(EQUAL, run_in=150.0, landing_in=246.0))
    assert answer.in_12 == pytest.approx(12)
    assert Units(fraction=8).length(answer.length_in) == "17' 8 1/8\""


def test_two_in_5_to_the_base_of_12() -> None:
    """4 4/5 in 12: US Army subcourse EN0069."""
    answer = solve_landing(replace(EQUAL, run_in=5 * 30.0, landing_in=96.0 + 2 * 30.0))
    assert answer.in_12 == pytest.approx(4.8)


def test_a_ridge_board_takes_half_its_thickness_level_from_each_common() -> None:
    """Ridge board 1 1/2 in, 3/4 in deducted level: NAVEDTRA 14044."""
    ridge = replace(EQUAL, high_end="ridge", ridge_thickness_in=1.5, landing_in=157.0)
    slope = solve_landing(ridge).tangent
    face = replace(ridge, high_end="face", tangent=slope, find="run")
    assert solve_landing(ridge).run_in - solve_landing(face).run_in == pytest.approx(0.75)


def test_a_shed_run_is_the_span_less_the_upper_plate() -> None:
    """Shed roof run = building span − width of the top plate on the high wall: NAVEDTRA 14044.

    Span 12 ft outside to outside, a 2x4 plate: 4 in 12 found for the run so taken lands on the plate's eave-side face.
    """
    span, plate, rise = 144.0, 3.5, 46 + 5 / 6
    shed = replace(EQUAL, landing_in=96.0 + rise, tangent=4 / 12, find="run")
    assert solve_landing(shed).run_in == pytest.approx(span - plate)


def test_a_solved_landing_of_28_9_degrees_is_called_seven() -> None:
    """28.9° is 6.62 in 12 and is called 7: common practice, no source."""
    rise = 162.5 * math.tan(math.radians(28.9))
    answer = solve_landing(replace(EQUAL, run_in=162.5, landing_in=96.0 + rise))
    assert Units().angle(answer.angle) == "28.9°"
    assert Units().slope(answer.tangent) == "6.62 in 12"
    assert called_in_12(answer.tangent) == 7


def test_a_heel_cut_comes_off_the_plumb_depth() -> None:
    """6 in 12, 2x8: plumb depth 7.25·√1.25 = 8.1057; a 4 in seat takes a 2 in heel cut, 6.1057 stay: geometry."""
    seat = replace(EQUAL, low_end="seat", seat_in=4.0, tangent=0.5, find="landing", hap_high_in=0.0)
    answer = solve_landing(seat)
    assert answer.hap_low_in == pytest.approx(6.10574, abs=1e-5)
    assert answer.landing_in == pytest.approx(96 + 6.10574 + 48, abs=1e-5)
