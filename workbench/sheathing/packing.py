"""Upright blanks into equal sheets by straight cuts from edge to edge, never turned. Inches.

A saw takes its kerf at each cut. Where halves are nominal, a cut along the middle of a whole sheet takes nothing: each
half is half a kerf short, which the gaps between panels take up (common practice, no source).
"""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass
from functools import lru_cache

from workbench.sheathing.weights import half_weight

Size = tuple[float, float]
"""Length along the sheet, width across it."""

_FIT_IN = 1e-6


@dataclass(frozen=True, slots=True)
class SheetRules:
    """The sheet and the saw.

    Attributes:
        length_in: Length of a sheet.
        width_in: Its width.
        kerf_in: What the saw takes.
        halves_nominal: Whether a cut along the middle of a whole sheet takes nothing.
    """

    length_in: float = 96.0
    width_in: float = 48.0
    kerf_in: float = 0.125
    halves_nominal: bool = True


@dataclass(frozen=True, slots=True)
class Place:
    """Where a blank lies: index among the sizes given, sheet number from 0, and its lower left corner."""

    index: int
    sheet: int
    x: float
    y: float


@dataclass(frozen=True, slots=True, eq=False)
class _Free:
    sheet: int
    x: float
    y: float
    length: float
    width: float
    whole_length: bool
    whole_width: bool


Order = Callable[[Size], tuple[float, float]]
Score = Callable[[_Free, Size], tuple[float, float]]


def _by_width(size: Size) -> tuple[float, float]:
    return -size[1], -size[0]


def _by_length(size: Size) -> tuple[float, float]:
    return -size[0], -size[1]


def _by_area(size: Size) -> tuple[float, float]:
    return -size[0] * size[1], -size[1]


def _close_in_width(free: _Free, size: Size) -> tuple[float, float]:
    return free.width - size[1], free.length - size[0]


def _close_in_length(free: _Free, size: Size) -> tuple[float, float]:
    return free.length - size[0], free.width - size[1]


_ORDERS: tuple[Order, ...] = (_by_width, _by_length, _by_area)
_SCORES: tuple[Score, ...] = (_close_in_width, _close_in_length)


@lru_cache(maxsize=4096)
def pack(sizes: tuple[Size, ...], rules: SheetRules) -> tuple[Place, ...]:
    """Places every blank, in as few sheets as the best of several orders of work finds.

    Args:
        sizes: One a blank; each fits a sheet.
        rules: The sheet and the saw.

    Returns:
        One place a blank, in the order of ``sizes``; sheets are numbered from 0 without a break.
    """
    alone, shared = _set_apart(sizes, rules)
    first = [Place(index, sheet, 0.0, 0.0) for sheet, index in enumerate(alone)]
    others = _best_greedy(sizes, shared, rules)
    moved = [Place(place.index, place.sheet + len(alone), place.x, place.y) for place in others]
    return tuple(sorted(first + moved, key=_index))


def _index(place: Place) -> int:
    return place.index


def _set_apart(sizes: tuple[Size, ...], rules: SheetRules) -> tuple[list[int], list[int]]:
    """The blanks that nothing else fits beside, each for a sheet of its own, and the others."""
    if not sizes:
        return [], []
    side = rules.width_in - min(width for _, width in sizes) + _FIT_IN
    end = rules.length_in - min(length for length, _ in sizes) + _FIT_IN
    alone: list[int] = []
    shared: list[int] = []
    for index, (length, width) in enumerate(sizes):
        (alone if length > end and width > side else shared).append(index)
    return alone, shared


def _best_greedy(sizes: tuple[Size, ...], indices: list[int], rules: SheetRules) -> list[Place]:
    least = sheets_needed(tuple(sizes[index] for index in indices), rules)
    best: list[Place] = []
    fewest = math.inf
    for order in _ORDERS:
        ordered = sorted(indices, key=lambda i: (order(sizes[i]), i))
        for score in _SCORES:
            for rip_first in (True, False):
                places = _greedy(sizes, ordered, rules, score, rip_first)
                count = max((place.sheet for place in places), default=-1) + 1
                if count < fewest:
                    best, fewest = places, count
                if fewest <= least:
                    return best
    return best


def sheet_count(sizes: tuple[Size, ...], rules: SheetRules) -> int:
    """Sheets that these blanks take, as ``pack`` lays them."""
    return max((place.sheet for place in pack(sizes, rules)), default=-1) + 1


def sheets_needed(sizes: tuple[Size, ...], rules: SheetRules) -> int:
    """A number of sheets these blanks can't go under, however they are packed.

    On any line across a sheet the widths of the blanks it meets add up to the sheet's width at most. So do their
    weights, where a blank over half the width weighs the whole of it, one of exactly half weighs half and a narrower
    one nothing. Summed along all sheets: sheets >= sum of weight times length over the sheet's length. The same holds
    with the two axes swapped, and with plain widths for weights, which is the area. Where every cut takes its kerf,
    blanks and sheets count as wider and longer by one kerf, since a kerf lies between any two blanks.
    """
    kerf = 0.0 if rules.halves_nominal else rules.kerf_in
    area = across = along = 0.0
    for length_in, width_in in sizes:
        length = (length_in + kerf) / (rules.length_in + kerf)
        width = (width_in + kerf) / (rules.width_in + kerf)
        area += length * width
        across += half_weight(width) * length
        along += half_weight(length) * width
    return math.ceil(max(area, across, along) - 1e-9)


def _greedy(
    sizes: tuple[Size, ...], indices: list[int], rules: SheetRules, score: Score, rip_first: bool
) -> list[Place]:
    least_length = min((sizes[i][0] for i in indices), default=0.0) - _FIT_IN
    least_width = min((sizes[i][1] for i in indices), default=0.0) - _FIT_IN
    frees: list[_Free] = []
    places: list[Place] = []
    sheets = 0
    for index in indices:
        length, width = size = sizes[index]
        chosen: _Free | None = None
        chosen_score = (math.inf, math.inf)
        for free in frees:
            if free.length + _FIT_IN >= length and free.width + _FIT_IN >= width:
                found = score(free, size)
                if found < chosen_score:
                    chosen, chosen_score = free, found
        if chosen is None:
            chosen = _Free(sheets, 0.0, 0.0, rules.length_in, rules.width_in, True, True)
            sheets += 1
        else:
            frees.remove(chosen)
        places.append(Place(index, chosen.sheet, chosen.x, chosen.y))
        rests = _split(chosen, size, rules, rip_first)
        frees.extend(rest for rest in rests if rest.length >= least_length and rest.width >= least_width)
    return places


def _split(free: _Free, size: Size, rules: SheetRules, rip_first: bool) -> tuple[_Free, _Free]:
    """What is left of a free part beside a blank in its lower left corner, after two straight cuts."""
    strip, side = _cut(free.width, size[1], rules, free.whole_width)
    run, end = _cut(free.length, size[0], rules, free.whole_length)
    x, y = free.x + free.length - end, free.y + free.width - side
    if rip_first:
        return (
            _Free(free.sheet, free.x, y, free.length, side, free.whole_length, False),
            _Free(free.sheet, x, free.y, end, strip, False, free.whole_width and side == 0.0),
        )
    return (
        _Free(free.sheet, x, free.y, end, free.width, False, free.whole_width),
        _Free(free.sheet, free.x, y, run, side, free.whole_length and end == 0.0, False),
    )


def _cut(whole: float, part: float, rules: SheetRules, is_whole: bool) -> tuple[float, float]:
    """A dimension cut for a part: (what the part's side may use, what is left)."""
    left = whole - part - rules.kerf_in
    half = whole / 2.0
    if rules.halves_nominal and is_whole and left < half and part <= half + _FIT_IN:
        return half, half
    return (part, left) if left > 0.0 else (whole, 0.0)
