"""Lower roofs against higher walls, roofs that pass clear above others, and what can't be decided."""

from __future__ import annotations

import pytest
from shapely.geometry import box

from workbench.job import edits
from workbench.job.model import Heel, Job
from workbench.measure import Units
from workbench.roof.build import build_roof, build_wing

HEEL = Heel(given="hap", hap_in=6.0)
GABLE = ["eave", "rake", "eave", "rake"]
ACROSS = ["rake", "eave", "rake", "eave"]
SHED = ["eave", "rake", "wall", "rake"]


def rect(left, low, right, high):
    return [(left, low), (right, low), (right, high), (left, high)]


def house(plate=200.0, **fields):
    values = {"slope_in_12": 7.0, "eave_overhang_in": 18.0, "rake_overhang_in": 12.0, "plate_in": plate, "heel": HEEL}
    return edits.add_wing(Job(), rect(0, 0, 480, 300), GABLE, **{**values, **fields})[0]


def add(job, outline, kinds, **fields):
    return edits.add_wing(job, outline, kinds, **{"slope_in_12": 4.0, "heel": HEEL, **fields})[0]


def test_a_porch_under_the_main_overhang_is_stacked_and_untouched(joined) -> None:
    job = add(house(), rect(100, -90, 380, 0), SHED, plate_in=90.0, eave_overhang_in=12.0, rake_overhang_in=8.0)
    built = joined(job)
    assert built.wings == tuple(build_wing(wing, Units()) for wing in job.wings)
    assert all(a is b for a, b in zip(built.wings, (build_wing(w, Units()) for w in job.wings), strict=True))
    assert not [finding for finding in built.findings if finding.code == "roofs-too-close"]


def test_a_porch_drawn_into_the_house_ends_at_its_wall(joined, in_plan) -> None:
    job = add(house(), rect(100, -90, 380, 60), SHED, plate_in=90.0, eave_overhang_in=12.0, rake_overhang_in=8.0)
    built = joined(job)
    assert built.wings[0] is build_wing(job.wings[0], Units())  # the higher plane's own eave is untouched
    (porch,) = built.wings[1].planes
    assert in_plan(porch).symmetric_difference(box(92, -102, 388, 0)).area == pytest.approx(0.0, abs=1e-6)
    wall = next(edge for edge in porch.edges if edge.kind == "wall")
    assert wall.start[1] == wall.end[1] == 0.0
    assert wall.neighbour is None


def test_an_overhang_is_cut_at_a_higher_wall(joined) -> None:
    """A lower gable beside the house, its rake overhang pointing into the house."""
    job = add(house(), rect(480, 50, 700, 250), GABLE, plate_in=97.0, rake_overhang_in=16.0, eave_overhang_in=12.0)
    front, back = joined(job).wings[1].planes
    for plane in (front, back):
        assert min(corner[0] for corner in plane.corners) == pytest.approx(480.0)
        assert [edge.kind for edge in plane.edges].count("wall") == 1


def test_a_rake_drawn_along_a_higher_wall_is_a_wall(joined) -> None:
    job = add(house(), rect(480, 50, 700, 250), GABLE, plate_in=97.0)
    for plane in joined(job).wings[1].planes:
        kinds = {edge.drawn: edge.kind for edge in plane.edges if edge.drawn in ("e2", "e4")}
        assert kinds == {"e2": "rake", "e4": "wall"}


def test_a_higher_storey_cuts_the_lower_roof_at_its_walls_and_hangs_over_it(joined, in_plan) -> None:
    job = add(house(97.0), rect(120, 60, 360, 240), GABLE, plate_in=300.0, eave_overhang_in=14.0, rake_overhang_in=10.0)
    built = joined(job)
    assert built.wings[1] is build_wing(job.wings[1], Units())
    front, back = built.wings[0].planes
    assert in_plan(front).area == pytest.approx(504 * (150 + 18) - 240 * 90)
    assert in_plan(back).area == pytest.approx(504 * (150 + 18) - 240 * 90)
    # Both planes are cut from above the wall down to the ridge, which is left in two parts.
    ridges = [edge for edge in front.all_edges if edge.kind == "ridge"]
    assert sorted(edge.length_in for edge in ridges) == pytest.approx([132.0, 132.0])
    assert [edge.kind for edge in front.all_edges].count("wall") == 3


def test_an_overhang_with_no_room_above_the_next_roof_is_told(joined) -> None:
    job = add(house(110.0), rect(100, -90, 380, 0), SHED, plate_in=73.0, slope_in_12=4.0)
    built = joined(job)
    told = [finding for finding in built.findings if finding.code == "roofs-too-close"]
    assert [finding.object for finding in told] == ["wing-1"]
    assert told[0].severity == "warning"
    # Plumb between the tops at the house wall's eave edge: 116 − 18·7/12 against 79 + 72·4/12.
    assert Units().length(116 - 18 * 7 / 12 - (79 + 72 / 3)) in told[0].text


def test_a_porch_that_comes_up_through_the_eave_ties_into_the_main_roof(joined) -> None:
    """Its plane runs over the wall line's eave and stops where it meets the main plane: a pitch break."""
    job = add(house(110.0), rect(100, -90, 380, 0), SHED, plate_in=79.0, slope_in_12=4.0)
    built = joined(job)
    (porch,) = built.wings[1].planes
    top = next(edge for edge in porch.edges if edge.kind == "pitch_break")
    assert top.neighbour == "wing-1/e1"
    # 116 + 7/12·y = 85 + 4/12·(90 + y)
    assert top.start[1] == pytest.approx((85.0 + 30.0 - 116.0) / 0.25)
    front = built.roof.plane("wing-1/e1")
    assert sum(e.length_in for e in front.edges if e.kind == "eave") == pytest.approx(504.0 - 280.0)


def test_roofs_that_go_through_each_other_under_an_overhang_are_told(joined) -> None:
    """An overframed porch on a lower plate: the main overhang it must not cut dips into its roof."""
    job = house(110.0, eave_overhang_in=24.0)
    framed = add(job, rect(100, -120, 340, 120), ACROSS, plate_in=80.0, slope_in_12=6.0)
    assert "roofs-cross" not in [finding.code for finding in joined(framed).findings]
    over = edits.set_wing(framed, "wing-2", joins="overframed")
    (told,) = [finding for finding in joined(over).findings if finding.code == "roofs-cross"]
    assert told.severity == "warning"
    assert told.object == "wing-2"


def test_a_wing_wholly_inside_another_is_told_and_not_built() -> None:
    job = add(house(), rect(100, 60, 300, 200), GABLE, plate_in=60.0)
    built = build_roof(job.wings, Units())
    assert {plane.wing for plane in built.roof.planes} == {"wing-1"}
    (told,) = [finding for finding in built.findings if finding.code == "wing-covered"]
    assert told.object == "wing-2"
    assert '"main"' in told.text


def test_pieces_keep_their_ids_when_a_wing_moves_a_little(joined) -> None:
    """A high wing across a low one parts its planes; the larger part keeps the plain id."""
    ids = []
    for x in (150.0, 152.0, 149.0):
        job = add(house(97.0), rect(x, -50, x + 100, 350), ACROSS, plate_in=260.0)
        built = joined(job)
        ids.append([plane.id for plane in built.wings[0].planes])
        larger = built.roof.plane("wing-1/e1")
        assert min(corner[0] for corner in larger.corners) == pytest.approx(x + 100.0)
    assert ids == [["wing-1/e1", "wing-1/e1-2", "wing-1/e3", "wing-1/e3-2"]] * 3
