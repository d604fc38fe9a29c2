"""What is cut stays as it is: it serves while the frame asks for it, and a finding says when it no longer does."""

from __future__ import annotations

from collections import Counter

import pytest
from shapely.geometry import Polygon

from workbench.errors import EditError
from workbench.framing.already_cut import can_be_recut, record_of, still_to_cut
from workbench.framing.model import Hand, Member
from workbench.job import edits
from workbench.job.cut_edits import mark_cut, take_back_cut
from workbench.job.model import Job
from workbench.job.read import read_job
from workbench.job.write import write_job
from workbench.plan import Plan, solve

RECTANGLE = [(0.0, 0.0), (288.0, 0.0), (288.0, 192.0), (0.0, 192.0)]
GABLE = ["eave", "rake", "eave", "rake"]


def house(kinds: list[str] = GABLE, slope: float = 6.0, overhang: float = 12.0) -> Job:
    return edits.add_wing(Job(), RECTANGLE, kinds, slope_in_12=slope, eave_overhang_in=overhang)[0]


def solved(job: Job) -> Plan:
    return solve(job, "preview")


def first(plan: Plan, kind: str) -> Member:
    return next(member for member in plan.framing.members if member.kind == kind)


def told(plan: Plan, code: str) -> list[str]:
    return [finding.text for finding in plan.findings if finding.code == code]


def boards(plan: Plan) -> Counter[str]:
    counts: Counter[str] = Counter()
    for section in plan.lumber.sections:
        for batch in section.batches:
            for piece in batch.pieces:
                counts[piece.mark] += batch.count
    return counts


def test_what_is_cut_comes_off_the_list_of_what_is_still_to_cut() -> None:
    job = house()
    common = first(solved(job), "common_rafter")
    plan = solved(mark_cut(job, record_of(common, 5)))
    assert plan.cut.of(common.mark).count == 5
    assert plan.cut.served == (common.mark,)
    left = {m.mark: m.count for m in still_to_cut(plan.framing, plan.cut)}
    assert left[common.mark] == common.count - 5
    assert boards(plan) == left
    assert boards(solved(job))[common.mark] == common.count
    assert not told(plan, "cut-no-longer-fits")
    everything = solved(mark_cut(job, record_of(common, common.count)))
    assert common.mark not in boards(everything)


def test_cut_pieces_keep_serving_when_the_job_changes_elsewhere() -> None:
    """A longer house takes the same rafters; what was cut under one mark serves whatever the mark is called now."""
    job = house()
    job = mark_cut(job, record_of(first(solved(job), "common_rafter"), 4))
    longer = edits.move_edge(job, job.wings[0].id, job.wings[0].edges[1].id, 48.0)
    plan = solved(longer)
    assert plan.cut.of(first(plan, "common_rafter").mark).count == 4
    assert not told(plan, "cut-no-longer-fits")


def test_a_shorter_roof_lets_them_be_recut_a_longer_one_makes_scrap_of_them() -> None:
    job = house()
    common = first(solved(job), "common_rafter")
    job = mark_cut(job, record_of(common, 4))
    wing = job.wings[0].id
    # A shorter tail: everything above the heel stays, the tail is cut off.
    (text,) = told(solved(edits.set_wing(job, wing, eave_overhang_in=6.0)), "cut-no-longer-fits")
    assert "4 pieces" in text and "shorter" in text and "can be recut to it" in text
    (text,) = told(solved(edits.set_wing(job, wing, eave_overhang_in=18.0)), "cut-no-longer-fits")
    off = first(solved(edits.set_wing(job, wing, eave_overhang_in=18.0)), "common_rafter").length_in - common.length_in
    assert solved(job).units.inches(off) in text and "longer" in text and "scrap" in text
    # Another slope: every angle differs, the bird's-mouth is where wood has to be.
    (text,) = told(solved(edits.set_wing(job, wing, slope_in_12=7.0)), "cut-no-longer-fits")
    assert "and not 26.6°" in text and "can't be recut" in text


def test_more_cut_than_wanted_is_told() -> None:
    job = house()
    common = first(solved(job), "common_rafter")
    plan = solved(mark_cut(job, record_of(common, common.count + 3)))
    assert plan.cut.of(common.mark).count == common.count
    (text,) = told(plan, "cut-too-many")
    assert "3 more are cut" in text


@pytest.mark.parametrize("hand", ["left", "right"])
def test_hands_are_counted_apart(hand: Hand) -> None:
    job = house(["eave"] * 4)
    jack = first(solved(job), "hip_jack")
    assert jack.left and jack.right
    plan = solved(mark_cut(job, record_of(jack, 2, hand)))
    left = next(m for m in still_to_cut(plan.framing, plan.cut) if m.mark == jack.mark)
    assert (jack.left - left.left, jack.right - left.right) == ((2, 0) if hand == "left" else (0, 2))
    assert left.count == jack.count - 2


def test_recutting_asks_for_the_whole_shape_inside_the_wood() -> None:
    """A shorter jack lies inside a longer one, never the reverse (areas by shapely)."""
    jacks = sorted(
        (m for m in solved(house(["eave"] * 4)).framing.members if m.kind == "hip_jack"), key=lambda m: m.length_in
    )
    short, long = jacks[0], jacks[-1]
    assert can_be_recut(record_of(long, 1, "left"), short)
    assert not can_be_recut(record_of(short, 1, "left"), long)
    assert Polygon(short.profile).area < Polygon(long.profile).area


def test_the_record_is_kept_in_the_file_and_can_be_taken_back(tmp_path) -> None:
    job = house()
    common = first(solved(job), "common_rafter")
    job = mark_cut(mark_cut(job, record_of(common, 2)), record_of(common, 3))
    assert [record.count for record in job.cut_members] == [5]
    write_job(job, tmp_path / "job.json")
    assert read_job(tmp_path / "job.json") == job
    assert take_back_cut(job, 0, 2).cut_members[0].count == 3
    assert take_back_cut(job, 0).cut_members == ()
    with pytest.raises(EditError, match="no record 2"):
        take_back_cut(job, 1)
