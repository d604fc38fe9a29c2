"""The fewest anchors that serve a plane from its top edge, and where. Inches, plane axes."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
import numpy.typing as npt
import shapely
from shapely.geometry.base import BaseGeometry
from shapely.ops import unary_union

from workbench.roof.model import Plane, Point2
from workbench.safety.areas import disk, plane_shape
from workbench.safety.cover import fewest_sets
from workbench.safety.model import Fall, FewestAnchors
from workbench.safety.ropes import Allowances, Standpoint, least_total_in
from workbench.safety.surface import Surface

GRID_IN = 6.0
NEARLY = 0.95
"""Part of what can be served that counts as nearly all."""

_MOST_POINTS = 6_000
_MOST_CANDIDATES = 120
_TOP_KINDS = ("ridge", "wall", "hip", "step", "pitch_break")
_SAME_IN = 0.5
_EDGE_IN = 1e-6


@dataclass(frozen=True, slots=True)
class Candidate:
    """A point an anchor could stand on, with the rope it would permit and how far hands work from there."""

    at: Point2
    set_in: float
    radius_in: float


def fewest_anchors(
    surface: Surface,
    plane: Plane,
    xs: Sequence[float],
    falls: Sequence[Fall],
    allowances: Allowances,
    *,
    rakes: bool,
) -> FewestAnchors:
    """The fewest points of the top edge whose permitted ropes serve what they can.

    Exact among the candidates, to gaps of 6 in between the points to be served (more on a very large plane);
    the shares are of exact areas.

    Args:
        surface: The roof.
        plane: The plane to serve.
        xs: Where its rafters stand.
        falls: All falls of the roof.
        allowances: What is taken off, and how far a hand works.
        rakes: Whether ropes are set by the rakes too.
    """
    found = candidates(surface, plane, xs, falls, allowances, rakes=rakes)
    shape = plane_shape(plane)
    if not found or shape.area <= 0.0:
        return FewestAnchors(plane.id, (), (), 0.0, 0.0, proven=True, candidates=len(found))
    points = grid_points(shape)
    chosen, proven = fewest_sets(served_masks(found, points))
    picked = [found[i] for i in chosen]
    nearly = _nearly(found, points, len(chosen))
    return FewestAnchors(
        plane.id,
        tuple(candidate.at for candidate in picked),
        tuple(candidate.set_in for candidate in picked),
        _share(picked, shape),
        _share(found, shape),
        proven,
        len(found),
        tuple(sorted(candidate.at[0] for candidate in nearly)),
        _share(nearly, shape),
    )


def _nearly(found: Sequence[Candidate], points: npt.NDArray[np.float64], fewest: int) -> list[Candidate]:
    """Fewer candidates that serve nearly all, each the one that adds most; none where it takes as many."""
    away = np.stack([np.hypot(points[:, 0] - c.at[0], points[:, 1] - c.at[1]) <= c.radius_in for c in found])
    target = NEARLY * away.any(axis=0).sum()
    served = np.zeros(points.shape[0], dtype=bool)
    picked: list[Candidate] = []
    while len(picked) < fewest - 1 and served.sum() < target:
        best = int(np.argmax((away & ~served).sum(axis=1)))
        picked.append(found[best])
        served |= away[best]
    return picked if served.sum() >= target else []


def candidates(
    surface: Surface,
    plane: Plane,
    xs: Sequence[float],
    falls: Sequence[Fall],
    allowances: Allowances,
    *,
    rakes: bool,
) -> tuple[Candidate, ...]:
    """Every rafter's place on the top edge from which some rope is left."""
    found: list[Candidate] = []
    for at in _top_points(plane, xs):
        stand = Standpoint.on(surface, plane, at)
        total = least_total_in(surface, stand, falls, allowances, rakes=rakes)
        if math.isfinite(total) and total > allowances.connector_in:
            found.append(Candidate(at, total, total + allowances.work_reach_in))
    return tuple(found)


def _top_points(plane: Plane, xs: Sequence[float]) -> list[Point2]:
    """Where rafters meet the plane's upper edges: ridges and top edges, hips only where it has no other."""
    ring = plane.polygon
    sides = [
        (edge, ring[i], ring[(i + 1) % len(ring)])
        for i, edge in enumerate(plane.edges)
        if edge.kind in _TOP_KINDS and max(ring[i][1], ring[(i + 1) % len(ring)][1]) > _SAME_IN
    ]
    level = [side for side in sides if side[0].kind != "hip"]
    points: set[Point2] = set()
    for _, a, b in level or sides:
        left, right = sorted((a, b))
        inside = [x for x in xs if left[0] < x < right[0]]
        for x in (left[0], *inside, right[0]):
            share = (x - left[0]) / (right[0] - left[0]) if right[0] - left[0] > 1e-9 else 0.0
            points.add((x, left[1] + share * (right[1] - left[1])))
    ordered = sorted(points)
    step = math.ceil(len(ordered) / _MOST_CANDIDATES)
    return ordered[::step]


def grid_points(shape: BaseGeometry) -> npt.NDArray[np.float64]:
    """Points of a grid over a shape, those on its outline too, one row each: the eave is what is hardest to serve."""
    left, low, right, high = shape.bounds
    step = max(GRID_IN, math.sqrt((right - left) * (high - low) / _MOST_POINTS))
    x, y = (
        np.linspace(start, end, max(2, math.ceil((end - start) / step) + 1))
        for start, end in ((left, right), (low, high))
    )
    grid = np.stack([axis.ravel() for axis in np.meshgrid(x, y)], axis=1)
    inside = shapely.contains_xy(shape.buffer(_EDGE_IN), grid[:, 0], grid[:, 1])
    return grid[inside]


def served_masks(found: Sequence[Candidate], points: npt.NDArray[np.float64]) -> list[int]:
    """For each candidate the points it serves as a bit mask; points with the same candidates count as one."""
    middles = np.array([candidate.at for candidate in found])
    radii = np.array([candidate.radius_in for candidate in found])
    away = np.hypot(points[:, None, 0] - middles[None, :, 0], points[:, None, 1] - middles[None, :, 1])
    served = np.unique(away <= radii[None, :] + _EDGE_IN, axis=0)
    masks = [0] * len(found)
    for group, row in enumerate(served):
        for i in np.flatnonzero(row):
            masks[int(i)] |= 1 << group
    return masks


def _share(found: Sequence[Candidate], shape: BaseGeometry) -> float:
    served = unary_union([disk(candidate.at, candidate.radius_in) for candidate in found])
    return float(served.intersection(shape).area / shape.area) if found else 0.0
