"""Boards that are cut alike, gathered under marks. Inches.

Two boards share a mark where every figure of theirs agrees to a millionth of an inch; a board and its mirror image
share one too, which then says how many are needed left and right. Shown sizes are rounded, marks never are.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from dataclasses import replace

from workbench.framing.board import Board, HipFacts
from workbench.framing.model import Hand, Member, MemberKind, Placement
from workbench.framing.stick import End, Stick, stick_shape
from workbench.framing.stock import section_name, stock_length
from workbench.framing.traces import board_traces
from workbench.measure import Units
from workbench.roof.model import Point2, Point3

KIND_WORDS: dict[MemberKind, str] = {
    "common_rafter": "Common",
    "barge_rafter": "Barge",
    "ridge_board": "Ridge",
    "purlin": "Purlin",
    "hip_rafter": "Hip",
    "valley_rafter": "Valley",
    "hip_jack": "Hip jack",
    "valley_jack": "Valley jack",
    "cripple_jack": "Cripple jack",
    "header": "Header",
    "sleeper": "Sleeper",
    "fascia": "Fascia",
    "sub_fascia": "Sub-fascia",
    "lookout": "Lookout",
    "eave_block": "Eave block",
    "ridge_block": "Ridge block",
    "row_block": "Row block",
    "collar_tie": "Collar tie",
    "rafter_tie": "Rafter tie",
    "rake_plate": "Rake plate",
    "gable_stud": "Gable stud",
}
"""Names of marks, before their number."""

_KEY_DIGITS = 6
_Key = tuple[object, ...]


def board_members(boards: Sequence[Board], units: Units) -> list[Member]:
    """One member a shape, in the order the boards come."""
    groups: dict[_Key, list[tuple[Board, Hand]]] = {}
    known: dict[tuple[MemberKind, int], tuple[_Key, Hand]] = {}
    for board in boards:
        if isinstance(board.facts, HipFacts):
            key, hand = _board_key(board)
        else:
            # Neighbours share their stick, and what a rafter is told apart by is all in its stick.
            alike = board.kind, id(board.stick)
            key, hand = known[alike] if alike in known else known.setdefault(alike, _board_key(board))
        groups.setdefault(key, []).append((board, hand))
    return [_member(group, units) for group in groups.values()]


def marked(members: Iterable[Member]) -> tuple[Member, ...]:
    """Members of equal shape joined under one numbered mark, in the order they come."""
    groups: dict[_Key, Member] = {}
    for member in members:
        key = _member_key(member)
        known = groups.get(key)
        groups[key] = (
            member
            if known is None
            else replace(
                known,
                count=known.count + member.count,
                left=known.left + member.left,
                right=known.right + member.right,
                placements=known.placements + member.placements,
            )
        )
    numbers: dict[MemberKind, int] = {}
    result: list[Member] = []
    for member in groups.values():
        numbers[member.kind] = numbers.get(member.kind, 0) + 1
        result.append(replace(member, mark=f"{KIND_WORDS[member.kind]} {numbers[member.kind]}"))
    return tuple(result)


def _member(group: Sequence[tuple[Board, Hand]], units: Units) -> Member:
    board, hand = group[0]
    stick = board.stick if hand != "right" else _mirrored(board.stick)
    shape = stick_shape(stick)
    facts = board.facts
    return Member(
        mark=KIND_WORDS[board.kind],
        kind=board.kind,
        count=len(group),
        length_in=shape.length_in,
        stock_in=stock_length(shape.overall_in) or shape.overall_in,
        section=section_name(stick.thickness, stick.depth),
        depth_in=stick.depth,
        thickness_in=stick.thickness,
        cuts=shape.cuts,
        profile=shape.profile,
        measures=shape.measures,
        placements=tuple(Placement(b.plane, b.start, b.end, h) for b, h in group),
        traces=board_traces(board, shape, units),
        angle_deg=math.degrees(math.atan(stick.tangent)),
        left=sum(h == "left" for _, h in group),
        right=sum(h == "right" for _, h in group),
        top=shape.top,
        drop_in=facts.drop if isinstance(facts, HipFacts) else 0.0,
        backing_deg=_backing_deg(board, hand),
        plies=board.plies,
        high_face=_high_face(board, hand),
    )


def _board_key(board: Board) -> tuple[_Key, Hand]:
    """What a board is told apart by, and whether it is the left one or its mirror image."""
    stick, facts = board.stick, board.facts
    low = stick.low.first
    common: _Key = (
        board.kind,
        _rounded(stick.tangent),
        stick.depth,
        stick.thickness,
        board.plies,
        stick.tail if stick.notches or stick.tail_normals else "",
        tuple((n.name, _rounded(n.at - low), _rounded(n.seat)) for n in stick.notches),
        None if stick.return_height is None else _rounded(stick.top(low) - stick.return_height),
        stick.low.name,
        stick.high.name,
    )
    backing = facts.backing if isinstance(facts, HipFacts) else (0.0, 0.0)
    plain = _ends_key(_end_key(stick.low, low), _end_key(stick.high, low), stick.tail_normals, backing)
    turned = _ends_key(
        _turned(plain[2]),
        _turned(plain[1]),
        tuple((s, -w, z) for s, w, z in reversed(stick.tail_normals)),
        (backing[1], backing[0]),
    )
    # Of a board and its mirror image the greater one has its left face longer.
    if plain == turned:
        return (*common, plain), ""
    return ((*common, plain), "left") if plain > turned else ((*common, turned), "right")


_Corners = tuple[Point2, ...]
_EndsKey = tuple[float, _Corners, _Corners, tuple[float, ...]]


def _ends_key(low: _Corners, high: _Corners, normals: Sequence[Point3], backing: tuple[float, float]) -> _EndsKey:
    """How much longer the left face is, both ends, and the square tail's cuts and the backing as figures."""
    longer = (high[0][0] - low[0][0]) - (high[-1][0] - low[-1][0])
    return _rounded(longer), high, low, tuple(_rounded(x) for x in (*(x for n in normals for x in n), *backing))


def _end_key(end: End, low: float) -> _Corners:
    return tuple((_rounded(s - low), _rounded(w)) for s, w in end.points)


def _turned(corners: _Corners) -> _Corners:
    return tuple((s, 0.0 - w) for s, w in reversed(corners))


def _mirrored(stick: Stick) -> Stick:
    normals = tuple((s, -w, z) for s, w, z in reversed(stick.tail_normals))
    return replace(stick, low=stick.low.mirrored, high=stick.high.mirrored, tail_normals=normals)


def _member_key(member: Member) -> _Key:
    return (
        member.kind,
        member.section,
        member.thickness_in,
        member.plies,
        _ring_key(member.profile),
        _ring_key(member.top),
        tuple((cut.name, _rounded(cut.angle_deg), _rounded(cut.bevel_deg)) for cut in member.cuts),
        tuple(_rounded(angle) for angle in member.backing_deg),
    )


def _ring_key(ring: Sequence[Point2]) -> tuple[Point2, ...]:
    return tuple((_rounded(x), _rounded(y)) for x, y in ring)


def _rounded(value: float) -> float:
    return round(value, _KEY_DIGITS) + 0.0


def _backing(board: Board, hand: Hand) -> tuple[float, float]:
    backing = board.facts.backing if isinstance(board.facts, HipFacts) else (0.0, 0.0)
    return backing if hand != "right" else (backing[1], backing[0])


def _backing_deg(board: Board, hand: Hand) -> tuple[float, ...]:
    left, right = _backing(board, hand)
    if not left and not right:
        return ()
    if board.plies > 1 and not (left and right):
        return (math.degrees(max(left, right)),)
    return math.degrees(left), math.degrees(right)


def _high_face(board: Board, hand: Hand) -> Hand:
    """Of one of several boards, bevelled over its whole width, the face that lies against the others."""
    left, right = _backing(board, hand)
    if board.plies == 1 or bool(left) == bool(right):
        return ""
    return "right" if left else "left"
