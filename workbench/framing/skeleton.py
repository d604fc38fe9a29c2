"""The lines of a wing's roof that get a timber of their own: ridges, hips, valleys, and the commons that meet them.

Everything here is seen from above. A timber runs from ``a`` (its low or left end) to ``b``; where planes meet twice in
one line their ridges are one. Where two valleys meet under the ridge of an addition that is lower than the main one,
one of them goes on up to the main ridge, the other is framed to it (NAVEDTRA 14044: long and short valley rafter).
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace
from functools import cached_property
from typing import Literal

from workbench.framing.group import Group
from workbench.framing.space import add2, cross2, dot2, flat, meet2, minus2, unit2
from workbench.roof.model import EdgeKind, Plane, PlaneEdge, Point2, Point3

SAME_IN = 1e-5
"""Plan points nearer than this are one."""

_INNER: frozenset[EdgeKind] = frozenset(("ridge", "hip", "valley"))
_STRAIGHT = 1e-9
_LINE_IN = 1e-6
_ALONGSIDE = math.cos(math.radians(15.0))


@dataclass(frozen=True, eq=False)
class Timber:
    """One ridge, hip, valley or common rafter that others are cut against.

    Attributes:
        kind: What it is; ``common`` for a rafter that stands at the upper end of a hip.
        a: Its low end (of a ridge one end), in space, on the line where the planes meet.
        b: Its high end.
        half: Half its thickness.
        left: Id of the plane to its left, looking from a to b.
        right: Id of the plane to its right.
        through: For a long valley, the point from which on it lies in one plane alone; else None.
        first: For a common at a hip's head, whether it stands against the ridge and the hip beside it; else it fits
            between the hips.
        hung_in: For a lower ridge that runs on under a higher one and hangs from it, how far its line lies below that
            one's, inches; else 0.
    """

    kind: Literal["ridge", "hip", "valley", "common"]
    a: Point3
    b: Point3
    half: float
    left: str
    right: str
    through: Point3 | None = None
    first: bool = True
    hung_in: float = 0.0

    @cached_property
    def direction(self) -> Point2:
        """Unit plan vector from a to b."""
        return unit2(flat(self.a), flat(self.b))

    @cached_property
    def run(self) -> float:
        """Level length, inches."""
        return math.dist(flat(self.a), flat(self.b))

    @cached_property
    def tangent(self) -> float:
        """Slope, rise / run."""
        return (self.b[2] - self.a[2]) / self.run

    def place(self, point: Point2) -> Point2:
        """Stick axes (s, w) of a plan point."""
        away = minus2(point, flat(self.a))
        along = self.direction
        return dot2(away, along), cross2(along, away)

    def ends_at(self, point: Point2) -> bool:
        """Whether one of its ends lies at a plan point."""
        return min(math.dist(flat(self.a), point), math.dist(flat(self.b), point)) < SAME_IN

    def passes(self, point: Point2) -> bool:
        """Whether a plan point lies on its line between its ends."""
        s, w = self.place(point)
        return abs(w) < SAME_IN and SAME_IN < s < self.run - SAME_IN


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
    """

    ridges: tuple[Timber, ...]
    hips: tuple[Timber, ...]
    valleys: tuple[Timber, ...]
    keys: tuple[KeyLine, ...]


def skeleton_of(group: Group) -> Skeleton:
    """Ridges, hips, valleys and key commons of the planes of one group."""
    timbers = _timbers(group)
    hips = [t for t in timbers if t.kind == "hip"]
    ridges = _crossed(_joined([t for t in timbers if t.kind == "ridge"]))
    valleys = [t for t in timbers if t.kind == "valley"]
    ridges = _with_hung(group, ridges, hips, valleys)
    valleys = _with_long(group, ridges, hips, valleys)
    return Skeleton(tuple(ridges), tuple(hips), tuple(valleys), _key_lines(group, hips))


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
            found[key] = _timber(plane, edge, edge.neighbour, max(thickness / 2.0, _LINE_IN))
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


@dataclass(frozen=True, slots=True)
class _Pair:
    """Two valleys that meet under a ridge that is lower than the main one.

    Attributes:
        valleys: Their places in the list.
        ridge: The lower ridge's.
        plane: The main plane that both lie in.
        top: Where they meet.
        how: What is asked to carry the ridge.
    """

    valleys: tuple[int, int]
    ridge: int
    plane: Plane
    top: Point2
    how: str


def _lower_pairs(
    group: Group, ridges: Sequence[Timber], hips: Sequence[Timber], valleys: Sequence[Timber]
) -> list[_Pair]:
    found: list[_Pair] = []
    for i, first in enumerate(valleys):
        for k in range(i + 1, len(valleys)):
            second = valleys[k]
            top = flat(first.b)
            if math.dist(first.b, second.b) > SAME_IN or any(hip.ends_at(top) for hip in hips):
                continue
            under = [n for n, ridge in enumerate(ridges) if ridge.ends_at(top)]
            if len(under) != 1 or any(ridge.passes(top) for ridge in ridges):
                continue
            shared = {first.left, first.right} & {second.left, second.right}
            if len(shared) == 1:
                how = group.wing_between(first.left, first.right).hips.lower_ridge
                found.append(_Pair((i, k), under[0], group.by_id[next(iter(shared))], top, how))
    return found


def _with_hung(
    group: Group, ridges: Sequence[Timber], hips: Sequence[Timber], valleys: Sequence[Timber]
) -> list[Timber]:
    """The ridges, lower ones that hang from the main ridge run on until they are under it (NAVEDTRA 14044)."""
    result = list(ridges)
    for pair in _lower_pairs(group, ridges, hips, valleys):
        ridge = ridges[pair.ridge]
        at_b = math.dist(flat(ridge.b), pair.top) < SAME_IN
        along = ridge.direction if at_b else unit2(flat(ridge.b), flat(ridge.a))
        over = [o for o in ridges if o is not ridge and pair.plane.id in (o.left, o.right)]
        if pair.how != "hung":
            continue
        reached: list[tuple[float, Point2, Timber]] = []
        for other in over:
            point = meet2(pair.top, along, flat(other.a), other.direction)
            if point is not None and (other.passes(point) or other.ends_at(point)):
                away = dot2(minus2(point, pair.top), along)
                if away > SAME_IN and other.a[2] > ridge.a[2] + SAME_IN:
                    reached.append((away, point, other))
        if reached:
            _, point, main = min(reached, key=lambda option: option[0])
            end = (point[0], point[1], ridge.a[2])
            below = main.a[2] - ridge.a[2]
            result[pair.ridge] = replace(ridge, b=end, hung_in=below) if at_b else replace(ridge, a=end, hung_in=below)
    return result


def _with_long(group: Group, ridges: Sequence[Timber], hips: Sequence[Timber], valleys: list[Timber]) -> list[Timber]:
    """The valleys, one of each pair that meets under a lower ridge run on to where its plane ends.

    Of the two, one that would cross a valley run on before it stays short: beside another addition both run on the same
    way.
    """
    result = list(valleys)
    for pair in _lower_pairs(group, ridges, hips, valleys):
        reaches = ((n, _reach(pair.plane, valleys[n])) for n in pair.valleys)
        options = [(n, reach) for n, reach in reaches if reach is not None and not _cross(result, pair.top, reach[0])]
        if not options:
            continue
        side = {n: _side(ridges[pair.ridge], pair.top, valleys[n]) for n, _ in options}
        # A long valley would rather end at a ridge than at a hip; the side asked for goes before that.
        n, (end, _) = min(options, key=lambda option: (side[option[0]] != pair.how, option[1][1] != "ridge"))
        result[n] = replace(valleys[n], b=end, through=valleys[n].b)
    return result


def _side(ridge: Timber, top: Point2, valley: Timber) -> str:
    """Whether a valley is the left or the right one as one looks along a ridge to the point where they meet."""
    start = ridge.a if math.dist(flat(ridge.b), top) < SAME_IN else ridge.b
    return "left" if cross2(minus2(top, flat(start)), minus2(flat(valley.a), top)) > 0.0 else "right"


def _cross(valleys: Sequence[Timber], start: Point2, end: Point3) -> bool:
    """Whether a valley run on from one place to another would cross one that has been run on."""
    along = minus2(flat(end), start)
    for other in valleys:
        if other.through is None:
            continue
        begin, way = flat(other.through), minus2(flat(other.b), flat(other.through))
        meeting = meet2(start, along, begin, way)
        if meeting is not None:
            shares = [
                dot2(minus2(meeting, place), line) / dot2(line, line) for place, line in ((start, along), (begin, way))
            ]
            if all(_STRAIGHT < share < 1.0 - _STRAIGHT for share in shares):
                return True
    return False


def _reach(plane: Plane, valley: Timber) -> tuple[Point3, EdgeKind] | None:
    """Where a valley that goes on up in one plane first meets that plane's edge, and what that edge is."""
    start, along = flat(valley.b), valley.direction
    best: tuple[float, EdgeKind] | None = None
    for edge in plane.edges:
        a, b = flat(edge.start), flat(edge.end)
        if math.dist(a, b) < SAME_IN:
            continue
        meeting = meet2(start, along, a, minus2(b, a))
        if meeting is None:
            continue
        away = dot2(minus2(meeting, start), along)
        share = dot2(minus2(meeting, a), minus2(b, a)) / math.dist(a, b) ** 2
        if away > SAME_IN and -_STRAIGHT <= share <= 1.0 + _STRAIGHT and (best is None or away < best[0]):
            best = (away, edge.kind)
    if best is None or best[1] not in ("ridge", "hip"):
        return None
    end = add2(start, along, best[0])
    return (end[0], end[1], valley.b[2] + best[0] * valley.tangent), best[1]


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
