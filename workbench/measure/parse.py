"""Lengths, slopes, angles, numbers and corner points as people type them.

Everything is read exactly (as fractions) and made a float once, at the end. Every error is a ``MeasureError`` of one
sentence: the text, the part that can't be read, and how to write it.
"""

from __future__ import annotations

import math
import re
from fractions import Fraction
from typing import NoReturn

from workbench.errors import MeasureError
from workbench.measure.tokens import Asked, Token, quoted, tokenize, vulgar_fraction

LARGEST_LENGTH = 1_000_000
"""Inches; anything longer (16 miles) is a slip of the keys."""

LARGEST_NUMBER = 1_000_000_000

MM_PER_INCH = Fraction(254, 10)
"""Exact by definition: international yard and pound agreement of 1959 (NIST SP 811, Appendix B)."""

_INCHES = {
    "foot": Fraction(12),
    "inch": Fraction(1),
    "mm": 1 / MM_PER_INCH,
    "cm": 10 / MM_PER_INCH,
    "m": 1000 / MM_PER_INCH,
}
_LENGTH_EXAMPLE = "13' 6 1/2\""
_NUMBER = r"(?:[0-9]+(?:\.[0-9]*)?|\.[0-9]+)"
_MIXED = rf"(?:[0-9]+(?:\s+|-)[0-9]+\s*/\s*[0-9]+|[0-9]+\s*/\s*[0-9]+|{_NUMBER})"
_SIGNED = re.compile(rf"(?P<sign>[+-]?)\s*(?P<value>{_MIXED})\s*(?P<unit>.*)", re.DOTALL)
# After a slash the run is a plain number: 1/2 5/12 is nobody's slope.
_RATIO = re.compile(
    rf"(?P<sign>[+-]?)\s*(?P<rise>{_MIXED})\s*\"?\s*"
    rf"(?:/\s*(?P<under>-?\s*{_NUMBER})|(?::|in)\s*(?P<run>-?\s*{_MIXED}))\s*\"?",
    re.IGNORECASE,
)
_DEGREES = {"°", "deg", "deg.", "degs", "degree", "degrees"}
_PERCENT = {"%", "percent", "per cent"}


def parse_length(text: str, what: str = "Length") -> float:
    """Read a length in inches.

    Reads ``13' 6 1/2"``, ``13'-6 1/2"``, ``6 1/2"``, ``162.5`` (a bare number is inches), ``4128mm``, ``4.128m``,
    and sums such as ``13' 6" + 2 1/2"``. A ``-`` without blanks joins feet to inches or inches to their fraction; with
    a blank on both sides it takes away.

    Args:
        text: As typed.
        what: The field's name, for the error's sentence.

    Raises:
        MeasureError: It can't be read, or is over a million inches.
    """
    asked = Asked(what, text, _LENGTH_EXAMPLE)
    value = _LengthReader(asked, tokenize(asked)).read()
    if abs(value) > LARGEST_LENGTH:
        asked.refuse(f"over {LARGEST_LENGTH:,} inches", f"check the figures and write it like {_LENGTH_EXAMPLE}")
    return float(value)


def parse_slope(text: str, what: str = "Slope") -> float:
    """Read a slope as m = rise/run.

    Reads ``7/12``, ``7:12``, ``7 in 12``, ``6 5/8 in 12``, ``28.9deg``, ``28.9°`` and ``58%``.

    Raises:
        MeasureError: It can't be read, is a bare number, or is not over 0 and under 90°.
    """
    asked = Asked(what, text, "7/12, 28.9deg or 58%")
    clean = _spell_fractions(asked.cleaned())
    ratio = _RATIO.fullmatch(clean)
    if ratio is not None:
        below = ratio["under"] or ratio["run"]
        rise, run = _mixed(asked, ratio["rise"]), _mixed(asked, below.lstrip("- "))
        if ratio["sign"] == "-" or below.startswith("-") or rise == 0 or run == 0:
            _refuse_slope(asked)
        m = float(rise / run)
    else:
        value, unit = _value_and_unit(asked, clean)
        if unit in _DEGREES:
            if not 0 < value < 90:
                _refuse_slope(asked)
            m = math.tan(math.radians(float(value)))
        elif unit in _PERCENT:
            m = float(value / 100)
        elif not unit:
            number = clean.lstrip("+- ")
            hint = f"{number} in 12" if "/" in number else f"{number}/12"
            asked.refuse("a number alone is no slope", f"write {hint if len(hint) < 20 else '7/12'}, or with deg or %")
        elif unit in {"/", ":", "in"}:
            asked.refuse(f"the run after {quoted(unit)} is missing")
        else:
            asked.refuse(f"{quoted(unit)} can't be read")
    # A slope so steep that its angle rounds to 90° is refused like 90° itself.
    if not m > 0 or math.atan(m) >= math.pi / 2:
        _refuse_slope(asked)
    return m


def parse_angle(text: str, what: str = "Angle") -> float:
    """Read an angle in radians.

    Reads ``28.9deg``, ``28.9°``, ``22 1/2°``, ``28.9`` (a bare number is degrees) and ``0.504rad``.

    Raises:
        MeasureError: It can't be read, or is over 360° either way.
    """
    asked = Asked(what, text, "28.9deg")
    value, unit = _value_and_unit(asked, _spell_fractions(asked.cleaned()))
    if not unit or unit in _DEGREES:
        radians = math.radians(float(value))
    elif unit in {"rad", "radian", "radians"}:
        radians = float(value)
    else:
        asked.refuse(f"{quoted(unit)} can't be read")
    if abs(radians) > 2 * math.pi:
        asked.refuse("over 360°", "write an angle of at most 360°")
    return radians


def parse_number(text: str, what: str = "Number") -> float:
    """Read a plain number such as ``12``, ``-0.5`` or ``1 1/2``.

    Args:
        text: As typed.
        what: The field's name, for the error's sentence.

    Raises:
        MeasureError: It can't be read, or is over a thousand million.
    """
    asked = Asked(what, text, "12 or 0.5")
    value, rest = _value_and_unit(asked, _spell_fractions(asked.cleaned()))
    if rest.startswith(","):
        asked.refuse("a comma can't be read in a number", "leave it out, or write a decimal point")
    if rest:
        asked.refuse(f"{quoted(rest)} after the number can't be read")
    if abs(value) > LARGEST_NUMBER:
        asked.refuse(f"over {LARGEST_NUMBER:,}", "check the figures and write a smaller number")
    return float(value)


def parse_points(text: str, what: str = "Outline") -> tuple[tuple[float, float], ...]:
    """Read corner points in inches, as ``"0,0 40',0 40',28' 0,28'"``.

    Pairs "x,y" are parted by blanks; each number is a length without blanks, such as ``480`` or ``13'6-1/2"``.

    Raises:
        MeasureError: There is no pair, or one can't be read; the sentence names the corner, counted from 1.
    """
    pairs = text.split()
    if not pairs:
        raise MeasureError(f"{what} is empty; write it like 0,0 480,0 480,336 0,336.")
    points: list[tuple[float, float]] = []
    for number, pair in enumerate(pairs, start=1):
        corner = f"{what}, corner {number}"
        asked = Asked(corner, pair, "480,336")
        parts = pair.split(",")
        if len(parts) != 2 or not all(parts):
            asked.refuse('not one "x,y" pair', "write it like 480,336 without blanks inside")
        points.append((parse_length(parts[0], f"{corner}, x"), parse_length(parts[1], f"{corner}, y")))
    return tuple(points)


class _LengthReader:
    """Walks the tokens of one length once, left to right."""

    def __init__(self, asked: Asked, tokens: list[Token]) -> None:
        self._asked = asked
        self._tokens = tokens
        self._at = 0

    def read(self) -> Fraction:
        """The whole sum, in inches."""
        sign = self._sign() if self._kind() in {"plus", "minus"} else 1
        total = sign * self._term()
        while self._at < len(self._tokens):
            token = self._tokens[self._at]
            if token.kind not in {"plus", "minus"}:
                self._refuse_piece(token)
            total += self._sign() * self._term()
        return total

    def _kind(self, ahead: int = 0) -> str:
        at = self._at + ahead
        return self._tokens[at].kind if at < len(self._tokens) else "end"

    def _take(self) -> Token:
        self._at += 1
        return self._tokens[self._at - 1]

    def _sign(self) -> int:
        leading = self._at == 0
        token = self._take()
        if self._kind() == "end":
            self._asked.refuse(f"nothing follows the {token.text}")
        if token.kind == "plus":
            return 1
        if not leading and not (token.blank_before and token.blank_after):
            self._asked.refuse(
                f'the - before "{self._tokens[self._at].text}" could join or take away',
                "put a blank on both sides to take away, or write feet and inches like 13'-6 1/2\"",
            )
        return -1

    def _joins(self) -> bool:
        """Whether the next token is a dash without blanks, as in 13'-6 or 6-1/2."""
        if self._kind() != "minus":
            return False
        token = self._tokens[self._at]
        return not token.blank_before and not token.blank_after

    def _term(self) -> Fraction:
        """One length: feet, feet and inches, inches, or a metric length."""
        value, unit = self._quantity()
        if unit != "foot":
            return value * _INCHES[unit or "inch"]
        joined = self._joins()
        if not joined and self._kind() not in {"number", "vulgar"}:
            return value * 12
        if value.denominator != 1:
            self._asked.refuse("the feet before inches are not whole", "write whole feet, like 13' 6 1/2\"")
        if joined:
            self._take()
        inches, unit = self._quantity()
        if unit not in {"", "inch"}:
            self._asked.refuse(f"the second unit {self._tokens[self._at - 1].text} stands where inches belong")
        if inches >= 12:
            self._asked.refuse("12 or more inches after the feet", "write inches under 12 there, like 13' 6 1/2\"")
        return value * 12 + inches

    def _quantity(self) -> tuple[Fraction, str]:
        """A number and its unit; an empty unit where none is written."""
        value = self._mixed()
        return value, self._take().kind if self._kind() in _INCHES else ""

    def _mixed(self) -> Fraction:
        """A whole or decimal number, a fraction, or a whole number and a fraction."""
        if self._kind() == "vulgar":
            return self._take().value
        if self._kind() != "number":
            self._refuse_missing_number()
        if self._kind(1) == "slash":
            return self._fraction()
        whole = self._take()
        dash = 1 if self._joins() else 0
        vulgar = self._kind(dash) == "vulgar"
        if not vulgar and not (self._kind(dash) == "number" and self._kind(dash + 1) == "slash"):
            return whole.value
        self._at += dash
        part = self._take().value if vulgar else self._fraction()
        if "." in whole.text:
            self._asked.refuse(f'a fraction follows the decimal "{whole.text}"', 'write one or the other, like 6 1/2"')
        if part >= 1:
            self._asked.refuse(f'the fraction after "{whole.text}" is not under 1')
        return whole.value + part

    def _fraction(self) -> Fraction:
        upper = self._take()
        self._take()
        if self._kind() != "number":
            self._asked.refuse(f'the fraction "{upper.text}/" has no lower number')
        lower = self._take()
        shown = f'"{upper.text}/{lower.text}"'
        if "." in upper.text or "." in lower.text:
            self._asked.refuse(f"the fraction {shown} has a decimal point in it")
        if lower.value == 0:
            self._asked.refuse(f"the fraction {shown} divides by 0")
        return upper.value / lower.value

    def _refuse_missing_number(self) -> NoReturn:
        if self._kind() == "end":
            self._asked.refuse("a number is missing at the end")
        text = self._tokens[self._at].text
        if self._kind() == "slash":
            self._asked.refuse('the fraction "/" has no upper number')
        self._asked.refuse(f"a number is missing before the {text}")

    def _refuse_piece(self, token: Token) -> NoReturn:
        before = self._tokens[self._at - 1]
        if token.kind in {"number", "vulgar"} and before.kind in _INCHES:
            self._asked.refuse(
                f"{token.text} can't follow {before.text} without a + or -", "write feet first, then inches, or a sum"
            )
        if token.kind in {"number", "vulgar"}:
            self._asked.refuse(f"{token.text} follows {before.text} without a sign or a unit between them")
        self._asked.refuse(f"the {token.text} after {before.text} can't be read")


def _refuse_slope(asked: Asked) -> NoReturn:
    asked.refuse("a slope has to be over 0 and under 90°")


def _spell_fractions(text: str) -> str:
    """Spell ½ as 1/2, with a blank wherever it touches a digit."""
    spelled = ""
    for character in text:
        value = vulgar_fraction(character)
        if value is None:
            touching = spelled.endswith("\0") and character.isdigit()
            spelled = spelled.removesuffix("\0") + (" " if touching else "") + character
        else:
            spelled = spelled.removesuffix("\0")
            blank = " " if spelled[-1:].isdigit() else ""
            spelled += f"{blank}{value.numerator}/{value.denominator}\0"
    return spelled.removesuffix("\0")


def _mixed(asked: Asked, text: str) -> Fraction:
    """The value of text that matches ``_MIXED``."""
    if "/" not in text:
        return Fraction(text)
    front, _, lower = text.partition("/")
    *whole, upper = re.findall("[0-9]+", front)
    if int(lower) == 0:
        asked.refuse(f'the fraction "{upper}/{lower.strip()}" divides by 0')
    part = Fraction(int(upper), int(lower))
    if not whole:
        return part
    if part >= 1:
        asked.refuse(f'the fraction after "{whole[0]}" is not under 1')
    return int(whole[0]) + part


def _value_and_unit(asked: Asked, text: str) -> tuple[Fraction, str]:
    """A number with what follows it, in lower case."""
    match = _SIGNED.fullmatch(text)
    if match is None:
        asked.refuse("it doesn't begin with a number")
    value = _mixed(asked, match["value"])
    return (-value if match["sign"] == "-" else value), match["unit"].strip().lower()
