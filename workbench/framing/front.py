"""The front that a timber runs up against, seen along its own line. Inches.

Axes: s along the timber, outward over its end, w to the left of that; the body lies at low s. A front is a list of
straight pieces (w0, w1, s0, s1), w0 < w1: between w0 and w1 it stands at s0 to s1. An end is where the first of all
fronts is met, at every w between the faces.
"""

from __future__ import annotations

from collections.abc import Sequence

from workbench.roof.model import Point2

Piece = tuple[float, float, float, float]
Front = list[Piece]

_THIN_IN = 1e-7
"""Pieces narrower than this are float noise."""
_STEP_IN = 1e-6


def line_front(through: Point2, along: Point2, half: float) -> list[Front]:
    """The front of a line: one piece from face to face; none where the line runs along the timber."""
    if abs(along[1]) < _THIN_IN:
        return []
    rate = along[0] / along[1]
    s = [through[0] + (w - through[1]) * rate for w in (-half, half)]
    return [[(-half, half, s[0], s[1])]]


def ring_front(ring: Sequence[Point2], half: float) -> Front:
    """The side of a polygon that one meets first who comes along the timber, between its faces."""
    cuts = sorted({-half, half, *(w for _, w in ring if -half < w < half)})
    front: Front = []
    for w0, w1 in zip(cuts, cuts[1:], strict=False):
        if w1 - w0 < _THIN_IN:
            continue
        middle = (w0 + w1) / 2.0
        first: tuple[float, float, float] | None = None
        for (sa, wa), (sb, wb) in zip(ring, [*ring[1:], ring[0]], strict=True):
            if (wa - middle) * (wb - middle) < 0.0:
                rate = (sb - sa) / (wb - wa)
                at = sa + (middle - wa) * rate
                if first is None or at < first[0]:
                    first = at, sa + (w0 - wa) * rate, sa + (w1 - wa) * rate
        if first is not None:
            front.append((w0, w1, first[1], first[2]))
    return front


def end_line(fronts: Sequence[Front], half: float, free: float) -> list[Point2]:
    """The end of a timber: points (s, w) from its left face to its right one.

    Args:
        fronts: What it runs up against.
        half: Half its thickness.
        free: s at which it ends where it meets nothing.
    """
    pieces = _lowest(fronts, half, free)
    points: list[Point2] = []
    for w0, w1, s0, s1 in reversed(pieces):
        for point in ((s1, w1), (s0, w0)):
            if not points or abs(points[-1][0] - point[0]) > _STEP_IN or abs(points[-1][1] - point[1]) > _STEP_IN:
                points.append(point)
    return _straightened(points)


def _lowest(fronts: Sequence[Front], half: float, free: float) -> list[Piece]:
    """The nearest front at every w, from right to left."""
    cuts = sorted({-half, half, *(w for front in fronts for piece in front for w in piece[:2])})
    result: list[Piece] = []
    for w0, w1 in zip(cuts, cuts[1:], strict=False):
        if w1 - w0 < _THIN_IN:
            continue
        lines = [_on(piece, w0, w1) for front in fronts for piece in front if _covers(piece, w0, w1)]
        result += _envelope(w0, w1, lines or [(free, free)])
    return result


def _covers(piece: Piece, w0: float, w1: float) -> bool:
    return piece[0] < w0 + _THIN_IN and piece[1] > w1 - _THIN_IN


def _on(piece: Piece, w0: float, w1: float) -> tuple[float, float]:
    a, b, s0, s1 = piece
    rate = (s1 - s0) / (b - a)
    return s0 + (w0 - a) * rate, s0 + (w1 - a) * rate


def _envelope(w0: float, w1: float, lines: Sequence[tuple[float, float]]) -> list[Piece]:
    """The lowest of some lines over one interval, as pieces."""
    shares = {0.0, 1.0}
    for i, (a0, a1) in enumerate(lines):
        for b0, b1 in lines[i + 1 :]:
            turn = (a0 - b0) - (a1 - b1)
            if turn and 0.0 < (a0 - b0) / turn < 1.0:
                shares.add((a0 - b0) / turn)
    pieces: list[Piece] = []
    steps = sorted(shares)
    for t0, t1 in zip(steps, steps[1:], strict=False):
        middle = (t0 + t1) / 2.0
        low0, low1 = min(lines, key=lambda line: line[0] + (line[1] - line[0]) * middle)
        rate = low1 - low0
        pieces.append((w0 + (w1 - w0) * t0, w0 + (w1 - w0) * t1, low0 + rate * t0, low0 + rate * t1))
    return pieces


def _straightened(points: list[Point2]) -> list[Point2]:
    """Points without those at which the line goes straight on."""
    kept = points[:1]
    for point in points[1:]:
        if len(kept) > 1:
            (s0, w0), (s1, w1) = kept[-2], kept[-1]
            if abs((s1 - s0) * (point[1] - w1) - (w1 - w0) * (point[0] - s1)) < 1e-9:
                kept[-1] = point
                continue
        kept.append(point)
    return kept
