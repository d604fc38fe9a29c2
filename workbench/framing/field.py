"""The part of a plane that rafters fill: its outline less what stands along its edges. Seen from above.

Field axes: x as on the plane, r the level run up the slope from the plane's lowest point; inches. A rafter's end is the
stretch of the inset outline between its two faces, so a cheek, a square end and an end that meets two timbers come out
of one rule.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from functools import cached_property

from workbench.framing.skeleton import SAME_IN, Timber
from workbench.framing.space import add2, cross2, dot2, flat, left_of, meet2, minus2, unit2
from workbench.roof.model import EdgeKind, Plane, PlaneEdge, Point2

_UPRIGHT_IN = 1e-9


@dataclass(frozen=True, slots=True)
class FieldEdge:
    """One side of a field, anticlockwise.

    Attributes:
        kind: What it is.
        start: Field axes.
        end: Field axes.
        half: Half the thickness of the timber along it.
        source: The plane's edge, or None along a long valley that crosses the plane.
    """

    kind: EdgeKind
    start: Point2
    end: Point2
    half: float
    source: PlaneEdge | None

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


@dataclass(frozen=True, eq=False)
class Field:
    """A plane, or the part of it to one side of a long valley."""

    plane: Plane
    edges: tuple[FieldEdge, ...]

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
    def _inset(self) -> tuple[tuple[int, ...], tuple[Point2, ...]]:
        """Edges that are left when each is moved in by its timber, and the corner at which each starts."""
        kept = list(range(len(self.edges)))
        while True:
            corners = [self._corner(kept[i - 1], kept[i]) for i in range(len(kept))]
            gone = [i for i in range(len(kept)) if self._turned(kept[i], corners[i], corners[(i + 1) % len(kept)])]
            if not gone or len(kept) <= 3:
                return tuple(kept), tuple(corners)
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

    def end_at(self, index: int, x: float, half: float, *, upper: bool) -> Fitted:
        """The end of a rafter that stands at x and ends on an edge.

        Args:
            index: Number of the edge its centre line ends on.
            x: Its centre line.
            half: Half its thickness.
            upper: Whether it is its upper end.
        """
        kept, corners = self._inset
        at = kept.index(index) if index in kept else self._nearest(kept, corners, x, upper=upper)
        # An upper edge of an anticlockwise ring runs from right to left, a lower one from left to right.
        leftward = 1 if upper else -1
        at = self._settled(at, x, leftward)
        left = self._walk(at, x, x - half, leftward)
        right = self._walk(at, x, x + half, -leftward)
        points = [*reversed(left[0]), *right[0]]
        edges = [*reversed(left[1]), *right[1][1:]]
        return self._plain(points, [kept[i] for i in edges])

    def _nearest(self, kept: Sequence[int], corners: Sequence[Point2], x: float, *, upper: bool) -> int:
        """The edge over (or under) x where the one asked for has vanished."""
        best = 0
        gap = math.inf
        for i in range(len(kept)):
            a, b = corners[i][0], corners[(i + 1) % len(kept)][0]
            if (b < a) != upper or abs(a - b) < _UPRIGHT_IN:
                continue
            away = max(min(a, b) - x, x - max(a, b), 0.0)
            if away < gap:
                best, gap = i, away
        return best

    def _settled(self, at: int, x: float, leftward: int) -> int:
        """The edge, of the run of edges that ``at`` belongs to, that lies over x."""
        for side, sign in ((leftward, -1.0), (-leftward, 1.0)):
            while sign * (x - self._end_of(at, side)[0]) > SAME_IN:
                following = self._next(at, side, sign)
                if following is None:
                    break
                at = following
        return at

    def _end_of(self, at: int, step: int) -> Point2:
        """The corner at which edge ``at`` goes over into edge ``at + step``."""
        kept, corners = self._inset
        return corners[(at + 1) % len(kept)] if step > 0 else corners[at]

    def _next(self, at: int, step: int, sign: float) -> int | None:
        """The edge after ``at`` if it goes on in the same sense across, else None."""
        kept, _ = self._inset
        following = (at + step) % len(kept)
        here, there = self._end_of(at, step), self._end_of(following, step)
        return following if sign * (there[0] - here[0]) > SAME_IN else None

    def _walk(self, at: int, x: float, to: float, step: int) -> tuple[list[Point2], list[int]]:
        """From x along the inset outline to another x: corners passed with the last point, and the edges used."""
        sign = 1.0 if to > x else -1.0
        points: list[Point2] = []
        edges = [at]
        while sign * (to - self._end_of(at, step)[0]) > SAME_IN:
            following = self._next(at, step, sign)
            if following is None:
                break
            points.append(self._end_of(at, step))
            at = following
            edges.append(at)
        points.append((to, self._run_at(at, to)))
        return points, edges

    def _run_at(self, at: int, x: float) -> float:
        kept, _ = self._inset
        start, along = self._moved[kept[at]]
        if abs(along[0]) < _UPRIGHT_IN:
            return start[1]
        return start[1] + (x - start[0]) * along[1] / along[0]

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


def fields_of(plane: Plane, timbers: Sequence[Timber]) -> list[Field]:
    """The fields of a plane: itself, or its parts between the long valleys that cross it.

    Args:
        plane: The plane.
        timbers: All ridges, hips and valleys of its wing.
    """
    halves = _halves(plane, timbers)
    stretch = plane.stretch
    ring = tuple((x, y / stretch) for x, y in plane.polygon)
    edges = [
        FieldEdge(edge.kind, a, b, halves[i], edge)
        for i, (edge, a, b) in enumerate(zip(plane.edges, ring, ring[1:] + ring[:1], strict=True))
        if math.dist(a, b) > SAME_IN
    ]
    fields = [edges]
    for valley in timbers:
        if valley.through is not None and valley.kind == "valley":
            start = _field_point(plane, flat(valley.through))
            end = _field_point(plane, flat(valley.b))
            fields = [part for field in fields for part in _split(field, start, end, valley.half)]
    return [Field(plane, tuple(field)) for field in fields]


def _field_point(plane: Plane, point: Point2) -> Point2:
    x, y = plane.to_plane(point)
    return x, y / plane.stretch


def _halves(plane: Plane, timbers: Sequence[Timber]) -> list[float]:
    by_kind = {timber.kind: timber.half for timber in timbers}
    return [by_kind.get(edge.kind, 0.0) if edge.kind in ("ridge", "hip", "valley") else 0.0 for edge in plane.edges]


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
