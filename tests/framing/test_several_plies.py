"""Hips, valleys, ridges, headers of several boards: against the same timber in one piece, and hand values."""

from __future__ import annotations

import math

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from msgspec.structs import replace

from workbench.framing.model import Framing, Member
from workbench.framing.solve import frame_roof
from workbench.job import edits
from workbench.job.model import Hips, Job, Ridge
from workbench.job.plies import Plies
from workbench.measure import Units
from workbench.roof.build import build_roof

RECTANGLE = [(0.0, 0.0), (360.0, 0.0), (360.0, 240.0), (0.0, 240.0)]
ELL = [(0.0, 0.0), (432.0, 0.0), (432.0, 360.0), (240.0, 360.0), (240.0, 240.0), (0.0, 240.0)]


def framed(job: Job) -> Framing:
    return frame_roof(build_roof(job.wings, Units(), job.openings).wings, Units())[0]


def house(outline: list[tuple[float, float]] = RECTANGLE, slope: float = 8.0, **fields: object) -> Job:
    kinds = fields.pop("kinds", ["eave"] * len(outline))
    return edits.add_wing(Job(), outline, kinds, slope_in_12=slope, eave_overhang_in=12.0, **fields)[0]


def of_kind(framing: Framing, kind: str) -> list[Member]:
    return [member for member in framing.members if member.kind == kind]


def area(ring: tuple[tuple[float, float], ...]) -> float:
    return abs(sum(a[0] * b[1] - b[0] * a[1] for a, b in zip(ring, ring[1:] + ring[:1]))) / 2.0


def top_area(members: list[Member]) -> float:
    return sum(member.count * area(member.top) for member in members)


def test_each_board_of_a_doubled_hip_has_its_own_single_cheek() -> None:
    """Regular hip: its double cheek of 45° each way is one cheek of 45° on each board (common practice, no source)."""
    (hip,) = of_kind(framed(house(plies=Plies(hip=2))), "hip_rafter")
    assert (hip.count, hip.left, hip.right, hip.plies, hip.thickness_in, hip.section) == (8, 4, 4, 2, 1.5, "2x10")
    head, tail = hip.cuts[-1], hip.cuts[0]
    for cut in (head, tail):
        assert cut.other_bevel_deg is None
        assert cut.bevel_deg == pytest.approx(45.0)
    assert head.name == "cheek cut at the head"
    assert tail.name == "tail plumb cut"


def test_jacks_are_shortened_by_the_doubled_thickness() -> None:
    """Half the 45° thickness comes off (NAVEDTRA 14044): 1.061 in level at 1 1/2 in, twice that at 3 in."""
    single, double = framed(house()), framed(house(plies=Plies(hip=2)))
    stretch = math.hypot(1.0, 8.0 / 12.0)
    one, two = (sorted(m.length_in for m in of_kind(f, "hip_jack")) for f in (single, double))
    level = 1.5 / (2.0 * math.sin(math.radians(45.0)))
    assert level == pytest.approx(1.061, abs=5e-4)
    assert one and [a - b for a, b in zip(one, two)] == pytest.approx([level * stretch] * len(one))


def test_a_doubled_hip_is_dropped_until_its_outer_edges_lie_in_the_planes() -> None:
    """At 8 in 12 a 1 1/2 in hip drops 0.354 in, plumb (by the rule of NAVEDTRA 14044); 3 in of hip twice that."""
    (one,) = of_kind(framed(house()), "hip_rafter")
    (two,) = of_kind(framed(house(plies=Plies(hip=2))), "hip_rafter")
    assert one.drop_in == pytest.approx(0.354, abs=5e-4)
    assert two.drop_in == pytest.approx(2.0 * one.drop_in)


def test_a_backed_board_is_bevelled_over_its_whole_width() -> None:
    """Unequal slopes of 10 and 7 in 12 back 31.63° and 16.80° (asin(sin θ · cos D)); each board has one of them."""
    job = house(hips=Hips(top="backed"), plies=Plies(hip=2))
    for edge, slope in zip(job.wings[0].edges, (10.0, 7.0, 10.0, 7.0)):
        job = edits.set_edge(job, job.wings[0].id, edge.id, slope_in_12=slope)
    hips = of_kind(framed(job), "hip_rafter")
    assert sum(hip.count for hip in hips) == 8
    assert sorted(round(hip.backing_deg[0], 2) for hip in hips for _ in range(hip.count)) == [16.8] * 4 + [31.63] * 4
    assert all(len(hip.backing_deg) == 1 and hip.high_face for hip in hips)


@pytest.mark.parametrize("top", ["dropped", "backed"])
@pytest.mark.parametrize("plies", [2, 3])
@pytest.mark.parametrize("outline", [RECTANGLE, ELL])
@pytest.mark.parametrize("head", ["commons", "ridge"])
def test_the_boards_together_are_the_timber_in_one_piece(
    top: str, plies: int, outline: list[tuple[float, float]], head: str
) -> None:
    made = framed(house(outline, plies=Plies(hip=plies, valley=plies), hips=Hips(top=top, head=head)))
    whole = framed(house(outline, hips=Hips(top=top, head=head, thickness_in=1.5 * plies)))
    for kind in ("hip_rafter", "valley_rafter"):
        parts, ones = of_kind(made, kind), of_kind(whole, kind)
        assert sum(m.count for m in parts) == plies * sum(m.count for m in ones)
        assert top_area(parts) == pytest.approx(top_area(ones), rel=1e-9)
    others = [[m for m in f.members if m.kind not in ("hip_rafter", "valley_rafter")] for f in (made, whole)]
    assert [(m.mark, m.count, m.profile, m.top) for m in others[0]] == [
        (m.mark, m.count, m.profile, m.top) for m in others[1]
    ]


def test_a_doubled_ridge_takes_half_its_whole_thickness_off_each_common() -> None:
    """NAVEDTRA 14044: half the ridge's thickness, level; 3/4 in at 1 1/2 in, so 1 1/2 in where two boards make it."""
    kinds = ["eave", "rake", "eave", "rake"]
    one = framed(house(kinds=kinds))
    two = framed(house(kinds=kinds, plies=Plies(ridge=2)))
    stretch = math.hypot(1.0, 8.0 / 12.0)
    commons = [of_kind(f, "common_rafter")[0].length_in for f in (one, two)]
    assert commons[0] - commons[1] == pytest.approx(0.75 * stretch)
    assert two == framed(house(kinds=kinds, plies=Plies(ridge=2), ridge=Ridge(thickness_in=1.5)))
    boards = of_kind(two, "ridge_board")
    assert all(member.thickness_in == 1.5 and member.plies == 2 for member in boards)
    lengths = [sum(m.count * m.length_in for m in of_kind(f, "ridge_board")) for f in (one, two)]
    assert lengths[1] == pytest.approx(2.0 * lengths[0])
    # Boards side by side do not meet at the same rafter.
    joints: dict[float, set[float]] = {}
    for member in boards:
        for placement in member.placements:
            joints.setdefault(round(placement.start[1], 4), set()).update(
                round(x, 3) for x in (placement.start[0], placement.end[0])
            )
    first, second = joints.values()
    assert len(first & second) == 2  # the two ends only


def test_headers_and_trimmers_are_made_of_as_many_boards_as_asked() -> None:
    job = house(kinds=["eave", "rake", "eave", "rake"], plies=Plies(header=3, trimmer=2))
    plane = f"{job.wings[0].id}/{job.wings[0].edges[0].id}"
    job, _ = edits.add_opening(job, plane, x_in=100.0, y_in=50.0, width_in=30.0, length_in=40.0)
    made = framed(job)
    headers = of_kind(made, "header")
    assert sum(m.count for m in headers) == 6 and all(m.plies == 3 for m in headers)
    xs = dict(made.supports)[plane]
    beside = [x for x in xs if 100.0 - 3.0 - 1e-6 < x < 100.0 or 130.0 < x < 130.0 + 3.0 + 1e-6]
    assert len(beside) == 4


@given(
    st.sampled_from([RECTANGLE, ELL]),
    st.integers(1, 3),
    st.integers(1, 3),
    st.integers(1, 3),
    st.sampled_from(["dropped", "backed"]),
    st.sampled_from(["plumb", "square", "level"]),
    st.floats(3.0, 14.0),
)
@settings(max_examples=8, deadline=None)
def test_any_number_of_boards_is_cut_whole(
    outline: list[tuple[float, float]], hip: int, valley: int, ridge: int, top: str, tail: str, slope: float
) -> None:
    job = house(outline, slope, plies=Plies(hip=hip, valley=valley, ridge=ridge), hips=Hips(top=top))
    job = edits.set_rafter(job, job.wings[0].id, tail=tail)
    made = framed(job)
    for member in made.members:
        assert all(math.isfinite(value) for point in member.profile for value in point)
    single = framed(replace(job, wings=(replace(job.wings[0], plies=Plies()),)))
    for kind, plies in (("hip_rafter", hip), ("valley_rafter", valley)):
        counts = [sum(m.count for m in of_kind(f, kind)) for f in (made, single)]
        assert counts[0] == plies * counts[1]
