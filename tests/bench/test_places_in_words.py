"""Where the pointer or a corner is, said without signs."""

from __future__ import annotations

import pytest

from workbench.bench.surface.words import place_words
from workbench.cli.report import pages_text
from workbench.measure import Units


@pytest.mark.parametrize(
    ("point", "said"),
    [
        ((504.0, 174.0625), ("42' 0\" right", "14' 6 1/16\" up")),
        ((-96.0, -48.0), ("8' 0\" left", "4' 0\" down")),
        ((-0.001, 0.0), ('0" right', '0" up')),
    ],
)
def test_left_and_down_are_words(point, said) -> None:
    assert place_words(Units(), point) == said


def test_one_page_is_no_pages() -> None:
    assert (pages_text(1), pages_text(2)) == ("1 page", "2 pages")
