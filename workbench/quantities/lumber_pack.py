"""Pieces packed on boards in a moment: longest first, each on the first board with room. Whole millionths of an inch.

What a cutting costs is the length of board bought. Lengths are whole numbers throughout, so whether pieces fit a board
is never a matter of rounding: pieces and the kerfs between them measure no more than the board.
"""

from __future__ import annotations

import math
from bisect import bisect_left
from collections.abc import Sequence
from dataclasses import dataclass

from workbench.quantities.lumber_open import Alike, Fullest, InTurn

MICRO = 1_000_000
"""Units an inch that lengths are counted in."""

COST_UNITS = 8128
"""Units an inch that board lengths are counted in: whole for 1/64 in as for 1 mm."""


_Cut = tuple[int, tuple[int, ...], int]
"""Number of a board's length, pieces of each kind, how many boards like this."""


@dataclass(frozen=True)
class Task:
    """What has to be cut from what.

    Attributes:
        sizes: Length of each kind of piece and the kerf after it, longest first, all different.
        demand: How many of each kind are needed.
        stocks: Lengths that boards are sold in and a kerf, shortest first.
        costs: What each of them costs: its length in cost units.
    """

    sizes: tuple[int, ...]
    demand: tuple[int, ...]
    stocks: tuple[int, ...]
    costs: tuple[int, ...]

    @classmethod
    def of(cls, lengths_in: Sequence[float], stocks_in: Sequence[float], kerf_in: float) -> Task:
        """The task of cutting these pieces; every piece has to fit the longest board."""
        kerf = round(kerf_in * MICRO)
        counts: dict[int, int] = {}
        for length in lengths_in:
            size = round(length * MICRO) + kerf
            counts[size] = counts.get(size, 0) + 1
        sizes = sorted(counts, reverse=True)
        stocks = sorted(set(stocks_in))
        return cls(
            tuple(sizes),
            tuple(counts[size] for size in sizes),
            tuple(round(stock * MICRO) + kerf for stock in stocks),
            tuple(round(stock * COST_UNITS) for stock in stocks),
        )

    @property
    def step(self) -> int:
        """What all costs are whole multiples of."""
        return math.gcd(*self.costs)

    def shortest(self, used: int) -> int | None:
        """Number of the shortest board that holds this much, kerfs counted; None where none does."""
        number = bisect_left(self.stocks, used)
        return number if number < len(self.stocks) else None

    def used(self, pattern: Sequence[int]) -> int:
        """What pieces take on a board, a kerf after each."""
        return sum(size * count for size, count in zip(self.sizes, pattern, strict=True))


@dataclass(frozen=True)
class Cutting:
    """A way to cut a task.

    Attributes:
        boards: What is cut from which boards.
        at_least: No cutting costs less.
    """

    boards: tuple[_Cut, ...]
    at_least: int

    def cost(self, task: Task) -> int:
        """What its boards cost."""
        return sum(task.costs[stock] * count for stock, _, count in self.boards)


def packed(task: Task, *, quick: bool = False) -> Cutting:
    """The best of a few packings made in a moment, and the least that the pieces' lengths alone ask for.

    Args:
        task: The task.
        quick: Only one of the packings, from the longest boards.
    """
    longest = len(task.stocks) - 1
    options = [(longest, False)] if quick else [(n, tight) for n in range(longest + 1) for tight in (False, True)]
    found = [_packed(task, n, tight=tight) for n, tight in options]
    best = min(found, key=lambda boards: _bought(task, boards))
    return Cutting(tuple(_cuts(task, best)), least_by_length(task))


def _bought(task: Task, boards: Sequence[Alike]) -> tuple[int, int]:
    """What some boards cost, and how many they are."""
    cost = sum(task.costs[task.shortest(one.used) or 0] * one.boards for one in boards)
    return cost, sum(one.boards for one in boards)


def _packed(task: Task, longest: int, *, tight: bool) -> list[Alike]:
    """Boards no longer than one of the lengths where the piece allows it, each then as short as it may be."""
    room = task.stocks[longest]
    boards = (Fullest if tight else InTurn)(room, lambda used: _own(task, used))
    for kind, (size, count) in enumerate(zip(task.sizes, task.demand, strict=True)):
        left = boards.fill(kind, size, count)
        fit = max(1, room // size)
        if left >= fit:
            boards.add(fit * size, {kind: fit}, left // fit)
        if left % fit:
            boards.add(left % fit * size, {kind: left % fit}, 1)
    return boards.all()


def _cuts(task: Task, boards: Sequence[Alike]) -> list[_Cut]:
    """Boards with what is cut from each, those cut alike together."""
    kinds = range(len(task.sizes))
    cuts: dict[tuple[int, tuple[int, ...]], int] = {}
    for one in boards:
        key = task.shortest(one.used) or 0, tuple(one.held.get(kind, 0) for kind in kinds)
        cuts[key] = cuts.get(key, 0) + one.boards
    return [(stock, pattern, times) for (stock, pattern), times in cuts.items()]


def _own(task: Task, used: int) -> int:
    """Length of the board that something longer than the usual one is cut from."""
    number = task.shortest(used)
    return 0 if number is None else task.stocks[number]


def least_by_length(task: Task) -> int:
    """What must be bought for the pieces' lengths alone, in whole steps of the boards' lengths.

    A board of length L holds pieces that with a kerf each measure L and a kerf at most; so an inch of piece costs no
    less than the least cost an inch that any board has.
    """
    total = sum(size * count for size, count in zip(task.sizes, task.demand, strict=True))
    if not total:
        return 0
    # cost / room is least for one board length; in whole numbers: total · cost / room, rounded up to whole steps.
    least = min(-(-total * cost // room) for cost, room in zip(task.costs, task.stocks, strict=True))
    return -(-least // task.step) * task.step
