"""Upright blanks into equal sheets by straight cuts from edge to edge, never turned. Inches.

A saw takes its kerf at each cut. Where halves are nominal, a cut along the middle of a whole sheet takes nothing: each
half is half a kerf short, which the gaps between panels take up (common practice, no source).
"""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass
from functools import lru_cache

from workbench.sheathing.frees import FIT_IN, Free, Frees
from workbench.sheathing.weights import half_weight

Size = tuple[float, float]
"""Length along the sheet, width across it."""


@dataclass(frozen=True, slots=True)
class SheetRules:
    """The sheet and the saw.

    Attributes:
        length_in: Length of a sheet.
        width_in: Its width.
        kerf_in: What the saw takes.
        halves_nominal: Whether a cut along the middle of a whole sheet takes nothing.
        mirrored: Whether a piece may be turned over, both faces being alike.
    """

    length_in: float = 96.0
    width_in: float = 48.0
    kerf_in: float = 0.125
    halves_nominal: bool = True
    mirrored: bool = False


@dataclass(frozen=True, slots=True)
class Place:
    """Where a blank lies: index among the sizes given, sheet number from 0, and its lower left corner."""

    index: int
    sheet: int
    x: float
    y: float


Order = Callable[[Size], tuple[float, float]]


def _by_width(size: Size) -> tuple[float, float]:
    return -size[1], -size[0]


def _by_length(size: Size) -> tuple[float, float]:
    return -size[0], -size[1]


def _by_area(size: Size) -> tuple[float, float]:
    return -size[0] * size[1], -size[1]


_ORDERS: tuple[Order, ...] = (_by_width, _by_length, _by_area)


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
    side = rules.width_in - min(width for _, width in sizes) + FIT_IN
    end = rules.length_in - min(length for length, _ in sizes) + FIT_IN
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
        for width_first in (True, False):
            for rip_first in (True, False):
                places = _greedy(sizes, ordered, rules, width_first, rip_first)
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
    sizes: tuple[Size, ...], indices: list[int], rules: SheetRules, width_first: bool, rip_first: bool
) -> list[Place]:
    least_length = min((sizes[i][0] for i in indices), default=0.0) - FIT_IN
    least_width = min((sizes[i][1] for i in indices), default=0.0) - FIT_IN
    frees = Frees(width_first=width_first)
    places: list[Place] = []
    sheets = 0
    for index in indices:
        size = sizes[index]
        chosen = frees.take(*size)
        if chosen is None:
            chosen = Free(sheets, 0.0, 0.0, rules.length_in, rules.width_in, True, True)
            sheets += 1
        places.append(Place(index, chosen.sheet, chosen.x, chosen.y))
        for rest in _split(chosen, size, rules, rip_first):
            if rest.length >= least_length and rest.width >= least_width:
                frees.add(rest)
    return places


def _split(free: Free, size: Size, rules: SheetRules, rip_first: bool) -> tuple[Free, Free]:
    """What is left of a free part beside a blank in its lower left corner, after two straight cuts."""
    strip, side = _cut(free.width, size[1], rules, free.whole_width)
    run, end = _cut(free.length, size[0], rules, free.whole_length)
    x, y = free.x + free.length - end, free.y + free.width - side
    if rip_first:
        return (
            Free(free.sheet, free.x, y, free.length, side, free.whole_length, False),
            Free(free.sheet, x, free.y, end, strip, False, free.whole_width and side == 0.0),
        )
    return (
        Free(free.sheet, x, free.y, end, free.width, False, free.whole_width),
        Free(free.sheet, free.x, y, run, side, free.whole_length and end == 0.0, False),
    )


def _cut(whole: float, part: float, rules: SheetRules, is_whole: bool) -> tuple[float, float]:
    """A dimension cut for a part: (what the part's side may use, what is left)."""
    left = whole - part - rules.kerf_in
    half = whole / 2.0
    if rules.halves_nominal and is_whole and left < half and part <= half + FIT_IN:
        return half, half
    return (part, left) if left > 0.0 else (whole, 0.0)
