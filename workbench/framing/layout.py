"""Where rafters stand on each plane, and what each runs between. Inches.

The layout is measured from one end of the building line: the first rafter's outer face stands flush with that end, the
others' centres at whole spacings from it, or from a little further in, so that sheets measured from there join on
centres; the last stands flush with the other end. A rake overhang gets a barge rafter at its outer edge. Planes that
run the same way share one layout, so that rafters stand opposite across a ridge; it goes on over hips and valleys
between equal slopes, so that jacks meet there in pairs; elsewhere it begins anew at the corner. All of it is common
practice, no source.
"""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from workbench.framing.field import Field, Span
from workbench.framing.plies import trimmer_boards
from workbench.framing.skeleton import KeyLine
from workbench.framing.space import add2, back, cross2, flat, meet2, minus2
from workbench.framing.timber import SAME_IN
from workbench.job.model import Wing
from workbench.roof.model import EdgeKind, Plane, PlaneEdge, Point2, Point3

_PARALLEL = 1e-9
_FLUSH_ENDS: frozenset[EdgeKind] = frozenset(("rake", "wall", "step", "pitch_break"))


@dataclass(frozen=True, slots=True)
class RafterLine:
    """One rafter's centre line.

    Attributes:
        x: Its position, plane axes.
        field: The field it stands in.
        span: What it runs between, field axes.
        barge: Whether it stands outside the building line, at the outer edge of a rake overhang.
        key: The upper end of the hip it stands under, or None.
    """

    x: float
    field: Field
    span: Span
    barge: bool = False
    key: Point3 | None = None

    @property
    def low_kind(self) -> EdgeKind:
        """Kind of the edge it starts on."""
        return self.field.edges[self.span.low_edge].kind

    @property
    def high_kind(self) -> EdgeKind:
        """Kind of the edge it ends on."""
        return self.field.edges[self.span.high_edge].kind


@dataclass(frozen=True, slots=True)
class _Side:
    """One end of a plane's building line: where it is and what bounds the plane there."""

    x: float
    kind: EdgeKind


@dataclass(frozen=True, slots=True)
class _Zone:
    """Part of a plane whose layout is measured from ``anchor``; it begins at ``start``."""

    start: float
    anchor: float


def wing_lines(
    wing: Wing,
    outline: Sequence[Point2],
    planes: Sequence[Plane],
    fields: Mapping[str, Sequence[Field]],
    keys: Sequence[KeyLine],
) -> dict[str, list[RafterLine]]:
    """The rafter lines of every plane from left to right.

    Args:
        wing: The wing, solved values put in.
        outline: Its effective building line.
        planes: Its planes.
        fields: Fields by plane id.
        keys: Commons that must stand at the upper ends of hips.
    """
    zones = _Zones(wing, outline, planes).all()
    lines: dict[str, list[RafterLine]] = {}
    for plane in planes:
        mine = [key for key in keys if key.plane == plane.id]
        lines[plane.id] = _Laid(
            wing, plane, fields[plane.id], plane_sides(wing, outline, plane), zones[plane.id]
        ).lines(mine)
    return lines


def plane_sides(wing: Wing, outline: Sequence[Point2], plane: Plane) -> tuple[_Side, _Side]:
    """Left and right end of a plane's building line."""
    index_of = {edge.id: i for i, edge in enumerate(wing.edges)}
    eaves = [i for i, edge in enumerate(plane.edges) if is_own_eave(edge)]
    ends: list[tuple[float, float, int]] = []
    for i in eaves:
        at = index_of[plane.edges[i].drawn or plane.drawn]
        a, b = (plane.to_plane(outline[k % len(outline)])[0] for k in (at, at + 1))
        ends.append((min(a, b), max(a, b), i))
    if not ends:
        at = index_of[plane.drawn]
        a, b = (plane.to_plane(outline[k % len(outline)])[0] for k in (at, at + 1))
        return _Side(min(a, b), "step"), _Side(max(a, b), "step")
    # An eave that an addition parts in two stands in the outline once: what bounds the plane is beside its outer parts.
    left = min(ends, key=lambda end: (end[0], plane.to_plane(plane.edges[end[2]].start)[0]))
    right = max(ends, key=lambda end: (end[1], plane.to_plane(plane.edges[end[2]].end)[0]))
    return _Side(left[0], _beside(plane, left[2], -1)), _Side(right[1], _beside(plane, right[2], 1))


def is_own_eave(edge: PlaneEdge) -> bool:
    """Whether an edge is a level eave (the short sloped return beside an unequal overhang is none)."""
    return edge.kind == "eave" and edge.drawn is not None and abs(edge.start[2] - edge.end[2]) < SAME_IN


def _beside(plane: Plane, index: int, step: int) -> EdgeKind:
    """What bounds the plane next to an eave, past any short return."""
    n = len(plane.edges)
    for k in range(1, n):
        edge = plane.edges[(index + step * k) % n]
        if edge.kind != "eave":
            return edge.kind
    return "step"


class _Zones:
    """Where the layout of each plane is measured from."""

    def __init__(self, wing: Wing, outline: Sequence[Point2], planes: Sequence[Plane]) -> None:
        self.wing = wing
        self.outline = outline
        self.planes = planes
        self.spacing = wing.rafter.spacing_in
        self.by_id = {plane.id: plane for plane in planes}
        self.found: dict[str, list[_Zone]] = {}

    def all(self) -> dict[str, list[_Zone]]:
        first = next(i for i, edge in enumerate(self.wing.edges) if edge.kind == "eave")
        a, b = (self.outline[k % len(self.outline)] for k in (first, first + 1))
        along = minus2(b, a)
        begin = self._begin(a, along) if self.wing.rafter.start == "left" else self._begin(b, back(along))
        for plane in self.planes:
            if abs(cross2(along, plane.across)) <= _PARALLEL * math.hypot(*along):
                self.found[plane.id] = [_Zone(-math.inf, plane.to_plane(begin)[0])]
        waiting = [plane for plane in self.planes if plane.id not in self.found]
        while waiting:
            # Planes that a known layout reaches over a hip or valley first; where none does, one begins anew.
            reached = {plane.id: self._reached(plane) for plane in waiting}
            ready = [plane for plane in waiting if reached[plane.id]] or waiting[:1]
            for plane in ready:
                self.found[plane.id] = self._zones(plane, reached[plane.id])
            waiting = [plane for plane in waiting if plane.id not in self.found]
        return self.found

    def _begin(self, end: Point2, inward: Point2) -> Point2:
        """Where whole spacings are counted from: an end of the eave, or a little in from it."""
        return add2(end, inward, self.wing.rafter.offset_in / math.hypot(*inward))

    def _reached(self, plane: Plane) -> dict[int, float]:
        """For each edge over which a known layout goes on to this plane, a position that belongs to it."""
        known: dict[int, float] = {}
        for i, edge in enumerate(plane.edges):
            other = self.by_id.get(edge.neighbour or "")
            if edge.kind in ("hip", "valley") and other is not None and other.id in self.found:
                x = self._over(plane, edge, other)
                if x is not None:
                    known[i] = x
        return known

    def _over(self, plane: Plane, edge: PlaneEdge, other: Plane) -> float | None:
        a, b = flat(edge.start), flat(edge.end)
        middle = (other.to_plane(a)[0] + other.to_plane(b)[0]) / 2.0
        anchor = _anchor_at(self.found[other.id], middle)
        xs: list[float] = []
        for x in (anchor, anchor + self.spacing):
            start = flat(other.to_space((x, 0.0)))
            meeting = meet2(start, other.uphill, a, minus2(b, a))
            if meeting is None:
                return None
            xs.append(plane.to_plane(meeting)[0])
        return xs[0] if abs(abs(xs[1] - xs[0]) - self.spacing) < SAME_IN else None

    def _zones(self, plane: Plane, known: Mapping[int, float]) -> list[_Zone]:
        sides = plane_sides(self.wing, self.outline, plane)
        marks: list[tuple[float, float, float]] = []  # middle of the edge, its left end, anchor
        for i, edge in enumerate(plane.edges):
            xs = (plane.to_plane(edge.start)[0], plane.to_plane(edge.end)[0])
            if i in known:
                marks.append((sum(xs) / 2.0, min(xs), known[i]))
            elif edge.kind == "hip":
                # Where slopes differ the layout starts at the building corner the hip stands over.
                side = min(sides, key=lambda s: abs(s.x - sum(xs) / 2.0))
                if side.kind == "hip" and min(abs(x - side.x) for x in xs) <= abs(xs[0] - xs[1]):
                    marks.append((sum(xs) / 2.0, min(xs), side.x))
        marks.sort()
        if not marks:
            off = self.wing.rafter.offset_in
            return [_Zone(-math.inf, sides[0].x + off if self.wing.rafter.start == "left" else sides[1].x - off)]
        zones = [_Zone(-math.inf, marks[0][2])]
        for _, left, anchor in marks[1:]:
            off = (anchor - zones[-1].anchor) / self.spacing
            if abs(off - round(off)) * self.spacing > SAME_IN:
                zones.append(_Zone(max(left, zones[-1].start), anchor))
        return zones


def _anchor_at(zones: Sequence[_Zone], x: float) -> float:
    return [zone for zone in zones if zone.start <= x or zone is zones[0]][-1].anchor


class _Laid:
    """The rafter lines of one plane."""

    def __init__(
        self, wing: Wing, plane: Plane, fields: Sequence[Field], sides: tuple[_Side, _Side], zones: Sequence[_Zone]
    ) -> None:
        self.wing = wing
        self.plane = plane
        self.fields = fields
        self.sides = sides
        self.zones = zones
        self.half = wing.rafter.thickness_in / 2.0
        self.spacing = wing.rafter.spacing_in
        xs = [x for x, _ in plane.polygon]
        self.low, self.high = min(xs), max(xs)

    def lines(self, keys: Sequence[KeyLine]) -> list[RafterLine]:
        fixed = self._key_lines(keys) + self._trimmers()
        lines = list(fixed)
        for x in self._positions():
            lines += [line for line in self._at(x) if not any(self._clash(line, other) for other in fixed)]
        for x, outside in ((self.low + self.half, self.sides[0]), (self.high - self.half, self.sides[1])):
            if outside.kind in _FLUSH_ENDS and abs(x - outside.x) > self.half + SAME_IN:
                lines += self._at(x, barge=True)
        return sorted(lines, key=lambda line: (line.x, line.span.low))

    def _key_lines(self, keys: Sequence[KeyLine]) -> list[RafterLine]:
        lines: list[RafterLine] = []
        for key in keys:
            top = self.plane.to_plane(key.top)[1] / self.plane.stretch
            lines += [
                RafterLine(key.x, line.field, line.span, key=key.top)
                for line in self._at(key.x)
                if abs(line.span.high - top) < 10.0 * SAME_IN
            ]
        return lines

    def _trimmers(self) -> list[RafterLine]:
        """Rafters along both sides of every opening, as many as its headers have boards."""
        lines: list[RafterLine] = []
        for field in self.fields:
            for ring in field.openings:
                places = [place for edge in ring for place in (edge.start, edge.end)]
                xs, rs = [x for x, _ in places], [r for _, r in places]
                plies = trimmer_boards(self.wing, max(xs) - min(xs))
                sides = [min(xs) - self.half * (2 * k + 1) for k in range(plies)]
                sides += [max(xs) + self.half * (2 * k + 1) for k in range(plies)]
                lines += [
                    RafterLine(x, field, span)
                    for x in sides
                    for span in field.spans(x)
                    if span.low < max(rs) and min(rs) < span.high
                ]
        return lines

    def _clash(self, line: RafterLine, other: RafterLine) -> bool:
        """Whether two rafters would stand in each other."""
        beside = abs(line.x - other.x) < 2.0 * self.half - SAME_IN
        return beside and line.span.low < other.span.high and other.span.low < line.span.high

    def _at(self, x: float, *, barge: bool = False) -> list[RafterLine]:
        return [RafterLine(x, field, span, barge) for field in self.fields for span in field.spans(x)]

    def _positions(self) -> list[float]:
        left, right = self.sides
        flush = [left.kind in _FLUSH_ENDS, right.kind in _FLUSH_ENDS]
        first, last = left.x + self.half, right.x - self.half
        if all(flush) and last - first < SAME_IN:
            return [(left.x + right.x) / 2.0]
        # A centre closer to an end rafter than a thickness would stand in it. At a hip the first jack stands a spacing
        # in from the corner or less; over a valley the layout goes on as far as the plane does.
        low = first + 2.0 * self.half if flush[0] else left.x if left.kind == "hip" else self.low
        high = last - 2.0 * self.half if flush[1] else right.x if right.kind == "hip" else self.high
        steps = self._steps(low - SAME_IN, high + SAME_IN)
        return [*([first] if flush[0] else []), *steps, *([last] if flush[1] else [])]

    def _steps(self, low: float, high: float) -> list[float]:
        """Whole spacings from the zones' anchors between two positions, and no gap where two zones meet."""
        steps: list[float] = []
        for zone, following in zip(self.zones, [*self.zones[1:], None], strict=True):
            start = max(low, zone.start)
            stop = min(high, following.start) if following else high
            if stop - start < SAME_IN:
                continue
            k = math.ceil((start - zone.anchor) / self.spacing)
            x = zone.anchor + k * self.spacing
            if steps and x - steps[-1] > self.spacing + SAME_IN:
                steps.append(max(zone.start, steps[-1] + 2.0 * self.half))  # beside the last one, never in it
            while x < stop:
                # Where two zones meet, a rafter of the one may stand in the last one of the other.
                if not steps or x - steps[-1] > 2.0 * self.half - SAME_IN:
                    steps.append(x)
                k += 1
                x = zone.anchor + k * self.spacing
        return steps
