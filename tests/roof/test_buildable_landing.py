"""Findings beside a landing: notch, bearing, HAP, outward push, ridge. Screening only."""

from __future__ import annotations

import math
import re
from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from workbench.findings import SCREENING
from workbench.measure.parse import parse_length
from workbench.measure.units import Units
from workbench.roof.buildable import BearingLimits, Notch, notch_findings
from workbench.roof.landing import LandingInput, solve_landing

# A 2x8 at 12 in 12 with a seat of 2 1/2 in below, whole above.
STEEP = LandingInput(
    run_in=122.5,
    low_plate_in=0.0,
    landing_in=120.0,
    low_end="seat",
    hap_low_in=0.0,
    seat_in=2.5,
    high_end="whole",
    hap_high_in=0.0,
    depth_in=7.25,
    tangent=1.0,
)


def codes(given_: LandingInput) -> list[str]:
    return [finding.code for finding in solve_landing(given_).findings]


def test_a_quarter_of_the_depth_is_the_deepest_notch() -> None:
    """End notch at most d/4: WAC 246-359-250. At 45° a 2x8 allows a seat of 7.25/4·√2 = 2.563 in."""
    limit = 7.25 / 4 * math.sqrt(2)
    for seat, deep in ((2.5, False), (limit, False), (limit + 1e-4, True), (3.5, True)):
        answer = solve_landing(replace(STEEP, seat_in=seat, find="landing"))
        assert ("notch-too-deep" in [f.code for f in answer.findings]) is deep, seat
    finding = solve_landing(replace(STEEP, seat_in=3.5, find="landing")).findings[0]
    assert finding.severity == "error"
    assert finding.source == "WAC 246-359-250"
    assert 'is 2 1/2" deep' in finding.text
    assert 'seat of at most 2 9/16"' in finding.text
    assert finding.text.endswith(SCREENING)


def test_both_notched_ends_are_looked_at() -> None:
    notched = replace(STEEP, low_end="hap", high_end="notched", hap_low_in=5.0, hap_high_in=5.0, landing_in=122.5)
    texts = [f.text for f in solve_landing(notched).findings if f.code == "notch-too-deep"]
    assert len(texts) == 2
    assert "at the low plate" in texts[0]
    assert "at the landing" in texts[1]


@pytest.mark.parametrize(
    ("seat", "short"), [(1.5, False), (1.5 - 1e-12, False), (1.499, True), (0.25, True), (0.0, True)]
)
def test_bearing_is_an_inch_and_a_half_at_least(seat: float, short: bool) -> None:
    """Bearing at least 1 1/2 in on wood or metal: IRC R802.6, from memory."""
    assert ("bearing-too-short" in codes(replace(STEEP, seat_in=seat))) is short


def test_a_rafter_over_the_plate_is_said_to_hang_in_the_air() -> None:
    # Plumb depth at 45° is 10.253 in; a HAP of 12 leaves the bottom edge 1.747 in over the corner.
    high = replace(STEEP, low_end="hap", hap_low_in=12.0, find="landing")
    [finding] = [f for f in solve_landing(high).findings if f.code == "bearing-too-short"]
    assert 'passes 1 3/4" above its corner' in finding.text
    assert 'HAP of at most 8 3/4"' in finding.text


@pytest.mark.parametrize("hap", [0.0, -0.5])
def test_nothing_left_over_the_plate_is_an_error(hap: float) -> None:
    """HAP over 0, or the notch parts the rafter: geometry."""
    found = solve_landing(replace(STEEP, low_end="hap", hap_low_in=hap, find="landing")).findings
    assert [(f.code, f.severity) for f in found] == [("hap-not-positive", "error"), ("outward-push", "warning")]


@pytest.mark.parametrize("in_12", [2, 4, 6.62, 9, 12, 18])
def test_the_push_is_what_statics_gives(in_12: float) -> None:
    """Equilibrium of the whole rafter on a frictionless bevel, as three equations. Source: elementary statics."""
    theta = math.atan(in_12 / 12)
    run, rise = math.cos(theta), math.sin(theta)
    # Unknown: seat's level and plumb answer, the bevel's answer square to the rafter; load 1 half-way along.
    matrix = np.array(
        [[1, 0, -math.sin(theta)], [0, 1, math.cos(theta)], [0, 0, run * math.cos(theta) + rise * math.sin(theta)]]
    )
    seat_level, _, bevel = np.linalg.solve(matrix, np.array([0.0, 1.0, run / 2]))
    assert seat_level == pytest.approx(bevel * math.sin(theta))
    [finding] = [
        f for f in solve_landing(replace(STEEP, tangent=in_12 / 12, find="landing")).findings if "push" in f.code
    ]
    shown = re.search(r"(\d+) % of its load", finding.text)
    assert shown
    assert int(shown[1]) == pytest.approx(100 * seat_level, abs=0.5)
    assert finding.severity == "warning"
    assert "engineer" in finding.text


def test_a_notched_upper_end_does_not_push() -> None:
    notched = replace(STEEP, high_end="notched", hap_high_in=8.0)
    assert "outward-push" not in codes(notched)


@pytest.mark.parametrize(("in_12", "beam"), [(2.9, True), (3 - 1e-6, True), (3, False), (7, False)])
def test_under_3_in_12_the_ridge_is_a_beam(in_12: float, beam: bool) -> None:
    """Below 3 in 12 ridge, hips and valleys are designed as beams: IRC R802.4.4, from memory."""
    ridge = replace(STEEP, high_end="ridge", ridge_thickness_in=1.5, tangent=in_12 / 12, find="landing")
    assert ("ridge-needs-beam" in codes(ridge)) is beam
    face = replace(ridge, high_end="face")
    assert "ridge-needs-beam" not in codes(face)


@settings(max_examples=200, deadline=None)
@given(
    in_12=st.floats(1, 24),
    depth=st.sampled_from([3.5, 5.5, 7.25, 9.25, 11.25]),
    seat=st.floats(2, 12),
    units=st.sampled_from([Units(), Units(fraction=8), Units(fraction=32), Units(system="mm")]),
)
def test_the_mend_as_shown_mends_it(in_12: float, depth: float, seat: float, units: Units) -> None:
    """The seat, HAP or depth named in the text, read back as shown, makes the notch finding go."""
    m = in_12 / 12

    def findings(seat_in: float, depth_in: float) -> dict[str, str]:
        notch = Notch("the low plate", depth_in * math.hypot(1, m) - seat_in * m, seat_in)
        return {f.code: f.text for f in notch_findings(notch, m, depth_in, units=units)}

    text = findings(seat, depth).get("notch-too-deep")
    if text is None:
        assert seat * m / math.hypot(1, m) <= depth / 4 + 1e-9 or depth * math.hypot(1, m) <= seat * m
        return
    if shown := re.search(r"seat of at most (.+?), which", text):
        assert "notch-too-deep" not in findings(parse_length(shown[1]), depth)
        hap = re.search(r"HAP of at least (.+?), mends", text)
        assert hap
        assert "notch-too-deep" not in findings((depth * math.hypot(1, m) - parse_length(hap[1])) / m, depth)
    else:
        shown = re.search(r"at least (.+?) deep", text)
        assert shown
        assert findings(1.5, parse_length(shown[1])) == {}


def test_a_job_may_hold_other_limits() -> None:
    masonry = BearingLimits(bearing_in=3.0, bearing_source="the job")
    [finding] = notch_findings(Notch("the low plate", 6.0, 2.0), 0.5, 7.25, limits=masonry)
    assert (finding.code, finding.source) == ("bearing-too-short", "the job")
    assert solve_landing(replace(STEEP, seat_in=0.5), limits=None).findings == ()


def test_findings_name_their_subject_and_come_errors_first() -> None:
    found = solve_landing(replace(STEEP, seat_in=0.5), subject="wing/edge").findings
    assert [f.severity for f in found] == ["error", "warning"]
    assert {f.object for f in found} == {"wing/edge"}
