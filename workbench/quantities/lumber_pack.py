"""Pieces packed on boards in a moment: longest first, each on the first board with room. Whole millionths of an inch.

What a cutting costs is the length of board bought. Lengths are whole numbers throughout, so whether pieces fit a board
is never a matter of rounding: pieces and the kerfs between them measure no more than the board.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

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
        return next((n for n, stock in enumerate(self.stocks) if used <= stock), None)

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
    best = min(found, key=lambda boards: (_cost(task, boards), sum(n for _, _, n in boards)))
    return Cutting(tuple(best), least_by_length(task))


def _cost(task: Task, boards: Sequence[_Cut]) -> int:
    return sum(task.costs[stock] * count for stock, _, count in boards)


def _packed(task: Task, longest: int, *, tight: bool) -> list[_Cut]:
    """Boards no longer than one of the lengths where the piece allows it, each then as short as it may be."""
    room = task.stocks[longest]
    alike: list[tuple[int, dict[int, int], int]] = []  # what is used of a board, what it holds, how many are alike
    for kind, (size, count) in enumerate(zip(task.sizes, task.demand, strict=True)):
        order = sorted(alike, key=lambda board: -board[0]) if tight else alike
        alike, left = [], count
        for used, held, boards in order:
            fit = max(0, (max(room, _own(task, used)) - used) // size)
            full = min(boards, left // fit) if fit else 0
            last = min(fit, left - full * fit) if full < boards else 0
            left -= full * fit + last
            for more, times in ((fit, full), (last, 1 if last else 0), (0, boards - full - (1 if last else 0))):
                if times:
                    alike.append((used + more * size, {**held, kind: more} if more else held, times))
        alike += _opened(task, kind, left, room)
    boards_of: dict[tuple[int, tuple[int, ...]], int] = {}
    for used, held, times in alike:
        key = task.shortest(used) or 0, tuple(held.get(kind, 0) for kind in range(len(task.sizes)))
        boards_of[key] = boards_of.get(key, 0) + times
    return [(stock, pattern, times) for (stock, pattern), times in boards_of.items()]


def _opened(task: Task, kind: int, count: int, room: int) -> list[tuple[int, dict[int, int], int]]:
    """New boards for some pieces of a kind."""
    size = task.sizes[kind]
    fit = max(1, room // size)
    opened = [(fit * size, {kind: fit}, count // fit)] if count >= fit else []
    return [*opened, (count % fit * size, {kind: count % fit}, 1)] if count % fit else opened


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
