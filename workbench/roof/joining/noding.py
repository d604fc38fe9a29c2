"""Segments cut at all their crossings, in exact places. Inches.

The geometry library's noding can go wrong by inches where segments lie in one line but for rounding, and wings drawn
in line are the rule here. So this is done anew: every crossing and every end that lies on another segment is a node, a
node is one place for all, and the best founded place is taken: ends first, then the squarest crossing.
"""

from __future__ import annotations

import itertools
import math
from collections.abc import Sequence
from typing import Any

import numpy as np

from workbench.roof.joining.geometry import Segment
from workbench.roof.model import Point2

NEAR_IN = 1e-5
"""Points nearer than this are one node."""

_PARALLEL = 1e-9  # sine under which two segments have no crossing of their own; their ends still count
_STILL_IN = 1e-9
_PASSES = 4


def noded(segments: Sequence[Segment], loose: Sequence[Segment] = ()) -> tuple[list[Point2], list[tuple[int, int]]]:
    """Nodes and sides of the network that some segments make.

    Args:
        segments: Any segments, crossing or overlapping as they like; those without length are left out.
        loose: More of them, whose ends are no places of their own and run on past what they end at.

    Returns:
        The nodes, and each side once as a pair of nodes. Sides meet at nodes only.
    """
    firm = [segment for segment in segments if math.dist(segment[:2], segment[2:]) > NEAR_IN]
    lines = firm + [segment for segment in loose if math.dist(segment[:2], segment[2:]) > NEAR_IN]
    nodes: list[Point2] = []
    sides: list[tuple[int, int]] = []
    for _ in range(_PASSES):
        nodes, moved = _nodes_of(firm, lines)
        sides, bent = _cut(lines, nodes)
        if max(moved, bent) <= _STILL_IN:
            break
        # Sides have shifted by as much: look whether they cross now.
        firm = lines = [(*nodes[a], *nodes[b]) for a, b in sides]
    return nodes, sides


def _nodes_of(firm: Sequence[Segment], lines: Sequence[Segment]) -> tuple[list[Point2], float]:
    """One place for each group of ends and crossings that lie together, and how far the furthest had to move."""
    points = [end for line in firm for end in (line[:2], line[2:])] + _crossings(lines)
    nodes: list[Point2] = []
    near: dict[tuple[int, int], list[int]] = {}
    furthest = 0.0
    cell = 2.0 * NEAR_IN
    for x, y in points:
        across, up = x / cell, y / cell
        column, row = math.floor(across), math.floor(up)
        # What is near lies no further than half a cell away: in this one, or past its nearer sides.
        columns = (column, column + 1 if across - column >= 0.5 else column - 1)
        rows = (row, row + 1 if up - row >= 0.5 else row - 1)
        away = math.inf
        for i in columns:
            for j in rows:
                if (i, j) in near:
                    away = min(away, *(math.dist(nodes[k], (x, y)) for k in near[i, j]))
        if away <= NEAR_IN:
            furthest = max(furthest, away)
            continue
        near.setdefault((column, row), []).append(len(nodes))
        nodes.append((x, y))
    return nodes, furthest


def _crossings(lines: Sequence[Segment]) -> list[Point2]:
    """Where segments cross, the squarest crossings first."""
    table: Any = np.array(lines, dtype=float).reshape(-1, 4)
    start, way = table[:, :2], table[:, 2:] - table[:, :2]
    length = np.hypot(way[:, 0], way[:, 1])
    unit = way / length[:, None]
    sine = _cross(unit[:, None, :], unit[None, :, :])
    apart = start[None, :, :] - start[:, None, :]
    with np.errstate(divide="ignore", invalid="ignore"):
        along = _cross(apart, unit[None, :, :]) / sine
        other = _cross(apart, unit[:, None, :]) / sine
    meets = np.triu(np.abs(sine) > _PARALLEL, 1)
    meets &= (along > -NEAR_IN) & (along < length[:, None] + NEAR_IN)
    meets &= (other > -NEAR_IN) & (other < length[None, :] + NEAR_IN)
    first, second = np.nonzero(meets)
    order = np.argsort(-np.abs(sine[first, second]), kind="stable")
    first, second = first[order], second[order]
    places = start[first] + along[first, second][:, None] * unit[first]
    return [(float(x), float(y)) for x, y in places]


def _cut(lines: Sequence[Segment], nodes: Sequence[Point2]) -> tuple[list[tuple[int, int]], float]:
    """The sides between neighbouring nodes on each segment, each side once, and how far they are off the segments."""
    table: Any = np.array(lines, dtype=float).reshape(-1, 4)
    places: Any = np.array(nodes, dtype=float)
    sides: dict[tuple[int, int], None] = {}
    way = table[:, 2:] - table[:, :2]
    length = np.hypot(way[:, 0], way[:, 1])
    ux, uy = way[:, 0] / length, way[:, 1] / length
    dx, dy = places[None, :, 0] - table[:, None, 0], places[None, :, 1] - table[:, None, 1]
    along = dx * ux[:, None] + dy * uy[:, None]
    off = np.abs(dx * uy[:, None] - dy * ux[:, None])
    on = (off <= NEAR_IN) & (along >= -NEAR_IN) & (along <= length[:, None] + NEAR_IN)
    furthest = float(off[on].max(initial=0.0))
    # Line by line, along each, and as the nodes come where two lie at one place.
    lines_on, nodes_on = np.nonzero(on)
    order = np.lexsort((nodes_on, along[lines_on, nodes_on], lines_on))
    chain: list[tuple[int, int]] = list(zip(lines_on[order].tolist(), nodes_on[order].tolist(), strict=True))
    for (line, a), (following, b) in itertools.pairwise(chain):
        if line == following:
            sides.setdefault((a, b) if a < b else (b, a))
    return list(sides), furthest


def _cross(a: Any, b: Any) -> Any:
    return a[..., 0] * b[..., 1] - a[..., 1] * b[..., 0]
