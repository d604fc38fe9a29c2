"""Lines in plan cut each other into cells; over each cell every plane of the group is one and the same.

Nodes are where lines meet (``noding.py``); cells too narrow to be anything but rounding go with a neighbour. Inches.
"""

from __future__ import annotations

import math
from collections import Counter
from collections.abc import Collection, Sequence
from dataclasses import dataclass
from functools import cached_property

from workbench.roof.joining.geometry import Segment, areas_between
from workbench.roof.joining.noding import noded
from workbench.roof.model import Point2

_SHORT_IN = 1e-4  # nodes nearer than this are one
_NARROW_IN = 1.0 / 64.0  # the drawing lattice
_THIN_IN = 1e-4  # a cell narrower than this goes with its neighbour

Side = tuple[int, int]


@dataclass(frozen=True)
class Cells:
    """A plane subdivision.

    Attributes:
        nodes: Its points.
        left: The cell to the left of each directed side (node, node); sides with nothing to their left are missing.
        areas: Area of each cell, square inches.
        corners: The nodes of each cell.
        insides: A point inside each cell.
    """

    nodes: tuple[Point2, ...]
    left: dict[Side, int]
    areas: dict[int, float]
    corners: dict[int, tuple[int, ...]]
    insides: dict[int, Point2]

    def right(self, side: Side) -> int | None:
        """The cell on the other side, or None."""
        return self.left.get((side[1], side[0]))

    @cached_property
    def sides(self) -> dict[int, tuple[Side, ...]]:
        """Directed sides round each cell."""
        found: dict[int, list[Side]] = {cell: [] for cell in self.areas}
        for side, cell in self.left.items():
            found[cell].append(side)
        return {cell: tuple(sides) for cell, sides in found.items()}

    @cached_property
    def beside(self) -> dict[int, tuple[int, ...]]:
        """The cells across the sides of each cell, one for each side that has any."""
        left = self.left
        return {cell: tuple(left[b, a] for a, b in sides if (b, a) in left) for cell, sides in self.sides.items()}

    def parts(self, among: Collection[int]) -> list[list[int]]:
        """The cells of a set in groups that hang together by their sides, in the order of their first cells."""
        wanted, beside = set(among), self.beside
        parts: list[list[int]] = []
        for first in sorted(wanted):
            if first not in wanted:
                continue
            wanted.discard(first)
            part, front = [first], [first]
            while front:
                for other in beside[front.pop()]:
                    if other in wanted:
                        wanted.discard(other)
                        part.append(other)
                        front.append(other)
            parts.append(part)
        return parts

    def outer_sides(self, part: Collection[int]) -> list[Side]:
        """The sides round some cells."""
        within = set(part)
        return [side for cell in part for side in self.sides[cell] if self.right(side) not in within]

    def length(self, side: Side) -> float:
        """Length of a side in plan."""
        return math.dist(self.nodes[side[0]], self.nodes[side[1]])

    def middle(self, side: Side) -> Point2:
        """Middle of a side."""
        (ax, ay), (bx, by) = self.nodes[side[0]], self.nodes[side[1]]
        return (ax + bx) / 2.0, (ay + by) / 2.0


def cut_into_cells(segments: Sequence[Segment], loose: Sequence[Segment] = ()) -> Cells:
    """The cells between some segments, some of which may run on past what they end at; loose ends are left out."""
    nodes, sides = noded(segments, loose) if segments else ([], [])
    parts = areas_between([(nodes[a], nodes[b]) for a, b in sides]) if sides else []
    if not parts:
        return Cells((), {}, {}, {}, {})
    numbers = {node: number for number, node in enumerate(nodes)}
    rings = [[[numbers[point] for point in ring] for ring in _turned(its)] for its, _ in parts]
    rings = _contracted(rings, nodes)
    areas = [abs(sum(twice_area([nodes[n] for n in ring]) for ring in its)) / 2.0 for its in rings]
    left = {side: cell for cell, its in enumerate(rings) for ring in its for side in zip(ring, ring[1:] + ring[:1])}
    stands = _thin_merged(nodes, left, areas)
    merged = {side: stands[cell] for side, cell in left.items() if stands[cell] is not None}
    kept = {side: cell for side, cell in merged.items() if cell is not None and merged.get((side[1], side[0])) != cell}
    total: dict[int, float] = {}
    for cell, whole in enumerate(stands):
        if whole is not None and rings[cell]:
            total[whole] = total.get(whole, 0.0) + areas[cell]
    return Cells(
        tuple(nodes),
        kept,
        total,
        {cell: tuple(dict.fromkeys(node for ring in rings[cell] for node in ring)) for cell in total},
        {cell: parts[cell][1] for cell in total},
    )


def is_narrow(cells: Cells, part: Collection[int], round_it: Collection[Side]) -> bool:
    """Whether some cells together are narrower than the drawing lattice: too narrow to be built or to matter."""
    area = sum(cells.areas[cell] for cell in part)
    return 2.0 * area < _NARROW_IN * sum(map(cells.length, round_it))


def _turned(rings: Sequence[list[Point2]]) -> list[list[Point2]]:
    """The rings of an area, the outer one first, each with the area to its left."""
    return [ring if (twice_area(ring) > 0.0) == (k == 0) else ring[::-1] for k, ring in enumerate(rings)]


def twice_area(ring: Sequence[Point2]) -> float:
    """Twice the area of a ring, positive when it runs anticlockwise."""
    x0, y0 = ring[0]
    twice = before_x = before_y = 0.0
    for x, y in ring:
        x, y = x - x0, y - y0
        twice += before_x * y - x * before_y
        before_x, before_y = x, y
    return twice


def _contracted(rings: list[list[list[int]]], nodes: Sequence[Point2]) -> list[list[list[int]]]:
    """The rings with nodes that lie closer than can be told apart made one; rings that have no area left go."""
    sides = {side for its in rings for ring in its for side in zip(ring, ring[1:] + ring[:1])}
    stands = list(range(len(nodes)))
    degree = Counter(a for a, _ in sides)

    def standing(node: int) -> int:
        while stands[node] != node:
            node = stands[node]
        return node

    for a, b in sorted(sides):
        if math.dist(nodes[a], nodes[b]) < _SHORT_IN:
            u, v = standing(a), standing(b)
            first, second = (u, v) if (-degree[u], u) <= (-degree[v], v) else (v, u)
            stands[second] = first
    if all(stands[node] == node for node in range(len(nodes))):
        return rings
    return [[kept for ring in its if len(kept := _plain([standing(node) for node in ring])) >= 3] for its in rings]


def _plain(ring: list[int]) -> list[int]:
    """A ring without repeats and without spurs."""
    path: list[int] = []
    for node in ring:
        if path and path[-1] == node:
            continue
        if len(path) > 1 and path[-2] == node:
            path.pop()
        else:
            path.append(node)
    while len(path) > 1 and path[0] == path[-1]:
        path.pop()
    while len(path) > 2 and path[1] == path[-1]:
        path = path[1:-1] if len(path) > 3 else []
    return path


def _thin_merged(nodes: Sequence[Point2], left: dict[Side, int], areas: Sequence[float]) -> list[int | None]:
    """For each cell the one it is part of: itself, or for a sliver the neighbour along its longest side (or none)."""
    stands: list[int | None] = list(range(len(areas)))
    round_cell: dict[int, list[tuple[float, Side]]] = {}
    for side, cell in left.items():
        round_cell.setdefault(cell, []).append((math.dist(nodes[side[0]], nodes[side[1]]), side))
    thin = {c for c, its in round_cell.items() if 2.0 * areas[c] <= _THIN_IN * sum(length for length, _ in its)}
    waiting, ready = sorted(thin), [0.1, 0.25, 0.5]
    while waiting:
        again: list[int] = []
        for cell in waiting:
            settled = [(length, side) for length, side in round_cell[cell] if left.get((side[1], side[0])) not in thin]
            # Wait for the neighbour along a long side: taken over along a short one, a sliver would stick out.
            if not settled or max(settled)[0] < ready[-1] * max(round_cell[cell])[0]:
                again.append(cell)
                continue
            (_, (a, b)) = max(settled)
            other = left.get((b, a))
            stands[cell] = None if other is None else stands[other]
            thin.discard(cell)
        if len(again) == len(waiting) and len(ready) == 1:  # nothing but slivers: nothing is there
            break
        if len(again) == len(waiting):
            ready.pop()
        waiting = again
    return [None if cell in thin else whole for cell, whole in enumerate(stands)]
