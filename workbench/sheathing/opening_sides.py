"""Edges of pieces along the sides of openings, which are nailed as panel edges. Inches, plane axes.

A panel edge on a trimmer or a header is nailed at edge spacing, as every panel edge on framing is (common practice, no
source); the trimmer above and below the opening is an ordinary rafter, nailed at field spacing.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

from workbench.roof.model import Plane, Point2
from workbench.sheathing.region import SAME_IN, edges_of

_ON_IT_IN = 1e-3


@dataclass(frozen=True, slots=True)
class OpeningSide:
    """One side of an opening, or what of it a piece lies along.

    Attributes:
        upright: Whether it runs up the slope, on a trimmer; else level, on a header.
        at: Its x where upright, else its y.
        low: Where it begins along the other axis.
        high: Where it ends.
        inward: 1 where the piece lies at greater ``at`` than the side, -1 where at less; 0 for the side itself.
    """

    upright: bool
    at: float
    low: float
    high: float
    inward: float = 0.0


def opening_sides(plane: Plane) -> tuple[OpeningSide, ...]:
    """The upright and level sides of a plane's openings that a trimmer or a header stands along."""
    holes = {id(edge) for ring in plane.opening_edges for edge in ring}
    found: list[OpeningSide] = []
    for edge, a, b in edges_of(plane):
        side = _side(a, b)
        if side is not None and edge.kind == "wall" and (edge.opening is not None or id(edge) in holes):
            found.append(side)
    return tuple(found)


def sides_along(ring: Sequence[Point2], sides: Sequence[OpeningSide]) -> list[OpeningSide]:
    """Where a piece lies along the sides of openings.

    Args:
        ring: The piece, anticlockwise.
        sides: The sides of its plane's openings.
    """
    found: list[OpeningSide] = []
    for a, b in zip(ring, [*ring[1:], ring[0]], strict=True):
        edge = _side(a, b)
        if edge is None:
            continue
        # The piece lies to the left of each of its edges.
        inward = 1.0 if (a[1] > b[1] if edge.upright else b[0] > a[0]) else -1.0
        for side in sides:
            low, high = max(edge.low, side.low), min(edge.high, side.high)
            if side.upright == edge.upright and abs(side.at - edge.at) <= _ON_IT_IN and high - low > _ON_IT_IN:
                found.append(OpeningSide(edge.upright, edge.at, low, high, inward))
    return _joined(found)


def _joined(sides: Sequence[OpeningSide]) -> list[OpeningSide]:
    """The same, parts on either side of a slit as one."""
    found: list[OpeningSide] = []
    for side in sorted(sides, key=lambda s: (s.upright, s.inward, s.at, s.low)):
        last = found[-1] if found else None
        if (
            last is not None
            and replace(last, low=side.low, high=side.high) == side
            and side.low <= last.high + _ON_IT_IN
        ):
            found[-1] = replace(last, high=max(last.high, side.high))
        else:
            found.append(side)
    return found


def without(chords: Sequence[tuple[float, float]], low: float, high: float) -> list[tuple[float, float]]:
    """What is left of some chords once the stretch from low to high is taken out."""
    left = [part for a, b in chords for part in ((a, min(b, low)), (max(a, high), b))]
    return [(a, b) for a, b in left if b - a > _ON_IT_IN]


def chords_at(ring: Sequence[Point2], x: float) -> list[tuple[float, float]]:
    """The stretches up the slope that a ring has at x: lowest and highest y of each, from the bottom up.

    The slit that lets an opening out of a piece's outline is no gap: of what lies a hair to either side of x the longer
    counts.
    """
    either = [_crossed(ring, x + sign * _ON_IT_IN) for sign in (-1.0, 1.0)]
    return max(either, key=lambda chords: sum(high - low for low, high in chords))


def _crossed(ring: Sequence[Point2], x: float) -> list[tuple[float, float]]:
    ys: list[float] = []
    for a, b in zip(ring, [*ring[1:], ring[0]], strict=True):
        if min(a[0], b[0]) <= x < max(a[0], b[0]):
            ys.append(a[1] + (b[1] - a[1]) * (x - a[0]) / (b[0] - a[0]))
    ys.sort()
    return [(low, high) for low, high in zip(ys[::2], ys[1::2], strict=False) if high - low > SAME_IN]


def _side(a: Point2, b: Point2) -> OpeningSide | None:
    if abs(a[0] - b[0]) <= SAME_IN < abs(a[1] - b[1]):
        return OpeningSide(True, a[0], min(a[1], b[1]), max(a[1], b[1]))
    if abs(a[1] - b[1]) <= SAME_IN < abs(a[0] - b[0]):
        return OpeningSide(False, a[1], min(a[0], b[0]), max(a[0], b[0]))
    return None
