"""Heights of ridges, hips and valleys and the props under them, by hand trigonometry and as properties."""

from __future__ import annotations

import math

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from workbench.framing.solve import frame_roof
from workbench.job.as_built_edits import set_site
from workbench.job.edits import add_wing, set_hips, set_wing
from workbench.job.model import Heel, Job, Ridge
from workbench.job.plies import Plies
from workbench.measure import Units
from workbench.plan import solve
from workbench.roof.build import build_roof
from workbench.site.heights import PROP_IN, set_heights, where_words
from workbench.site.model import SetHeight

PLATE = 97.125
GABLE = ("eave", "rake", "eave", "rake")
UNITS = Units()


def _job(slope: float = 8.0, kinds=GABLE, width: float = 480.0, span: float = 336.0, **fields) -> Job:
    outline = ((0, 0), (width, 0), (width, span), (0, span))
    heel = Heel(given="seat", seat_in=3.5)
    return add_wing(Job(), outline, kinds, slope_in_12=slope, plate_in=PLATE, heel=heel, **fields)[0]


def _heights(job: Job, deck: float | None = None) -> tuple[SetHeight, ...]:
    built = build_roof(job.wings, UNITS)
    framing = frame_roof(built.wings, UNITS)[0]
    return set_heights(framing, built.roof.planes, built.wings, deck, UNITS)[0]


def test_ridge_of_a_gable_by_hand() -> None:
    """8 in 12 over 28 ft, 2x8 rafters, 3 1/2 in seat, 1 1/2 in ridge: worked from the plate up."""
    ridge = _heights(_job())[0]
    m = 8.0 / 12.0
    hap = 7.25 * math.sqrt(1.0 + m * m) - 3.5 * m
    top = PLATE + hap + m * (168.0 - 0.75)
    assert ridge.kind == "ridge"
    assert ridge.top_in == pytest.approx(top)
    assert ridge.above_plate_in == pytest.approx(top - PLATE)
    # 7 1/4 in / cos θ = 8.713 in: the least sawn board not under that is 9 1/4 in deep.
    assert [prop.length_in for prop in ridge.props] == pytest.approx([top - 9.25 - PLATE] * len(ridge.props))
    assert all(prop.bevel_deg == 0.0 for prop in ridge.props)


def test_props_of_a_ridge_stand_in_the_building_not_under_the_barge() -> None:
    ridge = _heights(_job(rake_overhang_in=24.0))[0]
    xs = [prop.at[0] for prop in ridge.props]
    assert (xs[0], xs[-1]) == pytest.approx((0.0, 480.0))
    assert ridge.props[0].place == "one end"
    assert all(prop.place == "joint" for prop in ridge.props[1:-1])
    assert len(ridge.props) == 3  # 44 ft of ridge is two boards, so one joint


def test_hip_props_by_hand() -> None:
    """7 in 12 hip roof: the hip climbs 7 in 16.97; halfway from the corner to the head it is half as high over it."""
    found = _heights(_job(7.0, ("eave",) * 4, eave_overhang_in=16.0))
    hips = [one for one in found if one.kind == "hip"]
    assert len(hips) == 4
    m = 7.0 / 12.0 / math.sqrt(2.0)
    halfway, head = hips[0].props
    assert (halfway.place, head.place) == ("halfway", "head")
    assert halfway.bevel_deg == head.bevel_deg == pytest.approx(math.degrees(math.atan(m)))
    run = math.dist(halfway.at, head.at)
    assert head.length_in - halfway.length_in == pytest.approx(m * run)
    # The corner is as far on the other side.
    corner = (2.0 * halfway.at[0] - head.at[0], 2.0 * halfway.at[1] - head.at[1])
    assert min(math.dist(corner, c) for c in ((0, 0), (480, 0), (480, 336), (0, 336))) < 1e-6
    # Top of a dropped hip over the corner: HAP less (t / 2) · m, both on the commons' slope.
    hap = 7.25 * math.hypot(1.0, 7.0 / 12.0) - 3.5 * 7.0 / 12.0
    drop = 0.75 * math.cos(math.pi / 4.0) * 7.0 / 12.0
    top = PLATE + hap - drop + m * math.dist(corner, head.at)
    assert head.top_in == pytest.approx(top)
    assert head.length_in == pytest.approx(top - 9.25 * math.hypot(1.0, m) - PLATE)
    assert head.long_in - head.length_in == pytest.approx(m * PROP_IN / 2.0)


@settings(max_examples=20, deadline=None)
@given(
    slope=st.floats(3.0, 18.0),
    span=st.floats(150.0, 400.0),
    deck=st.none() | st.floats(-20.0, 90.0),
    hip=st.booleans(),
    backed=st.booleans(),
)
def test_prop_and_member_make_the_height(
    slope: float, span: float, deck: float | None, hip: bool, backed: bool
) -> None:
    job = _job(slope, ("eave",) * 4 if hip else GABLE, span=span, ridge=Ridge(depth_in=None))
    job = set_hips(job, "wing-1", top="backed" if backed else "dropped")
    for one in _heights(job, deck):
        base = PLATE if deck is None else deck
        for prop in one.props:
            assert prop.base_in == base
            assert prop.length_in + prop.depth_in + base == pytest.approx(prop.top_in)
            assert prop.trace.value == prop.length_in
        assert max(prop.top_in for prop in one.props) == pytest.approx(one.top_in)
        if one.kind == "ridge":
            assert one.above_deck_in == (None if deck is None else pytest.approx(one.top_in - deck))


def test_boards_side_by_side_are_one_ridge_and_one_hip() -> None:
    single = _heights(_job(7.0, ("eave",) * 4))
    double = _heights(set_wing(_job(7.0, ("eave",) * 4), "wing-1", plies=Plies(ridge=2, hip=2)))
    assert [one.kind for one in double] == [one.kind for one in single]
    # The ridge between the same planes is as high but for the slope over half its own thickness more.
    assert single[0].top_in - double[0].top_in == pytest.approx(0.75 * 7.0 / 12.0)


def test_the_deck_the_user_names_is_what_props_stand_on() -> None:
    job = set_site(_job(), deck_in=1.5)
    site = solve(job).site
    from_plate = solve(_job()).site
    assert site.heights[0].props[0].length_in - from_plate.heights[0].props[0].length_in == pytest.approx(PLATE - 1.5)
    assert "1 1/2" in site.base_words
    assert "plates" in from_plate.base_words


def test_a_deck_over_the_ridge_is_told() -> None:
    plan = solve(set_site(_job(4.0, span=200.0), deck_in=300.0))
    assert "prop-from-lower" in {finding.code for finding in plan.findings}


def test_where_a_prop_stands_is_found_with_two_tapes() -> None:
    ridge = _heights(_job(kinds=("eave",) * 4))[0]
    assert [prop.off_in for prop in ridge.props] == pytest.approx([168.0, 168.0])
    # A hip roof of equal slopes: the ridge begins half the span in, and its board goes on to the commons' faces.
    assert ridge.props[0].along_in == pytest.approx(168.0 - 0.75)
    assert where_words(ridge, UNITS).startswith("ridge between front")
    assert "14' 0\" in from the wall" in where_words(ridge, UNITS)
