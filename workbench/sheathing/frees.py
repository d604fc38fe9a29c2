"""The free parts of sheets while blanks are packed, kept so that the closest fit is found without looking at them all.

Inches.
"""

from __future__ import annotations

from bisect import bisect_left, insort
from dataclasses import dataclass

FIT_IN = 1e-6
"""A blank longer than a part by less than this still goes in."""


@dataclass(slots=True, eq=False)
class Free:
    """A free part: its sheet, lower left corner, size, and whether it runs over all the sheet's length or width."""

    sheet: int
    x: float
    y: float
    length: float
    width: float
    whole_length: bool
    whole_width: bool


class Frees:
    """Free parts in the order of how close a fit they are: first along one axis, then along the other."""

    def __init__(self, *, width_first: bool) -> None:
        self._width_first = width_first
        self._keys: list[float] = []
        self._groups: dict[float, list[tuple[float, int, Free]]] = {}
        self._added = 0

    def add(self, free: Free) -> None:
        """Keep a part; of equal ones the first that was added is the first that is taken."""
        key, other = (free.width, free.length) if self._width_first else (free.length, free.width)
        group = self._groups.get(key)
        if group is None:
            insort(self._keys, key)
            group = self._groups[key] = []
        self._added += 1
        insort(group, (other, self._added, free))

    def take(self, length: float, width: float) -> Free | None:
        """The part that a blank of this size fills best, which is kept no longer; None where it goes into none."""
        main, other = (width, length) if self._width_first else (length, width)
        keys = self._keys
        for at in range(bisect_left(keys, main - 2.0 * FIT_IN), len(keys)):
            key = keys[at]
            group = self._groups[key]
            if key + FIT_IN < main or group[-1][0] + FIT_IN < other:
                continue
            within = bisect_left(group, (other - 2.0 * FIT_IN,))
            while group[within][0] + FIT_IN < other:
                within += 1
            _, _, free = group.pop(within)
            if not group:
                del self._groups[key], keys[at]
            return free
        return None
