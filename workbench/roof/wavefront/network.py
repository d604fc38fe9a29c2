"""What the front leaves behind: the roof's corners and the straight arcs between them, each with its two faces."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field
from itertools import pairwise

from workbench.roof.model import Point3
from workbench.roof.wavefront.lines import Line


@dataclass(slots=True)
class Arc:
    """A straight piece between two faces.

    Attributes:
        start: Node it runs from.
        end: Node it runs to.
        left: Line of the face that has it in this direction.
        right: Line of the face that has it in the opposite direction; None on the outline.
        outline: Outline edge it lies over, or None in mid-roof.
    """

    start: int
    end: int
    left: Line
    right: Line | None
    outline: int | None


@dataclass(slots=True)
class Network:
    """Nodes and arcs of the roof as they come about; snap is the distance in inches that counts as none."""

    snap: float
    nodes: list[Point3] = field(default_factory=list[Point3])
    arcs: list[Arc] = field(default_factory=list[Arc])
    takeovers: list[tuple[Line, Line, int, int]] = field(default_factory=list[tuple[Line, Line, int, int]])
    _alias: list[int] = field(default_factory=list[int])

    def node(self, x: float, y: float, z: float) -> int:
        """A new corner of the roof."""
        self.nodes.append((x, y, z))
        self._alias.append(len(self._alias))
        return len(self.nodes) - 1

    def unite(self, nodes: Sequence[int]) -> int:
        """Make nodes that hardly differ one; the oldest stands for all."""
        roots = [self.standing(node) for node in nodes]
        oldest = min(roots)
        for root in roots:
            self._alias[root] = oldest
        return oldest

    def standing(self, node: int) -> int:
        """The node that stands for this one."""
        while self._alias[node] != node:
            node = self._alias[node]
        return node

    def place(self, node: int) -> Point3:
        """Where a node is."""
        return self.nodes[self.standing(node)]

    def add(self, start: int, end: int, left: Line, right: Line) -> None:
        """A piece between two faces; nothing if it has no length or both sides are one face."""
        if start != end and left is not right:
            self.arcs.append(Arc(start, end, left, right, None))

    def add_outline(self, start: int, end: int, line: Line, edge: int) -> None:
        """A piece of the outline, with the face that rises from it."""
        self.arcs.append(Arc(start, end, line, None, edge))

    def over_outline(self, arcs: Iterable[Arc]) -> list[Arc]:
        """The arcs, those over an outline edge marked so.

        A drawn wall can go on past its outline edge, over lower roof; arcs beside it are cut at the outline's corner.
        """
        marked: list[Arc] = []
        for arc in arcs:
            walls = [line for line in (arc.left, arc.right) if line is not None and line.is_wall and line.ends]
            if len(walls) != 1 or arc.right is None:
                marked.append(arc)
                continue
            chain = [arc.start, *self._corners_between(arc.start, arc.end, walls[0]), arc.end]
            for a, b in pairwise(chain):
                outline = walls[0].edge if self._over_edge(a, b, walls[0]) else None
                marked.append(Arc(a, b, arc.left, arc.right, outline))
        return marked

    def _corners_between(self, start: int, end: int, wall: Line) -> list[int]:
        """New nodes where the piece passes over the corners of the wall's outline edge, in order."""
        (ax, ay, az), (bx, by, bz) = self.nodes[start], self.nodes[end]
        span = (bx - ax) * wall.dx + (by - ay) * wall.dy
        if abs(span) <= 2.0 * self.snap:
            return []
        passed: list[tuple[float, float, float]] = []
        for x, y in wall.ends or ():
            along = (x - ax) * wall.dx + (y - ay) * wall.dy
            if min(0.0, span) + self.snap < along < max(0.0, span) - self.snap:
                passed.append((along / span, x, y))
        return [self.node(x, y, az + t * (bz - az)) for t, x, y in sorted(passed)]

    def _over_edge(self, start: int, end: int, wall: Line) -> bool:
        """Whether the piece lies over the wall's outline edge, not over its continuation."""
        (ax, ay, _), (bx, by, _) = self.nodes[start], self.nodes[end]
        middle = ((ax + bx) * wall.dx + (ay + by) * wall.dy) / 2.0
        low, high = sorted(x * wall.dx + y * wall.dy for x, y in wall.ends or ())
        return low - self.snap <= middle <= high + self.snap
