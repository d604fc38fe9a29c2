"""Whole roofs over random outlines of up to 60 corners: nothing open, true areas, the exact volume, never an exception.

Seconds in the suite; ``ROOF_OUTLINES=5000 pytest tests/roof/test_many_random_outlines.py`` runs thousands.

References outside the program: shapely (areas in plan, overlaps); the greatest-axis distance to a rectilinear outline,
which times the slope is the roof's height there when all slopes are equal; and the straight skeleton of
py_straight_skeleton (BSD-3), whose nodes lie under the roof's corners, at times equal to their heights over the slope.
"""

from __future__ import annotations

import math
import os
import random
from typing import Any

import numpy as np
import pytest
import shapely
from py_straight_skeleton import compute_skeleton
from shapely.geometry import Polygon

from workbench.job.model import Edge, Heel, Wing
from workbench.measure import Units
from workbench.roof.build import build_wing
from workbench.roof.model import Plane, Point2

COUNT = int(os.environ.get("ROOF_OUTLINES", "40"))
MOST = 60
MODULE = 24.0
SLOPES_IN_12 = (4.0, 5.0, 6.0, 7.0, 9.0, 12.0)
PLATE, HAP = 97.125, 6.0

Outline = tuple[Point2, ...]


def outline_of(rng: random.Random, kind: str) -> Outline:
    """Anticlockwise corners: ``square`` on a grid of 24 in, so that events fall together, or ``general``."""
    while True:
        across, up = rng.randint(2, 12), rng.randint(2, 10)
        cells = {(rng.randrange(across), rng.randrange(up))}
        for _ in range(rng.randint(2, 3 * across * up)):
            x, y = rng.choice(sorted(cells))
            dx, dy = rng.choice([(1, 0), (-1, 0), (0, 1), (0, -1)])
            if 0 <= x + dx < across and 0 <= y + dy < up:
                cells.add((x + dx, y + dy))
        xs = np.cumsum([0.0] + [MODULE * rng.randint(3, 9) for _ in range(across)])
        ys = np.cumsum([0.0] + [MODULE * rng.randint(3, 9) for _ in range(up)])
        shape = shapely.union_all([shapely.box(xs[x], ys[y], xs[x + 1], ys[y + 1]) for x, y in cells])
        if shape.geom_type != "Polygon" or shape.interiors:
            continue
        ring = plain([(float(x), float(y)) for x, y in shapely.orient_polygons(shape).exterior.coords[:-1]])
        if kind == "general":
            ring = generalised(ring, rng)
        if 3 <= len(ring) <= MOST and len(set(ring)) == len(ring) and Polygon(ring).is_valid:
            return tuple(ring)


def plain(ring: list[Point2]) -> list[Point2]:
    """Without corners in the middle of a straight side."""

    def turns(k: int) -> bool:
        (ax, ay), (bx, by), (cx, cy) = ring[k - 1], ring[k], ring[(k + 1) % len(ring)]
        return (bx - ax) * (cy - by) != (by - ay) * (cx - bx)

    return [corner for k, corner in enumerate(ring) if turns(k)]


def generalised(ring: list[Point2], rng: random.Random) -> list[Point2]:
    """Corners cut off at random and all of it moved about and turned: no two events fall together."""
    found: list[Point2] = []
    for k, here in enumerate(ring):
        if rng.random() < 0.4:
            for there in (ring[k - 1], ring[(k + 1) % len(ring)]):
                share = rng.uniform(0.1, 0.45)
                found.append((here[0] + share * (there[0] - here[0]), here[1] + share * (there[1] - here[1])))
        else:
            found.append(here)
    angle = rng.uniform(0.0, math.tau)
    c, s = math.cos(angle), math.sin(angle)
    moved = [(x + rng.uniform(-9.0, 9.0), y + rng.uniform(-9.0, 9.0)) for x, y in found]
    return [(c * x - s * y, s * x + c * y) for x, y in moved]


def wing_of(outline: Outline, slopes: list[float], plates: list[float] | None = None) -> Wing:
    edges = tuple(
        Edge(id=f"e{k}", kind="eave", slope_in_12=slope, plate_in=None if plates is None else plates[k])
        for k, slope in enumerate(slopes)
    )
    heel = Heel(given="hap", hap_in=HAP)
    return Wing(id="w", name="w", outline=outline, edges=edges, heel=heel, plate_in=PLATE, fascia="equal_overhang")


def planes_over(wing: Wing) -> tuple[Plane, ...]:
    built = build_wing(wing, Units())
    assert built.solved is not None, [finding.text for finding in built.findings]
    return built.planes


def check_tight(outline: Outline, planes: tuple[Plane, ...]) -> None:
    """The planes cover the outline once; each area is its plan area over the cosine; shared edges are shared."""
    shape = Polygon(outline)
    plans = [Polygon([corner[:2] for corner in plane.corners]) for plane in planes]
    assert all(plan.is_valid for plan in plans)
    assert sum(plan.area for plan in plans) == pytest.approx(shape.area, rel=1e-6)
    assert shapely.union_all(plans, grid_size=1e-7).symmetric_difference(shape).area <= 1e-6 * shape.area
    ends = {(edge.start, edge.end): edge for plane in planes for edge in plane.edges}
    for plane, plan in zip(planes, plans, strict=True):
        assert plane.area_sqft * 144.0 == pytest.approx(plan.area / math.cos(plane.angle), rel=1e-6)
        for edge in plane.edges:
            if edge.neighbour is not None:
                assert ends[edge.end, edge.start].neighbour == plane.id
            else:
                assert edge.kind in ("eave", "step")


def volume_under(planes: tuple[Plane, ...]) -> float:
    """Between the planes and the plates' level plane through the tops over the walls, as prisms under triangles."""
    volume = 0.0
    for plane in planes:
        (x0, y0, z0), *rest = plane.corners
        for (ax, ay, az), (bx, by, bz) in zip(rest, rest[1:], strict=False):
            area = ((ax - x0) * (by - y0) - (bx - x0) * (ay - y0)) / 2.0
            volume += area * ((z0 + az + bz) / 3.0 - PLATE - HAP)
    return volume


def axis_distances(outline: Outline, points: Any) -> Any:
    """Greatest-axis (L-infinity) distance of many points to a rectilinear outline."""
    ring = np.array(outline)
    low, high = np.minimum(ring, np.roll(ring, -1, axis=0)), np.maximum(ring, np.roll(ring, -1, axis=0))
    away = np.maximum(np.maximum(low[None] - points[:, None], points[:, None] - high[None]), 0.0).max(axis=2)
    return away.min(axis=1)


def exact_volume(outline: Outline, slope: float) -> float:
    """The integral of slope times axis distance: linear over each quarter of each cell of half the module."""
    half = MODULE / 2.0
    left, low, right, high = Polygon(outline).bounds
    xs, ys = np.arange(left + half / 2.0, right, half), np.arange(low + half / 2.0, high, half)
    middles = np.array(np.meshgrid(xs, ys)).reshape(2, -1).T
    inside = shapely.contains_xy(Polygon(outline), middles)
    quarters = [middles[inside] + np.array(shift) * half / 3.0 for shift in ((1, 0), (-1, 0), (0, 1), (0, -1))]
    return float(sum(axis_distances(outline, points).sum() for points in quarters)) * slope * half * half / 4.0


def heights_at(planes: tuple[Plane, ...], points: Any) -> Any:
    found = np.full(len(points), np.nan)
    for plane in planes:
        over = shapely.intersects_xy(Polygon([corner[:2] for corner in plane.corners]).buffer(1e-7), points)
        x, y, z = plane.origin
        rise = (points[over, 0] - x) * plane.uphill[0] + (points[over, 1] - y) * plane.uphill[1]
        found[over] = z + plane.tangent * rise
    return found


def is_exact(outline: Outline, x: float, y: float, time: float) -> bool:
    """Whether a node of the reference is as far as it says from the lines of three sides; flat corners can spoil it."""
    off: list[float] = []
    for (ax, ay), (bx, by) in zip(outline, outline[1:] + outline[:1], strict=True):
        away = ((bx - ax) * (y - ay) - (by - ay) * (x - ax)) / math.dist((ax, ay), (bx, by))
        off.append(abs(away - time))
    return time == 0.0 or sorted(off)[2] < 1e-5


@pytest.mark.parametrize("part", range(4))
def test_equal_slopes_over_square_corners_follow_the_axis_distance(part: int) -> None:
    for seed in range(part, COUNT, 4):
        rng = random.Random(seed)
        outline, slope = outline_of(rng, "square"), rng.choice(SLOPES_IN_12)
        planes = planes_over(wing_of(outline, [slope] * len(outline)))
        check_tight(outline, planes)
        assert volume_under(planes) == pytest.approx(exact_volume(outline, slope / 12.0), rel=1e-6), seed
        left, low, right, high = Polygon(outline).bounds
        points = np.array([(rng.uniform(left, right), rng.uniform(low, high)) for _ in range(200)])
        points = points[shapely.contains_xy(Polygon(outline), points)]
        wanted = PLATE + HAP + slope / 12.0 * axis_distances(outline, points)
        assert np.allclose(heights_at(planes, points), wanted, atol=1e-5), seed


@pytest.mark.parametrize("part", range(4))
def test_equal_slopes_over_any_corners_follow_the_straight_skeleton(part: int) -> None:
    compared = tried = 0
    for seed in range(part, COUNT, 4):
        rng = random.Random(10_000 + seed)
        outline, slope = outline_of(rng, "general"), rng.choice(SLOPES_IN_12) / 12.0
        planes = planes_over(wing_of(outline, [12.0 * slope] * len(outline)))
        check_tight(outline, planes)
        tried += 1
        try:
            nodes = compute_skeleton([list(corner) for corner in outline], []).nodes
        except Exception:  # the reference fails on a few outlines of its own accord; all its kinds of failure count
            continue
        compared += 1
        corners = np.array([corner for plane in planes for corner in plane.corners])
        spots = [(node.position.x, node.position.y, node.time) for node in nodes]
        exact = np.array([spot for spot in spots if is_exact(outline, *spot)])
        wanted = exact * (1.0, 1.0, slope) + (0.0, 0.0, PLATE + HAP)
        assert np.allclose(heights_at(planes, exact[:, :2]), wanted[:, 2], atol=1e-4), seed
        # Where planes all but touch along a line, the place of their corner on it is loose, its height is not.
        assert np.linalg.norm(corners[None] - wanted[:, None], axis=2).min(axis=1).max() < 0.1, seed
    assert compared >= 0.9 * tried


@pytest.mark.parametrize("kind", ["square", "general"])
@pytest.mark.parametrize("mix", ["slopes", "plates", "both"])
def test_unequal_slopes_and_plates_stay_tight(kind: str, mix: str) -> None:
    for seed in range(COUNT // 4):
        rng = random.Random(20_000 + seed)
        outline = outline_of(rng, kind)
        equal = rng.choice(SLOPES_IN_12)
        slopes = [equal if mix == "plates" else rng.choice(SLOPES_IN_12) for _ in outline]
        plates = [PLATE if mix == "slopes" else PLATE + rng.choice([0.0, 0.0, 12.0]) for _ in outline]
        planes = planes_over(wing_of(outline, slopes, plates))
        shape = Polygon(outline)
        plans = [Polygon([corner[:2] for corner in plane.corners]) for plane in planes]
        assert sum(plan.area for plan in plans) == pytest.approx(shape.area, rel=1e-6), seed
        assert shapely.union_all(plans, grid_size=1e-7).symmetric_difference(shape).area <= 1e-6 * shape.area, seed
        for plane, plan in zip(planes, plans, strict=True):
            assert plane.area_sqft * 144.0 == pytest.approx(plan.area / math.cos(plane.angle), rel=1e-6), seed
