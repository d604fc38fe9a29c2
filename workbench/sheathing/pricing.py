"""The most that one sheet's pieces can be worth: exact in whole numbers, and never less than any real cutting gives.

Lengths are whole steps of 1/32 in (1/16 in where pieces are slanted), what pieces take rounded down, so that the answer
bounds every cutting from above. Tall pieces line up along the sheet; between two of them runs one cut, so the leans at
the cuts must pair up, which is followed by one bit a lean. Strips lie two abreast: in jobs without slant each of the
two is filled by itself. Small pieces count by the area that is left over. The same piece is taken no more often than
the job can have it.

Where pieces are slanted, strips are as wide as half a sheet, and can fill the wedge beside any lean. A sheet with a
strip is bounded by itself: on a line straight across a sheet, what is over half of it counts whole and what is half of
it counts half, and that adds up to one at most wherever pieces lie; so, along the sheet, do the lengths over which
pieces are over half, and half the lengths over which they are half, to the sheet's length at most.
"""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from workbench.sheathing.kinds import Kind, Level, leans_of, least_taken, over_half
from workbench.sheathing.packing import SheetRules

_NEVER = -(1 << 29)
_FEW, _SEVERAL = 48, 8
_FEW_STATES = 4
_STRIP_AND_TALL: tuple[Level, Level] = ("strip", "tall")

Whole = NDArray[np.int32]


@dataclass(frozen=True, slots=True)
class Take:
    """One way a piece takes its place: the length in steps, and the leans (as bits) that its two cuts switch."""

    steps: int
    bits: int


Takes = tuple[tuple[Take, ...], ...]
"""The ways of lying of every kind."""


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
        spans: What each kind takes of the length of a sheet with strips, in steps; empty where none need it.
    """

    kinds: tuple[Kind, ...]
    most: tuple[int, ...]
    rules: SheetRules
    leans: tuple[float, ...]
    takes: Takes
    steps: int
    flat: bool
    areas: tuple[int, ...]
    spans: tuple[int, ...] = ()

    @classmethod
    def of(cls, kinds: Sequence[Kind], most: Sequence[int], rules: SheetRules, *, real: bool = False) -> Pricer:
        """Prepares the pricing of these kinds; with ``real`` for sheets that can be laid out, not for a bound."""
        leans, wild = leans_of(kinds)
        flat = all(kind.shape.upright and kind.level != "small" for kind in kinds)
        steps = 32 if flat else 16
        takes = tuple(_takes(kind, leans, wild and not real, rules, real, steps) for kind in kinds)
        areas = tuple(math.floor(kind.area_sqin) for kind in kinds)
        spans: tuple[int, ...] = ()
        if not flat and not real and any(kind.level == "strip" for kind in kinds):
            spans = tuple(math.floor(over_half(kind.shape.ring, rules.width_in) * steps + 1e-6) for kind in kinds)
        return cls(tuple(kinds), tuple(most), rules, leans, takes, steps, flat, areas, spans)

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
        levels: tuple[Level, ...] = ("tall",) if self.spans else ("tall", "strip")
        worth = {i: values[i] - area_value * self.areas[i] for level in levels for i in self._worth(values, level)}
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
        strips, talls = (
            [
                (i, values[i] - area_value * self.areas[i])
                for i in self._worth(values, level)
                if values[i] > area_value * self.areas[i]
            ]
            for level in _STRIP_AND_TALL
        )
        filled = self._fill(talls if self.spans else [*talls, *strips], whole, bits)
        ends = [self._closing(state) for state in range(1 << bits)]
        found = self._with_strips(talls, strips) if self.spans else []
        for room, times in ((whole, 1), (half, 2)) if half else ((whole, 1),):
            for state, end in enumerate(ends):
                if end <= room and filled.worth[state, room - end] > 0:
                    value = times * int(filled.worth[state, room - end])
                    found.append((value, _times(filled.contents(state, room - end), times)))
        found.sort(key=lambda item: -item[0])
        if not found:
            return 0, []
        return found[0][0], [inside for _, inside in found]

    def _with_strips(
        self, talls: list[tuple[int, int]], strips: list[tuple[int, int]]
    ) -> list[tuple[int, dict[int, int]]]:
        """The most worth sheets with a strip, by spans: for each strip that may be the one."""
        room = math.floor(self.rules.length_in * self.steps + 1e-6)
        filled = self._fill([*talls, *strips], room, 0, tuple((Take(span, 0),) for span in self.spans))
        ranked = sorted(
            ((value + int(filled.worth[0, room - self.spans[i]]), -i) for i, value in strips if self.spans[i] <= room),
            reverse=True,
        )
        return [(worth, _merged({-i: 1}, filled.contents(0, room - self.spans[-i]))) for worth, i in ranked[:_SEVERAL]]

    def tables(self, items: Sequence[tuple[int, int]], most: Mapping[int, int]) -> Tables:
        """Worths by room of these kinds, one after the other: whole sheets, half sheets, and sheets with strips.

        A half sheet counts by itself where a cut along the middle takes nothing.

        Args:
            items: Kinds with the worth of one piece.
            most: How many of each kind a sheet need hold.
        """
        length, kerf = self.rules.length_in, self.rules.kerf_in
        talls = [(i, value, most[i]) for i, value in items if self.kinds[i].level == "tall"]
        strips = [(i, value, most[i]) for i, value in items if self.kinds[i].level == "strip"]
        alone = talls if self.spans else [*talls, *strips]
        whole = self._table(alone, _steps_up(length + kerf, self.steps))
        half = None
        if self.rules.halves_nominal:
            half = self._table(alone, _steps_up(length / 2.0 + kerf, self.steps))
        if not self.spans or not strips:
            return Tables(whole, half, None, frozenset())
        spans = tuple((Take(span, 0),) for span in self.spans)
        mixed = self._table([*talls, *strips], math.floor(length * self.steps + 1e-6), spans)
        return Tables(whole, half, mixed, frozenset(i for i, _, _ in strips))

    def _table(self, items: list[tuple[int, int, int]], room: int, spans: Takes | None = None) -> Table:
        takes = spans or self.takes
        bits = 0 if spans else len(self.leans) - 1
        layers = [self._nothing(room, bits)]
        for i, value, count in items:
            worth = layers[-1]
            for _ in range(min(count, room // max(min(take.steps for take in takes[i]), 1))):
                worth = self._one_more(worth, takes[i], value)
            layers.append(worth)
        closing = tuple(self._closing(state) for state in range(1 << bits))
        return Table(tuple(items), takes, room, closing, tuple(layers))

    @staticmethod
    def _nothing(room: int, bits: int) -> Whole:
        worth = np.full((1 << bits, room + 1), _NEVER, dtype=np.int32)
        worth[0, :] = 0
        return worth

    @staticmethod
    def _one_more(kept: Whole, takes: Sequence[Take], value: int) -> Whole:
        """The worths with one more piece of a kind offered."""
        room = kept.shape[1] - 1
        order: NDArray[np.intp] = np.arange(kept.shape[0], dtype=np.intp)
        worth = kept.copy()
        for take in takes:
            if take.steps <= room:
                source = kept[order ^ take.bits] if take.bits else kept
                reached = worth[:, take.steps :]
                np.maximum(reached, source[:, : room + 1 - take.steps] + value, out=reached)
        return worth

    def _worth(self, values: Sequence[int], level: Level) -> list[int]:
        return [i for i, kind in enumerate(self.kinds) if kind.level == level and values[i] > 0]

    def _closing(self, state: int) -> int:
        """Steps wasted where leans are left unpaired: wedges from one to the next, and to the sheet's upright ends."""
        odd = [self.leans[b + 1] for b in range(len(self.leans) - 1) if state >> b & 1]
        if len(odd) % 2:
            odd.append(0.0)
        odd.sort()
        waste = sum(b - a for a, b in zip(odd[::2], odd[1::2], strict=True))
        return math.floor(self.rules.width_in / 2.0 * waste * self.steps + 1e-6)

    def _fill(self, items: list[tuple[int, int]], room: int, bits: int, spans: Takes | None = None) -> _Filled:
        takes = spans or self.takes
        worth = self._nothing(room, bits)
        before: list[tuple[int, int, Whole]] = []
        for i, value in items:
            least = min(take.steps for take in takes[i])
            copies = min(self.most[i], room // max(least, 1))
            for _ in range(copies):
                before.append((i, value, worth))
                worth = self._one_more(worth, takes[i], value)
        return _Filled(worth, before, takes)


@dataclass(frozen=True)
class _Filled:
    """Worth by state and room, and the same before each piece was offered."""

    worth: Whole
    before: list[tuple[int, int, Whole]]
    takes: Takes

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


@dataclass(frozen=True)
class Table:
    """Worths by state and room, kind after kind.

    Attributes:
        items: Kind, worth of one piece, and how many at most.
        takes: The ways of lying of every kind.
        room: Steps of the whole room.
        closing: Steps wasted at the end by state.
        layers: ``layers[n]``: the most that pieces of the first n items are worth, by state and room.
    """

    items: tuple[tuple[int, int, int], ...]
    takes: Takes
    room: int
    closing: tuple[int, ...]
    layers: tuple[Whole, ...]

    @property
    def start(self) -> tuple[int, ...]:
        """Least steps used by state before any piece is taken: none, and only with no lean left unpaired."""
        return (0, *([self.room + 1] * (len(self.closing) - 1)))

    @property
    def best(self) -> int:
        """The most that a sheet can be worth."""
        return self.ahead(len(self.items), self.start)

    def best_with(self, kinds: frozenset[int]) -> int:
        """The most that a sheet with one of these kinds can be worth."""
        best = _NEVER
        for item, (kind, value, _) in enumerate(self.items):
            if kind in kinds and self.fits(used := self.with_one(item, self.start)):
                best = max(best, value + self.ahead(len(self.items), used))
        return best

    def ahead(self, item: int, used: Sequence[int]) -> int:
        """The most that pieces of the items before this one can add to what is used."""
        layer, best = self.layers[item], _NEVER
        if len(used) > _FEW_STATES:
            return self._ahead_of_many(layer, used)
        for state, steps in enumerate(used):
            if steps > self.room:
                continue
            for other, end in enumerate(self.closing):
                left = self.room - steps - end
                if left >= 0:
                    best = max(best, int(layer[state ^ other, left]))
        return best

    def _ahead_of_many(self, layer: Whole, used: Sequence[int]) -> int:
        """The same, all states at once."""
        states: NDArray[np.intp] = np.arange(len(used), dtype=np.intp)
        left = self.room - np.array(used, dtype=np.intp)[:, None] - np.array(self.closing, dtype=np.intp)[None, :]
        worth = layer[states[:, None] ^ states[None, :], np.maximum(left, 0)]
        return int(np.where(left >= 0, worth, _NEVER).max())

    def with_one(self, item: int, used: Sequence[int]) -> tuple[int, ...]:
        """Least steps used by state once one more piece is taken."""
        takes = self.takes[self.items[item][0]]
        states = range(len(used))
        return tuple(min(min(used[s ^ take.bits] + take.steps for take in takes), self.room + 1) for s in states)

    def fits(self, used: Sequence[int]) -> bool:
        """Whether what is used leaves room for its end."""
        return any(steps + end <= self.room for steps, end in zip(used, self.closing, strict=True))


@dataclass(frozen=True)
class Tables:
    """Tables of whole sheets, of half sheets and of sheets with strips; None where there are no such sheets."""

    whole: Table
    half: Table | None
    mixed: Table | None
    strips: frozenset[int]

    @property
    def best(self) -> int:
        """The most that a sheet can be worth."""
        best = max(self.whole.best, 2 * self.half.best if self.half is not None else 0)
        return best if self.mixed is None else max(best, self.mixed.best_with(self.strips))


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
