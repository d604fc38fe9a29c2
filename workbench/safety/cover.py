"""Set cover, exactly: the fewest sets that hold all elements, by branch and bound on bit masks."""

from __future__ import annotations

from collections.abc import Sequence

MOST_NODES = 200_000


def fewest_sets(holds: Sequence[int]) -> tuple[tuple[int, ...], bool]:
    """Numbers of the fewest sets whose union is the union of all, and whether fewer are proven impossible.

    The lexicographically first of the smallest answers that the search meets; the same input gives the same answer.

    Args:
        holds: One bit mask a set.
    """
    everything = 0
    for mask in holds:
        everything |= mask
    if not everything:
        return (), True
    return _Search(holds, everything).run()


class _Search:
    def __init__(self, holds: Sequence[int], everything: int) -> None:
        self.everything = everything
        self.sets = _undominated(holds)
        self.holds = holds
        self.holders = _holders(holds, self.sets, everything)
        self.best = self._greedy()
        self.nodes = 0
        self.proven = True

    def run(self) -> tuple[tuple[int, ...], bool]:
        self._branch((), 0)
        return tuple(sorted(self.best)), self.proven

    def _branch(self, chosen: tuple[int, ...], done: int) -> None:
        if done == self.everything:
            if len(chosen) < len(self.best):
                self.best = chosen
            return
        if len(chosen) + self._least_more(done) >= len(self.best):
            return
        if self.nodes >= MOST_NODES:
            self.proven = False
            return
        self.nodes += 1
        element = self._hardest(done)
        ways = sorted(self.holders[element], key=lambda i: (-(self.holds[i] & ~done).bit_count(), i))
        for i in ways:
            self._branch((*chosen, i), done | self.holds[i])

    def _hardest(self, done: int) -> int:
        """The element not held yet that fewest sets hold."""
        return min(
            (element for element in self.holders if not done >> element & 1),
            key=lambda element: (len(self.holders[element]), element),
        )

    def _least_more(self, done: int) -> int:
        """Sets still needed at least: elements no two of which are in one set, picked greedily."""
        blocked, count = done, 0
        for element, holders in self.holders.items():
            if blocked >> element & 1:
                continue
            count += 1
            for i in holders:
                blocked |= self.holds[i]
        return count

    def _greedy(self) -> tuple[int, ...]:
        done, chosen = 0, list[int]()
        while done != self.everything:
            best = max(self.sets, key=lambda i: ((self.holds[i] & ~done).bit_count(), -i))
            chosen.append(best)
            done |= self.holds[best]
        return tuple(chosen)


def _undominated(holds: Sequence[int]) -> list[int]:
    """Sets that are not part of another one; of equal sets the first."""
    kept: list[int] = []
    for i in sorted(range(len(holds)), key=lambda i: (-holds[i].bit_count(), i)):
        if holds[i] and all(holds[i] & ~holds[k] for k in kept):
            kept.append(i)
    return sorted(kept)


def _holders(holds: Sequence[int], sets: Sequence[int], everything: int) -> dict[int, tuple[int, ...]]:
    """The sets of each element that matters, fewest first; an element whose sets hold another's too is left out."""
    by_sets: dict[tuple[int, ...], int] = {}
    for element in range(everything.bit_length()):
        if everything >> element & 1:
            by_sets.setdefault(tuple(i for i in sets if holds[i] >> element & 1), element)
    order = sorted(by_sets, key=lambda holders: (len(holders), holders))
    kept: list[frozenset[int]] = []
    found: dict[int, tuple[int, ...]] = {}
    for holders in order:
        mine = frozenset(holders)
        if any(other <= mine for other in kept):
            continue  # whoever holds the other element holds this one
        kept.append(mine)
        found[by_sets[holders]] = holders
    return found
