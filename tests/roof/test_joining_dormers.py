"""Dormers and overframed wings: what is cut out of the main roof, and what is left whole."""

from __future__ import annotations

import math

import pytest
from shapely.geometry import Polygon, box

from workbench.job import edits
from workbench.job.model import Heel, Job, Upper
from workbench.measure import Units
from workbench.plan import solve
from workbench.roof.build import build_wing

HEEL = Heel(given="hap", hap_in=6.0)
MAIN = {"slope_in_12": 9.0, "eave_overhang_in": 16.0, "rake_overhang_in": 12.0, "heel": HEEL}
DORMER = {"slope_in_12": 9.0, "plate_in": 97.125 + 70.0, "eave_overhang_in": 8.0, "rake_overhang_in": 8.0, "heel": HEEL}
GABLE = ["eave", "rake", "eave", "rake"]
ACROSS = ["rake", "eave", "rake", "eave"]
SHED = ["eave", "rake", "wall", "rake"]


def rect(left, low, right, high):
    return [(left, low), (right, low), (right, high), (left, high)]


def main_roof():
    return edits.add_wing(Job(), rect(0, 0, 480, 336), GABLE, **MAIN)[0]


def with_dormer(outline=None, kinds=ACROSS, **fields):
    job, _ = edits.add_wing(main_roof(), outline or rect(100, 40, 160, 160), kinds, **{**DORMER, **fields})
    return job


def kinds_round(edges):
    return sorted(edge.kind for edge in edges)


def test_a_gable_dormer_cuts_its_building_out_of_the_main_plane(joined, in_plan) -> None:
    built = joined(with_dormer())
    front = built.roof.plane("wing-1/e1")
    assert len(front.openings) == 1
    assert kinds_round(front.opening_edges[0]) == ["valley", "valley", "wall", "wall", "wall"]
    # Valleys end where main roof and dormer are level: sides 40 to 40 + 40/0.75 deep, then a triangle 30 in high.
    deep = 40.0 + (70.0 - 30.0) / 0.75
    hole = Polygon([(100, 40), (160, 40), (160, deep), (130, deep + 30.0), (100, deep)])
    assert in_plan(front).symmetric_difference(box(-12, -16, 492, 168).difference(hole)).area == pytest.approx(
        0, abs=1e-6
    )
    whole = build_wing(main_roof().wings[0], Units()).planes[0]
    assert front.area_sqft == pytest.approx(whole.area_sqft - hole.area * whole.stretch / 144.0)
    assert front.edges == whole.edges  # nothing changes round the outside


def test_a_dormers_overhangs_pass_over_the_main_roof(joined, in_plan) -> None:
    built = joined(with_dormer())
    front = built.roof.plane("wing-1/e1")
    right, left = built.wings[1].planes
    assert in_plan(right).intersection(in_plan(front)).area > 100.0  # beside and before its walls
    assert sorted(edge.kind for edge in right.edges) == ["eave", "rake", "ridge", "valley", "valley"]
    # The valley goes on below the wall line, over the main roof that runs on: there only the dormer has it.
    own = {frozenset((e.start, e.end)) for e in (*right.edges, *left.edges) if e.kind == "valley"}
    shared = {frozenset((e.start, e.end)) for e in front.all_edges if e.kind == "valley"}
    assert shared < own
    assert len(own) == 4
    assert min(min(end[1] for end in ends) for ends in own) == pytest.approx((64.0 - 0.0) / 0.75)


def test_a_shed_dormer_meets_the_main_roof_in_a_pitch_break(joined) -> None:
    built = joined(with_dormer(rect(100, 40, 260, 165), SHED, slope_in_12=3.0, plate_in=97.125 + 80.0))
    front = built.roof.plane("wing-1/e1")
    assert kinds_round(front.opening_edges[0]) == ["pitch_break", "wall", "wall", "wall"]
    (roof,) = built.wings[1].planes
    top = next(edge for edge in roof.edges if edge.kind == "pitch_break" and edge.length_in > 100)
    # 9 in 12 from z 0 at y 0 meets 3 in 12 from 80 at y 40: y = (80 − 10) / (0.75 − 0.25).
    assert top.start[1] == pytest.approx(140.0)
    assert top.neighbour == front.id


def test_a_dormer_at_the_wall_parts_nothing_and_leaves_the_eave(joined) -> None:
    """Front wall on the building line, plate well above: the main eave runs through before it."""
    built = joined(with_dormer(rect(100, 0, 160, 160), plate_in=97.125 + 50.0))
    front = built.roof.plane("wing-1/e1")
    eaves = [edge for edge in front.edges if edge.kind == "eave"]
    assert sum(edge.length_in for edge in eaves) == pytest.approx(504.0)


def test_a_dormer_past_the_ridge_is_cut_off_at_the_far_plane(joined) -> None:
    """Drawn 30 in past the main ridge it would come out behind; it is trimmed at the main planes."""
    low = with_dormer(rect(100, 40, 200, 198), plate_in=97.125 + 80.0)
    built = joined(low)
    codes = [finding.code for finding in built.findings]
    assert codes.count("wing-trimmed") == 1
    assert max(corner[1] for plane in built.wings[1].planes for corner in plane.corners) < 168.0
    assert built.roof.plane("wing-1/e3") is build_wing(low.wings[0], Units()).planes[1]


def test_a_wing_as_high_as_the_ridge_goes_through_to_the_other_side(joined) -> None:
    """Out on both sides it is a cross wing, and nothing of it is trimmed."""
    job, _ = edits.add_wing(main_roof(), rect(100, -60, 300, 400), ACROSS, slope_in_12=9.0, heel=HEEL)
    built = joined(job)
    assert "wing-trimmed" not in [finding.code for finding in built.findings]
    assert {round(corner[1]) for plane in built.wings[1].planes for corner in plane.corners} >= {-60, 400}


def test_an_overframed_wing_leaves_the_main_roof_whole(joined, in_plan) -> None:
    outline, fields = rect(150, -80, 270, 100), {"slope_in_12": 6.0, "heel": HEEL, "rake_overhang_in": 8.0}
    framed, _ = edits.add_wing(main_roof(), outline, ACROSS, **fields)
    over = edits.set_wing(framed, "wing-2", joins="overframed")
    built = joined(over)
    alone = build_wing(over.wings[0], Units())
    assert built.wings[0] is alone  # not a corner of the main roof is touched
    right, left = built.wings[1].planes
    valleys = [edge for edge in (*right.edges, *left.edges) if edge.kind == "valley"]
    assert {edge.neighbour for edge in valleys} == {"wing-1/e1"}
    # The same wing framed has the same planes; only the main roof is cut below it.
    cut = joined(framed)
    assert [plane.area_sqft for plane in cut.wings[1].planes] == pytest.approx([right.area_sqft, left.area_sqft])
    before, after = (sum(p.area_sqft / p.stretch for p in wing.planes) for wing in (alone, cut.wings[0]))
    below = in_plan(alone.planes[0]).intersection(in_plan(right).union(in_plan(left)))
    assert (before - after) * 144.0 == pytest.approx(below.area)


def test_two_dormers_and_a_porch_make_one_tight_roof(joined) -> None:
    job = with_dormer()
    job, _ = edits.add_wing(job, rect(320, 40, 380, 160), ACROSS, **DORMER)
    job, _ = edits.add_wing(job, rect(190, -90, 290, 90), ACROSS, slope_in_12=6.0, heel=HEEL, joins="overframed")
    built = joined(job)
    assert len(built.roof.plane("wing-1/e1").openings) == 2
    assert not [finding for finding in built.findings if finding.severity == "error" and "roof" in finding.code]


def test_a_dormer_over_both_slopes_of_a_gambrel(joined) -> None:
    """Each slope is cut for itself; the level break between them ends at the dormer's walls."""
    main = main_roof()
    for edge in ("e1", "e3"):
        main = edits.set_edge(main, "wing-1", edge, slope_in_12=18.0, upper=Upper(height_in=110.0, slope_in_12=6.0))
    job, _ = edits.add_wing(main, rect(200, 20, 280, 168), ACROSS, **{**DORMER, "slope_in_12": 6.0, "plate_in": 217.0})
    built = joined(job)
    lower, upper = built.roof.plane("wing-1/e1"), built.roof.plane("wing-1/e1-upper")
    breaks = [edge for edge in lower.edges if edge.kind == "pitch_break"]
    assert [edge.neighbour for edge in breaks] == ["wing-1/e1-upper"] * 2
    assert sum(edge.length_in for edge in breaks) == pytest.approx(504.0 - 80.0)
    assert {edge.neighbour for edge in upper.edges if edge.kind == "valley"} == {"wing-2/e2", "wing-2/e4"}
    assert built.roof.plane("wing-1/e3-upper") is build_wing(main.wings[0], Units()).planes[3]


def test_a_hole_that_touches_the_ridge_stays_a_hole(joined) -> None:
    """The dormer's ridge is level with the main one: the hole touches the top edge in one point."""
    built = joined(with_dormer(rect(100, 40, 200, 168), plate_in=97.125 + 168.0 * 0.75 - 50.0 * 0.75))
    front = built.roof.plane("wing-1/e1")
    assert len(front.openings) == 1
    top = max(front.openings[0], key=lambda corner: corner[2])
    assert top[1] == pytest.approx(168.0)
    assert top in front.corners


def test_sections_of_cut_planes_stay_those_of_their_longest_rafter() -> None:
    """A plane that still has rafters from eave to ridge keeps its section; a piece without an eave has none."""
    alone = solve(main_roof())
    cut = solve(with_dormer())
    before, after = alone.section_of("wing-1/e1"), cut.section_of("wing-1/e1")
    assert before is not None
    assert after == before
    # A shed over the whole front: what is left of the main front plane starts at its wall.
    main = edits.set_wing(main_roof(), "wing-1", rake_overhang_in=0.0)
    job, _ = edits.add_wing(main, rect(0, -60, 480, 100), SHED, plate_in=150.0, heel=HEEL)
    covered = solve(job)
    front = covered.plane("wing-1/e1")
    assert front is not None
    assert "eave" not in [edge.kind for edge in front.edges]
    assert covered.section_of("wing-1/e1") is None
    assert covered.section_of("wing-1/e3") == alone.section_of("wing-1/e3")


def test_a_rafter_that_ends_at_a_wall_has_a_section_to_that_wall() -> None:
    """Low wing under a high wall: run to the wall's face, the high end a face (geometry)."""
    job, _ = edits.add_wing(Job(), rect(0, 0, 300, 240), GABLE, plate_in=220.0, heel=HEEL)
    job, _ = edits.add_wing(job, rect(60, -100, 240, 200), ["eave", "rake", "eave", "rake"], slope_in_12=6.0, heel=HEEL)
    plan = solve(job)
    plane = plan.plane("wing-2/e1")
    assert plane is not None
    section = plan.section_of("wing-2/e1")
    assert section is not None
    assert section.given.high_end == "face"
    assert section.given.run_in == pytest.approx(100.0)
    assert section.answer.landing_in == pytest.approx(97.125 + 6.0 + 100.0 * 0.5)
    assert max(corner[2] for corner in plane.corners) == pytest.approx(section.answer.landing_in)
    assert math.isclose(plane.plane_length_in, 100.0 * math.sqrt(1.25))
