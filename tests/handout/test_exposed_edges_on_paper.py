"""Exposed eaves and rakes on the plane page, in the cutter's list, the order list and on the command line."""

from __future__ import annotations

import pytest

from workbench.cli.report import layout_text, plan_json
from workbench.drawing.exposed_plan import exposed_words
from workbench.drawing.primitives import Text
from workbench.drawing.sheet_plan import plane_sheets, sheets_from_above
from workbench.handout.cutters_list import cutters_pages
from workbench.job.edits import set_sheathing
from workbench.job.exposed import ExposedEdges
from workbench.job.read import read_job
from workbench.job.samples import sample_jobs
from workbench.plan import solve


def plan_with(**exposed):
    job = read_job(next(sample.path for sample in sample_jobs() if sample.name == "plain-gable"))
    return solve(set_sheathing(job, exposed=ExposedEdges(**exposed)))


def words_on(drawing):
    return [item.text for item in drawing.items if isinstance(item, Text)]


@pytest.mark.parametrize("finish", ["boards", "panel"])
def test_a_plane_shows_its_strips_and_says_where_the_sheets_begin(finish):
    plan = plan_with(finish=finish, eaves_in=24.0, rakes_in=12.75)
    plane = plan.roof.planes[0]
    words = words_on(plane_sheets(plan, plane.id))
    assert ("boards" in words) == (finish == "boards")
    assert any(word.startswith("E1") for word in words) == (finish == "panel")
    assert "up from the eave" in exposed_words(plan, plane.id)
    assert "row 1 begins there" in layout_text(plan)
    assert any(getattr(item, "role", "") == "board" for item in sheets_from_above(plan).items)
    assert [strip["edge"] for strip in plan_json(plan)["exposed"]] == ["eave", "rake"] * 2


def test_finish_panels_are_a_stack_of_their_own_in_the_cutters_list():
    plan = plan_with(finish="panel", eaves_in=24.0)
    text = repr(cutters_pages(plan, "letter"))
    assert "Finish panels of" in text
    assert "Finish sheet 1" in text
    codes = {line.code: line for line in plan.quantities}
    assert codes["exposed-panels"].amount == len(plan.sheathing.exposed_stock)
    assert codes["exposed-nails"].amount > 0
    assert "Finish panels" not in repr(cutters_pages(plan_with(), "letter"))
