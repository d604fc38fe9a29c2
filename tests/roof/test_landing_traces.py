"""Every traced formula of a landing, read as arithmetic with the measures put in, gives the traced figure.

Source: geometry; the reader here knows nothing of the solver.
"""

from __future__ import annotations

import math
import re
from dataclasses import replace

import pytest

from workbench.measure.units import Units
from workbench.roof.landing import HighEnd, LandingAnswer, LandingInput, LowEnd, Unknown, settled, solve_landing

USUAL = LandingInput(
    run_in=162.5,
    low_plate_in=97.125,
    landing_in=182.0,
    low_end="hap",
    hap_low_in=6.5,
    seat_in=3.5,
    high_end="notched",
    hap_high_in=7.0,
    depth_in=9.25,
    tangent=math.nan,
    ridge_thickness_in=1.5,
)
UNKNOWNS: tuple[Unknown, ...] = ("slope", "run", "low_plate", "landing", "hap_low", "hap_high", "seat")
CASES = [
    (low, high, find)
    for low in ("hap", "seat")
    for high in ("notched", "whole", "ridge", "face")
    for find in UNKNOWNS
    if find not in (("seat" if low == "hap" else "hap_low"), None if high == "notched" else "hap_high")
]


def reckoned(formula: str, given: LandingInput, answer: LandingAnswer) -> float:
    """The right side of a formula as a number, in degrees where it gives an angle."""
    names = {
        "z0": answer.low_plate_in,
        "z1": answer.landing_in,
        "h0": answer.hap_low_in,
        "h1": answer.hap_high_in,
        "R": answer.run_in,
        "s": answer.seat_in,
        "d": given.depth_in,
        "t": given.ridge_thickness_in,
        "m": answer.tangent,
        "theta": answer.angle,
        "pi": math.pi,
    }
    functions = {"tan": math.tan, "atan": math.atan, "asin": math.asin, "cos": math.cos, "sqrt": math.sqrt}

    def number(text: str) -> float:
        for sign, spelt in (("−", "-"), ("²", "**2"), ("√", "sqrt"), ("Δ", "D"), ("·", "*"), ("180°", "pi")):
            text = text.replace(sign, spelt)
        text = re.sub(r"\b(cos|tan) θ", r"\1(theta)", text).replace("atan m", "atan(m)")
        return float(eval(text, {"__builtins__": {}}, names | functions))

    left, right = formula.split(" = ", 1)
    right, _, where = right.partition(" with ")
    if where:
        names["D"] = number(where.removeprefix("Δ = "))
    value = number(right)
    return {"m": 12 * value, "θ": math.degrees(value)}.get(left, value)


@pytest.mark.parametrize(("low", "high", "find"), CASES)
def test_formulas_give_the_traced_figures(low: LowEnd, high: HighEnd, find: Unknown) -> None:
    drawn = replace(USUAL, low_end=low, high_end=high)
    given = replace(settled(drawn, solve_landing(drawn)), find=find)
    answer = solve_landing(given)
    assert len(answer.traces) == {"notched": 7, "whole": 6}.get(high, 5)
    for trace in answer.traces:
        assert reckoned(trace.formula, given, answer) == pytest.approx(trace.value, rel=1e-9), trace
        assert trace.source == "geometry"
        # Nothing of the formula is left unfilled, and the values end in the figure.
        assert not re.search(r"(?<![A-Za-z])(z0|z1|h0|h1|R|s|d|t|m|θ|Δ)(?![A-Za-z])", trace.values.replace(" mm", ""))
    first = answer.traces[0]
    field = {"slope": "in_12"}.get(find, f"{find}_in")
    assert first.value == getattr(answer, field)


def test_the_steeper_of_two_answers_is_traced_as_well() -> None:
    given = replace(
        USUAL, high_end="whole", run_in=10.0, low_plate_in=0.0, landing_in=0.0, hap_low_in=9.0, depth_in=12.0
    )
    answer = solve_landing(given)
    for one in (answer, *answer.also):
        assert reckoned(one.traces[0].formula, given, one) == pytest.approx(one.in_12, rel=1e-9)


def test_values_are_written_in_the_units_asked_for() -> None:
    slope = solve_landing(USUAL).traces[0]
    assert slope.values == '(15\' 2" + 7" − 8\' 1 1/8" − 6 1/2") / 13\' 6 1/2" = 6.3 in 12'
    metric = solve_landing(USUAL, units=Units(system="mm")).traces[0]
    assert metric.values == "(4623 mm + 178 mm − 2467 mm − 165 mm) / 4128 mm = 6.3 in 12"
