"""The Slope page as a real widget: what it says is what the solver says, and its buttons do what they say."""

from __future__ import annotations

from collections.abc import Iterator

import pytest
from PySide6.QtCore import Qt
from pytestqt.qtbot import QtBot

from workbench.bench.document import Document
from workbench.bench.selection import Selection
from workbench.bench.stages.slope import SlopePanel
from workbench.bench.stages.slope.plot import held
from workbench.bench.stages.slope.ways import near_slopes, verdict, ways_to, wing_price
from workbench.bench.strip.measures import Cut, cut_of
from workbench.job import edits
from workbench.job.model import Job, PriceBracket
from workbench.plan import solve
from workbench.sweep import sweep

SHED = ((0.0, 0.0), (288.0, 0.0), (288.0, 162.5), (0.0, 162.5))
HOUSE = ((0.0, 0.0), (480.0, 0.0), (480.0, 336.0), (0.0, 336.0))
PRICES = (PriceBracket(from_in_12=0.0, price_per_square=300.0), PriceBracket(from_in_12=8.0, price_per_square=420.0))


def shed_job(**landing: object) -> Job:
    job, wing = edits.add_wing(
        Job(brackets=PRICES), SHED, ("eave", "rake", "wall", "rake"), "porch", eave_overhang_in=16.0
    )
    fields = {"find": "slope", "high_end": "notched", "landing_in": 208.0, "hap_in": 5.0, "bearing_in": 3.5} | landing
    return edits.set_landing(job, wing, **fields)


def gable_job(slope: float = 9.5) -> Job:
    edges = ("eave", "rake", "eave", "rake")
    return edits.add_wing(Job(brackets=PRICES), HOUSE, edges, "main", slope_in_12=slope)[0]


def cut(job: Job) -> Cut:
    plan = solve(job)
    found = cut_of(plan, plan.roof.planes[0].id)
    assert found is not None
    return found


class Page:
    """A shown Slope page with its document."""

    def __init__(self, qtbot: QtBot, job: Job) -> None:
        self.document = Document()
        self.document.new(job)
        self.panel = SlopePanel(self.document, Selection())
        qtbot.addWidget(self.panel)
        self.panel.resize(420, 900)
        self.panel.show()
        self.qtbot = qtbot

    def wait_for_curve(self) -> None:
        self.qtbot.waitUntil(lambda: len(self.panel.sweep.plot.points) > 0, timeout=3000)


@pytest.fixture
def page(qtbot: QtBot) -> Iterator[Page]:
    shown = Page(qtbot, shed_job())
    yield shown
    shown.panel.stop()


@pytest.fixture
def gable(qtbot: QtBot) -> Iterator[Page]:
    shown = Page(qtbot, gable_job())
    yield shown
    shown.panel.stop()


@pytest.mark.parametrize("landing", [208.0, 214.0])
@pytest.mark.parametrize("high_end", ["notched", "whole", "face", "ridge"])
def test_every_way_brings_the_solved_roof_to_the_slope_it_promises(high_end: str, landing: float) -> None:
    shown = cut(shed_job(high_end=high_end, landing_in=landing))
    ways = ways_to(shown, 7.0, solve(shown.job).units)
    assert len(ways) >= 3
    for way in ways:
        if way.job is not None:
            section = cut(way.job).section
            assert section.answer.in_12 == pytest.approx(7.0, abs=1e-6), way.words


def test_what_a_way_saves_is_the_difference_of_the_two_roofs() -> None:
    shown = cut(shed_job())
    for way in ways_to(shown, 7.0, solve(shown.job).units):
        assert way.job is not None
        before = sum(p.area_sqft for p in solve(shown.job).roof.planes) / 100.0 * 420.0
        after = sum(p.area_sqft for p in solve(way.job).roof.planes) / 100.0 * 300.0
        assert way.saved == pytest.approx(before - after)


def test_a_given_slope_has_one_way_and_says_what_follows() -> None:
    shown = cut(gable_job())
    (way,) = ways_to(shown, 7.0, solve(shown.job).units)
    rise = 168.0 * 2.5 / 12.0
    assert way.words.startswith("give 7 in 12; ridge top 2'")
    assert way.job is not None
    lower = cut(way.job).section.answer.landing_in
    assert shown.section.answer.landing_in - lower == pytest.approx(rise, abs=1.5)


def test_near_slopes_say_the_miss_at_the_landing() -> None:
    words = {n.in_12: n.words for n in near_slopes(cut(shed_job()), solve(shed_job()).units)}
    assert words[8].endswith("below the landing")
    assert words[9].endswith("above the landing")


def test_the_verdict_judges_the_slope_to_be_framed_not_its_name() -> None:
    under = cut(gable_job(7.8))
    judged = verdict(under)
    assert judged is not None
    assert not judged.over
    over = verdict(cut(gable_job(8.0)))
    assert over is not None
    assert over.over
    assert over.target_in_12 == 7.0


def test_no_price_no_saving() -> None:
    job = edits.set_job(shed_job(), brackets=(PriceBracket(from_in_12=0.0), PriceBracket(from_in_12=8.0)))
    assert wing_price(job.wings[0], job) is None
    assert all(way.saved is None for way in ways_to(cut(job), 7.0, solve(job).units))


def test_the_answer_is_large_and_says_angle_and_name(page: Page) -> None:
    answer = page.document.plan.wings[0].sections[0].answer
    assert page.panel.figure.text() == page.document.plan.units.slope(answer.tangent)
    assert "called 8 in 12" in page.panel.called.text()
    assert "°" in page.panel.called.text()
    assert "In the price bracket" in page.panel.state.text()


def test_the_radio_chooses_what_is_to_find(page: Page) -> None:
    page.panel.known.radios["low_plate"].click()
    landing = page.document.job.wings[0].landing
    assert landing is not None
    assert landing.find == "low_plate"
    assert page.document.stack.undoText() == "Find low plate"
    assert page.panel.known.fields["low_plate"].edit.isReadOnly()
    page.document.stack.undo()
    assert page.panel.known.radios["slope"].isChecked()


def test_a_typed_measure_is_one_step(page: Page) -> None:
    edit = page.panel.known.fields["landing"].edit
    edit.selectAll()
    page.qtbot.keyClicks(edit, "15' 6\"")
    page.qtbot.keyClick(edit, Qt.Key.Key_Return)
    landing = page.document.job.wings[0].landing
    assert landing is not None
    assert landing.landing_in == 186.0
    assert page.document.stack.count() == 1


def test_the_upper_end_is_chosen_in_words(page: Page) -> None:
    page.panel.end.way.committed.emit("whole")
    assert page.document.plan.wings[0].sections[0].given.high_end == "whole"
    assert page.panel.known.radios["hap_high"].isHidden()
    assert any("pushes outward" in text for text in page.panel.built.texts)


def test_the_upper_end_of_a_gable_is_its_ridge(gable: Page) -> None:
    assert not gable.panel.end.way.combo.isEnabled()
    assert not gable.panel.end.ridge.isHidden()


def test_a_way_under_the_bracket_is_taken_with_its_button(page: Page) -> None:
    texts = page.panel.price_ways.texts
    number = next(i for i, text in enumerate(texts) if text.startswith("Landing"))
    assert "saves" in texts[number]
    page.panel.price_ways.button(number).click()
    assert page.document.plan.roof.planes[0].in_12 == pytest.approx(7.0)
    assert page.document.stack.undoText() == "Come under the price bracket"
    assert "Under the price bracket" in page.panel.state.text()


def test_a_near_slope_is_taken_with_its_button(page: Page) -> None:
    page.panel.near.select_key("9")
    page.panel.near.chosen.emit("9")
    assert page.panel.near_ways.texts[0].startswith("Run")
    page.panel.near_ways.button(1).click()
    assert page.document.plan.roof.planes[0].in_12 == pytest.approx(9.0)


def test_prices_are_typed_added_and_removed(gable: Page) -> None:
    rows = gable.panel.bracket_rows
    edit = rows.rows[1].price.edit
    edit.selectAll()
    gable.qtbot.keyClicks(edit, "450")
    gable.qtbot.keyClick(edit, Qt.Key.Key_Return)
    assert gable.document.job.brackets[1].price_per_square == 450.0
    rows.add_button.click()
    assert [b.from_in_12 for b in gable.document.job.brackets] == [0.0, 8.0, 10.0]
    edit = rows.rows[2].start.edit
    edit.selectAll()
    gable.qtbot.keyClicks(edit, "6")
    gable.qtbot.keyClick(edit, Qt.Key.Key_Return)
    assert [b.from_in_12 for b in gable.document.job.brackets] == [0.0, 6.0, 8.0]
    rows.rows[1].remove.click()
    assert len(rows.rows) == 2


def test_two_brackets_at_one_slope_are_refused_beside_the_field(gable: Page) -> None:
    row = gable.panel.bracket_rows.rows[1]
    row.start.edit.selectAll()
    gable.qtbot.keyClicks(row.start.edit, "0")
    gable.qtbot.keyClick(row.start.edit, Qt.Key.Key_Return)
    assert row.start.error
    assert gable.document.stack.count() == 0


def test_what_can_not_be_built_is_said_with_the_caution(page: Page) -> None:
    assert any(text.startswith("⚠ Error: The notch at the landing") for text in page.panel.built.texts)


def test_the_curve_is_the_core_sweep(gable: Page) -> None:
    gable.wait_for_curve()
    points = gable.panel.sweep.plot.points
    assert points == sweep(gable.document.job, "wing-1", [p.at for p in points], "area", edge_id="e1")
    assert gable.panel.sweep.value.text().startswith("Roof area at 9.5 in 12")


def test_sheets_are_swept_off_to_the_side_and_stale_answers_dropped(gable: Page) -> None:
    gable.wait_for_curve()
    kept = gable.panel.sweep.plot.points
    gable.panel.sweep._curve._answered(-1, ())
    assert gable.panel.sweep.plot.points == kept
    gable.panel.sweep.quantity.set_value("sheets")
    gable.panel.sweep.quantity.committed.emit("sheets")
    gable.qtbot.waitUntil(lambda: gable.panel.sweep.plot.points != kept, timeout=20000)
    counts = [point.value for point in gable.panel.sweep.plot.points if point.value is not None]
    assert counts == sorted(counts)


def test_dragging_the_slope_line_previews_and_letting_go_applies(gable: Page) -> None:
    line = gable.panel.sweep.plot.slope_line
    line.moving = True
    line.setValue(6.4)
    assert gable.document.plan.roof.planes[0].in_12 == pytest.approx(6.4)
    assert gable.document.stack.count() == 0
    line.moving = False
    line.sigPositionChangeFinished.emit(line)
    assert gable.document.job.wings[0].slope_in_12 == pytest.approx(6.4)
    assert gable.document.stack.count() == 1


def test_esc_lets_the_slope_line_go_back(gable: Page) -> None:
    plot = gable.panel.sweep.plot
    plot.slope_line.moving = True
    plot.slope_line.setValue(5.0)
    gable.qtbot.keyClick(plot, Qt.Key.Key_Escape)
    assert gable.document.plan.roof.planes[0].in_12 == pytest.approx(9.5)
    assert plot.slope_line.value() == pytest.approx(9.5)


def test_keys_move_the_slope(gable: Page) -> None:
    plot = gable.panel.sweep.plot
    gable.qtbot.keyClick(plot, Qt.Key.Key_Left, Qt.KeyboardModifier.ShiftModifier)
    assert gable.document.job.wings[0].slope_in_12 == pytest.approx(9.0)
    gable.qtbot.keyClick(plot, Qt.Key.Key_Right)
    assert gable.document.job.wings[0].slope_in_12 == pytest.approx(9.05)


def test_whole_slopes_hold_the_line_when_it_comes_near() -> None:
    assert held(7.96) == 8.0
    assert held(7.9) == 7.9
    assert held(-3.0) == 0.25


def test_an_unsolved_landing_is_said_and_its_numbers_can_be_mended(qtbot: QtBot) -> None:
    page = Page(qtbot, shed_job(landing_in=40.0))
    assert page.panel.figure.text() == "No answer"
    assert "No rising rafter lands" in page.panel.state.text()
    page.panel.known.fields["landing"].committed.emit(186.0)
    assert "6.6" in page.panel.figure.text()
    page.panel.stop()


def test_every_figure_can_say_how(page: Page) -> None:
    for button in (page.panel.how, page.panel.near_how, page.panel.price_how):
        assert button.isEnabled()
    page.wait_for_curve()
    assert page.panel.sweep.how.isEnabled()


def test_an_empty_job_says_how_to_begin(qtbot: QtBot) -> None:
    page = Page(qtbot, Job())
    assert page.panel.figure.text() == "No slope yet"
    assert "Draw a roof" in page.panel.state.text()
    page.panel.stop()
