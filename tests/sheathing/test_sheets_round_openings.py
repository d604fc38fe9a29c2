"""Sheets round skylights and chimneys: nothing lies over the hole, all else is covered, its edges are seams."""

from __future__ import annotations

import pytest
import shapely
from hypothesis import given, settings
from hypothesis import strategies as st
from shapely.geometry import Polygon

from workbench.job import edits
from workbench.job.model import Job
from workbench.plan import Plan, solve

MAIN = ((0.0, 0.0), (480.0, 0.0), (480.0, 336.0), (0.0, 336.0))


def with_opening(x: float, y: float, width: float, length: float, kinds: tuple[str, ...]) -> Job:
    job, _ = edits.add_wing(Job(), MAIN, list(kinds), slope_in_12=7.0)  # type: ignore[arg-type]
    return edits.add_opening(job, "wing-1/e1", x_in=x, y_in=y, width_in=width, length_in=length)[0]


def pieces_and_plane(plan: Plan) -> tuple[list[Polygon], Polygon]:
    plane, sheets = plan.plane("wing-1/e1"), plan.sheets_of("wing-1/e1")
    assert plane is not None
    assert sheets is not None
    return [Polygon(piece.polygon) for piece in sheets.pieces], Polygon(plane.polygon, plane.opening_polygons)


GABLE, HIPS = ("eave", "rake", "eave", "rake"), ("eave",) * 4


@settings(max_examples=12, deadline=None)
@given(
    st.sampled_from([GABLE, HIPS]),
    st.integers(140, 260),
    st.integers(10, 60),
    st.sampled_from([14.0, 22.5, 46.0, 100.0]),
    st.sampled_from([22.5, 46.0, 80.0]),
)
def test_pieces_cover_all_but_the_hole(kinds: tuple[str, ...], x: int, y: int, width: float, length: float) -> None:
    plan = solve(with_opening(float(x), float(y), width, length, kinds))
    pieces, plane = pieces_and_plane(plan)
    assert len(plane.interiors) == 1
    assert all(piece.is_valid for piece in pieces)
    # Grown by half a gap the pieces meet; nothing runs past the plane or over the hole.
    covered = shapely.union_all([piece.buffer(0.07, join_style="mitre") for piece in pieces])
    assert plane.difference(covered).area < 1e-3
    assert shapely.union_all(pieces).difference(plane.buffer(1e-6)).area < 1e-6
    assert sum(piece.area for piece in pieces) == pytest.approx(shapely.union_all(pieces).area, abs=1e-3)
    assert plan.sheathing.at_least <= plan.sheathing.count
    # Joints counted one by one against the perimeters of what they part: the seams stage tells where they disagree.
    assert not {"stage-failed", "seams-disagree"} & {finding.code for finding in plan.findings}


def test_the_hole_counts_in_the_bound_and_its_edges_in_the_seams() -> None:
    """A hole of three sheets' width over the whole slope, but for a strip, takes some twenty sheets' worth away."""
    closed, _ = edits.add_wing(Job(), MAIN, ["eave", "rake", "eave", "rake"], slope_in_12=7.0)
    before, after = solve(closed), solve(with_opening(96.0, 20.0, 288.0, 150.0, GABLE))
    assert after.sheathing.count < before.sheathing.count - 5
    assert after.sheathing.at_least < before.sheathing.at_least - 5
    assert after.sheathing.seam_totals.wall == pytest.approx(2.0 * (288.0 + 150.0))
    assert before.sheathing.seam_totals.wall == 0.0


def test_a_small_skylight_inside_one_sheet_is_cut_out_of_it() -> None:
    plan = solve(with_opening(20.0, 20.0, 14.0, 20.0, GABLE))
    pieces, plane = pieces_and_plane(plan)
    assert sum(piece.area for piece in pieces) < plane.area
    assert not any(piece.intersection(Polygon(plane.interiors[0])).area > 1e-6 for piece in pieces)
