"""The lines of a wing's roof that get a timber of their own: ridges, hips, valleys, and the commons that meet them.

Everything here is seen from above. A timber runs from ``a`` (its low or left end) to ``b``; where planes meet twice in
one line their ridges are one. Where two valleys meet under the ridge of an addition that is lower than the main one,
one of them goes on up to the main ridge, the other is framed to it (NAVEDTRA 14044: long and short valley rafter).
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace
from typing import Literal

from workbench.framing.group import Group
from workbench.framing.lower_ridges import dormer_headers, with_hung, with_long
from workbench.framing.space import cross2, dot2, flat, meet2
from workbench.framing.timber import LINE_IN, SAME_IN, Timber
from workbench.roof.model import EdgeKind, Plane, PlaneEdge, Point2, Point3

_INNER: frozenset[EdgeKind] = frozenset(("ridge", "hip", "valley"))
_STRAIGHT = 1e-9
_ALONGSIDE = math.cos(math.radians(15.0))


@dataclass(frozen=True, slots=True)
class KeyLine:
    """A common rafter that stands under the upper end of a hip.

    Attributes:
        plane: Plane id.
        x: Its position, plane axes.
        top: The hip's upper end in space.
    """

    plane: str
    x: float
    top: Point3


@dataclass(frozen=True)
class Skeleton:
    """Timbers of a group by kind.

    Attributes:
        ridges: Ridge lines, collinear neighbours joined.
        hips: Hips, low end first.
        valleys: Valleys, long ones up to where they end.
        keys: Commons at the upper ends of hips.
        headers: Inside boards of the upper headers of dormers, from the left trimmer to the right one.
    """

    ridges: tuple[Timber, ...]
    hips: tuple[Timber, ...]
    valleys: tuple[Timber, ...]
    keys: tuple[KeyLine, ...]
    headers: tuple[Timber, ...] = ()


def skeleton_of(group: Group) -> Skeleton:
    """Ridges, hips, valleys and key commons of the planes of one group."""
    timbers = _timbers(group)
    hips = [t for t in timbers if t.kind == "hip"]
    ridges = _crossed(_joined([t for t in timbers if t.kind == "ridge"]))
    valleys = [t for t in timbers if t.kind == "valley"]
    ridges = with_hung(group, ridges, hips, valleys)
    headers = dormer_headers(group, ridges, hips, valleys)
    valleys = with_long(group, ridges, hips, valleys, headers)
    return Skeleton(tuple(ridges), tuple(hips), tuple(valleys), _key_lines(group, hips), tuple(headers))


def _timbers(group: Group) -> list[Timber]:
    found: dict[frozenset[Point3], Timber] = {}
    for plane in group.planes:
        for edge in plane.all_edges:
            key = frozenset((edge.start, edge.end))
            if edge.kind not in _INNER or edge.neighbour is None or key in found or not group.shares(plane, edge):
                continue
            wing = group.wing_between(plane.id, edge.neighbour)
            # A ridge of no thickness (a theoretical line) keeps a width that float noise does not swallow.
            thickness = {"ridge": wing.ridge_width_in, "hip": wing.hip_width_in}.get(edge.kind, wing.valley_width_in)
            found[key] = _timber(plane, edge, edge.neighbour, max(thickness / 2.0, LINE_IN))
    return list(found.values())


def _timber(plane: Plane, edge: PlaneEdge, neighbour: str, half: float) -> Timber:
    """An edge keeps its own plane to its left."""
    kind: Literal["ridge", "hip", "valley"] = (
        "ridge" if edge.kind == "ridge" else "hip" if edge.kind == "hip" else "valley"
    )
    # A ridge is counted from the left end of the plane it is met on first, as one looks up at it.
    turned = edge.end[2] < edge.start[2] if kind != "ridge" else True
    if turned:
        return Timber(kind, edge.end, edge.start, half, neighbour, plane.id)
    return Timber(kind, edge.start, edge.end, half, plane.id, neighbour)


def _joined(ridges: list[Timber]) -> list[Timber]:
    """Ridges that go on in one line, joined."""
    done: list[Timber] = []
    for ridge in ridges:
        current = ridge
        joined = True
        while joined:
            joined = False
            for other in done:
                longer = _join(current, other)
                if longer is not None:
                    done.remove(other)
                    current, joined = longer, True
                    break
        done.append(current)
    return done


def _join(first: Timber, second: Timber) -> Timber | None:
    """Two ridges as one if they meet end to end in one line, planes of the first one met."""
    if abs(cross2(first.direction, second.direction)) > _STRAIGHT:
        return None
    if abs(first.a[2] - second.a[2]) > SAME_IN or first.half != second.half:
        return None
    along = dot2(first.direction, second.direction)
    a, b = (second.a, second.b) if along > 0.0 else (second.b, second.a)
    if math.dist(first.b, a) < SAME_IN:
        return replace(first, b=b)
    if math.dist(b, first.a) < SAME_IN:
        return replace(first, a=a)
    return None


def _crossed(ridges: list[Timber]) -> list[Timber]:
    """Where two ridges cross, the first goes through and the other is framed to it from both sides."""
    done: list[Timber] = []
    waiting = list(ridges)
    while waiting:
        ridge = waiting.pop(0)
        crossing = next((point for other in done if (point := _crossing(ridge, other)) is not None), None)
        if crossing is None:
            done.append(ridge)
        else:
            middle = (crossing[0], crossing[1], ridge.a[2])
            waiting[:0] = [replace(ridge, b=middle), replace(ridge, a=middle)]
    return done


def _crossing(first: Timber, second: Timber) -> Point2 | None:
    point = meet2(flat(first.a), first.direction, flat(second.a), second.direction)
    return point if point is not None and first.passes(point) and second.passes(point) else None


def _key_lines(group: Group, hips: Sequence[Timber]) -> tuple[KeyLine, ...]:
    """Commons under the upper ends of hips: on every plane there, or where hips lie on the ridge only between two."""
    tops = [hip.b for hip in hips]
    keys: list[KeyLine] = []
    for plane in group.planes:
        least = 1 if group.wing_of(plane.id).hips.head == "commons" else 2
        for i, corner in enumerate(plane.corners):
            if not any(math.dist(corner, top) < SAME_IN for top in tops):
                continue
            beside = (plane.edges[i - 1], plane.edges[i])
            highest = corner[2] + SAME_IN
            met = [e for e in beside if e.kind == "hip" and max(e.start[2], e.end[2]) <= highest]
            if len(met) >= least and not _along_a_hip(plane, corner, hips):
                keys.append(KeyLine(plane.id, plane.to_plane(corner)[0], corner))
    return tuple(_not_in_each_other(group, keys))


def _not_in_each_other(group: Group, keys: Sequence[KeyLine]) -> list[KeyLine]:
    """The key commons; over a ridge too short for two side by side one stands in its middle.

    The ridge is then a block as long as that rafter is thick, and the hips fit round it as they do round a longer one
    (common practice, no source).
    """
    kept: list[KeyLine] = []
    for key in keys:
        thickness = group.wing_of(key.plane).rafter.thickness_in
        near = next(
            (
                i
                for i, other in enumerate(kept)
                if other.plane == key.plane
                and abs(other.x - key.x) < thickness - SAME_IN
                and abs(other.top[2] - key.top[2]) < SAME_IN
            ),
            None,
        )
        if near is None:
            kept.append(key)
            continue
        (ax, ay, z), (bx, by, _) = kept[near].top, key.top
        kept[near] = KeyLine(key.plane, (kept[near].x + key.x) / 2.0, ((ax + bx) / 2.0, (ay + by) / 2.0, z))
    return kept


def _along_a_hip(plane: Plane, corner: Point3, hips: Sequence[Timber]) -> bool:
    """Whether a common under a hip's head would lie along that hip for most of its length."""
    return any(
        math.dist(hip.b, corner) < SAME_IN and dot2(hip.direction, plane.uphill) > _ALONGSIDE
        for hip in hips
        if plane.id in (hip.left, hip.right)
    )
