"""The front: rings of moving lines, and one step of theirs from event to event."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from workbench.roof.wavefront.lines import Corner, Line
from workbench.roof.wavefront.network import Network
from workbench.roof.wavefront.noding import Piece, Ring, Spots, cancel, flattened, is_thin, trace


@dataclass(slots=True)
class Front:
    """One connected area still open at a height.

    Attributes:
        loops: Its rings, the outer one anticlockwise, holes clockwise.
        z: Height, inches.
    """

    loops: list[list[Corner]]
    z: float


@dataclass(frozen=True, slots=True)
class Tolerance:
    """Distances in inches.

    Attributes:
        near: What counts as touching when looking for events.
        snap: What counts as one place after a move.
        thin: Width of a sliver that is closed at once.
    """

    near: float
    snap: float
    thin: float


class Step:
    """One move of a front to a height, and the clean-up there."""

    def __init__(self, front: Front, z: float, network: Network, tolerance: Tolerance) -> None:
        """Move the front's corners to height z."""
        self._network = network
        self._tolerance = tolerance
        self._z = z
        self._holes = len(front.loops) > 1
        self._corners = [corner for loop in front.loops for corner in loop]
        self._next: list[int] = []
        for loop in front.loops:
            base = len(self._next)
            self._next.extend(range(base + 1, base + len(loop)))
            self._next.append(base)
        self._spots = Spots(self._corners, self._next, z, tolerance.snap)
        self._level: list[tuple[int, int, Line, Line]] = []  # from spot, to spot, face on the left, on the right
        self._taken: list[tuple[Line, Line, int, int]] = []

    def run(self) -> list[Front]:
        """Clean up, record what the front has left behind, and return what is still open."""
        of = self._spots.of
        pieces = [(of[k], of[self._next[k]], c.line) for k, c in enumerate(self._corners)]
        pieces = self._spots.cut([piece for piece in pieces if piece[0] != piece[1]], self._tolerance.snap)
        pieces, met = cancel(pieces)
        self._meet(met)
        rings: list[Ring] = []
        for ring in trace(pieces, self._spots.place):
            if not self._holes and is_thin(ring, self._spots.place, self._tolerance.thin):
                self._meet(flattened(ring, self._spots.place))
                continue
            self._wake(ring)
            self._take_over(ring)
            rings.append(_joined(self._with_steps(ring)))
        return self._fronts(self._settle(rings))

    def _meet(self, pairs: Sequence[tuple[Piece, Piece]]) -> None:
        """Pieces that have met from both sides: level arcs between their faces."""
        for (start, end, below), (_, _, above) in pairs:
            self._level.append((start, end, above, below))

    def _wake(self, ring: Ring) -> None:
        """Raised edges whose start is reached begin to climb, and planes change their slope where they are to."""
        for k, (line, start) in enumerate(ring):
            if line.then is not None and line.wakes <= self._z + self._tolerance.near:
                self._level.append((start, ring[(k + 1) % len(ring)][1], line.then, line))
                ring[k] = (line.then, start)

    def _take_over(self, ring: Ring) -> None:
        """Where an event has made two lines neighbours in line, the shallower plane goes on alone."""
        k, settled = 0, 0
        while settled < len(ring):
            (before, _), (line, spot) = ring[k - 1], ring[k]
            if self._compete(before, line, spot):
                keep, drop = (before, line) if before.cot > line.cot else (line, before)
                m = k if drop is line else (k - 1) % len(ring)
                start, end = ring[m][1], ring[(m + 1) % len(ring)][1]
                ring[m] = (keep, start)
                self._level.append((start, end, keep, drop))
                self._taken.append((keep, drop, start, end))
                settled = 0
            else:
                settled += 1
            k = (k + 1) % len(ring)

    def _compete(self, before: Line, line: Line, spot: int) -> bool:
        """Whether two neighbours are in line, climb differently, and have not been side by side since they were drawn.

        A wall counts as the steepest plane, unless it carries a raised eave, which must not be cut short.
        """
        if before.cot == line.cot or before.sleeps or line.sleeps or not before.in_line_with(line):
            return False
        return not (self._sets_out(before) and self._sets_out(line)) and not self._drawn(before, line, spot)

    def _sets_out(self, line: Line) -> bool:
        return line.piece == 0 and line.cot * (self._z - line.base) <= self._tolerance.snap

    def _drawn(self, before: Line, line: Line, spot: int) -> bool:
        """Whether the corner between two lines at a spot goes back to a corner of the outline."""
        group = self._spots.members[spot]
        old = self._corners[group[0]]
        since = len(group) == 1 and old.drawn
        return since and before in (old.before, old.before.then) and line in (old.line, old.line.then)

    def _with_steps(self, ring: Ring) -> Ring:
        """The ring with a step wall, as yet without length, wherever neighbours in line are about to part."""
        stepped: Ring = []
        for k, (line, start) in enumerate(ring):
            before = ring[k - 1][0]
            if before.cot != line.cot and before.in_line_with(line):
                stepped.append((self._step_wall(before, line, start), start))
            stepped.append((line, start))
        return stepped

    def _step_wall(self, before: Line, line: Line, spot: int) -> Line:
        x, y = self._spots.place[spot]
        sign = 1.0 if line.cot > before.cot else -1.0
        dx, dy = -line.dy * sign, line.dx * sign
        return Line(-1, dx, dy, dx * y - dy * x, 0.0, self._z)

    def _settle(self, rings: Sequence[Ring]) -> list[list[Corner]]:
        """Corners of the rings. Those nothing happened to go on; the others end at a node, where new ones set out."""
        spots = self._spots
        going_on = self._going_on(rings)
        nodes: dict[int, int] = {}
        loops = [
            [
                self._corners[going_on[spot]] if spot in going_on else self._corner(ring[k - 1][0], line, spot, nodes)
                for k, (line, spot) in enumerate(ring)
            ]
            for ring in rings
        ]
        for k, corner in enumerate(self._corners):
            spot = spots.of[k]
            if spot not in going_on:
                self._network.add(corner.node, self._node(spot, nodes), corner.before, corner.line)
        for start, end, left, right in self._level:
            self._network.add(self._node(start, nodes), self._node(end, nodes), left, right)
        for keep, drop, start, end in self._taken:
            self._network.takeovers.append((keep, drop, nodes[start], nodes[end]))
        return loops

    def _going_on(self, rings: Sequence[Ring]) -> dict[int, int]:
        """Spots of just one old and one new corner between the same lines, with that old corner."""
        touched = {spot for start, end, _, _ in self._level for spot in (start, end)}
        fresh: dict[int, list[tuple[Line, Line]]] = {}
        for ring in rings:
            for k, (line, spot) in enumerate(ring):
                fresh.setdefault(spot, []).append((ring[k - 1][0], line))
        going_on: dict[int, int] = {}
        for spot, pairs in fresh.items():
            group = self._spots.members[spot]
            if len(group) == len(pairs) == 1 and spot not in touched:
                old = self._corners[group[0]]
                if old.before is pairs[0][0] and old.line is pairs[0][1]:
                    going_on[spot] = group[0]
        return going_on

    def _corner(self, before: Line, line: Line, spot: int, nodes: dict[int, int]) -> Corner:
        x, y = self._spots.place[spot]
        drawn = self._drawn(before, line, spot)
        return Corner(before, line, self._node(spot, nodes), x, y, self._z, drawn=drawn)

    def _node(self, spot: int, nodes: dict[int, int]) -> int:
        """The roof corner at a spot: where a corner has hardly left its node, that one; else a new one."""
        if spot not in nodes:
            x, y = self._spots.place[spot]
            snap = self._tolerance.snap
            known = [
                corner.node
                for corner in (self._corners[k] for k in self._spots.members[spot])
                if abs(corner.z - self._z) <= snap and abs(corner.x - x) <= snap and abs(corner.y - y) <= snap
            ]
            nodes[spot] = self._network.unite(known) if known else self._network.node(x, y, self._z)
        return nodes[spot]

    def _fronts(self, loops: list[list[Corner]]) -> list[Front]:
        """Rings move on one by one, unless there may be holes among them."""
        if not loops:
            return []
        if self._holes:
            return [Front(loops, self._z)]
        return [Front([loop], self._z) for loop in loops]


def _joined(ring: Ring) -> Ring:
    """The ring without corners between pieces of one line."""
    return [(line, spot) for k, (line, spot) in enumerate(ring) if line is not ring[k - 1][0]]
