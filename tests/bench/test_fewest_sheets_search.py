"""Looking for fewest sheets from the window: off to the side, with what is found kept for the job it was found for."""

from __future__ import annotations

from pathlib import Path

import pytest

from workbench.bench.fewest import fewest_words
from workbench.bench.kept_sheets import Found, KeptSheets
from workbench.job import edits
from workbench.job.read import read_job
from workbench.plan import solve
from workbench.quantities.model import Quantity
from workbench.resources import sample_job_path


@pytest.fixture
def house(window, small_house: Path):
    """A window with the small house open: its quick layout is not proven, the search proves it in a second."""
    window.files.open_sample(small_house)
    return window


def _bought(quantities: tuple[Quantity, ...]) -> list[tuple[str, float]]:
    return [(line.code, line.amount) for line in quantities]


def _spaced(job, inches: float):
    return edits.set_rafter(job, job.wings[0].id, spacing_in=inches)


def test_a_search_leads_to_the_command_line_s_plan_and_undo_finds_it_again(qtbot, house) -> None:
    document, search = house.document, house.search
    form = house.pages["sheets"].fewest
    quick = document.plan
    assert not quick.sheathing.proven
    house.menus.actions["fewest"].trigger()
    assert house.stage == "sheets" and search.running
    assert house.status.looking.isVisible() and form.cancel.isVisible() and not form.start.isVisible()
    qtbot.waitUntil(lambda: not search.running, timeout=60_000)
    full = solve(document.job, "full")
    assert document.plan.sheathing == full.sheathing
    assert _bought(document.plan.quantities) == _bought(full.quantities)
    assert document.plan.lumber == full.lumber
    assert document.plan.findings == full.findings
    assert "fewest proven" in house.figures.figures[5].value
    assert document.stack.count() == 0  # nothing of the job changed
    assert not house.status.looking.isVisible() and form.start.isVisible() and not form.start.isEnabled()

    document.apply(edits.set_job(document.job, note="not an input of the sheets"), "Change note")
    assert document.plan.sheathing == full.sheathing

    document.apply(_spaced(document.job, 16.0), "Change rafter spacing")
    assert document.plan.sheathing == solve(document.job).sheathing
    assert "no longer holds" in house.message.text
    house.history.undo()
    assert document.plan.sheathing == full.sheathing
    house.history.redo()
    assert document.plan.sheathing == solve(document.job).sheathing
    document.apply(_spaced(document.job, 24.0), "Change rafter spacing")
    assert document.plan.sheathing == full.sheathing


def test_a_search_that_is_stopped_leaves_the_best_so_far_in_use(qtbot, window) -> None:
    window.files.open_sample(sample_job_path("l-house.json"))
    search, document = window.search, window.document
    quick = document.plan.sheathing
    search.start(limit_s=120.0)
    qtbot.waitUntil(lambda: search.told is not None and search.told.at_least > quick.at_least, timeout=60_000)
    least = search.told.at_least
    search.cancel()
    qtbot.waitUntil(lambda: not search.running, timeout=5_000)
    assert search.found is not None and search.found.ending == "stopped"
    assert document.plan.sheathing.at_least >= least
    assert document.plan.sheathing.count <= quick.count
    assert fewest_words(search, document.plan).startswith("Stopped after")
    assert search.worth_while


def test_a_search_is_given_up_when_the_roof_changes_under_it(qtbot, window) -> None:
    window.files.open_sample(sample_job_path("l-house.json"))
    search, document = window.search, window.document
    search.start(limit_s=120.0)
    qtbot.waitUntil(lambda: search.told is not None, timeout=60_000)
    document.apply(_spaced(document.job, 16.0), "Change rafter spacing")
    assert not search.running
    assert document.plan.sheathing == solve(document.job).sheathing


def test_a_search_goes_on_while_a_handle_is_dragged_and_put_back(qtbot, house) -> None:
    search, document = house.search, house.document
    search.start()
    document.preview(_spaced(document.job, 19.2))
    assert search.running
    document.cancel_preview()
    assert search.running
    qtbot.waitUntil(lambda: not search.running, timeout=60_000)
    assert document.plan.sheathing.proven


def test_another_document_ends_the_search_without_a_word(qtbot, house) -> None:
    house.search.start()
    house.files.open_sample(sample_job_path("plain-gable.json"))
    assert not house.search.running
    assert house.message.text == ""
    assert not house.search.worth_while  # fewest is proven in a moment
    assert "nothing to look for" in fewest_words(house.search, house.document.plan)


def test_a_search_that_can_t_begin_is_told(qtbot, house, monkeypatch) -> None:
    class Broken:
        def Pipe(self):
            return (OpenEnd(), OpenEnd())

        def Process(self, **_):
            return self

        def start(self) -> None:
            msg = "no more processes"
            raise OSError(msg)

    class OpenEnd:
        def close(self) -> None:
            pass

    monkeypatch.setattr("workbench.bench.aside.multiprocessing.get_context", lambda _: Broken())
    house.search.start()
    assert not house.search.running
    assert "no more processes" in fewest_words(house.search, house.document.plan)


def test_kept_sheets_know_what_sheets_follow_from() -> None:
    job = read_job(sample_job_path("plain-gable.json"))
    sheets = solve(job).sheathing
    kept = KeptSheets()
    assert kept.of(job) is None
    kept.keep(job, Found(sheets, sheets.count, 1.0, "end"))
    for same in (
        edits.set_job(job, name="Other", date="today", revision="B"),
        edits.set_job(job, brackets=()),
    ):
        assert kept.of(same) is not None
    for other in (
        edits.set_sheathing(job, rip="top"),
        edits.set_wing(job, job.wings[0].id, slope_in_12=5.0),
        edits.set_job(job, units=type(job.units)(system="mm")),  # the findings' words
    ):
        assert kept.of(other) is None
    for step in range(40):
        kept.keep(_spaced(job, 10.0 + step), Found(sheets, sheets.count, 1.0, "end"))
    assert kept.of(job) is None
    assert kept.of(_spaced(job, 49.0)) is not None
