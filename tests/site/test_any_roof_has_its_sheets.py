"""Whatever is drawn, measured or asked of gable walls: the site stage solves, and its pages can be set."""

from __future__ import annotations

import json
import math

from hypothesis import given, settings
from hypothesis import strategies as st

from workbench.cli.site_report import site_json, site_text
from workbench.framing.solve import frame_roof
from workbench.handout.details_page import details_pages
from workbench.handout.measured_page import measured_pages
from workbench.handout.setting_out_page import setting_out_pages
from workbench.job.as_built_edits import measure_plane, measure_plate, set_site, tape
from workbench.job.edits import add_wing, set_edge, set_rafter, set_trim
from workbench.job.model import Job, Upper
from workbench.job.site import GableWalls
from workbench.measure import Units
from workbench.plan import solve
from workbench.roof.build import build_roof
from workbench.site.solve import plan_site

UNITS = Units()
SHAPES = (
    ((0, 0), (480, 0), (480, 300), (0, 300)),
    ((0, 0), (400, 0), (430, 280), (30, 280)),
    ((0, 0), (420, 0), (420, 160), (200, 160), (200, 330), (0, 330)),
    ((0, 0), (360, 0), (180, 240)),
)
WALLS = st.none() | st.builds(
    GableWalls,
    spacing_in=st.sampled_from([12.0, 16.0, 24.0]),
    start=st.sampled_from(["left", "right"]),
    plates=st.integers(0, 2),
    drop_in=st.sampled_from([0.0, 3.5]),
    ridge_pocket=st.booleans(),
    vent_width_in=st.sampled_from([0.0, 24.0]),
    vent_height_in=st.just(24.0),
    vent_sill_in=st.sampled_from([0.0, 18.0]),
)


@st.composite
def jobs(draw) -> Job:
    shape = draw(st.sampled_from(SHAPES))
    kinds = ["eave", *(draw(st.sampled_from(["eave", "rake", "wall"])) for _ in shape[1:])]
    job, wing = add_wing(
        Job(),
        shape,
        kinds,
        slope_in_12=draw(st.sampled_from([2.0, 5.0, 8.0, 14.0])),
        eave_overhang_in=draw(st.sampled_from([0.0, 18.0])),
        rake_overhang_in=draw(st.sampled_from([0.0, 12.0])),
        gable_walls=draw(WALLS),
    )
    for edge in job.wing(wing).edges:
        if edge.kind == "rake" and draw(st.booleans()):
            job = set_edge(job, wing, edge.id, clip_height_in=draw(st.floats(10.0, 120.0)))
        if edge.kind == "eave" and draw(st.booleans()):
            ends = {"left_in": 97.125 + draw(st.floats(-2.0, 2.0)), "right_in": 97.125 + draw(st.floats(-2.0, 2.0))}
            job = measure_plate(job, wing, edge.id, **ends)
            if draw(st.booleans()):
                job = set_edge(job, wing, edge.id, upper=Upper(height_in=60.0, slope_in_12=3.0))
    length = math.dist(shape[0], shape[2]) + draw(st.floats(-2.0, 2.0))
    job = tape(job, wing, "e1", "e3", length)
    job = measure_plane(job, f"{wing}/e1", left_in=150.0)
    job = set_rafter(job, wing, tail=draw(st.sampled_from(["plumb", "square", "level"])))
    job = set_trim(job, wing, fascia_in=draw(st.sampled_from([0.0, 0.75])))
    return set_site(job, deck_in=draw(st.none() | st.floats(-10.0, 120.0)), stick_from="right")


@settings(max_examples=40, deadline=None)
@given(job=jobs())
def test_the_site_stage_solves_whatever_is_drawn(job: Job) -> None:
    built = build_roof(job.wings, UNITS)
    framing = frame_roof(built.wings, UNITS)[0]
    site = plan_site(job, built.roof, built.wings, framing, 0.5, UNITS)
    assert json.loads(json.dumps(site_json(site), allow_nan=False))
    assert isinstance(site_text(site, UNITS), str)
    brief = plan_site(job, built.roof, built.wings, framing, 0.5, UNITS, brief=True)
    assert (brief.plates, brief.squarings, brief.lengths) == (site.plates, site.squarings, site.lengths)
    for stick in site.sticks:
        assert [mark.centre_in for mark in stick.marks] == sorted(mark.centre_in for mark in stick.marks)
    for member in framing.members:
        if member.kind in ("gable_stud", "rake_plate"):
            assert 0.0 < member.length_in < 600.0


@settings(max_examples=6, deadline=None)
@given(job=jobs())
def test_its_pages_can_be_set(job: Job) -> None:
    plan = solve(job)
    assert "stage-failed" not in {finding.code for finding in plan.findings}
    for pages in (setting_out_pages, details_pages, measured_pages):
        for page in pages(plan, "a4"):
            assert all(block.height(500.0) >= 0.0 for block in page.blocks)
