"""One layout, bounded in whole sheets: all sheets that could be part of so few are written out, and all ways tried.

However worths are chosen: let no sheet hold more than z worth of pieces, and all pieces be worth W. In a cut plan of n
sheets every sheet is filled to within n · z - W of z, all lacks together being that much. So only sheets that lack no
more are written out, in the relaxed form of ``pricing``, which leaves out none that can be cut; and a search over
which sheet holds the piece that fits the fewest, counting the lacks, either finds n of them that hold all pieces or
shows that there are none. All of it is whole numbers. Small pieces are left out, which lowers the bound at most.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field

from workbench.sheathing.chains import chain_fits
from workbench.sheathing.pricing import Pricer, Table, Tables
from workbench.sheathing.relaxed import Counts

_MOST_SHEETS = 6000
_MOST_STEPS = 60000
_MOST_TRIES = 2500

Holds = tuple[tuple[int, int], ...]
"""Kinds of pieces and how many of each."""


@dataclass(frozen=True)
class Covered:
    """What came of one layout.

    Attributes:
        possible: Whether so few sheets may do; True also where the work allowed did not settle it.
        sheets: The relaxed sheets that could be part of so few, most worth first; empty where that was too many.
    """

    possible: bool
    sheets: tuple[Holds, ...]


def cover(
    pricer: Pricer, values: Sequence[int], wanted: Counts, most: int, chains: dict[Holds, bool] | None = None
) -> Covered:
    """Whether a number of sheets may hold all pieces.

    Args:
        pricer: Prepared for the kinds.
        values: Worth of one piece of each kind, whole numbers of 0 or more.
        wanted: The pieces by kind.
        most: The number of sheets.
        chains: Which tall pieces are known to fit a sheet; added to.
    """
    kinds = [k for k, n in wanted.items() if n and pricer.kinds[k].level != "small"]
    items = [(k, max(values[k], 0)) for k in kinds]
    tables = pricer.tables(items, wanted)
    full = tables.best
    lack = most * full - sum(wanted[k] * value for k, value in items)
    if lack < 0:
        return Covered(False, ())
    found = _listed(tables, full - lack, wanted)
    if found is None:
        return Covered(True, ())
    sheets = _largest(_chained(found, pricer, chains), wanted)
    sheets.sort(key=lambda holds: (-sum(n * values[k] for k, n in holds), holds))
    search = _Cover(dict(items), full, sheets)
    return Covered(search.possible({k: wanted[k] for k in kinds}, lack), tuple(sheets))


def _listed(tables: Tables, least: int, wanted: Counts) -> set[Holds] | None:
    """Every relaxed sheet of at least a worth: whole, as two halves, with strips; None where that is too much work."""
    listing = _Listing(tables.whole, least)
    if not listing.run():
        return None
    found = listing.found
    if tables.mixed is not None:
        mixed = _Listing(tables.mixed, least, tables.strips)
        if not mixed.run():
            return None
        found |= mixed.found
    if tables.half is not None:
        halves = _Listing(tables.half, least - tables.half.best)
        if not halves.run():
            return None
        _join(found, halves, least, wanted)
    return found if len(found) <= _MOST_SHEETS else None


def _join(found: set[Holds], halves: _Listing, least: int, wanted: Counts) -> None:
    """Adds what two halves hold together."""
    value = {k: worth for k, worth, _ in halves.table.items}
    worths = {holds: sum(n * value[k] for k, n in holds) for holds in halves.found}
    ordered = sorted(worths, key=lambda holds: (-worths[holds], holds))
    for i, one in enumerate(ordered):
        for other in ordered[i:]:
            if worths[one] + worths[other] < least or len(found) > _MOST_SHEETS:
                break
            both = dict(one)
            for k, n in other:
                both[k] = both.get(k, 0) + n
            if all(n <= wanted[k] for k, n in both.items()):
                found.add(tuple(sorted(both.items())))


@dataclass
class _Listing:
    """Writes out every relaxed sheet of at least a worth."""

    table: Table
    least: int
    needs: frozenset[int] = frozenset()
    found: set[Holds] = field(default_factory=set[Holds])
    steps: int = 0

    def run(self) -> bool:
        """Whether all were written out within the work allowed."""
        return self._from(len(self.table.items) - 1, 0, self.table.start, ())

    def _from(self, item: int, worth: int, used: tuple[int, ...], holds: Holds) -> bool:
        self.steps += 1
        if self.steps > _MOST_STEPS:
            return False
        # The kinds that one is needed of come first.
        others = item >= 0 and self.table.items[item][0] not in self.needs
        if self.needs and others and not any(k in self.needs for k, _ in holds):
            return True
        if item < 0:
            if holds and worth >= self.least:
                self.found.add(tuple(sorted(holds)))
            return len(self.found) <= _MOST_SHEETS
        kind, value, most = self.table.items[item]
        count = 0
        while True:
            if worth + self.table.ahead(item, used) < self.least:
                # What is left can't make up for what is lacking; holding more of this kind may.
                possible = self.table.fits(used)
            else:
                possible = True
                own = ((kind, count), *holds) if count else holds
                if not self._from(item - 1, worth, used, own):
                    return False
            if count == most or not possible:
                return True
            used = self.table.with_one(item, used)
            if not self.table.fits(used):
                return True
            count, worth = count + 1, worth + value


def _chained(found: set[Holds], pricer: Pricer, chains: dict[Holds, bool] | None) -> set[Holds]:
    """The sheets whose tall pieces can lie in some order."""
    known: dict[Holds, bool] = {} if chains is None else chains
    kept: set[Holds] = set()
    for holds in found:
        talls = tuple((k, n) for k, n in holds if pricer.kinds[k].level == "tall")
        if talls not in known:
            known[talls] = chain_fits([pricer.kinds[k] for k, n in talls for _ in range(n)], pricer.rules)
        if known[talls]:
            kept.add(holds)
    return kept


def _largest(found: set[Holds], wanted: Counts) -> list[Holds]:
    """The sheets to which no piece that is wanted can be added."""
    kept: list[Holds] = []
    for holds in found:
        counts = dict(holds)
        more = (
            tuple(sorted({**counts, k: counts.get(k, 0) + 1}.items()))
            for k, most in wanted.items()
            if counts.get(k, 0) < most
        )
        if not any(other in found for other in more):
            kept.append(holds)
    return kept


@dataclass
class _Cover:
    """Tries every way to take all pieces with sheets that lack little."""

    values: dict[int, int]
    full: int
    sheets: Sequence[Holds]
    tries: int = 0
    failed: dict[tuple[tuple[int, int], ...], int] = field(default_factory=dict[tuple[tuple[int, int], ...], int])
    holding: dict[int, list[Holds]] = field(default_factory=dict[int, list[Holds]])

    def possible(self, left: Counts, lack: int) -> bool:
        """Whether the pieces left can be taken by sheets that lack no more than that together."""
        for holds in self.sheets:
            for k, _ in holds:
                self.holding.setdefault(k, []).append(holds)
        return self._possible(left, lack)

    def _possible(self, left: Counts, lack: int) -> bool:
        if not left:
            return True
        self.tries += 1
        if self.tries > _MOST_TRIES:
            return True
        key = tuple(sorted(left.items()))
        if self.failed.get(key, -1) >= lack:
            return False
        chosen: list[tuple[int, Holds]] | None = None
        for k in left:
            ways = self._ways(k, left, lack)
            if chosen is None or len(ways) < len(chosen):
                chosen = ways
            if not ways:
                break
        for more, holds in sorted(chosen or []):
            rest = dict(left)
            for k, n in holds:
                if k in rest:
                    rest[k] -= n
                    if rest[k] <= 0:
                        del rest[k]
            if self._possible(rest, lack - more):
                return True
        self.failed[key] = lack
        return False

    def _ways(self, kind: int, left: Counts, lack: int) -> list[tuple[int, Holds]]:
        """Sheets with a kind that lack little enough, with what each lacks; of equal takings the first only."""
        ways: dict[Holds, tuple[int, Holds]] = {}
        for holds in self.holding.get(kind, ()):
            taken = tuple((k, min(n, left[k])) for k, n in holds if k in left)
            more = self.full - sum(n * self.values[k] for k, n in taken)
            if more <= lack and taken not in ways:
                ways[taken] = (more, holds)
        return list(ways.values())
