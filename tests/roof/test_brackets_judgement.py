"""Price brackets judged on the slope to be framed, and the ways back under."""

from __future__ import annotations

import math
from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from workbench.errors import BadInput
from workbench.measure.units import Units
from workbench.roof.brackets import (
    Bracket,
    at_or_over,
    bracket_of,
    default_target,
    judge,
    judgement_findings,
    next_bracket,
    saving,
)
from workbench.roof.landing import HighEnd, LandingInput, LowEnd, solve_landing

TABLE = (Bracket(8, 450.0, "steep"), Bracket(0, 380.0, "walkable"), Bracket(12, 560.0, "very steep"))


def rafter(in_12: float, low: LowEnd = "hap", high: HighEnd = "notched") -> LandingInput:
    """A rafter that solves to a slope: 10 ft run, HAPs 6 in, or a 3 1/2 in seat."""
    asked = LandingInput(
        run_in=120.0,
        low_plate_in=96.0,
        landing_in=0.0,
        low_end=low,
        hap_low_in=6.0,
        seat_in=3.5,
        high_end=high,
        hap_high_in=6.0,
        depth_in=9.25,
        tangent=in_12 / 12,
        find="landing",
    )
    return replace(asked, landing_in=solve_landing(asked).landing_in, find="slope")


@pytest.mark.parametrize(
    ("slope", "over"),
    [(8.0, True), (8.0000000001, True), (7.9999999999, True), (7.99999, False), (8.2, True), (6.62, False)],
)
def test_a_bracket_holds_from_its_own_slope_on(slope: float, over: bool) -> None:
    """From 8 in 12 on roofers usually charge more: common practice, no source. Float noise does not decide."""
    assert at_or_over(slope, 8.0) is over
    assert judge(rafter(slope), solve_landing(rafter(slope))).over is over


def test_float_noise_in_a_real_answer_stays_at_the_bracket() -> None:
    """Heights in sixteenths that make 8 in 12 exactly on paper: over, however the floats fall. Source: geometry."""
    for step in range(1, 400):
        run = 60 + 3 * step / 16
        given_ = LandingInput(run, 0.1, 0.1 + run * 2 / 3, "hap", 6.3, 0.0, "notched", 6.3, 7.25, 0.0)
        judgement = judge(given_, solve_landing(given_))
        assert judgement.over
        assert judgement.target_in_12 == 7


@pytest.mark.parametrize(
    ("slope", "begins", "target"),
    [(8.4, 8, 7), (8.0, 8, 7), (11.9, 8, 7), (8.2, 7.5, 7), (9.0, 8.25, 8), (7.6, 8, 7), (6.62, 8, 6), (7, 8, 6)]
    + [(6.0000000001, 8, 5), (0.8, 8, 1), (1.0, 8, 1), (8 + 1e-12, 8 + 2e-12, 7)],
)
def test_the_next_lower_whole_slope(slope: float, begins: float, target: float) -> None:
    assert default_target(slope, begins) == target


def test_no_whole_slope_under_a_bracket_from_one() -> None:
    with pytest.raises(BadInput, match="give the target slope"):
        default_target(2.0, 1.0)


@settings(max_examples=80, deadline=None)
@given(
    slope=st.floats(2, 20),
    target=st.floats(1, 19),
    low=st.sampled_from(["hap", "seat"]),
    high=st.sampled_from(["notched", "whole", "ridge", "face"]),
)
def test_each_change_alone_reaches_the_target(slope: float, target: float, low: LowEnd, high: HighEnd) -> None:
    given_ = rafter(slope, low, high)
    judgement = judge(given_, solve_landing(given_), Bracket(8.0), target)
    changes = {c.what: c.change_in for c in judgement.to_reach_target}
    possible = {"run", "rise", "heel_low" if low == "hap" else "seat"} | ({"heel_high"} if high == "notched" else set())
    assert set(changes) <= possible
    assert "rise" in changes
    fields = {
        "run": "run_in",
        "rise": "landing_in",
        "heel_low": "hap_low_in",
        "heel_high": "hap_high_in",
        "seat": "seat_in",
    }
    for what, change in changes.items():
        moved = replace(given_, **{fields[what]: getattr(given_, fields[what]) + change})
        assert solve_landing(moved).in_12 == pytest.approx(target, rel=1e-7)
    if target < slope:
        assert changes["rise"] <= 0
        assert changes.get("heel_low", 0) >= 0
        assert changes.get("heel_high", 0) <= 0
        assert changes.get("seat", 0) <= 0


def test_eight_in_12_over_ten_feet_by_hand() -> None:
    """8 to 7 in 12 over 10 ft of run: 10 in of rise, or run 80 · 12/7 = 137.14. Source: arithmetic."""
    judgement = judge(rafter(8), solve_landing(rafter(8)))
    assert {c.what: c.change_in for c in judgement.to_reach_target} == pytest.approx(
        {"run": 80 * 12 / 7 - 120, "rise": -10.0, "heel_low": 10.0, "heel_high": -10.0}
    )
    [finding] = judgement_findings(judgement)
    assert (finding.code, finding.severity) == ("over-bracket", "warning")
    assert "8 in 12, is in the price bracket from 8 in 12. To come down to 7 in 12, each alone: " in finding.text
    assert "run 1' 5 1/8\" longer" in finding.text
    assert 'landing lower or low plate higher by 10"' in finding.text
    assert "HAP on the landing 10\" less (can't be built so: hap not positive)" in finding.text


def test_the_price_goes_by_the_slope_framed_not_the_one_called() -> None:
    under = judge(rafter(7.6), solve_landing(rafter(7.6)))
    [finding] = judgement_findings(under)
    assert finding.code == "called-across-bracket"
    assert "7.6 in 12, is called 8 in 12 but is under the price bracket from 8 in 12" in finding.text
    assert not under.over
    over = judge(rafter(8.3), solve_landing(rafter(8.3)), Bracket(8.25))
    assert over.over
    assert [f.code for f in judgement_findings(over)] == ["over-bracket", "called-across-bracket"]


def test_a_slope_a_hair_under_is_not_shown_as_the_bracket() -> None:
    hair = judge(rafter(7.9996), solve_landing(rafter(7.9996)))
    assert "7.9996 in 12, is called 8 in 12 but is under" in judgement_findings(hair)[0].text


def test_a_target_in_the_bracket_is_said_to_be_vain() -> None:
    judgement = judge(rafter(9), solve_landing(rafter(9)), Bracket(8), 8.5)
    assert [f.code for f in judgement_findings(judgement)] == ["over-bracket", "target-over-bracket"]


@pytest.mark.parametrize(
    ("bracket", "target"), [(0.0, None), (-8.0, 7.0), (math.nan, 7.0), (8.0, 0.0), (8.0, math.inf)]
)
def test_brackets_and_targets_are_slopes(bracket: float, target: float | None) -> None:
    with pytest.raises(BadInput, match="must be a slope over 0"):
        judge(rafter(9), solve_landing(rafter(9)), Bracket(bracket), target)


def test_rows_of_the_price_table() -> None:
    names = {in_12: getattr(bracket_of(in_12 / 12, TABLE), "name", None) for in_12 in (3, 7.99, 8, 11.9, 12, 30)}
    assert names == {
        3: "walkable",
        7.99: "walkable",
        8: "steep",
        11.9: "steep",
        12: "very steep",
        30: "very steep",
    }
    assert bracket_of(3 / 12, TABLE[:1]) is None
    assert next_bracket(7 / 12, TABLE) == TABLE[0]
    assert next_bracket(8 / 12, TABLE) == TABLE[2]
    assert next_bracket(12 / 12, TABLE) is None


def test_what_coming_down_saves() -> None:
    """20 squares at 8 in 12; the same plan at 7 in 12 is 20 · 13.892/14.422 squares (unit lengths: NAVEDTRA 14044)."""
    saved = saving(20.0, 8 / 12, 7.0, TABLE)
    assert saved is not None
    assert saved.now == pytest.approx(20 * 450)
    assert saved.then == pytest.approx(20 * 13.89 / 14.42 * 380, rel=5e-4)
    assert saved.saved == saved.now - saved.then
    assert [t.unit for t in saved.traces] == ["money", "money"]
    assert saving(20.0, 8 / 12, 7.0, (Bracket(8, 450.0),)) is None
    assert saving(20.0, 8 / 12, 7.0, (Bracket(0), Bracket(8, 450.0))) is None
    assert saving(0.0, 8 / 12, 7.0, TABLE) is not None
    with pytest.raises(BadInput):
        saving(-1.0, 8 / 12, 7.0, TABLE)


def test_lengths_in_words_follow_the_units() -> None:
    judgement = judge(rafter(8), solve_landing(rafter(8)))
    assert "run 435 mm longer" in judgement_findings(judgement, Units(system="mm"))[0].text
