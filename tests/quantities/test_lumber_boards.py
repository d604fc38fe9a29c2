"""The cutting list of a frame: what the job says of its lumber holds, and the checker finds what is wrong."""

from __future__ import annotations

from collections import Counter
from dataclasses import replace

import pytest

from workbench.errors import EditError
from workbench.job import edits
from workbench.job.lumber import SectionStock
from workbench.job.lumber_edits import set_lumber, set_section
from workbench.job.model import Job
from workbench.plan import Plan, solve
from workbench.quantities.lumber import pieces_of
from workbench.quantities.lumber_check import cutting_faults
from workbench.quantities.lumber_lines import pieces_text
from workbench.quantities.lumber_model import SectionBoards

HIP = [(0.0, 0.0), (288.0, 0.0), (288.0, 192.0), (0.0, 192.0)]


def job() -> Job:
    return edits.add_wing(Job(), HIP, ["eave"] * 4, slope_in_12=6.0, eave_overhang_in=12.0)[0]


@pytest.fixture(scope="module")
def plan() -> Plan:
    return solve(job(), "full")


def section(plan: Plan, name: str) -> SectionBoards:
    return next(s for s in plan.lumber.sections if s.section == name)


def cut_counts(plan: Plan) -> Counter[str]:
    made: Counter[str] = Counter()
    for boards in plan.lumber.sections:
        for batch in boards.batches:
            for piece in batch.pieces:
                made[piece.mark] += batch.count
    return made


def test_every_piece_of_the_frame_is_cut_once_with_its_hand(plan: Plan) -> None:
    assert cut_counts(plan) == {member.mark: member.count for member in plan.framing.members}
    hands: Counter[tuple[str, str]] = Counter()
    for boards in plan.lumber.sections:
        for batch in boards.batches:
            for piece in batch.pieces:
                hands[piece.mark, piece.hand] += batch.count
    for member in plan.framing.members:
        assert (hands[member.mark, "left"], hands[member.mark, "right"]) == (member.left, member.right)


def test_full_effort_proves_the_fewest_feet(plan: Plan) -> None:
    assert plan.lumber.proven
    one_each = sum(member.count * member.stock_in for member in plan.framing.members)
    assert sum(boards.bought_in for boards in plan.lumber.sections) < one_each
    for effort in ("preview", "live"):
        other = solve(job(), effort)
        assert cut_counts(other) == cut_counts(plan)
        for boards in other.lumber.sections:
            assert boards.at_least_in <= section(plan, boards.section).bought_in <= boards.bought_in


def test_the_same_job_gives_the_same_boards(plan: Plan) -> None:
    assert solve(job(), "full").lumber == plan.lumber


def test_boards_are_no_longer_than_can_be_carried() -> None:
    carried = solve(set_lumber(job(), longest_in=144.0), "full")
    boards = section(carried, "2x8")
    assert boards.lengths_in[-1] == 144.0
    assert all(batch.stock_in <= 144.0 for batch in boards.batches)
    # The hips of this roof are longer: they are ordered as they must be, each alone, and a finding says so.
    hips = section(carried, "2x10")
    long = [batch for batch in hips.batches if batch.stock_in > 144.0]
    assert long and all(len(batch.pieces) == 1 for batch in long)
    found = [f for f in carried.findings if f.code == "board-longer-than-had"]
    assert found and "Hip 1" in found[0].text


def test_a_kind_may_have_boards_of_its_own() -> None:
    alone = solve(set_lumber(job(), alone=("common_rafter",)), "full")
    for boards in alone.lumber.sections:
        for batch in boards.batches:
            if any(piece.kind == "common_rafter" for piece in batch.pieces):
                assert len(batch.pieces) == 1
    assert cut_counts(alone) == cut_counts(solve(job(), "full"))
    unused = solve(set_lumber(job(), alone=("barge_rafter",)))
    assert "lumber-kind-unused" in [finding.code for finding in unused.findings]


def test_a_section_has_lengths_and_a_grade_of_its_own() -> None:
    own = set_section(set_lumber(job(), species="Hem-fir", grade="No.2"), "2x8", lengths_in=(240.0,), grade="No.1")
    plan = solve(own)
    assert {batch.stock_in for batch in section(plan, "2x8").batches} == {240.0}
    assert section(plan, "2x8").name == "2x8 Hem-fir No.1"
    assert section(plan, "2x10").name == "2x10 Hem-fir No.2"
    assert any(q.name.startswith("2x8 Hem-fir No.1, 20' 0\"") for q in plan.quantities)
    assert set_section(own, "2x8", lengths_in=(), grade="").lumber.sections == ()


@pytest.mark.parametrize(
    "fields",
    [
        {"species": "Oak of nowhere"},
        {"grade": "No.2"},
        {"species": "Hem-fir", "grade": "No.9"},
        {"lengths_in": ()},
        {"lengths_in": (-1.0,)},
        {"kerf_in": 2.0},
        {"sections": (SectionStock(section="2x8"), SectionStock(section="2x8"))},
        {"alone": ("hip_rafter", "hip_rafter")},
    ],
)
def test_lumber_that_can_not_be_is_refused_in_one_sentence(fields: dict[str, object]) -> None:
    with pytest.raises(EditError) as told:
        set_lumber(job(), **fields)
    assert "\n" not in str(told.value)


def test_a_board_says_what_is_cut_from_it(plan: Plan) -> None:
    for boards in plan.lumber.sections:
        for batch in boards.batches:
            said = pieces_text(batch, plan.units)
            assert all(piece.mark in said for piece in batch.pieces)
            taken = sum(piece.length_in for piece in batch.pieces) + len(batch.pieces) * plan.lumber.kerf_in
            assert batch.left_in == pytest.approx(max(batch.stock_in - taken, 0.0), abs=1e-6)


def test_the_checker_sees_a_board_too_short_a_piece_lost_and_a_board_nobody_sells(plan: Plan) -> None:
    boards = section(plan, "2x8")
    needed = pieces_of([m for m in plan.framing.members if m.section == "2x8"])
    assert cutting_faults(boards, needed, plan.lumber.kerf_in) == []
    batch = next(b for b in boards.batches if len(b.pieces) > 1)
    rest = tuple(b for b in boards.batches if b is not batch)
    lost = replace(boards, batches=(replace(batch, pieces=batch.pieces[1:]), *rest))
    assert any("needed" in fault for fault in cutting_faults(lost, needed, 0.125))
    short = replace(boards, batches=(replace(batch, stock_in=96.0, pieces=batch.pieces * 3), *rest))
    assert any("cut from a board" in fault for fault in cutting_faults(short, needed, 0.125))
    odd = replace(boards, batches=(replace(batch, stock_in=batch.stock_in + 1.0), *rest))
    assert any("can't be had" in fault for fault in cutting_faults(odd, needed, 0.125))
    claimed = replace(boards, at_least_in=boards.bought_in + 24.0)
    assert any("least" in fault for fault in cutting_faults(claimed, needed, 0.125))
    tight = max(boards.batches, key=lambda b: len(b.pieces))
    room = tight.stock_in - sum(p.length_in for p in tight.pieces)
    assert any("cut from a board" in f for f in cutting_faults(boards, needed, room / (len(tight.pieces) - 1) + 0.01))


@pytest.mark.parametrize("longest", [120.0, 144.0, 192.0])
def test_ridge_and_fascia_are_joined_so_that_their_boards_can_be_carried(longest: float) -> None:
    outline = [(0.0, 0.0), (480.0, 0.0), (480.0, 192.0), (0.0, 192.0)]
    kinds = ["eave", "rake", "eave", "rake"]
    made, wing = edits.add_wing(Job(), outline, kinds, slope_in_12=6.0, eave_overhang_in=12.0)
    made = edits.set_trim(made, wing, fascia_in=0.75)
    plan = solve(set_lumber(made, longest_in=longest), "preview")
    long = [m for m in plan.framing.members if m.kind in ("ridge_board", "fascia")]
    assert long and max(member.length_in for member in long) <= longest
    for kind, run in (("ridge_board", 480.0), ("fascia", 2 * 480.0)):
        assert sum(m.count * m.length_in for m in long if m.kind == kind) == pytest.approx(run)
