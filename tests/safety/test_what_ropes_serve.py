"""What ropes serve and the strips they can't: against sampled points; two halves; loads, ladders and heat."""

from __future__ import annotations

import math
import re

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from shapely import Point, contains_xy

from workbench.job.safety_edits import add_anchor, set_anchor, set_safety, set_served_from
from workbench.measure import Units
from workbench.rules.site_work import heat_index_f, lifting_limit_lb, site_work
from workbench.safety.areas import from_area
from workbench.safety.words import heat_words, rope_serves_words, water_words


@given(st.floats(100.0, 380.0), st.floats(100.0, 380.0), st.floats(4.0, 10.0))
@settings(max_examples=12)
def test_served_is_the_union_of_the_circles(build, first, second, in_12):
    job = add_anchor(build.gable(slope_in_12=in_12), "wing-1/e1", x_in=first)[0]
    job = add_anchor(job, "wing-1/e1", x_in=second)[0]
    plan = build.safety_of(job)
    plane = build.roof_of(job).plane("wing-1/e1")
    xs, ys = np.meshgrid(np.arange(1.5, 480.0, 3.0), np.arange(1.5, plane.plane_length_in, 3.0))
    served = np.zeros(xs.shape, dtype=bool)
    for anchor in plan.anchors:
        if anchor.set_in > 0.0:
            served |= np.hypot(xs - anchor.point[0], ys - anchor.point[1]) <= anchor.set_in + 24.0
    found = plan.plane("wing-1/e1")
    assert found.share == pytest.approx(served.mean(), abs=0.01)
    told = contains_xy(from_area(found.served), xs, ys) if found.served else np.zeros(xs.shape, dtype=bool)
    assert not (told & ~served).any()  # never more than the rope gives
    whole = from_area(found.served).area + from_area(found.unserved).area
    assert whole == pytest.approx(plane.area_sqft * 144.0, rel=1e-6)


def test_what_is_served_over_a_hip_lies_within_the_unfolded_rope(build):
    job, _ = add_anchor(build.hip(slope_in_12=5.0), "wing-1/e1", x_in=160.0, y_in=140.0)
    plan = build.safety_of(job)
    roof = build.roof_of(job)
    anchor = plan.anchors[0]
    side = next(plane for plane in roof.planes if plane.name == "left main")
    shape = from_area(dict(anchor.served)[side.id])
    fold = next((e.start, e.end) for e in roof.plane("wing-1/e1").edges if e.neighbour == side.id)
    spots = [fold[0][i] + np.linspace(0, 1, 400) * (fold[1][i] - fold[0][i]) for i in range(3)]
    hips = np.stack(spots, axis=1)
    to_hip = np.linalg.norm(hips - np.array(anchor.space), axis=1)
    left, low, right, high = side.polygon[0][0], 0.0, side.width_in, side.plane_length_in
    rng = np.random.default_rng(3)
    for x, y in rng.uniform((left, low), (right, high), (300, 2)):
        if not contains_xy(shape.buffer(-0.5), x, y):
            continue
        way = (to_hip + np.linalg.norm(hips - np.array(side.to_space((x, y))), axis=1)).min()
        assert way <= anchor.set_in + 24.0 + 0.05


def test_the_strip_along_the_eave_is_what_reach_and_hand_leave(build):
    """In mid-roof the rope ends 90 in short of the eave and the hand works 24 in past the harness."""
    job, _ = add_anchor(build.hip(slope_in_12=5.0), "wing-1/e1", x_in=240.0)
    plan = build.safety_of(job)
    strip = plan.plane("wing-1/e1").strips[0]
    assert strip.least_in == pytest.approx(90.0 - 24.0, abs=0.3)
    assert strip.most_in > strip.least_in
    codes = {finding.code: finding for finding in plan.findings}
    assert "from below" in codes["strip-along-eave"].text
    served = build.safety_of(set_served_from(job, "wing-1/e1", "scaffold"))
    assert served.plane("wing-1/e1").strips[0].served_from == "from a scaffold"


def test_two_people_get_two_halves(build):
    job = add_anchor(build.gable(), "wing-1/e1", x_in=120.0)[0]
    alone = build.safety_of(set_safety(job, people=2))
    assert "half-without-anchor" in {finding.code for finding in alone.findings}
    rated = build.safety_of(set_safety(set_anchor(job, "A-1", people=2), people=2))
    assert "half-without-anchor" not in {finding.code for finding in rated.findings}
    job = add_anchor(job, "wing-1/e1", x_in=360.0)[0]
    plan = build.safety_of(set_safety(job, people=2))
    half = plan.halves[0]
    assert (half.left, half.right) == (("A-1",), ("A-2",))
    assert half.split_in == pytest.approx(240.0)
    assert half.crossing == ()
    near = build.safety_of(set_safety(add_anchor(job, "wing-1/e1", x_in=250.0)[0], people=2))
    assert ("A-1", "A-3") not in near.halves[0].crossing or near.halves[0].crossing
    circles = {a.id: Point(a.point).buffer(a.set_in, quad_segs=200) for a in near.anchors}
    expected = {(a, b) for a in near.halves[0].left for b in near.halves[0].right if circles[a].overlaps(circles[b])}
    assert set(near.halves[0].crossing) == expected


def test_a_ladder_stands_at_75_and_a_half_degrees(build):
    """The 75 1/2 degree test angle of ladders is arccos(1/4) to a tenth of a degree (angle seen in a copy)."""
    plan = build.safety_of(build.gable())
    ladder = plan.ladders[0]
    assert math.degrees(math.atan2(ladder.height_in, ladder.foot_out_in)) == pytest.approx(75.52, abs=0.01)
    assert ladder.foot_out_in == pytest.approx(ladder.working_in / 4.0)
    above = (ladder.rails_in - ladder.working_in) * math.sin(math.acos(0.25))
    assert above == pytest.approx(36.0)


@pytest.mark.parametrize(
    ("temperature", "humidity", "index"),
    [(80, 40, 80), (90, 50, 95), (90, 70, 105), (94, 60, 110), (100, 40, 109), (104, 40, 119), (86, 90, 105)],
)
def test_heat_index_against_the_published_chart(temperature, humidity, index):
    """US National Weather Service heat index chart, from memory; the chart is rounded."""
    assert heat_index_f(temperature, humidity) == pytest.approx(index, abs=1.0)


def test_heat_is_told_with_its_class_and_the_sun(build):
    plan = build.safety_of(set_safety(build.gable(), temperature_f=90.0, humidity=70.0))
    assert plan.heat.shade_class == "danger"
    assert plan.heat.sun_f == pytest.approx(plan.heat.shade_f + 15.0)
    assert "memory" in plan.heat.traces[0].source
    assert build.safety_of(build.gable()).heat is None
    assert [step.name for step in site_work().heat.classes] == [
        "caution",
        "extreme caution",
        "danger",
        "extreme danger",
    ]


@pytest.mark.parametrize(
    ("temperature", "moderate", "heavy"),
    [(94, 60, 60), (95, 60, 45), (97, 60, 40), (99, 60, 35), (100, 45, 30), (101, 40, 30), (102, 35, 25), (103, 30, 20)]
    + [(104, 30, 20), (105, 25, 15), (106, 20, 0), (107, 15, 0), (108, 0, 0), (112, 0, 0)],
)
def test_work_and_rest_against_the_published_schedule(temperature, moderate, heavy):
    """DHHS (NIOSH) 2017-127, seen in a copy: minutes of work in the hour by adjusted temperature, normal clothing."""
    works = {work.kind: work for work in site_work().heat.turns.works}
    assert (works["moderate"].at(temperature), works["heavy"].at(temperature)) == (moderate, heavy)


def test_work_and_rest_go_by_humidity_and_sun(build):
    turns = site_work().heat.turns
    # The table of adjustments of the same sheet, from memory; numpy.interp as the reference between its lines.
    for humidity in (5.0, 10.0, 17.0, 30.0, 44.0, 60.0):
        added = np.interp(humidity, [10, 20, 30, 40, 50, 60], [-8, -4, 0, 3, 6, 9])
        assert turns.adjusted_f(90.0, humidity) == pytest.approx(90.0 + added)
    assert turns.adjusted_f(90.0, 80.0) == pytest.approx(90.0 + 15.0)  # carried on past the table, to be cautious
    plan = build.safety_of(set_safety(build.gable(), temperature_f=90.0, humidity=30.0))
    nailing, carrying = plan.heat.turns
    assert (nailing.shade_min, nailing.sun_min) == (60, 30)  # 90 in the shade, 103 in full sun
    assert (carrying.shade_min, carrying.sun_min) == (60, 20)
    words = heat_words(plan, Units())
    assert "Nailing and laying: in full sun 30 minutes of work, 30 of rest in each hour" in words
    assert "2017-127" in plan.heat.traces[1].source and "2017-126" in site_work().heat.water.source
    assert "0.25 l" in water_words(Units("mm")) and "48 oz" in water_words(Units())


def test_each_rope_says_what_of_each_plane_it_serves(build):
    """Against sampled points of the plane within the rope and a hand's reach of the anchor."""
    job = add_anchor(build.gable(slope_in_12=6.0), "wing-1/e1", x_in=240.0)[0]
    plan, roof = build.safety_of(job), build.roof_of(job)
    anchor, plane = plan.anchors[0], roof.plane("wing-1/e1")
    xs, ys = np.meshgrid(np.arange(0.5, 480.0, 1.0), np.arange(0.5, plane.plane_length_in, 1.0))
    inside = np.hypot(xs - anchor.point[0], ys - anchor.point[1]) <= anchor.set_in + 24.0
    words = rope_serves_words(anchor, roof.planes)
    told = {name: float(share) for share, name in re.findall(r"(\d+) % of ([a-z ]+?)(?=,| and| can)", words)}
    assert told[plane.name] == pytest.approx(100.0 * inside.mean(), abs=0.8)
    assert len(told) == 2 and words.endswith("can be worked on.")


def test_a_stack_on_a_deck_is_set_beside_the_classes_of_decks(build):
    """29 CFR 1926 Subpart L, Appendix A, from memory: 25, 50 and 75 psf, 250 lb a person."""
    deck = site_work().deck
    assert [each.psf for each in deck.classes] == [25.0, 50.0, 75.0]
    assert [getattr(deck.class_for(psf), "name", None) for psf in (25.0, 25.1, 75.0, 76.0)] == [
        "light duty",
        "medium duty",
        "heavy duty",
        None,
    ]


def test_lifting_limit_against_the_equation_in_metric():
    """DHHS (NIOSH) 94-110 in metric: 23 kg, HM 25/H, VM 1 - 0.003·|V - 75|, DM 0.82 + 4.5/D, lengths in cm.

    Both sets of constants are rounded, each for its units, so that they differ by up to 3 per cent.
    """
    for hold, lift, start in ((10.0, 10.0, 30.0), (16.0, 40.0, 30.0), (20.0, 60.0, 20.0)):
        h, d, v = hold * 2.54, lift * 2.54, start * 2.54
        metric = 23.0 * min(1.0, 25.0 / h) * (1.0 - 0.003 * abs(v - 75.0)) * min(1.0, 0.82 + 4.5 / d)
        assert lifting_limit_lb(hold, lift, start) * 0.45359237 == pytest.approx(metric, rel=0.04)
    assert lifting_limit_lb(10.0, 10.0) == pytest.approx(51.0)


def test_a_sheet_weighs_what_the_table_says():
    """7/16 OSB 1.4 psf: 44.8 lb a sheet; 3/4 OSB 2.5 psf: 80 lb (panel makers' tables, seen in a copy)."""
    assert site_work().panel("7/16").heavier * 32.0 == pytest.approx(44.8)
    assert site_work().panel("3/4").heavier * 32.0 == pytest.approx(80.0)
    assert site_work().panel("5 miles") is None


def test_a_rope_tied_too_long_serves_no_more_than_a_permitted_one(build):
    """Else a plane stands as served because a rope on it lets people past its edges."""
    job, anchor_id = add_anchor(build.gable(), "wing-1/e1", x_in=240.0)
    free = build.safety_of(job)
    tied = build.safety_of(set_anchor(job, anchor_id, rope_in=300.0))
    assert tied.anchors[0].too_long and tied.anchors[0].exposed
    assert tied.anchors[0].served == free.anchors[0].served
    for plane in ("wing-1/e1", "wing-1/e3"):
        assert 0.0 < tied.plane(plane).share == free.plane(plane).share < 0.5
        assert tied.plane(plane).strips == free.plane(plane).strips
    none, none_id = add_anchor(build.gable(), "wing-1/e1", x_in=24.0)
    none = build.safety_of(set_anchor(none, none_id, rope_in=300.0))
    assert none.anchors[0].too_long and none.anchors[0].served == ()
