"""What goes round and between the rafters: against hand values, each a sum or a product that stands beside it."""

from __future__ import annotations

import math

import pytest

from workbench.framing.model import Framing, Member
from workbench.framing.solve import frame_roof
from workbench.job import edits
from workbench.job.model import Job, Rafter, Tie, Trim
from workbench.measure import Units
from workbench.roof.build import build_roof

GABLE = ["eave", "rake", "eave", "rake"]
HIP = ["eave"] * 4


def framed(job: Job) -> tuple[Framing, list[str]]:
    framing, findings = frame_roof(build_roof(job.wings, Units()).wings, Units())
    return framing, [finding.code for finding in findings]


def house(kinds: list[str], trim: Trim, **fields: object) -> tuple[Framing, list[str]]:
    outline = [(0.0, 0.0), (240.0, 0.0), (240.0, 192.0), (0.0, 192.0)]
    return framed(edits.add_wing(Job(), outline, kinds, slope_in_12=6.0, trim=trim, **fields)[0])


def marks(framing: Framing, kind: str) -> list[Member]:
    return [m for m in framing.members if m.kind == kind]


def test_fascia_of_a_gable_runs_from_rake_to_rake() -> None:
    framing, _ = house(GABLE, Trim(fascia_in=0.75), eave_overhang_in=12.0, rake_overhang_in=10.0)
    (fascia,) = marks(framing, "fascia")
    assert fascia.count == 2
    assert fascia.length_in == pytest.approx(240.0 + 20.0)
    assert {cut.bevel_deg for cut in fascia.cuts} == {0.0}
    assert fascia.section == "1x10"  # 7 1/4 · √1.25 = 8.11 in to cover


def test_fascia_of_a_hip_roof_is_mitred_at_its_corners() -> None:
    """Outer face: the eave line and, at each square corner, all that lies outside the tails (tan 45° = 1)."""
    framing, _ = house(HIP, Trim(fascia_in=0.75, sub_fascia_in=1.5), eave_overhang_in=12.0)
    outer = sorted(m.length_in for m in marks(framing, "fascia"))
    assert outer == pytest.approx([216.0 + 2 * 2.25, 264.0 + 2 * 2.25])
    sub = sorted(m.length_in for m in marks(framing, "sub_fascia"))
    assert sub == pytest.approx([216.0 + 2 * 1.5, 264.0 + 2 * 1.5])
    for member in (*marks(framing, "fascia"), *marks(framing, "sub_fascia")):
        assert [cut.bevel_deg for cut in member.cuts] == pytest.approx([45.0, 45.0])


def test_fascia_at_an_inside_corner() -> None:
    outline = [(0.0, 0.0), (280.0, 0.0), (280.0, 140.0), (140.0, 140.0), (140.0, 280.0), (0.0, 280.0)]
    job, _ = edits.add_wing(Job(), outline, ["eave"] * 6, trim=Trim(fascia_in=0.75))
    framing, _ = framed(job)
    lengths = sorted(m.length_in for m in marks(framing, "fascia") for _ in range(m.count))
    # Long points: outer faces at outside corners, inner faces, flush with the tails, at the inside one.
    assert lengths == pytest.approx([140.75, 140.75, 141.5, 141.5, 281.5, 281.5])


def test_fascia_on_square_tails_has_a_compound_corner() -> None:
    """Mitre atan(tan h · sin θ) and bevel asin(sin h · cos θ): the corner's plane in the board's axes (geometry).

    At 45° and a square corner that is the crown moulding's 35.26° and 30.00° (handbook values, from memory).
    """
    framing, _ = house(HIP, Trim(fascia_in=0.75), rafter=Rafter(tail="square"))
    cut = marks(framing, "fascia")[0].cuts[0]
    theta = math.atan(0.5)
    assert math.tan(math.radians(cut.angle_deg)) == pytest.approx(math.sin(theta))
    assert math.sin(math.radians(cut.bevel_deg)) == pytest.approx(math.sqrt(0.5) * math.cos(theta))
    outline = [(0.0, 0.0), (240.0, 0.0), (240.0, 192.0), (0.0, 192.0)]
    steep = edits.add_wing(
        Job(), outline, HIP, slope_in_12=12.0, trim=Trim(fascia_in=0.75), rafter=Rafter(tail="square")
    )[0]
    cut = marks(framed(steep)[0], "fascia")[0].cuts[0]
    assert cut.angle_deg == pytest.approx(35.264, abs=0.001)
    assert cut.bevel_deg == pytest.approx(30.0, abs=0.001)


def test_ladder_lookouts_reach_from_the_barge_to_the_end_rafter() -> None:
    framing, codes = house(GABLE, Trim(), rake_overhang_in=12.0)
    (lookout,) = marks(framing, "lookout")
    assert lookout.length_in == pytest.approx(12.0 - 1.5)
    barge = marks(framing, "barge_rafter")[0]
    each = math.floor((barge.length_in - 3.0) / 24.0)
    assert lookout.count == 4 * each
    assert "no-lookouts" not in codes


def test_lookouts_that_run_back_reach_the_next_rafter_inside() -> None:
    framing, _ = house(GABLE, Trim(lookouts="back"), rake_overhang_in=12.0)
    (lookout,) = marks(framing, "lookout")
    # From the barge's inner face to the near face of the rafter at 24 in: 12 − 1 1/2 + 24 − 3/4.
    assert lookout.length_in == pytest.approx(12.0 - 1.5 + 24.0 - 0.75)


def test_barge_rafters_without_lookouts_are_told() -> None:
    framing, codes = house(GABLE, Trim(lookouts="none"), rake_overhang_in=12.0)
    assert not marks(framing, "lookout")
    assert "no-lookouts" in codes


def test_blocks_fill_every_bay() -> None:
    trim = Trim(eave_blocks="vented", ridge_blocks="solid", block_rows_in=(48.0,))
    framing, _ = house(GABLE, trim)
    for kind in ("eave_block", "ridge_block", "row_block"):
        mine = marks(framing, kind)
        assert sum(m.count for m in mine) == 2 * 10  # 20 ft at 24 in: ten bays a side
        # Centres stand 24 in apart but the first and last, whose outer faces are flush with the ends.
        assert sorted(m.length_in for m in mine) == pytest.approx([21.75, 22.5])


def test_blocks_stand_only_between_rafters_that_are_there() -> None:
    framing, _ = house(HIP, Trim(eave_blocks="solid", block_rows_in=(60.0,)))
    eave = sum(m.count for m in marks(framing, "eave_block"))
    rows = sum(m.count for m in marks(framing, "row_block"))
    rafters = sum(m.count for m in framing.members if m.kind in ("common_rafter", "hip_jack"))
    assert eave == rafters - 4  # one bay less than rafters on each of four sides
    assert 0 < rows < eave


@pytest.mark.parametrize("share", [0.7, 0.8])
def test_collar_ties(share: float) -> None:
    """Long points: what is left of the span at that height, (1 − share) of it less what the heel adds."""
    framing, codes = house(GABLE, Trim(collar_ties=Tie(share=share, every=2)))
    (tie,) = marks(framing, "collar_tie")
    ridge, plate = build_top(framing), 97.125
    expected = 2.0 * (1.0 - share) * (ridge - plate) / 0.5
    assert tie.measures[1].length_in == pytest.approx(expected)
    assert tie.measures[1].length_in - tie.measures[0].length_in == pytest.approx(2.0 * 3.5 / 0.5)
    assert tie.count == 6  # eleven pairs, every other one
    assert tie.cuts[0].angle_deg == pytest.approx(90.0 - math.degrees(math.atan(0.5)))
    assert "ties-too-far-apart" not in codes


def build_top(framing: Framing) -> float:
    """Height of the ridge line: the rafters' tops at the board's face, and half its thickness up the slope."""
    common = marks(framing, "common_rafter")[0]
    return max(common.placements[0].start[2], common.placements[0].end[2]) + 0.75 * 0.5


def test_ties_out_of_place_are_told() -> None:
    """IRC R802 (read in a copy): collar ties in the upper third, rafter ties in the lower, at most 4 ft apart."""
    _, codes = house(GABLE, Trim(collar_ties=Tie(share=0.5), rafter_ties=Tie(share=0.5, every=3)))
    assert codes.count("tie-out-of-place") == 2
    assert "ties-too-far-apart" in codes
