"""Price brackets: from some slope on a roof costs more by the square, and what would bring it back under.

A slope may be *called* by its nearest whole number, but whether it is over a bracket is judged on the slope to be
framed. That roofers charge more from 8 in 12 on is common practice, no source. It says nothing on safety.
"""

from __future__ import annotations

import math
from collections.abc import Iterable
from dataclasses import dataclass
from typing import Literal

from workbench.errors import BadInput
from workbench.findings import COMMON_PRACTICE, GEOMETRY, Finding
from workbench.measure.trace import Trace
from workbench.measure.units import Units
from workbench.roof.buildable import DEFAULT_LIMITS, BearingLimits
from workbench.roof.landing import LandingAnswer, LandingInput
from workbench.roof.nominal import SLOPE_NOISE_IN_12, Move, MoveWhat, called_in_12, move_in_words, moves_to

ChangeWhat = Literal["run", "rise", "heel_low", "heel_high", "seat"]

_CHANGES: dict[MoveWhat, ChangeWhat] = {
    "run": "run",
    "landing": "rise",
    "hap_low": "heel_low",
    "hap_high": "heel_high",
    "seat": "seat",
}


@dataclass(frozen=True, slots=True)
class Bracket:
    """One row of a price table.

    Attributes:
        from_in_12: The slope it begins at, rise in 12, that slope included.
        price_per_square: Price of a square (100 sq ft of roof plane) in the job's money, None if not known.
        name: What the crew calls it.
    """

    from_in_12: float
    price_per_square: float | None = None
    name: str = ""


USUAL_BRACKET = Bracket(8.0, None, "steep")
"""Roofers usually charge more from 8 in 12 on: common practice, no source."""


@dataclass(frozen=True, slots=True)
class Change:
    """What one measure alone must change by to reach the target slope.

    Attributes:
        what: ``run``; ``rise`` the landing's height less the low plate's; ``heel_low`` and ``heel_high`` the HAPs;
            ``seat`` the seat on the low plate where that is what is given.
        change_in: New less present value, inches.
        move: The same as a move, with what speaks against it.
    """

    what: ChangeWhat
    change_in: float
    move: Move


@dataclass(frozen=True, slots=True)
class Judgement:
    """A solved slope held against one bracket.

    Attributes:
        bracket: The bracket.
        slope_in_12: The slope to be framed.
        over: Whether it is at or over the bracket's beginning.
        target_in_12: The slope to come down to.
        to_reach_target: What each measure alone would have to change by; those that can't do it are left out.
    """

    bracket: Bracket
    slope_in_12: float
    over: bool
    target_in_12: float
    to_reach_target: tuple[Change, ...]


@dataclass(frozen=True, slots=True)
class Saving:
    """What a roof plane costs at the slope to be framed and at the target, in the job's money."""

    now: float
    then: float
    traces: tuple[Trace, ...]

    @property
    def saved(self) -> float:
        """What the target saves; negative if it costs more."""
        return self.now - self.then


def at_or_over(slope_in_12: float, from_in_12: float) -> bool:
    """Whether a slope has reached a bracket; float noise of a billionth does not bring it under."""
    return slope_in_12 >= from_in_12 - SLOPE_NOISE_IN_12


def bracket_of(tangent: float, brackets: Iterable[Bracket]) -> Bracket | None:
    """The bracket a slope (rise / run) falls in: the steepest that it has reached, None below all."""
    reached = [bracket for bracket in brackets if at_or_over(12 * tangent, bracket.from_in_12)]
    return max(reached, key=lambda bracket: bracket.from_in_12, default=None)


def next_bracket(tangent: float, brackets: Iterable[Bracket]) -> Bracket | None:
    """The bracket that begins next above a slope (rise / run), None if it is in the last."""
    ahead = [bracket for bracket in brackets if not at_or_over(12 * tangent, bracket.from_in_12)]
    return min(ahead, key=lambda bracket: bracket.from_in_12, default=None)


def default_target(slope_in_12: float, from_in_12: float) -> float:
    """The slope to come down to where none is asked for.

    Over the bracket it is the next whole number below the bracket's beginning (8 gives 7, 7.5 gives 7), as anything
    between the two is still over. Under it already, it is the next whole number below the slope, never under 1.

    Raises:
        BadInput: No whole slope lies under the bracket.
    """
    if not at_or_over(slope_in_12, from_in_12):
        return float(max(1, _next_lower_whole(slope_in_12)))
    target = _next_lower_whole(from_in_12)
    if target < 1:
        raise BadInput(f"No whole slope lies under a bracket from {_number(from_in_12)} in 12; give the target slope.")
    return float(target)


def judge(
    given: LandingInput,
    answer: LandingAnswer,
    bracket: Bracket = USUAL_BRACKET,
    target_in_12: float | None = None,
    *,
    limits: BearingLimits | None = DEFAULT_LIMITS,
) -> Judgement:
    """Hold a solved slope against a bracket.

    Args:
        given: The input that was solved.
        answer: Its answer.
        bracket: The bracket.
        target_in_12: The slope to come down to; see ``default_target`` for None.
        limits: What the changes are screened against; None leaves the screening out.

    Raises:
        BadInput: Bracket or target is not a slope over 0.
    """
    for label, value in (("bracket", bracket.from_in_12), ("target", target_in_12)):
        if value is not None and not (math.isfinite(value) and value > 0):
            raise BadInput(f"The {label} must be a slope over 0 in 12, not {_number(value)}; give a rise such as 7.")
    slope = answer.in_12
    target = default_target(slope, bracket.from_in_12) if target_in_12 is None else target_in_12
    moves = moves_to(given, answer, target / 12, limits=limits)
    changes = tuple(Change(_CHANGES[m.what], m.change_in, m) for m in moves if m.what in _CHANGES)
    return Judgement(bracket, slope, at_or_over(slope, bracket.from_in_12), target, changes)


def judgement_findings(judgement: Judgement, units: Units | None = None, subject: str = "") -> tuple[Finding, ...]:
    """What a judgement has to say: over the bracket, called otherwise than it costs, a vain target."""
    units = units or Units()
    begins, slope = judgement.bracket.from_in_12, judgement.slope_in_12
    found: list[Finding] = []
    if judgement.over:
        ways = "; or ".join(_change_in_words(change, units) for change in judgement.to_reach_target)
        text = f"{_framed(slope, begins)} is in the price bracket from {_number(begins)} in 12."
        if ways:
            text += f" To come down to {_number(judgement.target_in_12)} in 12, each alone: {ways}."
        found.append(Finding("over-bracket", "warning", subject, text, COMMON_PRACTICE))
    called = called_in_12(slope / 12)
    if at_or_over(called, begins) != judgement.over:
        side = "over" if judgement.over else "under"
        text = (
            f"{_framed(slope, begins)} is called {called} in 12 but is {side} the price bracket from "
            f"{_number(begins)} in 12: have the roofer price the slope that is framed."
        )
        found.append(Finding("called-across-bracket", "warning", subject, text, COMMON_PRACTICE))
    if at_or_over(judgement.target_in_12, begins):
        text = (
            f"The target of {_number(judgement.target_in_12)} in 12 is itself in the price bracket from "
            f"{_number(begins)} in 12; take a lower target."
        )
        found.append(Finding("target-over-bracket", "warning", subject, text, GEOMETRY))
    return tuple(found)


def saving(squares: float, tangent: float, target_in_12: float, brackets: Iterable[Bracket]) -> Saving | None:
    """What coming down to the target saves on planes of one slope, or None where a price is not known.

    The plan area is held, so that the planes shrink by √(1 + m²) as well; a shorter run would save more.

    Args:
        squares: Area of the planes at the present slope, in squares of 100 sq ft.
        tangent: The present slope, rise / run.
        target_in_12: The target, rise in 12.
        brackets: The price table; its first row should begin at 0 so that every slope has a price.

    Raises:
        BadInput: The area is negative or not finite.
    """
    if not (math.isfinite(squares) and squares >= 0):
        raise BadInput("The roof area must be 0 or more squares; check the planes it comes from.")
    table = tuple(brackets)
    here, there = bracket_of(tangent, table), bracket_of(target_in_12 / 12, table)
    if here is None or there is None or here.price_per_square is None or there.price_per_square is None:
        return None
    less = squares * math.hypot(1.0, target_in_12 / 12) / math.hypot(1.0, tangent)
    now, then = squares * here.price_per_square, less * there.price_per_square
    source = "the job's price table"
    traces = (
        Trace(
            "roofing at the slope framed",
            now,
            "money",
            "squares · price",
            f"{squares:.2f} · {here.price_per_square:.2f} = {now:.2f}",
            source,
        ),
        Trace(
            f"roofing at {_number(target_in_12)} in 12",
            then,
            "money",
            "squares · √(1 + m2²) / √(1 + m1²) · price",
            f"{less:.2f} · {there.price_per_square:.2f} = {then:.2f}",
            source,
        ),
    )
    return Saving(now, then, traces)


def _change_in_words(change: Change, units: Units) -> str:
    if change.what != "rise":
        return move_in_words(change.move, units)
    lower, higher = ("landing", "low plate") if change.change_in < 0 else ("low plate", "landing")
    text = f"{lower} lower or {higher} higher by {units.length(abs(change.change_in))}"
    why = ", ".join(code.replace("-", " ") for code in change.move.breaks)
    return f"{text} (can't be built so: {why})" if why else text


def _next_lower_whole(in_12: float) -> int:
    return math.ceil(in_12 - SLOPE_NOISE_IN_12) - 1


def _framed(in_12: float, begins: float) -> str:
    """The solved slope in words, with as many decimals as keep it apart from a bracket it is not at."""
    at = abs(in_12 - begins) <= SLOPE_NOISE_IN_12
    digits = next((n for n in range(2, 9) if at or _number(in_12, n) != _number(begins, n)), 9)
    return f"The slope to be framed, {_number(in_12, digits)} in 12,"


def _number(in_12: float, digits: int = 2) -> str:
    return f"{in_12:.{digits}f}".rstrip("0").rstrip(".") if math.isfinite(in_12) else str(in_12)
