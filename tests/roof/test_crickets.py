"""Crickets behind chimneys: worked by hand from the widths and slopes, and solved to the last sheet."""

from __future__ import annotations

import math
from typing import Any

import pytest

from workbench.errors import EditError
from workbench.job import edits
from workbench.job.crickets import Cricket
from workbench.job.model import Job
from workbench.measure import Units
from workbench.plan import Plan, solve
from workbench.roof.build import build_roof

MAIN = ((0.0, 0.0), (480.0, 0.0), (480.0, 336.0), (0.0, 336.0))


def chimney(width: float = 48.0, y: float = 60.0, cricket: Cricket | None = None, **fields: Any) -> Job:
    job, _ = edits.add_wing(Job(), MAIN, ["eave", "rake", "eave", "rake"], slope_in_12=7.0, name="main", **fields)
    job, opening = edits.add_opening(
        job, "wing-1/e1", x_in=200.0, y_in=y, width_in=width, length_in=36.0, kind="chimney"
    )
    return edits.set_opening(job, opening, cricket=cricket)


def codes(plan: Plan) -> list[str]:
    return [finding.code for finding in plan.findings]


@pytest.mark.parametrize(("slope", "width"), [(None, 48.0), (7.0, 60.0), (3.0, 36.0), (12.0, 48.0)])
def test_ridge_and_valleys_by_hand(slope: float | None, width: float) -> None:
    """Half the width times the slope is the ridge's height; over the plane's slope it is the ridge's length."""
    plan = solve(chimney(width, cricket=Cricket(slope_in_12=slope)))
    c, m = (slope or 7.0) / 12.0, 7.0 / 12.0
    rise, long = c * width / 2.0, c * width / (2.0 * m)
    for side in ("left", "right"):
        plane = plan.plane(f"chimney-1-cricket/{side}")
        assert plane is not None
        by_kind = {edge.kind: edge for edge in plane.edges}
        assert set(by_kind) == {"ridge", "valley", "wall"}
        assert by_kind["ridge"].length_in == pytest.approx(long)
        assert by_kind["valley"].length_in == pytest.approx(math.sqrt((width / 2.0) ** 2 + long**2 + rise**2))
        assert by_kind["valley"].neighbour == "wing-1/e1"
        assert plane.area_sqft * 144.0 == pytest.approx(width / 2.0 * long / 2.0 * math.hypot(1.0, c))
        low = min(z for *_, z in plane.corners)
        assert max(z for *_, z in plane.corners) - low == pytest.approx(rise)
        main = plan.plane("wing-1/e1")
        assert main is not None
        assert low == pytest.approx(main.to_space((0.0, 96.0))[2], abs=1e-6)
    assert "stage-failed" not in codes(plan)
    assert "cricket-left-out" not in codes(plan)


def test_the_main_plane_runs_on_below_it() -> None:
    with_one, without = solve(chimney(cricket=Cricket())), solve(chimney())
    for plan in (with_one, without):
        assert plan.plane("wing-1/e1") is not None
    areas = [plan.plane("wing-1/e1").area_sqft for plan in (with_one, without)]  # type: ignore[union-attr]
    assert areas[0] == pytest.approx(areas[1])


def test_it_has_sleepers_jacks_a_ridge_and_sheets() -> None:
    plan = solve(chimney(72.0, cricket=Cricket(slope_in_12=9.0)))
    mine = [m for m in plan.framing.members if any("cricket" in p.plane for p in m.placements)]
    assert sum(m.count for m in mine if m.kind == "ridge_board") == 1
    # At the chimney and 16 and 32 in from it, in pairs; what is shorter than 6 in is left away.
    assert sum(m.count for m in mine if m.kind == "valley_jack") == 6
    assert sum(m.count for m in plan.framing.members if m.kind == "sleeper") == 2
    assert {s.plane for s in plan.sheathing.planes if s.pieces} >= {"chimney-1-cricket/left", "chimney-1-cricket/right"}
    assert not any("cricket" in f.object and f.severity == "error" for f in plan.findings)


def test_a_wide_chimney_without_one_is_told() -> None:
    """IRC R1003.20 (from memory): over 30 in wide and not in the ridge."""
    assert "chimney-without-cricket" in codes(solve(chimney(31.0)))
    assert "chimney-without-cricket" not in codes(solve(chimney(30.0)))
    assert "chimney-without-cricket" not in codes(solve(chimney(48.0, y=180.0)))  # through the ridge
    assert "chimney-without-cricket" not in codes(solve(chimney(48.0, cricket=Cricket())))


def test_one_that_would_come_out_over_the_ridge_is_left_out_and_told() -> None:
    high = solve(chimney(60.0, y=150.0, cricket=Cricket(slope_in_12=12.0)))
    text = next(f.text for f in high.findings if f.code == "cricket-left-out")
    assert "slope under" in text
    ridge = solve(chimney(60.0, y=180.0, cricket=Cricket()))
    assert "stands in the ridge" in next(f.text for f in ridge.findings if f.code == "cricket-left-out")


def test_it_goes_with_the_chimney() -> None:
    job = chimney(cricket=Cricket())
    moved = edits.set_opening(job, "chimney-1", x_in=100.0)
    left = solve(moved).plane("chimney-1-cricket/left")
    assert left is not None
    assert min(x for x, *_ in left.corners) == pytest.approx(100.0)
    assert edits.set_opening(job, "chimney-1", kind="skylight").openings[0].cricket is None
    assert len(build_roof(edits.remove_opening(job, "chimney-1").wings, Units()).roof.planes) == 2
    with pytest.raises(EditError, match="skylight, but has a cricket"):
        edits.set_opening(job, "chimney-1", kind="skylight", cricket=Cricket())
