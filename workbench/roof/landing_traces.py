"""How the figures of a landing were found: formulas with their values."""

from __future__ import annotations

import math
import re
from collections.abc import Mapping

from workbench.findings import GEOMETRY
from workbench.measure.trace import Trace, TraceUnit
from workbench.measure.units import Units
from workbench.roof.landing_values import LandingAnswer, LandingInput

_SYMBOL = re.compile(r"(?<![A-Za-z])(z0|z1|h0|h1|R|s|d|t|m|θ|Δ)(?![A-Za-z0-9])(²?)")


def landing_traces(given: LandingInput, answer: LandingAnswer, units: Units) -> tuple[Trace, ...]:
    """The traces of an answer, the found measure first.

    The formulas use z0 low plate, z1 landing, h0 and h1 the HAPs, R run, s seat, d rafter depth, t ridge thickness,
    m slope, θ its angle; s1 and n1 are the seat and notch at the landing, n the notch at the low plate.
    """
    shown = _shown(given, answer, units)

    def length(name: str, value: float, formula: str) -> Trace:
        return _trace(name, value, "in", formula, shown, units.length(value))

    theta = answer.angle
    if given.find == "slope":
        formula = _slope_formula(given, answer)
        traces = [_trace("slope", answer.in_12, "in_12", formula, shown, units.slope(answer.tangent))]
    else:
        name, value, formula = _found(given, answer)
        traces = [length(name, value, formula)]
    traces.append(_trace("slope angle", math.degrees(theta), "deg", "θ = atan m", shown, units.angle(theta)))
    traces.append(length("length along the slope", answer.length_in, "L = R / cos θ"))
    if given.low_end == "seat":
        traces.append(length("HAP at the low plate", answer.hap_low_in, "h0 = d / cos θ − s · tan θ"))
    else:
        traces.append(length("seat on the low plate", answer.seat_in, "s = (d / cos θ − h0) / m"))
    traces.append(length("notch at the low plate", answer.seat_in * math.sin(theta), "n = d − h0 · cos θ"))
    if given.high_end == "whole":
        traces.append(length("HAP on the landing", answer.hap_high_in, "h1 = d / cos θ"))
    if given.high_end == "notched":
        traces.append(length("seat on the landing", answer.seat_high_in, "s1 = (d / cos θ − h1) / m"))
        traces.append(length("notch at the landing", answer.seat_high_in * math.sin(theta), "n1 = d − h1 · cos θ"))
    return tuple(traces)


def _trace(name: str, value: float, unit: TraceUnit, formula: str, shown: Mapping[str, str], result: str) -> Trace:
    """A trace whose values are the formula's right side with each symbol replaced by what it stands for."""
    right, _, where = formula.split(" = ", 1)[1].partition(" with ")
    values = f"{_filled(right, shown)} = {result}"
    if where:
        values += f" with {_filled(where, shown)}"
    return Trace(name, value, unit, formula, values, GEOMETRY)


def _filled(formula: str, shown: Mapping[str, str]) -> str:
    def value(found: re.Match[str]) -> str:
        text = shown[found[1]]
        return f"({text}){found[2]}" if found[2] or text.startswith("-") else text

    return _SYMBOL.sub(value, formula)


def _drop(given: LandingInput, answer: LandingAnswer) -> tuple[float, str]:
    """The Δ of the formulas: the rise of the top edge less any d / cos θ, and how it is made up."""
    rise = answer.landing_in - answer.low_plate_in
    if given.low_end == "hap":
        return rise - answer.hap_low_in, "Δ = z1 − z0 − h0"
    return (rise + answer.hap_high_in, "Δ = z1 + h1 − z0") if given.high_end == "notched" else (rise, "Δ = z1 − z0")


def _shown(given: LandingInput, answer: LandingAnswer, units: Units) -> dict[str, str]:
    lengths = {
        "z0": answer.low_plate_in,
        "z1": answer.landing_in,
        "h0": answer.hap_low_in,
        "h1": answer.hap_high_in,
        "R": answer.run_in,
        "s": answer.seat_in,
        "d": given.depth_in,
        "t": 2 * given.setback_in,
        "Δ": _drop(given, answer)[0],
    }
    shown = {symbol: units.length(value) for symbol, value in lengths.items()}
    return shown | {"m": f"({answer.in_12:.4g}/12)", "θ": units.angle(answer.angle)}


def _slope_formula(given: LandingInput, answer: LandingAnswer) -> str:
    """The closed form the slope came from, for these ends."""
    drop, made = _drop(given, answer)
    if given.low_end == "hap" and given.high_end == "whole":
        lean = math.asin(min(1.0, given.depth_in / math.hypot(given.run_in, drop)))
        first = math.isclose(math.atan2(drop, given.run_in) + lean, answer.angle, rel_tol=1e-9)
        turn, sign = ("", "+") if first else ("180° + ", "−")
        return f"m = tan({turn}atan(Δ / R) {sign} asin(d / √(R² + Δ²))) with {made}"
    if given.low_end == "hap":
        return f"m = (z1 − z0 − h0) / {_reach(given)}" if given.high_end != "notched" else "m = (z1 + h1 − z0 − h0) / R"
    if given.high_end == "whole":
        return "m = (z1 − z0) / (R − s)"
    reach = "(R − t/2 − s)" if given.high_end == "ridge" else "(R − s)"
    return f"m = tan(atan(Δ / {reach}) − asin(d / √({reach}² + Δ²))) with {made}"


def _reach(given: LandingInput) -> str:
    return "(R − t/2)" if given.high_end == "ridge" else "R"


def _found(given: LandingInput, answer: LandingAnswer) -> tuple[str, float, str]:
    """Name, value and formula of an unknown other than the slope."""
    rise = f"m · {_reach(given)}"
    high = "" if given.high_end in ("ridge", "face") else " + h1"
    match given.find:
        case "run":
            board = " + t/2" if given.high_end == "ridge" else ""
            return "run", answer.run_in, f"R = (z1{high} − z0 − h0) / m{board}"
        case "low_plate":
            return "low plate height", answer.low_plate_in, f"z0 = z1{high} − h0 − {rise}"
        case "landing":
            return "landing height", answer.landing_in, f"z1 = z0 + h0 + {rise}{high.replace('+', '−')}"
        case "hap_high":
            return "HAP on the landing", answer.hap_high_in, f"h1 = z0 + h0 + {rise} − z1"
        case "hap_low":
            return "HAP at the low plate", answer.hap_low_in, f"h0 = z1{high} − z0 − {rise}"
        case _:
            formula = f"s = (d / cos θ + z0 + {rise} − z1{high.replace('+', '−')}) / m"
            return "seat on the low plate", answer.seat_in, formula
