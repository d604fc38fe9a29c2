"""The most that one sheet's pieces can be worth: exact in whole numbers, and never less than any real cutting gives.

Lengths are whole steps of 1/32 in (1/16 in where pieces are slanted), what pieces take rounded down, so that the answer
bounds every cutting from above. Tall pieces line up along the sheet; between two of them runs one cut, so the leans at
the cuts must pair up, which is followed by one bit a lean. Pieces of strip width lie two abreast: in jobs without slant
each of the two strips is filled by itself, otherwise a piece takes half of its length. Small pieces count by the area
that is left over. The same piece is taken no more often than the job can have it.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from workbench.sheathing.kinds import Kind, leans_of, least_taken
from workbench.sheathing.packing import SheetRules

_NEVER = -(1 << 29)
_FEW, _SEVERAL = 48, 8

Whole = NDArray[np.int32]


@dataclass(frozen=True, slots=True)
class Take:
    """One way a piece takes its place: the length in steps, and the leans (as bits) that its two cuts switch."""

    steps: int
    bits: int


@dataclass(frozen=True)
class Pricer:
    """Finds the most valuable sheet.

    Attributes:
        kinds: The kinds of pieces.
        most: How many pieces of each kind a layout can have at most.
        rules: The sheet and the saw.
        leans: Leans of the cuts, upright first.
        takes: For each kind its ways of lying.
        steps: Steps an inch.
        flat: Whether no piece is slanted; strips are then exact.
        areas: Whole square steps of area, rounded down.
    """

    kinds: tuple[Kind, ...]
    most: tuple[int, ...]
    rules: SheetRules
    leans: tuple[float, ...]
    takes: tuple[tuple[Take, ...], ...]
    steps: int
    flat: bool
    areas: tuple[int, ...]

    @classmethod
    def of(cls, kinds: Sequence[Kind], most: Sequence[int], rules: SheetRules, *, real: bool = False) -> Pricer:
        """Prepares the pricing of these kinds; with ``real`` for sheets that can be laid out, not for a bound."""
        leans, wild = leans_of(kinds)
        flat = all(kind.shape.upright and kind.level != "small" for kind in kinds)
        steps = 32 if flat else 16
        takes = tuple(_takes(kind, leans, wild and not real, rules, real, steps) for kind in kinds)
        areas = tuple(math.floor(kind.area_sqin) for kind in kinds)
        return cls(tuple(kinds), tuple(most), rules, leans, takes, steps, flat, areas)

    @property
    def sheet_area(self) -> int:
        """Area of a sheet, rounded up."""
        return math.ceil(self.rules.length_in * self.rules.width_in)

    def best(self, values: Sequence[int], area_value: int = 0) -> tuple[int, list[dict[int, int]]]:
        """The most a sheet can be worth, and pieces by kind of sheets that come to that or near it.

        Args:
            values: Worth of one piece of each kind; small ones are worth their area only.
            area_value: Worth of a square inch left over.
        """
        length, kerf = self.rules.length_in, self.rules.kerf_in
        spare = self.sheet_area * area_value
        whole = _steps_up(length + kerf, self.steps)
        half = _steps_up(length / 2.0 + kerf, self.steps) if self.rules.halves_nominal else 0
        if self.flat:
            best, contents = self._flat(values, whole, half)
        else:
            best, contents = self._slanted(values, area_value, whole, half)
        return best + spare, contents

    def several(self, values: Sequence[int], area_value: int, enough: int) -> list[dict[int, int]]:
        """Sheets worth more than enough, all of different kinds, found among the kinds most worth for what they take.

        Quicker than the best sheet, and more of use to a program at once; none where the few kinds hold none.
        """
        if self.flat:
            return []
        worth = {
            i: values[i] - area_value * self.areas[i] for level in ("tall", "strip") for i in self._worth(values, level)
        }
        takes = {i: min(take.steps for take in self.takes[i]) for i in worth if worth[i] > 0}
        ranked = sorted(takes, key=lambda i: (-worth[i] / (takes[i] + 1), i))
        found: list[dict[int, int]] = []
        whole = _steps_up(self.rules.length_in + self.rules.kerf_in, self.steps)
        spare = self.sheet_area * area_value
        for _ in range(_SEVERAL):
            filled = self._fill([(i, worth[i]) for i in ranked[:_FEW]], whole, len(self.leans) - 1)
            best, state = max(
                (int(filled.worth[s, whole - end]), -s)
                for s in range(1 << (len(self.leans) - 1))
                if (end := self._closing(s)) <= whole
            )
            if best + spare <= enough:
                break
            inside = filled.contents(-state, whole - self._closing(-state))
            found.append(inside)
            ranked = [i for i in ranked if i not in inside]
        return found

    def _flat(self, values: Sequence[int], whole: int, half: int) -> tuple[int, list[dict[int, int]]]:
        talls = self._fill([(i, values[i]) for i in self._worth(values, "tall")], whole, 0)
        strips = self._fill([(i, values[i]) for i in self._worth(values, "strip")], whole, 0)
        found: list[tuple[int, dict[int, int]]] = []
        for room in (whole, half) if half else (whole,):
            # Pieces lying two abreast share what the tall ones leave; a kerf for each is in what it takes.
            both = talls.worth[0, : room + 1] + 2 * strips.worth[0, room::-1]
            at = int(np.argmax(both))
            inside = _times(talls.contents(0, at), 1)
            inside = _merged(inside, _times(strips.contents(0, room - at), 2))
            found.append((int(both[at]), inside))
        if half:
            value, inside = found[1]
            found[1] = (2 * value, _times(inside, 2))
            pair = _times(strips.contents(0, half), 4)
            found.append((4 * int(strips.worth[0, half]), pair))
            mixed = 2 * int(strips.worth[0, half]) + int(strips.worth[0, whole])
            found.append((mixed, _merged(_times(strips.contents(0, half), 2), strips.contents(0, whole))))
        found.sort(key=lambda item: -item[0])
        return found[0][0], [inside for _, inside in found if inside]

    def _slanted(
        self, values: Sequence[int], area_value: int, whole: int, half: int
    ) -> tuple[int, list[dict[int, int]]]:
        bits = len(self.leans) - 1
        items = [
            (i, values[i] - area_value * self.areas[i])
            for level in ("tall", "strip")
            for i in self._worth(values, level)
            if values[i] > area_value * self.areas[i]
        ]
        filled = self._fill(items, whole, bits)
        ends = [self._closing(state) for state in range(1 << bits)]
        found: list[tuple[int, dict[int, int]]] = []
        for room, times in ((whole, 1), (half, 2)) if half else ((whole, 1),):
            for state, end in enumerate(ends):
                if end <= room and filled.worth[state, room - end] > 0:
                    value = times * int(filled.worth[state, room - end])
                    found.append((value, _times(filled.contents(state, room - end), times)))
        found.sort(key=lambda item: -item[0])
        if not found:
            return 0, []
        return found[0][0], [inside for _, inside in found]

    def _worth(self, values: Sequence[int], level: str) -> list[int]:
        return [i for i, kind in enumerate(self.kinds) if kind.level == level and values[i] > 0]

    def _closing(self, state: int) -> int:
        """Steps wasted where leans are left unpaired: wedges from one to the next, and to the sheet's upright ends."""
        odd = [self.leans[b + 1] for b in range(len(self.leans) - 1) if state >> b & 1]
        if len(odd) % 2:
            odd.append(0.0)
        odd.sort()
        waste = sum(b - a for a, b in zip(odd[::2], odd[1::2], strict=True))
        return math.floor(self.rules.width_in / 2.0 * waste * self.steps + 1e-6)

    def _fill(self, items: list[tuple[int, int]], room: int, bits: int) -> _Filled:
        worth = np.full((1 << bits, room + 1), _NEVER, dtype=np.int32)
        worth[0, :] = 0
        before: list[tuple[int, int, Whole]] = []
        order = np.arange(1 << bits)
        for i, value in items:
            least = min(take.steps for take in self.takes[i])
            copies = min(self.most[i], room // max(least, 1))
            for _ in range(copies):
                kept = worth
                worth = kept.copy()
                for take in self.takes[i]:
                    if take.steps <= room:
                        source = kept[order ^ take.bits] if take.bits else kept
                        reached = worth[:, take.steps :]
                        np.maximum(reached, source[:, : room + 1 - take.steps] + value, out=reached)
                before.append((i, value, kept))
        return _Filled(worth, before, self.takes)


@dataclass(frozen=True)
class _Filled:
    """Worth by state and room, and the same before each piece was offered."""

    worth: Whole
    before: list[tuple[int, int, Whole]]
    takes: tuple[tuple[Take, ...], ...]

    def contents(self, state: int, room: int) -> dict[int, int]:
        """Pieces by kind that come to the worth of a state and room."""
        inside: dict[int, int] = {}
        left = int(self.worth[state, room])
        for i, value, kept in reversed(self.before):
            if int(kept[state, room]) == left:
                continue
            for take in self.takes[i]:
                if take.steps <= room and int(kept[state ^ take.bits, room - take.steps]) + value == left:
                    state, room, left = state ^ take.bits, room - take.steps, left - value
                    inside[i] = inside.get(i, 0) + 1
                    break
        return inside


def _times(inside: dict[int, int], times: int) -> dict[int, int]:
    return {i: times * count for i, count in inside.items()}


def _merged(one: dict[int, int], other: dict[int, int]) -> dict[int, int]:
    return {i: one.get(i, 0) + other.get(i, 0) for i in {**one, **other}}


def _steps_up(length_in: float, steps: int) -> int:
    return math.ceil(length_in * steps - 1e-6)


def _takes(
    kind: Kind, leans: tuple[float, ...], wild: bool, rules: SheetRules, real: bool, steps_in: int
) -> tuple[Take, ...]:
    """The ways of lying that may be worth it; cuts of any lean, where not all leans are followed, switch no bit."""
    kerf = rules.kerf_in
    if kind.level == "small":
        return ()
    if kind.level == "strip":
        takes = least_taken(kind, None, None, rules.width_in / 2.0) + kerf
        flat = kind.shape.upright and len(leans) == 1 and not wild
        return (Take(math.floor((takes if flat else takes / 2.0) * steps_in + 1e-6), 0),)
    nodes: list[tuple[float | None, int]] = [(lean, (1 << (b - 1)) if b else 0) for b, lean in enumerate(leans)]
    if wild:
        nodes.append((None, 0))
    ways: dict[int, int] = {}
    for a, (left, left_bit) in enumerate(nodes):
        for right, right_bit in nodes[a:]:
            run = max(least_taken(kind, left, right, rules.width_in), 0.0)
            if real and left is not None and right is not None:
                run = max(run, abs(right - left) * rules.width_in / 2.0)  # such cuts must not cross in the sheet
            takes = math.floor((run + kerf) * steps_in + 1e-6)
            bits = left_bit ^ right_bit
            ways[bits] = min(ways.get(bits, takes), takes)
    if not wild:
        ways = _worth_taking(ways, leans, rules, steps_in)
    return tuple(Take(steps, bits) for bits, steps in sorted(ways.items()))


def _worth_taking(ways: dict[int, int], leans: tuple[float, ...], rules: SheetRules, steps_in: int) -> dict[int, int]:
    """The ways without those that a wedge of waste beside another way does as well."""
    kept: dict[int, int] = {}
    for bits, steps in sorted(ways.items(), key=lambda item: (item[1], item[0])):
        if all(steps < more + _wedge(bits ^ other, leans, rules, steps_in) for other, more in kept.items()):
            kept[bits] = steps
    return kept


def _wedge(bits: int, leans: tuple[float, ...], rules: SheetRules, steps_in: int) -> int:
    odd = [leans[b + 1] for b in range(len(leans) - 1) if bits >> b & 1]
    if len(odd) % 2:
        odd.append(0.0)
    odd.sort()
    waste = sum(b - a for a, b in zip(odd[::2], odd[1::2], strict=True))
    return math.ceil(rules.width_in / 2.0 * waste * steps_in - 1e-6)
