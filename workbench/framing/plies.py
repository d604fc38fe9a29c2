"""Hips, valleys and ridges of several boards side by side. Inches.

The whole is cut as one timber of their thickness together: what meets it is shortened from its outer faces, and each
board takes the part of every end that lies on it. So of a double cheek each of two boards has its own single cheek.
Nailing the boards together is for the engineer or the table to call (common practice, no source).
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import replace

from workbench.framing.board import Board, HipFacts
from workbench.framing.field import header_plies
from workbench.framing.space import add2, left_of
from workbench.framing.stick import NOISE_IN, End, Stick
from workbench.job.model import Wing
from workbench.roof.model import Point2


def header_boards(wing: Wing, width_in: float) -> int:
    """Boards of a header over an opening this wide."""
    return wing.plies.header or header_plies(width_in)


def trimmer_boards(wing: Wing, width_in: float) -> int:
    """Trimmer rafters on each side of an opening this wide."""
    return wing.plies.trimmer or header_boards(wing, width_in)


def offsets(thickness: float, plies: int) -> tuple[float, ...]:
    """How far each board's middle lies to the left of the whole's, from the left."""
    one = thickness / plies
    return tuple(thickness / 2.0 - one * (k + 0.5) for k in range(plies))


def part_of_end(end: End, offset: float, half: float) -> End:
    """What of an end lies on one board.

    Args:
        end: The end of the whole, in its stick axes.
        offset: How far the board's middle lies to the left.
        half: Half the board's thickness.
    """
    points = [_at(end.points, offset + half)]
    points += [p for p in end.points if offset - half + NOISE_IN < p[1] < offset + half - NOISE_IN]
    points.append(_at(end.points, offset - half))
    own: tuple[Point2, ...] = tuple((s, w - offset) for s, w in points)
    return End(_single(end.name, own), own)


def _at(points: Sequence[Point2], w: float) -> Point2:
    for (s0, w0), (s1, w1) in zip(points, points[1:], strict=False):
        if w0 + NOISE_IN >= w >= w1 - NOISE_IN and w0 > w1:
            return s0 + (s1 - s0) * min(max((w0 - w) / (w0 - w1), 0.0), 1.0), w
    return points[0][0] if w > 0.0 else points[-1][0], w


def _single(name: str, points: Sequence[Point2]) -> str:
    """What a cut is called on a board that has only one of two cheeks."""
    if len(points) > 2:
        return name
    square = abs(points[0][0] - points[-1][0]) < NOISE_IN
    plain = name.replace(", two cheeks", "").replace("double ", "")
    return plain.replace("cheek cut", "plumb cut") if square else plain


def boards_of(board: Board) -> list[Board]:
    """The boards that a hip or valley is made of, from the left; the one itself where it is one."""
    plies = board.plies
    if plies == 1 or not isinstance(board.facts, HipFacts):
        return [board]
    whole, facts = board.stick, board.facts
    half = whole.thickness / plies / 2.0
    made: list[Board] = []
    for offset in offsets(whole.thickness, plies):
        backing = _own_backing(facts.backing, offset, half)
        inner = max(abs(offset) - half, 0.0)
        fall = math.tan(facts.backing[0 if offset > 0.0 else 1]) * math.hypot(1.0, whole.tangent) * inner
        stick = Stick(
            tangent=whole.tangent,
            depth=whole.depth,
            thickness=2.0 * half,
            height=whole.height - fall,
            low=part_of_end(whole.low, offset, half),
            high=part_of_end(whole.high, offset, half),
            tail=whole.tail,
            notches=tuple(replace(notch, seat=notch.seat + fall / whole.tangent) for notch in whole.notches),
            return_height=whole.return_height,
            tail_normals=_own_normals(whole, offset, half),
            landing_at=whole.landing_at,
        )
        origin = add2(board.origin, left_of(board.direction), offset)
        own = replace(facts, backing=backing)
        made.append(replace(board, origin=origin, stick=stick, facts=own))
    return made


def _own_backing(backing: tuple[float, float], offset: float, half: float) -> tuple[float, float]:
    """A board wholly to one side of the middle is bevelled over its whole width, towards that side."""
    if offset - half > -NOISE_IN:
        return backing[0], 0.0
    return (0.0, backing[1]) if offset + half < NOISE_IN else backing


def _own_normals(whole: Stick, offset: float, half: float) -> tuple[tuple[float, float, float], ...]:
    """Which of a square tail's two cuts a board has."""
    if len(whole.tail_normals) != 2:
        return whole.tail_normals
    if offset - half > -NOISE_IN:
        return whole.tail_normals[:1]
    return whole.tail_normals[1:] if offset + half < NOISE_IN else whole.tail_normals
