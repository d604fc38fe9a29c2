"""How far a whole-number slope would miss the landing, and what would have to move to make it hit."""

from __future__ import annotations

import math
from collections import Counter
from collections.abc import Iterable
from dataclasses import dataclass, replace
from typing import Literal

from workbench.errors import NoSolution
from workbench.measure.units import Units
from workbench.roof.buildable import DEFAULT_LIMITS, BearingLimits
from workbench.roof.landing import LandingAnswer, LandingInput, landing_miss, settled, solve_landing

MoveWhat = Literal["run", "landing", "low_plate", "hap_low", "hap_high", "seat"]

STEEPEST_IN_12 = 24
"""The last whole slope looked at, unless the solved slope is steeper itself."""

# Two ways of reckoning one slope differ in the last bits; 8 in 12 must stay 8.
SLOPE_NOISE_IN_12 = 1e-9

_WORDS: dict[MoveWhat, tuple[str, str, str]] = {
    "run": ("run", "longer", "shorter"),
    "landing": ("landing", "higher", "lower"),
    "low_plate": ("low plate", "higher", "lower"),
    "hap_low": ("HAP at the low plate", "more", "less"),
    "hap_high": ("HAP on the landing", "more", "less"),
    "seat": ("seat", "longer", "shorter"),
}


@dataclass(frozen=True, slots=True)
class Move:
    """The change of one measure that alone brings the rafter to a slope.

    Attributes:
        what: The measure that changes.
        change_in: New less present value, inches.
        breaks: Codes of the errors that the change brings and the present rafter is free of.
    """

    what: MoveWhat
    change_in: float
    breaks: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class NominalSlope:
    """A whole slope beside the solved one.

    Attributes:
        in_12: The slope, rise in 12.
        miss_in: How far above (+) or below (−) its target the rafter would be at the landing, plumb inches.
        moves: What would have to change, each alone, to make it hit.
    """

    in_12: int
    miss_in: float
    moves: tuple[Move, ...]


def called_in_12(tangent: float) -> int:
    """The whole number a slope is called by, the nearest; halves upward. Common practice, no source."""
    return math.floor(12 * tangent + 0.5 + SLOPE_NOISE_IN_12)


def nominal_slopes(
    given: LandingInput,
    answer: LandingAnswer,
    *,
    around: int = 3,
    also: Iterable[int] = (),
    limits: BearingLimits | None = DEFAULT_LIMITS,
) -> tuple[NominalSlope, ...]:
    """The whole slopes near the solved one, shallowest first, each with its miss and the moves that mend it.

    Args:
        given: The input that was solved.
        answer: Its answer; where it found another measure than the slope, that measure is taken as given now.
        around: How many whole slopes below and above; a slope that is whole itself is listed besides.
        also: Further whole slopes to list, 1 or more.
        limits: What moves are screened against; None leaves the screening out.
    """
    fixed = settled(given, answer)
    solved = answer.in_12
    first = math.ceil(solved - SLOPE_NOISE_IN_12) - around
    last = math.floor(solved + SLOPE_NOISE_IN_12) + around
    near = range(max(1, first), min(last, max(STEEPEST_IN_12, math.ceil(solved))) + 1)
    wanted = sorted({*near, *(n for n in also if n >= 1)})
    return tuple(
        NominalSlope(n, landing_miss(fixed, n / 12), moves_to(given, answer, n / 12, limits=limits)) for n in wanted
    )


def moves_to(
    given: LandingInput, answer: LandingAnswer, tangent: float, *, limits: BearingLimits | None = DEFAULT_LIMITS
) -> tuple[Move, ...]:
    """The changes that each alone would land the rafter at a slope; a measure that can't do it is left out."""
    fixed = settled(given, answer)
    present = _errors(solve_landing(replace(fixed, find="landing"), limits=limits))
    moves = (_move(fixed, what, tangent, present, limits) for what in movable(given))
    return tuple(move for move in moves if move is not None)


def movable(given: LandingInput) -> tuple[MoveWhat, ...]:
    """The measures that are given, not following, for these ends."""
    what: list[MoveWhat] = ["run", "landing", "low_plate", "hap_low" if given.low_end == "hap" else "seat"]
    if given.high_end == "notched":
        what.append("hap_high")
    return tuple(what)


def move_in_words(move: Move, units: Units | None = None) -> str:
    """A move as ``landing 3/4" lower``, with a word where it can't be built so."""
    units = units or Units()
    name, more, less = _WORDS[move.what]
    text = f"{name} {units.length(abs(move.change_in))} {more if move.change_in >= 0 else less}"
    why = ", ".join(code.replace("-", " ") for code in move.breaks)
    return f"{text} (can't be built so: {why})" if why else text


def miss_in_words(nominal: NominalSlope, units: Units | None = None) -> str:
    """A nominal slope's miss as ``7 in 12: 5 1/16" above the landing``."""
    units = units or Units()
    shown = units.round_to_fraction(nominal.miss_in)
    if shown == 0:
        return f"{nominal.in_12} in 12: on the landing"
    side = "above" if shown > 0 else "below"
    return f"{nominal.in_12} in 12: {units.length(abs(nominal.miss_in))} {side} the landing"


def _move(
    fixed: LandingInput, what: MoveWhat, tangent: float, present: Counter[str], limits: BearingLimits | None
) -> Move | None:
    try:
        moved = solve_landing(replace(fixed, find=what, tangent=tangent), limits=limits)
    except NoSolution:
        return None
    measure = _measure(settled(fixed, moved), what)
    breaks = _errors(moved) - present
    # A HAP below nothing is no rafter, whether or not the ends are screened and however they stand now.
    if what in ("hap_low", "hap_high") and measure < 0:
        breaks["hap-not-positive"] = 1
    return Move(what, measure - _measure(fixed, what), tuple(breaks))


def _measure(given: LandingInput, what: MoveWhat) -> float:
    return {
        "run": given.run_in,
        "landing": given.landing_in,
        "low_plate": given.low_plate_in,
        "hap_low": given.hap_low_in,
        "hap_high": given.hap_high_in,
        "seat": given.seat_in,
    }[what]


def _errors(answer: LandingAnswer) -> Counter[str]:
    """Codes of the errors, counted: a second end that fails is one more than the first."""
    return Counter(finding.code for finding in answer.findings if finding.severity == "error")
