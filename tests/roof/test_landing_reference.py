"""Landing slopes against scipy's bracketed root finder, from distances between points and lines. Source: geometry."""

from __future__ import annotations

import math
from itertools import pairwise

import numpy as np
import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st
from scipy.optimize import brentq

from workbench.errors import NoSolution
from workbench.roof.landing import HighEnd, LandingInput, LowEnd, landing_miss, solve_landing


def measures(low: LowEnd, high: HighEnd, **change: float) -> LandingInput:
    usual = {
        "run_in": 162.5,
        "low_plate_in": 97.125,
        "landing_in": 182.0,
        "hap_low_in": 6.5,
        "seat_in": 3.5,
        "hap_high_in": 7.0,
        "depth_in": 9.25,
        "ridge_thickness_in": 1.5,
    }
    return LandingInput(low_end=low, high_end=high, tangent=math.nan, **(usual | change))


def gap(r: LandingInput, theta: float) -> float:
    """Signed distance, square to the rafter, of its upper point from the line it must lie on, at an angle theta.

    The line is fixed at the low end: the top edge through the HAP's top, or the bottom edge through the seat's inner
    end; the upper point belongs to the top edge, or for a whole rafter to the bottom edge.
    """
    normal = np.array([-math.sin(theta), math.cos(theta)])
    if r.low_end == "hap":
        low, low_on_top = np.array([0.0, r.low_plate_in + r.hap_low_in]), True
    else:
        low, low_on_top = np.array([r.seat_in, r.low_plate_in]), False
    if r.high_end == "whole":
        high, high_on_top = np.array([r.run_in, r.landing_in]), False
    elif r.high_end == "notched":
        high, high_on_top = np.array([r.run_in, r.landing_in + r.hap_high_in]), True
    else:
        back = r.ridge_thickness_in / 2 if r.high_end == "ridge" else 0.0
        high, high_on_top = np.array([r.run_in - back, r.landing_in]), True
    apart = float(normal @ (high - low))
    return apart - r.depth_in * (int(high_on_top) - int(low_on_top))


def reference_slopes(r: LandingInput) -> list[float]:
    grid = np.linspace(1e-7, math.pi / 2 - 1e-7, 721)
    values = [gap(r, float(theta)) for theta in grid]
    found: list[float] = []
    for (a, fa), (b, fb) in pairwise(zip(grid, values, strict=True)):
        if fa * fb < 0:
            found.append(math.tan(brentq(lambda t: gap(r, t), a, b, xtol=1e-15, rtol=1e-14)))
    return found


@settings(max_examples=60, deadline=None)
@given(
    low=st.sampled_from(["hap", "seat"]),
    high=st.sampled_from(["notched", "whole", "ridge", "face"]),
    run=st.floats(30, 400),
    landing=st.floats(80, 500),
    hap_low=st.floats(0.5, 16),
    seat=st.floats(0, 8),
    hap_high=st.floats(0, 16),
    depth=st.floats(3.5, 16),
    board=st.floats(0, 3.5),
)
def test_slopes_agree_with_brentq(
    low: LowEnd,
    high: HighEnd,
    run: float,
    landing: float,
    hap_low: float,
    seat: float,
    hap_high: float,
    depth: float,
    board: float,
) -> None:
    r = measures(
        low,
        high,
        run_in=run,
        landing_in=landing,
        hap_low_in=hap_low,
        seat_in=seat,
        hap_high_in=hap_high,
        depth_in=depth,
        ridge_thickness_in=board,
    )
    wanted = reference_slopes(r)
    assume(all(1e-4 < m < 1e4 for m in wanted))
    try:
        answer = solve_landing(r)
    except NoSolution:
        assert wanted == []
        return
    got = [answer.tangent, *(other.tangent for other in answer.also)]
    assume(all(1e-4 < m < 1e4 for m in got))
    assert got == pytest.approx(wanted, rel=1e-8)


def test_a_rafter_deeper_than_its_run_can_land_at_two_slopes() -> None:
    r = measures("hap", "whole", run_in=10, low_plate_in=0, landing_in=0, hap_low_in=9, depth_in=12)
    answer = solve_landing(r)
    both = [answer.tangent, answer.also[0].tangent]
    assert both == pytest.approx(reference_slopes(r), rel=1e-9)
    assert len(answer.also) == 1
    assert both[0] < both[1]
    for one in (answer, *answer.also):
        assert landing_miss(r, one.tangent) == pytest.approx(0, abs=1e-9)
        assert one.traces[0].value == one.in_12
    assert "180°" not in answer.traces[0].formula
    assert "180°" in answer.also[0].traces[0].formula


def test_a_rafter_that_only_just_fits_has_one_slope() -> None:
    # Run 9, drop 12: the corner is 15 from the HAP's top, and so deep is the rafter, square to that line.
    r = measures("hap", "whole", run_in=9, low_plate_in=0, landing_in=0, hap_low_in=12, depth_in=15)
    answer = solve_landing(r)
    assert answer.tangent == pytest.approx(9 / 12, rel=1e-6)
    assert all(other.tangent == pytest.approx(9 / 12, rel=1e-6) for other in answer.also)
