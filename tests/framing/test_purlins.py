"""Purlins under pitch breaks: lengths, bevels, and rafters cut against them. Hand values stand beside each check."""

from __future__ import annotations

import math

import pytest

from workbench.framing.model import Member
from workbench.job import edits
from workbench.job.model import Job, Upper
from workbench.plan import Plan, solve

RECTANGLE = [(0.0, 0.0), (480.0, 0.0), (480.0, 240.0), (0.0, 240.0)]


def gambrel(kinds: list[str], purlin: float, lower: float = 18.0, upper: float = 6.0) -> Plan:
    job, wing = edits.add_wing(Job(), RECTANGLE, kinds, slope_in_12=lower, purlin_in=purlin)
    for edge in job.wings[0].edges:
        if edge.kind == "eave":
            job = edits.set_edge(job, wing, edge.id, upper=Upper(height_in=70.0, slope_in_12=upper))
    plan = solve(job, "preview")
    assert "stage-failed" not in [finding.code for finding in plan.findings]
    return plan


def of(plan: Plan, kind: str) -> list[Member]:
    return [member for member in plan.framing.members if member.kind == kind]


def test_a_gambrels_purlins_run_from_rake_to_rake_and_are_joined_at_rafters() -> None:
    plan = gambrel(["eave", "rake", "eave", "rake"], 1.5)
    purlins = of(plan, "purlin")
    assert sum(m.count * m.length_in for m in purlins) == pytest.approx(2 * 480.0)
    supports = dict(plan.framing.supports)
    for member in purlins:
        # Bevelled to the lower slope of 18 in 12 on the downhill half: atan 1.5 = 56.31°.
        assert member.backing_deg == (0.0, pytest.approx(56.31, abs=0.005))
        # Not under the lower rafter's plumb cut, 7 1/4 / cos 56.31° = 13.07 in: no sawn board is so deep.
        assert member.depth_in == pytest.approx(7.25 * math.hypot(1.0, 1.5))
        for placement in member.placements:
            xs = supports[placement.plane]
            plane = plan.plane(placement.plane)
            assert plane is not None
            for end in (placement.start, placement.end):
                x = plane.to_plane(end)[0]
                assert min(abs(x - s) for s in (*xs, 0.0, 480.0)) < 1e-6
    assert "pitch-break-needs-support" in [finding.code for finding in plan.findings]


def test_rafters_of_both_slopes_are_half_a_purlin_short() -> None:
    kinds = ["eave", "rake", "eave", "rake"]
    without, made = (sorted(m.length_in for m in of(gambrel(kinds, t), "common_rafter")) for t in (0.0, 1.5))
    # Level 3/4 in along slopes of 18 and 6 in 12: 0.75 · √(1 + m²) = 1.352 and 0.839 in.
    off = [0.75 * math.hypot(1.0, m) for m in (1.5, 0.5)]
    assert [a - b for a, b in zip(without, made)] == pytest.approx(off)
    assert off == pytest.approx([1.352, 0.839], abs=5e-4)


def test_purlins_of_a_hipped_gambrel_are_mitred_between_the_hips() -> None:
    plan = gambrel(["eave"] * 4, 1.5)
    purlins = of(plan, "purlin")
    ends = [cut for member in purlins for cut in (member.cuts[0], member.cuts[-1]) if cut.bevel_deg]
    assert ends and all(cut.bevel_deg == pytest.approx(45.0) for cut in ends)
    total = sum(m.count * m.length_in for m in purlins)
    breaks = sum(e.length_in for p in plan.roof.planes for e in p.edges if e.kind == "pitch_break") / 2.0
    # At each of eight ends half the hip's 45° thickness comes off, and the long point lies half a thickness past that.
    assert total == pytest.approx(breaks - 8 * (1.5 / math.sqrt(2.0) - 0.75))


def test_without_purlins_nothing_changes() -> None:
    assert of(gambrel(["eave", "rake", "eave", "rake"], 0.0), "purlin") == []
