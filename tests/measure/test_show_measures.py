"""The one formatter: what is shown, how it rounds, and that it can be read back."""

from __future__ import annotations

import math
from fractions import Fraction

import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st
from scipy import constants

from workbench.errors import MeasureError
from workbench.measure import Units, parse_angle, parse_length, parse_slope
from workbench.measure.units import KN_M_PER_PLF, KN_PER_LB, KPA_PER_PSF

FT = Units()
MM = Units("mm")
EVERY = [FT, MM, Units(fraction=8), Units(fraction=32), Units("mm", 8), Units("mm", 32)]
INCHES = st.floats(-900_000, 900_000)


@pytest.mark.parametrize(
    ("x", "length", "inches", "compact", "signed"),
    [
        (162.5, "13' 6 1/2\"", '162 1/2"', "162 1/2", "+13' 6 1/2\""),
        (6.5, '6 1/2"', '6 1/2"', "6 1/2", '+6 1/2"'),
        (0.5, '1/2"', '1/2"', "1/2", '+1/2"'),
        (0.0, '0"', '0"', "0", '0"'),
        (-0.01, '0"', '0"', "0", '0"'),
        (-6.5, '-6 1/2"', '-6 1/2"', "-6 1/2", '\u22126 1/2"'),
        (-162.5, "-13' 6 1/2\"", '-162 1/2"', "-162 1/2", "\u221213' 6 1/2\""),
        (11.99, "1' 0\"", '12"', "12", "+1' 0\""),
        (12.5, "1' 0 1/2\"", '12 1/2"', "12 1/2", "+1' 0 1/2\""),
        (23.99, "2' 0\"", '24"', "24", "+2' 0\""),
        (43.4375, "3' 7 7/16\"", '43 7/16"', "43 7/16", "+3' 7 7/16\""),
        (48.0, "4' 0\"", '48"', "48", "+4' 0\""),
    ],
)
def test_feet_and_inches(x: float, length: str, inches: str, compact: str, signed: str) -> None:
    assert (FT.length(x), FT.inches(x), FT.compact(x), FT.signed(x)) == (length, inches, compact, signed)


def test_both_readings_of_a_tape() -> None:
    assert FT.tape(162.5) == '162 1/2" (13\' 6 1/2")'
    assert FT.tape(6.5) == '6 1/2"'
    assert MM.tape(162.5) == "4128 mm"


def test_the_fraction_is_the_jobs() -> None:
    x = 6 + 7 / 32
    assert [Units(fraction=8).length(x), FT.length(x), Units(fraction=32).length(x)] == [
        '6 1/4"',
        '6 1/4"',
        '6 7/32"',
    ]


def test_halves_go_away_from_zero_whatever_the_last_bits_are() -> None:
    half = 6 + 1 / 32
    for x in (half, math.nextafter(half, 0), math.nextafter(half, 9)):
        assert FT.length(x) == '6 1/16"'
        assert FT.length(-x) == '-6 1/16"'
    assert FT.length(half - 1e-6) == '6"'


def test_millimetres() -> None:
    assert MM.length(162.5) == MM.inches(162.5) == "4128 mm"  # 162.5 in is 4127.5 mm
    assert MM.compact(162.5) == "4128"
    assert MM.signed(-1) == "\u221225 mm"
    assert MM.length(-0.001) == "0 mm"
    assert MM.length(1000 / 25.4) == "1000 mm"


def test_slopes_and_angles() -> None:
    assert [FT.slope(m / 12) for m in (7, 6.62, 10, 0, 7.5, 6.999, 120)] == [
        "7 in 12",
        "6.62 in 12",
        "10 in 12",
        "0 in 12",
        "7.5 in 12",
        "7 in 12",
        "120 in 12",
    ]
    # The rise in 12 and degrees of a 7 in 12: framing-square table, from memory, 30.26°.
    assert FT.angle(math.atan(7 / 12), 2) == "30.26\u00b0"
    assert FT.angle(math.atan(7 / 12)) == "30.3\u00b0"
    assert FT.angle(math.pi / 4) == "45.0\u00b0"
    assert FT.angle(math.pi / 4, 0) == "45\u00b0"
    assert FT.angle(-1e-9) == "0.0\u00b0"


def test_areas_and_weights() -> None:
    assert [FT.area(x) for x in (1344, 0, 9.26, 9.96, 12345.6)] == [
        "1,344 sq ft",
        "0 sq ft",
        "9.3 sq ft",
        "10 sq ft",
        "12,346 sq ft",
    ]
    assert MM.area(1344) == "124.9 m\u00b2"
    assert [FT.weight(x) for x in (9.94, 12.34)] == ["9.9 lb", "12 lb"]
    assert FT.weight(1240) == "1,240 lb"
    assert MM.weight(1240) == "562 kg"
    assert FT.weight(-1240) == "-1,240 lb"


@given(st.floats(100, 1e6))
def test_areas_and_weights_against_scipy_constants(x: float) -> None:
    square_metres = float(MM.area(x).removesuffix(" m\u00b2").replace(",", ""))
    assert square_metres == pytest.approx(x * constants.foot**2, abs=0.051)
    kilograms = float(MM.weight(x).removesuffix(" kg").replace(",", ""))
    assert kilograms == pytest.approx(x * constants.pound, abs=0.51)


@pytest.mark.parametrize("units", EVERY, ids=repr)
@settings(max_examples=80, deadline=None)
@given(INCHES)
def test_what_is_shown_reads_back_as_the_rounded_length(units: Units, x: float) -> None:
    rounded = float(units.round_to_fraction(x))
    for shown in (units.length(x), units.inches(x), units.signed(x)):
        assert parse_length(shown) == rounded
    assert parse_length(units.compact(x) + (" mm" if units.system == "mm" else "")) == rounded
    step = 1 / 25.4 if units.system == "mm" else 1 / units.fraction
    assert abs(rounded - x) <= step / 2 * (1 + 1e-6)
    # Shown once, shown for good: the rounded length is shown the same.
    assert units.length(rounded) == units.length(x)


@given(INCHES, st.sampled_from([FT, Units(fraction=8), Units(fraction=32)]))
def test_rounding_agrees_with_exact_fractions(x: float, units: Units) -> None:
    steps = abs(Fraction(x)) * units.fraction
    # round() takes halves to even; the halves have a test of their own.
    assume(abs(steps - math.floor(steps) - Fraction(1, 2)) > Fraction(1, 10**6))
    assert units.round_to_fraction(x) == Fraction(round(steps), units.fraction) * (-1 if x < 0 else 1)


@given(st.floats(0.001, 60))
def test_slopes_read_back(m: float) -> None:
    assert parse_slope(FT.slope(m)) == pytest.approx(m, abs=0.0051 / 12)


@given(st.floats(-math.pi, math.pi), st.integers(0, 6))
def test_angles_read_back(radians: float, digits: int) -> None:
    assert parse_angle(FT.angle(radians, digits)) == pytest.approx(radians, abs=math.radians(0.51 * 10**-digits))


@given(INCHES)
def test_marks_are_plain_ascii_except_the_minus_of_differences(x: float) -> None:
    for units in EVERY:
        assert (units.length(x) + units.inches(x) + units.tape(x) + units.compact(x)).isascii()
        assert units.signed(x).replace("\u2212", "").isascii()


@pytest.mark.parametrize("x", [math.nan, math.inf, -math.inf])
def test_a_figure_that_is_not_finite_is_refused(x: float) -> None:
    for units in (FT, MM):
        for show in (units.length, units.tape, units.signed, units.slope, units.angle, units.area, units.weight):
            with pytest.raises(MeasureError, match="not a finite number"):
                show(x)


def test_loads_and_forces_beside_the_units_of_the_tables() -> None:
    assert [FT.pressure(x) for x in (20.0, 23.14)] == ["20 psf", "23.1 psf"]
    assert [FT.line_load(311.2), FT.force(1234.0)] == ["312 lb a foot", "1,234 lb"]
    assert [MM.pressure(20.0), MM.line_load(312.0), MM.force(312.0)] == [
        "0.96 kPa (20 psf)",
        "4.55 kN/m (312 lb a foot)",
        "1.39 kN (312 lb)",
    ]
    # scipy's table of units as the reference.
    assert pytest.approx(constants.pound_force / constants.foot**2 / 1000.0) == KPA_PER_PSF
    assert pytest.approx(constants.pound_force / constants.foot / 1000.0) == KN_M_PER_PLF
    assert pytest.approx(constants.pound_force / 1000.0) == KN_PER_LB
