"""Plates that are high, low or out of level: seats by hand, top edges kept, findings where it can't be built."""

from __future__ import annotations

import math

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from workbench.job.as_built_edits import measure_corner, measure_plane, measure_plate, take_over_plates
from workbench.job.edits import add_wing
from workbench.job.model import Heel, Job
from workbench.measure import Units
from workbench.plan import Plan, solve
from workbench.roof.build import build_roof
from workbench.site.plates import seat_note
from workbench.site.solve import measured_lengths

PLATE = 97.125
GABLE = ("eave", "rake", "eave", "rake")


def _job(slope: float = 6.0, kinds=GABLE, seat: float = 3.0, **fields) -> Job:
    outline = ((0, 0), (480, 0), (480, 336), (0, 336))
    heel = Heel(given="seat", seat_in=seat)
    return add_wing(Job(), outline, kinds, slope_in_12=slope, plate_in=PLATE, heel=heel, **fields)[0]


def _codes(plan: Plan) -> set[str]:
    return {finding.code for finding in plan.findings}


def test_nothing_measured_changes_nothing() -> None:
    """Readings equal to the drawing leave the plan as it is."""
    job = _job()
    as_drawn = measure_plate(job, "wing-1", "e1", left_in=PLATE, right_in=PLATE)
    plain, measured = solve(job), solve(as_drawn)
    assert measured.framing == plain.framing
    assert measured.findings == plain.findings
    assert measured.quantities == plain.quantities
    seats = measured.site.plates[0]
    assert all(seat.seat_in == pytest.approx(3.0) for seat in seats.seats)
    assert seats.drawn_seat_in == pytest.approx(3.0)
    assert all(seat.shim_in == 0.0 for seat in seats.seats)


def test_seats_on_a_plate_out_of_level_by_hand() -> None:
    """6 in 12, 2x8, seat 3 in: the left corner is 1/4 in high, the right one 3/8 in low, 40 ft apart."""
    job = measure_plate(_job(), "wing-1", "e1", left_in=PLATE + 0.25, right_in=PLATE - 0.375)
    plate = solve(job).site.plates[0]
    drawn_hap = 7.25 * math.sqrt(1.25) - 3.0 * 0.5
    assert len(plate.seats) == 21
    for seat in plate.seats:
        off = 0.25 - 0.625 * seat.at_in / 480.0
        assert seat.off_in == pytest.approx(off)
        assert seat.hap_in == pytest.approx(drawn_hap - off)
        # The plate comes up by off under a slope of 1 in 2: the seat grows by two for each.
        assert seat.seat_in == pytest.approx(3.0 + 2.0 * off)
        assert seat.notch_in == pytest.approx(seat.seat_in * math.sin(math.atan(0.5)))
        assert seat.shim_in == pytest.approx(max(0.0, -off))


@settings(max_examples=25, deadline=None)
@given(
    slope=st.floats(3.0, 14.0),
    left=st.floats(-1.0, 1.0),
    right=st.floats(-1.0, 1.0),
    hip=st.booleans(),
)
def test_top_edges_stay_in_their_planes(slope: float, left: float, right: float, hip: bool) -> None:
    """Plate + HAP is the top edge: it is what it was, whatever the plate does, so ridge, hips and valleys hold."""
    kinds = ("eave",) * 4 if hip else GABLE
    job = _job(slope, kinds)
    job = measure_plate(job, "wing-1", "e1", left_in=PLATE + left, right_in=PLATE + right)
    plan = solve(job, "preview")
    hap = next(eave.hap_in for eave in plan.wings[0].eaves if eave.edge == "e1")
    for seat in plan.site.plates[0].seats:
        if not seat.mark.startswith("Hip ") or "jack" in seat.mark:
            assert seat.plate_in + seat.hap_in == pytest.approx(PLATE + hap)
        m = slope / 12.0 if "jack" in seat.mark or not seat.mark.startswith("Hip") else slope / 12.0 / math.sqrt(2.0)
        # The seat is where the rafter's underside comes down to the plate.
        assert seat.hap_in + seat.seat_in * m == pytest.approx(seat.depth_in * math.hypot(1.0, m))
    assert plan.roof == build_roof(job.wings, plan.units).roof


def test_a_corner_of_a_hip_roof_moves_both_its_plates_and_the_hip() -> None:
    job = measure_corner(_job(6.0, ("eave",) * 4), "wing-1", 1, PLATE - 0.5)
    plates = {plate.edge: plate for plate in solve(job).site.plates}
    assert plates["wing-1/e1"].right_in == plates["wing-1/e2"].left_in == PLATE - 0.5
    assert plates["wing-1/e1"].left_in == PLATE
    hip = plates["wing-1/e1"].seats[-1]
    assert hip.mark.startswith("Hip")
    assert hip.at_in == pytest.approx(480.0)
    assert hip.off_in == pytest.approx(-0.5)
    assert hip.shim_in == pytest.approx(0.5)


def test_out_of_level_is_said_with_the_table_to_cut_by() -> None:
    plan = solve(measure_plate(_job(), "wing-1", "e1", left_in=PLATE + 0.25))
    finding = next(finding for finding in plan.findings if finding.code == "seats-differ")
    assert '+1/4"' in finding.text
    assert "table of seats" in finding.text
    assert finding.object == "wing-1/e1"


@pytest.mark.parametrize(
    ("off", "code"),
    [
        (2.5, "measured-notch-too-deep"),  # seat 8 in, notch 3.58 in square in a 7 1/4 in rafter; a quarter is 1.81
        (7.0, "measured-hap-not-positive"),
        (-1.0, "measured-bearing-too-short"),  # seat 1 in
        (-2.0, "measured-bearing-too-short"),  # passes over the plate
    ],
)
def test_what_can_not_be_built_is_found(off: float, code: str) -> None:
    """Limits: a quarter of the depth, WAC 246-359-250; bearing 1 1/2 in, IRC R802.6, from memory; HAP, geometry."""
    plain = _codes(solve(_job()))
    found = _codes(solve(measure_plate(_job(), "wing-1", "e1", left_in=PLATE + off, right_in=PLATE + off)))
    assert code not in plain
    assert code in found


def test_taking_the_plate_over_moves_the_roof_and_clears_the_difference() -> None:
    job = measure_plate(_job(), "wing-1", "e1", left_in=PLATE + 0.5, right_in=PLATE + 0.5)
    taken = take_over_plates(job, "wing-1", {"e1": PLATE + 0.5, "e3": PLATE + 0.5})
    before, after = solve(job), solve(taken)
    ridge = lambda plan: plan.site.heights[0].top_in  # noqa: E731
    assert ridge(after) - ridge(before) == pytest.approx(0.5)
    assert all(seat.off_in == pytest.approx(0.0) for seat in after.site.plates[0].seats)
    assert "seats-differ" not in _codes(after)


def test_a_reading_without_its_eave_waits_and_says_so() -> None:
    from msgspec.structs import replace

    from workbench.job.as_built import AsBuilt, PlaneMeasured, PlateMeasured

    job = _job()
    as_built = AsBuilt(
        plates=(PlateMeasured(edge="gone/e1", left_in=90.0),), planes=(PlaneMeasured(plane="gone/e1", left_in=90.0),)
    )
    plan = solve(replace(job, site=replace(job.site, as_built=as_built)))
    assert {"measured-without-eave", "measured-without-plane"} <= _codes(plan)


def test_plane_lengths_stand_against_the_drawing() -> None:
    job = measure_plane(_job(), "wing-1/e1", left_in=188.0, right_in=188.5)
    plan = solve(job)
    found = measured_lengths(job, plan.roof.planes)[0]
    assert len(found) == 1
    assert found[0].drawn_in == pytest.approx(168.0 * math.sqrt(1.25))
    assert found[0].taper_in == pytest.approx(0.5)
    one = measured_lengths(measure_plane(_job(), "wing-1/e1", right_in=188.5), plan.roof.planes)[0][0]
    assert one.left_in == one.right_in == 188.5


def test_the_cut_card_sends_to_the_table_of_seats() -> None:
    job = measure_plate(_job(), "wing-1", "e1", left_in=PLATE + 0.25)
    plates = solve(job).site.plates
    assert "front main" in seat_note(plates, ["Common 1"])
    assert seat_note(plates, ["Ridge 1"]) == ""
    assert seat_note(solve(_job()).site.plates, ["Common 1"]) == ""


def test_every_reading_says_how() -> None:
    job = measure_plate(_job(), "wing-1", "e1", left_in=PLATE + 0.25)
    for trace in solve(job).site.plates[0].traces:
        assert trace.formula
        assert trace.values
        assert trace.source
    assert Units().inches(solve(job).site.plates[0].seats[0].at_in) == '3/4"'
