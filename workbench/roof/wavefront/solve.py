"""Raising the roof: from outline and edges to faces."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import replace

from workbench.errors import BadInput, NoSolution
from workbench.roof.model import Point2
from workbench.roof.wavefront.events import next_event
from workbench.roof.wavefront.faces import faces_of
from workbench.roof.wavefront.front import Front, Step, Tolerance
from workbench.roof.wavefront.lines import Corner, Line, first_lines
from workbench.roof.wavefront.network import Network
from workbench.roof.wavefront.outline import check_outline, extent
from workbench.roof.wavefront.result import FrontEdge, Raised, Takeover

_NEAR = 1e-10  # what counts as touching, as a part of the outline's extent
_SNAP = 1e-8  # what counts as one place; well under the shortest edge allowed
_SQUEEZE = 100.0  # width in snaps under which a sliver that stands still is closed
_COT_MIN, _COT_MAX = 1e-3, 1e4


def raise_roof(outline: Sequence[Point2], edges: Sequence[FrontEdge]) -> Raised:
    """The roof over an outline, each of whose edges climbs inward with its own slopes from its own height.

    Args:
        outline: Plan corners in inches, anticlockwise, without repeating the first.
        edges: One per outline edge; edge i runs from corner i to corner i + 1.

    Returns:
        Faces that cover the outline without gap or overlap. Heights start at the lowest start of a moving edge, and
        so do walls.

    Raises:
        BadInput: The outline is not a simple polygon listed anticlockwise, or an edge has no usable slope or changes it
            where it can't.
        NoSolution: No edge moves, or the walls keep the roof from closing.
    """
    check_outline(outline)
    _check_edges(len(outline), edges)
    size = extent(outline)
    lowest, lines = first_lines([outline], edges, _SNAP * size)
    network = Network(_SNAP * size)
    front = _set_out([outline], lines, lowest, network)
    pieces = sum(1 + len(edge.breaks) for edge in edges)
    _run(front, network, Tolerance(_NEAR * size, _SNAP * size, 0.5 * _SNAP * size), 50 + 30 * pieces)
    faces = faces_of(network, len(edges))
    takeovers = [
        Takeover(keep.edge, None if drop.added else drop.edge, network.place(start), network.place(end), drop.is_wall)
        for keep, drop, start, end in network.takeovers
    ]
    return Raised(faces, tuple(takeovers))


def _check_edges(corners: int, edges: Sequence[FrontEdge]) -> None:
    if len(edges) != corners:
        raise BadInput(f"The outline has {corners} edges, but {len(edges)} are described; describe each edge once.")
    for number, edge in enumerate(edges, 1):
        if not math.isfinite(edge.start_in):
            raise BadInput(f"The start height of edge {number} is not a finite length; give it in inches.")
        if edge.cot != 0.0 and not _COT_MIN <= edge.cot <= _COT_MAX:
            raise BadInput(
                f"The run per rise of edge {number} is {edge.cot:g}; it must be 0 (rake or wall) or between "
                f"{_COT_MIN:g} and {_COT_MAX:g}."
            )
        if edge.breaks:
            _check_breaks(number, edge)
    if all(edge.cot == 0.0 for edge in edges):
        raise NoSolution("All edges are rakes or walls, so nothing slopes; make at least one edge an eave.")


def _check_breaks(number: int, edge: FrontEdge) -> None:
    if edge.cot == 0.0:
        raise BadInput(f"Edge {number} is a rake or wall, so it has no slope that could change; make it an eave.")
    below = edge.start_in
    for change in edge.breaks:
        if not (math.isfinite(change.at_in) and change.at_in > below):
            raise BadInput(
                f"The slope over edge {number} changes at {change.at_in:g} in, which is not above {below:g} in where "
                "the piece below begins; put the changes in order, all above the start."
            )
        if change.cot != 0.0 and not _COT_MIN <= change.cot <= _COT_MAX:
            raise BadInput(
                f"The run per rise of edge {number} from {change.at_in:g} in on is {change.cot:g}; it must be 0 "
                f"(straight up) or between {_COT_MIN:g} and {_COT_MAX:g}."
            )
        below = change.at_in


def _set_out(rings: Sequence[Sequence[Point2]], lines: Sequence[Sequence[Line]], z: float, network: Network) -> Front:
    """The front at the lowest eave."""
    loops: list[list[Corner]] = []
    edge = 0
    for ring, ring_lines in zip(rings, lines, strict=True):
        nodes = [network.node(float(x), float(y), z) for x, y in ring]
        corners: list[Corner] = []
        for k, line in enumerate(ring_lines):
            network.add_outline(nodes[k], nodes[(k + 1) % len(ring)], line, edge)
            corners.append(Corner(ring_lines[k - 1], line, nodes[k], *ring[k], z, drawn=True))
            edge += 1
        loops.append(corners)
    return Front(loops, z)


def _run(front: Front, network: Network, tolerance: Tolerance, left: int) -> None:
    """Move the front until nothing is open any more, in not more than ``left`` moves.

    Raises:
        NoSolution: An area stays open between walls.
    """
    fronts = Step(front, front.z, network, tolerance).run()
    while fronts:
        front = fronts.pop()
        rise = next_event(front.loops, front.z, tolerance.near)
        left -= 1
        if not math.isfinite(rise) or left < 0:
            raise NoSolution(_open_area(front))
        following = Step(front, front.z + rise, network, tolerance).run()
        if _stands_still(front, following):
            following = Step(following[0], front.z, network, replace(tolerance, thin=_SQUEEZE * tolerance.snap)).run()
        fronts.extend(following)


def _stands_still(front: Front, following: Sequence[Front]) -> bool:
    """Whether a step has changed nothing: the next event of a sliver can be too near for the height to show it."""
    if len(following) != 1 or following[0].z > front.z:
        return False
    return [len(loop) for loop in following[0].loops] == [len(loop) for loop in front.loops]


def _open_area(front: Front) -> str:
    lines = [corner.line for loop in front.loops for corner in loop]
    x, y = front.loops[0][0].at(front.z)
    walls = sorted({line.edge + 1 for line in lines if line.is_wall and not line.added})
    if not all(line.is_wall for line in lines):
        return f"The roof could not be closed near ({x:.6g}, {y:.6g}); move a corner or change a slope there."
    if not walls:
        return (
            f"The roof does not close between the step walls near ({x:.6g}, {y:.6g}); "
            "give the edges in line there the same slope."
        )
    drawn = [line for line in lines if line.is_wall and not line.added]
    upright = sum(line.piece > 0 for line in drawn)
    if len(walls) == 1:
        what = "goes straight up there; let it slope on" if upright else "is a rake or wall; make it an eave"
        return f"The roof does not close beside edge {walls[0]}, which {what}."
    names = ", ".join(map(str, walls[:-1])) + f" and {walls[-1]}"
    if not upright:
        what = "are rakes or walls; make one of them an eave"
    elif upright == len(drawn):
        what = "go straight up there; let one of them slope on"
    else:
        what = "are rakes or walls or go straight up there; let one of them slope on"
    return f"The roof does not close between the edges {names}, which {what}."
