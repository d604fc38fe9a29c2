"""The page for the saw: every board of the cutting list on it, once, in few lines."""

from __future__ import annotations

import io
import re

import pdfplumber
import pytest

from workbench.framing.already_cut import record_of
from workbench.handout.boards_page import boards_pages
from workbench.handout.document import render_handout
from workbench.job import edits
from workbench.job.cut_edits import mark_cut
from workbench.job.lumber_edits import set_lumber
from workbench.job.model import Job
from workbench.job.plies import Plies
from workbench.plan import Plan, solve
from workbench.quantities.lumber_lines import board_lines


@pytest.fixture(scope="module")
def plan() -> Plan:
    outline = [(0.0, 0.0), (288.0, 0.0), (288.0, 192.0), (0.0, 192.0)]
    job, _ = edits.add_wing(Job(), outline, ["eave"] * 4, slope_in_12=6.0, eave_overhang_in=12.0)
    return solve(set_lumber(job, species="Douglas fir-larch", grade="No.2"), "full")


def test_the_page_names_every_board_its_grade_and_what_is_cut_from_it(plan: Plan) -> None:
    with pdfplumber.open(io.BytesIO(render_handout(plan))) as book:
        texts = [page.extract_text() for page in book.pages]
    page = next(text for text in texts if text.startswith("Boards to cut"))
    for section in plan.lumber.sections:
        assert f"{section.name}: {section.boards} boards" in page
        for line in board_lines(section):
            assert re.search(rf"{line.count} {re.escape(plan.units.length(line.stock_in))}", page)
    assert "2x8 Douglas fir-larch No.2" in page
    assert "fewest proven" in page
    assert "Crown up" in page
    assert "Screening, not design" in page


def test_boards_that_differ_only_in_hands_stand_on_one_line(plan: Plan) -> None:
    for section in plan.lumber.sections:
        lines = board_lines(section)
        assert sum(line.count for line in lines) == section.boards
        assert len({(line.stock_in, re.sub(r" \(.*?\)| left| right", "", line.text)) for line in lines}) == len(lines)


def test_without_a_frame_there_is_no_page() -> None:
    assert boards_pages(solve(Job()), "letter") == []


def test_paper_says_what_is_cut_already() -> None:
    outline = [(0.0, 0.0), (240.0, 0.0), (240.0, 192.0), (0.0, 192.0)]
    job, _ = edits.add_wing(Job(), outline, ["eave", "rake"] * 2, slope_in_12=6.0, eave_overhang_in=12.0)
    common = next(m for m in solve(job, "preview").framing.members if m.kind == "common_rafter")
    done = solve(mark_cut(job, record_of(common, 3)), "preview")
    with pdfplumber.open(io.BytesIO(render_handout(done))) as book:
        text = "\n".join(page.extract_text() for page in book.pages)
    assert f"{common.mark}: {common.count} pieces of 2x8, 3 cut, {common.count - 3} to cut" in text
    assert "3 pieces are cut already and not in this list" in " ".join(text.split())


def test_paper_says_that_plies_are_nailed_together_as_called_for() -> None:
    outline = [(0.0, 0.0), (240.0, 0.0), (240.0, 192.0), (0.0, 192.0)]
    job, _ = edits.add_wing(Job(), outline, ["eave"] * 4, slope_in_12=6.0, plies=Plies(hip=2))
    plan = solve(job, "preview")
    with pdfplumber.open(io.BytesIO(render_handout(plan))) as book:
        texts = [" ".join(page.extract_text().split()) for page in book.pages]
    board_page = next(text for text in texts if text.startswith("Boards to cut"))
    card_page = next(text for text in texts if text.startswith("Cut cards") and "Hip 1" in text)
    assert (
        "Hip 1 (2 plies): boards side by side, to be nailed together as the engineer or the table calls" in board_page
    )
    assert "2 plies side by side make one hip: nail them together as the engineer or the table calls" in card_page
