"""Reading lengths, slopes, angles, numbers and corner points."""

from __future__ import annotations

import math
from collections.abc import Callable

import pytest
from hypothesis import example, given, settings
from hypothesis import strategies as st
from scipy import constants

from workbench.errors import BadInput, MeasureError
from workbench.measure import parse_angle, parse_length, parse_number, parse_points, parse_slope

LENGTHS = [
    ("13' 6 1/2\"", 162.5),
    ("13'-6 1/2\"", 162.5),
    ("13'6-1/2\"", 162.5),
    ("13'6 1/2", 162.5),
    ("13 ' 6 1 / 2 \"", 162.5),
    ("13 ft 6 1/2 in", 162.5),
    ("13FT. 6in.", 162.0),
    ("13 feet 6 inches", 162.0),
    ("13 ft-6 in", 162.0),
    ("13'", 156.0),
    ("13.5'", 162.0),
    ("1/2'", 6.0),
    ('6 1/2"', 6.5),
    ("6-1/2", 6.5),
    ("6 1/2''", 6.5),
    ("1/2", 0.5),
    ("1/3", 1 / 3),
    (".5", 0.5),
    ("7.", 7.0),
    ("162.5", 162.5),
    ("162 1/2", 162.5),
    ("0", 0.0),
    ("13\u2032 6\u00bd\u2033", 162.5),
    ("13\u2019 6 1\u20442\u201d", 162.5),
    ("13\u2032\u20136 \u00bd\u2033", 162.5),
    ("13'\u00a06\"", 162.0),
    ("\u215b", 0.125),
    ("6 \u215e in", 6.875),
    ('-6 1/2"', -6.5),
    ('\u22126 1/2"', -6.5),
    ("- 13' 6\"", -162.0),
    ('+6"', 6.0),
    ('13\' 6" + 2 1/2"', 164.5),
    ("13' - 6 1/2\"", 149.5),
    ("13'-6 1/2\" - 1/2\" - 13'", 6.0),
    ('6" + 1/2', 6.5),
    ("4' + 25.4mm", 49.0),
    ("-6 + 8", 2.0),
    ("1000000", 1_000_000.0),
]


@pytest.mark.parametrize(("text", "inches"), LENGTHS)
def test_lengths_as_people_write_them(text: str, inches: float) -> None:
    assert parse_length(text) == inches
    assert parse_length(f"  {text}\n") == inches


def test_a_dash_joins_and_a_dash_between_blanks_takes_away() -> None:
    assert parse_length("13'-6 1/2\"") == 156 + 6.5
    assert parse_length("13' - 6 1/2\"") == 156 - 6.5


@pytest.mark.parametrize(
    ("text", "metres"),
    [
        # Exact: NIST SP 811, Appendix B.8 (inch 2.54 E-02 m, foot 3.048 E-01 m), from memory; scipy agrees below.
        ("1 in", 2.54e-2),
        ("1 ft", 3.048e-1),
        ("1 ft 1 in", 3.302e-1),
        ("25.4mm", 2.54e-2),
        ("2.54 cm", 2.54e-2),
        ("0.0254 m", 2.54e-2),
        ("4128mm", 4.128),
        ("412.8cm", 4.128),
        ("4.128 metres", 4.128),
    ],
)
def test_units_against_the_standard_and_scipy(text: str, metres: float) -> None:
    assert parse_length(text) * 0.0254 == pytest.approx(metres, rel=1e-15)
    assert parse_length(text) * constants.inch == pytest.approx(metres, rel=1e-15)


def test_whole_inches_in_millimetres_come_out_exact() -> None:
    for inches in range(1, 500):
        assert parse_length(f"{inches * 254 // 10}.{inches * 254 % 10}mm") == inches


GOOD = "write it like 13' 6 1/2\"."
BLANKS = "put a blank on both sides to take away, or write feet and inches like 13'-6 1/2\"."
UNITS = "use ' or ft, \" or in, mm, cm or m."
BAD_LENGTHS = [
    ("", f"Length is empty; {GOOD}"),
    (" \n", f"Length is empty; {GOOD}"),
    ("13' 6 1/", f'Length "13\' 6 1/": the fraction "1/" has no lower number; {GOOD}'),
    ("/2", f'Length "/2": the fraction "/" has no upper number; {GOOD}'),
    ("6 1/0", f'Length "6 1/0": the fraction "1/0" divides by 0; {GOOD}'),
    ("1.5/2", f'Length "1.5/2": the fraction "1.5/2" has a decimal point in it; {GOOD}'),
    ("6 9/8", f'Length "6 9/8": the fraction after "6" is not under 1; {GOOD}'),
    ("6 8/8", f'Length "6 8/8": the fraction after "6" is not under 1; {GOOD}'),
    ("6.5 1/2", 'Length "6.5 1/2": a fraction follows the decimal "6.5"; write one or the other, like 6 1/2".'),
    ("13' -6", f'Length "13\' -6": the - before "6" could join or take away; {BLANKS}'),
    ("13'- 6", f'Length "13\'- 6": the - before "6" could join or take away; {BLANKS}'),
    ("6-2", f'Length "6-2": the - before "2" could join or take away; {BLANKS}'),
    ("13 6", f'Length "13 6": 6 follows 13 without a sign or a unit between them; {GOOD}'),
    ("\u00bd5", f'Length "\u00bd5": 5 follows \u00bd without a sign or a unit between them; {GOOD}'),
    (
        "6\" 13'",
        'Length "6" 13\'": 13 can\'t follow " without a + or -; write feet first, then inches, or a sum.',
    ),
    ("13' 6'", f"Length \"13' 6'\": the second unit ' stands where inches belong; {GOOD}"),
    ("13' 6mm", f'Length "13\' 6mm": the second unit mm stands where inches belong; {GOOD}'),
    (
        "13' 12",
        'Length "13\' 12": 12 or more inches after the feet; write inches under 12 there, like 13\' 6 1/2".',
    ),
    (
        "13' 14",
        'Length "13\' 14": 12 or more inches after the feet; write inches under 12 there, like 13\' 6 1/2".',
    ),
    (
        "13.5' 6",
        'Length "13.5\' 6": the feet before inches are not whole; write whole feet, like 13\' 6 1/2".',
    ),
    ("6 +", f'Length "6 +": nothing follows the +; {GOOD}'),
    ("5 + - 3", f'Length "5 + - 3": a number is missing before the -; {GOOD}'),
    ("'", f"Length \"'\": a number is missing before the '; {GOOD}"),
    ("13'-", f'Length "13\'-": nothing follows the -; {GOOD}'),
    ('6 " "', f'Length "6 " "": the " after " can\'t be read; {GOOD}'),
    ("nan", f'Length "nan": "nan" is no number; {GOOD}'),
    ("-inf", f'Length "-inf": the word "inf" is no unit; {UNITS}'),
    ("1e5", f'Length "1e5": the word "e" is no unit; {UNITS}'),
    ("13 yd", f'Length "13 yd": the word "yd" is no unit; {UNITS}'),
    ("1,000", 'Length "1,000": a comma can\'t be read in a number; write a decimal point, like 13\' 6 1/2".'),
    ("7%", f'Length "7%": "%" can\'t be read; {GOOD}'),
    (
        "-1000001",
        'Length "-1000001": over 1,000,000 inches; check the figures and write it like 13\' 6 1/2".',
    ),
    ("1" * 101, f'Length "{"1" * 45}...": more than 100 characters; {GOOD}'),
]


@pytest.mark.parametrize(("text", "sentence"), BAD_LENGTHS)
def test_bad_lengths_say_where_and_how_to_mend(text: str, sentence: str) -> None:
    with pytest.raises(MeasureError) as caught:
        parse_length(text)
    assert str(caught.value) == sentence


def test_the_sentence_names_the_field() -> None:
    with pytest.raises(MeasureError, match=r"^Run \"x\": \"x\" is no number"):
        parse_length("x", what="Run")
    with pytest.raises(MeasureError, match=r"^Low plate is empty;"):
        parse_length("", what="Low plate")


@pytest.mark.parametrize(
    ("text", "slope"),
    [
        ("7/12", 7 / 12),
        ("6.62/12", 6.62 / 12),
        ("6 5/8 / 12", 6.625 / 12),
        ("6 5/8 in 12", 6.625 / 12),
        ("6\u00bd/12", 6.5 / 12),
        ("7 in 12", 7 / 12),
        ("7in12", 7 / 12),
        ("7 IN 12", 7 / 12),
        ('7" in 12"', 7 / 12),
        ("7:12", 7 / 12),
        ("7 1/2 : 12 1/2", 0.6),
        ("7 \u2044 12", 7 / 12),
        ("1/2", 0.5),
        ("1/4/12", 0.25 / 12),
        ("\u00bc in 12", 0.25 / 12),
        ("58%", 0.58),
        ("58 percent", 0.58),
        ("33 1/3 %", 1 / 3),
        ("45\u00b0", 1.0),
        ("30 deg", 1 / math.sqrt(3)),
        ("60 degrees", math.sqrt(3)),
    ],
)
def test_slopes_as_people_write_them(text: str, slope: float) -> None:
    assert parse_slope(text) == pytest.approx(slope, rel=1e-7)


@pytest.mark.parametrize(("degrees", "rise"), [(14.04, 3), (18.43, 4), (22.62, 5), (26.57, 6), (33.69, 8), (36.87, 9)])
def test_degrees_against_a_framing_square_table(degrees: float, rise: int) -> None:
    # Degrees to two decimals for a rise in 12, as on framing squares; values from memory.
    assert parse_slope(f"{degrees}deg") * 12 == pytest.approx(rise, abs=12 * math.radians(0.005) / math.cos(0.65) ** 2)


SLOPE_RANGE = "a slope has to be over 0 and under 90\u00b0; write it like 7/12, 28.9deg or 58%."


@pytest.mark.parametrize(
    ("text", "trouble"),
    [
        ("", "Slope is empty; write it like 7/12, 28.9deg or 58%."),
        ("7", 'Slope "7": a number alone is no slope; write 7/12, or with deg or %.'),
        ("6 5/8", 'Slope "6 5/8": a number alone is no slope; write 6 5/8 in 12, or with deg or %.'),
        ("0/12", f'Slope "0/12": {SLOPE_RANGE}'),
        ("-7/12", f'Slope "-7/12": {SLOPE_RANGE}'),
        ("7/-12", f'Slope "7/-12": {SLOPE_RANGE}'),
        ("7 in - 12", f'Slope "7 in - 12": {SLOPE_RANGE}'),
        ("7/0", f'Slope "7/0": {SLOPE_RANGE}'),
        ("0%", f'Slope "0%": {SLOPE_RANGE}'),
        ("-5deg", f'Slope "-5deg": {SLOPE_RANGE}'),
        ("90\u00b0", f'Slope "90\u00b0": {SLOPE_RANGE}'),
        ("89.9999999999999999999\u00b0", f'Slope "89.9999999999999999999\u00b0": {SLOPE_RANGE}'),
        ("7 in", 'Slope "7 in": the run after "in" is missing; write it like 7/12, 28.9deg or 58%.'),
        ("7/", 'Slope "7/": the run after "/" is missing; write it like 7/12, 28.9deg or 58%.'),
        ("\u00bd5/12", 'Slope "\u00bd5/12": "5/12" can\'t be read; write it like 7/12, 28.9deg or 58%.'),
        ("7 mm", 'Slope "7 mm": "mm" can\'t be read; write it like 7/12, 28.9deg or 58%.'),
        ("steep", 'Slope "steep": it doesn\'t begin with a number; write it like 7/12, 28.9deg or 58%.'),
        ("6 5/0 in 12", 'Slope "6 5/0 in 12": the fraction "5/0" divides by 0; write it like 7/12, 28.9deg or 58%.'),
        (
            "6 9/8 in 12",
            'Slope "6 9/8 in 12": the fraction after "6" is not under 1; write it like 7/12, 28.9deg or 58%.',
        ),
    ],
)
def test_bad_slopes_say_where_and_how_to_mend(text: str, trouble: str) -> None:
    with pytest.raises(MeasureError) as caught:
        parse_slope(text)
    assert str(caught.value) == trouble


@pytest.mark.parametrize(
    ("text", "degrees"),
    [("28.9deg", 28.9), ("28.9\u00b0", 28.9), ("28.9", 28.9), ("22 1/2\u00b0", 22.5), ("-45\u00ba", -45.0), ("0", 0.0)],
)
def test_angles_as_people_write_them(text: str, degrees: float) -> None:
    assert parse_angle(text) == pytest.approx(degrees * constants.degree, rel=1e-15)


def test_an_angle_in_radians() -> None:
    assert parse_angle("0.504rad") == 0.504


@pytest.mark.parametrize(
    ("text", "sentence"),
    [
        ("", "Angle is empty; write it like 28.9deg."),
        ("361deg", 'Angle "361deg": over 360\u00b0; write an angle of at most 360\u00b0.'),
        ("-361", 'Angle "-361": over 360\u00b0; write an angle of at most 360\u00b0.'),
        ("7/0", 'Angle "7/0": the fraction "7/0" divides by 0; write it like 28.9deg.'),
        ("28.9 mm", 'Angle "28.9 mm": "mm" can\'t be read; write it like 28.9deg.'),
        ("x", 'Angle "x": it doesn\'t begin with a number; write it like 28.9deg.'),
    ],
)
def test_bad_angles_say_where_and_how_to_mend(text: str, sentence: str) -> None:
    with pytest.raises(MeasureError) as caught:
        parse_angle(text)
    assert str(caught.value) == sentence


def test_numbers() -> None:
    assert parse_number("12", "Price") == 12.0
    assert parse_number(" -.5 ", "Price") == -0.5
    assert parse_number("1 1/2", "Waste") == 1.5
    assert parse_number("1\u00be", "Waste") == 1.75


@pytest.mark.parametrize(
    ("text", "sentence"),
    [
        ("", "Price is empty; write it like 12 or 0.5."),
        ("1,000", 'Price "1,000": a comma can\'t be read in a number; leave it out, or write a decimal point.'),
        ("1e3", 'Price "1e3": "e3" after the number can\'t be read; write it like 12 or 0.5.'),
        ("inf", 'Price "inf": it doesn\'t begin with a number; write it like 12 or 0.5.'),
        ("9" * 12, f'Price "{"9" * 12}": over 1,000,000,000; check the figures and write a smaller number.'),
    ],
)
def test_bad_numbers_say_where_and_how_to_mend(text: str, sentence: str) -> None:
    with pytest.raises(MeasureError) as caught:
        parse_number(text, "Price")
    assert str(caught.value) == sentence


def test_corner_points() -> None:
    assert parse_points("0,0 480,0 480,336 0,336") == ((0, 0), (480, 0), (480, 336), (0, 336))
    assert parse_points(" 40',0\n13'6-1/2\",-3  1m,25.4mm ") == ((480, 0), (162.5, -3), (1000 / 25.4, 1))


@pytest.mark.parametrize(
    ("text", "sentence"),
    [
        (" ", "Outline is empty; write it like 0,0 480,0 480,336 0,336."),
        ("0,0 480", 'Outline, corner 2 "480": not one "x,y" pair; write it like 480,336 without blanks inside.'),
        ("0, 0", 'Outline, corner 1 "0,": not one "x,y" pair; write it like 480,336 without blanks inside.'),
        ("1,2,3", 'Outline, corner 1 "1,2,3": not one "x,y" pair; write it like 480,336 without blanks inside.'),
        ("0,0 5,1/", f'Outline, corner 2, y "1/": the fraction "1/" has no lower number; {GOOD}'),
    ],
)
def test_bad_corner_points_name_the_corner(text: str, sentence: str) -> None:
    with pytest.raises(MeasureError) as caught:
        parse_points(text)
    assert str(caught.value) == sentence


READERS: list[Callable[[str], float | tuple[tuple[float, float], ...]]] = [
    parse_length,
    parse_slope,
    parse_angle,
    lambda text: parse_number(text, "Number"),
    parse_points,
]
KEYS = st.text("0123456789'\"/ -+.mcfintg\u00b0%,:\u00bd\u2044\u2032\u215f", max_size=24)


@settings(max_examples=400, deadline=None)
@given(st.one_of(st.text(max_size=40), KEYS))
@example("1\u2044" * 60)
@example("9" * 5000)
@example("\u0663'")
@example("\u215f5")
@example("\ud800\x00\u2028")
@example("1/" + "9" * 90)
def test_any_text_is_read_or_refused_in_one_printable_sentence(text: str) -> None:
    for reader in READERS:
        try:
            value = reader(text)
        except MeasureError as error:
            sentence = str(error)
            assert sentence.isprintable()
            assert sentence.endswith(".")
            assert "; " in sentence
        else:
            numbers = value if isinstance(value, tuple) else ((value,),)
            assert all(math.isfinite(number) for pair in numbers for number in pair)


@settings(max_examples=300, deadline=None)
@given(KEYS)
def test_what_is_read_as_a_slope_lies_between_flat_and_plumb(text: str) -> None:
    try:
        slope = parse_slope(text)
    except BadInput:
        return
    assert 0 < math.atan(slope) < math.pi / 2


@given(st.integers(0, 999), st.integers(0, 11), st.integers(0, 31), st.sampled_from([" ", "-"]), st.booleans())
def test_feet_inches_and_thirty_seconds_are_exact(feet: int, inches: int, part: int, dash: str, mark: bool) -> None:
    text = f"{feet}'{dash}{inches} {part}/32{chr(34) if mark else ''}"
    assert parse_length(text) == feet * 12 + inches + part / 32
    assert parse_length(f"-{text}") == -parse_length(text)


@given(st.lists(st.tuples(st.sampled_from("+-"), st.integers(0, 9999)), min_size=1, max_size=8), st.integers(0, 9999))
def test_sums_add_up(rest: list[tuple[str, int]], first: int) -> None:
    text = f"{first}/16" + "".join(f" {sign} {sixteenths}/16" for sign, sixteenths in rest)
    expected = first + sum(value if sign == "+" else -value for sign, value in rest)
    assert parse_length(text) == expected / 16
