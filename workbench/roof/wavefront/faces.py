"""From nodes and arcs to faces with merged sides."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

from workbench.roof.model import Point2, Point3
from workbench.roof.wavefront.lines import Line
from workbench.roof.wavefront.network import Arc, Network
from workbench.roof.wavefront.noding import clockwise
from workbench.roof.wavefront.result import Face, FaceSide


@dataclass(slots=True)
class _Half:
    """One face's view of an arc."""

    start: int
    end: int
    line: Line
    outline: int | None
    twin: _Half | None = None
    ring: int = -1


def faces_of(network: Network, edges: int) -> tuple[Face, ...]:
    """The faces between the network's arcs: roof by edge, then walls by edge.

    Args:
        network: All arcs; around each face they close.
        edges: Number of outline edges; added walls are numbered from here on.
    """
    arcs = _plain(network)
    halves: list[_Half] = []
    for arc in arcs:
        half = _Half(arc.start, arc.end, arc.left, arc.outline)
        halves.append(half)
        if arc.right is not None:
            half.twin = _Half(arc.end, arc.start, arc.right, arc.outline, half)
            halves.append(half.twin)
    rings = _rings(halves, network.nodes)
    owned = _owned(rings, edges)
    lines = [ring[0].line for ring in rings]
    order = sorted(range(len(rings)), key=lambda k: (lines[k].is_wall, owned[k][0], lines[k].piece, k))
    rings, owned = [rings[k] for k in order], [owned[k] for k in order]
    for k, ring in enumerate(rings):
        for half in ring:
            half.ring = k
    return tuple(_face(ring, rings, owned, network.nodes) for ring in rings)


def _plain(network: Network) -> list[Arc]:
    """The arcs between standing nodes, without folded ones, and in one piece where two go straight on."""
    arcs: list[Arc] = []
    for arc in network.arcs:
        start, end = network.standing(arc.start), network.standing(arc.end)
        if start != end:
            arcs.append(Arc(start, end, arc.left, arc.right, arc.outline))
    while _unfold(arcs):
        pass
    return _straightened(network.over_outline(arcs), network.nodes, network.snap)


def _unfold(arcs: list[Arc]) -> bool:
    """Take out one pair of arcs between which a face has no width; the faces beyond them become neighbours."""
    seen: dict[tuple[Line, int, int], Arc] = {}
    for arc in arcs:
        for face, start, end in _views(arc):
            seen.setdefault((face, start, end), arc)
            other = seen.get((face, end, start), arc)
            if other is arc:
                continue
            arcs[:] = [kept for kept in arcs if kept is not arc and kept is not other]
            outline = arc.outline if arc.outline is not None else other.outline
            left, right = _beyond(other, face), _beyond(arc, face)
            if left is None:
                left, right, start, end = right, left, end, start
            if left is not None and left is not right:
                arcs.append(Arc(start, end, left, right, outline))
            return True
    return False


def _views(arc: Arc) -> list[tuple[Line, int, int]]:
    """An arc as its faces see it: the face, from node, to node."""
    views = [(arc.left, arc.start, arc.end)]
    if arc.right is not None:
        views.append((arc.right, arc.end, arc.start))
    return views


def _beyond(arc: Arc, face: Line) -> Line | None:
    return arc.right if arc.left is face else arc.left


def _straightened(arcs: list[Arc], nodes: Sequence[Point3], snap: float) -> list[Arc]:
    """Make one of two arcs that meet straight between the same two faces where nothing else meets them."""
    at: dict[int, list[Arc]] = {}
    for arc in arcs:
        at.setdefault(arc.start, []).append(arc)
        at.setdefault(arc.end, []).append(arc)
    gone: set[int] = set()
    for node, meeting in at.items():
        if len(meeting) != 2 or meeting[0] is meeting[1]:
            continue
        first, second = meeting if meeting[0].end == node else (meeting[1], meeting[0])
        if second.end == node:
            _reverse(second)
        if first.end != node:
            _reverse(first)
        same = first.left is second.left and first.right is second.right and first.outline == second.outline
        if same and first.right is not None and _straight(nodes, first.start, node, second.end, snap):
            first.end = second.end
            gone.add(id(second))
            at[second.end] = [first if arc is second else arc for arc in at[second.end]]
    return [arc for arc in arcs if id(arc) not in gone]


def _reverse(arc: Arc) -> None:
    """Turn an arc between two faces round; one on the outline stays as it is."""
    if arc.right is not None:
        arc.start, arc.end, arc.left, arc.right = arc.end, arc.start, arc.right, arc.left


def _straight(nodes: Sequence[Point3], first: int, middle: int, last: int, snap: float) -> bool:
    a, b, c = nodes[first], nodes[middle], nodes[last]
    return math.dist(a, b) + math.dist(b, c) <= math.dist(a, c) + snap


def _rings(halves: Sequence[_Half], nodes: Sequence[Point3]) -> list[list[_Half]]:
    """Closed rings of halves of one face, turning as far left as possible so that touching areas stay apart."""
    leaving: dict[tuple[Line, int], list[_Half]] = {}
    for half in halves:
        leaving.setdefault((half.line, half.start), []).append(half)
    rings: list[list[_Half]] = []
    for first in halves:
        if first.ring >= 0:
            continue
        ring: list[_Half] = []
        half = first
        while half.ring < 0:
            half.ring = len(rings)
            ring.append(half)
            choice = [next_ for next_ in leaving[half.line, half.end] if next_ is first or next_.ring < 0]
            half = choice[0] if len(choice) == 1 else _leftmost(half, choice, nodes)
        rings.append(ring)
    return rings


def _leftmost(half: _Half, choice: Sequence[_Half], nodes: Sequence[Point3]) -> _Half:
    def flat(node: int) -> Point2:
        x, y, z = nodes[node]
        return (half.line.dx * x + half.line.dy * y, z) if half.line.is_wall else (x, y)

    centre, back = flat(half.end), flat(half.start)
    return min(choice, key=lambda other: clockwise(centre, back, flat(other.end)))


def _own_edges(ring: Sequence[_Half], owned: Sequence[tuple[int, ...]]) -> tuple[int, ...]:
    """The outline edges a face rises from: those under it on the outline, or on the wall below its raised start.

    A face that begins at a change of slope rises from the edges of the faces below it.
    """
    line = ring[0].line
    if line.is_wall:
        return (line.edge,)
    feet = [half for half in ring if half.twin is None or half.twin.line.then is line]
    own = {half.outline for half in feet if half.outline is not None}
    if line.piece > 0:
        own.update(edge for half in feet if half.twin is not None for edge in owned[half.twin.ring])
    return tuple(sorted(own)) or (line.edge,)


def _owned(rings: Sequence[Sequence[_Half]], edges: int) -> list[tuple[int, ...]]:
    """For each ring the edges it rises from; added walls get numbers of their own."""
    added: dict[Line, int] = {}
    owned: list[tuple[int, ...]] = [()] * len(rings)
    for k in sorted(range(len(rings)), key=lambda k: rings[k][0].line.piece):
        line = rings[k][0].line
        owned[k] = (added.setdefault(line, edges + len(added)),) if line.added else _own_edges(rings[k], owned)
    return owned


def _face(
    ring: Sequence[_Half], rings: Sequence[Sequence[_Half]], owned: Sequence[tuple[int, ...]], nodes: Sequence[Point3]
) -> Face:
    line, own = ring[0].line, owned[ring[0].ring]
    first = next((k for k, half in enumerate(ring) if half.outline == own[0] and half.twin is None), None)
    if first is None:
        first = next((k for k, half in enumerate(ring) if half.outline == own[0]), None)
    if first is None:
        first = next((k for k, half in enumerate(ring) if half.twin is not None and half.twin.line.then is line), 0)
    sides: list[FaceSide] = []
    for half in (*ring[first:], *ring[:first]):
        other = None if half.twin is None else half.twin.ring
        edge = None if other is None else owned[other][0]
        walled = other is not None and rings[other][0].line.is_wall
        sides.append(
            FaceSide(
                nodes[half.start],
                nodes[half.end],
                None if walled else edge,
                half.outline,
                edge if walled else None,
                other,
            )
        )
    return Face(own[0], own, "wall" if line.is_wall else "roof", line.added, tuple(sides), line.piece)
