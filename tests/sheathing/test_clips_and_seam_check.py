"""Edge clips where the span table asks for them, counted joint by joint; joints against perimeters; boxes of nails.

Spans: IRC Table R503.2.1.1(1), from memory, as in the rule table. Counts are by hand.
"""

from __future__ import annotations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from msgspec.structs import replace

from workbench.job.model import Fastening, Sheathing
from workbench.job.read import read_job
from workbench.job.samples import sample_jobs
from workbench.plan import solve
from workbench.roof.model import Roof
from workbench.sheathing.clips import clips_a_span
from workbench.sheathing.seams import seam_lengths
from workbench.sheathing.solve import lay_planes, plan_sheathing


@pytest.mark.parametrize(
    ("rating", "spacing", "clips"),
    # 24/0: 24 in with edge support, 20 in without; 24/16: 24 in either way; 16/0: 16 in either way.
    [("24/0", 24.0, 1), ("24/0", 16.0, None), ("24/16", 24.0, None), ("16/0", 24.0, None), ("32/16", 30.0, 1)],
)
def test_clips_are_asked_for_between_the_spans_without_and_with_edge_support(build, rating, spacing, clips):
    plane = build.upright(480.0, 160.0, tangent=0.5)
    asked = clips_a_span(plane, build.rafters(480.0, spacing), rating)
    assert (asked[0] if asked else None) == clips


def test_a_clip_a_bay_on_every_level_joint(build):
    # 20 bays of 24 in on 40 ft, three joints between four rows: 60 clips.
    plane = build.upright(480.0, 192.375)
    plan = plan_sheathing(Roof((plane,)), build.framing([plane]), Sheathing(span_rating="24/0"))
    assert len(plan.planes[0].rows) == 4
    assert [line.count for line in plan.clip_lines] == [20, 20, 20]
    assert plan_sheathing(Roof((plane,)), build.framing([plane]), Sheathing()).clip_lines == ()


@given(width=st.floats(150.0, 500.0), length=st.floats(50.0, 260.0), slant=st.floats(0.0, 70.0))
@settings(max_examples=30, deadline=None)
def test_joints_counted_one_by_one_come_to_what_perimeters_say(build, width, length, slant):
    corners = [(0.0, 0.0), (width, 0.0), (width - slant, length), (slant, length)]
    plane = build.polygon(corners, ["eave", "hip", "ridge", "hip"])
    work = lay_planes(Roof((plane,)), build.framing([plane]), Sheathing())
    counted, reckoned = seam_lengths(work.laid[0].search.ways[0].layout)
    assert counted == pytest.approx(reckoned, abs=0.3)
    plan = plan_sheathing(Roof((plane,)), build.framing([plane]), Sheathing())
    assert "seams-disagree" not in [found.code for found in plan.findings]


def test_joints_that_are_lost_are_told(build, monkeypatch):
    plane = build.upright(480.0, 160.0)
    monkeypatch.setattr("workbench.sheathing.seams.layout_seams", lambda layout, plane_id: ())
    plan = plan_sheathing(Roof((plane,)), build.framing([plane]), Sheathing())
    assert "seams-disagree" in [found.code for found in plan.findings]


def test_boxes_and_clips_on_the_order_list():
    job = read_job(next(one.path for one in sample_jobs() if one.name == "plain-gable"))
    asked = replace(
        job, fastening=Fastening(box_of=500), sheathing=replace(job.sheathing, span_rating="24/0", thickness="3/8")
    )
    amounts = {quantity.code: quantity.amount for quantity in solve(asked).quantities}
    assert amounts["sheathing-nail-boxes"] == -(-amounts["sheathing-nails"] // 500)
    bay = job.wings[0].rafter.spacing_in
    assert ("edge-clips" in amounts) == (20.0 < bay <= 24.0)
    plain = {quantity.code for quantity in solve(job).quantities}
    assert "sheathing-nail-boxes" not in plain
