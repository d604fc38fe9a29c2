"""When the front next changes its shape."""

from __future__ import annotations

import math
from collections.abc import Sequence

from workbench.roof.wavefront.lines import PARALLEL, Corner

_STILL = 1e-12  # movement per rise under which two things count as not approaching
# corner, its place and movement; then those of the corner at the other end
_Edge = tuple[Corner, float, float, Corner, float, float]


def next_event(loops: Sequence[Sequence[Corner]], z: float, near: float) -> float:
    """Rise from height z to the next event of this front, inches; infinite if nothing moves any more.

    Args:
        loops: The front's rings; each corner with the line that starts there.
        z: Present height, inches.
        near: Distance that counts as touching, inches.
    """
    edges: list[_Edge] = []
    for loop in loops:
        spots = [corner.at(z) for corner in loop]
        for k, corner in enumerate(loop):
            m = k + 1 if k + 1 < len(loop) else 0
            edges.append((corner, *spots[k], loop[m], *spots[m]))
    best = min((corner.line.wakes - z for corner, *_ in edges), default=math.inf)
    for edge in edges:
        best = min(best, _used_up(edge))
    for edge in edges:
        if edge[0].turn < -PARALLEL:
            best = _first_hit(edge, edges, best, near)
    return best


def _used_up(edge: _Edge) -> float:
    """Rise until the edge has no length left."""
    a, ax, ay, b, bx, by = edge
    dx, dy = a.line.dx, a.line.dy
    shrinks = (a.vx - b.vx) * dx + (a.vy - b.vy) * dy
    if shrinks <= _STILL:
        return math.inf
    return max(0.0, (bx - ax) * dx + (by - ay) * dy) / shrinks


def _first_hit(inside: _Edge, edges: Sequence[_Edge], best: float, near: float) -> float:
    """Rise until this inside corner meets an edge of the front, if sooner than ``best``; otherwise ``best``."""
    corner, x, y, vx, vy = inside[0], inside[1], inside[2], inside[0].vx, inside[0].vy
    for a, ax, ay, b, bx, by in edges:
        line = a.line
        dx, dy = line.dx, line.dy
        closing = line.cot + dy * vx - dx * vy
        gap = dx * (y - ay) - dy * (x - ax)
        if gap <= near or closing <= _STILL or gap >= closing * best or a is corner or b is corner:
            continue
        t = gap / closing
        px, py = x + vx * t, y + vy * t
        from_start = (px - ax - a.vx * t) * dx + (py - ay - a.vy * t) * dy
        to_end = (bx + b.vx * t - px) * dx + (by + b.vy * t - py) * dy
        if from_start > -10.0 * near and to_end > -10.0 * near:
            best = t
    return best
