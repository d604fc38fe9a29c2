"""How a check is said: a use ratio as a sentence, loads, sizes. No colour says what a word doesn't."""

from __future__ import annotations

import math

from workbench.measure import Units
from workbench.screening.model import Check, CheckKind, Load

_NOISE = 1e-9
_NO_SHARE: frozenset[CheckKind] = frozenset(("covering", "ridge_height", "headroom"))
"""Kinds whose figures say more than a share of what is allowed would."""

LOAD_WORDS: dict[Load, str] = {"roof_live": "roof live load", "snow": "snow"}


def use_words(use: float) -> str:
    """``86 % of what is allowed is used`` or ``12 % more than is allowed``; never rounded over the limit."""
    if use <= 1.0 + _NOISE:
        return f"{min(100, math.ceil(100.0 * use - _NOISE))} % of what is allowed is used"
    over = max(1, math.ceil(100.0 * (use - 1.0) - _NOISE))
    return f"{over} % more than is allowed"


def verdict_words(check: Check) -> str:
    """The result of a check as a sentence without its full stop."""
    share = None if check.kind in _NO_SHARE else check.use
    match check.verdict:
        case "passes":
            return "passes" if share is None else f"passes: {use_words(share)}"
        case "fails":
            return "does not pass" if share is None else f"does not pass: {use_words(share)}"
        case "open":
            return "not settled"
        case "engineer":
            return "for the engineer"
        case "not_known":
            return "not screened"


def psf(value: float) -> str:
    """A load: ``20 psf``, ``23.1 psf``."""
    return f"{value:.1f}".removesuffix(".0") + " psf"


def plf(value: float) -> str:
    """A force along a wall, up to a whole pound: ``312 lb a foot``."""
    return f"{math.ceil(value - 1e-6):,} lb a foot"


def spacing_words(inches: float, units: Units) -> str:
    """A spacing as it is called: ``24"``, ``19.2"``; or millimetres."""
    return units.length(inches) if units.system == "mm" else f'{inches:g}"'
