"""Gable studs and sloped plates against framing-square arithmetic, hand trigonometry and the shape of the wall."""

from __future__ import annotations

import math

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from shapely.geometry import Point, Polygon

from workbench.framing.model import Member
from workbench.framing.solids import board, standing
from workbench.framing.solve import frame_roof
from workbench.job.edits import add_wing, set_edge, set_wing
from workbench.job.model import Heel, Job, Upper, Wing
from workbench.job.site import GableWalls
from workbench.measure import Units
from workbench.plan import Plan, solve
from workbench.roof.build import build_roof

PLATE = 97.125
KINDS = ("eave", "rake", "eave", "rake")


def _job(slope: float, span: float = 336.0, walls: GableWalls | None = None, **fields) -> Job:
    outline = ((0, 0), (480, 0), (480, span), (0, span))
    walls = walls or GableWalls()
    return add_wing(Job(), outline, KINDS, slope_in_12=slope, plate_in=PLATE, gable_walls=walls, **fields)[0]


def _plan(slope: float, span: float = 336.0, walls: GableWalls | None = None, **fields) -> Plan:
    return solve(_job(slope, span, walls, **fields), "preview")


def _of(plan: Plan, kind: str) -> list[Member]:
    return [member for member in plan.framing.members if member.kind == kind]


def test_no_gable_walls_unless_asked() -> None:
    job, wing = add_wing(Job(), ((0, 0), (480, 0), (480, 336), (0, 336)), KINDS)
    assert job.wing(wing).gable_walls is None
    assert not _of(solve(job, "preview"), "gable_stud")
    assert not _of(solve(job, "preview"), "rake_plate")


@pytest.mark.parametrize("rise", [3, 4, 6, 7, 8, 10, 12])
@pytest.mark.parametrize("spacing", [12.0, 16.0, 24.0])
def test_common_difference_is_what_a_framing_square_steps_off(rise: int, spacing: float) -> None:
    """The square at rise and 12: a step of 12 in run is the rise, so a spacing steps rise · spacing / 12.

    Source: framing-square arithmetic (rise in 12 of run), US Navy Builder 3&2 Volume 2, NAVEDTRA 14044.
    """
    job = _job(rise, walls=GableWalls(spacing_in=spacing))
    framing = frame_roof(build_roof(job.wings, Units()).wings, Units())[0]
    studs = [member for member in framing.members if member.kind == "gable_stud"]
    # One under the ridge itself has a pointed top and is no step of the row.
    one_side = sorted({round(s.length_in, 9) for s in studs if all(cut.other_bevel_deg is None for cut in s.cuts)})
    steps = [b - a for a, b in zip(one_side, one_side[1:])]
    common = rise * spacing / 12.0
    # Both sides of the ridge are laid out from one end: 336 in is a whole number of these spacings, so studs pair up.
    assert len(steps) >= 2
    assert steps == pytest.approx([common] * len(steps))


def test_first_stud_by_hand() -> None:
    """8 in 12, seat 3 1/2 in, one sloped plate: worked from the plate up with plain trigonometry."""
    plan = _plan(8.0, walls=GableWalls(), heel=Heel(given="seat", seat_in=3.5))
    theta = math.atan2(8.0, 12.0)
    # The rafter's underside leaves the plate's top at the inner end of the seat, 3 1/2 in from the building line.
    long_face = 16.0 + 0.75
    under = (long_face - 3.5) * math.tan(theta)
    plumb_plate = 1.5 / math.cos(theta)
    shortest = min(_of(plan, "gable_stud"), key=lambda stud: stud.length_in)
    assert shortest.length_in == pytest.approx(under - plumb_plate)
    top = next(cut for cut in shortest.cuts if cut.name == "top cut")
    assert top.bevel_deg == pytest.approx(math.degrees(theta))
    assert {m.name: m.length_in for m in shortest.measures}["short point"] == pytest.approx(
        under - plumb_plate - 1.5 * math.tan(theta)
    )


def test_rake_plate_by_hand() -> None:
    """6 in 12 over 28 ft: the plate's upper edge runs from the seat's end to the middle of the wall."""
    plates = _of(_plan(6.0), "rake_plate")
    assert len(plates) == 1
    assert plates[0].count == 4
    assert plates[0].length_in == pytest.approx((168.0 - 3.5) * math.sqrt(1.25))
    level, plumb = plates[0].cuts
    assert (level.angle_deg, plumb.angle_deg) == pytest.approx((90.0 - math.degrees(math.atan(0.5)), 26.56505118))
    ring = Polygon(plates[0].profile)
    # A board 1 1/2 in thick with its foot cut along the level and its head plumb: mean edge length times 1.5.
    lower = plates[0].length_in - 1.5 / math.tan(math.atan(0.5)) - 1.5 * math.tan(math.atan(0.5))
    assert ring.area == pytest.approx(1.5 * (plates[0].length_in + lower) / 2.0)
    assert ring.is_valid


@settings(max_examples=25, deadline=None)
@given(
    slope=st.floats(3.0, 16.0),
    span=st.floats(180.0, 420.0),
    spacing=st.sampled_from([12.0, 16.0, 19.2, 24.0]),
    plates=st.integers(0, 2),
    start=st.sampled_from(["left", "right"]),
)
def test_every_stud_fits_between_plate_and_rafter(
    slope: float, span: float, spacing: float, plates: int, start: str
) -> None:
    job = _job(slope, span, GableWalls(spacing_in=spacing, plates=plates, start=start))
    framing = frame_roof(build_roof(job.wings, Units()).wings, Units())[0]
    m, wing = slope / 12.0, job.wings[0]
    stretch = math.hypot(1.0, m)
    for stud in (member for member in framing.members if member.kind == "gable_stud"):
        for place in stud.placements:
            u = place.start[1]
            assert place.start[2] == PLATE
            # Under the rafters' top edges by the plumb rafter and the plumb plates, at the face nearer the ridge.
            face = min(u, span - u) + 0.75
            if face < span / 2.0:
                top = PLATE - 3.5 * m + m * face - plates * 1.5 * stretch
                assert place.end[2] == pytest.approx(top)
            assert stud.length_in == pytest.approx(place.end[2] - PLATE)
            off = u if start == "left" else span - u
            from_left_end = off if place.start[0] > 240.0 else span - off
            assert abs(from_left_end / spacing - round(from_left_end / spacing)) < 1e-6
    assert wing.rafter.depth_in == 7.25


def test_a_gambrel_wall_follows_both_slopes() -> None:
    job = _job(16.0)
    for edge in ("e1", "e3"):
        job = set_edge(job, "wing-1", edge, upper=Upper(height_in=80.0, slope_in_12=5.0))
    plan = solve(job, "preview")
    studs = _of(plan, "gable_stud")
    assert {round(cut.bevel_deg, 3) for stud in studs for cut in stud.cuts if cut.name == "top cut"} >= {
        round(math.degrees(math.atan(slope / 12.0)), 3) for slope in (16.0, 5.0)
    }
    # Stretches meet: seen from the side no stud stands out of the line through its neighbours by more than a break.
    tops = sorted((p.start[1], p.end[2]) for stud in studs for p in stud.placements if p.start[0] > 240.0)
    rises = [(b[1] - a[1]) / (b[0] - a[0]) for a, b in zip(tops, tops[1:])]
    assert all(-16.0 / 12.0 - 0.1 <= rise <= 16.0 / 12.0 + 0.1 for rise in rises)
    assert [p for p in _of(plan, "rake_plate") if p.count == 4]


def test_a_clipped_gable_ends_on_a_level_plate() -> None:
    job = set_edge(_job(7.0), "wing-1", "e2", clip_height_in=40.0)
    plan = solve(job, "preview")
    right = [(p.start[1], p.end[2]) for m in _of(plan, "gable_stud") for p in m.placements if p.start[0] > 240.0]
    assert max(z for _, z in right) == pytest.approx(PLATE + 40.0 - 1.5)
    level = [m for m in _of(plan, "rake_plate") if m.angle_deg == 0.0]
    assert len(level) == 1
    # The rafters' undersides reach the clip's height at 40 / m past the seat's end; level between the two sides.
    assert level[0].length_in == pytest.approx(336.0 - 2.0 * (3.5 + 40.0 / (7.0 / 12.0)))


def test_a_vent_is_left_open() -> None:
    walls = GableWalls(vent_width_in=24.0, vent_height_in=30.0, vent_sill_in=20.0)
    plan = _plan(8.0, walls=walls)
    hole = Polygon([(156.01, 20.01), (179.99, 20.01), (179.99, 49.99), (156.01, 49.99)])
    for member in (*_of(plan, "gable_stud"), *_of(plan, "rake_plate")):
        for p in member.placements:
            if p.start[0] < 240.0:
                continue
            if member.kind == "gable_stud":
                stood = Polygon(
                    [(p.start[1] + dy, z - PLATE) for dy, z in ((-0.75, p.start[2]), (0.75, p.start[2]))]
                    + [(p.start[1] + dy, z - PLATE) for dy, z in ((0.75, p.end[2]), (-0.75, p.end[2]))]
                )
                assert not stood.intersects(hole)
            else:
                assert not hole.contains(Point(p.start[1], p.start[2] - PLATE - 0.75))
    beside = [p.start[1] for m in _of(plan, "gable_stud") for p in m.placements if p.start[0] > 240.0]
    for side in (155.25, 180.75):
        assert min(abs(u - side) for u in beside) < 1e-9
    sills = [m for m in _of(plan, "rake_plate") if m.length_in == 24.0]
    assert sum(m.count for m in sills) == 4


def test_a_vent_too_high_is_said() -> None:
    plan = _plan(4.0, walls=GableWalls(vent_width_in=48.0, vent_height_in=40.0, vent_sill_in=20.0))
    assert "vent-too-high" in {finding.code for finding in plan.findings}


def test_a_ridge_that_goes_through_leaves_its_pocket() -> None:
    plan = _plan(8.0, walls=GableWalls(ridge_pocket=True, spacing_in=16.8))
    closed = _plan(8.0, walls=GableWalls(spacing_in=16.8))
    cut = 0.75 * math.hypot(1.0, 8.0 / 12.0)
    assert _of(plan, "rake_plate")[0].length_in == pytest.approx(_of(closed, "rake_plate")[0].length_in - cut)
    ridge = _of(plan, "ridge_board")[0]
    bottom = ridge.placements[0].start[2] - ridge.depth_in
    under = [p for m in _of(plan, "gable_stud") for p in m.placements if abs(p.start[1] - 168.0) < 1e-6]
    assert len(under) == 2
    assert all(p.end[2] <= bottom + 1e-9 for p in under)


def test_studs_and_plates_are_bought_and_have_cut_cards() -> None:
    plan = _plan(7.0)
    bought = " ".join(q.trace.values for q in plan.quantities)
    assert "Gable stud" in bought
    assert "Rake plate" in bought
    for member in (*_of(plan, "gable_stud"), *_of(plan, "rake_plate")):
        assert member.traces
        assert member.measures


def test_an_overframed_wing_says_why_it_has_none() -> None:
    job = _job(7.0)
    job = set_wing(job, "wing-1", joins="overframed")
    plan = solve(job, "preview")
    assert "gable-wall-left-out" in {finding.code for finding in plan.findings}
    assert not _of(plan, "gable_stud")


def test_wing_default_is_off() -> None:
    assert Wing.__struct_defaults__  # the field has a default, so older files read the same
    assert GableWalls().spacing_in == 16.0


def test_a_clip_over_the_peak_leaves_the_gable_whole() -> None:
    plain, clipped = (
        solve(job, "preview") for job in (_job(7.0), set_edge(_job(7.0), "wing-1", "e2", clip_height_in=500.0))
    )
    assert "stage-failed" not in {finding.code for finding in clipped.findings}
    for kind in ("gable_stud", "rake_plate"):
        assert [m.length_in for m in _of(clipped, kind)] == pytest.approx([m.length_in for m in _of(plain, kind)])


def test_a_plane_over_a_clip_that_is_cut_away_is_no_fault() -> None:
    """The clip's own plane is gone under a steeper neighbour; its plates stand with the plane beside it."""
    job = _job(7.0)
    for height in (5.0, 60.0, 95.0, 97.9):
        plan = solve(set_edge(job, "wing-1", "e2", clip_height_in=height, slope_in_12=40.0), "preview")
        planes = {plane.id for plane in plan.roof.planes}
        assert "stage-failed" not in {finding.code for finding in plan.findings}
        for member in (*_of(plan, "gable_stud"), *_of(plan, "rake_plate")):
            assert {place.plane for place in member.placements} <= planes


@pytest.mark.parametrize("turned", [False, True])
def test_studs_stand_in_the_wall_with_their_long_points_towards_the_ridge(turned: bool) -> None:
    """Stood up in space a stud lies in the wall's depth, and no corner of it is over the underside of the rafters."""
    outline = ((0, 0), (480, 0), (480, 336), (0, 336))
    kinds = KINDS[1:] + KINDS[:1] if turned else KINDS
    job = add_wing(Job(), outline, kinds, slope_in_12=7.0, plate_in=PLATE, gable_walls=GableWalls())[0]
    along, across, middle = (0, 1, 240.0) if turned else (1, 0, 168.0)
    far = 336.0 if turned else 480.0
    plan = solve(job, "preview")
    for member in _of(plan, "gable_stud"):
        for place in member.placements:
            corners = standing(board(member), [place]).reshape(-1, 3)
            depth = corners[:, across]
            near = depth.min() if depth.min() < far / 2.0 else far - depth.max()
            assert near == pytest.approx(0.0, abs=1e-4)
            assert np.ptp(depth) == pytest.approx(3.5, abs=1e-4)
            assert np.ptp(corners[:, along]) == pytest.approx(1.5, abs=1e-4)
            highest = corners[corners[:, 2] > corners[:, 2].max() - 1e-6][:, along]
            away = np.abs(corners[:, along] - middle).min()
            assert np.abs(highest - middle).min() == pytest.approx(away, abs=1e-4)
