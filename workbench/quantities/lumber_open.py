"""Boards being filled, those with room for a piece found without looking at all of them.

Lengths are whole numbers as in ``lumber_pack``; a kerf is counted with each piece and each board.
"""

from __future__ import annotations

from bisect import bisect_left, insort
from collections.abc import Callable
from dataclasses import dataclass

_BLOCK = 64


@dataclass(frozen=True, slots=True)
class Alike:
    """Boards that hold the same.

    Attributes:
        used: What is used of each.
        held: Pieces of each kind on each.
        boards: How many they are.
        room: What is left of each.
    """

    used: int
    held: dict[int, int]
    boards: int
    room: int


class Boards:
    """Boards in the order in which they are filled.

    Args:
        room: Length of the usual board.
        own: Length of the board that something longer than that is cut from, 0 for none.
    """

    def __init__(self, room: int, own: Callable[[int], int]) -> None:
        self._usual = room
        self._own = own

    def fill(self, kind: int, size: int, count: int) -> int:
        """Put pieces on the boards that have room; tells how many are left over."""
        raise NotImplementedError

    def add(self, used: int, held: dict[int, int], boards: int) -> None:
        """More boards."""
        raise NotImplementedError

    def all(self) -> list[Alike]:
        """All of them."""
        raise NotImplementedError

    def _alike(self, used: int, held: dict[int, int], boards: int) -> Alike:
        own = self._own(used) if used > self._usual else 0
        return Alike(used, held, boards, max(self._usual, own) - used)

    def _filled(self, one: Alike, kind: int, size: int, count: int) -> tuple[list[Alike], Alike | None, int]:
        """Alike boards with as many pieces as go on them, those that keep as they are, and how many pieces go on."""
        fit = one.room // size
        full = min(one.boards, count // fit)
        last = min(fit, count - full * fit) if full < one.boards else 0
        taken = [
            self._alike(one.used + more * size, {**one.held, kind: more}, times)
            for more, times in ((fit, full), (last, 1 if last else 0))
            if times
        ]
        rest = one.boards - full - (1 if last else 0)
        kept = Alike(one.used, one.held, rest, one.room) if rest else None
        return taken, kept, full * fit + last


class InTurn(Boards):
    """The first opened is the first filled. In blocks: those without room are passed over at once."""

    def __init__(self, room: int, own: Callable[[int], int]) -> None:
        super().__init__(room, own)
        self._blocks: list[list[Alike]] = []
        self._rooms: list[int] = []

    def fill(self, kind: int, size: int, count: int) -> int:
        """See ``Boards``."""
        for at, block in enumerate(self._blocks):
            if not count:
                break
            if self._rooms[at] < size:
                continue
            after: list[Alike] = []
            for one in block:
                if one.room < size or not count:
                    after.append(one)
                    continue
                taken, kept, placed = self._filled(one, kind, size, count)
                after += taken if kept is None else [*taken, kept]
                count -= placed
            self._blocks[at] = after
            self._rooms[at] = max(one.room for one in after)
        return count

    def add(self, used: int, held: dict[int, int], boards: int) -> None:
        """See ``Boards``."""
        if not self._blocks or len(self._blocks[-1]) >= _BLOCK:
            self._blocks.append([])
            self._rooms.append(0)
        one = self._alike(used, held, boards)
        self._blocks[-1].append(one)
        self._rooms[-1] = max(self._rooms[-1], one.room)

    def all(self) -> list[Alike]:
        """See ``Boards``."""
        return [one for block in self._blocks for one in block]


class Fullest(Boards):
    """The fullest board that has room is filled next; of equally full ones the one that came to be so first."""

    def __init__(self, room: int, own: Callable[[int], int]) -> None:
        super().__init__(room, own)
        self._order: list[tuple[int, int]] = []  # what is used, negative, and when it came to be so
        self._boards: dict[tuple[int, int], Alike] = {}
        self._count = 0

    def fill(self, kind: int, size: int, count: int) -> int:
        """See ``Boards``."""
        changed: list[Alike] = []
        # First the boards longer than usual; of usual ones all that are used little enough have room.
        usual = bisect_left(self._order, (-self._usual, 0))
        ready = max(usual, bisect_left(self._order, (size - self._usual, 0)))
        places = [*range(usual), *range(ready, len(self._order))] if usual else range(ready, len(self._order))
        gone: list[tuple[int, int]] = []
        for at in places:
            if not count:
                break
            key = self._order[at]
            one = self._boards[key]
            if one.room < size:
                continue
            taken, kept, placed = self._filled(one, kind, size, count)
            count -= placed
            changed += taken
            if kept is None:
                gone.append(key)
            else:
                self._boards[key] = kept
        for key in gone:
            del self._boards[key], self._order[bisect_left(self._order, key)]
        for one in changed:
            self.add(one.used, one.held, one.boards)
        return count

    def add(self, used: int, held: dict[int, int], boards: int) -> None:
        """See ``Boards``."""
        self._count += 1
        key = (-used, self._count)
        insort(self._order, key)
        self._boards[key] = self._alike(used, held, boards)

    def all(self) -> list[Alike]:
        """See ``Boards``."""
        return [self._boards[key] for key in self._order]
