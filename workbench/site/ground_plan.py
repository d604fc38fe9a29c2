"""Plan geometry the site figures share: building lines, what crosses them, boards in one line. Inches."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from functools import cached_property

from workbench.framing.model import Framing, Member, Placement
from workbench.framing.space import add2, cross2, dot2, flat, left_of, minus2, unit2
from workbench.job.model import Edge, Wing
from workbench.roof.eaves import edge_plate
from workbench.roof.model import Plane, Point2, Point3
from workbench.roof.solved import BuiltWing, Eave

SAME_IN = 1e-4
_STRAIGHT = 1e-6
_NEAR_IN = 2.0  # an edge this near a board lies along it


@dataclass(frozen=True)
class EaveLine:
    """The building line under one drawn eave.

    Attributes:
        wing: The wing, solved values put in.
        edge: The drawn edge.
        eave: The eave as solved.
        plane: The plane that rises from it, or the largest piece of it.
        left: Plan point of its left end, seen from outside below.
        right: Plan point of its right end.
    """

    wing: Wing
    edge: Edge
    eave: Eave
    plane: Plane
    left: Point2
    right: Point2

    @property
    def name(self) -> str:
        """Its id, as ``wing/edge``."""
        return f"{self.wing.id}/{self.edge.id}"

    @cached_property
    def along(self) -> Point2:
        """Unit plan vector from left to right."""
        return unit2(self.left, self.right)

    @cached_property
    def length_in(self) -> float:
        """From corner to corner."""
        return math.dist(self.left, self.right)

    def crossing(self, placement: Placement, short_in: float = SAME_IN) -> Point3 | None:
        """Where a member's centre line crosses it, on the line of its top edge; None where it does not.

        x and y of the answer are the plan point, z the height of the top edge.

        Args:
            placement: Where the member stands.
            short_in: It may end so far inside of the line, as a hip of several boards without a tail does.
        """
        inward = left_of(self.along)
        low = dot2(minus2(flat(placement.start), self.left), inward)
        high = dot2(minus2(flat(placement.end), self.left), inward)
        if low > short_in or high < SAME_IN or high - low < SAME_IN:
            return None  # not reached, or run along
        share = -low / (high - low)
        (ax, ay, az), (bx, by, bz) = placement.start, placement.end
        point = ax + (bx - ax) * share, ay + (by - ay) * share, az + (bz - az) * share
        u = self.u(flat(point))
        return point if -SAME_IN < u < self.length_in + SAME_IN else None

    def bears(self, plane_id: str) -> bool:
        """Whether a plane, or a piece of one, rises from it."""
        return plane_id == self.name or plane_id.startswith(f"{self.name}-")

    def u(self, point: Point2) -> float:
        """Distance along it from its left end of a plan point."""
        return dot2(minus2(point, self.left), self.along)


def eave_lines(wings: Sequence[BuiltWing]) -> list[EaveLine]:
    """The building line of every drawn eave that still bears a plane, in the order of the wings."""
    found: list[EaveLine] = []
    for built in wings:
        if built.solved is None:
            continue
        wing, outline = built.effective, built.solved.outline
        eaves = {eave.edge: eave for eave in built.solved.eaves}
        for i, edge in enumerate(wing.edges):
            mine = [plane for plane in built.planes if plane.drawn == edge.id and not plane.upper]
            if edge.kind == "eave" and mine and edge.id in eaves:
                plane = max(mine, key=lambda one: one.area_sqft)
                ends = outline[i], outline[(i + 1) % len(outline)]
                found.append(EaveLine(wing, edge, eaves[edge.id], plane, *ends))
    return found


def lowest_plate(wing: Wing) -> float:
    """The lowest plate that rafters of a wing sit on, inches."""
    return min(edge_plate(wing, edge) for edge in wing.edges if edge.kind == "eave")


@dataclass(frozen=True)
class Line:
    """Boards that lie end to end in one line: a ridge; or one hip or valley.

    Attributes:
        member: The first of them.
        marks: All marks, from a to b.
        start: One end of the top edge's centre line; the lower one.
        end: The other end.
        joints: Where boards meet, from start to end.
        planes: Ids of the planes beside it.
        plies: How many boards lie side by side; start and end are those of their middle.
    """

    member: Member
    marks: tuple[str, ...]
    start: Point3
    end: Point3
    joints: tuple[Point3, ...]
    planes: tuple[str, ...]
    plies: int = 1

    @property
    def thickness_in(self) -> float:
        """Of all boards side by side."""
        return self.plies * self.member.thickness_in

    @cached_property
    def along(self) -> Point2:
        """Unit plan vector from start to end."""
        return unit2(flat(self.start), flat(self.end))

    @cached_property
    def run_in(self) -> float:
        """Level length."""
        return math.dist(flat(self.start), flat(self.end))

    def place(self, point: Point2) -> tuple[float, float]:
        """How far along it from its start a plan point lies, and how far to its left."""
        away = minus2(point, flat(self.start))
        return dot2(away, self.along), cross2(self.along, away)

    def at(self, s: float) -> Point3:
        """Point of its top edge so far along."""
        x, y = add2(flat(self.start), self.along, s)
        return x, y, self.start[2] + (self.end[2] - self.start[2]) * s / self.run_in


def ridge_lines(framing: Framing, planes: Sequence[Plane]) -> list[Line]:
    """The ridges, boards in one line joined, in the order of their marks."""
    waiting = [(m, p) for m in framing.members if m.kind == "ridge_board" for p in m.placements]
    lines: list[Line] = []
    while waiting:
        member, placement = waiting.pop(0)
        ends = [(placement.start, placement.end, member.mark)]
        grown = True
        while grown:
            grown = False
            for other in list(waiting):
                if other[0].depth_in == member.depth_in and _goes_on(ends, other[1]):
                    ends.append((other[1].start, other[1].end, other[0].mark))
                    waiting.remove(other)
                    grown = True
        lines.append(_joined(member, ends, planes))
    return _one_of_plies(lines)


def sloped_lines(framing: Framing, planes: Sequence[Plane]) -> list[Line]:
    """Every hip and valley rafter, in the order of their marks."""
    return _one_of_plies(
        [
            Line(m, (m.mark,), p.start, p.end, (), _beside(p.start, p.end, m, planes))
            for m in framing.members
            if m.kind in ("hip_rafter", "valley_rafter")
            for p in m.placements
        ]
    )


def _one_of_plies(lines: Sequence[Line]) -> list[Line]:
    """Lines that lie side by side, board against board, as one in their middle."""
    groups: list[list[Line]] = []
    for line in lines:
        near = next((group for group in groups if any(_lies_against(one, line) for one in group)), None)
        if near is None:
            groups.append([line])
        else:
            near.append(line)
    return [group[0] if len(group) == 1 else _in_the_middle(group) for group in groups]


def _lies_against(one: Line, other: Line) -> bool:
    """Whether two boards of one kind touch along most of their length."""
    if one.member.kind != other.member.kind or abs(cross2(one.along, other.along)) > _STRAIGHT:
        return False
    ends = [one.place(flat(point)) for point in (other.start, other.end)]
    apart = abs(ends[0][1] + ends[1][1]) / 2.0
    overlap = min(max(ends[0][0], ends[1][0]), one.run_in) - max(min(ends[0][0], ends[1][0]), 0.0)
    return abs(apart - one.member.thickness_in) < 0.01 and overlap > min(one.run_in, other.run_in) / 2.0


def _in_the_middle(group: Sequence[Line]) -> Line:
    """One line for boards side by side."""
    first = group[0]
    same_way = [dot2(first.along, line.along) > 0.0 for line in group]
    starts = [line.start if same else line.end for line, same in zip(group, same_way, strict=True)]
    ends = [line.end if same else line.start for line, same in zip(group, same_way, strict=True)]
    marks = tuple(dict.fromkeys(mark for line in group for mark in line.marks))
    planes = tuple(dict.fromkeys(plane for line in group for plane in line.planes))
    joints = max((line.joints for line in group), key=len)
    return Line(first.member, marks, _mean(starts), _mean(ends), joints, planes, len(group))


def _mean(points: Sequence[Point3]) -> Point3:
    n = len(points)
    return sum(p[0] for p in points) / n, sum(p[1] for p in points) / n, sum(p[2] for p in points) / n


def _goes_on(ends: Sequence[tuple[Point3, Point3, str]], other: Placement) -> bool:
    first = unit2(flat(ends[0][0]), flat(ends[0][1]))
    if abs(cross2(first, unit2(flat(other.start), flat(other.end)))) > _STRAIGHT:
        return False
    return any(
        math.dist(a, b) < SAME_IN for start, end, _ in ends for a in (start, end) for b in (other.start, other.end)
    )


def _joined(member: Member, boards: Sequence[tuple[Point3, Point3, str]], planes: Sequence[Plane]) -> Line:
    along = unit2(flat(boards[0][0]), flat(boards[0][1]))

    def s(point: Point3) -> float:
        return dot2(flat(point), along)

    points = sorted({tuple(round(x, 6) for x in p): p for a, b, _ in boards for p in (a, b)}.values(), key=s)
    marks = tuple(mark for _, _, mark in sorted(boards, key=lambda board: s(board[0]) + s(board[1])))
    beside = _beside(points[0], points[-1], member, planes)
    return Line(member, marks, points[0], points[-1], tuple(points[1:-1]), beside)


def _beside(start: Point3, end: Point3, member: Member, planes: Sequence[Plane]) -> tuple[str, ...]:
    """The planes that meet along a board: those with an edge of its kind under its middle, or along part of it."""
    kind = {"ridge_board": "ridge", "hip_rafter": "hip", "valley_rafter": "valley"}[member.kind]
    found: dict[str, None] = {}
    low_x, high_x = sorted((start[0], end[0]))
    low_y, high_y = sorted((start[1], end[1]))
    for plane in planes:
        left, lower, right, upper = plane.plan_box
        if (
            left > high_x + _NEAR_IN
            or right < low_x - _NEAR_IN
            or lower > high_y + _NEAR_IN
            or upper < low_y - _NEAR_IN
        ):
            continue
        for edge in plane.all_edges:
            if edge.kind == kind and _overlap(flat(start), flat(end), flat(edge.start), flat(edge.end)):
                found[plane.id] = None
    return tuple(found)


def _overlap(a: Point2, b: Point2, p: Point2, q: Point2) -> bool:
    """Whether a stretch p q lies within 2 in of the line a b for more than an inch of its length."""
    along, run = unit2(a, b), math.dist(a, b)
    ends = [(dot2(minus2(x, a), along), cross2(along, minus2(x, a))) for x in (p, q)]
    if max(abs(w) for _, w in ends) > _NEAR_IN:
        return False
    low, high = sorted(s for s, _ in ends)
    return min(high, run) - max(low, 0.0) > 1.0


def inside(line: Line, outline: Sequence[Point2]) -> tuple[float, float]:
    """The stretch of a line, from its start, that lies over a building; all of it where none does."""
    cuts = sorted({0.0, line.run_in, *_crossings(line, outline)})
    kept = [
        (a, b)
        for a, b in zip(cuts, cuts[1:], strict=False)
        if b - a > SAME_IN and _within(line, (a + b) / 2.0, outline)
    ]
    return (kept[0][0], kept[-1][1]) if kept else (0.0, line.run_in)


def _crossings(line: Line, outline: Sequence[Point2]) -> Iterator[float]:
    for i, corner in enumerate(outline):
        (s0, w0), (s1, w1) = line.place(corner), line.place(outline[(i + 1) % len(outline)])
        if (w0 > 0.0) != (w1 > 0.0):
            s = s0 + (s1 - s0) * w0 / (w0 - w1)
            if 0.0 < s < line.run_in:
                yield s
        for s, w in ((s0, w0), (s1, w1)):
            if abs(w) < SAME_IN and 0.0 < s < line.run_in:
                yield s


def _within(line: Line, s: float, outline: Sequence[Point2]) -> bool:
    x, y = add2(flat(line.start), line.along, s)
    odd = False
    for i, (ax, ay) in enumerate(outline):
        bx, by = outline[(i + 1) % len(outline)]
        if (ay > y) != (by > y) and x < ax + (y - ay) / (by - ay) * (bx - ax):
            odd = not odd
    return odd
