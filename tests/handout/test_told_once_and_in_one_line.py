"""What several lines of the order list are counted by is told once; lines of a layout stick never run over."""

from __future__ import annotations

from dataclasses import replace

import pytest

from workbench.handout.blocks import Table, Words
from workbench.handout.order_list import order_pages
from workbench.handout.roof_page import roof_pages
from workbench.handout.setting_out_page import BENCH, stick_table
from workbench.job import edits
from workbench.job.model import Job
from workbench.job.read import read_job
from workbench.measure import Units
from workbench.plan import solve
from workbench.resources import sample_jobs
from workbench.site.model import StickMark

HOUSE = [(0.0, 0.0), (480.0, 0.0), (480.0, 336.0), (0.0, 336.0)]


@pytest.fixture(scope="module")
def plan():
    job, _ = edits.add_wing(Job(name="House"), HOUSE, ["eave", "rake", "eave", "rake"], rake_overhang_in=12.0)
    return solve(job, "live")


def test_what_lines_share_is_told_once_below_them(plan):
    blocks = [block for page in order_pages(plan, "letter") for block in page.blocks]
    shared = next(q.trace.formula for q in plan.quantities if q.group == "framing")
    assert sum(q.trace.formula == shared for q in plan.quantities) > 1
    cells = [cell for block in blocks if isinstance(block, Table) for row in block.rows for cell in row]
    assert not [cell for cell in cells if shared in cell]
    assert len([block for block in blocks if isinstance(block, Words) and shared in block.text]) == 1
    # Every line still says what it was counted from.
    for quantity in plan.quantities:
        assert any(quantity.trace.values in cell for cell in cells), quantity.name


def test_lines_of_a_stick_stand_in_one_line_each(plan):
    usual = plan.site.sticks[0]
    other = replace(usual.marks[1], mark="Valley jack 12", line_in=143.25)
    for stick in (usual, replace(usual, marks=(usual.marks[0], other, *usual.marks[2:]))):
        table = stick_table(stick, Units())
        one = Table(table.columns, (("0",) * len(table.columns),), BENCH, after=10.0)
        step = Table(table.columns, (("0",) * len(table.columns),) * 2, BENCH, after=10.0)
        row_pt = step.height(540.0) - one.height(540.0)
        assert table.height(540.0) == pytest.approx(one.height(540.0) + (len(table.rows) - 1) * row_pt)


def test_what_lies_before_the_hook_is_said_in_words(plan):
    stick = plan.site.sticks[0]
    first: StickMark = replace(stick.marks[0], line_in=-0.75)
    table = stick_table(replace(stick, marks=(first, *stick.marks[1:])), Units())
    assert table.rows[0][0].startswith('3/4" before 0')


def test_the_first_page_tells_of_falls_before_other_warnings():
    job = read_job(next(path for path in sample_jobs() if path.stem == "cut-up-house"))
    solved = solve(job, "preview")
    assert [each.severity for each in solved.findings].count("warning") > 3
    said = [block.text for block in roof_pages(solved, "letter")[0].blocks if isinstance(block, Words)]
    falls = next(each.text for each in solved.findings if each.code == "fall-protection")
    assert said[1] == f"warning: {falls}"
