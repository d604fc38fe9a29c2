"""Measures no list can be made of, through the whole pipeline: a finding says so, and what is listed is still right."""

from __future__ import annotations

import pytest
from msgspec.structs import replace

from workbench.job import edits
from workbench.job.model import Job
from workbench.plan import solve
from workbench.sheathing.cutting import check_cutting


def gable(width=480.0, depth=300.0, **sheathing):
    corners = [(0.0, 0.0), (width, 0.0), (width, depth), (0.0, depth)]
    job, wing = edits.add_wing(Job(), corners, ["eave", "rake", "eave", "rake"])
    return edits.set_sheathing(job, **sheathing) if sheathing else job, wing


def solved(job):
    """The plan, its cut plan checked by code that did not make it."""
    plan = solve(job)
    pieces = [piece for plane in plan.sheathing.planes for piece in plane.pieces]
    assert check_cutting(pieces, plan.sheathing.stock) == []
    assert not any(finding.code == "stage-failed" for finding in plan.findings)
    return plan


def told(plan, code):
    return [finding for finding in plan.findings if finding.code == code]


def test_a_plane_smaller_than_a_sheet():
    job, _ = gable(40.0, 30.0)
    plan = solved(job)
    assert {finding.severity for finding in told(plan, "row-too-narrow")} == {"error"}
    assert all(len(sheets.pieces) == 1 for sheets in plan.sheathing.planes)
    assert plan.sheathing.count <= 2


def test_a_slot_wider_than_the_top_row_is_told_and_one_that_leaves_nothing_too():
    for slot, code in ((60.0, "slot-over-row"), (400.0, "nothing-to-sheathe")):
        plan = solved(gable(ridge_slot_in=slot)[0])
        found = told(plan, code)
        assert len(found) == 2
        assert {finding.severity for finding in found} == {"error"}
        assert all("make it smaller" in finding.text for finding in found)
    assert not told(solved(gable(ridge_slot_in=2.0)[0]), "slot-over-row")


@pytest.mark.parametrize(("spacing", "would"), [(20.0, '19 3/16"'), (22.0, '24"')])
def test_a_spacing_off_the_module_says_which_would_fit(spacing, would):
    job, wing = gable()
    found = told(solved(edits.set_rafter(job, wing, spacing_in=spacing)), "spacing-off-module")
    assert found
    assert all(would in finding.text for finding in found)


def test_rafters_further_apart_than_a_sheet_is_long():
    job, wing = gable()
    plan = solved(edits.set_rafter(job, wing, spacing_in=120.0))
    found = told(plan, "joint-off-framing")
    assert {finding.severity for finding in found} == {"error"}
    assert all('96" on centre would' in finding.text for finding in found)


def test_sheets_too_short_to_span_two_rafters():
    plan = solved(gable(panel_length_in=20.0, panel_width_in=48.0)[0])  # rafters stand 24 in on centre
    found = told(plan, "joint-off-framing")
    assert {finding.severity for finding in found} == {"error"}
    assert all('20" on centre would' in finding.text for finding in found)


def test_boards_too_short_for_the_pieces_are_told_by_section():
    job, _ = gable()
    short = edits.set_job(job, lumber=replace(job.lumber, lengths_in=(96.0,)))
    found = told(solved(short), "board-longer-than-had")
    assert found
    assert not told(solved(job), "board-longer-than-had")
