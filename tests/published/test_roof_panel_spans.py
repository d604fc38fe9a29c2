"""The shipped panel spans row by row against the published tables.

Sources: IRC 2018/2021 Table R503.2.1.1(1), from memory; APA E30V Table 31, read in a copy. The figures are written out
here again, so that a slip in the shipped file shows.
"""

from __future__ import annotations

import pytest

from workbench.rules.panel_spans import low_slope_spans, panel_span, panel_spans

# rating: thinnest, with support, without, live load at 16 in, at 24 in
IRC = {
    "16/0": (3 / 8, 16, 16, 30, None),
    "20/0": (3 / 8, 20, 20, 50, None),
    "24/0": (3 / 8, 24, 20, 100, 30),
    "24/16": (7 / 16, 24, 24, 100, 40),
    "32/16": (15 / 32, 32, 28, 180, 70),
    "40/20": (19 / 32, 40, 32, 305, 130),
    "48/24": (23 / 32, 48, 36, None, 175),
    "60/32": (7 / 8, 60, 48, None, 305),
}
LOW = {
    "32/16": (24, 1), "40/20": (32, 1), "48/24": (48, 2), "60/32": (60, 2), "20oc": (24, 1), "24oc": (32, 1),
    "32oc": (48, 2),
}  # fmt: skip


@pytest.mark.parametrize("rating", IRC)
def test_rating(rating: str) -> None:
    row = panel_span(rating)
    assert row is not None
    found = (
        row.least_thickness_in, row.with_support_in, row.without_support_in, row.live_at_16_psf, row.live_at_24_psf,
    )  # fmt: skip
    assert found == IRC[rating]
    assert "memory" in row.source


@pytest.mark.parametrize("rating", LOW)
def test_low_slope_deck(rating: str) -> None:
    row = panel_span(rating, low_slope=True)
    assert row is not None
    assert (row.with_support_in, row.clips) == LOW[rating]


def test_the_tables_are_whole() -> None:
    assert len(panel_spans()) == len(IRC)
    assert len(low_slope_spans()) == len(LOW)
    assert panel_span("no rating") is None
