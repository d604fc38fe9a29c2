"""Comparing all choices from the window: the list that comes out, taking a row, what makes it out of date."""

from __future__ import annotations

from pathlib import Path

import pytest

from workbench.bench.best import best_words, choice_words
from workbench.job import edits
from workbench.plan import solve
from workbench.sheathing.choices import best_for_me


@pytest.fixture
def house(window, small_house: Path):
    """A window with the small house open."""
    window.files.open_sample(small_house)
    return window


def test_the_best_choices_are_listed_taken_searched_and_undone(qtbot, house) -> None:
    document, best, form = house.document, house.best, house.pages["sheets"].best
    before = document.job
    house.menus.actions["best"].trigger()
    assert best.running and form.cancel.isVisible()
    qtbot.waitUntil(lambda: not best.running, timeout=120_000)
    plan = solve(before, "preview")
    asked = best_for_me(plan.roof, plan.framing, before.sheathing, before.plane_choices, (), plan.units)
    assert best.compared is not None
    assert best.compared.best == asked.best
    assert [row.key for row in form.table.rows] == [f"set:{n}" for n in range(len(best.listed))]
    assert sum("in use" in row.texts[0] for row in form.table.rows) == 1

    form.table.select_key("set:0")
    form.table.chosen.emit("set:0")
    assert form.take.isEnabled()
    form.take.click()
    assert document.job.sheathing == asked.best.settings
    assert document.stack.undoText() == "Take these choices"
    assert "in use" in form.table.rows[0].texts[0]  # the list stays: it is about the same roof
    qtbot.waitUntil(lambda: not house.search.running, timeout=120_000)
    assert document.plan.sheathing.count == asked.best.sheets
    house.history.undo()
    assert document.job == before


def test_a_change_of_the_roof_makes_the_list_out_of_date(qtbot, house) -> None:
    document, best = house.document, house.best
    best.start()
    qtbot.waitUntil(lambda: best.looked is not None, timeout=60_000)
    document.apply(edits.set_job(document.job, note="no input"), "Change note")
    assert best.running
    document.apply(edits.set_wing(document.job, document.job.wings[0].id, slope_in_12=5.0), "Change slope")
    assert not best.running
    assert best.listed == ()
    assert best_words(best).startswith("Tries every way")


def test_choices_in_words(house) -> None:
    plan = house.document.plan
    asked = best_for_me(plan.roof, plan.framing, plan.job.sheathing, units=plan.units, searched=0)
    said = [choice_words(one, plan.units) for one in (asked.now, *asked.others)]
    assert said[0] == "As it was"
    assert len(set(said)) >= len(said) - 1
