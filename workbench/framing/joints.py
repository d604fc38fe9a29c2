"""Where timbers meet: what gives way to what, and how an end is cut because of it. Seen from above, inches.

A timber is a strip of its thickness along its line. Its end is what is left of the strip once everything it is framed
to has been taken away, so shortening, single and double cheeks and notched ends all come out of one rule. What is
framed to what: a ridge that passes carries everything; ridges that meet at an angle are mitred; a long valley carries
the lower ridge and the short valley (NAVEDTRA 14044); commons at a hip's head stand against the ridge, the hip between
them; the first of two equal ones stays whole (common practice, no source).
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

from workbench.framing.front import Front, end_line, line_front, ring_front
from workbench.framing.space import add2, back, cross2, dot2, flat, left_of, meet2, minus2
from workbench.framing.timber import SAME_IN, Timber
from workbench.roof.model import EdgeKind, Plane, PlaneEdge, Point2

_STRAIGHT = 1e-9
_RANK = {"header": -2, "ridge": 0, "common": 1, "valley": 2, "hip": 3}
_LAST = 4
_MOST_POINTS = 3
_OPEN_IN = 1e-4
"""What is left open by less is a fit: a theoretical ridge line has a width only to keep float noise away."""


@dataclass(frozen=True, slots=True)
class TrimmedEnd:
    """One end of a timber.

    Attributes:
        points: Its line in stick axes (s, w), from the left face to the right one.
        against: Timbers it is cut against.
        gap: Where more than two cuts would be needed for it to fit, it ends square, clear of everything it meets; then
            the widest gap that this leaves, level, else 0.
    """

    points: tuple[Point2, ...]
    against: tuple[Timber, ...]
    gap: float = 0.0


class Joints:
    """The ends of a group's timbers.

    Args:
        timbers: All ridges, hips, valleys and key commons of a group.
        planes: Its planes, for the outline that some ends lie on.
    """

    def __init__(self, timbers: Sequence[Timber], planes: Sequence[Plane]) -> None:
        self.timbers = tuple(timbers)
        self.order = {id(timber): i for i, timber in enumerate(self.timbers)}
        self.by_plane = {plane.id: plane for plane in planes}
        self._ends: dict[tuple[int, bool], TrimmedEnd | None] = {}
        self._at: dict[Point2, tuple[list[Timber], bool]] = {}

    def end(self, timber: Timber, *, upper: bool) -> TrimmedEnd | None:
        """One end of a timber as cut; None where timbers all give way to each other.

        Args:
            timber: One of the timbers.
            upper: The end at ``b``, else the one at ``a``.
        """
        key = (id(timber), upper)
        if key not in self._ends:
            self._ends[key] = None  # a ring of timbers that all give way to each other has no answer
            self._ends[key] = self._trimmed(timber, upper=upper)
        return self._ends[key]

    def _trimmed(self, timber: Timber, *, upper: bool) -> TrimmedEnd | None:
        tip = flat(timber.b if upper else timber.a)
        along = timber.direction if upper else back(timber.direction)
        fronts: list[Front] = []
        used: list[Timber] = []
        for other in self._near(timber, tip):
            if not self._gives_way(timber, other, tip):
                continue
            ring = self._footprint(other, tip, along)
            if ring is None:
                return None
            front = ring_front(ring, timber.half)
            # What lies wholly beyond the point where the lines meet holds nothing off.
            if front and min(min(a, b) for _, _, a, b in front) < SAME_IN:
                fronts.append(front)
                used.append(other)
        fronts += self._outside(timber, tip, along)
        fronts += self._mitres(timber, tip, along)
        free = self._cap(timber, tip, upper=upper) if timber.kind == "ridge" else 0.0
        chain = end_line(fronts, timber.half, free)
        gap = 0.0
        if len(chain) > _MOST_POINTS:
            clear = min(s for s, _ in chain)
            gap = max(s for s, _ in chain) - clear
            gap = gap if gap > _OPEN_IN else 0.0
            chain = [(clear, timber.half), (clear, -timber.half)]
        points = [(timber.run + s, w) if upper else (-s, -w) for s, w in chain]
        return TrimmedEnd(tuple(points if upper else reversed(points)), tuple(used), gap)

    def _near(self, timber: Timber, tip: Point2) -> list[Timber]:
        found: list[Timber] = []
        for other in self.timbers:
            if other is timber:
                continue
            s, w = other.place(tip)
            reach = other.half + timber.half
            if abs(w) < 2.0 * reach and -2.0 * reach < s < other.run + 2.0 * reach:
                found.append(other)
        return found

    def _gives_way(self, timber: Timber, other: Timber, tip: Point2) -> bool:
        """Whether a timber is cut against another at a point."""
        if other.passes(tip):
            return True
        if timber.kind == other.kind == "ridge":
            return False  # mitred
        mine, others = self._rank(timber, tip), self._rank(other, tip)
        return others < mine

    def _meeting(self, tip: Point2) -> tuple[list[Timber], bool]:
        """The timbers that end at a point, and whether a valley passes it."""
        if tip not in self._at:
            ending = [timber for timber in self.timbers if timber.ends_at(tip)]
            self._at[tip] = ending, any(t.kind == "valley" and t.passes(tip) for t in self.timbers)
        return self._at[tip]

    def _rank(self, timber: Timber, tip: Point2) -> tuple[int, int, int]:
        ending, crossed = self._meeting(tip)
        rank = _LAST if timber.kind == "common" and not timber.first else _RANK[timber.kind]
        if timber.kind == "valley" and crossed:
            rank = -1  # the short valley is cut square to the long one, the lower ridge fits between them
        place = self.order[id(timber)]
        if timber not in ending:
            # Near this point only, as over a short ridge one from its other end is: it ranks as it does at its own.
            own = min((flat(timber.a), flat(timber.b)), key=lambda end: math.dist(end, tip))
            ending, _ = self._meeting(own)
        for other in ending:
            if other is timber or other.kind != timber.kind:
                continue
            if abs(cross2(other.direction, timber.direction)) < _STRAIGHT:
                # Two in one line meet square and go before those that come from the sides.
                return rank, 0, min(place, self.order[id(other)])
        return rank, 1, place

    def _cap(self, ridge: Timber, tip: Point2, *, upper: bool) -> float:
        """How far past its point a ridge runs where nothing holds it off."""
        if any(other.passes(tip) for other in self.timbers if other is not ridge):
            return 0.0
        at_end = [t for t in self.timbers if t.kind != "ridge" and t.ends_at(tip)]
        outward = ridge.direction if upper else back(ridge.direction)
        beside = [t for t in at_end if t.kind == "common" and abs(dot2(t.direction, outward)) < 0.5]
        # The one common in the middle of a ridge too short for two: the board is as long as it is thick.
        middle = [t for t in self.timbers if t.kind == "common" and ridge.passes(flat(t.b))]
        past = [t.half - abs(dot2(minus2(flat(t.b), tip), outward)) for t in middle]
        # Hips and valleys that lie on the ridge's face need it under their whole width, commons under half of theirs.
        lying = [t for t in at_end if t.kind == "valley" or (t.kind == "hip" and not beside and not middle)]
        needed = [t.half for t in beside] + past + [self._bearing(ridge, t, tip, outward) for t in lying]
        return max([0.0, *needed])

    def _bearing(self, ridge: Timber, other: Timber, tip: Point2, outward: Point2) -> float:
        """How far past its point a ridge must run for all of another timber's end to lie on its face."""
        upper = math.dist(flat(other.b), tip) < SAME_IN
        if not upper:
            return 0.0  # a broken hip starts at the ridge's end
        away = back(other.direction)
        side = 1.0 if cross2(outward, away) > 0.0 else -1.0
        face = add2(tip, left_of(outward), side * ridge.half)
        reach = 0.0
        for sign in (1.0, -1.0):
            edge = add2(tip, left_of(away), sign * other.half)
            meeting = meet2(edge, away, face, outward)
            if meeting is not None:
                reach = max(reach, dot2(minus2(meeting, tip), outward))
        return reach

    def _footprint(self, other: Timber, tip: Point2, along: Point2) -> list[Point2] | None:
        """Another timber as it stands round a point, in axes along ``along`` from the point."""
        half, run = other.half, other.run
        points: list[Sequence[Point2]] = [((0.0, half), (0.0, -half)), ((run, half), (run, -half))]
        for i, upper in enumerate((False, True)):
            if self._near_end(other, tip, upper=upper):
                end = self.end(other, upper=upper)
                if end is None:
                    return None
                points[i] = end.points
        start, direction = minus2(flat(other.a), tip), other.direction
        left = left_of(direction)
        local: list[Point2] = []
        for s, w in (*points[0], *reversed(points[1])):
            away = add2(add2(start, direction, s), left, w)
            local.append((dot2(away, along), cross2(along, away)))
        return local

    def _near_end(self, other: Timber, tip: Point2, *, upper: bool) -> bool:
        return math.dist(flat(other.b if upper else other.a), tip) < 8.0 * other.half + SAME_IN

    def _mitre_with(self, timber: Timber, tip: Point2) -> list[Timber]:
        if timber.kind != "ridge":
            return []
        return [
            other
            for other in self.timbers
            if other is not timber
            and other.kind == "ridge"
            and other.ends_at(tip)
            and abs(cross2(other.direction, timber.direction)) > _STRAIGHT
        ]

    def _mitres(self, timber: Timber, tip: Point2, along: Point2) -> list[Front]:
        """Where a ridge meets another at an angle: the line that halves the angle."""
        fronts: list[Front] = []
        for other in self._mitre_with(timber, tip):
            inward = other.direction if math.dist(flat(other.a), tip) < SAME_IN else back(other.direction)
            bisector = minus2(inward, along)
            fronts += line_front((0.0, 0.0), _local(bisector, along), timber.half)
        return fronts

    def _outside(self, timber: Timber, tip: Point2, along: Point2) -> list[Front]:
        """The drawn outline or a wall at an end."""
        fronts: list[Front] = []
        for plane_id in {timber.left, timber.right}:
            plane = self.by_plane.get(plane_id)
            if plane is not None and timber.kind == "valley" and math.dist(flat(timber.a), tip) < SAME_IN:
                fronts += _at_trimmer(plane, timber, tip, along)
            for edge in plane.edges if plane is not None else ():
                if edge.kind in _BOUNDS and _touches(edge, tip):
                    a, b = flat(edge.start), flat(edge.end)
                    fronts += line_front(_local(minus2(a, tip), along), _local(minus2(b, a), along), timber.half)
        return fronts


_BOUNDS: frozenset[EdgeKind] = frozenset(("rake", "wall", "step"))


def _at_trimmer(plane: Plane, valley: Timber, tip: Point2, along: Point2) -> list[Front]:
    """What a valley's foot meets at a side of the hole it starts in: the trimmer's face, and the header's below it."""
    fronts: list[Front] = []
    for ring in plane.opening_edges:
        at = [edge for edge in ring if _touches(edge, tip)]
        if any(edge.kind == "wall" for edge in at):
            fronts += line_front((0.0, 0.0), _local(plane.uphill, along), valley.half)
            for edge in at:
                across = minus2(flat(edge.end), flat(edge.start))
                if edge.kind == "wall" and abs(dot2(across, plane.uphill)) < SAME_IN < math.hypot(*across):
                    fronts += line_front((0.0, 0.0), _local(across, along), valley.half)
    return fronts


def eave_edges_at(planes: Sequence[Plane], tip: Point2) -> list[PlaneEdge]:
    """The edges of these planes on the outline that touch a plan point."""
    return [edge for plane in planes for edge in plane.edges if edge.neighbour is None and _touches(edge, tip)]


def _touches(edge: PlaneEdge, tip: Point2) -> bool:
    return min(math.dist(flat(edge.start), tip), math.dist(flat(edge.end), tip)) < SAME_IN


def _local(vector: Point2, along: Point2) -> Point2:
    return dot2(vector, along), cross2(along, vector)
