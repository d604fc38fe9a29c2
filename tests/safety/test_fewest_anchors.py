"""Fewest anchors: set cover against an exact integer program, and against the formula for a rectangle."""

from __future__ import annotations

import itertools
import math

import numpy as np
import pytest
import shapely
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.optimize import Bounds, LinearConstraint, milp

from workbench.framing.model import Framing
from workbench.job.safety_edits import add_anchor, set_guard
from workbench.safety.cover import fewest_sets
from workbench.safety.fewest import Candidate, grid_points, served_masks


@given(st.lists(st.integers(0, 2**14 - 1), min_size=1, max_size=12))
@settings(max_examples=80)
def test_set_cover_against_an_integer_program(holds):
    """scipy.optimize.milp (HiGHS) on the same sets."""
    chosen, proven = fewest_sets(holds)
    everything = 0
    for mask in holds:
        everything |= mask
    covered = 0
    for i in chosen:
        covered |= holds[i]
    assert proven
    assert covered == everything
    if not everything:
        return
    rows = [[mask >> bit & 1 for mask in holds] for bit in range(14) if everything >> bit & 1]
    best = milp(
        np.ones(len(holds)),
        constraints=LinearConstraint(np.array(rows), lb=1),
        integrality=np.ones(len(holds)),
        bounds=Bounds(0, 1),
    )
    assert len(chosen) == round(best.fun)


@pytest.mark.parametrize(("radius", "count"), [(170.0, 5), (180.0, 3), (240.0, 2)])
def test_a_rectangle_takes_as_many_as_the_formula_says(radius, count):
    """n = ⌈W / (2·√(r² − S²))⌉ circles of radius r on the ridge of a W by S plane (plain geometry)."""
    width, length = 480.0, 161.0
    assert count == math.ceil(width / (2.0 * math.sqrt(radius**2 - length**2)))
    spots = [Candidate((6.0 * k, length), radius, radius) for k in range(81)]
    chosen, proven = fewest_sets(served_masks(spots, grid_points(shapely.box(0.0, 0.0, width, length))))
    assert proven
    assert len(chosen) == count


def test_fewest_on_a_roof_is_fewest_by_trying_all(build):
    xs = tuple(24.0 * k for k in range(1, 20))
    framing = Framing((), (("wing-1/e1", xs),))
    job = set_guard(build.gable(slope_in_12=4.0), "wing-1/e2", kind="guardrail", guarded=True, wide=True, strong=True)
    job = set_guard(job, "wing-1/e4", kind="guardrail", guarded=True, wide=True, strong=True)
    plan = build.safety_of(job, framing=framing)
    found = plan.fewest("wing-1/e1")
    assert found.proven
    plane = build.roof_of(job).plane("wing-1/e1")
    top = plane.plane_length_in
    spots = [Candidate((x, top), top - 90.0, top - 90.0 + 24.0) for x in (0.0, *xs, 480.0)]
    masks = served_masks(spots, grid_points(shapely.box(0.0, 0.0, 480.0, top)))
    everything = 0
    for mask in masks:
        everything |= mask
    fewer = len(found.points) - 1
    for some in itertools.combinations(masks, min(fewer, 3)):
        union = 0
        for mask in some:
            union |= mask
        assert union != everything
    assert found.share == pytest.approx(found.best_share, abs=0.02)


def test_the_fewest_set_as_anchors_serve_what_was_told(build):
    framing = Framing((), (("wing-1/e1", tuple(16.0 * k for k in range(1, 30))),))
    job = build.gable(slope_in_12=7.0)
    found = build.safety_of(job, framing=framing).fewest("wing-1/e1")
    assert found.points
    for x, _ in found.points:
        job = add_anchor(job, "wing-1/e1", x_in=x)[0]
    plan = build.safety_of(job, framing=framing)
    assert plan.plane("wing-1/e1").share == pytest.approx(found.share, abs=1e-3)
    assert [a.set_in for a in plan.anchors] == pytest.approx(list(found.sets_in))


def test_where_no_rope_is_left_nothing_is_proposed(build):
    job = build.gable(120.0, 96.0)
    found = build.safety_of(job).fewest("wing-1/e1")
    assert found.points == ()
    assert found.best_share == 0.0
    assert build.safety_of(job).fewest("nowhere/e1") is None
