"""Triangles of flat shapes, slabs and boards. Inches; every triangle anticlockwise as seen from outside.

Arrays of triangles have the shape (n, 3, 3): triangle, corner, coordinate.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import replace
from functools import lru_cache

import numpy as np
from numpy.typing import NDArray
from shapely import constrained_delaunay_triangles, get_coordinates
from shapely.geometry import Polygon

from workbench.framing.model import Member, Placement
from workbench.roof.model import Point2

Floats = NDArray[np.float64]
Owners = NDArray[np.intp]
Rings = Sequence[Sequence[Point2]]

NO_TRIANGLES: Floats = np.empty((0, 3, 3))
_FLAT = 1e-9
_ON_LINE_IN = 1e-3


def triangles_of(ring: Sequence[Point2], holes: Rings = ()) -> Floats:
    """A flat shape cut into triangles, (n, 3, 2), anticlockwise; none for a shape without an inside."""
    points = np.array(ring, dtype=float).reshape(1, -1, 2)
    if not holes and len(ring) > 2 and _are_convex(points)[0]:
        fan = _fans(points)[0]
        return fan if _turn(points)[0] > 0.0 else fan[:, ::-1]
    shape = Polygon(ring, holes) if len(ring) > 2 else Polygon()
    if shape.is_empty or shape.area < _FLAT:
        return np.empty((0, 3, 2))
    if not shape.is_valid:
        shape = shape.buffer(0.0)
    parts = [get_coordinates(part)[:3] for part in constrained_delaunay_triangles(shape).geoms]
    found: Floats = np.array(parts, dtype=float).reshape(-1, 3, 2)
    clockwise = _cross2(found[:, 1] - found[:, 0], found[:, 2] - found[:, 0]) < 0.0
    found[clockwise] = found[clockwise][:, ::-1]
    return found


def both_sides(triangles: Floats) -> Floats:
    """The triangles and their backs."""
    return np.concatenate([triangles, triangles[:, ::-1]])


def slabs(rings: Sequence[Sequence[Point2]], low: float, high: float) -> tuple[Floats, Owners]:
    """Flat shapes given thickness, from z = low to z = high, and which of them each triangle belongs to."""
    parts: list[Floats] = [NO_TRIANGLES]
    owners: list[Owners] = [np.empty(0, dtype=np.intp)]
    by_corners: dict[int, list[int]] = {}
    for number, ring in enumerate(rings):
        by_corners.setdefault(len(ring), []).append(number)
    for corners, numbers in by_corners.items():
        if corners < 3:
            continue
        shapes = np.array([rings[number] for number in numbers], dtype=float)
        backward = _turn(shapes) < 0.0
        shapes[backward] = shapes[backward][:, ::-1]
        convex = _are_convex(shapes)
        fans = _fans(shapes[convex])
        names = np.array(numbers, dtype=np.intp)
        flats = [(fans.reshape(-1, 3, 2), np.repeat(names[convex], corners - 2))]
        for number, shape in zip(names[~convex], shapes[~convex], strict=True):
            flat = triangles_of([(float(x), float(y)) for x, y in shape])
            flats.append((flat, np.full(len(flat), number)))
        for flat, owner in flats:
            parts += [_at(flat, high), _at(flat[:, ::-1], low)]
            owners += [owner, owner]
        a = _at(shapes, low)
        b, lift = np.roll(a, -1, axis=1), np.array([0.0, 0.0, high - low])
        parts.append(_quads(*(points.reshape(-1, 3) for points in (a, b, b + lift, a + lift))))
        owners.append(np.tile(np.repeat(names, corners), 2))
    return np.concatenate(parts), np.concatenate(owners)


def board(member: Member) -> Floats:
    """One board of a mark as cut, left-hand, in member axes: x along the top edge from where its centre line begins,
    y across to the left, z square up from the top edge (so the board lies under z = 0).

    The side view is taken across the thickness slice by slice, its ends moved to where the top view has them: bevels,
    double cheeks and backed tops come out as they are cut. Without a side view it is a plain box.
    """
    # What a board is cut from; where it stands does not matter.
    return _board(replace(member, placements=(), traces=(), measures=(), cuts=(), mark="", count=1, left=0, right=0))


@lru_cache(maxsize=1024)
def _board(member: Member) -> Floats:
    profile = np.array(member.profile or _box(member), dtype=float)
    if _turn(profile) < 0.0:
        profile = profile[::-1]
    across, low, high = _ends(member)
    flat = triangles_of([(float(x), float(y)) for x, y in profile])
    index = _corner_index(flat, profile)
    slices = [_slice(member, profile, w, shifts) for w, shifts in zip(across, zip(low, high, strict=True), strict=True)]
    faces = [slices[0][index][:, ::-1], slices[-1][index]]
    for left, right in zip(slices, slices[1:], strict=False):
        after_left, after_right = np.roll(left, -1, axis=0), np.roll(right, -1, axis=0)
        faces.append(_quads(left, after_left, after_right, right))
    found = np.concatenate(faces)
    found[..., 0] -= float(np.interp(0.0, across[::-1], low[::-1]))
    return found


def standing(boards: Floats, placements: Sequence[Placement], drop: float = 0.0) -> Floats:
    """Equal boards put where they stand, let down by ``drop``; the right-hand ones as mirror images."""
    if not placements:
        return NO_TRIANGLES
    mirrored = (boards * np.array([1.0, -1.0, 1.0]))[:, ::-1]
    parts: list[Floats] = []
    for right, shape in ((False, boards), (True, mirrored)):
        chosen = [p for p in placements if (p.hand == "right") is right and math.dist(p.start, p.end) > _FLAT]
        if not chosen:
            continue
        start, end = np.array([p.start for p in chosen]), np.array([p.end for p in chosen])
        axes = _axes(start, end)
        start = start - np.array([0.0, 0.0, drop])
        placed = np.einsum("tck,pkj->ptcj", shape, axes) + start[:, None, None, :]
        parts.append(placed.reshape(-1, 3, 3))
    return np.concatenate(parts) if parts else NO_TRIANGLES


def normals_of(triangles: Floats) -> Floats:
    """Unit normals, (n, 3); a triangle without an area has none, (0, 0, 0)."""
    a, b = (triangles[:, 1] - triangles[:, 0]).T, (triangles[:, 2] - triangles[:, 0]).T
    # Written out: numpy's own cross product takes several times as long for the few triangles of a part.
    across = np.column_stack([a[1] * b[2] - a[2] * b[1], a[2] * b[0] - a[0] * b[2], a[0] * b[1] - a[1] * b[0]])
    length: Floats = np.sqrt((across * across).sum(axis=1, keepdims=True))
    return np.divide(across, length, out=np.zeros_like(across), where=length > _FLAT)


def _axes(start: Floats, end: Floats) -> Floats:
    """Unit vectors along boards, to their left, and square up from their top edges: (n, 3, 3)."""
    along = end - start
    along /= np.linalg.norm(along, axis=1, keepdims=True)
    run = np.hypot(along[:, 0], along[:, 1])
    # A post has no left; any level direction serves.
    upright = run < _FLAT
    run[upright] = 1.0
    left = np.column_stack([-along[:, 1] / run, along[:, 0] / run, np.zeros(len(run))])
    left[upright] = (0.0, 1.0, 0.0)
    up: Floats = np.asarray(np.cross(along, left), dtype=np.float64)
    return np.stack([along, left, up], axis=1)


def _box(member: Member) -> list[Point2]:
    length, depth = member.length_in, member.depth_in
    return [(0.0, 0.0), (length, 0.0), (length, depth), (0.0, depth)]


def _ends(member: Member) -> tuple[Floats, Floats, Floats]:
    """Where to slice (from the left face to the right one), and x of both ends at the top edge there."""
    half = member.thickness_in / 2.0
    across = {half, -half}
    low: list[Point2] = [(0.0, half), (0.0, -half)]
    high: list[Point2] = [(member.length_in, half), (member.length_in, -half)]
    if member.top:
        # The ring runs over the low end from left to right and comes back over the high end.
        turn = next(i for i, (_, w) in enumerate(member.top) if w < -half + _ON_LINE_IN) + 1
        low, high = list(member.top[:turn]), list(reversed(member.top[turn:]))
        across |= {round(w, 6) for _, w in member.top if abs(w) < half - _ON_LINE_IN}
    if len(member.backing_deg) > 1:
        across.add(0.0)
    where = np.array(sorted(across, reverse=True))
    return where, _along(low, where), _along(high, where)


def _along(end: Sequence[Point2], where: Floats) -> Floats:
    from_right = sorted(end, key=lambda point: point[1])
    found = np.interp(where, [w for _, w in from_right], [x for x, _ in from_right])
    return np.asarray(found, dtype=float)


def _slice(member: Member, profile: Floats, w: float, ends: tuple[float, float]) -> Floats:
    """The side view at one place across the thickness."""
    x, y = profile[:, 0].copy(), profile[:, 1] - member.depth_in
    tangent = math.tan(math.radians(member.angle_deg))
    at_high = np.abs(x - member.length_in - y * tangent) < _ON_LINE_IN
    at_low = (np.abs(x - y * tangent) < _ON_LINE_IN) & ~at_high
    if at_low.sum() == 1:
        # A tail cut square is not plumb under its top point; the next point along the ring is its foot.
        at_low |= np.roll(at_low, 1)
    x[at_low] += ends[0]
    x[at_high] += ends[1] - member.length_in
    if member.backing_deg:
        bevel = member.backing_deg[0] if w > 0.0 else member.backing_deg[-1]
        half = member.thickness_in / 2.0
        away = {"left": half - w, "right": half + w}.get(member.high_face, abs(w))
        y[y > -_ON_LINE_IN] -= away * math.tan(math.radians(bevel))
    return np.column_stack([x, np.full(len(x), w), y])


def _corner_index(flat: Floats, profile: Floats) -> NDArray[np.intp]:
    """Which profile point each triangle's corner is: (n, 3)."""
    distance = np.abs(flat[:, :, None, :] - profile[None, None, :, :]).sum(axis=3)
    return distance.argmin(axis=2)


def _quads(a: Floats, b: Floats, c: Floats, d: Floats) -> Floats:
    return np.concatenate([np.stack([a, b, c], axis=1), np.stack([a, c, d], axis=1)])


def _at(flat: Floats, height: float) -> Floats:
    return np.concatenate([flat, np.full((*flat.shape[:-1], 1), height)], axis=-1)


def _fans(rings: Floats) -> Floats:
    """Convex rings, (n, k, 2), as triangles from their first corners, (n, k - 2, 3, 2)."""
    first = np.broadcast_to(rings[:, :1], rings[:, 2:].shape)
    return np.stack([first, rings[:, 1:-1], rings[:, 2:]], axis=2)


def _turn(rings: Floats) -> Floats:
    """Twice the area of rings (..., k, 2), positive anticlockwise."""
    return _cross2(rings, np.roll(rings, -1, axis=-2)).sum(axis=-1)


def _cross2(a: Floats, b: Floats) -> Floats:
    return a[..., 0] * b[..., 1] - a[..., 1] * b[..., 0]


def _are_convex(rings: Floats) -> NDArray[np.bool_]:
    """Which of these rings, (n, k, 2), turn the same way at every corner and go round once only."""
    side = np.roll(rings, -1, axis=1) - rings
    after = np.roll(side, -1, axis=1)
    turns = np.arctan2(_cross2(side, after), (side * after).sum(axis=2))
    same = (turns > _FLAT).all(axis=1) | (turns < -_FLAT).all(axis=1)
    return same & (np.abs(turns.sum(axis=1)) < 2.5 * math.pi)
