"""What carries a ridge that is lower than the main one: a long valley, the main ridge it hangs from, or a header.

Where two valleys meet under such a ridge one of them goes on up to the main ridge, the other is framed to it (NAVEDTRA
14044: long and short valley rafter). Seen from above, inches.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace

from workbench.framing.group import Group
from workbench.framing.space import add2, cross2, dot2, flat, meet2, minus2, unit2
from workbench.framing.timber import LINE_IN, SAME_IN, Timber
from workbench.roof.model import EdgeKind, Plane, PlaneEdge, Point2, Point3

_STRAIGHT = 1e-9


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


def with_hung(
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


def dormer_headers(
    group: Group, ridges: Sequence[Timber], hips: Sequence[Timber], valleys: Sequence[Timber]
) -> list[Timber]:
    """The upper headers that are asked for: where both valleys bound a hole in the main plane, as a dormer's do."""
    found: list[Timber] = []
    for pair in _lower_pairs(group, ridges, hips, valleys):
        plane = pair.plane
        meeting = [e for ring in plane.opening_edges for e in ring if e.kind == "valley" and _ends_at(e, pair.top)]
        if pair.how != "header" or len(meeting) != 2:
            continue
        x, y = plane.to_plane(pair.top)
        feet = [flat(e.start if _same(flat(e.end), pair.top) else e.end) for e in meeting]
        xs = [plane.to_plane(foot)[0] for foot in feet]
        if not min(xs) < x - SAME_IN < x + SAME_IN < max(xs):
            continue
        half = max(group.wing_of(plane.id).rafter.thickness_in / 2.0, LINE_IN)
        a, b = plane.to_space((min(xs), y)), plane.to_space((max(xs), y))
        found.append(Timber("header", a, b, half, plane.id, plane.id))
    return found


def _same(a: Point2, b: Point2) -> bool:
    return math.dist(a, b) < SAME_IN


def _ends_at(edge: PlaneEdge, point: Point2) -> bool:
    return _same(flat(edge.start), point) or _same(flat(edge.end), point)


def with_long(
    group: Group,
    ridges: Sequence[Timber],
    hips: Sequence[Timber],
    valleys: list[Timber],
    headers: Sequence[Timber],
) -> list[Timber]:
    """The valleys, one of each pair that meets under a lower ridge run on to where its plane ends.

    Of the two, one that would cross a valley run on before it stays short: beside another addition both run on the same
    way.
    """
    result = list(valleys)
    for pair in _lower_pairs(group, ridges, hips, valleys):
        if any(header.passes(pair.top) for header in headers):
            continue  # both end against a header
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
