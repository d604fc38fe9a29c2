"""Anchors and ropes on the order list: one rope an anchor, of the lengths that can be had."""

from __future__ import annotations

from collections import Counter

import pytest

from workbench.job import edits
from workbench.job.model import Job
from workbench.job.safety_edits import add_anchor, set_safety
from workbench.plan import Plan, solve
from workbench.quantities.fall_protection import fall_protection_lines

HOUSE = [(0.0, 0.0), (600.0, 0.0), (600.0, 480.0), (0.0, 480.0)]


@pytest.fixture(scope="module")
def plan() -> Plan:
    job, _ = edits.add_wing(Job(), HOUSE, ["eave", "rake", "eave", "rake"])
    for x, rated in ((200.0, "arrest"), (300.0, "arrest"), (420.0, "unknown"), (9_000.0, "arrest")):
        job, _ = add_anchor(job, "wing-1/e1", x_in=x, rated=rated)
    return solve(set_safety(job, ropes_in=(120.0, 600.0)), "preview")


def test_every_anchor_on_the_roof_is_bought_with_its_rope(plan: Plan) -> None:
    bought = {line.code: line for line in plan.quantities if line.group == "safety"}
    assert bought["anchor-arrest"].amount == 2.0 and bought["anchor-unknown"].amount == 1.0
    wanted = Counter(a.to_buy.length_in or a.to_buy.next_in for a in plan.safety.anchors if a.plane and a.rope_in > 0.0)
    assert {code: line.amount for code, line in bought.items() if code.startswith("rope-")} == {
        f"rope-{length:g}": count for length, count in wanted.items()
    }
    assert wanted, "a rope is left on a slope of 24 ft"
    for line in bought.values():
        assert "competent person" in line.trace.source and "→" in line.trace.values


def test_without_anchors_nothing_is_bought(plan: Plan) -> None:
    bare = solve(set_safety(plan.job, anchors=()), "preview")
    assert not [line for line in bare.quantities if line.group == "safety"]
    assert fall_protection_lines(bare.safety, {}, bare.units) == []
