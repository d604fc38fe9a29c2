"""Hips, valleys and jacks put back into space: they lie in the planes, under them and against each other.

Everything is checked by substitution: points of the cut boards, laid out by their placements, against the planes
z = a·x + b·y + c and against the faces of the boards they meet. Source: geometry; shapely for areas in plan.
"""

from __future__ import annotations

import math
from collections.abc import Iterator

import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st
from shapely import STRtree
from shapely.geometry import Polygon, box
from shapely.ops import unary_union

from workbench.framing.model import Framing, Member, Placement
from workbench.framing.solve import frame_roof
from workbench.framing.space import Slope, slope_of
from workbench.job import edits
from workbench.job.model import Hips, Job, Rafter
from workbench.measure import Units
from workbench.roof.build import BuiltRoof, build_roof
from workbench.roof.model import Point2, Point3

Outline = list[tuple[float, float]]
NEAR = 1e-5


def built(job: Job) -> tuple[BuiltRoof, Framing]:
    roof = build_roof(job.wings, Units())
    return roof, frame_roof(roof.wings, Units())[0]


def turned(outline: Outline, turn: float) -> Outline:
    return [(x * math.cos(turn) - y * math.sin(turn), x * math.sin(turn) + y * math.cos(turn)) for x, y in outline]


def standing(member: Member, placement: Placement) -> list[Point3]:
    """Corners of the top edge in space, at the height of its centre line."""
    return [point for point, _ in corners_and_sides(member, placement)]


def corners_and_sides(member: Member, placement: Placement) -> list[tuple[Point3, float]]:
    """The same, with how far each lies to the left of the centre line."""
    half = member.thickness_in / 2.0
    length = member.length_in
    ring = member.top or ((0.0, half), (0.0, -half), (length, -half), (length, half))
    if placement.hand == "right":
        ring = tuple((x, -w) for x, w in ring)
    start, end = placement.start, placement.end
    run = math.dist(start[:2], end[:2])
    u = ((end[0] - start[0]) / run, (end[1] - start[1]) / run)
    rise = (end[2] - start[2]) / run
    stretch = math.hypot(1.0, rise)
    # Where the centre line starts, along the top edge from the long point.
    first = on_centre(ring)
    points: list[tuple[Point3, float]] = []
    for x, w in ring:
        s = (x - first) / stretch
        points.append(((start[0] + s * u[0] - w * u[1], start[1] + s * u[1] + w * u[0], start[2] + s * rise), w))
    return points


def on_centre(ring: tuple[Point2, ...]) -> float:
    xs = []
    for (xa, wa), (xb, wb) in zip(ring, ring[1:] + ring[:1], strict=True):
        if wa == 0.0:
            xs.append(xa)
        elif wa * wb < 0.0:
            xs.append(xa + (xb - xa) * wa / (wa - wb))
    return min(xs)


def members(framing: Framing, *kinds: str) -> Iterator[tuple[Member, Placement]]:
    for member in framing.members:
        if member.kind in kinds:
            for placement in member.placements:
                yield member, placement


def planes(roof: BuiltRoof) -> dict[str, Slope]:
    return {plane.id: slope_of(plane) for plane in roof.roof.planes}


def footprint(member: Member, placement: Placement) -> Polygon:
    return Polygon([(x, y) for x, y, _ in standing(member, placement)])


def check_roof(roof: BuiltRoof, framing: Framing) -> None:
    """Everything that holds of any roof of hips and valleys."""
    slopes = planes(roof)
    rafters = list(members(framing, "common_rafter", "hip_jack", "valley_jack", "cripple_jack"))
    ridges = list(members(framing, "ridge_board"))
    hips = list(members(framing, "hip_rafter", "valley_rafter"))
    for member, placement in rafters:
        slope = slopes[placement.plane]
        for point in standing(member, placement):
            assert slope.height(point) == pytest.approx(point[2], abs=NEAR)
    for member, placement in hips:
        check_top_edge(roof, member, placement)
    shapes = [footprint(*both) for both in (*rafters, *ridges, *hips)]
    assert all(shape.is_valid for shape in shapes)
    # Nothing stands in anything. By pairs: a union of boards that lie face to face within float noise may lose one.
    pairs = STRtree(shapes).query(shapes, predicate="intersects").T if shapes else ()
    overlap = sum(shapes[i].intersection(shapes[k]).area for i, k in pairs if i < k)
    assert overlap == pytest.approx(0.0, abs=0.02 * len(shapes))


def check_top_edge(roof: BuiltRoof, member: Member, placement: Placement) -> None:
    """A backed hip's bevels lie in its planes; a dropped one's square top touches one and stands over none.

    A valley's square top lies under the planes that fall to it, a long one's too where it crosses one plane alone.
    """
    around = under_roof(roof, member, placement)
    assert len(around) == 2
    gaps = []
    for point, w in corners_and_sides(member, placement):
        heights = [slope.height(point) for slope in around]
        if member.backing_deg:
            angles = member.backing_deg if placement.hand != "right" else member.backing_deg[::-1]
            angle = math.radians(angles[0] if w > 0.0 else angles[1])
            planed = point[2] - abs(w) * math.tan(angle) / math.cos(math.radians(member.angle_deg))
            assert planed == pytest.approx(heights[0] if w >= 0.0 else heights[1], abs=NEAR)
        roof_over = min(heights) if member.kind == "hip_rafter" else max(heights)
        gaps.append(roof_over - point[2])
    if not member.backing_deg:
        assert min(gaps) >= -NEAR
    if member.kind == "hip_rafter" and not member.backing_deg:
        assert min(gaps) == pytest.approx(0.0, abs=NEAR)


def under_roof(roof: BuiltRoof, member: Member, placement: Placement) -> list[Slope]:
    """The planes whose line of meeting a hip or valley lies along."""
    left = next(plane for plane in roof.roof.planes if plane.id == placement.plane)
    x, y = ((a + b) / 2.0 for a, b in zip(placement.start[:2], placement.end[:2], strict=True))
    best = (math.inf, left)
    for plane in roof.roof.planes:
        for edge in left.edges:
            if edge.neighbour == plane.id and edge.kind in ("hip", "valley"):
                a, b = edge.start, edge.end
                length = math.dist(a[:2], b[:2])
                across = abs((b[0] - a[0]) * (y - a[1]) - (b[1] - a[1]) * (x - a[0])) / length
                along = ((b[0] - a[0]) * (x - a[0]) + (b[1] - a[1]) * (y - a[1])) / length
                # A long valley's middle may lie past the edge; still the nearest edge in line is its own.
                if across < NEAR:
                    best = min(best, (max(-along, along - length, 0.0), plane), key=lambda item: item[0])
    return [slope_of(left), slope_of(best[1])] if best[1] is not left else []


slopes_in_12 = st.floats(3.0, 16.0)
spacings = st.sampled_from([12.0, 16.0, 19.2, 24.0])
tops = st.sampled_from(["dropped", "backed"])


@settings(max_examples=14, deadline=None)
@given(
    width=st.floats(150.0, 600.0),
    longer=st.one_of(st.floats(0.0, 400.0), st.floats(0.0, 6.0), st.sampled_from([0.0, 0.001, 0.5, 1.5])),
    slope=slopes_in_12,
    overhang=st.floats(0.0, 30.0),
    spacing=spacings,
    top=tops,
    head=st.sampled_from(["commons", "ridge"]),
    turn=st.floats(0.0, 6.28),
)
def test_rectangles(width, longer, slope, overhang, spacing, top, head, turn) -> None:
    """Square, nearly square or long: every hip is cut, nothing is left out, nothing stands in anything else."""
    depth = width + longer
    outline = turned([(0.0, 0.0), (width, 0.0), (width, depth), (0.0, depth)], turn)
    job, _ = edits.add_wing(
        Job(),
        outline,
        ["eave"] * 4,
        slope_in_12=slope,
        eave_overhang_in=overhang,
        rafter=Rafter(spacing_in=spacing),
        hips=Hips(top=top, head=head),
    )
    roof, framing = built(job)
    check_roof(roof, framing)
    assert "member-left-out" not in {told.code for told in frame_roof(roof.wings, Units())[1]}
    assert sum(m.count for m in framing.members if m.kind == "hip_rafter") == 4


@settings(max_examples=10, deadline=None)
@given(a=slopes_in_12, b=slopes_in_12, c=slopes_in_12, d=slopes_in_12, top=tops, level=st.booleans())
def test_four_slopes(a, b, c, d, top, level) -> None:
    job, wing = edits.add_wing(
        Job(),
        [(0.0, 0.0), (520.0, 0.0), (520.0, 300.0), (0.0, 300.0)],
        ["eave"] * 4,
        eave_overhang_in=14.0,
        hips=Hips(top=top),
        fascia="level" if level else "equal_overhang",
    )
    for edge, slope in zip(("e1", "e2", "e3", "e4"), (a, b, c, d), strict=True):
        job = edits.set_edge(job, wing, edge, slope_in_12=slope)
    roof, framing = built(job)
    ridges = [e.length_in for plane in roof.roof.planes for e in plane.edges if e.kind in ("ridge", "hip")]
    assume(min(ridges) > 12.0)
    check_jacks_and_hips(roof, framing)


def check_jacks_and_hips(roof: BuiltRoof, framing: Framing) -> None:
    """Jacks lie in their planes and end on the faces of their hips; hips lie in both planes or clear them."""
    slopes = planes(roof)
    hips = list(members(framing, "hip_rafter"))
    faces = [face for member, placement in hips for face in side_faces(member, placement)]
    for member, placement in members(framing, "hip_jack"):
        corners = standing(member, placement)
        assert all(slopes[placement.plane].height(p) == pytest.approx(p[2], abs=NEAR) for p in corners)
        high = sorted(corners, key=lambda p: p[2])[-2:]
        if len(corners) == 4:  # one cheek: both its corners lie on one face of one hip
            assert any(all(abs(off(face, p)) < NEAR for p in high) for face in faces)
    for member, placement in hips:
        around = under_roof(roof, member, placement)
        for point in (placement.start, placement.end):
            drops = [slope.height(point) - point[2] for slope in around]
            assert drops == pytest.approx([member.drop_in] * len(drops), abs=NEAR)
        check_top_edge(roof, member, placement)


def side_faces(member: Member, placement: Placement) -> list[tuple[Point2, Point2]]:
    (x0, y0, _), (x1, y1, _) = placement.start, placement.end
    run = math.hypot(x1 - x0, y1 - y0)
    n = (-(y1 - y0) / run, (x1 - x0) / run)
    h = member.thickness_in / 2.0
    return [((x0 + n[0] * w, y0 + n[1] * w), n) for w in (h, -h)]


def off(face: tuple[Point2, Point2], point: Point3) -> float:
    (x, y), n = face
    return (point[0] - x) * n[0] + (point[1] - y) * n[1]


@settings(max_examples=10, deadline=None)
@given(corner=st.floats(60.0, 120.0), slope=slopes_in_12, other=slopes_in_12, top=tops)
def test_corners_that_are_not_square(corner, slope, other, top) -> None:
    lean = 300.0 / math.tan(math.radians(corner))
    outline = [(0.0, 0.0), (620.0, 0.0), (620.0 + lean, 300.0), (lean, 300.0)]
    job, wing = edits.add_wing(
        Job(), outline, ["eave"] * 4, slope_in_12=slope, eave_overhang_in=12.0, hips=Hips(top=top)
    )
    for edge in ("e2", "e4"):
        job = edits.set_edge(job, wing, edge, slope_in_12=other)
    roof, framing = built(job)
    ridges = [e.length_in for plane in roof.roof.planes for e in plane.edges if e.kind in ("ridge", "hip")]
    assume(min(ridges) > 12.0)
    check_jacks_and_hips(roof, framing)


@settings(max_examples=8, deadline=None)
@given(
    main=st.floats(180.0, 400.0),
    other=st.floats(180.0, 400.0),
    slope=slopes_in_12,
    overhang=st.floats(0.0, 24.0),
    spacing=spacings,
)
def test_ells(main, other, slope, overhang, spacing) -> None:
    assume(abs(main - other) > 12.0 or main == other)
    outline = [(0.0, 0.0), (700.0, 0.0), (700.0, main), (other, main), (other, 700.0), (0.0, 700.0)]
    job, _ = edits.add_wing(
        Job(),
        outline,
        ["eave"] * 6,
        slope_in_12=slope,
        eave_overhang_in=overhang,
        rafter=Rafter(spacing_in=spacing),
    )
    roof, framing = built(job)
    check_roof(roof, framing)
    assert sum(m.count for m in framing.members if m.kind == "valley_rafter") == 1


@settings(max_examples=8, deadline=None)
@given(main=st.floats(220.0, 420.0), across=st.floats(96.0, 200.0), slope=slopes_in_12, spacing=spacings)
def test_tees_with_a_long_valley(main, across, slope, spacing) -> None:
    outline = [
        (0.0, 0.0),
        (900.0, 0.0),
        (900.0, main),
        (400.0 + across, main),
        (400.0 + across, main + 200.0),
        (400.0, main + 200.0),
        (400.0, main),
        (0.0, main),
    ]
    kinds = ["eave"] * 4 + ["rake"] + ["eave"] * 3
    job, _ = edits.add_wing(Job(), outline, kinds, slope_in_12=slope, rafter=Rafter(spacing_in=spacing))
    roof, framing = built(job)
    check_roof(roof, framing)
    assert sum(m.count for m in framing.members if m.kind == "valley_rafter") == 2


@settings(max_examples=8, deadline=None)
@given(slope=slopes_in_12, other=slopes_in_12, half=st.floats(72.0, 95.0))
def test_jacks_of_an_overframed_roof_stand_on_its_sleepers(slope, other, half) -> None:
    """Each lower corner of the top edge, and the cut below it, lies on the roof below plus sheathing and sleeper."""
    job, _ = edits.add_wing(
        Job(), [(0.0, 0.0), (600.0, 0.0), (600.0, 400.0), (0.0, 400.0)], ["eave", "rake"] * 2, slope_in_12=slope
    )
    reach = half * other / slope
    assume(reach < 190.0)
    low, high = 400.0 - reach - 20.0, 520.0
    outline = [(300.0 - half, low), (300.0 + half, low), (300.0 + half, high), (300.0 - half, high)]
    rafter = Rafter(spacing_in=12.0)
    job, _ = edits.add_wing(job, outline, ["rake", "eave"] * 2, slope_in_12=other, joins="overframed", rafter=rafter)
    roof, framing = built(job)
    below = planes(roof)["wing-1/e3"]
    rise = (7.0 / 16.0 + 1.5) * math.sqrt(1.0 + below.a**2 + below.b**2)
    jacks = list(members(framing, "valley_jack"))
    assert jacks or reach < 24.0
    for member, placement in jacks:
        start, end = placement.start, placement.end
        run = math.dist(start[:2], end[:2])
        u = ((end[0] - start[0]) / run, (end[1] - start[1]) / run)
        corners = standing(member, placement)
        for point in sorted(corners, key=lambda p: p[0] * u[0] + p[1] * u[1])[:2]:
            assert point[2] == pytest.approx(below.height(point) + rise, abs=NEAR)
        # The saw cut itself: the mitre of the plane below on the board's face.
        climb = below.a * u[0] + below.b * u[1]
        m = math.tan(math.radians(member.angle_deg))
        mitre = math.tan(math.radians(member.cuts[0].angle_deg))
        assert mitre == pytest.approx((1.0 + m * climb) / abs(m - climb), rel=1e-6)


def rectangles_joined(boxes: list[tuple[float, float, float, float]]) -> Outline | None:
    """The outline of overlapping rectangles (left, bottom, width, depth), or None where they make no single one."""
    whole = unary_union([box(x, y, x + w, y + d) for x, y, w, d in boxes])
    if not isinstance(whole, Polygon) or whole.interiors:
        return None
    ring = list(whole.simplify(0.01).exterior.coords)[:-1]
    return ring if whole.exterior.is_ccw else ring[::-1]


def on_a_grid(low: int, high: int) -> st.SearchStrategy[float]:
    return st.integers(low, high).map(lambda k: 20.0 * k)


@settings(max_examples=10, deadline=None)
@given(
    additions=st.lists(
        st.tuples(on_a_grid(0, 25), on_a_grid(-10, 12), on_a_grid(5, 16), on_a_grid(7, 21)), min_size=1, max_size=3
    ),
    slope=slopes_in_12,
    head=st.sampled_from(["commons", "ridge"]),
    tail=st.sampled_from(["plumb", "square", "level"]),
)
def test_houses_of_any_number_of_parts(additions, slope, head, tail) -> None:
    """Whatever rectangles make up the house: rafters lie in their planes, nothing stands in anything else."""
    outline = rectangles_joined([(0.0, 0.0, 600.0, 300.0), *additions])
    assume(outline is not None)
    job, _ = edits.add_wing(
        Job(),
        outline,
        ["eave"] * len(outline),
        slope_in_12=slope,
        eave_overhang_in=12.0,
        rafter=Rafter(tail=tail),
        hips=Hips(head=head),
    )
    check_roof(*built(job))


def test_a_square_house_has_no_ridge_and_its_hips_meet_over_two_pairs_of_commons() -> None:
    job, _ = edits.add_wing(
        Job(), [(0.0, 0.0), (336.0, 0.0), (336.0, 336.0), (0.0, 336.0)], ["eave"] * 4, eave_overhang_in=16.0
    )
    roof, framing = built(job)
    check_roof(roof, framing)
    assert not list(members(framing, "ridge_board"))
    commons = sorted(m.length_in for m in framing.members if m.kind == "common_rafter")
    stretch = math.hypot(1.0, 7.0 / 12.0)
    # Two opposite commons meet, the other two stand against their faces (common practice, no source).
    assert commons == pytest.approx([(184.0 - 0.75) * stretch, 184.0 * stretch])


def test_square_tails_make_a_compound_cut_at_the_hips_foot() -> None:
    """12 in 12, square corner: the rafters' square cut has normal (1/2, 1/2, √2/2) along, across and up from the hip.

    In the hip's own axes, at 35.264°, that is a mitre of atan(0.2887 / 0.8165) = 19.471° and a bevel of asin 1/2 = 30°.
    """
    job, _ = edits.add_wing(
        Job(),
        [(0.0, 0.0), (480.0, 0.0), (480.0, 240.0), (0.0, 240.0)],
        ["eave"] * 4,
        slope_in_12=12.0,
        eave_overhang_in=12.0,
        rafter=Rafter(tail="square"),
    )
    _, framing = built(job)
    (hip,) = [m for m in framing.members if m.kind == "hip_rafter"]
    tail = hip.cuts[0]
    assert tail.angle_deg == pytest.approx(19.4712, abs=5e-5)
    assert (tail.bevel_deg, tail.other_bevel_deg) == pytest.approx((30.0, 30.0))
    assert tail.long == "middle"


def test_jacks_meet_in_pairs_over_a_regular_hip_and_valley() -> None:
    outline = [(0.0, 0.0), (483.0, 0.0), (483.0, 240.0), (240.0, 240.0), (240.0, 483.0), (0.0, 483.0)]
    job, _ = edits.add_wing(Job(), outline, ["eave"] * 6, slope_in_12=8.0)
    _, framing = built(job)
    for member in framing.members:
        if member.kind in ("hip_jack", "valley_jack"):
            assert member.left == member.right
            assert member.left + member.right == member.count


def test_hips_over_plates_of_two_heights_are_told_and_left_out() -> None:
    job, wing = edits.add_wing(
        Job(), [(0.0, 0.0), (480.0, 0.0), (480.0, 336.0), (0.0, 336.0)], ["eave"] * 4, eave_overhang_in=16.0
    )
    job = edits.set_edge(job, wing, "e2", plate_in=120.0)
    roof = build_roof(job.wings, Units())
    framing, findings = frame_roof(roof.wings, Units())
    assert sum(m.count for m in framing.members if m.kind == "hip_rafter") == 2
    texts = [f.text for f in findings if f.code == "member-left-out"]
    assert len(texts) == 2
    assert all("different heights" in text for text in texts)


def test_every_rafter_line_with_a_rafter_carries_sheets() -> None:
    job, _ = edits.add_wing(Job(), [(0.0, 0.0), (480.0, 0.0), (480.0, 336.0), (0.0, 336.0)], ["eave"] * 4)
    roof, framing = built(job)
    for plane in roof.roof.planes:
        xs = framing.supports_of(plane.id)
        stands = sorted(
            plane.to_plane(p.start)[0]
            for m in framing.members
            if m.kind in ("common_rafter", "hip_jack")
            for p in m.placements
            if p.plane == plane.id
        )
        assert list(xs) == pytest.approx(stands)
        assert max(b - a for a, b in zip(xs, xs[1:], strict=False)) <= 24.0 + 1.5
