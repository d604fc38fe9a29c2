"""Typed measures cut into tokens: numbers, marks, signs, each with its place in the text."""

from __future__ import annotations

import re
import unicodedata
from dataclasses import dataclass
from fractions import Fraction
from typing import Literal, NoReturn

from workbench.errors import MeasureError

Kind = Literal["number", "vulgar", "slash", "foot", "inch", "mm", "cm", "m", "plus", "minus"]

LONGEST_TEXT = 100
"""Characters; longer text is no measure, and Python refuses to read integers of thousands of digits."""

_SAME = str.maketrans(
    {
        **dict.fromkeys("‘’‛ʼʹ´`′＇", "'"),
        **dict.fromkeys("“”‟ʺ˝″＂", '"'),
        **dict.fromkeys("‐‑‒–—−﹣－", "-"),
        **dict.fromkeys("⁄∕／", "/"),
        "＋": "+",
        "º": "°",
        "˚": "°",
        "％": "%",
    }
)
_WORDS: dict[str, Kind] = {
    **dict.fromkeys(("ft", "foot", "feet"), "foot"),
    **dict.fromkeys(("in", "inch", "inches"), "inch"),
    **dict.fromkeys(("mm", "millimeter", "millimeters", "millimetre", "millimetres"), "mm"),
    **dict.fromkeys(("cm", "centimeter", "centimeters", "centimetre", "centimetres"), "cm"),
    **dict.fromkeys(("m", "meter", "meters", "metre", "metres"), "m"),
}
_SIGNS: dict[str, Kind] = {"'": "foot", "''": "inch", '"': "inch", "/": "slash", "+": "plus", "-": "minus"}
# The digits are spelled out: \d would take the digits of every script.
_TOKEN = re.compile(r"(?P<number>[0-9]+(?:\.[0-9]*)?|\.[0-9]+)|(?P<word>[^\W\d_]+\.?)|(?P<sign>''|['\"/+-])")


@dataclass(frozen=True, slots=True)
class Token:
    """One piece of a typed measure.

    Attributes:
        kind: What it is.
        text: As written, after look-alike characters are made one.
        value: The number for ``number`` and ``vulgar``, else 0.
        blank_before: A blank stands before it, or the text starts here.
        blank_after: A blank stands after it, or the text ends here.
    """

    kind: Kind
    text: str
    value: Fraction
    blank_before: bool
    blank_after: bool


@dataclass(frozen=True, slots=True)
class Asked:
    """What is being read, for the error's sentence: the field's name, the text as typed and a good example."""

    what: str
    text: str
    example: str

    def refuse(self, trouble: str, mend: str | None = None) -> NoReturn:
        """Raise the one-sentence error.

        Raises:
            MeasureError: Always.
        """
        raise MeasureError(f"{self.what} {quoted(self.text)}: {trouble}; {mend or f'write it like {self.example}'}.")

    def cleaned(self) -> str:
        """The text with look-alike characters made one and the outer blanks off.

        Raises:
            MeasureError: It is empty or too long.
        """
        clean = self.text.translate(_SAME).strip()
        if not clean:
            raise MeasureError(f"{self.what} is empty; write it like {self.example}.")
        if len(clean) > LONGEST_TEXT:
            self.refuse(f"more than {LONGEST_TEXT} characters")
        return clean


def quoted(text: str) -> str:
    """The text in quotes, on one line, printable and short enough for a sentence."""
    line = " ".join(text.split())
    line = "".join(character if character.isprintable() else "?" for character in line)
    return f'"{line}"' if len(line) <= 48 else f'"{line[:45]}..."'


def vulgar_fraction(character: str) -> Fraction | None:
    """The value of a one-character fraction such as ½, or None for any other character."""
    decomposition = unicodedata.decomposition(character)
    if not decomposition.startswith("<fraction>"):
        return None
    upper, _, lower = "".join(chr(int(code, 16)) for code in decomposition.split()[1:]).partition("\u2044")
    return Fraction(int(upper), int(lower)) if lower else None


def tokenize(asked: Asked) -> list[Token]:
    """Cut a length into tokens.

    Raises:
        MeasureError: It is empty, too long, or has a piece that belongs to no length.
    """
    text = asked.cleaned()
    tokens: list[Token] = []
    at = 0
    while at < len(text):
        if text[at].isspace():
            at += 1
            continue
        kind, piece, value = _piece(asked, text, at)
        end = at + len(piece)
        before = at == 0 or text[at - 1].isspace()
        after = end == len(text) or text[end].isspace()
        tokens.append(Token(kind, piece, value, before, after))
        at = end
    return tokens


def _piece(asked: Asked, text: str, at: int) -> tuple[Kind, str, Fraction]:
    vulgar = vulgar_fraction(text[at])
    if vulgar is not None:
        return "vulgar", text[at], vulgar
    match = _TOKEN.match(text, at)
    if match is None:
        if text[at] == ",":
            asked.refuse("a comma can't be read in a number", f"write a decimal point, like {asked.example}")
        asked.refuse(f"{quoted(text[at])} can't be read")
    piece = match.group()
    if match["number"]:
        return "number", piece, Fraction(piece)
    if match["sign"]:
        return _SIGNS[piece], piece, Fraction(0)
    kind = _WORDS.get(piece.rstrip(".").lower())
    if kind is None and at == 0:
        asked.refuse(f"{quoted(piece)} is no number")
    if kind is None:
        asked.refuse(f"the word {quoted(piece)} is no unit", "use ' or ft, \" or in, mm, cm or m")
    return kind, piece, Fraction(0)
