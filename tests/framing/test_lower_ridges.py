"""Additions whose ridge is lower than the main one: worked examples of the US Navy's Builder 3&2 (NAVEDTRA 14044).

Main building 28 ft wide, addition 16 ft wide and 12 ft long, both at 8 in 12, no overhangs.
"""

from __future__ import annotations

import math
import re

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from workbench.framing.model import Member
from workbench.job import edits
from workbench.job.model import Hips, Job
from workbench.plan import Plan, solve

MAIN_SPAN, SPAN, PLATE = 336.0, 192.0, 144.0
HALF_45 = 1.5 * math.sqrt(2.0) / 2.0
"""Half the 45° thickness of a 1 1/2 in board: 1.061 in."""

HIP_PER_RUN = math.sqrt(2.0 + (8.0 / 12.0) ** 2)
"""Length of a regular hip or valley per inch of common run (1.563; 18.76 per 12 in by NAVEDTRA 14044)."""


def house(how: str = "long_valley", **fields: object) -> Job:
    main = [(0.0, 0.0), (600.0, 0.0), (600.0, MAIN_SPAN), (0.0, MAIN_SPAN)]
    job, _ = edits.add_wing(Job(), main, ["eave", "rake", "eave", "rake"], slope_in_12=8.0, **fields)
    outline = [(200.0, -PLATE), (200.0 + SPAN, -PLATE), (200.0 + SPAN, 150.0), (200.0, 150.0)]
    kinds = ["rake", "eave", "rake", "eave"]
    return edits.add_wing(job, outline, kinds, slope_in_12=8.0, hips=Hips(lower_ridge=how), **fields)[0]


def solved(how: str = "long_valley", **fields: object) -> Plan:
    plan = solve(house(how, **fields), "preview")
    assert "stage-failed" not in [finding.code for finding in plan.findings]
    return plan


def ridge_length(plan: Plan) -> float:
    """The addition's ridge, which runs along y, over all its boards."""
    ridges = [p for m in plan.framing.members if m.kind == "ridge_board" for p in m.placements]
    ys = [y for p in ridges if abs(p.start[0] - p.end[0]) < 1e-6 for y in (p.start[1], p.end[1])]
    return max(ys) - min(ys)


def valleys(plan: Plan) -> list[Member]:
    return [member for member in plan.framing.members if member.kind == "valley_rafter"]


def trace(member: Member, start: str) -> float:
    return next(t.value for t in member.traces if t.name.startswith(start))


def test_r1_a_ridge_hung_from_the_main_ridge() -> None:
    """R1: the addition's plate and half the building's span; the board is half the main ridge short of that (C6)."""
    plan = solved("hung")
    assert ridge_length(plan) == pytest.approx(PLATE + MAIN_SPAN / 2.0 - 0.75)
    (told,) = [finding for finding in plan.findings if finding.code == "ridge-hung"]
    # The main ridge line is (14 − 8) ft · 8 / 12 higher (hand value).
    assert plan.units.length((MAIN_SPAN - SPAN) / 2.0 * 8.0 / 12.0) in told.text
    assert "engineer" in told.text


def test_r1_both_valleys_are_short_and_lie_against_the_hung_ridge() -> None:
    made = valleys(solved("hung"))
    assert sum(member.count for member in made) == 2
    for member in made:
        assert trace(member, "valley line") == pytest.approx(SPAN / 2.0 * HIP_PER_RUN)
        # The long point of a 45° cheek lies half a thickness further than its middle.
        assert trace(member, "shortening at the head") == pytest.approx(HALF_45 - 0.75)
        assert member.cuts[-1].bevel_deg == pytest.approx(45.0)


def test_r2_a_ridge_on_a_long_valley() -> None:
    """R2: the addition's plate and half the addition's span, less half the 45° thickness of the long valley."""
    plan = solved()
    assert ridge_length(plan) == pytest.approx(PLATE + SPAN / 2.0 - HALF_45)
    assert not [finding for finding in plan.findings if finding.code == "ridge-hung"]


def test_v2_long_and_short_valley() -> None:
    """V2: the long valley by the main half-span, with a side cut; the short one by the addition's, square to it."""
    long, short = sorted(valleys(solved()), key=lambda member: -member.length_in)
    assert trace(long, "valley line") == pytest.approx(MAIN_SPAN / 2.0 * HIP_PER_RUN)
    assert trace(short, "valley line") == pytest.approx(SPAN / 2.0 * HIP_PER_RUN)
    assert long.cuts[-1].bevel_deg == pytest.approx(45.0)
    assert trace(long, "shortening at the head") == pytest.approx(HALF_45 - 0.75)  # to the long point
    assert short.cuts[-1].bevel_deg == 0.0
    assert trace(short, "shortening at the head") == pytest.approx(0.75)


@pytest.mark.parametrize(("how", "west"), [("left", True), ("right", False)])
def test_the_long_valley_is_the_one_asked_for(how: str, west: bool) -> None:
    """Looking along the addition's ridge at the main roof, north here, the left valley starts at the west corner."""
    long = max(valleys(solved(how)), key=lambda member: member.length_in)
    (placement,) = long.placements
    assert (placement.start[0] < 200.0 + SPAN / 2.0) is west
    assert ridge_length(solved(how)) == pytest.approx(PLATE + SPAN / 2.0 - HALF_45)


def test_a_hung_ridge_needs_a_ridge_to_hang_from() -> None:
    """Where the main roof is a hip whose ridge is too short to reach over the addition a long valley carries it."""
    main = [(0.0, 0.0), (600.0, 0.0), (600.0, MAIN_SPAN), (0.0, MAIN_SPAN)]
    job, _ = edits.add_wing(Job(), main, ["eave"] * 4, slope_in_12=8.0)
    outline = [(20.0, -PLATE), (100.0, -PLATE), (100.0, 150.0), (20.0, 150.0)]
    hips = Hips(lower_ridge="hung")
    job, _ = edits.add_wing(job, outline, ["rake", "eave", "rake", "eave"], slope_in_12=8.0, hips=hips)
    plan = solve(job, "preview")
    codes = [finding.code for finding in plan.findings]
    assert "stage-failed" not in codes and "ridge-hung" not in codes
    assert any(re.match("Valley", member.mark) for member in plan.framing.members)


@given(
    st.sampled_from(["long_valley", "left", "right", "hung"]),
    st.floats(100.0, 320.0),
    st.floats(4.0, 14.0),
    st.floats(4.0, 14.0),
)
@settings(max_examples=15, deadline=None)
def test_any_addition_is_framed_whatever_carries_its_ridge(how: str, span: float, main: float, own: float) -> None:
    outline = [(0.0, 0.0), (600.0, 0.0), (600.0, MAIN_SPAN), (0.0, MAIN_SPAN)]
    job, _ = edits.add_wing(Job(), outline, ["eave", "rake", "eave", "rake"], slope_in_12=main)
    outline = [(150.0, -PLATE), (150.0 + span, -PLATE), (150.0 + span, 150.0), (150.0, 150.0)]
    hips = Hips(lower_ridge=how)
    job, _ = edits.add_wing(job, outline, ["rake", "eave", "rake", "eave"], slope_in_12=own, hips=hips)
    plan = solve(job, "preview")
    assert "stage-failed" not in [finding.code for finding in plan.findings]
    for member in plan.framing.members:
        assert all(math.isfinite(value) for point in member.profile for value in point)
        assert member.length_in > 0.0
