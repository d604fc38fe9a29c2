"""Misses of whole slopes, and moves that make them hit."""

from __future__ import annotations

import math
from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from shapely.geometry import LineString

from workbench.measure.units import Units
from workbench.roof.landing import HighEnd, LandingInput, LowEnd, solve_landing
from workbench.roof.nominal import (
    Move,
    NominalSlope,
    called_in_12,
    miss_in_words,
    movable,
    move_in_words,
    moves_to,
    nominal_slopes,
)

USUAL = LandingInput(
    run_in=162.5,
    low_plate_in=97.125,
    landing_in=187.0,
    low_end="hap",
    hap_low_in=6.5,
    seat_in=3.5,
    high_end="notched",
    hap_high_in=6.5,
    depth_in=7.25,
    tangent=0.0,
    ridge_thickness_in=1.5,
)
ENDS: list[tuple[LowEnd, HighEnd]] = [
    (low, high) for low in ("hap", "seat") for high in ("notched", "whole", "ridge", "face")
]


def drawn_miss(r: LandingInput, in_12: int) -> float:
    """The miss by drawing: edges as long lines, cut by the plumb line at the landing (shapely). Source: geometry."""
    theta = math.atan(in_12 / 12)
    along, normal = (math.cos(theta), math.sin(theta)), (-math.sin(theta), math.cos(theta))
    if r.low_end == "hap":
        x, z, on_top = 0.0, r.low_plate_in + r.hap_low_in, True
    else:
        x, z, on_top = r.seat_in, r.low_plate_in, False
    want_top = r.high_end != "whole"
    shift = r.depth_in * (int(want_top) - int(on_top))
    x, z = x + shift * normal[0], z + shift * normal[1]
    far = 4000.0
    edge = LineString([(x - far * along[0], z - far * along[1]), (x + far * along[0], z + far * along[1])])
    at = r.run_in - (r.ridge_thickness_in / 2 if r.high_end == "ridge" else 0.0)
    hit = edge.intersection(LineString([(at, -1e5), (at, 1e5)]))
    target = r.landing_in + (r.hap_high_in if r.high_end == "notched" else 0.0)
    return hit.coords[0][1] - target


@pytest.mark.parametrize(("low", "high"), ENDS)
def test_misses_are_those_of_the_drawing(low: LowEnd, high: HighEnd) -> None:
    r = replace(USUAL, low_end=low, high_end=high)
    nominal = nominal_slopes(r, solve_landing(r), around=20)
    assert len(nominal) > 15
    for n in nominal:
        assert n.miss_in == pytest.approx(drawn_miss(r, n.in_12), abs=1e-8)


@settings(max_examples=60, deadline=None)
@given(
    ends=st.sampled_from(ENDS),
    run=st.floats(60, 300),
    rise=st.floats(30, 300),
    depth=st.floats(3.5, 12),
    hap=st.floats(2, 12),
    seat=st.floats(1, 6),
    target=st.integers(1, 24),
)
def test_each_move_alone_makes_it_hit(
    ends: tuple[LowEnd, HighEnd], run: float, rise: float, depth: float, hap: float, seat: float, target: int
) -> None:
    low, high = ends
    r = replace(
        USUAL,
        low_end=low,
        high_end=high,
        run_in=run,
        landing_in=97.125 + rise,
        depth_in=depth,
        hap_low_in=hap,
        hap_high_in=hap,
        seat_in=seat,
    )
    moves = moves_to(r, solve_landing(r), target / 12)
    possible = set(movable(r))
    assert {"landing", "low_plate"} <= {m.what for m in moves} <= possible
    for move in moves:
        field = f"{move.what}_in"
        moved = replace(r, **{field: getattr(r, field) + move.change_in})
        assert target / 12 == pytest.approx(solve_landing(moved).tangent, rel=1e-7)
    # What is left out really can't do it: the run it would take is within the seat, the seat under 0 or past the run.
    for what in possible - {m.what for m in moves}:
        assert what in ("run", "seat")


def test_landing_and_plate_move_by_the_miss() -> None:
    r = replace(USUAL, high_end="whole")
    for n in nominal_slopes(r, solve_landing(r)):
        moves = {m.what: m.change_in for m in n.moves}
        assert set(moves) == {"run", "landing", "low_plate", "hap_low"}
        assert moves["landing"] == pytest.approx(n.miss_in)
        assert moves["low_plate"] == pytest.approx(-n.miss_in)
        assert moves["hap_low"] == pytest.approx(-n.miss_in)
        assert moves["run"] == pytest.approx(-n.miss_in / (n.in_12 / 12))


@pytest.mark.parametrize(
    ("in_12", "wanted"),
    [
        (6.62, [4, 5, 6, 7, 8, 9]),
        (7.0, [4, 5, 6, 7, 8, 9, 10]),
        (1.4, [1, 2, 3, 4]),
        (0.4, [1, 2, 3]),
        (23.5, [21, 22, 23, 24]),
        (30.2, [28, 29, 30, 31]),
    ],
)
def test_the_whole_slopes_near_by(in_12: float, wanted: list[int]) -> None:
    r = replace(USUAL, landing_in=97.125 + 162.5 * in_12 / 12)
    nominal = nominal_slopes(r, solve_landing(r))
    assert [n.in_12 for n in nominal] == wanted
    for n in nominal:
        assert n.miss_in == pytest.approx(162.5 * (n.in_12 - in_12) / 12, abs=1e-9)
    extra = nominal_slopes(r, solve_landing(r), around=1, also=[2, 0, -3])
    assert 2 in [n.in_12 for n in extra]
    assert min(n.in_12 for n in extra) >= 1


def test_a_found_measure_counts_as_given() -> None:
    asked = replace(USUAL, landing_in=math.nan, tangent=6.4 / 12, find="landing")
    nominal = {n.in_12: n for n in nominal_slopes(asked, solve_landing(asked))}
    assert nominal[7].miss_in == pytest.approx(0.6 / 12 * 162.5)


@pytest.mark.parametrize(
    ("in_12", "called"), [(6.62, 7), (6.4, 6), (6.5, 7), (7.0, 7), (7.9, 8), (6.5 - 1e-12, 7), (0.3, 0)]
)
def test_a_slope_is_called_its_nearest_whole_number(in_12: float, called: int) -> None:
    """6.62 in 12 is called 7: common practice, no source."""
    assert called_in_12(in_12 / 12) == called


def test_a_move_that_spoils_the_rafter_says_so() -> None:
    # A 2x8 with 3 1/2 in seats at 4 in 12; steepened to 12 the same measures cut the notches too deep.
    r = replace(USUAL, low_end="seat", high_end="face", landing_in=97.125 + 60.0)
    answer = solve_landing(r)
    assert not [f for f in answer.findings if f.severity == "error"]
    moves = {m.what: m for m in moves_to(r, answer, 1.0)}
    assert moves["landing"].breaks == ("notch-too-deep",)
    assert moves_to(r, answer, answer.tangent + 1e-6)[0].breaks == ()
    assert all(m.breaks == () for m in moves_to(r, answer, 1.0, limits=None))


def test_a_hap_below_nothing_is_never_passed_over() -> None:
    answer = solve_landing(USUAL)
    moves = {m.what: m for m in moves_to(USUAL, answer, 12 / 12, limits=None)}
    assert moves["hap_low"].change_in < -6.5
    assert moves["hap_low"].breaks == ("hap-not-positive",)
    assert moves["hap_high"].breaks == ()


def test_moves_and_misses_in_words() -> None:
    assert move_in_words(Move("landing", -0.75)) == 'landing 3/4" lower'
    assert move_in_words(Move("run", 18.5)) == "run 1' 6 1/2\" longer"
    assert move_in_words(Move("hap_low", 1.0), Units(system="mm")) == "HAP at the low plate 25 mm more"
    assert (
        move_in_words(Move("seat", 2.0, ("notch-too-deep",))) == "seat 2\" longer (can't be built so: notch too deep)"
    )
    assert miss_in_words(NominalSlope(7, 5.0625, ())) == '7 in 12: 5 1/16" above the landing'
    assert miss_in_words(NominalSlope(6, -8.5, ())) == '6 in 12: 8 1/2" below the landing'
    assert miss_in_words(NominalSlope(7, 1e-12, ())) == "7 in 12: on the landing"
