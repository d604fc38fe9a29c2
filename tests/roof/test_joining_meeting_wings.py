"""Wings that run into each other: L, T and cross, equal and unequal slopes, plates and ridges."""

from __future__ import annotations

import math

import pytest
from shapely.geometry import box

from workbench.job import edits
from workbench.job.model import Heel, Job
from workbench.measure import Units
from workbench.roof.build import build_roof, build_wing

ALONG = ["eave", "rake", "eave", "rake"]
ACROSS = ["rake", "eave", "rake", "eave"]
HEEL = Heel(given="hap", hap_in=6.0)


def rect(left, low, right, high):
    return [(left, low), (right, low), (right, high), (left, high)]


def wings(*parts, **common):
    job = Job()
    for outline, kinds, fields in parts:
        job, _ = edits.add_wing(job, outline, kinds, heel=HEEL, **{"slope_in_12": 8.0, **common, **fields})
    return job


def edges_of(built, kind):
    return [(plane, edge) for plane in built.roof.planes for edge in plane.all_edges if edge.kind == kind]


def test_two_gables_in_a_t_meet_in_two_valleys(joined) -> None:
    """Equal slopes: valleys at 45 degrees in plan, common run · √(2 + m²) long (geometry)."""
    job = wings((rect(0, 0, 480, 240), ALONG, {}), (rect(150, -120, 300, 120), ACROSS, {}))
    built = joined(job)
    valleys = edges_of(built, "valley")
    assert len(valleys) == 4  # two, each on both planes
    for _, edge in valleys:
        assert edge.length_in == pytest.approx(75.0 * math.sqrt(2.0 + (8 / 12) ** 2))
    main, wing = built.wings
    front = main.planes[0]
    assert {edge.neighbour for edge in front.edges if edge.kind == "valley"} == {plane.id for plane in wing.planes}
    # Plan areas add up to the outline of both; all slopes are 8 in 12 (shapely).
    outline = box(0, 0, 480, 240).union(box(150, -120, 300, 0))
    area = sum(plane.area_sqft for plane in built.roof.planes) * 144.0
    assert area == pytest.approx(outline.area * math.hypot(1.0, 8 / 12))
    assert "wings-overlap" not in {finding.code for finding in built.findings}


def test_overhangs_of_equal_wings_close_the_corner(joined) -> None:
    """With overhangs the valley runs on to the corner of the eave lines and nothing lies there twice."""
    job = wings(
        (rect(0, 0, 480, 240), ALONG, {}),
        (rect(150, -120, 300, 120), ACROSS, {}),
        eave_overhang_in=16.0,
        rake_overhang_in=12.0,
    )
    built = joined(job)
    assert min(edge.start[1] for _, edge in edges_of(built, "valley")) == pytest.approx(-16.0)
    plan = sum(plane.area_sqft * 144.0 / plane.stretch for plane in built.roof.planes)
    assert plan == pytest.approx(box(-12, -16, 492, 256).union(box(134, -132, 316, 0)).area)
    assert not edges_of(built, "step")
    assert not edges_of(built, "wall")


SHED = 12.0 * math.tan(math.radians(19.83593))


# Valley against the main eave in plan, and the sheathing angle on the main plane: published roof-geometry notes print
# 59.74356 and 63.25779 degrees for a 7 in 12 main roof and a 12 in 12 wing, and 19.83593 for a 45 degree main roof and
# a 19.83593 degree wing; the others follow from tan D = ma / mm and
# tan = tan D / cos (geometry; 8 and 8: 50.238, framing square arithmetic).
@pytest.mark.parametrize(
    ("main", "wing", "plan_deg", "sheathing_deg"),
    [
        (7.0, 12.0, 59.74356, 63.25779),
        (8.0, 8.0, 45.0, 50.238),
        (12.0, SHED, 19.83593, math.degrees(math.atan(SHED / 12 * math.sqrt(2)))),
        (9.0, 5.0, math.degrees(math.atan(5 / 9)), math.degrees(math.atan(5 / 9 * math.hypot(1, 0.75)))),
    ],
)
def test_an_l_of_unequal_slopes_has_the_classical_valley(joined, main, wing, plan_deg, sheathing_deg) -> None:
    job = wings(
        (rect(0, 0, 600, 240), ALONG, {"slope_in_12": main}),
        (rect(0, 60, 200, 480), ACROSS, {"slope_in_12": wing}),
    )
    built = joined(job)
    plane = built.roof.plane("wing-1/e3")
    # The valley of the inside corner; left of it the wing's other plane meets the main roof at the outer corner.
    valley = next(e for e in plane.edges if e.kind == "valley" and max(e.start[0], e.end[0]) > 199.0)
    (ax, ay, _), (bx, by, _) = valley.start, valley.end
    assert math.degrees(math.atan2(abs(by - ay), abs(bx - ax))) == pytest.approx(plan_deg, abs=5e-4)
    (px, py), (qx, qy) = plane.to_plane(valley.start), plane.to_plane(valley.end)
    assert math.degrees(math.atan2(abs(qy - py), abs(qx - px))) == pytest.approx(sheathing_deg, abs=5e-4)
    # Slope of the valley: arctan(tan θ · sin D), the same from either side (geometry).
    rise = abs(valley.end[2] - valley.start[2]) / math.dist(valley.start[:2], valley.end[:2])
    assert rise == pytest.approx(main / 12 * math.sin(math.radians(plan_deg)), abs=1e-5)


def test_a_lower_ridge_ends_on_the_main_roof(joined, in_plan) -> None:
    job = wings((rect(0, 0, 480, 360), ALONG, {}), (rect(150, -100, 250, 180), ACROSS, {}))
    built = joined(job)
    ridge = next(e for e in built.wings[1].planes[0].edges if e.kind == "ridge")
    assert max(ridge.start[1], ridge.end[1]) == pytest.approx(50.0)  # half the wing's width: there main is as high
    front = built.roof.plane("wing-1/e1")
    assert in_plan(front).area == pytest.approx(480 * 180 - 50 * 100 / 2)


def test_equal_ridges_meet_in_a_point_and_part_the_plane(joined) -> None:
    """The valleys meet on the ridge itself: the front plane comes out in two pieces, the larger keeps the name."""
    job = wings((rect(0, 0, 480, 240), ALONG, {}), (rect(60, -100, 300, 120), ACROSS, {}))
    planes = joined(job).wings[0].planes
    assert [plane.id for plane in planes] == ["wing-1/e1", "wing-1/e1-2", "wing-1/e3"]
    assert planes[0].area_sqft > planes[1].area_sqft
    assert max(corner[0] for corner in planes[1].corners) == pytest.approx(180.0)
    assert planes[1].name == "front main, part 2"
    # One inch to and fro changes no id.
    for x in (59.0, 61.0):
        moved = wings((rect(0, 0, 480, 240), ALONG, {}), (rect(x, -100, x + 240, 120), ACROSS, {}))
        assert [plane.id for plane in joined(moved).wings[0].planes] == [plane.id for plane in planes]


def test_a_higher_plate_runs_over_the_lower_eave(joined) -> None:
    """Plates 30 in apart: the low roof runs under the high overhang to the wall, its ridge on into the high roof."""
    job = wings(
        (rect(0, 0, 480, 300), ALONG, {"plate_in": 127.0}),
        (rect(100, -150, 300, 150), ACROSS, {"plate_in": 97.0}),
        eave_overhang_in=18.0,
        rake_overhang_in=12.0,
    )
    built = joined(job)
    right, left = built.wings[1].planes
    wall = next(edge for edge in right.edges if edge.kind == "wall")
    # From the low eave's tail up to where the slopes have made good 30 in: 45 in of run at 8 in 12, 18 more outside.
    assert {round(wall.start[0], 6), round(wall.end[0], 6)} == {318.0, 255.0}
    assert wall.start[1] == wall.end[1] == 0.0
    assert [edge.kind for edge in left.edges].count("wall") == 1
    # The main eave is cut where the low roof comes up through it.
    front = built.roof.plane("wing-1/e1")
    eaves = [edge for edge in front.edges if edge.kind == "eave"]
    assert sum(edge.length_in for edge in eaves) == pytest.approx(504.0 - 2 * (100.0 - (30.0 - 12.0) / (8 / 12)))


def test_cross_gables_of_equal_height(joined) -> None:
    job = wings(
        (rect(0, 0, 480, 240), ALONG, {}),
        (rect(120, -100, 360, 340), ACROSS, {}),
        eave_overhang_in=12.0,
        rake_overhang_in=8.0,
    )
    built = joined(job)
    assert len({frozenset((edge.start, edge.end)) for _, edge in edges_of(built, "valley")}) == 4
    assert len(built.roof.planes) == 8  # four planes, each parted by the crossing
    plan = sum(plane.area_sqft * 144.0 / plane.stretch for plane in built.roof.planes)
    assert plan == pytest.approx(box(-8, -12, 488, 252).union(box(108, -108, 372, 348)).area)


def test_raised_plate_with_level_fascia_keeps_one_clean_valley(joined) -> None:
    """Steep wing on a raised plate, all fascias level: the valley starts at the corner of the eave lines.

    Common practice for unequal slopes with equal overhangs, no source.
    """
    main = {"slope_in_12": 4.0, "plate_in": 97.0}
    wing = {"slope_in_12": 12.0, "plate_in": 97.0 + 18.0 * (1.0 - 4.0 / 12.0)}
    job = wings((rect(0, 0, 600, 300), ALONG, main), (rect(100, -150, 250, 150), ACROSS, wing), eave_overhang_in=18.0)
    built = joined(job)
    assert not edges_of(built, "step")
    assert min(edge.start[1] for _, edge in edges_of(built, "valley")) == pytest.approx(-18.0)
    plan = sum(plane.area_sqft * 144.0 / plane.stretch for plane in built.roof.planes)
    assert plan == pytest.approx(box(0, -18, 600, 318).union(box(82, -150, 268, 0)).area)


def test_valley_heights_agree_along_their_whole_length(joined, height_of) -> None:
    outline = [(150.0, -120.0), (340.0, -60.0), (280.0, 130.0), (90.0, 70.0)]  # a square, turned
    job = wings((rect(0, 0, 480, 240), ALONG, {"slope_in_12": 6.0}), (outline, ACROSS, {"slope_in_12": 9.0}))
    built = joined(job)
    found = edges_of(built, "valley")
    assert found
    for plane, edge in found:
        other = built.roof.plane(edge.neighbour)
        for share in (0.0, 0.2, 0.5, 0.9, 1.0):
            x, y, z = (a + share * (b - a) for a, b in zip(edge.start, edge.end, strict=True))
            assert height_of(plane, x, y) == pytest.approx(z, abs=1e-7)
            assert height_of(other, x, y) == pytest.approx(z, abs=1e-7)


def test_two_sheds_back_to_back_share_a_ridge(joined) -> None:
    kinds = ["eave", "rake", "rake", "rake"]
    job = wings((rect(0, 0, 240, 120), kinds, {}))
    job, _ = edits.add_wing(job, rect(0, 120, 240, 240), ["rake", "rake", "eave", "rake"], heel=HEEL, slope_in_12=8.0)
    front, back = joined(job).roof.planes
    ridge = next(edge for edge in front.edges if edge.kind == "ridge")
    assert ridge.neighbour == back.id
    assert ridge.length_in == pytest.approx(240.0)


def test_one_roof_drawn_as_two_wings_in_line(joined) -> None:
    over = {"eave_overhang_in": 12.0, "rake_overhang_in": 12.0}
    job = wings((rect(0, 0, 300, 240), ALONG, {}), (rect(250, 0, 480, 240), ALONG, {}), **over)
    built = joined(job)
    one = build_roof(wings((rect(0, 0, 480, 240), ALONG, {}), **over).wings, Units())
    assert sum(p.area_sqft for p in built.roof.planes) == pytest.approx(sum(p.area_sqft for p in one.roof.planes))
    seams = edges_of(built, "pitch_break")  # flat ones: the planes go on as they are
    assert {round(edge.start[0], 6) for _, edge in seams} == {300.0}


def test_a_flush_l_of_two_hip_wings_is_the_l_drawn_as_one(joined) -> None:
    """The same planes as over the one outline; the flush plane is parted straight up the slope at the building line."""
    hips = ["eave"] * 4
    job = wings(
        (rect(0, 0, 480, 240), hips, {}),
        (rect(300, -200, 480, 120), ["eave", "eave", "rake", "eave"], {}),
        eave_overhang_in=16.0,
    )
    built = joined(job)
    corners = [(0, 0), (300, 0), (300, -200), (480, -200), (480, 240), (0, 240)]
    one = build_roof(wings((corners, ["eave"] * 6, {}), eave_overhang_in=16.0).wings, Units())
    areas = sorted(plane.area_sqft for plane in one.roof.planes)
    right = [built.roof.plane("wing-1/e2"), built.roof.plane("wing-2/e2")]
    others = [plane.area_sqft for plane in built.roof.planes if plane not in right]
    assert sorted([*others, sum(plane.area_sqft for plane in right)]) == pytest.approx(areas)
    seam = next(edge for edge in right[0].edges if edge.kind == "pitch_break")
    assert seam.start[1] == seam.end[1] == 0.0
    assert seam.neighbour == "wing-2/e2"


def test_a_wing_drawn_twice_stands_once(joined) -> None:
    job = wings((rect(0, 0, 300, 240), ALONG, {}), (rect(0, 0, 300, 240), ALONG, {}), eave_overhang_in=12.0)
    built = joined(job)
    assert {plane.wing for plane in built.roof.planes} == {"wing-1"}
    covered = [finding for finding in built.findings if finding.code == "wing-covered"]
    assert [finding.object for finding in covered] == ["wing-2"]


def test_far_wings_are_not_touched_and_neighbours_alone_are_joined_again() -> None:
    job = wings(
        (rect(0, 0, 480, 240), ALONG, {}),
        (rect(150, -120, 300, 120), ACROSS, {}),
        (rect(2000, 0, 2480, 240), ALONG, {}),
        (rect(2150, -120, 2300, 120), ACROSS, {}),
        (rect(5000, 0, 5480, 240), ALONG, {}),
    )
    first = build_roof(job.wings, Units())
    assert first.wings[4] is build_wing(job.wings[4], Units())
    second = build_roof(edits.set_wing(job, "wing-2", slope_in_12=9.0).wings, Units())
    assert second.wings[0] is not first.wings[0]
    assert all(second.wings[k] is first.wings[k] for k in (2, 3, 4))


def test_a_courtyard_of_four_wings_closes(joined) -> None:
    job = wings(
        (rect(0, 0, 600, 150), ALONG, {}),
        (rect(0, 450, 600, 600), ALONG, {}),
        (rect(0, 75, 150, 525), ACROSS, {}),
        (rect(450, 75, 600, 525), ACROSS, {}),
        eave_overhang_in=12.0,
        rake_overhang_in=12.0,
    )
    built = joined(job)
    covered = box(-12, -12, 612, 612).difference(box(162, 162, 438, 438))
    plan = sum(plane.area_sqft * 144.0 / plane.stretch for plane in built.roof.planes)
    assert plan == pytest.approx(covered.area)
