"""The page with the first row for every measured length."""

from __future__ import annotations

from itertools import pairwise

from msgspec.structs import replace

from workbench.handout.first_row_page import day_tables, first_row_pages, planes_without
from workbench.job.as_built import AsBuilt, PlaneMeasured
from workbench.job.read import read_job
from workbench.job.samples import sample_jobs
from workbench.plan import solve


def sample(name):
    return read_job(next(one.path for one in sample_jobs() if one.name == name))


def test_planes_that_are_alike_share_a_table_and_all_fit_one_page():
    plan = solve(sample("plain-gable"))
    (table,) = day_tables(plan)
    assert len(table.planes) == 2
    assert len(table.lines) == 25
    assert len(first_row_pages(plan, "letter")) == 1
    assert len(first_row_pages(plan, "a4")) == 1
    # A quarter inch more on the plane is a quarter inch more on the row at most.
    steps = [b.outer_in - a.outer_in for a, b in pairwise(table.lines)]
    assert all(-1e-6 <= step <= 0.25 + 1e-6 for step in steps)
    assert sum(step > 0.25 - 1e-6 for step in steps) >= 11


def test_measured_planes_have_no_table_and_their_rows_follow():
    job = sample("plain-gable")
    plane = solve(job).roof.planes[0]
    taken = PlaneMeasured(plane=plane.id, left_in=plane.plane_length_in + 1.0, right_in=plane.plane_length_in + 0.5)
    plan = solve(replace(job, site=replace(job.site, as_built=AsBuilt(planes=(taken,)))))
    assert [len(table.planes) for table in day_tables(plan)] == [1]
    sheets = plan.sheets_of(plane.id)
    assert sheets is not None
    assert sheets.rows[0].width_ends_in is not None
    assert abs(sheets.rows[0].width_ends_in[0] - sheets.rows[0].width_ends_in[1] - 0.5) < 1e-6
    assert "cut-as-measured" in [found.code for found in plan.findings]


def test_the_row_said_to_be_as_drawn_is_that_of_the_plane_s_own_page():
    for name in ("l-house", "vaulted-room", "shed-porch", "plain-gable"):
        plan = solve(sample(name), "preview")
        for table in day_tables(plan):
            said = [
                line
                for line in table.lines
                if plan.units.inches(line.measured_in) == plan.units.inches(table.planned_in)
            ]
            assert len(said) == 1, (name, table.planes)
            own = table.planned_widths_in[table.row - 1]
            assert plan.units.inches(said[0].outer_in) == plan.units.inches(own), (name, table.planes)
            lengths = [line.measured_in for line in table.lines]
            assert lengths == sorted(lengths)


def test_planes_that_two_lengths_do_not_tell_are_named():
    plan = solve(sample("cut-up-house"), "preview")
    named = {name for table in day_tables(plan) for name in table.planes}
    without = planes_without(plan)
    assert "front main" in without
    assert named.isdisjoint(without)
    assert named | set(without) == {plan.plane(sheets.plane).name for sheets in plan.sheathing.planes if sheets.rows}
    assert planes_without(solve(sample("plain-gable"), "preview")) == []
