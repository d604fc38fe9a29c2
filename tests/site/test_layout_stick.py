"""The layout stick: its lines are where the rafters stand, read from one end of the building."""

from __future__ import annotations

import math

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from workbench.framing.model import Framing
from workbench.framing.solve import frame_roof
from workbench.job.edits import add_wing, set_edge, set_rafter, set_wing
from workbench.job.model import Job
from workbench.job.plies import Plies
from workbench.measure import Units
from workbench.roof.build import BuiltRoof, build_roof
from workbench.site.ground_plan import eave_lines
from workbench.site.model import LayoutStick
from workbench.site.stick import layout_sticks

UNITS = Units()
GABLE = ("eave", "rake", "eave", "rake")


def _job(kinds=GABLE, width: float = 480.0, span: float = 336.0, **fields) -> Job:
    outline = ((0, 0), (width, 0), (width, span), (0, span))
    return add_wing(Job(), outline, kinds, slope_in_12=7.0, **fields)[0]


def _sticks(job: Job, begin="left") -> tuple[BuiltRoof, Framing, tuple[LayoutStick, ...]]:
    built = build_roof(job.wings, UNITS)
    framing = frame_roof(built.wings, UNITS)[0]
    return built, framing, layout_sticks(framing, built.roof.planes, eave_lines(built.wings), begin)


def test_a_gable_needs_one_stick_for_both_plates_and_one_for_the_ridge() -> None:
    sticks = _sticks(_job(rake_overhang_in=12.0))[2]
    plate, ridge = sticks
    assert (plate.on, ridge.on) == ("plate", "ridge")
    assert plate.planes == ("wing-1/e1", "wing-1/e3")
    # 24 in on centre, sheets joining on centres: 0, then 23 1/4, 47 1/4 ... (common practice, no source)
    assert [mark.line_in for mark in plate.marks[:4]] == pytest.approx([0.0, 23.25, 47.25, 71.25])
    assert plate.trace.value == pytest.approx(23.25)
    assert "24.0000 − 0.7500" in plate.trace.values
    assert plate.marks[-1].line_in == pytest.approx(480.0 - 1.5)
    # The ridge board begins 12 in further out, at the barge rafter.
    commons = [mark.line_in for mark in ridge.marks if mark.kind == "common_rafter"]
    assert commons == pytest.approx([mark.line_in + 12.0 for mark in plate.marks])
    barges = [mark.line_in for mark in ridge.marks if mark.kind == "barge_rafter"]
    assert barges == pytest.approx([0.0, 504.0 - 1.5])


def test_from_the_other_end_the_lines_are_the_other_faces() -> None:
    left = _sticks(_job(width=470.0))[2][0]
    right = _sticks(_job(width=470.0), "right")[2][0]
    mirrored = sorted(470.0 - mark.line_in - 1.5 for mark in left.marks)
    assert [mark.line_in for mark in right.marks] == pytest.approx(mirrored)
    assert "left end" in left.begins
    assert "right end" in right.begins


@settings(max_examples=25, deadline=None)
@given(
    width=st.floats(200.0, 600.0),
    span=st.floats(150.0, 380.0),
    spacing=st.sampled_from([12.0, 16.0, 19.2, 24.0]),
    hip=st.booleans(),
    begin=st.sampled_from(["left", "right"]),
)
def test_every_rafter_has_its_line_and_every_line_its_rafter(
    width: float, span: float, spacing: float, hip: bool, begin: str
) -> None:
    job = set_rafter(_job(("eave",) * 4 if hip else GABLE, width, span), "wing-1", spacing_in=spacing)
    _, framing, sticks = _sticks(job, begin)
    plates = [stick for stick in sticks if stick.on == "plate"]
    axes = {"wing-1/e1": 0, "wing-1/e3": 0, "wing-1/e2": 1, "wing-1/e4": 1}
    for stick in plates:
        for plane in stick.planes:
            axis = axes[plane]
            stands = sorted(
                placement.start[axis]
                for member in framing.members
                if member.kind in ("common_rafter", "hip_jack")
                for placement in member.placements
                if placement.plane == plane
            )
            # Planes that face each other are read from one end of the building: that of the first of them.
            extent = (width, span)[axis]
            expected = sorted(x if begin == "left" else extent - x for x in stands)
            found = [mark for mark in stick.marks if mark.kind in ("common_rafter", "hip_jack")]
            assert [mark.centre_in for mark in found] == pytest.approx(expected, abs=1e-6)
            assert all(mark.centre_in - mark.line_in == pytest.approx(0.75) for mark in found)
    count = sum(len(stick.marks) * len(stick.planes) for stick in plates)
    hips = sum(m.count for m in framing.members if m.kind == "hip_rafter")
    assert hips == (4 if hip else 0)
    corners = 2 * hips  # every hip stands over the end of two plates
    seated = sum(m.count for m in framing.members if m.kind in ("common_rafter", "hip_jack"))
    assert count == seated + corners


def test_hips_are_marked_on_the_corner() -> None:
    sticks = _sticks(_job(("eave",) * 4))[2]
    for stick in sticks:
        if stick.on == "plate":
            hips = [mark for mark in stick.marks if mark.kind == "hip_rafter"]
            assert [mark.line_in for mark in hips] == pytest.approx([0.0, stick.length_in], abs=1e-6)


def test_jacks_of_both_sides_share_a_stick_with_their_hands_left_out() -> None:
    sticks = [stick for stick in _sticks(_job(("eave",) * 4))[2] if stick.on == "plate"]
    ends = next(stick for stick in sticks if "wing-1/e2" in stick.planes)
    assert set(ends.planes) == {"wing-1/e2", "wing-1/e4"}
    jacks = [mark for mark in ends.marks if mark.kind == "hip_jack"]
    assert jacks
    assert all(mark.hand == "" for mark in jacks)


def test_ridge_lines_of_a_hip_roof_start_at_the_board() -> None:
    sticks = _sticks(_job(("eave",) * 4))[2]
    ridge = next(stick for stick in sticks if stick.on == "ridge")
    lines = [mark.line_in for mark in ridge.marks]
    assert lines == sorted(lines)
    assert lines[0] == pytest.approx(0.0, abs=1e-6)
    assert math.isclose(ridge.marks[-1].line_in + 1.5, ridge.length_in, abs_tol=1e-6)


def test_two_boards_of_a_hip_are_one_mark_on_the_corner() -> None:
    sticks = _sticks(set_wing(_job(("eave",) * 4), "wing-1", plies=Plies(hip=2)))[2]
    for stick in sticks:
        if stick.on == "plate":
            hips = [mark for mark in stick.marks if mark.kind == "hip_rafter"]
            assert [mark.line_in for mark in hips] == pytest.approx([0.0, stick.length_in], abs=1e-6)


def test_a_valley_along_a_plate_crosses_it_nowhere() -> None:
    """Two plates in one line: the wings meet in a level valley, beside the plate by no more than its thickness."""
    outline = ((0, 0), (408, 0), (408, 96), (336, 96), (336, 336), (0, 336))
    job = add_wing(Job(), outline, ("eave",) * 6, slope_in_12=2.0, eave_overhang_in=16.0)[0]
    outline = ((-120, -168), (216, -168), (216, 0), (-120, 0))
    kinds = ("eave", "rake", "eave", "eave")
    job, wing = add_wing(job, outline, kinds, slope_in_12=2.0, eave_overhang_in=0.0)
    _, framing, sticks = _sticks(set_edge(job, wing, "e1", slope_in_12=9.0))
    valleys = [p for m in framing.members if m.kind == "valley_rafter" for p in m.placements]
    assert any(abs(p.start[1] - p.end[1]) < 1e-6 for p in valleys)
    plates = [stick for stick in sticks if stick.on == "plate"]
    assert plates
    assert all(-1e-4 < mark.centre_in < stick.length_in + 1e-4 for stick in plates for mark in stick.marks)


def test_trusses_by_others_have_their_lines_too() -> None:
    """Nothing of theirs is cut here, but where they stand is laid out on the plates all the same."""
    job = _job(rake_overhang_in=12.0)
    rafters = next(stick for stick in _sticks(job)[2] if stick.on == "plate")
    trusses = _sticks(set_wing(job, "wing-1", framed_with="trusses"))[2]
    assert [stick.on for stick in trusses] == ["plate"]
    assert [mark.line_in for mark in trusses[0].marks] == pytest.approx([mark.line_in for mark in rafters.marks])
    assert {mark.mark for mark in trusses[0].marks} == {"Truss"}
    assert trusses[0].planes == rafters.planes
