"""The dry-in page: order, lengths, cautions; what it shows is what was worked out."""

from __future__ import annotations

import io

import pdfplumber
import pytest

from workbench.drawing.dry_in_plan import dry_in_from_above, steps_drawn
from workbench.drawing.primitives import Line, Text
from workbench.drying_in.words import run_words
from workbench.handout.dry_in_page import dry_in_pages
from workbench.handout.page import draw_page
from workbench.handout.pen import Pen
from workbench.job.drying_in_edits import set_drying_in, set_ice
from workbench.job.edits import set_sheathing
from workbench.job.model import Job
from workbench.job.read import read_job
from workbench.job.samples import sample_jobs
from workbench.measure import Units
from workbench.plan import Plan, solve


def sample(name: str) -> Job:
    return read_job(next(each.path for each in sample_jobs() if each.path.stem == name))


def printed(plan: Plan, paper: str = "letter") -> str:
    pen = Pen(plan.job.name, "test")
    pages = dry_in_pages(plan, paper)
    for number, page in enumerate(pages, 1):
        draw_page(pen, plan, page, paper, number, len(pages))
    with pdfplumber.open(io.BytesIO(pen.finish())) as pdf:
        sizes = {round(char["size"], 1) for page in pdf.pages for char in page.chars if char["upright"]}
        assert min(sizes) >= 9.0
        return "\n".join(page.extract_text() or "" for page in pdf.pages)


@pytest.mark.parametrize("name", ["small-house", "l-house", "cut-up-house"])
@pytest.mark.parametrize("tight", ["taped_panels", "underlayment"])
def test_every_step_stands_on_the_page_in_order(name: str, tight: str) -> None:
    job = set_ice(set_drying_in(sample(name), tight=tight, air="vented"))
    plan = solve(set_sheathing(job, ridge_slot_in=1.5), "preview")
    text = printed(plan)
    at = [text.index(step.title) for step in plan.drying_in.steps]
    assert at == sorted(at)
    for step in plan.drying_in.steps:
        assert run_words(step.length_in, plan.units) in text
    for tape in plan.drying_in.tapes:
        assert all(f"{use.words} {use.seams} {run_words(use.length_in, plan.units)}" in text for use in tape.uses)
        assert f"{run_words(tape.left_in, plan.units)} left over" in text
    assert bool(plan.drying_in.tapes) == (tight == "taped_panels")
    assert "FALL HAZARD" in text
    assert "makers' instructions" in text


def test_nothing_without_a_roof() -> None:
    assert dry_in_pages(solve(Job(), "preview"), "letter") == []


def test_every_step_is_drawn_with_its_number() -> None:
    plan = solve(sample("cut-up-house"), "preview")
    drawn = list(steps_drawn(plan))
    for step in plan.drying_in.steps:
        mine = [item for item in drawn if item.key == f"dry:{step.number}"]
        assert any(isinstance(item, Text) and item.text == str(step.number) for item in mine)
        if step.kind != "opening":
            assert sum(isinstance(item, Line) for item in mine) == len(step.runs)
    only = [item.key for item in steps_drawn(plan, 1)]
    assert set(only) == {"dry:1"}
    assert len(dry_in_from_above(plan).items) > len(drawn)


def test_lengths_to_lay_are_never_rounded_down() -> None:
    assert run_words(120.01, Units()) == "10' 1\""
    assert run_words(120.0, Units()) == "10' 0\""
    assert run_words(100.0 / 25.4 + 0.001, Units("mm")) == "110 mm"
