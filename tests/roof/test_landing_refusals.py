"""What the landing solver refuses, in one sentence with the mend. Source of the cases: geometry."""

from __future__ import annotations

import math
from dataclasses import replace

import pytest

from workbench.errors import BadInput, NoSolution
from workbench.roof.landing import LandingInput, solve_landing

USUAL = LandingInput(
    run_in=120.0,
    low_plate_in=96.0,
    landing_in=156.0,
    low_end="hap",
    hap_low_in=6.0,
    seat_in=3.5,
    high_end="notched",
    hap_high_in=6.0,
    depth_in=7.25,
    tangent=0.5,
    ridge_thickness_in=1.5,
)

NONE: list[tuple[str, dict[str, object], str]] = [
    ("landing under the plate", {"landing_in": 90.0}, 'even laid level its top edge is 6" above where it should land'),
    ("landing level with the plate", {"landing_in": 96.0}, "even laid level its top edge is just where"),
    ("whole, too low", {"high_end": "whole", "landing_in": 94.0}, 'bottom edge is 3/4" above where it should land'),
    ("seat, less than its depth up", {"low_end": "seat", "landing_in": 97.0}, 'top edge is 1/4" above'),
    ("seat and whole, level", {"low_end": "seat", "high_end": "whole", "landing_in": 96.0}, "raise the landing"),
    ("deeper than its run", {"high_end": "whole", "run_in": 6.0}, "however steep, its bottom edge stays under"),
    ("run to a landing below", {"find": "run", "landing_in": 80.0}, "starts 1' 4\" above it"),
    ("run within the seat", {"find": "run", "low_end": "seat", "landing_in": 98.0}, 'on a seat 3 1/2" long'),
    ("seat in the air", {"find": "seat", "low_end": "seat", "landing_in": 160.0}, "above the low plate"),
    (
        "seat as long as the run",
        {"find": "seat", "low_end": "seat", "landing_in": 80.0},
        "as long as the run or longer",
    ),
]


@pytest.mark.parametrize(("change", "words"), [case[1:] for case in NONE], ids=[case[0] for case in NONE])
def test_no_solution_says_why_and_what_to_change(change: dict[str, object], words: str) -> None:
    with pytest.raises(NoSolution) as caught:
        solve_landing(replace(USUAL, **change))
    text = str(caught.value)
    assert words in text
    assert text.endswith(".")
    assert text.count(". ") == 0
    assert any(mend in text for mend in ("raise", "lower", "lengthen", "shorten"))


BAD: list[tuple[str, dict[str, object], str]] = [
    ("no run", {"run_in": 0.0}, "The run must be over 0"),
    ("run below 0", {"run_in": -120.0}, "The run must be over 0"),
    ("run not a number", {"run_in": math.nan}, "The run is not a finite number"),
    ("endless run", {"run_in": math.inf}, "The run is not a finite number"),
    ("landing not a number", {"landing_in": math.nan}, "The landing's height"),
    ("plate not a number", {"low_plate_in": math.nan}, "The low plate's height"),
    ("no depth", {"depth_in": 0.0}, "Rafter depth must be over 0"),
    ("depth not a number", {"depth_in": math.nan}, "The rafter depth"),
    ("HAP not a number", {"hap_low_in": math.nan}, "The HAP at the low plate"),
    ("seat below 0", {"low_end": "seat", "seat_in": -1.0}, "The seat can't be"),
    ("seat as long as the run", {"low_end": "seat", "seat_in": 120.0}, "leaves no room"),
    ("run within half the ridge", {"high_end": "ridge", "run_in": 0.5}, "leaves no room"),
    ("ridge below 0", {"high_end": "ridge", "ridge_thickness_in": -1.5}, "The ridge board can't be"),
    ("level slope given", {"find": "landing", "tangent": 0.0}, "The slope must rise"),
    ("falling slope given", {"find": "landing", "tangent": -0.5}, "The slope must rise"),
    ("slope not a number", {"find": "run", "tangent": math.nan}, "The slope is not a finite number"),
    ("upper HAP of a whole rafter", {"find": "hap_high", "high_end": "whole"}, "notched upper end"),
    ("upper HAP at a ridge", {"find": "hap_high", "high_end": "ridge"}, "notched upper end"),
    ("HAP where the seat is given", {"find": "hap_low", "low_end": "seat"}, "follows from the seat"),
    ("seat where the HAP is given", {"find": "seat"}, "follows from the HAP"),
]


@pytest.mark.parametrize(("change", "words"), [case[1:] for case in BAD], ids=[case[0] for case in BAD])
def test_bad_input_names_the_measure_and_the_mend(change: dict[str, object], words: str) -> None:
    with pytest.raises(BadInput) as caught:
        solve_landing(replace(USUAL, **change))
    text = str(caught.value)
    assert words in text
    assert ";" in text or "give" in text


def test_measures_the_ends_do_not_read_are_not_judged() -> None:
    nan = math.nan
    answer = solve_landing(replace(USUAL, seat_in=nan, ridge_thickness_in=nan, tangent=nan))
    assert answer.in_12 == pytest.approx(6)
    answer = solve_landing(replace(USUAL, low_end="seat", hap_low_in=nan, high_end="whole", hap_high_in=nan))
    assert answer.tangent == pytest.approx(60 / 116.5)


def test_a_moment_before_the_edge_there_is_still_an_answer() -> None:
    """Just over level, and a seat just touching, are answers, not refusals."""
    assert solve_landing(replace(USUAL, landing_in=96.01)).tangent == pytest.approx(0.01 / 120)
    touching = 96 + 7.25 * math.sqrt(1.25) + 60 - 6
    seat = solve_landing(replace(USUAL, low_end="seat", find="seat", landing_in=touching - 1e-6)).seat_in
    assert seat == pytest.approx(2e-6, rel=1e-3)
