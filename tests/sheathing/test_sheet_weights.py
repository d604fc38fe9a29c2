"""Weights of shares: whatever fits a sheet weighs 1 at most. Fekete and Schepers' functions, from memory."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from workbench.sheathing.weights import half_weight, share_weight, stepped, trimmed

WEIGHTS = [
    share_weight,
    half_weight,
    *(stepped(n) for n in range(1, 7)),
    *(trimmed(c) for c in (0.1, 0.25, 1 / 3, 0.5)),
]
PARTS = st.one_of(
    st.lists(st.floats(0.0, 1.0), min_size=1, max_size=8),
    st.lists(st.integers(0, 60).map(lambda n: n / 60.0), min_size=1, max_size=8),
)


@pytest.mark.parametrize("number", range(len(WEIGHTS)))
@given(parts=PARTS)
def test_shares_of_one_sheet_weigh_one_at_most(number, parts):
    weight = WEIGHTS[number]
    total = 0.0
    kept = []
    for part in parts:
        if total + part <= 1.0:
            total += part
            kept.append(part)
    assert sum(weight(part) for part in kept) <= 1.0 + 1e-9
    assert all(weight(part) >= 0.0 for part in kept)


@pytest.mark.parametrize("weight", WEIGHTS)
def test_a_whole_sheet_weighs_one_and_nothing_weighs_nothing(weight):
    assert weight(1.0) == pytest.approx(1.0)
    assert weight(0.0) == 0.0


def test_breaks():
    assert half_weight(0.5) == 0.5
    assert half_weight(0.51) == 1.0
    assert half_weight(0.49) == 0.0
    assert stepped(2)(0.375) == 0.5
    assert stepped(2)(1 / 3) == pytest.approx(1 / 3)
    assert trimmed(0.25)(0.8) == 1.0
    assert trimmed(0.25)(0.2) == 0.0
