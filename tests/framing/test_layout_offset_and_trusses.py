"""Running marks that do not drift, an offset that brings whole sheets on to rafters, and wings by others."""

from __future__ import annotations

import math
from fractions import Fraction

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from workbench.job import edits
from workbench.job.model import Job
from workbench.plan import Plan, solve

GABLE = ["eave", "rake", "eave", "rake"]


def house(length: float = 480.0, **fields: object) -> Job:
    outline = [(0.0, 0.0), (length, 0.0), (length, 336.0), (0.0, 336.0)]
    return edits.add_wing(Job(), outline, GABLE, slope_in_12=6.0, **fields)[0]


def spaced(job: Job, **fields: object) -> Plan:
    return solve(edits.set_rafter(job, job.wings[0].id, **fields), "preview")


def front(plan: Plan) -> tuple[float, ...]:
    """Centres from the left end of the building line, the rake's overhang taken off."""
    wing = plan.job.wings[0]
    plane = plan.plane(f"{wing.id}/{wing.edges[0].id}")
    assert plane is not None
    left = plane.to_plane(wing.outline[0])[0]
    return tuple(x - left for x in plan.framing.supports_of(plane.id))


@pytest.mark.parametrize("spacing", [12.0, 16.0, 19.2, 24.0, 400.0 / 25.4, 600.0 / 25.4])
def test_running_marks_do_not_drift(spacing: float) -> None:
    """The kth mark is k spacings from the end, whatever k; five bays of 19.2 in are the 96 in of a sheet exactly."""
    marks = front(spaced(house(), spacing_in=spacing))
    inner = marks[1:-1]
    exact = Fraction(spacing).limit_denominator(100_000)
    assert [float(exact * k) for k in range(1, len(inner) + 1)] == pytest.approx(inner, abs=1e-6)
    if spacing == 19.2:
        assert [round(inner[k], 9) for k in (4, 9, 14)] == [96.0, 192.0, 288.0]
        units = solve(house()).units
        # To a sixteenth, each mark rounded by itself: 19 3/16, 38 3/8, 57 5/8, 76 13/16, 96 (hand values).
        assert [units.inches(x) for x in inner[:5]] == ['19 3/16"', '38 3/8"', '57 5/8"', '76 13/16"', '96"']


@pytest.mark.parametrize("start", ["left", "right"])
def test_layout_is_counted_from_the_chosen_end_and_its_offset(start: str) -> None:
    marks = front(spaced(house(470.0), start=start, offset_in=10.0, spacing_in=24.0))
    inner = marks[1:-1]
    from_end = sorted(inner if start == "left" else [470.0 - x for x in inner])
    assert [(x - 10.0) / 24.0 for x in from_end] == pytest.approx([round((x - 10.0) / 24.0) for x in from_end])
    assert from_end[0] == pytest.approx(10.0)
    assert marks[0] == pytest.approx(0.75) and marks[-1] == pytest.approx(470.0 - 0.75)


@pytest.mark.parametrize(("overhang", "spacing", "offset"), [(12.0, 24.0, 12.0), (12.0, 16.0, 4.0), (10.0, 19.2, 9.2)])
def test_the_offset_told_brings_whole_sheets_on_to_rafters(overhang: float, spacing: float, offset: float) -> None:
    """From the rake's edge: 12 in of overhang and 12 in make the 24 in of a bay (hand value), and so on."""
    job = edits.set_sheathing(house(rake_overhang_in=overhang), first_piece_in=96.0)
    before = spaced(job, spacing_in=spacing)
    told = [f for f in before.findings if f.code == "layout-off-sheets"]
    assert len(told) == 1 and before.units.inches(offset) in told[0].text
    after = spaced(job, spacing_in=spacing, offset_in=offset)
    assert "layout-off-sheets" not in [f.code for f in after.findings]
    inner = front(after)
    for joint in (96.0, 192.0, 288.0):
        assert min(abs(x + overhang - joint) for x in inner) < 1e-6
    wing = after.job.wings[0]
    sheets = after.sheets_of(f"{wing.id}/{wing.edges[0].id}")
    assert sheets is not None
    first = next(piece for piece in sheets.pieces if piece.label.endswith("A") and piece.row == 1)
    assert first.whole or math.isclose(first.cut_length_in, 96.0, abs_tol=0.2)


@given(st.floats(0.0, 24.0), st.floats(5.0, 60.0), st.sampled_from([12.0, 16.0, 19.2, 24.0]), st.booleans())
@settings(max_examples=15, deadline=None)
def test_no_bay_is_wider_than_the_spacing_and_a_thickness(
    offset: float, extra: float, spacing: float, right: bool
) -> None:
    job = house(300.0 + extra, rake_overhang_in=8.0)
    marks = front(spaced(job, offset_in=offset, spacing_in=spacing, start="right" if right else "left"))
    # A centre that would stand in the end rafter is left out: its bay is wider by less than a thickness.
    assert max(b - a for a, b in zip(marks, marks[1:])) <= spacing + 1.5 + 1e-6


def test_a_wing_with_trusses_has_lines_sheets_and_safety_but_no_cuts() -> None:
    job = house(eave_overhang_in=16.0)
    wing = job.wings[0].id
    plan = solve(edits.set_wing(job, wing, framed_with="trusses"), "preview")
    ours = solve(job, "preview")
    assert plan.framing.members == () and plan.lumber.sections == ()
    assert plan.framing.supports == ours.framing.supports
    assert plan.sheathing.count == ours.sheathing.count
    assert plan.safety.falls == ours.safety.falls
    (told,) = [finding for finding in plan.findings if finding.code == "trusses-by-others"]
    assert "trusses by others" in told.text and "24" in told.text and "a single truss" in told.text


def test_fascia_of_a_truss_wing_is_still_the_crews() -> None:
    job = house(eave_overhang_in=16.0)
    job = edits.set_trim(job, job.wings[0].id, fascia_in=0.75)
    plan = solve(edits.set_wing(job, job.wings[0].id, framed_with="trusses"), "preview")
    assert {member.kind for member in plan.framing.members} == {"fascia"}


def test_rafters_of_a_framed_wing_beside_one_with_trusses_stay() -> None:
    job = house()
    outline = [(180.0, -120.0), (300.0, -120.0), (300.0, 150.0), (180.0, 150.0)]
    job, wing = edits.add_wing(job, outline, ["rake", "eave", "rake", "eave"], slope_in_12=6.0)
    both = solve(job, "preview")
    plan = solve(edits.set_wing(job, job.wings[0].id, framed_with="trusses"), "preview")
    between = ("valley_rafter", "hip_rafter")
    wings = {p.plane.split("/")[0] for m in plan.framing.members if m.kind not in between for p in m.placements}
    assert wings == {wing}
    count = sum(sum(p.plane.startswith(f"{wing}/") for p in m.placements) for m in both.framing.members)
    valleys = [sum(m.count for m in p.framing.members if m.kind == "valley_rafter") for p in (both, plan)]
    assert valleys[0] == valleys[1] == 2
    lost = sum(
        not p.plane.startswith(wing) for m in both.framing.members if m.kind == "valley_rafter" for p in m.placements
    )
    assert sum(m.count for m in plan.framing.members) == count + lost
