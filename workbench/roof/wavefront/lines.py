"""The straight lines whose inward movement makes the front, and the corners between two of them."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace
from itertools import pairwise

from workbench.roof.model import Point2
from workbench.roof.wavefront.result import FrontEdge

PARALLEL = 1e-8  # sine of the angle under which two lines count as parallel: over the whole outline they part by a snap
_ILL_CONDITIONED = 1e-4  # below this sine a corner is followed from its last event instead of intersected anew


@dataclass(frozen=True, slots=True, eq=False)
class Line:
    """One line of the front; each is the foot of one flat face. At height z its points p have normal . p = at(z).

    Attributes:
        edge: Outline edge it stands for; -1 for an added step wall.
        dx: Plan direction, unit; the inside of the front is on its left.
        dy: Plan direction, unit.
        offset: normal . p at height ``base``, the normal being (-dy, dx).
        cot: Run per rise; 0 for a wall.
        base: Height where the plane starts, inches.
        wakes: Height at which another line takes its place (a raised edge's wall ends and its plane starts, or a plane
            changes its slope), inches; infinite where none does.
        then: The line that takes its place there.
        ends: Corners of the outline edge; an added step wall has none, nor has a piece above a change of slope.
        piece: How many changes of slope lie under it.
    """

    edge: int
    dx: float
    dy: float
    offset: float
    cot: float
    base: float
    wakes: float = math.inf
    then: Line | None = None
    ends: tuple[Point2, Point2] | None = None
    piece: int = 0

    @property
    def is_wall(self) -> bool:
        """Whether its face is vertical."""
        return self.cot == 0.0

    @property
    def added(self) -> bool:
        """Whether it is a step wall that no outline edge asked for."""
        return self.edge < 0

    @property
    def sleeps(self) -> bool:
        """Whether it is a wall that will carry a plane further up."""
        return self.cot == 0.0 and self.then is not None

    def at(self, z: float) -> float:
        """Offset along the normal of the line's points at height z, inches."""
        return self.offset + self.cot * (z - self.base)

    def in_line_with(self, other: Line) -> bool:
        """Whether both run in the same direction (of lines that share a point: whether they coincide)."""
        same_way = self.dx * other.dx + self.dy * other.dy > 0.0
        return same_way and abs(self.dx * other.dy - self.dy * other.dx) < PARALLEL


@dataclass(slots=True)
class Corner:
    """A corner of the front, moving evenly between two events that change one of its lines.

    Attributes:
        before: The line that ends here.
        line: The line that starts here.
        node: The roof corner it set out from.
        x: Plan position at height z.
        y: Plan position at height z.
        z: Height it set out at, inches.
        vx: Plan movement per rise.
        vy: Plan movement per rise.
        turn: Sine of the turn from ``before`` to ``line``; negative at an inside corner.
        drawn: Whether it has parted the same two edges ever since it was a corner of the outline.
    """

    before: Line
    line: Line
    node: int
    x: float
    y: float
    z: float
    vx: float = 0.0
    vy: float = 0.0
    turn: float = 0.0
    drawn: bool = False

    def __post_init__(self) -> None:
        """Work out turn and movement from the two lines."""
        a, b = self.before, self.line
        self.turn = a.dx * b.dy - a.dy * b.dx
        if abs(self.turn) < PARALLEL:
            self.vx, self.vy = -a.dy * a.cot, a.dx * a.cot
        else:
            self.vx = (b.dx * a.cot - a.dx * b.cot) / self.turn
            self.vy = (b.dy * a.cot - a.dy * b.cot) / self.turn

    def at(self, z: float) -> Point2:
        """Plan position at height z, inches: where its lines cross then."""
        if abs(self.turn) < _ILL_CONDITIONED:
            return self.x + self.vx * (z - self.z), self.y + self.vy * (z - self.z)
        a, b = self.before, self.line
        p, q = a.offset + a.cot * (z - a.base), b.offset + b.cot * (z - b.base)
        return (b.dx * p - a.dx * q) / self.turn, (b.dy * p - a.dy * q) / self.turn


def settle(values: Sequence[float], near: float) -> list[float]:
    """The values with those nearer to each other than ``near`` made equal to the least of their group."""
    settled: dict[float, float] = {}
    last, group = -math.inf, 0.0
    for value in sorted(values):
        if value - last > near:
            group = value
        settled[value], last = group, value
    return [settled[value] for value in values]


def first_lines(
    rings: Sequence[Sequence[Point2]], edges: Sequence[FrontEdge], near: float
) -> tuple[float, list[list[Line]]]:
    """The front's lines as it sets out, one per outline edge, and the height it sets out from.

    Edges whose planes coincide get one common line, so that their faces become one. An edge that starts higher than
    the lowest one begins as a wall that wakes at its start.

    Args:
        rings: Outline anticlockwise, then any holes clockwise.
        edges: One per edge, ring after ring.
        near: Distance in inches under which lines and starts count as one.
    """
    profiles = _profiles(edges, near)
    lowest = min(profile[0][0] for profile in profiles if profile)
    planes: list[Line] = []
    lines: list[list[Line]] = []
    k = 0
    for ring in rings:
        lines.append([])
        for (ax, ay), (bx, by) in zip(ring, [*ring[1:], ring[0]], strict=True):
            length = math.hypot(bx - ax, by - ay)
            dx, dy = (bx - ax) / length, (by - ay) / length
            wall = Line(k, dx, dy, dx * ay - dy * ax, 0.0, lowest, ends=((ax, ay), (bx, by)))
            if not profiles[k]:
                lines[-1].append(wall)
            else:
                plane = _climbing(wall, profiles[k], planes, near)
                start = profiles[k][0][0]
                lines[-1].append(replace(wall, wakes=start, then=plane) if start > lowest else plane)
            k += 1
    return lowest, lines


_Profile = list[tuple[float, float, int]]  # height from which on, run per rise, number of the piece


def _profiles(edges: Sequence[FrontEdge], near: float) -> list[_Profile]:
    """The pieces of every edge's plane from its start up, none for one that does not climb.

    Heights and slopes of all edges that hardly differ are made equal. Pieces without height, and changes to the slope
    there already is, are left out.
    """
    raw = [
        (k, height, cot, piece)
        for k, edge in enumerate(edges)
        if edge.cot > 0.0
        for piece, (height, cot) in enumerate([(edge.start_in, edge.cot), *((b.at_in, b.cot) for b in edge.breaks)])
    ]
    heights = settle([height for _, height, _, _ in raw], near)
    cots = settle([cot for _, _, cot, _ in raw], 1e-12)
    profiles: list[_Profile] = [[] for _ in edges]
    for (k, _, _, piece), height, cot in zip(raw, heights, cots, strict=True):
        profile = profiles[k]
        if profile and profile[-1][0] == height:
            profile.pop()
        if not profile or profile[-1][1] != cot:
            profile.append((height, cot, piece))
    return profiles


def _climbing(wall: Line, profile: _Profile, planes: list[Line], near: float) -> Line:
    """The line of the first piece over an outline edge, with those of the further pieces behind it."""
    offset = wall.offset
    offsets = [offset]
    for (low, cot, _), (high, _, _) in pairwise(profile):
        offset += cot * (high - low)
        offsets.append(offset)
    line: Line | None = None
    wakes = math.inf
    for (height, cot, piece), offset in zip(reversed(profile), reversed(offsets), strict=True):
        ends = wall.ends if piece == 0 else None
        line = Line(wall.edge, wall.dx, wall.dy, offset, cot, height, wakes, line, ends, piece)
        if cot > 0.0:
            line = _shared(line, planes, near)
        wakes = height
    assert line is not None
    return line


def _shared(line: Line, planes: list[Line], near: float) -> Line:
    """The line already known for the same plane that goes on alike, else this one, which is then known too."""
    for known in planes:
        same_slope = known.cot == line.cot and known.in_line_with(line)
        alike = known.piece == line.piece and known.then is line.then and known.wakes == line.wakes
        if same_slope and alike and abs(known.at(0.0) - line.at(0.0)) <= near:
            return known
    planes.append(line)
    return line
