"""What must hold for every roof over an outline, on drawn-at-random outlines with a fixed seed.

References outside the program: shapely (areas, overlaps), scipy's convex hulls and half-space intersections (volumes),
and two exact height fields: over a rectilinear outline with equal slopes the roof's height is the slope times the
greatest-axis distance to the outline; over a convex outline it is the lowest of the planes (lower envelope).
"""

from __future__ import annotations

import math
import random

import numpy as np
import pytest
import shapely
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.spatial import ConvexHull, HalfspaceIntersection
from shapely.geometry import Polygon

from workbench.errors import NoSolution
from workbench.roof.model import Point2
from workbench.roof.wavefront import Face, FrontEdge, Raised, raise_roof

Outline = list[Point2]
SLOPES_IN_12 = (4, 5, 6, 8, 9, 12)
SPACINGS = (96.0, 120.0, 144.0, 192.0)  # multiples that make simultaneous events likely
DRAWN = FrontEdge(12 / 7)


# ---- outlines --------------------------------------------------------------------------------------------------------


def turn(outline: Outline, k: int) -> float:
    (ax, ay), (bx, by), (cx, cy) = outline[k - 1], outline[k], outline[(k + 1) % len(outline)]
    return (bx - ax) * (cy - by) - (by - ay) * (cx - bx)


def rectilinear(rng: random.Random, most: int = 40) -> Outline:
    """A union of cells of a random grid, without holes or touching corners."""
    while True:
        across, up = rng.randint(3, 9), rng.randint(2, 8)
        cells = {(rng.randrange(across), rng.randrange(up))}
        branching = rng.random() < 0.5  # new cells touch one other: many corners
        for _ in range(rng.randint(2, (8 if branching else 2) * across * up)):
            x, y = rng.choice(sorted(cells))
            dx, dy = rng.choice([(1, 0), (-1, 0), (0, 1), (0, -1)])
            x, y = x + dx, y + dy
            touched = sum((x + a, y + b) in cells for a, b in [(1, 0), (-1, 0), (0, 1), (0, -1)])
            at_a_corner = any(
                (x + a, y + b) in cells and (x + a, y) not in cells and (x, y + b) not in cells
                for a, b in [(1, 1), (1, -1), (-1, 1), (-1, -1)]
            )
            if 0 <= x < across and 0 <= y < up and not at_a_corner and not (branching and touched > 1):
                cells.add((x, y))
        xs = np.cumsum([0.0] + [rng.choice(SPACINGS) for _ in range(across)])
        ys = np.cumsum([0.0] + [rng.choice(SPACINGS) for _ in range(up)])
        shape = shapely.union_all([shapely.box(xs[x], ys[y], xs[x + 1], ys[y + 1]) for x, y in cells])
        if shape.geom_type == "Polygon" and not shape.interiors:
            ring = [(float(x), float(y)) for x, y in shapely.orient_polygons(shape).exterior.coords[:-1]]
            ring = [corner for k, corner in enumerate(ring) if abs(turn(ring, k)) > 1e-6]
            if len(set(ring)) == len(ring) <= most:
                return ring


def jittered(outline: Outline, rng: random.Random, by: float) -> Outline:
    return [(x + rng.uniform(-by, by), y + rng.uniform(-by, by)) for x, y in outline]


def with_corners_cut(outline: Outline, rng: random.Random, by: float = 24.0) -> Outline:
    cut: Outline = []
    for k, here in enumerate(outline):
        if rng.random() < 0.5:
            cut.append(here)
            continue
        for there in (outline[k - 1], outline[(k + 1) % len(outline)]):
            share = by / math.dist(here, there)
            cut.append((here[0] + share * (there[0] - here[0]), here[1] + share * (there[1] - here[1])))
    return cut


def with_split_edges(outline: Outline, rng: random.Random) -> Outline:
    split: Outline = []
    for a, b in zip(outline, outline[1:] + outline[:1], strict=True):
        split.append(a)
        if rng.random() < 0.4:
            share = rng.choice([0.25, 0.5, 0.3])
            split.append((a[0] + share * (b[0] - a[0]), a[1] + share * (b[1] - a[1])))
    return split


def turned(outline: Outline, rng: random.Random) -> Outline:
    angle = rng.uniform(0.0, math.tau)
    c, s = math.cos(angle), math.sin(angle)
    return [(c * x - s * y + 500.0, s * x + c * y - 900.0) for x, y in outline]


def convex(rng: random.Random) -> Outline:
    points = np.array([(rng.uniform(0, 600), rng.uniform(0, 400)) for _ in range(rng.randint(4, 14))])
    return [(float(x), float(y)) for x, y in points[ConvexHull(points).vertices]]


def edges_for(outline: Outline, rng: random.Random, mix: str) -> list[FrontEdge]:
    """Edges with, by the mix's letters: unequal slopes (s), raised starts (z), gables between outside corners (g)."""
    n = len(outline)
    cots = [12 / rng.choice(SLOPES_IN_12) if "s" in mix else 12 / 7 for _ in range(n)]
    starts = [rng.choice([0.0, 0.0, 24.0]) if "z" in mix else 0.0 for _ in range(n)]
    for k in range(n if "g" in mix else 0):
        free = cots[k - 1] > 0 and cots[(k + 1) % n] > 0
        if free and turn(outline, k) > 0 and turn(outline, (k + 1) % n) > 0 and rng.random() < 0.5:
            cots[k] = 0.0
    return [FrontEdge(cot, start) for cot, start in zip(cots, starts, strict=True)]


# ---- what must hold --------------------------------------------------------------------------------------------------


def area_vector(corners: tuple[tuple[float, float, float], ...]) -> np.ndarray:
    ring = np.array(corners) - corners[0]
    return np.cross(ring, np.roll(ring, -1, axis=0)).sum(axis=0) / 2.0


def assert_sound(outline: Outline, edges: list[FrontEdge], roof: Raised) -> None:
    shape = Polygon(outline)
    plans = [Polygon([corner[:2] for corner in face.corners]) for face in roof.roof_faces]
    assert all(plan.is_valid for plan in plans)
    assert sum(plan.area for plan in plans) == pytest.approx(shape.area, rel=1e-6)
    covered = shapely.union_all(plans, grid_size=1e-7)
    assert covered.symmetric_difference(shape).area <= 1e-6 * shape.area
    total = np.zeros(3)
    for face in roof.faces:
        vector = area_vector(face.corners)
        total += vector
        assert_ring(face, roof)
        if face.kind == "roof":
            assert_on_its_plane(face, outline, edges)
            cot = edges[face.edge].cot
            assert face.plan_area > 0
            assert np.linalg.norm(vector) == pytest.approx(face.plan_area * math.hypot(1, 1 / cot), rel=1e-6, abs=1e-3)
        else:
            assert abs(vector[2]) <= 1e-7 * shape.area
            assert face.added_wall == (face.edge >= len(outline))
    # Walls, roof and the floor close: their outward area vectors cancel.
    assert np.allclose(total, (0, 0, shape.area), atol=1e-6 * shape.area)


def assert_ring(face: Face, roof: Raised) -> None:
    number = roof.faces.index(face)
    assert len(face.sides) >= 3
    for side, following in zip(face.sides, face.sides[1:] + face.sides[:1], strict=True):
        assert side.end == following.start
        assert side.start != side.end
        if (side.face, side.outline) == (following.face, following.outline):
            bent = math.dist(side.start, side.end) + math.dist(following.start, following.end)
            assert bent > math.dist(side.start, following.end) + 1e-6 or side.face is None
        if side.face is None:
            assert side.outline in face.edges
            assert side.neighbour is None
            assert side.wall is None
            continue
        other = roof.faces[side.face]
        assert other.edge == (side.wall if other.kind == "wall" else side.neighbour)
        assert (side.wall is None) == (other.kind == "roof")
        assert (side.neighbour is None) == (other.kind == "wall")
        back = [s for s in other.sides if (s.start, s.end) == (side.end, side.start)]
        assert [(s.face, s.outline) for s in back] == [(number, side.outline)]


def assert_on_its_plane(face: Face, outline: Outline, edges: list[FrontEdge]) -> None:
    # Places nearer than 1e-8 of the outline's extent count as one; a corner is off its planes by no more than a few.
    left, low, right, high = Polygon(outline).bounds
    tolerance = 5e-8 * max(right - left, high - low)
    for number in face.edges:
        edge, (ax, ay), (bx, by) = edges[number], outline[number], outline[(number + 1) % len(outline)]
        length = math.dist((ax, ay), (bx, by))
        for x, y, z in face.corners:
            run = ((bx - ax) * (y - ay) - (by - ay) * (x - ax)) / length
            assert abs(run - edge.cot * (z - edge.start_in)) < tolerance


def volume_under(roof: Raised) -> float:
    """Volume between the roof faces and z = 0, as prisms under triangles."""
    volume = 0.0
    for face in roof.roof_faces:
        (x0, y0, z0), *rest = face.corners
        for (ax, ay, az), (bx, by, bz) in zip(rest, rest[1:], strict=False):
            volume += ((ax - x0) * (by - y0) - (bx - x0) * (ay - y0)) / 2.0 * (z0 + az + bz) / 3.0
    return volume


def height_at(roof: Raised, x: float, y: float) -> float:
    """Height of the roof over a plan point, by the one face that lies there."""
    for face in roof.roof_faces:
        if shapely.intersects_xy(Polygon([corner[:2] for corner in face.corners]).buffer(1e-9), x, y):
            nx, ny, nz = area_vector(face.corners)
            x0, y0, z0 = face.corners[0]
            return z0 - (nx * (x - x0) + ny * (y - y0)) / nz
    raise AssertionError("no face there")


def axis_distance(outline: Outline, x: float, y: float) -> float:
    """Greatest-axis (L-infinity) distance to a rectilinear outline."""
    nearest = math.inf
    for (ax, ay), (bx, by) in zip(outline, outline[1:] + outline[:1], strict=True):
        across = max(min(ax, bx) - x, x - max(ax, bx), 0.0)
        up = max(min(ay, by) - y, y - max(ay, by), 0.0)
        nearest = min(nearest, max(across, up))
    return nearest


MIXES = ("", "s", "g", "z", "sg", "sz", "gz", "sgz")


@pytest.mark.parametrize("mix", MIXES)
@pytest.mark.parametrize("kind", ["rectilinear", "jittered", "cut", "split", "turned"])
def test_faces_tile_the_outline(kind: str, mix: str) -> None:
    rng = random.Random(f"{kind} {mix}")
    for _ in range(8):
        outline = rectilinear(rng)
        if kind == "jittered":
            outline = jittered(outline, rng, 18.0)
        elif kind == "cut":
            outline = with_corners_cut(outline, rng)
        elif kind == "split":
            outline = with_split_edges(outline, rng)
        elif kind == "turned":
            outline = turned(outline, rng)
        edges = edges_for(outline, rng, mix)
        assert_sound(outline, edges, raise_roof(outline, edges))


def test_rakes_anywhere_give_a_sound_roof_or_a_sentence() -> None:
    rng = random.Random(11)
    raised, refusals = 0, list[str]()
    for _ in range(60):
        outline = rectilinear(rng)
        edges = [edge if rng.random() < 0.65 else FrontEdge(0.0) for edge in edges_for(outline, rng, "sz")]
        try:
            roof = raise_roof(outline, edges)
        except NoSolution as error:
            refusals.append(str(error))
        else:
            assert_sound(outline, edges, roof)
            raised += 1
    assert raised > 45
    assert all("rake" in text and text.endswith(".") for text in refusals)


def test_equal_slopes_follow_the_axis_distance_to_the_outline() -> None:
    rng = random.Random(5)
    for _ in range(25):
        outline = rectilinear(rng)
        roof = raise_roof(outline, [DRAWN] * len(outline))
        for face in roof.faces:
            for x, y, z in face.corners:
                assert z * DRAWN.cot == pytest.approx(axis_distance(outline, x, y), abs=1e-6)
            x, y = Polygon([corner[:2] for corner in face.corners]).representative_point().coords[0]
            assert height_at(roof, x, y) * DRAWN.cot == pytest.approx(axis_distance(outline, x, y), abs=1e-6)


def test_volume_matches_the_sampled_axis_distance() -> None:
    rng = random.Random(8)
    for _ in range(4):
        outline = rectilinear(rng, most=12)
        shape = Polygon(outline)
        roof = raise_roof(outline, [DRAWN] * len(outline))
        left, low, right, high = shape.bounds
        step = 6.0
        xs, ys = np.arange(left + step / 2, right, step), np.arange(low + step / 2, high, step)
        inside = [(x, y) for x in xs for y in ys if shapely.contains_xy(shape, x, y)]
        sampled = sum(axis_distance(outline, x, y) for x, y in inside) * step * step / DRAWN.cot
        assert volume_under(roof) == pytest.approx(sampled, rel=2e-3)


@pytest.mark.parametrize("seed", [24, 60, 116, 118, 196, 210, 223, 289])
def test_noise_of_the_size_of_a_snap_is_absorbed(seed: int) -> None:
    rng = random.Random(seed)
    by = rng.choice([0, 0, 1e-5, 1e-6, 1e-7, 3e-6])
    outline = jittered(rectilinear(rng), rng, by)
    edges = edges_for(outline, rng, rng.choice(MIXES))
    assert_sound(outline, edges, raise_roof(outline, edges))


def test_sliver_whose_next_event_is_too_near_to_show_in_the_height_is_closed() -> None:
    outline: Outline = [(311.99999154, 216.00000892), (311.99999954, 312.00000298), (815.999999, 311.99999477)]
    outline += [(815.99999355, 408.00000996), (576.0000068, 407.99999185), (575.99999942, 552.00000136)]
    outline += [(432.0000069, 551.99999113), (431.99999017, 407.99999947), (312.00000414, 407.99999784)]
    outline += [(311.99999612, 551.99999134), (120.00000822, 551.99999781), (119.99999374, 312.00000811)]
    outline += [(9.27e-06, 311.99999283), (-8.96e-06, 216.00000768)]
    edges = [DRAWN] * 12 + [FrontEdge(0.0), DRAWN]
    assert_sound(outline, edges, raise_roof(outline, edges))


def test_edge_overrun_by_a_very_fast_corner_counts_as_used_up() -> None:
    outline: Outline = [(3.055579811843161e-07, 95.9999976351051), (288.0000010028975, 96.0000021121746)]
    outline += [(288.0000029942103, 432.0000002758443), (96.00000170849593, 432.00000074086194)]
    outline += [(95.99999762014895, 240.00000100264208), (1.9779214028224314e-06, 240.00000037380354)]
    starts = [(1.0, 100.0), (0.05, 24.0), (1.0, 100.0), (48.0, 100.0), (48.0, 0.01), (0.05, 0.01)]
    edges = [FrontEdge(cot, start) for cot, start in starts]
    assert_sound(outline, edges, raise_roof(outline, edges))


def test_raised_eave_overtaken_just_as_it_would_start_leaves_no_face() -> None:
    outline: Outline = [(0, 0), (120, 0), (120, 200), (72, 200), (72, 50), (48, 50), (48, 200), (0, 200)]
    rake = FrontEdge(0.0)
    # The plane over edge 8 reaches the line of edge 4 at 24 in, where edge 4 starts with a steeper slope.
    edges = [rake, FrontEdge(4 / 3), rake, FrontEdge(1.5, 24.0), FrontEdge(1.5), FrontEdge(2.4), rake, FrontEdge(3.0)]
    roof = raise_roof(outline, edges)
    assert_sound(outline, edges, roof)
    assert [face.edge for face in roof.roof_faces] == [1, 4, 5, 7]
    assert [(choice.kept, choice.dropped) for choice in roof.takeovers] == [(7, 3)]


def test_convex_outline_bears_the_lower_envelope_of_its_planes() -> None:
    rng = random.Random(21)
    for _ in range(40):
        outline = convex(rng)
        edges = edges_for(outline, rng, "szg")
        roof = raise_roof(outline, edges)
        assert_sound(outline, edges, roof)
        halves: list[list[float]] = []  # rows a, b with a . p + b <= 0, as scipy wants them
        for k, edge in enumerate(edges):
            (ax, ay), (bx, by) = outline[k], outline[(k + 1) % len(outline)]
            length = math.dist((ax, ay), (bx, by))
            nx, ny = (ay - by) / length, (bx - ax) / length
            start = nx * ax + ny * ay
            halves.append([-nx, -ny, 0.0, start])
            if edge.cot > 0:
                halves.append([-nx, -ny, edge.cot, start - edge.cot * edge.start_in])
        lowest = min(edge.start_in for edge in edges if edge.cot > 0)
        halves.append([0.0, 0.0, -1.0, lowest])
        x, y = (float(v) for v in np.mean(outline, axis=0))
        top = height_at(roof, x, y)
        body = ConvexHull(HalfspaceIntersection(np.array(halves), np.array([x, y, (lowest + top) / 2])).intersections)
        floor = lowest * Polygon(outline).area
        assert volume_under(roof) - floor == pytest.approx(body.volume, rel=1e-6)


def test_hip_roof_volume_in_closed_form() -> None:
    # Hip roof of equal slopes on length l, width w, height h: h * w * (3 * l - w) / 6 (elementary geometry).
    roof = raise_roof([(0, 0), (480, 0), (480, 336), (0, 336)], [DRAWN] * 4)
    assert volume_under(roof) == pytest.approx(98 * 336 * (3 * 480 - 336) / 6)


@st.composite
def skylines(draw: st.DrawFn) -> Outline:
    """Bars side by side on one base line: outlines with many corners that shrink well."""
    bars = draw(st.lists(st.tuples(st.integers(1, 4), st.integers(1, 5)), min_size=1, max_size=8))
    outline: Outline = [(0.0, 0.0)]
    x = 12.0 * sum(width for width, _ in bars)
    outline.append((x, 0.0))
    for width, height in reversed(bars):
        outline += [(x, 12.0 * height), (x - 12.0 * width, 12.0 * height)]
        x -= 12.0 * width
    return [c for k, c in enumerate(outline) if c != outline[k - 1]]


@settings(max_examples=60, deadline=None)
@given(outline=skylines(), cots=st.lists(st.sampled_from([1.0, 2.0, 1.5, 12 / 7]), min_size=18, max_size=18))
def test_skylines_with_any_slopes_are_sound(outline: Outline, cots: list[float]) -> None:
    edges = [FrontEdge(cot) for cot, _ in zip(cots, outline, strict=False)]
    assert_sound(outline, edges, raise_roof(outline, edges))


@settings(max_examples=60, deadline=None)
@given(outline=skylines(), starts=st.lists(st.sampled_from([0.0, 0.0, 3.0, 12.0]), min_size=18, max_size=18))
def test_skylines_with_raised_starts_and_rakes_at_the_ends_are_sound(outline: Outline, starts: list[float]) -> None:
    edges = [FrontEdge(1.5, start) for start, _ in zip(starts, outline, strict=False)]
    edges[1] = edges[-1] = FrontEdge(0.0)
    assert_sound(outline, edges, raise_roof(outline, edges))


@settings(max_examples=60, deadline=None)
@given(
    st.integers(0, 10**6),
    st.sampled_from([1e-12, 1e-9, 1e-8, 1e-3, 1 / 64, 0.3]),
    st.sampled_from(["", "sg", "z"]),
)
def test_nearly_rectilinear_outlines_are_sound(seed: int, by: float, mix: str) -> None:
    rng = random.Random(seed)
    outline = jittered(rectilinear(rng, most=16), rng, by)
    edges = edges_for(outline, rng, mix)
    assert_sound(outline, edges, raise_roof(outline, edges))
