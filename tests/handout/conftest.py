"""Solved plans and their rendered handouts, shared by the handout tests; the buildings are invented."""

from __future__ import annotations

import io
from dataclasses import dataclass

import pdfplumber
import pypdfium2
import pytest

from workbench.handout import render_handout
from workbench.job.model import Edge, Job, Landing, Sheathing, Units, Wing
from workbench.job.safety_edits import add_anchor, set_guard, set_safety
from workbench.plan import solve


@dataclass(frozen=True)
class Printed:
    """A plan with its PDF: bytes, the text of each page, pdfplumber's pages."""

    plan: object
    data: bytes
    texts: tuple[str, ...]
    pages: tuple[object, ...]
    catalog: dict
    metadata: dict
    bookmarks: tuple[str, ...]
    images: tuple[object, ...]


def printed(plan, paper="letter") -> Printed:
    data = render_handout(plan, paper)
    pdf = pdfplumber.open(io.BytesIO(data))
    reader = pypdfium2.PdfDocument(data)
    texts, images = [], []
    for page in reader:
        text_page = page.get_textpage()
        texts.append(" ".join(text_page.get_text_range().replace("\ufffe", "-").split()))
        text_page.close()
        images.append(page.render(scale=0.5).to_numpy())
        page.close()
    bookmarks = tuple(item.get_title() for item in reader.get_toc())
    reader.close()
    return Printed(plan, data, tuple(texts), tuple(pdf.pages), pdf.doc.catalog, pdf.metadata, bookmarks, tuple(images))


def wing(outline, kinds, **fields):
    edges = tuple(Edge(id=f"e{i}", kind=kind) for i, kind in enumerate(kinds))
    return Wing(id="main", name="main", outline=outline, edges=edges, **fields)


RECTANGLE = ((0.0, 0.0), (480.0, 0.0), (480.0, 336.0), (0.0, 336.0))
GABLE_KINDS = ("eave", "rake", "eave", "rake")


@pytest.fixture(scope="session")
def gable_job():
    main = wing(RECTANGLE, GABLE_KINDS, slope_in_12=6.62, eave_overhang_in=16.0, rake_overhang_in=12.0)
    return Job(name="Gable & <house> (invented)", date="3 May 2031", revision="B", wings=(main,))


@pytest.fixture(scope="session")
def gable(gable_job):
    return printed(solve(gable_job))


@pytest.fixture(scope="session")
def hipped():
    outline = ((0.0, 0.0), (240.0, 0.0), (240.0, -120.0), (480.0, -120.0), (480.0, 336.0), (0.0, 336.0))
    return printed(solve(Job(name="Hip (invented)", wings=(wing(outline, ("eave",) * 6, eave_overhang_in=16.0),))))


@pytest.fixture(scope="session")
def shed_mm():
    """Millimetres, A4, rafters landing whole, sheathing past the tail."""
    outline = ((0.0, 0.0), (144.0, 0.0), (144.0, 96.0), (0.0, 96.0))
    landing = Landing(find="slope", high_end="whole", landing_in=130.0)
    porch = wing(outline, ("eave", "rake", "wall", "rake"), eave_overhang_in=12.0, landing=landing)
    job = Job(name="Porch (invented)", units=Units(system="mm"), wings=(porch,), sheathing=Sheathing(past_tail_in=0.75))
    return printed(solve(job), "a4")


@pytest.fixture(scope="session")
def long_barn():
    outline = ((0.0, 0.0), (1200.0, 0.0), (1200.0, 336.0), (0.0, 336.0))
    return printed(
        solve(Job(name="Barn (invented)", wings=(wing(outline, GABLE_KINDS, slope_in_12=4.0, eave_overhang_in=12.0),)))
    )


@pytest.fixture(scope="session")
def anchored(gable_job):
    """Two people on two anchors whose ropes only the eaves limit, a deck that does not count, a hot day."""
    job = add_anchor(gable_job, "main/e0", x_in=120.0, name="west")[0]
    job = add_anchor(job, "main/e0", x_in=360.0)[0]
    job = set_guard(job, "main/e2", kind="deck", guarded=True)
    return printed(solve(set_safety(job, restrain="eaves", people=2, temperature_f=95.0, humidity=60.0)))


@pytest.fixture(params=["gable", "hipped", "shed_mm", "long_barn", "anchored"])
def any_print(request):
    return request.getfixturevalue(request.param)
