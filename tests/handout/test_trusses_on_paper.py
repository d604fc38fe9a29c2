"""A wing with trusses by others: paper shows where they stand and says whose they are, and has no cut cards."""

from __future__ import annotations

import io

import pdfplumber

from workbench.drawing.frame_plan import frame_plan
from workbench.drawing.primitives import Line
from workbench.handout.document import render_handout
from workbench.job import edits
from workbench.job.model import Job
from workbench.plan import solve


def test_the_frame_page_shows_truss_lines_and_says_by_others() -> None:
    outline = [(0.0, 0.0), (480.0, 0.0), (480.0, 336.0), (0.0, 336.0)]
    job, _ = edits.add_wing(
        Job(), outline, ["eave", "rake"] * 2, slope_in_12=6.0, eave_overhang_in=16.0, framed_with="trusses"
    )
    plan = solve(job, "preview")
    lines = [item for item in frame_plan(plan).items if isinstance(item, Line) and item.role == "rafter"]
    assert len(lines) == sum(len(xs) for _, xs in plan.framing.supports)
    with pdfplumber.open(io.BytesIO(render_handout(plan))) as book:
        texts = [page.extract_text() for page in book.pages]
    page = next(text for text in texts if text.startswith("The frame"))
    assert "Trusses by others: no cuts here" in page
    assert any("never tie off to a single truss" in " ".join(text.split()) for text in texts)
    assert not any(text.startswith(("Cut cards", "Boards to cut")) for text in texts)
