"""Whatever can be drawn is solved, or told in a finding: no stage of the pipeline may fail."""

from __future__ import annotations

import math
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from workbench import plan as pipeline
from workbench.errors import EditError
from workbench.job import edits
from workbench.job.model import Job
from workbench.plan import solve

GRID_IN = 24.0


@st.composite
def steps(draw: st.DrawFn) -> list[tuple[float, float]]:
    """A stepped outline: a row of boxes of unequal depth on one front line."""
    widths = draw(st.lists(st.integers(3, 14), min_size=1, max_size=4))
    depths = draw(st.lists(st.integers(4, 14), min_size=len(widths), max_size=len(widths)))
    corners: list[tuple[float, float]] = [(0.0, 0.0), (sum(widths) * GRID_IN, 0.0)]
    right = sum(widths)
    for width, depth in zip(reversed(widths), reversed(depths), strict=True):
        for corner in ((right * GRID_IN, depth * GRID_IN), ((right - width) * GRID_IN, depth * GRID_IN)):
            if corners[-1] != corner:
                corners.append(corner)
        right -= width
    return [c for i, c in enumerate(corners) if _turns(corners[i - 1], c, corners[(i + 1) % len(corners)])]


def _turns(a: tuple[float, float], b: tuple[float, float], c: tuple[float, float]) -> bool:
    return (b[0] - a[0]) * (c[1] - b[1]) != (b[1] - a[1]) * (c[0] - b[0])


kinds = st.sampled_from(["eave", "eave", "eave", "rake", "wall"])
slopes = st.sampled_from([2.0, 4.0, 6.0, 6.62, 7.0, 9.0, 12.0, 18.0])


@st.composite
def jobs(draw: st.DrawFn) -> Job:
    """One or two wings with ordinary and odd settings."""
    job = Job()
    for number in range(draw(st.integers(1, 2))):
        outline = draw(steps())
        shift = (draw(st.integers(-6, 12)) * GRID_IN, draw(st.integers(-10, 10)) * GRID_IN) if number else (0.0, 0.0)
        edge_kinds = [draw(kinds) for _ in outline]
        if "eave" not in edge_kinds:
            edge_kinds[0] = "eave"
        fields: dict[str, Any] = {
            "slope_in_12": draw(slopes),
            "eave_overhang_in": draw(st.sampled_from([0.0, 12.0, 16.0, 24.0])),
            "rake_overhang_in": draw(st.sampled_from([0.0, 1.0, 12.0])),
        }
        moved = [(x + shift[0], y + shift[1]) for x, y in outline]
        try:
            job, wing = edits.add_wing(job, moved, edge_kinds, **fields)
            if draw(st.booleans()):
                edge = draw(st.sampled_from([e.id for e in job.wing(wing).edges if e.kind == "eave"]))
                job = edits.set_edge(job, wing, edge, slope_in_12=draw(slopes))
            job = edits.set_rafter(job, wing, spacing_in=draw(st.sampled_from([12.0, 16.0, 19.2, 24.0, 31.0])))
        except EditError:
            continue
    return job


@settings(max_examples=12)
@given(jobs())
def test_no_stage_fails(job: Job) -> None:
    plan = solve(job)
    assert "stage-failed" not in [finding.code for finding in plan.findings], plan.findings[0].text
    assert plan.sheathing.at_least <= plan.sheathing.count
    for plane in plan.roof.planes:
        assert math.isfinite(plane.area_sqft)
        assert plane.area_sqft > 0.0


def test_a_fault_in_one_stage_is_told_and_the_rest_is_solved(monkeypatch: pytest.MonkeyPatch) -> None:
    def broken(*args: object, **kwargs: object) -> None:
        msg = "on purpose"
        raise ZeroDivisionError(msg)

    monkeypatch.setattr(pipeline, "plan_sheathing", broken)
    job, _ = edits.add_wing(Job(), [(0, 0), (480, 0), (480, 336), (0, 336)], ["eave", "rake", "eave", "rake"])
    plan = solve(job)
    assert [f.code for f in plan.findings if f.severity == "error"] == ["stage-failed"]
    assert "ZeroDivisionError: on purpose" in plan.findings[0].text
    assert plan.roof.planes
    assert plan.framing.members
    assert plan.sheathing.stock == ()
