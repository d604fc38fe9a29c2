"""A depth asked for that no sawn board has is told, with the board that would do."""

from __future__ import annotations

import math

import pytest

from workbench.findings import Finding
from workbench.job import edits
from workbench.job.model import Hips, Job, Rafter, Ridge
from workbench.plan import solve


def told(rafter: Rafter, ridge: Ridge, hips: Hips, slope: float = 9.0) -> list[Finding]:
    outline = [(0.0, 0.0), (480.0, 0.0), (480.0, 300.0), (0.0, 300.0)]
    job, _ = edits.add_wing(Job(), outline, ["eave"] * 4, slope_in_12=slope, rafter=rafter, ridge=ridge, hips=hips)
    return [finding for finding in solve(job, "preview").findings if finding.code == "depth-not-sawn"]


def test_a_ridge_board_of_an_odd_depth_is_told_with_one_that_would_do() -> None:
    (finding,) = told(Rafter(), Ridge(depth_in=11.5625), Hips())
    assert finding.severity == "note"
    assert 'ridge boards are asked for 11 9/16" deep, and no sawn board is' in finding.text
    # 9 in 12 is a 3-4-5 triangle: the plumb cut of 7 1/4 is 7 1/4 · 5/4 = 9 1/16, under the 9 1/4 of a nominal 10.
    assert 7.25 * math.hypot(3.0, 4.0) / 4.0 == pytest.approx(9.0625)
    assert 'cut ends are 9 1/16" deep, for which 9 1/4" (nominal 10) will do' in finding.text


def test_hips_are_told_by_themselves_and_rafters_with_the_next_deeper() -> None:
    (finding,) = told(Rafter(), Ridge(), Hips(depth_in=10.0))
    assert "hips are asked for" in finding.text
    (finding,) = told(Rafter(depth_in=8.0), Ridge(), Hips())
    assert "rafters are asked for" in finding.text
    assert 'next deeper is 9 1/4" (nominal 10)' in finding.text


def test_where_none_is_deep_enough_the_deepest_is_named() -> None:
    (finding,) = told(Rafter(depth_in=11.25), Ridge(depth_in=16.0), Hips())
    assert "The deepest is 11 1/4\" and the rafters' cut ends are 1' 2 1/16\" deep" in finding.text


def test_a_depth_nobody_asked_for_that_no_board_has_names_one_that_is_made() -> None:
    outline = [(0.0, 0.0), (480.0, 0.0), (480.0, 300.0), (0.0, 300.0)]
    job, _ = edits.add_wing(Job(), outline, ["eave", "rake"] * 2, slope_in_12=9.0, rafter=Rafter(depth_in=9.25))
    (finding,) = [each for each in solve(job, "preview").findings if each.code == "deeper-than-sawn"]
    assert 'made lumber 11 7/8" deep would be deep enough' in finding.text


def test_nothing_is_told_of_boards_that_are_sold_or_of_made_lumber() -> None:
    assert not told(Rafter(), Ridge(depth_in=11.25), Hips(depth_in=9.25))
    assert not told(Rafter(), Ridge(thickness_in=1.75, depth_in=11.875), Hips())
