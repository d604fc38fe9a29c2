"""Every mark is named on the frame pages: by a label where it stands, or in a line that says there was no room."""

from __future__ import annotations

import pytest

from workbench.drawing.layout import lay_out
from workbench.drawing.primitives import Drawing, Text
from workbench.handout.blocks import Picture, Words
from workbench.handout.frame_page import frame_pages
from workbench.handout.page import frame_size
from workbench.job.read import read_job
from workbench.plan import solve
from workbench.resources import sample_jobs

IN_WALLS = ("rake_plate", "gable_stud")


@pytest.mark.parametrize("name", [path.stem for path in sample_jobs()])
def test_every_mark_is_named_or_told(name):
    plan = solve(read_job(next(path for path in sample_jobs() if path.stem == name)), "preview")
    pages = frame_pages(plan, "letter")
    named: set[str] = set()
    for page in pages:
        for block in page.blocks:
            if isinstance(block, Picture):
                laid = block.scaled(frame_size("letter", landscape=page.landscape)[0]).layout
                named |= {text.key.removeprefix("member:") for text in laid.texts}
            elif isinstance(block, Words):
                told = block.text.partition(": ")[2].partition("; ")[0]
                named |= set(told.replace(" and ", ", ").split(", "))
    assert {member.mark for member in plan.framing.members if member.kind not in IN_WALLS} <= named
    assert len(pages) <= 1 + len({plane.wing for plane in plan.roof.planes})


def test_a_label_takes_another_place_before_it_is_set_small_and_only_then_is_left_out():
    def said(width: float, also: tuple[tuple[float, float], ...]):
        other = Text("a", "note", (0.0, 0.0), "taken by another")
        mine = Text("b", "note", (0.0, 0.0), "Common 2", span=width, shorter=("",), also=also, smaller=True)
        laid = lay_out(Drawing((other, mine)), 1.0, lambda text, size: 0.6 * size * len(text))
        return [(text.size_pt, text.centre) for text in laid.texts if text.key == "b"]

    (placed,) = said(60.0, ((0.0, 40.0),))
    assert placed == (11.0, (0.0, 40.0))
    assert said(45.0, ((0.0, 40.0),)) == [(9.0, (0.0, 40.0))]
    assert said(20.0, ((0.0, 40.0),)) == []
