"""Which relaxed sheets can't be cut whatever is tried: those are left out of the bound. Inches.

A sheet that was really cut passes both tests. Its pieces do not overlap, so their areas add up to the sheet's at most.
And its convex tall pieces all meet the sheet's middle line, in one order from left to right. Take two of them, each as
it is turned: a straight line parts them, and the one to the right lies to the right of it, since both meet the middle
line. For a line of lean s the corners' x - s·y are at most some number for the left piece and at least that for the
right one, which sets the least distance between the two; it is least at the lean of an edge of one of them, being
convex and straight between these, and with each at the sheet's upper or lower edge, being straight in how high they
lie. So the distance of every two is known from below, not only of neighbours, plus a kerf, which the saw takes between
any two; where a cut along the middle takes nothing it parts the pieces once, so that along the sheet one kerf is
spared. All orders and all turns are tried: where none fits the sheet's length, no cutting does. A piece that is
not convex is left out of the second test, which then asks less.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from functools import lru_cache

from workbench.sheathing.kinds import Kind, Ring, edge_leans, mirrored_ring, turned_ring
from workbench.sheathing.packing import SheetRules
from workbench.sheathing.pricing import Table, Tables

_FIT_IN = 5e-3  # a piece may be longer than its sheet by a support's slack
_SAME_IN = 1e-6
_MOST = 5  # tall pieces; more are not asked about
_STEPS = 12000  # of one listing
_FOUND = 3000
_ALL_STEPS = 300000  # times the states, of all listings for one bound

Holds = tuple[tuple[int, int], ...]


def may_hold(pieces: Sequence[Kind], rules: SheetRules, length_in: float | None = None) -> bool:
    """Whether these pieces may come out of one sheet, or out of a shorter part of one.

    Args:
        pieces: Their kinds, one a piece.
        rules: The sheet and the saw.
        length_in: Length of the part, cut off already; None for a whole sheet.
    """
    room = rules.length_in if length_in is None else length_in
    if sum(kind.area_sqin for kind in pieces) > room * rules.width_in + 1.0:
        return False
    talls = tuple(sorted((kind.shape.ring, kind.mirrors) for kind in pieces if _meets_middle(kind, rules)))
    if not talls or len(talls) > _MOST:
        return True
    spared = rules.kerf_in if rules.halves_nominal and length_in is None else 0.0
    return _fits(talls, round(room + spared + _FIT_IN, 6), rules.width_in, rules.kerf_in)


def _meets_middle(kind: Kind, rules: SheetRules) -> bool:
    """Whether a piece is convex and meets the middle line wherever it lies; tall ones may be a kerf short of that."""
    return kind.level == "tall" and kind.convex and 2.0 * kind.shape.width_in >= rules.width_in - _SAME_IN


@lru_cache(maxsize=65536)
def _fits(talls: tuple[tuple[Ring, bool], ...], room: float, width_in: float, kerf_in: float) -> bool:
    """Tries every order and every turn, piece after piece from the left."""
    ways = [(i, own) for i, (ring, mirrors) in enumerate(talls) for own in _turns(ring, mirrors)]
    ends = [max(x for x, _ in own) for _, own in ways]
    count, numbers = len(talls), range(len(ways))
    apart = [[_apart(a, b, width_in) + kerf_in if i != j else 0.0 for j, b in ways] for i, a in ways]
    # What a piece adds at least to where the last one lies, and the least that the last one takes from there.
    least = [
        min((apart[a][b] for a in numbers for b in numbers if ways[b][0] == i != ways[a][0]), default=0.0)
        for i in range(count)
    ]
    short = min(ends)

    def goes_on(left: int, more: float, laid: tuple[tuple[int, float], ...]) -> bool:
        if not left:
            return True
        tried: set[Ring] = set()
        for way in numbers:
            i, own = ways[way]
            if not left >> i & 1 or own in tried:
                continue
            tried.add(own)
            at = max([x + apart[other][way] for other, x in laid], default=0.0)
            at = max(at, 0.0)
            rest = more - least[i]
            if (
                at + ends[way] <= room
                and at + rest + short <= room
                and goes_on(left ^ 1 << i, rest, (*laid, (way, at)))
            ):
                return True
        return False

    return goes_on((1 << count) - 1, sum(least), ())


@lru_cache(maxsize=8192)
def _turns(ring: Ring, mirrors: bool) -> tuple[Ring, ...]:
    ways = [ring, turned_ring(ring)]
    if mirrors:
        ways += [mirrored_ring(way) for way in ways]
    return tuple(dict.fromkeys(ways))


@lru_cache(maxsize=65536)
def _apart(left: Ring, right: Ring, width_in: float) -> float:
    """The least by which the right piece's origin lies to the right of the left one's."""
    free = width_in - max(y for _, y in left), width_in - max(y for _, y in right)
    least = None
    for lean in {0.0, *edge_leans(left), *edge_leans(right)}:
        end = max(x - lean * y for x, y in left) - max(lean * free[0], 0.0)
        start = min(x - lean * y for x, y in right) - min(lean * free[1], 0.0)
        if least is None or end - start < least:
            least = end - start
    assert least is not None
    return least


@dataclass
class Sieve:
    """The tests, with what is known of sheets already asked about.

    Attributes:
        kinds: The kinds of pieces.
        rules: The sheet and the saw.
        known: Whether a sheet, or half of one, passes, by its pieces.
        steps: Work done.
        allowed: Work after which no more is listed.
    """

    kinds: tuple[Kind, ...]
    rules: SheetRules
    known: dict[tuple[Holds, bool], bool] = field(default_factory=dict[tuple[Holds, bool], bool])
    steps: int = 0
    allowed: int = _ALL_STEPS

    @property
    def tired(self) -> bool:
        """Whether the work allowed since ``steps`` was set to 0 is done."""
        return self.steps > self.allowed

    def passes(self, inside: Mapping[int, int], *, half: bool = False) -> bool:
        """Whether a sheet, or half of one, may hold these pieces, by kind."""
        key = tuple(sorted((k, n) for k, n in inside.items() if n)), half
        if key not in self.known:
            pieces = [self.kinds[k] for k, n in key[0] for _ in range(n)]
            self.known[key] = may_hold(pieces, self.rules, self.rules.length_in / 2.0 if half else None)
        return self.known[key]

    def listed(self, tables: Tables, least: int) -> dict[Holds, int] | None:
        """Every sheet of at least a worth that passes, with its worth; None where that is too much work."""
        found: dict[Holds, int] = {}
        whole = _Listing(self, tables.whole, least, half=False)
        if not whole.run():
            return None
        found.update(whole.found)
        if tables.mixed is not None:
            mixed = _Listing(self, tables.mixed, least, half=False, needs=tables.strips)
            if not mixed.run():
                return None
            found.update(mixed.found)
        if tables.half is not None:
            halves = _Listing(self, tables.half, least - tables.half.best, half=True)
            if not halves.run():
                return None
            ordered = sorted(halves.found.items(), key=lambda item: (-item[1], item[0]))
            for i, (one, worth) in enumerate(ordered):
                for other, more in ordered[i:]:
                    if worth + more < least:
                        break
                    both = dict(one)
                    for k, n in other:
                        both[k] = both.get(k, 0) + n
                    found[tuple(sorted(both.items()))] = worth + more
                    if len(found) > _FOUND:
                        return None
        return found


@dataclass
class _Listing:
    """Writes out every sheet of at least a worth, leaving out what fails the tests as soon as it does."""

    sieve: Sieve
    table: Table
    least: int
    half: bool
    needs: frozenset[int] = frozenset()
    found: dict[Holds, int] = field(default_factory=dict[Holds, int])
    steps: int = 0

    def run(self) -> bool:
        """Whether all were written out within the work allowed."""
        return self._from(len(self.table.items) - 1, 0, self.table.start, {})

    def _from(self, item: int, worth: int, used: tuple[int, ...], holds: dict[int, int]) -> bool:
        self.steps += 1
        self.sieve.steps += len(used)
        if self.steps > _STEPS or self.sieve.tired:
            return False
        # The kinds that one is needed of come first.
        if self.needs and not self.needs & holds.keys() and (item < 0 or self.table.items[item][0] not in self.needs):
            return True
        if item < 0:
            if worth >= self.least:
                self.found[tuple(sorted(holds.items()))] = worth
            return len(self.found) <= _FOUND
        kind, value, most = self.table.items[item]
        own, count = holds, 0
        while True:
            if worth + self.table.ahead(item, used) >= self.least and not self._from(item - 1, worth, used, own):
                return False
            used = self.table.with_one(item, used)
            count, worth = count + 1, worth + value
            if count > most or not any(steps <= self.table.room for steps in used):
                return True
            own = {**holds, kind: count}
            if not self.sieve.passes(own, half=self.half):
                return True
