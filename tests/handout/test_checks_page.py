"""The checks page: loads, every failing check, the caution; one page for a plain house."""

from __future__ import annotations

from workbench.handout.blocks import Boxed, Table, Words
from workbench.handout.checks_page import checks_pages
from workbench.job.model import Job
from workbench.job.read import read_job
from workbench.job.samples import sample_jobs
from workbench.job.screening_edits import set_screening, set_snow
from workbench.plan import solve


def sample(name: str) -> Job:
    return read_job(next(each.path for each in sample_jobs() if each.path.stem == name))


def said(pages) -> str:
    texts: list[str] = []
    for page in pages:
        for block in page.blocks:
            if isinstance(block, Table):
                texts += [cell for row in block.rows for cell in row]
            if isinstance(block, Boxed):
                texts += [words.text for words in block.blocks if isinstance(words, Words)]
    return "\n".join(texts)


def test_a_plain_house_takes_one_page() -> None:
    plan = solve(sample("plain-gable"), "preview")
    pages = checks_pages(plan, "letter")
    assert len(pages) == 1
    assert "Screening, not design" in said(pages)


def test_all_that_fails_is_named_with_what_would_pass() -> None:
    job = set_snow(set_screening(sample("cut-up-house"), live_psf=20.0, dead_psf=15.0), ground_psf=90.0)
    plan = solve(job, "preview")
    text = said(checks_pages(plan, "letter"))
    failing = [check for check in plan.screening.checks if check.verdict in ("fails", "open")]
    assert failing
    for check in failing:
        assert check.subject in text
        assert check.mend[1:] in text
    assert "psf" in text


def test_what_is_assumed_is_said_in_the_head_of_the_page() -> None:
    assert checks_pages(solve(sample("shed-porch"), "preview"), "a4")[0].line == "Loads assumed, not given"
    assert checks_pages(solve(Job(), "preview"), "letter") == []
