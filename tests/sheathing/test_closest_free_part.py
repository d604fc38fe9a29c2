"""The free part that a blank fills best, against looking at them all (arithmetic; no outside source)."""

from __future__ import annotations

import math

from hypothesis import given
from hypothesis import strategies as st

from workbench.sheathing.frees import FIT_IN, Free, Frees

sizes = st.one_of(st.sampled_from([96.0, 48.0, 47.875, 24.0, 24.0 + FIT_IN / 2, 12.0]), st.floats(1.0, 96.0))
works = st.lists(st.tuples(st.booleans(), sizes, sizes), max_size=60)


@given(works, st.booleans())
def test_the_closest_and_of_equals_the_first(work: list[tuple[bool, float, float]], width_first: bool) -> None:
    frees, plain = Frees(width_first=width_first), list[Free]()
    for add, length, width in work:
        if add:
            free = Free(0, 0.0, 0.0, length, width, False, False)
            frees.add(free)
            plain.append(free)
            continue
        best, least = None, (math.inf, math.inf)
        for free in plain:
            if free.length + FIT_IN >= length and free.width + FIT_IN >= width:
                rest = (free.width - width, free.length - length)
                if (found := rest if width_first else rest[::-1]) < least:
                    best, least = free, found
        assert frees.take(length, width) is best
        if best is not None:
            plain.remove(best)
