"""Exposed parts, free fall, swing and clearance: against sampled points and against hand figures."""

from __future__ import annotations

import math

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.optimize import minimize_scalar

from workbench.job import edits
from workbench.job.safety_edits import add_anchor, set_anchor, set_ground
from workbench.safety.areas import from_area


@given(st.floats(20.0, 200.0), st.floats(60.0, 400.0), st.floats(4.0, 12.0))
@settings(max_examples=12)
def test_the_exposed_part_is_what_sampling_finds(build, x, rope, in_12):
    """Every point of a 3 in grid: within the rope (with what slips) and the rake within reach and stretch."""
    job, anchor_id = add_anchor(build.gable(slope_in_12=in_12), "wing-1/e1", x_in=x)
    plan = build.safety_of(set_anchor(job, anchor_id, rope_in=rope))
    anchor = plan.anchors[0]
    found = next((e for e in anchor.exposed if e.fall.name == "left rake of front main"), None)
    plane = build.roof_of(job).plane("wing-1/e1")
    xs, ys = np.meshgrid(np.arange(0.0, 480.0, 3.0), np.arange(0.0, plane.plane_length_in, 3.0))
    radius = anchor.set_in + 12.0 + 6.0
    inside = (np.hypot(xs - anchor.point[0], ys - anchor.point[1]) <= radius) & (xs <= 60.0 + 12.0)
    if found is None:
        assert not inside.any() or xs[inside].min() > 66.0
        return
    along = ys[inside].max() - ys[inside].min() if inside.any() else 0.0
    assert found.along_in == pytest.approx(along, abs=8.0)
    assert found.along_in >= along - 1e-6  # never told shorter than it is
    shape = from_area(found.area)
    assert shape.area == pytest.approx(9.0 * inside.sum(), abs=0.03 * shape.area + 700.0)


def test_free_fall_swing_and_clearance_of_a_known_rake(build):
    """Anchor on the ridge 60 in from the rake, rope and lanyard 120 in: checked by hand.

    Slip 18 in: the harness comes to 138 in. Slack at the ridge end of the rake is 138 - 60 = 78 in, so that a person
    falls 78 in and the height of the harness point, 60 in at most. The rope slides to where it hangs deepest.
    """
    job, anchor_id = add_anchor(build.gable(slope_in_12=7.0), "wing-1/e1", x_in=60.0)
    job = set_ground(set_anchor(job, anchor_id, rope_in=96.0), "wing-1/e4", -24.0)
    plan = build.safety_of(job)
    anchor = plan.anchors[0]
    exposure = next(e for e in anchor.exposed if e.fall.name == "left rake of front main")
    assert exposure.passes
    assert exposure.free_fall_in == pytest.approx(78.0 + 60.0)
    angle = math.atan2(7.0, 12.0)
    top = anchor.space[2]

    def hanging(s):  # s down the rake from the ridge, inches; plain statics, not the program's own formula
        return top - s * math.sin(angle) - (138.0 - math.hypot(60.0, s))

    rest = minimize_scalar(hanging, bounds=(0.0, 120.0), method="bounded").x
    assert rest == pytest.approx(60.0 * math.tan(angle), abs=0.05)
    limit = math.sqrt(138.0**2 - 60.0**2)
    assert exposure.swing_in == pytest.approx(max(rest, limit - rest) * math.cos(angle), rel=1e-3)
    assert exposure.clearance_in == pytest.approx(hanging(rest) - 12.0 - 42.0 - 60.0 + 24.0, abs=0.2)


def test_a_rope_a_little_too_long_lets_only_hand_or_foot_pass(build):
    job, anchor_id = add_anchor(build.gable(), "wing-1/e1", x_in=150.0)
    plan = build.safety_of(set_anchor(job, anchor_id, rope_in=60.0))  # 84 in with lanyard, 60 are allowed
    exposure = next(e for e in plan.anchors[0].exposed if e.fall.name == "left rake of front main")
    assert not exposure.passes
    assert exposure.free_fall_in == 0.0
    assert exposure.along_in > 0.0


def test_a_set_rope_exposes_nothing(build):
    job, _ = add_anchor(build.hip(slope_in_12=5.0), "wing-1/e1", x_in=240.0)
    plan = build.safety_of(job)
    assert plan.anchors[0].set_in > 0.0
    assert plan.anchors[0].exposed == ()


def test_a_rope_over_the_eave_is_exposed_at_the_eave_and_hangs(build):
    job, anchor_id = add_anchor(build.gable(slope_in_12=7.0), "wing-1/e1", x_in=240.0)
    plan = build.safety_of(set_anchor(job, anchor_id, rope_in=300.0))
    exposure = next(e for e in plan.anchors[0].exposed if e.fall.name == "eave of front main")
    to_eave = plan.anchors[0].point[1]
    assert exposure.free_fall_in == pytest.approx(300.0 + 24.0 + 18.0 - to_eave + 60.0)
    half = math.sqrt((342.0) ** 2 - (to_eave - 72.0) ** 2)
    assert exposure.along_in == pytest.approx(min(480.0, 2.0 * half), abs=1.0)
    assert exposure.clearance_in < 0.0  # the ground is nearer than the rope is long


def test_clearance_loses_what_the_ground_gains(build):
    job, anchor_id = add_anchor(build.gable(slope_in_12=7.0), "wing-1/e1", x_in=60.0)
    job = set_anchor(job, anchor_id, rope_in=96.0)

    def clearance(ground):
        plan = build.safety_of(set_ground(job, "wing-1/e4", ground))
        return next(e for e in plan.anchors[0].exposed if e.fall.name == "left rake of front main").clearance_in

    assert clearance(0.0) - clearance(20.0) == pytest.approx(20.0)


def test_a_lower_roof_under_an_eave_takes_from_the_clearance(build):
    """Who falls over the eave strikes the porch before the ground: by hand from the porch's own height there."""
    job, anchor_id = add_anchor(build.gable(plate_in=220.0, slope_in_12=4.0), "wing-1/e1", x_in=240.0)
    job = set_anchor(job, anchor_id, rope_in=200.0)

    def clearance(job):
        plan = build.safety_of(job)
        eave = next(e for e in plan.anchors[0].exposed if e.fall.name == "eave of front main")
        assert eave.fall.least_drop_in == pytest.approx(eave.fall.drop_in)  # the trigger goes by the ground still
        return eave.clearance_in

    outline = [(200.0, -96.0), (320.0, -96.0), (320.0, 0.0), (200.0, 0.0)]
    fields = {"plate_in": 78.0, "slope_in_12": 2.0, "stands_on": "posts"}
    both, _ = edits.add_wing(job, outline, ["eave", "rake", "wall", "rake"], **fields)
    porch = next(plane for plane in build.roof_of(both).planes if plane.wing != "wing-1")
    eave = next(edge for edge in build.roof_of(both).plane("wing-1/e1").edges if edge.kind == "eave")
    x, y = 260.0, eave.start[1] - 1.0
    porch_top = porch.to_space(porch.to_plane((x, y, 0.0)))[2]
    assert 78.0 < porch_top < eave.start[2] - 60.0
    assert clearance(job) - clearance(both) == pytest.approx(porch_top)
