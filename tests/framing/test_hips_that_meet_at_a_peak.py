"""Hips and commons that meet at one point, or over a ridge too short for two commons. Common practice, no source."""

from __future__ import annotations

import math

import pytest

from workbench.framing.model import Member
from workbench.job import edits
from workbench.job.model import Hips, Job
from workbench.plan import Plan, solve

SIDE = 240.0
SLOPE = 7.0 / 12.0
COMMON = math.hypot(1.0, SLOPE)
"""Length of a common's top edge per inch of run."""
HIP = math.sqrt(1.0 + SLOPE**2 / 2.0)
"""The same of a hip over a square corner."""
HALF_45 = 0.75 * math.sqrt(2.0)


def roof(width: float, head: str, outline: list[tuple[float, float]] | None = None, effort: str = "preview") -> Plan:
    outline = outline or [(0.0, 0.0), (width, 0.0), (width, SIDE), (0.0, SIDE)]
    job, _ = edits.add_wing(Job(), outline, ["eave"] * len(outline), slope_in_12=7.0, hips=Hips(head=head))
    return solve(job, effort)


def of_kind(plan: Plan, kind: str) -> list[Member]:
    return [member for member in plan.framing.members if member.kind == kind]


def shortening(member: Member):
    return next(trace for trace in member.traces if trace.name.startswith("shortening at the head"))


def codes(plan: Plan) -> set[str]:
    return {finding.code for finding in plan.findings}


def test_one_pair_of_hips_goes_through_to_the_peak_and_the_other_is_cut_against_it() -> None:
    plan = roof(SIDE, "ridge")
    through, against = sorted(of_kind(plan, "hip_rafter"), key=lambda member: -member.length_in)
    run = SIDE / 2.0 * math.sqrt(2.0)
    assert (through.count, against.count) == (2, 2)
    assert through.length_in == pytest.approx(run * HIP)
    # Half the thickness measured square across, level along the line.
    assert against.length_in == pytest.approx((run - 0.75) * HIP)
    assert (through.cuts[-1].name, against.cuts[-1].name) == (
        "peak plumb cut, through pair",
        "peak plumb cut, against that pair",
    )
    assert (shortening(through).value, shortening(against).value) == pytest.approx((0.0, 0.75))
    assert {shortening(member).source for member in (through, against)} == {"common practice, no source"}
    assert not of_kind(plan, "ridge_board")
    # The commons between them end where the hips' faces leave half the 45° thickness of their middle.
    (common,) = of_kind(plan, "common_rafter")
    assert common.count == 4
    assert common.length_in == pytest.approx((SIDE / 2.0 - HALF_45) * COMMON)


def test_between_commons_all_four_hips_are_alike() -> None:
    plan = roof(SIDE, "commons")
    (hip,) = of_kind(plan, "hip_rafter")
    assert (hip.count, hip.cuts[-1].name) == (4, "double cheek cut at the peak")
    assert shortening(hip).value == pytest.approx(HALF_45)  # H4, framed against commons: NAVEDTRA 14044
    through, against = sorted(of_kind(plan, "common_rafter"), key=lambda member: -member.length_in)
    assert through.cuts[-1].name == "peak plumb cut, through pair"
    assert against.length_in == pytest.approx(through.length_in - 0.75 * COMMON)


@pytest.mark.parametrize("longer", [0.01, 0.5, 1.25])
def test_over_a_ridge_shorter_than_a_rafter_is_thick_the_board_is_a_block(longer: float) -> None:
    plan = roof(SIDE + longer, "commons")
    (block,) = of_kind(plan, "ridge_board")
    assert block.length_in == pytest.approx(1.5)
    assert sum(member.count for member in of_kind(plan, "common_rafter")) == 4
    (hip,) = of_kind(plan, "hip_rafter")
    assert hip.count == 4
    # The block's corner lies (1.5 − ridge) / 2 past the point along the ridge and 0.75 in beside it: halved at 45°.
    assert shortening(hip).value == pytest.approx(((1.5 - longer) / 2.0 + 0.75) / math.sqrt(2.0))
    (told,) = [finding for finding in plan.findings if finding.code == "ridge-block"]
    assert '1 1/2" long' in told.text


def test_over_a_ridge_as_long_as_a_rafter_is_thick_two_commons_stand_side_by_side() -> None:
    plan = roof(SIDE + 2.0, "commons")
    assert sum(member.count for member in of_kind(plan, "common_rafter")) == 6
    assert of_kind(plan, "ridge_board")[0].length_in == pytest.approx(3.5)
    assert "ridge-block" not in codes(plan)


@pytest.mark.parametrize("head", ["commons", "ridge"])
@pytest.mark.parametrize("longer", [0.0, 0.4, 2.0, 4.5])
def test_all_that_follows_the_members_has_every_hip(longer: float, head: str) -> None:
    plan = roof(SIDE + longer, head, effort="live")
    assert not codes(plan) & {"member-left-out", "stage-failed"}
    hips = of_kind(plan, "hip_rafter")
    assert sum(member.count for member in hips) == 4
    marks = {member.mark for member in hips}
    assert marks == {height.mark for height in plan.site.heights if height.kind == "hip"}
    assert marks == {line.mark for line in plan.site.jacks if line.kind == "hip"}
    on_plates = [m for s in plan.site.sticks if s.on == "plate" for m in s.marks if m.kind == "hip_rafter"]
    assert marks == {mark.mark for mark in on_plates}


@pytest.mark.parametrize("head", ["commons", "ridge"])
@pytest.mark.parametrize("corners", [3, 5, 6, 8, 12])
def test_hips_of_regular_outlines_meet_at_one_point(corners: int, head: str) -> None:
    """Each is cut, and where it meets more than two cuts fit that is told, with the gap."""
    angles = [2.0 * math.pi * k / corners for k in range(corners)]
    plan = roof(0.0, head, [(150.0 * math.cos(a), 150.0 * math.sin(a)) for a in angles])
    hips = of_kind(plan, "hip_rafter")
    assert sum(member.count for member in hips) == corners
    assert not codes(plan) & {"member-left-out", "stage-failed"}
    squared = [member for member in hips if member.cuts[-1].bevel_deg == 0.0 and member.cuts[-1].other_bevel_deg == 0.0]
    assert not [m for m in squared if "peak" not in m.cuts[-1].name] or "end-cut-square" in codes(plan)
