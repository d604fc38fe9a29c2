"""Boards filled without looking at them all, against looking at them all (arithmetic; no outside source)."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from workbench.quantities.lumber_open import Boards, Fullest, InTurn

Plain = list[tuple[int, dict[int, int], int]]
ROOM, LONG = 96, 240


def own(used: int) -> int:
    return LONG if used <= LONG else 0


def plainly_filled(boards: Plain, kind: int, size: int, count: int, *, fullest: bool) -> tuple[Plain, int]:
    """Every board looked at in turn, in the order they were opened in or the fullest first."""
    order = sorted(boards, key=lambda board: -board[0]) if fullest else boards
    after: Plain = []
    for used, held, times in order:
        fit = max(0, (max(ROOM, own(used) if used > ROOM else 0) - used) // size)
        full = min(times, count // fit) if fit else 0
        last = min(fit, count - full * fit) if full < times else 0
        count -= full * fit + last
        for more, part in ((fit, full), (last, int(last > 0)), (0, times - full - int(last > 0))):
            if part:
                after.append((used + more * size, {**held, kind: more} if more else held, part))
    return after, count


@pytest.mark.parametrize("fullest", [False, True])
@given(st.lists(st.tuples(st.integers(1, LONG), st.integers(1, 30)), max_size=40))
def test_the_same_boards(fullest: bool, pieces: list[tuple[int, int]]) -> None:
    boards: Boards = (Fullest if fullest else InTurn)(ROOM, own)
    plain: Plain = []
    for kind, (size, count) in enumerate(sorted(pieces, reverse=True)):
        left = boards.fill(kind, size, count)
        plain, plainly = plainly_filled(plain, kind, size, count, fullest=fullest)
        assert left == plainly
        fit = max(1, ROOM // size)
        for more, times in ((fit, left // fit), (left % fit, 1)):
            if more and times:
                boards.add(more * size, {kind: more}, times)
                plain.append((more * size, {kind: more}, times))

    def told(found: Plain) -> list[tuple[int, list[tuple[int, int]], int]]:
        return sorted((used, sorted(held.items()), times) for used, held, times in found)

    assert told([(one.used, one.held, one.boards) for one in boards.all()]) == told(plain)
