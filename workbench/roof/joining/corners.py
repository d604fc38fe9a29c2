"""Corners of the pieces in space, one and the same on every plane that meets there. Inches."""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from dataclasses import replace

from workbench.roof.joining.geometry import is_simple
from workbench.roof.joining.scene import EQUAL_IN
from workbench.roof.joining.sides import Look, Piece, Pieces
from workbench.roof.model import Point2, Point3

_NEAR_IN = 1e-4
_STRAIGHT_IN = 1e-3
_SPIKE_IN = 2e-3

Ring = tuple[tuple[Point3, Look], ...]
"""Corners with the look of the side that starts there."""


class Corners:
    """Turns the sides of pieces into rings of corners."""

    def __init__(self, pieces: Pieces) -> None:
        self._pieces = pieces
        self.looks: dict[Piece, dict[tuple[int, int], Look]] = {
            piece: {side: pieces.look(piece, side) for side in sides} for piece, sides in pieces.sides_of.items()
        }
        _leave_odd_out(self.looks)
        self._vertex_of: dict[tuple[int, int], int] = {}
        self._vertices: list[Point3] = []
        self._place()
        self._corner = self._kept()

    def rings(self, piece: Piece) -> list[Ring]:
        """The rings of a piece, each with the piece to its left; the outer one is missing where it does not close."""
        looks = self.looks[piece]
        rings: list[Ring] = []
        for nodes in traced(looks, self._pieces.standing.cells.nodes):
            steps = zip(nodes, nodes[1:] + nodes[:1], strict=True)
            ring = [(self._vertex_of[a, piece[0]], looks[a, b]) for a, b in steps]
            corners = tuple((self._vertices[vertex], look) for vertex, look in ring if self._corner[vertex])
            if len(corners) >= 3 and not is_simple([corner[:2] for corner, _ in corners]):
                corners = without_spikes(corners)
            if len(corners) >= 3:
                rings.append(corners)
        return rings

    def _place(self) -> None:
        """A place in space for every node and layer; layers of one height there share it."""
        layers_at: dict[int, set[int]] = {}
        for (layer, _), looks in self.looks.items():
            for a, b in looks:
                layers_at.setdefault(a, set()).add(layer)
                layers_at.setdefault(b, set()).add(layer)
        layers, places = self._pieces.standing.scene.layers, self._pieces.standing.cells.nodes
        before = {k: self._corners_before(k) for k in {k for its in layers_at.values() for k in its}}
        for node in sorted(layers_at):
            heights = sorted((layers[k].height(places[node]), k) for k in layers_at[node])
            groups: list[list[int]] = []
            top = -math.inf
            for height, k in heights:
                if height - top < EQUAL_IN:
                    groups[-1].append(k)
                else:
                    groups.append([k])
                top = height
            for group in groups:
                for k in group:
                    self._vertex_of[node, k] = len(self._vertices)
                self._vertices.append(
                    _corner_near(places[node], group, before) or self._on_plane(places[node], min(group))
                )

    def _corners_before(self, layer: int) -> list[Point3]:
        """The corners a layer had before anything was joined, as far as they lie on its plane."""
        whole = self._pieces.standing.scene.layers[layer]
        return [corner for corner in whole.plane.corners if abs(whole.height(corner[:2]) - corner[2]) < EQUAL_IN]

    def _on_plane(self, place: Point2, layer: int) -> Point3:
        return (*place, self._pieces.standing.scene.layers[layer].height(place))

    def _kept(self) -> list[bool]:
        """Which vertices are corners: all but those where one side goes straight on as the same for everyone."""
        beside: list[dict[int, set[Look]]] = [{} for _ in self._vertices]
        for (layer, _), looks in self.looks.items():
            for (a, b), look in looks.items():
                u, v = self._vertex_of[a, layer], self._vertex_of[b, layer]
                beside[u].setdefault(v, set()).add(look)
                beside[v].setdefault(u, set()).add(look)
        return [not self._passes(vertex, others) for vertex, others in enumerate(beside)]

    def _passes(self, vertex: int, others: Mapping[int, set[Look]]) -> bool:
        if len(others) != 2:
            return False
        (u, first), (v, second) = others.items()
        a, b, c = self._vertices[u], self._vertices[vertex], self._vertices[v]
        return first == second and _off_line(a, b, c) < _STRAIGHT_IN


def _corner_near(place: Point2, group: Sequence[int], before: Mapping[int, Sequence[Point3]]) -> Point3 | None:
    """A corner that one of these layers had here before anything was joined."""
    x, y = place
    for k in sorted(group):
        for corner in before[k]:
            if abs(corner[0] - x) < _NEAR_IN and abs(corner[1] - y) < _NEAR_IN:
                return corner
    return None


def _leave_odd_out(looks: Mapping[Piece, dict[tuple[int, int], Look]]) -> None:
    """Where three planes end in one line, two meet each other there; the third ends under them, on no neighbour."""
    odd: list[tuple[Piece, tuple[int, int]]] = []
    for piece, mine in looks.items():
        for side, look in mine.items():
            if look.beyond is not None:
                across = looks[look.beyond].get((side[1], side[0]))
                if across is not None and across.beyond is not None and across.beyond != piece:
                    odd.append((piece, side))
    for piece, side in odd:
        looks[piece][side] = replace(looks[piece][side], kind="step", beyond=None)


def _off_line(a: Point3, b: Point3, c: Point3) -> float:
    """Distance of b from the line through a and c; endless where b is no point between them."""
    ux, uy, uz = (c[axis] - a[axis] for axis in range(3))
    vx, vy, vz = (b[axis] - a[axis] for axis in range(3))
    span = math.hypot(ux, uy, uz)
    if span == 0.0 or not 0.0 <= (ux * vx + uy * vy + uz * vz) / span <= span:
        return math.inf
    return math.hypot(uy * vz - uz * vy, uz * vx - ux * vz, ux * vy - uy * vx) / span


def without_spikes(ring: Ring) -> Ring:
    """The ring without corners that stick out or in by nothing; for lines so near one another that they cross twice."""
    kept = list(ring)
    k = 0
    while k < len(kept) and len(kept) > 3:
        (ax, ay, _), (bx, by, _), (cx, cy, _) = kept[k - 1][0], kept[k][0], kept[(k + 1) % len(kept)][0]
        height = abs((bx - ax) * (cy - ay) - (by - ay) * (cx - ax))
        longest = max(math.hypot(bx - ax, by - ay), math.hypot(cx - bx, cy - by), math.hypot(cx - ax, cy - ay))
        if height <= _SPIKE_IN * longest:
            del kept[k]
            k = max(0, k - 2)
        else:
            k += 1
    return tuple(kept)


def traced(sides: Mapping[tuple[int, int], object], nodes: Sequence[Point2]) -> list[list[int]]:
    """Directed sides in closed rings, none of which comes to a node twice.

    Where rings touch, the one that keeps the narrower area to its left is followed, and a ring that comes back to a
    node is parted there: areas that touch in a point come apart, holes that touch the outside stay holes.
    """
    leaving: dict[int, list[int]] = {}
    for a, b in sides:
        leaving.setdefault(a, []).append(b)
    rings: list[list[int]] = []
    for first in list(leaving):
        while leaving[first]:
            path = [first, leaving[first].pop()]
            while path[-1] != first or len(path) == 1:
                choice = leaving.get(path[-1])
                if not choice:  # the sides do not close: no ring
                    path = []
                    break
                place, back = nodes[path[-1]], nodes[path[-2]]
                onward = min(choice, key=lambda node: clockwise(place, back, nodes[node]))
                choice.remove(onward)
                path.append(onward)
                _part(path, rings, first)
            if len(path) > 1:
                rings.append(path[:-1])
    return rings


def _part(path: list[int], rings: list[list[int]], first: int) -> None:
    """Take a loop off the end of a path that has come back to a node other than its first."""
    last = path[-1]
    if last == first:
        return
    for k in range(len(path) - 2, 0, -1):
        if path[k] == last:
            rings.append(path[k:-1])
            del path[k + 1 :]
            return


def clockwise(centre: Point2, start: Point2, end: Point2) -> float:
    """The angle turned clockwise from one direction to another, in (0, 2π]."""
    ax, ay, bx, by = start[0] - centre[0], start[1] - centre[1], end[0] - centre[0], end[1] - centre[1]
    turn = math.atan2(bx * ay - by * ax, ax * bx + ay * by)
    return turn if turn > 1e-12 else turn + 2.0 * math.pi
