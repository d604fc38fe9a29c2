"""A value past its limits, told in a sentence as a person would say it."""

from __future__ import annotations

import re

from workbench.job.requirements import requirement, steps, value_at, value_words

_RANGE = re.compile(r"Expected `(?:float|int)` (?P<sign><=|>=|<|>) (?P<limit>-?[\d.e+]+)")
_LETTERS = re.compile(r"Expected `str` of length (?P<sign><=|>=) (?P<limit>\d+)")
_WHOLE = re.compile(r"Expected `int`, got `float`")
_PLACE = re.compile(r" - at `(?:key in )?\$(?P<path>[^`]*)`$")
_SIGNS = {"<=": "at most", ">=": "at least", "<": "under", ">": "over"}


def limit_sentence(text: str, tree: object = None) -> str:
    """The reader's message about a value past its limits as a sentence, such as "Plate has to be over 0".

    Args:
        text: The reader's message.
        tree: What it read, as plain lists and objects: so that the sentence can say what stands there.
    """
    found = _PLACE.search(text)
    path = found.group("path") if found else ""
    name = re.sub(r"\[[^\]]*\]", "", path).rpartition(".")[2]
    words = name.removesuffix("_in").replace("_", " ")
    said = f"{words[:1].upper()}{words[1:]}" or "This"
    over = _RANGE.search(text)
    if over is not None:
        return f"{said} has to be {_SIGNS[over.group('sign')]} {_limit(float(over.group('limit')), name)}."
    long = _LETTERS.search(text)
    if long is not None:
        letters = "letter" if long.group("limit") == "1" else "letters"
        return f"{said} has to have {_SIGNS[long.group('sign')]} {long.group('limit')} {letters}."
    if _WHOLE.search(text):
        return f"{said} is a count; give a whole number."
    way = steps(path)
    try:
        stands = value_at(tree, way)
    except LookupError:
        stands = None
    wanted = requirement(way, stands) or "what the schema command lists"
    return f"{said} can't be {'that' if stands is None else value_words(stands)}; give {wanted}."


def _limit(value: float, name: str) -> str:
    if not name.endswith("_in") or value == 0.0:
        return f"{value:,g}" if abs(value) < 1e6 else f"{value:,.0f}"
    feet = f" ({value / 12.0:,g} ft)" if abs(value) >= 24.0 else ""
    return f"{value:,g} in{feet}"
