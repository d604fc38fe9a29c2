"""Marks: equal members share one, different sizes never do; and cards leave no bevel out and no measure over."""

from __future__ import annotations

import math
from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from workbench.drawing.cut_card import cut_angle_text
from workbench.framing.marks import marked
from workbench.framing.model import Cut, Framing, Member
from workbench.framing.solve import frame_roof
from workbench.job import edits
from workbench.job.model import Hips, Job
from workbench.measure import Units
from workbench.roof.build import build_roof

ELL = [(0.0, 0.0), (432.0, 0.0), (432.0, 360.0), (240.0, 360.0), (240.0, 240.0), (0.0, 240.0)]


def framed(job: Job) -> Framing:
    return frame_roof(build_roof(job.wings, Units()).wings, Units())[0]


def board(length: float) -> Member:
    job, _ = edits.add_wing(Job(), [(0.0, 0.0), (96.0, 0.0), (96.0, 96.0), (0.0, 96.0)], ["eave", "rake"] * 2)
    made = next(m for m in framed(job).members if m.kind == "ridge_board")
    depth = made.depth_in
    cuts = (made.cuts[0], replace(made.cuts[-1], at_in=length))
    ring = ((0.0, depth), (0.0, 0.0), (length, 0.0), (length, depth))
    return replace(made, length_in=length, profile=ring, cuts=cuts, count=1)


PLAIN = board(96.0)


def of_length(length: float) -> Member:
    ring = tuple((length if x else 0.0, y) for x, y in PLAIN.profile)
    return replace(PLAIN, length_in=length, profile=ring, cuts=(PLAIN.cuts[0], replace(PLAIN.cuts[1], at_in=length)))


@given(
    st.lists(
        st.tuples(st.integers(96 * 16, 100 * 16), st.sampled_from([0.0, 3e-6, 1e-4, 1.0 / 128.0, 1.0 / 33.0])),
        min_size=1,
        max_size=12,
    )
)
@settings(max_examples=100, deadline=None)
def test_lengths_that_round_alike_keep_marks_of_their_own(lengths: list[tuple[int, float]]) -> None:
    """Shown to 1/16 in many of these read the same; each real size still has its own mark, equal ones share theirs."""
    sizes = [sixteenths / 16.0 + off for sixteenths, off in lengths]
    made = marked([of_length(size) for size in sizes])
    assert len({member.mark for member in made}) == len(made)
    assert sum(member.count for member in made) == len(sizes)
    distinct = sorted(set(sizes))
    assert [round(member.length_in, 6) for member in sorted(made, key=lambda m: m.length_in)] == [
        round(size, 6) for size in distinct
    ]
    for member in made:
        assert member.count == sum(abs(size - member.length_in) < 1e-6 for size in sizes)


@given(st.floats(3.0, 12.0), st.floats(3.0, 12.0), st.sampled_from(["dropped", "backed"]), st.floats(12.0, 30.0))
@settings(max_examples=12, deadline=None)
def test_all_boards_of_a_mark_are_of_one_length_in_space(main: float, other: float, top: str, spacing: float) -> None:
    job, wing = edits.add_wing(Job(), ELL, ["eave"] * 6, slope_in_12=main, eave_overhang_in=12.0, hips=Hips(top=top))
    job = edits.set_rafter(job, wing, spacing_in=spacing)
    job = edits.set_edge(job, wing, job.wings[0].edges[2].id, slope_in_12=other)
    for member in framed(job).members:
        lengths = [math.dist(placement.start, placement.end) for placement in member.placements]
        assert max(lengths) - min(lengths) < 1e-5
        assert member.count == len(member.placements)


def test_both_bevels_of_a_double_cheek_are_said() -> None:
    cut = Cut("double cheek cut at the head", 25.0, 45.0, 5.6, 0.0, 30.0, 10.0, 17.0, "middle", 0.5)
    said = cut_angle_text(cut, Units())
    assert "45.0° left, 30.0° right" in said
    assert said.index("10 in 12 left") < said.index("17 in 12 right across the top") < said.index("point")
    alike = cut_angle_text(replace(cut, other_bevel_deg=45.0, other_side_in_12=10.0), Units())
    assert "45.0° left, 45.0° right, 10 in 12 across the top" in alike


@pytest.mark.parametrize(("overhang", "shown"), [(0.0, False), (16.0, True)])
def test_without_an_overhang_no_heel_is_measured_that_the_plumb_cut_takes_away(overhang: float, shown: bool) -> None:
    outline = [(0.0, 0.0), (240.0, 0.0), (240.0, 192.0), (0.0, 192.0)]
    job, _ = edits.add_wing(Job(), outline, ["eave", "rake"] * 2, slope_in_12=6.0, eave_overhang_in=overhang)
    common = next(m for m in framed(job).members if m.kind == "common_rafter")
    names = [measure.name for measure in common.measures]
    assert ("heel" in names) is shown
    assert {"seat", "height above plate", "top edge"} <= set(names)
    assert ("heel cut (plumb)" in [cut.name for cut in common.cuts]) is shown
