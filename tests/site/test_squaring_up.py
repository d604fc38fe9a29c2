"""Diagonals: how far out of square, and the corners that fit the tape, against plain geometry and scipy."""

from __future__ import annotations

import math

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.optimize import minimize

from workbench.job.as_built import Taped
from workbench.job.as_built_edits import take_over_outline, tape
from workbench.job.edits import add_wing
from workbench.job.model import Job
from workbench.plan import solve
from workbench.site.square import square_up

BOX = ((0.0, 0.0), (480.0, 0.0), (480.0, 336.0), (0.0, 336.0))
GABLE = ("eave", "rake", "eave", "rake")


def _tapes(lengths: dict[tuple[int, int], float]) -> list[Taped]:
    return [Taped(wing="w", start=f"e{i}", end=f"e{j}", length_in=x) for (i, j), x in lengths.items()]


def _square(lengths: dict[tuple[int, int], float], outline=BOX):
    return square_up("w", "main", outline, list(lengths), _tapes(lengths))


def test_a_racked_box_is_racked_back() -> None:
    """A box whose far wall was pushed 1 in along: both diagonals follow from Pythagoras, and the shift comes back."""
    racked = {(0, 2): math.hypot(481.0, 336.0), (1, 3): math.hypot(479.0, 336.0)}
    # Walls taped too, so that nothing but the rack is left open.
    walls = {(0, 1): 480.0, (1, 2): math.hypot(1.0, 336.0), (2, 3): 480.0, (3, 0): math.hypot(1.0, 336.0)}
    found = _square({**racked, **walls})
    assert found.fits
    assert found.shifts[0] == pytest.approx((0.0, 0.0), abs=1e-9)
    assert found.shifts[1] == pytest.approx((0.0, 0.0), abs=1e-6)
    assert found.outline[2] == pytest.approx((481.0, 336.0), abs=1e-5)
    assert found.outline[3] == pytest.approx((1.0, 336.0), abs=1e-5)
    assert found.out_of_square_in == pytest.approx(racked[0, 2] - racked[1, 3])


def test_two_diagonals_alone_keep_the_walls() -> None:
    """One diagonal longer, the other as much shorter, is a rack: to the first order walls keep their lengths."""
    whole = math.hypot(480.0, 336.0)
    found = _square({(0, 2): whole + 0.5, (1, 3): whole - 0.5})
    sides = [math.dist(found.outline[i], found.outline[(i + 1) % 4]) for i in range(4)]
    assert sides == pytest.approx([480.0, 336.0, 480.0, 336.0], abs=0.005)
    assert found.out_of_square_in == pytest.approx(1.0)
    assert [one.fitted_in for one in found.lengths] == pytest.approx([whole + 0.5, whole - 0.5])


@settings(max_examples=25, deadline=None)
@given(first=st.floats(-1.5, 1.5), second=st.floats(-1.5, 1.5), wall=st.floats(-0.5, 0.5))
def test_least_change_is_what_a_general_solver_finds(first: float, second: float, wall: float) -> None:
    """Corners moved least under the same lengths, by sequential quadratic programming (scipy)."""
    whole = math.hypot(480.0, 336.0)
    lengths = {(0, 2): whole + first, (1, 3): whole + second, (0, 1): 480.0 + wall}
    found = _square(lengths)
    assert found.fits
    drawn = np.array(BOX).ravel()

    def apart(x, i, j):
        return math.hypot(x[2 * i] - x[2 * j], x[2 * i + 1] - x[2 * j + 1])

    limits = [{"type": "eq", "fun": lambda x, i=i, j=j, t=t: apart(x, i, j) - t} for (i, j), t in lengths.items()]
    best = minimize(
        lambda x: float(((x - drawn) ** 2).sum()), drawn, method="SLSQP", constraints=limits, options={"ftol": 1e-12}
    )
    # The same shape wherever it lies: all distances between corners agree.
    for i in range(4):
        for j in range(i):
            assert math.dist(found.outline[i], found.outline[j]) == pytest.approx(apart(best.x, i, j), abs=2e-3)


def test_no_change_where_the_tape_agrees() -> None:
    whole = math.hypot(480.0, 336.0)
    found = _square({(0, 2): whole, (1, 3): whole})
    assert np.array(found.outline) == pytest.approx(np.array(BOX))
    assert found.out_of_square_in == pytest.approx(0.0)


def test_lengths_that_can_not_be_are_told_and_move_nothing() -> None:
    lengths = {(0, 1): 480.0, (1, 2): 336.0, (0, 2): 900.0}  # longer than both walls together
    found = _square(lengths)
    assert not found.fits
    assert found.outline == BOX
    job = add_wing(Job(), BOX, GABLE)[0]
    for (i, j), length in lengths.items():
        job = tape(job, "wing-1", f"e{i + 1}", f"e{j + 1}", length)
    assert "tapes-do-not-fit" in {finding.code for finding in solve(job, "preview").findings}


def test_out_of_square_is_said_and_can_be_taken_over() -> None:
    whole = math.hypot(480.0, 336.0)
    job = tape(add_wing(Job(), BOX, GABLE)[0], "wing-1", "e1", "e3", whole + 0.5)
    job = tape(job, "wing-1", "e2", "e4", whole - 0.5)
    plan = solve(job, "preview")
    finding = next(finding for finding in plan.findings if finding.code == "out-of-square")
    assert 'differ by 1"' in finding.text
    taken = solve(take_over_outline(job, "wing-1", plan.site.squarings[0].outline), "preview")
    assert "out-of-square" not in {finding.code for finding in taken.findings}
    assert [one.drawn_in for one in taken.site.squarings[0].lengths] == pytest.approx([whole + 0.5, whole - 0.5])


def test_corners_of_any_outline_can_be_taped() -> None:
    outline = ((0, 0), (480, 0), (480, 200), (240, 200), (240, 336), (0, 336))
    job = add_wing(Job(), outline, ("eave",) * 6)[0]
    job = tape(job, "wing-1", "e1", "e4", math.hypot(240.0, 200.0) + 0.75)
    found = solve(job, "preview").site.squarings[0]
    assert found.fits
    assert found.out_of_square_in is None
    assert len(found.shifts) == 6
