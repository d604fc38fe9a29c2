"""Exact places of lattice nodes: where the lines that run through them cross. Inches."""

from __future__ import annotations

import math
from collections.abc import Sequence

from workbench.roof.joining.geometry import Segment, segments_near
from workbench.roof.model import Point2

_SQUARE = 0.5  # lines that cross at this sine or more are square enough to look no further
_PARALLEL = 1e-6


def true_places(nodes: Sequence[Point2], segments: Sequence[Segment], near_in: float) -> list[Point2]:
    """For each node the crossing of the segments that pass it.

    Args:
        nodes: Nodes rounded to the lattice.
        segments: The segments they were made from.
        near_in: How far a node may be from a segment through it.
    """
    through = segments_near(nodes, segments, near_in)
    return [crossing(node, [segments[k] for k in lines], near_in) for node, lines in zip(nodes, through, strict=True)]


def crossing(near: Point2, segments: Sequence[Segment], near_in: float) -> Point2:
    """Where the two of these lines that cross most squarely meet; with one line its nearest point, else the point."""
    best: tuple[float, Point2] | None = None
    units = [_unit(segment) for segment in segments]
    for i, (ax, ay, _, _) in enumerate(segments):
        ux, uy = units[i]
        for j in range(i + 1, len(segments)):
            sine = ux * units[j][1] - uy * units[j][0]
            if abs(sine) <= _PARALLEL or (best is not None and abs(sine) <= best[0]):
                continue
            along = ((segments[j][0] - ax) * units[j][1] - (segments[j][1] - ay) * units[j][0]) / sine
            place = (ax + along * ux, ay + along * uy)
            if math.dist(place, near) < 2.0 * near_in:
                best = (abs(sine), place)
                if best[0] > _SQUARE:
                    return place
    if best is not None:
        return best[1]
    if not segments:
        return near
    (ax, ay, _, _), (ux, uy) = segments[0], units[0]
    along = (near[0] - ax) * ux + (near[1] - ay) * uy
    return ax + along * ux, ay + along * uy


def _unit(segment: Segment) -> Point2:
    ax, ay, bx, by = segment
    length = math.hypot(bx - ax, by - ay)
    return (bx - ax) / length, (by - ay) / length
