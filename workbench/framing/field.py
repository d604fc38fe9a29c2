"""The part of a plane that rafters fill: its outline less what stands along its edges. Seen from above.

Field axes: x as on the plane, r the level run up the slope from the plane's lowest point; inches. A rafter's end is the
stretch of the inset outline between its two faces, so a cheek, a square end and an end that meets two timbers come out
of one rule.
"""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from functools import cached_property
from itertools import accumulate, groupby

from workbench.framing.group import Group
from workbench.framing.space import add2, cross2, dot2, flat, left_of, meet2, minus2, unit2
from workbench.framing.timber import SAME_IN, Timber
from workbench.roof.model import EdgeKind, Plane, PlaneEdge, Point2, Point3

_UPRIGHT_IN = 1e-9
_LEVEL = 1e-12
_IN_PLANE_IN = 1e-4


@dataclass(frozen=True, slots=True)
class FieldEdge:
    """One side of a field, anticlockwise.

    Attributes:
        kind: What it is.
        start: Field axes.
        end: Field axes.
        half: Half the thickness of the timber along it.
        source: The plane's edge, or None along a long valley that crosses the plane.
        laid: Whether the roof on the other side runs on below, so that rafters end on a sleeper laid on it.
    """

    kind: EdgeKind
    start: Point2
    end: Point2
    half: float
    source: PlaneEdge | None
    laid: bool = False

    @property
    def direction(self) -> Point2:
        """Unit vector from start to end."""
        return unit2(self.start, self.end)


@dataclass(frozen=True, slots=True)
class Span:
    """A stretch of a field over one x.

    Attributes:
        low: r where it starts.
        high: r where it ends.
        low_edge: Number of the edge it starts on.
        high_edge: Number of the edge it ends on.
    """

    low: float
    high: float
    low_edge: int
    high_edge: int


@dataclass(frozen=True, slots=True)
class Fitted:
    """An end between two faces: its line from the left face to the right one, and the edges it lies on."""

    points: tuple[Point2, ...]
    edges: tuple[int, ...]


@dataclass(frozen=True, slots=True)
class _Ring:
    """A ring moved in by its timbers: the edges that are left of it, and the corner at which each starts."""

    kept: tuple[int, ...]
    corners: tuple[Point2, ...]


@dataclass(frozen=True, eq=False)
class Field:
    """A plane, or the part of it to one side of a long valley.

    Attributes:
        plane: The plane.
        edges: The outer ring, then the rings of its openings; the field lies to the left of every edge.
        rings: For each ring the number of its first edge and of the one after its last.
    """

    plane: Plane
    edges: tuple[FieldEdge, ...]
    rings: tuple[tuple[int, int], ...]

    def spans(self, x: float) -> list[Span]:
        """The stretches of the field over one x, from the bottom up."""
        crossings: list[tuple[float, int]] = []
        for i, edge in enumerate(self.edges):
            (ax, ar), (bx, br) = edge.start, edge.end
            if (ax - x) * (bx - x) < 0.0 or ((ax == x) != (bx == x) and max(ax, bx) == x):
                crossings.append((ar + (x - ax) / (bx - ax) * (br - ar), i))
        crossings.sort()
        pairs = zip(crossings[::2], crossings[1::2], strict=False)
        return [Span(low[0], high[0], low[1], high[1]) for low, high in pairs if high[0] - low[0] > SAME_IN]

    @cached_property
    def openings(self) -> tuple[tuple[FieldEdge, ...], ...]:
        """The sides of each opening: a ring of its own, or what it takes out of the outer ring where it lies over a
        ridge or another edge of the plane.
        """
        rings = [self.edges[first:stop] for first, stop in self.rings]
        return (*_notches(self.plane, rings[0]), *rings[1:])

    @cached_property
    def _inset(self) -> tuple[_Ring, ...]:
        return tuple(self._inset_ring(list(range(first, stop))) for first, stop in self.rings)

    @cached_property
    def _reaches(self) -> dict[int, tuple[float, float]]:
        """For every edge that is left and not upright, the x it runs between."""
        found: dict[int, tuple[float, float]] = {}
        for ring in self._inset:
            for index, a, b in zip(ring.kept, ring.corners, [*ring.corners[1:], ring.corners[0]], strict=True):
                if abs(a[0] - b[0]) > SAME_IN:
                    found[index] = (min(a[0], b[0]), max(a[0], b[0]))
        return found

    def _inset_ring(self, kept: list[int]) -> _Ring:
        while True:
            corners = [self._corner(kept[i - 1], kept[i]) for i in range(len(kept))]
            gone = [i for i in range(len(kept)) if self._turned(kept[i], corners[i], corners[(i + 1) % len(kept)])]
            if not gone or len(kept) <= 3:
                return _Ring(tuple(kept), tuple(corners))
            del kept[gone[0]]

    @cached_property
    def _moved(self) -> tuple[tuple[Point2, Point2], ...]:
        """Each edge moved in by its timber, as a point and a direction."""
        return tuple(
            (add2(edge.start, left_of(along), edge.half), along) for edge in self.edges for along in (edge.direction,)
        )

    def _corner(self, before: int, here: int) -> Point2:
        (p, along), (q, other) = self._moved[before], self._moved[here]
        return meet2(p, along, q, other) or q

    def _turned(self, index: int, start: Point2, end: Point2) -> bool:
        return dot2(minus2(end, start), self._moved[index][1]) < -SAME_IN

    def is_square_at(self, index: int, x: float, half: float) -> bool:
        """Whether a rafter that stands at x ends square, with both faces on a level edge."""
        reach = self._reaches.get(index)
        return (
            reach is not None
            and reach[0] < x - half
            and x + half < reach[1]
            and abs(self._moved[index][1][1]) <= _LEVEL
        )

    def end_at(self, index: int, x: float, half: float, *, upper: bool) -> Fitted:
        """The end of a rafter that stands at x and ends on an edge.

        Args:
            index: Number of the edge its centre line ends on.
            x: Its centre line.
            half: Half its thickness.
            upper: Whether it is its upper end.
        """
        reach = self._reaches.get(index)
        if reach is not None and reach[0] < x - half and x + half < reach[1]:
            (px, pr), (dx, dr) = self._moved[index]
            ends = tuple((at, pr + (at - px) * dr / dx) for at in (x - half, x + half))
            return Fitted(ends, (index,))
        ring = self._inset[next(i for i, (first, stop) in enumerate(self.rings) if first <= index < stop)]
        walk = _Walk(ring, self._moved)
        # An edge over the field runs from right to left, one under it from left to right.
        leftward = 1 if upper else -1
        at = ring.kept.index(index) if index in ring.kept else walk.nearest(x, upper=upper)
        at = walk.settled(at, x, leftward)
        left = walk.along(at, x, x - half, leftward)
        right = walk.along(at, x, x + half, -leftward)
        points = [*reversed(left[0]), *right[0]]
        edges = [*reversed(left[1]), *right[1][1:]]
        return self._plain(points, [ring.kept[i] for i in edges])

    def _plain(self, points: list[Point2], edges: list[int]) -> Fitted:
        """The same without corners at which it goes straight on, or which lie on a face."""
        corners, used = [points[0]], list[int]()
        for point, edge in zip(points[1:], edges, strict=True):
            if math.dist(corners[-1], point) < SAME_IN and point is not points[-1]:
                continue
            if used and (self._straight(used[-1], edge) or math.dist(corners[-1], point) < SAME_IN):
                corners[-1] = point
                continue
            corners.append(point)
            used.append(edge)
        return Fitted(tuple(corners), tuple(used))

    def _straight(self, first: int, second: int) -> bool:
        return abs(cross2(self._moved[first][1], self._moved[second][1])) < 1e-9


class _Walk:
    """Steps along one inset ring. Edges are counted as the ring keeps them."""

    def __init__(self, ring: _Ring, moved: Sequence[tuple[Point2, Point2]]) -> None:
        self.ring = ring
        self.moved = moved
        self.count = len(ring.kept)

    def nearest(self, x: float, *, upper: bool) -> int:
        """The edge over (or under) x where the one asked for has vanished."""
        best, gap = 0, math.inf
        for i in range(self.count):
            a, b = self.ring.corners[i][0], self.ring.corners[(i + 1) % self.count][0]
            if (b < a) != upper or abs(a - b) < _UPRIGHT_IN:
                continue
            away = max(min(a, b) - x, x - max(a, b), 0.0)
            if away < gap:
                best, gap = i, away
        return best

    def settled(self, at: int, x: float, leftward: int) -> int:
        """The edge, of the run of edges that ``at`` belongs to, that lies over x."""
        for side, sign in ((leftward, -1.0), (-leftward, 1.0)):
            while sign * (x - self._end(at, side)[0]) > SAME_IN:
                following = self._next(at, side, sign)
                if following is None:
                    break
                at = following
        return at

    def along(self, at: int, x: float, to: float, step: int) -> tuple[list[Point2], list[int]]:
        """From x along the ring to another x: corners passed with the last point, and the edges used."""
        sign = 1.0 if to > x else -1.0
        points: list[Point2] = []
        edges = [at]
        while sign * (to - self._end(at, step)[0]) > SAME_IN:
            following = self._next(at, step, sign)
            if following is None:
                break
            points.append(self._end(at, step))
            at = following
            edges.append(at)
        points.append((to, self._run_at(at, to)))
        return points, edges

    def _end(self, at: int, step: int) -> Point2:
        """The corner at which edge ``at`` goes over into edge ``at + step``."""
        return self.ring.corners[(at + 1) % self.count] if step > 0 else self.ring.corners[at]

    def _next(self, at: int, step: int, sign: float) -> int | None:
        """The edge after ``at`` if it goes on in the same sense across, else None."""
        following = (at + step) % self.count
        here, there = self._end(at, step), self._end(following, step)
        return following if sign * (there[0] - here[0]) > SAME_IN else None

    def _run_at(self, at: int, x: float) -> float:
        start, along = self.moved[self.ring.kept[at]]
        if abs(along[0]) < _UPRIGHT_IN:
            return start[1]
        return start[1] + (x - start[0]) * along[1] / along[0]


def fields_of(group: Group, plane: Plane, timbers: Sequence[Timber]) -> list[Field]:
    """The fields of a plane: itself, or its parts between the long valleys that cross it.

    Args:
        group: The wings the plane is framed with.
        plane: The plane.
        timbers: All their ridges, hips and valleys.
    """
    halves = {frozenset((timber.a, timber.b)): timber.half for timber in timbers}
    outer = _edges(group, plane, plane.edges, plane.polygon, halves)
    holes = [
        _edges(group, plane, edges, ring, halves)
        for edges, ring in zip(plane.opening_edges, plane.opening_polygons, strict=True)
    ]
    parts = [outer]
    for valley in timbers:
        if valley.through is not None and abs(group.slopes[plane.id].height(valley.b) - valley.b[2]) < _IN_PLANE_IN:
            start, end = _field_point(plane, flat(valley.through)), _field_point(plane, flat(valley.b))
            hole = next((ring for ring in holes if any(_is_at(edge.start, start) for edge in ring)), None)
            if hole is None:
                parts = [half for part in parts for half in _split(part, start, end, valley.half)]
            else:
                # From a dormer's hole on a valley parts nothing from anything: it joins the hole to the plane's edge.
                joined = [_slit(part, hole, start, end, valley.half) for part in parts]
                holes = holes if joined == parts else [ring for ring in holes if ring is not hole]
                parts = joined
    fields: list[Field] = []
    for part in parts:
        mine = [hole for hole in holes if hole and (len(parts) == 1 or _inside(part, hole[0].start))]
        rings = [part, *mine]
        stops = list(accumulate(len(ring) for ring in rings))
        edges = tuple(edge for ring in rings for edge in ring)
        fields.append(Field(plane, edges, tuple(zip([0, *stops], stops, strict=False))))
    return fields


def _edges(
    group: Group,
    plane: Plane,
    edges: Sequence[PlaneEdge],
    ring: Sequence[Point2],
    halves: Mapping[frozenset[Point3], float],
) -> list[FieldEdge]:
    wing = group.wing_of(plane.id)
    points = [(x, y / plane.stretch) for x, y in ring]
    found: list[FieldEdge] = []
    for i, (edge, a, b) in enumerate(zip(edges, points, [*points[1:], points[0]], strict=True)):
        if math.dist(a, b) < SAME_IN:
            continue
        half, laid = 0.0, False
        if edge.kind in ("ridge", "hip", "valley"):
            laid = not group.shares(plane, edge)
            half = 0.0 if laid else _half(group, plane, edge, halves)
        elif edge.kind == "pitch_break" and edge.neighbour is not None:
            half = group.wing_between(plane.id, edge.neighbour).purlin_in / 2.0
        elif _is_of_opening(plane, edge) and abs(edges[i].start[2] - edges[i].end[2]) < SAME_IN:
            half = (wing.plies.header or header_plies(math.dist(a, b))) * wing.rafter.thickness_in
        found.append(FieldEdge(edge.kind, a, b, half, edge, laid))
    return found


def _is_of_opening(plane: Plane, edge: PlaneEdge) -> bool:
    """Whether an edge is a side of a skylight, a chimney or a hole that another roof stands in."""
    return edge.kind == "wall" and (edge.opening is not None or not any(edge is own for own in plane.edges))


def _opening_of(plane: Plane, edge: FieldEdge) -> str | None:
    """What tells the sides of one opening in an outer ring from its other edges; None for these."""
    source = edge.source
    if source is None or source.opening is not None:
        return None if source is None else source.opening
    return None if any(source is own for own in plane.edges) else "hole"


def _notches(plane: Plane, outer: Sequence[FieldEdge]) -> list[tuple[FieldEdge, ...]]:
    """The runs of neighbouring sides in an outer ring that belong to one opening each."""
    names = [_opening_of(plane, edge) for edge in outer]
    if all(name is None for name in names):
        return []
    first = next((i for i in range(len(outer)) if names[i] != names[i - 1]), 0)
    order = [(first + k) % len(outer) for k in range(len(outer))]
    runs = groupby(order, key=lambda i: names[i])
    return [tuple(outer[i] for i in run) for name, run in runs if name is not None]


def _half(group: Group, plane: Plane, edge: PlaneEdge, halves: Mapping[frozenset[Point3], float]) -> float:
    known = halves.get(frozenset((edge.start, edge.end)))
    if known is not None:
        return known
    wing = group.wing_between(plane.id, edge.neighbour or plane.id)
    return {"ridge": wing.ridge_width_in, "hip": wing.hip_width_in}.get(edge.kind, wing.valley_width_in) / 2.0


def header_plies(width_in: float) -> int:
    """How many boards a header is made of: one up to 4 ft, else two (IRC R802.9, from memory)."""
    return 1 if width_in <= 48.0 + SAME_IN else 2


def _field_point(plane: Plane, point: Point2) -> Point2:
    x, y = plane.to_plane(point)
    return x, y / plane.stretch


def _inside(ring: Sequence[FieldEdge], point: Point2) -> bool:
    """Whether a point lies inside a ring."""
    x, r = point
    inside = False
    for edge in ring:
        (ax, ar), (bx, br) = edge.start, edge.end
        if (ar > r) != (br > r) and x < ax + (r - ar) / (br - ar) * (bx - ax):
            inside = not inside
    return inside


def _is_at(point: Point2, other: Point2) -> bool:
    return math.dist(point, other) < 10.0 * SAME_IN


def _slit(edges: list[FieldEdge], hole: list[FieldEdge], start: Point2, end: Point2, half: float) -> list[FieldEdge]:
    """A ring joined to a hole along both sides of a line from a corner of the hole; itself where that fails."""
    first = next(i for i, edge in enumerate(hole) if _is_at(edge.start, start))
    last = next((i for i, edge in enumerate(edges) if _on(edge, end)), None)
    if last is None:
        return edges
    cut, corner = edges[last], hole[first].start
    ring = [
        *edges[:last],
        FieldEdge(cut.kind, cut.start, end, cut.half, cut.source),
        FieldEdge("valley", end, corner, half, None),
        *hole[first:],
        *hole[:first],
        FieldEdge("valley", corner, end, half, None),
        FieldEdge(cut.kind, end, cut.end, cut.half, cut.source),
        *edges[last + 1 :],
    ]
    return [edge for edge in ring if math.dist(edge.start, edge.end) > SAME_IN]


def _split(edges: list[FieldEdge], start: Point2, end: Point2, half: float) -> list[list[FieldEdge]]:
    """A ring of edges cut in two from one of its corners to a point of another edge; itself where that fails."""
    n = len(edges)
    first = next((i for i in range(n) if math.dist(edges[i].start, start) < 10.0 * SAME_IN), None)
    last = next((i for i in range(n) if _on(edges[i], end)), None)
    if first is None or last is None or math.dist(start, end) < SAME_IN:
        return [edges]
    cut = edges[last]
    before = FieldEdge(cut.kind, cut.start, end, cut.half, cut.source)
    after = FieldEdge(cut.kind, end, cut.end, cut.half, cut.source)
    one = [*_run(edges, first, last), before, FieldEdge("valley", end, edges[first].start, half, None)]
    other = [after, *_run(edges, (last + 1) % n, first), FieldEdge("valley", edges[first].start, end, half, None)]
    return [[edge for edge in part if math.dist(edge.start, edge.end) > SAME_IN] for part in (one, other)]


def _run(edges: list[FieldEdge], start: int, stop: int) -> list[FieldEdge]:
    """Edges from start up to, but not with, stop, going round."""
    n = len(edges)
    return [edges[(start + k) % n] for k in range((stop - start) % n)]


def _on(edge: FieldEdge, point: Point2) -> bool:
    along = edge.direction
    away = minus2(point, edge.start)
    s = dot2(away, along)
    return abs(cross2(along, away)) < 10.0 * SAME_IN and -SAME_IN < s < math.dist(edge.start, edge.end) - SAME_IN
