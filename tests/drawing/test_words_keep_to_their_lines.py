"""Words of a measure are no longer than its line where shorter ones would do; letters hide none of their cuts."""

from __future__ import annotations

import pytest
import shapely

from workbench.drawing.cut_card import cut_card, cut_detail, cut_sides
from workbench.drawing.layout import lay_out
from workbench.drawing.primitives import Dimension, Drawing
from workbench.job.read import read_job
from workbench.measure import Units
from workbench.plan import solve
from workbench.resources import sample_jobs


def width(text: str, size: float) -> float:
    return 0.6 * size * len(text)


@pytest.fixture(scope="module")
def members():
    paths = [path for path in sample_jobs() if path.stem in ("small-house", "l-house")]
    return [member for path in paths for member in solve(read_job(path), "preview").framing.members]


def test_the_fullest_words_that_fit_the_line():
    words = ('heel plumb line to upper cut 66 1/4" (5\' 6 1/4")', 'heel plumb line to upper cut 66 1/4"')
    for points, said in ((600.0, words[0]), (280.0, words[1]), (60.0, words[1])):
        item = Dimension("", (0.0, 0.0), (100.0, 0.0), words[0], shorter=words[1:])
        (text,) = lay_out(Drawing((item,)), points / 100.0, width).texts
        assert text.lines == (said,)


def test_a_letter_stands_in_the_wood_beside_its_cut(members):
    """Reference: shapely, a box and a line that do not meet."""
    for member in members:
        for side in cut_sides(member):
            low, high = side.start[0] - 12.0, side.end[0] + 12.0
            laid = lay_out(cut_detail(member, Units(), low, high, along=False), 9.0, width)
            (text,) = (text for text in laid.texts if text.lines == (side.letter,))
            at = shapely.LineString([(9.0 * x, 9.0 * y) for x, y in (side.start, side.end)])
            assert not shapely.Polygon(text.box).intersects(at), (member.mark, side.letter)


def test_full_readings_stand_where_there_is_room(members):
    longest = max(members, key=lambda member: member.length_in)
    laid = lay_out(cut_card(longest, Units(), names="none", short=False), 3.0, width)
    assert any(Units().tape(longest.length_in) in text.lines[0] for text in laid.texts)
