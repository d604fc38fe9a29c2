"""Some parts of the handout by themselves: for the saw, for the ladder."""

from __future__ import annotations

import io
from pathlib import Path

import pdfplumber
import pytest

from workbench.cli import main
from workbench.errors import BadInput
from workbench.handout import PARTS, named_parts, render_handout, write_handout
from workbench.handout.document import handout_pages
from workbench.job.model import Job
from workbench.job.read import read_job
from workbench.job.samples import sample_jobs
from workbench.plan import solve

SAMPLE = next(sample.path for sample in sample_jobs() if sample.name == "small-house")


@pytest.fixture(scope="module")
def plan():
    return solve(read_job(SAMPLE))


def test_the_parts_together_are_the_whole(plan) -> None:
    titles = [page.title for page in handout_pages(plan)]
    parts = [page.title for part, _ in PARTS for page in handout_pages(plan, "letter", [part])]
    assert sorted(parts) == sorted(titles)
    assert [page.title for page in handout_pages(plan, "letter", [part for part, _ in PARTS])] == titles


def test_pages_of_a_part_are_numbered_by_themselves(plan) -> None:
    with pdfplumber.open(io.BytesIO(render_handout(plan, "letter", ["planes", "safety"]))) as pdf:
        texts = [page.extract_text() for page in pdf.pages]
    for number, text in enumerate(texts, 1):
        assert f"page {number} of {len(texts)}" in text
    assert any("Front main" in text for text in texts)
    assert any(text.startswith("Safety") for text in texts)
    assert not any("Order list" in text or "Cut cards" in text for text in texts)


def test_names_are_read_with_blanks_and_in_any_order() -> None:
    assert named_parts(" Safety, roof ") == ("roof", "safety")
    assert named_parts("") == tuple(part for part, _ in PARTS)
    with pytest.raises(BadInput, match="its parts are roof, measuring"):
        named_parts("roof,saw")


def test_a_part_without_a_page_is_told(tmp_path: Path) -> None:
    with pytest.raises(BadInput, match="no page of dry-in"):
        write_handout(solve(Job()), tmp_path / "h.pdf", "letter", ["dry-in"])
    assert not (tmp_path / "h.pdf").exists()


def test_on_the_command_line(tmp_path: Path, capsys) -> None:
    path = tmp_path / "h.pdf"
    assert main(["handout", str(SAMPLE), "-o", str(path), "--parts", "order"]) == 0
    assert "pages" in capsys.readouterr().out
    assert main(["handout", str(SAMPLE), "-o", str(path), "--parts", "orders"]) == 2
    assert "no part" in capsys.readouterr().err
