"""Two wings over one another: which stays, which goes.

The higher roof stays. The lower one goes inside the higher wing's building line, unless the higher one is overframed.
Under a higher wing's overhang it goes only where the two have met in a line and nothing is torn open by it: an overhang
that passes over a roof which runs on to the wall below (a dormer's, a higher storey's) leaves that roof alone.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from itertools import combinations

from workbench.roof.joining.scene import EQUAL_IN
from workbench.roof.joining.standing import Gone, Standing
from workbench.roof.joining.trim import drop_loose_overhangs, lower_stays

_OPEN_IN = 1.0  # a step in a roof over a room that is too low to count as open
_STRAY_SHARE = 0.5  # a far end that comes out again is trimmed when it is smaller than this share of the wing


@dataclass(frozen=True, slots=True)
class Close:
    """An overhang with too little room over the roof below it.

    Attributes:
        high: Layer above.
        low: Layer below.
        room_in: Least plumb distance between them, inches.
    """

    high: int
    low: int
    room_in: float


def settle_pairs(standing: Standing) -> list[Close]:
    """Drop what has to go; returns where an overhang has too little room.

    Far ends that would come out of another roof go first: they cut nothing.
    """
    numbers = range(len(standing.scene.wings))
    for first, second in combinations(numbers, 2):
        Pair(standing, first, second).trim()
    close: list[Close] = []
    for first, second in combinations(numbers, 2):
        close += Pair(standing, first, second).settle()
    return close


class Pair:
    """Two wings of a scene and the cells that both reach over."""

    def __init__(self, standing: Standing, first: int, second: int) -> None:
        self.standing = standing
        self.wings = (first, second)
        reached = [cell for cell, layers in standing.present.items() if first in layers and second in layers]
        self.both = [cell for cell in reached if all(standing.reaches(cell, wing) for wing in self.wings)]
        self.lower = bool(self.both) and lower_stays(standing, self.wings, self.both)
        self.same: set[int] = set()
        self.top = {cell: self._higher(cell) for cell in self.both}

    def trim(self) -> None:
        """Drop the ends of one wing that would come out again on the far side of the other's roof."""
        if self.both and not self.lower:
            for wing in self.wings:
                for cell in list(self._strays(wing)):
                    self.standing.drop(cell, self._layer(cell, wing), Gone("trimmed", self._other(wing)))

    def settle(self) -> list[Close]:
        """Drop what has to go; returns where an overhang has too little room."""
        if self.lower:
            self._settle_lower()
            return []
        close: list[Close] = []
        for high in self.wings if self.both else ():
            low = self._other(high)
            below = [cell for cell in self.both if self.top[cell] == high]
            for cell in below:
                self._drop_plainly(cell, high, low)
            eaves = [c for c in below if c not in self.same and high not in self.standing.inside[c]]
            if not self._leaves_whole(high):
                close += self._settle_eaves(eaves, high, low)
        return close

    def _settle_lower(self) -> None:
        """Each plane up to the line where they cross, as at a ridge or hip."""
        for cell in self.both:
            high = self.top[cell]
            why = "same" if cell in self.same else "meet"
            self.standing.drop(cell, self._layer(cell, self._other(high)), Gone(why, high))
        drop_loose_overhangs(self.standing, self.wings)

    def _other(self, wing: int) -> int:
        return self.wings[1] if wing == self.wings[0] else self.wings[0]

    def _leaves_whole(self, high: int) -> bool:
        """Whether a wing leaves the other whole below it; of two overframed ones the later stands on the earlier."""
        low, overframed = self._other(high), self.standing.scene.overframed
        return overframed(high) and (high > low or not overframed(low))

    def _layer(self, cell: int, wing: int) -> int:
        return self.standing.present[cell][wing]

    def _higher(self, cell: int) -> int:
        """The wing that stays over a cell: the upper one, or the lower where that stays; of one plane the nearer."""
        first, second = self.wings
        gap = self.standing.gap(cell, self._layer(cell, first), self._layer(cell, second))
        if abs(gap) >= EQUAL_IN:
            return first if (gap > 0.0) != self.lower else second
        self.same.add(cell)
        overframed, off = self.standing.scene.overframed, self.standing.off
        return min(self.wings, key=lambda wing: (overframed(wing), off(cell, wing), wing))

    def _drop_plainly(self, cell: int, high: int, low: int) -> None:
        """What the cell alone decides."""
        standing = self.standing
        layer = self._layer(cell, low)
        if cell in self.same:
            standing.drop(cell, layer, Gone("same", high))
        elif high in standing.inside[cell] and not self._leaves_whole(high):
            standing.drop(cell, layer, Gone("walls", high))

    def _strays(self, wing: int) -> Iterator[int]:
        """Cells of a far end: a part of the wing that lies inside the other's building without reaching its walls and
        is small against the part that is meant.
        """
        standing, other = self.standing, self._other(wing)
        cells = standing.cells
        free = [c for c in standing.present if standing.reaches(c, wing) and self.top.get(c, wing) == wing]
        parts = cells.parts(free)
        sizes = [sum(cells.areas[cell] for cell in part) for part in parts]
        for part, size in zip(parts, sizes, strict=True):
            if size < _STRAY_SHARE * max(sizes) and self._deep_inside(part, other):
                yield from part

    def _deep_inside(self, part: list[int], wing: int) -> bool:
        cells, inside = self.standing.cells, self.standing.inside
        for cell in part:
            if wing not in inside[cell] or cell not in self.top:
                return False
            for side in cells.sides[cell]:
                beyond = cells.right(side)
                if beyond is None or wing not in inside[beyond]:
                    return False
        return True

    def _settle_eaves(self, eaves: list[int], high: int, low: int) -> Iterator[Close]:
        """The lower roof under the higher one's overhang, part by part."""
        standing = self.standing
        for part in standing.cells.parts(eaves):
            if not self._has_met(part, high, low) and not self._lies_close(part, high, low):
                yield from self._room(part, high, low)
            elif self._comes_off_whole(part, high, low):
                for cell in part:
                    standing.drop(cell, self._layer(cell, low), Gone("meet", high))

    def _has_met(self, part: list[int], high: int, low: int) -> bool:
        """Whether the part ends in a line where both roofs have one height and beyond which the lower one is higher."""
        standing = self.standing
        for cell in part:
            upper, lower = self._layer(cell, high), self._layer(cell, low)
            for side in standing.cells.sides[cell]:
                beyond = standing.cells.right(side)
                turned = beyond in self.top and (self.top[beyond] == low or beyond in self.same)
                if turned and standing.level_along(side, upper, lower):
                    return True
        return False

    def _lies_close(self, part: list[int], high: int, low: int) -> bool:
        """Whether the two are nowhere far enough apart to be two roofs."""
        gaps = (self.standing.gap(cell, self._layer(cell, high), self._layer(cell, low)) for cell in part)
        return all(gap < _OPEN_IN for gap in gaps)

    def _comes_off_whole(self, part: list[int], high: int, low: int) -> bool:
        """Whether the lower roof can end with the part: where it would go on, the step is none to speak of.

        Over the lower wing's own building the step has to be nothing; in its overhang it may be as high as the tails
        of the higher wing are deep, since nothing could pass below them anyway.
        """
        standing = self.standing
        for cell in part:
            upper, lower = self._layer(cell, high), self._layer(cell, low)
            tail = standing.scene.tail_in(standing.scene.layers[upper])
            for side in standing.cells.sides[cell]:
                beyond = standing.cells.right(side)
                if beyond is None or standing.reaches(beyond, high) or not standing.reaches(beyond, low):
                    continue
                room = low in standing.inside[cell] or low in standing.inside[beyond]
                if max(standing.gaps_along(side, upper, lower)) > (_OPEN_IN if room else tail):
                    return False
        return True

    def _room(self, part: list[int], high: int, low: int) -> Iterator[Close]:
        standing = self.standing
        least: Close | None = None
        for cell in part:
            upper, lower = self._layer(cell, high), self._layer(cell, low)
            a, b = standing.scene.layers[upper], standing.scene.layers[lower]
            places = [standing.cells.nodes[node] for node in standing.cells.corners[cell]]
            room = min(a.height(place) - b.height(place) for place in places)
            if room < standing.scene.tail_in(a) - EQUAL_IN and (least is None or room < least.room_in):
                least = Close(upper, lower, room)
        if least is not None:
            yield least
