"""Rips of the whole sheet and what waits for another plane, counted by hand and against the cut plan."""

from __future__ import annotations

import pytest

from workbench.handout.saw_summary import kept_for_later, rips
from workbench.job.read import read_job
from workbench.job.samples import sample_jobs
from workbench.plan import solve
from workbench.sheathing.model import StockCut, StockSheet


def sheet(*boxes):
    cuts = tuple(
        StockCut("main/front", f"1{chr(65 + i)}", ((x0, y0), (x1, y0), (x1, y1), (x0, y1)))
        for i, (x0, y0, x1, y1) in enumerate(boxes)
    )
    return StockSheet("Sheet 1", 96.0, 48.0, cuts)


def test_two_halves_are_one_sheet_and_two_strips():
    assert rips([sheet((0, 0, 96, 24), (0, 24, 96, 48))]) == [(24.0, 1, 2)]


def test_pieces_side_by_side_come_from_one_strip():
    assert rips([sheet((0, 0, 48, 26), (48.125, 0, 96, 26)), sheet((0, 0, 96, 26))]) == [(26.0, 2, 2)]


def test_a_sheet_with_a_piece_of_full_width_is_not_ripped_along():
    assert rips([sheet((0, 0, 40, 48), (40.125, 0, 96, 20))]) == []


@pytest.mark.parametrize("name", ["plain-gable", "l-house"])
def test_every_piece_that_waits_is_named_once(name):
    plan = solve(read_job(next(one.path for one in sample_jobs() if one.name == name)))
    waiting = [(to, entry) for (_, to), entries in kept_for_later(plan).items() for entry in entries]
    later = sum(len({cut.plane for cut in one.cuts}) - 1 for one in plan.sheathing.stock)
    assert len(waiting) == len(set(waiting)) == later
