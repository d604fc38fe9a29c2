"""The safety page and the ropes on the plane pages: what has to stand on paper, and where it comes from."""

from __future__ import annotations

import pytest

from workbench.handout.safety_page import EMERGENCY, safety_pages
from workbench.job.model import Job
from workbench.plan import solve
from workbench.safety.cautions import ARREST_GRADE, GEOMETRY_ONLY, ROPE_RULES, SITE_RULES
from workbench.safety.words import rating_words


def plain(text: str) -> str:
    return " ".join(text.split())


def safety_text(printed) -> str:
    return plain(" ".join(text for text in printed.texts if text.startswith("Safety")))


def test_cautions_and_blank_lines_are_on_every_safety_page(any_print):
    text = safety_text(any_print)
    for caution in (GEOMETRY_ONLY, ARREST_GRADE, *ROPE_RULES, *SITE_RULES):
        assert plain(caution) in text
    for line in EMERGENCY:
        assert plain(line) in text


def test_every_fall_with_its_drop_and_every_source(any_print):
    text, plan = safety_text(any_print), any_print.plan
    for fall in plan.safety.falls:
        assert fall.name in text
        assert plan.units.length(fall.drop_in) in text
        assert plain(fall.trigger.source) in text
    for note in plan.safety.rules.notes:
        assert plain(note.text) in text
        assert plain(note.source) in text


def test_ropes_are_told_with_what_limits_them_and_that_the_rakes_are_free(anchored):
    text, plan = safety_text(anchored), anchored.plan
    for anchor in plan.safety.anchors:
        assert f"{anchor.name} front main" in text
        assert plan.units.length(anchor.rope_in) in text
        for exposure in anchor.exposed:
            assert f"of the {exposure.fall.name}" in text
    assert "the rake is NOT restrained" in text
    assert "does not take the edge away" in text
    assert "left half A-1; right half A-2" in text
    assert "Heat index 113 °F in the shade (danger)" in text or "Heat index 114 °F in the shade (danger)" in text


def test_the_stack_on_a_deck_work_rest_and_water_are_told(anchored):
    text = safety_text(anchored)
    assert "Set down on a deck with" in text and "duty at least" in text
    assert "Nailing and laying:" in text and "Carrying sheets:" in text
    assert "never more than 48 oz an hour" in text and "2017-127" in text


def test_what_an_anchor_is_rated_for_stands_beside_it(anchored):
    text = safety_text(anchored)
    for anchor in anchored.plan.job.safety.anchors:
        assert plain(rating_words(anchor)) in text


def test_plane_pages_carry_the_rope_limit_and_the_free_rakes(anchored):
    pages = [plain(text) for text in anchored.texts if text.startswith(("Front main", "Back main"))]
    assert len(pages) >= 2
    for text in pages:
        assert "Rope at most: west" in text
        assert "NOT restrained: left rake and right rake, cross-hatched." in text


def test_plane_pages_without_anchors_say_nothing_of_ropes(gable):
    assert not any("Rope at most:" in text for text in gable.texts if text.startswith("Front main"))
    assert "No anchor is set" in safety_text(gable)


def test_metric_heat_is_in_celsius(shed_mm):
    text = safety_text(shed_mm)
    assert "32 °C" in text
    assert "°F" not in text


@pytest.mark.parametrize("paper", ["letter", "a4"])
def test_no_roof_no_safety_page(paper):
    assert safety_pages(solve(Job()), paper) == []
