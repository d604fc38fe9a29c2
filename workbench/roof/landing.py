"""Where a rafter lands: the slope, or any other one measure, from the rest.

A section square to the plate. The rafter's top edge is the line z = z_low + m·x; it passes through
``(0, low plate + HAP)`` at the low bearing line and at the upper end through

- ``notched``: (R, landing + HAP), a bird's-mouth there too;
- ``whole``: (R, landing + d / cos θ), the bottom edge resting on the block's eave-side top corner;
- ``ridge``: (R − t/2, top of the ridge board), R to its centreline, tops flush;
- ``face``: (R, top of the ledger or beam), R to its face.

Where the seat s is given in place of the low HAP, that HAP is d / cos θ − s·tan θ. Every unknown has a closed form:
with d / cos θ on one side only, the equation in θ is R·sin θ − Δ·cos θ = ±d. Source: geometry.
"""

from __future__ import annotations

import math
from dataclasses import replace
from typing import assert_never

from workbench.errors import NoSolution
from workbench.findings import Finding, in_order
from workbench.measure.units import Units
from workbench.roof.buildable import (
    DEFAULT_LIMITS,
    BearingLimits,
    Notch,
    notch_findings,
    push_finding,
    ridge_finding,
)
from workbench.roof.landing_traces import landing_traces
from workbench.roof.landing_values import (
    LEVEL,
    UPRIGHT,
    HighEnd,
    LandingAnswer,
    LandingInput,
    LowEnd,
    Unknown,
    check_input,
)

__all__ = [
    "HighEnd",
    "LandingAnswer",
    "LandingInput",
    "LowEnd",
    "Unknown",
    "landing_miss",
    "settled",
    "solve_landing",
]


def solve_landing(
    given: LandingInput,
    *,
    units: Units | None = None,
    limits: BearingLimits | None = DEFAULT_LIMITS,
    subject: str = "",
) -> LandingAnswer:
    """The rafter that lands, with the measure named by ``given.find`` found.

    Args:
        given: What is known, and what to find.
        units: How lengths are shown in texts; feet and inches if None.
        limits: What the ends are screened against; None leaves the screening out.
        subject: Id of what the findings are about.

    Raises:
        BadInput: A measure can't be used, or the unknown does not belong to these ends.
        NoSolution: No rafter lands so; the text says why and what to change.
    """
    units = units or Units()
    check_input(given, units)
    tangents = _slopes(given, units) if given.find == "slope" else (given.tangent,)
    answers = [_answer(_settle(given, m, units), given, units, limits, subject) for m in tangents]
    return replace(answers[0], also=tuple(answers[1:]))


def settled(given: LandingInput, answer: LandingAnswer) -> LandingInput:
    """The input with every measure as solved and the slope as the unknown again."""
    return replace(
        given,
        find="slope",
        tangent=answer.tangent,
        run_in=answer.run_in,
        low_plate_in=answer.low_plate_in,
        landing_in=answer.landing_in,
        hap_low_in=answer.hap_low_in,
        seat_in=answer.seat_in,
        hap_high_in=answer.hap_high_in,
    )


def landing_miss(given: LandingInput, tangent: float) -> float:
    """How far above (+) or below (−) its target the rafter is at the landing if framed at this slope, plumb inches.

    All else stays as given: the low end bears as it does, ``find`` is not regarded.
    """
    return _low_top(given, tangent) + tangent * given.reach_in - _high_top(given, tangent)


def _plumb(given: LandingInput, m: float) -> float:
    """Plumb depth of the rafter, d / cos θ."""
    return given.depth_in * math.hypot(1.0, m)


def _hap_low(given: LandingInput, m: float) -> float:
    return given.hap_low_in if given.low_end == "hap" else _plumb(given, m) - given.seat_in * m


def _hap_high(given: LandingInput, m: float) -> float:
    if given.high_end == "notched":
        return given.hap_high_in
    return _plumb(given, m) if given.high_end == "whole" else 0.0


def _low_top(given: LandingInput, m: float) -> float:
    return given.low_plate_in + _hap_low(given, m)


def _high_top(given: LandingInput, m: float) -> float:
    return given.landing_in + _hap_high(given, m)


def _slopes(given: LandingInput, units: Units) -> tuple[float, ...]:
    """Every slope between level and upright that lands, the shallowest first."""
    x, rise, depth = given.reach_in, given.landing_in - given.low_plate_in, given.depth_in
    whole = given.high_end == "whole"
    hap_high = given.hap_high_in if given.high_end == "notched" else 0.0
    if given.low_end == "hap":
        drop = rise - given.hap_low_in
        roots = _sine_roots(x, drop, depth) if whole else ((drop + hap_high) / x,)
    else:
        x -= given.seat_in
        roots = (rise / x,) if whole else _sine_roots(x, rise + hap_high, -depth)
    landing = tuple(sorted(m for m in roots if LEVEL < m < UPRIGHT))
    if not landing:
        raise NoSolution(_why_no_slope(given, units))
    return landing


def _sine_roots(x: float, rise: float, depth: float) -> tuple[float, ...]:
    """Tangents of the angles from 0 to 90 degrees with x·sin θ − rise·cos θ = depth."""
    far = math.hypot(x, rise)
    # A rafter that only just fits is a double root, which rounding may push out of reach of the arc sine.
    if abs(depth) > far * (1 + 1e-12):
        return ()
    lean = math.asin(max(-1.0, min(1.0, depth / far)))
    base = math.atan2(rise, x)
    angles = {base + lean, base + math.pi - lean}
    return tuple(math.tan(angle) for angle in angles if 0 < angle < math.pi / 2)


def _why_no_slope(given: LandingInput, units: Units) -> str:
    over = landing_miss(given, 0.0)
    edge = "bottom edge" if given.high_end == "whole" else "top edge"
    if over >= -LEVEL * given.run_in:
        level = "just where" if over < 1e-6 else f"{units.length(over)} above where"
        hap = " or make the HAP there less" if given.low_end == "hap" else ""
        return (
            f"No rising rafter lands: even laid level its {edge} is {level} it should land; "
            f"raise the landing, lower the low plate{hap}."
        )
    return (
        f"No slope lands a rafter {units.length(given.depth_in)} deep in a run of {units.length(given.run_in)}: "
        f"however steep, its {edge} stays under the landing; lengthen the run, take a shallower rafter or lower the "
        f"landing."
    )


def _settle(given: LandingInput, m: float, units: Units) -> LandingInput:
    """The input with its slope set and its unknown replaced by what the slope makes it."""
    found = replace(given, tangent=m)
    match given.find:
        case "slope":
            return found
        case "run":
            return replace(found, run_in=_found_run(found, units))
        case "low_plate":
            return replace(found, low_plate_in=_high_top(found, m) - m * found.reach_in - _hap_low(found, m))
        case "landing":
            return replace(found, landing_in=_low_top(found, m) + m * found.reach_in - _hap_high(found, m))
        case "hap_high":
            return replace(found, hap_high_in=_low_top(found, m) + m * found.reach_in - found.landing_in)
        case "hap_low":
            return replace(found, hap_low_in=_high_top(found, m) - m * found.reach_in - found.low_plate_in)
        case "seat":
            hap = _high_top(found, m) - m * found.reach_in - found.low_plate_in
            return replace(found, seat_in=_found_seat(found, (_plumb(found, m) - hap) / m, units))
        case _:
            assert_never(given.find)


def _found_run(given: LandingInput, units: Units) -> float:
    m = given.tangent
    rise = _high_top(given, m) - _low_top(given, m)
    least = given.seat_in if given.low_end == "seat" else 0.0
    if rise <= 0:
        raise NoSolution(
            f"No run lands the rafter at {units.slope(m)}: its top edge should rise to the landing but starts "
            f"{units.length(-rise)} above it; raise the landing or lower the low plate."
        )
    if rise / m <= least:
        raise NoSolution(
            f"No run lands the rafter at {units.slope(m)}: the landing would stand {units.length(rise / m)} from the "
            f"low bearing line, on a seat {units.length(least)} long; raise the landing or lower the low plate."
        )
    return rise / m + given.setback_in


def _found_seat(given: LandingInput, seat: float, units: Units) -> float:
    slope = units.slope(given.tangent)
    if seat < 0:
        raise NoSolution(
            f"No seat lands the rafter at {slope}: its bottom edge would pass {units.length(-seat * given.tangent)} "
            f"above the low plate; raise the low plate, lower the landing or take a steeper slope."
        )
    if seat >= given.reach_in:
        raise NoSolution(
            f"No seat lands the rafter at {slope}: it would have to be {units.length(seat)} long, as long as the run "
            f"or longer; lower the low plate, raise the landing or take a shallower slope."
        )
    return seat


def _answer(
    found: LandingInput, given: LandingInput, units: Units, limits: BearingLimits | None, subject: str
) -> LandingAnswer:
    m, plumb = found.tangent, _plumb(found, found.tangent)
    hap_low, hap_high = _hap_low(found, m), _hap_high(found, m)
    answer = LandingAnswer(
        tangent=m,
        run_in=found.run_in,
        low_plate_in=found.low_plate_in,
        landing_in=found.landing_in,
        hap_low_in=hap_low,
        hap_high_in=hap_high,
        seat_in=found.seat_in if found.low_end == "seat" else (plumb - hap_low) / m,
        seat_high_in=(plumb - hap_high) / m if found.high_end == "notched" else 0.0,
        length_in=found.run_in * math.hypot(1.0, m),
        traces=(),
        findings=(),
    )
    return replace(
        answer,
        traces=landing_traces(given, answer, units),
        findings=() if limits is None else _findings(found, answer, units, limits, subject),
    )


def _findings(
    found: LandingInput, answer: LandingAnswer, units: Units, limits: BearingLimits, subject: str
) -> tuple[Finding, ...]:
    m, depth = answer.tangent, found.depth_in
    notches = [Notch("the low plate", answer.hap_low_in, answer.seat_in)]
    if found.high_end == "notched":
        notches.append(Notch("the landing", answer.hap_high_in, answer.seat_high_in))
    made = [f for n in notches for f in notch_findings(n, m, depth, limits=limits, units=units, subject=subject)]
    if found.high_end == "whole":
        made.append(push_finding(m, units, subject))
    if found.high_end == "ridge" and (beam := ridge_finding(m, limits, units, subject)):
        made.append(beam)
    return in_order(made)
