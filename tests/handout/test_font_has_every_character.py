"""The shipped font can write whatever the formatter, the drawings and the pages say."""

from __future__ import annotations

import math

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from workbench.drawing.primitives import Dimension, Text
from workbench.drawing.roof_plan import roof_plan
from workbench.drawing.sheet_plan import plane_sheets
from workbench.drawing.styles import STYLES
from workbench.handout import words
from workbench.handout.pen import has_glyph, writable
from workbench.measure import Units

values = st.floats(-12_000.0, 12_000.0)
formats = st.builds(Units, st.sampled_from(["ft_in", "mm"]), st.sampled_from([8, 16, 32]))


def lacking(text: str) -> set[str]:
    return {c for c in text if c not in "\n" and not (has_glyph(c) and has_glyph(c, bold=True))}


@settings(max_examples=200, deadline=None)
@given(values, formats)
def test_formatter(value, units):
    shown = [
        units.length(value),
        units.inches(value),
        units.tape(value),
        units.compact(value),
        units.signed(value),
        units.slope(value / 100.0),
        units.angle(value / 100.0),
        units.area(abs(value)),
        units.weight(abs(value)),
    ]
    assert lacking("".join(shown)) == set()


def test_trade_signs():
    assert lacking("′″½¼¾⅛⅜⅝⅞⁄×°−√θΔ·≤≥±→…–—²³") == set()


def test_words_on_paper(gable):
    plan = gable.plan
    said = [style.word for style in STYLES.values()]
    said += [value for value in vars(words).values() if isinstance(value, str)] + list(words.CAUTIONS)
    drawings = [roof_plan(plan), *(plane_sheets(plan, plane.id) for plane in plan.roof.planes)]
    said += [item.text for drawing in drawings for item in drawing.items if isinstance(item, Text | Dimension)]
    said += [f"{q.name} {q.trace.formula} {q.trace.values}" for q in plan.quantities]
    said += [f"{t.formula} {t.values} {t.source}" for m in plan.framing.members for t in m.traces]
    said += [f"{finding.text} {finding.source}" for finding in plan.findings]
    assert lacking(" ".join(said)) == set()


def test_what_no_font_can_write_is_marked_not_lost():
    assert writable("a\u4e00b\nc") == "a?b c"
    assert not has_glyph("\u4e00")


@pytest.mark.parametrize(
    ("labels", "said"),
    [
        ([], ""),
        (["1A"], "1A"),
        (["1A", "1B", "1C", "2A", "2C"], "1A–1C, 2A, 2C"),
        (["1Z", "1AA", "1AB"], "1Z, 1AA–1AB"),
    ],
)
def test_runs_of_labels(labels, said):
    assert words.ranges(labels) == said


def test_called_slope_is_the_nearest_whole_number(gable):
    plane = gable.plan.roof.planes[0]
    degrees = gable.plan.units.angle(math.atan(6.62 / 12.0))
    assert words.slope_text(plane, gable.plan.units) == f"Frame 6.62 in 12 ({degrees}), called 7 in 12"
