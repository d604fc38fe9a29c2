"""Common rafters, barge rafters and ridge boards against hand values and worked examples."""

from __future__ import annotations

import math

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from shapely.geometry import Polygon

from workbench.framing.model import Member
from workbench.framing.stock import cheapest_run, nominal_depth, section_name, stock_length
from workbench.job import edits
from workbench.job.model import Heel, Job, Rafter, Ridge
from workbench.plan import Plan, solve

GABLE = ["eave", "rake", "eave", "rake"]
SHED = ["eave", "rake", "wall", "rake"]


def rectangle(width: float, depth: float) -> list[tuple[float, float]]:
    return [(0.0, 0.0), (width, 0.0), (width, depth), (0.0, depth)]


def member(plan: Plan, mark: str) -> Member:
    return next(m for m in plan.framing.members if m.mark == mark)


def cut(m: Member, name: str):
    return next(c for c in m.cuts if c.name == name)


def test_worked_example_c1_and_c6() -> None:
    """7 in 12, span 16 ft: 13.89 x 8 = 111.12 in; deduct half the ridge, 3/4 in level (NAVEDTRA 14044)."""
    job, wing = edits.add_wing(Job(), rectangle(240, 192), GABLE, slope_in_12=7.0, ridge=Ridge(thickness_in=0.0))
    assert member(solve(job), "Common 1").length_in == pytest.approx(111.12, abs=0.02)
    with_ridge = solve(edits.set_ridge(job, wing, thickness_in=1.5))
    assert member(with_ridge, "Common 1").length_in == pytest.approx((96 - 0.75) * 13.89 / 12, abs=0.02)


def test_worked_example_c3() -> None:
    """12 in 12, span 25 ft: 12.5 x 16.97 in = 17 ft 8 1/8 in (Griffith, Carpentry)."""
    job, _ = edits.add_wing(Job(), rectangle(240, 300), GABLE, slope_in_12=12.0, ridge=Ridge(thickness_in=0.0))
    assert member(solve(job), "Common 1").length_in == pytest.approx(17 * 12 + 8.125, abs=0.05)


def test_worked_example_c7_tail() -> None:
    """Tail line length = bridge measure (in) x projection (ft) (NAVEDTRA 14044): 8 in 12 and 10 in."""
    job, _ = edits.add_wing(Job(), rectangle(240, 138), GABLE, slope_in_12=8.0, eave_overhang_in=10.0)
    common = member(solve(job), "Common 1")
    tail = next(m for m in common.measures if m.name == "tail to heel plumb line")
    assert tail.length_in == pytest.approx(14.42 * 10 / 12, abs=0.01)


def test_cuts_of_the_gable_rafter() -> None:
    job, _ = edits.add_wing(
        Job(), rectangle(480, 336), GABLE, slope_in_12=6.0, eave_overhang_in=16.0, heel=Heel(given="seat", seat_in=3.5)
    )
    common = member(solve(job), "Common 1")
    theta = math.degrees(math.atan(0.5))
    assert cut(common, "ridge plumb cut").angle_deg == pytest.approx(theta)
    assert cut(common, "tail plumb cut").in_12 == pytest.approx(6.0)
    assert cut(common, "seat cut (level)").angle_deg == pytest.approx(90.0 - theta)
    assert cut(common, "heel cut (plumb)").at_in == pytest.approx(16.0 * math.sqrt(1.25))
    seat = next(m for m in common.measures if m.name == "seat")
    assert seat.length_in == pytest.approx(3.5)
    # d·tan θ of stock overruns at the plumb tail (geometry): 184 in of run less 3/4, plus 7 1/4 · 0.5.
    assert common.length_in == pytest.approx((184 - 0.75) * math.sqrt(1.25))
    assert max(x for x, _ in common.profile) - min(x for x, _ in common.profile) == pytest.approx(
        common.length_in + 7.25 * 0.5
    )
    assert common.stock_in == 18 * 12


def test_counts_and_layout_of_the_40_by_28_gable() -> None:
    job, wing = edits.add_wing(Job(), rectangle(480, 336), GABLE)
    plan = solve(job)
    # 40 ft at 24 in: 20 bays, 21 rafters a side (common practice, no source).
    assert member(plan, "Common 1").count == 42
    xs = plan.framing.supports_of("wing-1/e1")
    assert xs[0] == pytest.approx(0.75)
    assert xs[-1] == pytest.approx(479.25)
    assert list(xs[1:-1]) == pytest.approx([24.0 * k for k in range(1, 20)])
    assert member(solve(edits.set_rafter(job, wing, spacing_in=16.0)), "Common 1").count == 62


def test_rafters_stand_opposite_each_other_across_the_ridge() -> None:
    job, _ = edits.add_wing(Job(), rectangle(475, 336), GABLE)
    plan = solve(job)
    front, back = (plan.plane(f"wing-1/{edge}") for edge in ("e1", "e3"))
    xs_front = sorted(front.to_space((x, 0.0))[0] for x in plan.framing.supports_of(front.id))
    xs_back = sorted(back.to_space((x, 0.0))[0] for x in plan.framing.supports_of(back.id))
    assert xs_front == pytest.approx(xs_back)


def test_rake_overhangs_get_barge_rafters_without_a_birds_mouth() -> None:
    job, _ = edits.add_wing(Job(), rectangle(480, 336), GABLE, rake_overhang_in=12.0)
    plan = solve(job)
    barge = member(plan, "Barge 1")
    assert barge.count == 4
    assert not any("seat" in c.name for c in barge.cuts)
    xs = plan.framing.supports_of("wing-1/e1")
    assert xs[0] == pytest.approx(0.75)  # outer edge of the overhang
    assert xs[1] == pytest.approx(12.75)  # flush with the building's end


def test_equal_members_of_two_wings_share_a_mark_and_unequal_ones_never() -> None:
    job, _ = edits.add_wing(Job(), rectangle(240, 240), GABLE)
    job, second = edits.add_wing(job, [(x + 400, y) for x, y in rectangle(240, 240)], GABLE)
    plan = solve(job)
    assert [m.mark for m in plan.framing.members if m.kind == "common_rafter"] == ["Common 1"]
    assert member(plan, "Common 1").count == 44
    nudged = solve(edits.set_wing(job, second, eave_overhang_in=0.001))  # shown alike, cut apart
    assert [m.count for m in nudged.framing.members if m.kind == "common_rafter"] == [22, 22]


def test_ridge_board_is_as_deep_as_the_plumb_cut_and_joins_at_rafters() -> None:
    job, _ = edits.add_wing(Job(), rectangle(480, 336), GABLE, slope_in_12=7.0, rake_overhang_in=12.0)
    plan = solve(job)
    boards = [m for m in plan.framing.members if m.kind == "ridge_board"]
    assert {board.section for board in boards} == {"2x10"}  # 7 1/4 / cos 30.26 = 8.39 in (IRC R802.3)
    assert sum(board.length_in * board.count for board in boards) == pytest.approx(504.0)
    xs = plan.framing.supports_of("wing-1/e1")
    joint = boards[0].length_in
    assert any(abs(joint - x) < 1e-6 for x in xs)
    assert sum(board.stock_in for board in boards) == 20 * 12 + 24 * 12


def test_landed_whole_rafter_runs_over_its_bearing() -> None:
    job, wing = edits.add_wing(Job(), rectangle(240, 168), SHED, heel=Heel(given="hap", hap_in=6.0))
    job = edits.set_landing(job, wing, find="slope", high_end="whole", landing_in=190.0, bearing_in=5.5)
    plan = solve(job)
    common, section = member(plan, "Common 1"), plan.wings[0].sections[0]
    assert section.past_in == pytest.approx(5.5)
    assert common.length_in == pytest.approx(168.0 * math.hypot(1, section.answer.tangent))


def test_tails() -> None:
    job, wing = edits.add_wing(Job(), rectangle(240, 240), GABLE, eave_overhang_in=12.0)
    square = member(solve(edits.set_rafter(job, wing, tail="square")), "Common 1")
    assert min(x for x, _ in square.profile) == pytest.approx(0.0, abs=1e-9)
    level = member(solve(edits.set_rafter(job, wing, tail="level")), "Common 1")
    assert {c.name for c in level.cuts} >= {"tail plumb cut", "tail level cut"}


def test_stock_over_the_longest_length_is_told() -> None:
    job, _ = edits.add_wing(Job(), rectangle(240, 600), GABLE, slope_in_12=8.0)
    assert "stock-too-short" in [f.code for f in solve(job).findings]


def test_sections_and_stock() -> None:
    assert section_name(1.5, 7.25) == "2x8"
    assert section_name(1.75, 9.5) == '1 3/4" x 9 1/2"'
    assert nominal_depth(7.3) == 9.25
    assert nominal_depth(12.0) is None
    assert stock_length(96.0) == 96.0
    assert stock_length(96.1) == 120.0
    assert stock_length(300.0) is None
    assert cheapest_run(300.0, ()) is None


@given(st.floats(20.0, 900.0), st.lists(st.floats(0.0, 900.0), max_size=20))
def test_a_run_is_covered_by_boards_that_meet_on_joints(length: float, joints: list[float]) -> None:
    boards = cheapest_run(length, tuple(joints))
    if boards is None:
        points = sorted({0.0, length, *(x for x in joints if 0 < x < length)})
        assert max(b - a for a, b in zip(points, points[1:], strict=False)) > 24 * 12 - 1e-3
        return
    assert boards[0][0] == 0.0
    assert boards[-1][1] == length
    for (_, end), (start, _) in zip(boards, boards[1:], strict=False):
        assert end == start
        assert end in joints


@settings(max_examples=80, deadline=None)
@given(
    slope=st.floats(2.0, 18.0),
    overhang=st.floats(0.0, 30.0),
    depth=st.sampled_from([5.5, 7.25, 9.25, 11.25]),
    seat=st.floats(0.0, 3.0),
    tail=st.sampled_from(["plumb", "square", "level"]),
    high_end=st.sampled_from(["notched", "whole", "face", "ridge"]),
)
def test_the_profile_is_the_stock_less_its_cuts(slope, overhang, depth, seat, tail, high_end) -> None:
    """The side view is one simple polygon, inside the stock, with the areas the cuts take (shapely as reference)."""
    job, wing = edits.add_wing(
        Job(),
        rectangle(240, 240),
        SHED,
        slope_in_12=slope,
        eave_overhang_in=overhang,
        rafter=Rafter(depth_in=depth, tail=tail),
        heel=Heel(given="seat", seat_in=seat),
    )
    job = edits.set_landing(job, wing, find="landing", high_end=high_end, hap_in=depth * 0.8, bearing_in=3.5)
    plan = solve(job)
    common = member(plan, "Common 1")
    shape = Polygon(common.profile)
    assert shape.is_valid
    low, high = min(y for _, y in common.profile), max(y for _, y in common.profile)
    assert low >= -1e-9
    assert high == pytest.approx(depth)
    m = slope / 12.0
    notches = [seat]
    section = plan.wings[0].sections[0]
    if high_end == "notched":
        notches.append(section.answer.seat_high_in)
    if all(s >= 0 for s in notches) and (high_end != "notched" or notches[-1] <= 3.5) and tail == "plumb":
        # A bird's-mouth of seat s takes a right triangle, level leg s and plumb leg s·m.
        taken = sum(s * s * m / 2.0 for s in notches)
        assert shape.area == pytest.approx(common.length_in * depth - taken, rel=1e-6)
