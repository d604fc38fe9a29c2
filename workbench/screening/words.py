"""How a check is said: a use ratio as a sentence, loads, sizes. No colour says what a word doesn't."""

from __future__ import annotations

import math
from collections.abc import Sequence

from workbench.measure import Units
from workbench.screening.model import Check, CheckKind, Load, Verdict

_NOISE = 1e-9
_NO_SHARE: frozenset[CheckKind] = frozenset(("covering", "ridge_height", "headroom"))
"""Kinds whose figures say more than a share of what is allowed would."""

NOT_SCREENED = (
    "A check that passes says that nothing stands against it in one table. Wind, uplift, drifts, bracing and every "
    "joint are for the engineer and the local code."
)
CHECK_WORDS: dict[CheckKind, str] = {
    "rafter_span": "Rafter spans",
    "hip": "Hips and valleys",
    "header": "Headers and trimmers",
    "sheathing_span": "Panel spans",
    "sheathing_load": "Loads on panels",
    "thrust": "What ties the plates",
    "push": "Push of whole rafters",
    "notch": "Notches",
    "ridge": "Ridge",
    "covering": "Least slope of the covering",
    "ridge_height": "Height of the roof",
    "headroom": "Headroom",
    "rake_overhang": "Rake overhang",
    "lookout": "Lookouts",
    "tail_overhang": "Tail overhang",
}
"""Heading of each kind of check, in the order they are listed."""

_GRAVE: dict[Verdict, int] = {"fails": 0, "open": 1, "engineer": 2, "passes": 3, "not_known": 4}

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


def spacing_words(inches: float, units: Units) -> str:
    """A spacing as it is called: ``24"``, ``19.2"``; or millimetres."""
    return units.length(inches) if units.system == "mm" else f'{inches:g}"'


def shown_checks(checks: Sequence[Check], kind: CheckKind, *, every: bool = False) -> tuple[list[Check], int]:
    """The checks of a kind that do not pass, else the one that uses most; and how many are left unsaid.

    Args:
        checks: All checks.
        kind: Which of them.
        every: All of the kind, the worst first.
    """
    mine = sorted(
        (check for check in checks if check.kind == kind),
        key=lambda check: (_GRAVE[check.verdict], -(check.use or 0.0)),
    )
    bad = [check for check in mine if check.verdict in ("fails", "open")]
    shown = mine if every else (bad or mine[:1])
    return shown, len(mine) - len(shown)
