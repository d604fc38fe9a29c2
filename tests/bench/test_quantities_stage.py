"""The Quantities page: prices typed and taken over, sums, what is left over, alternatives side by side."""

from __future__ import annotations

from pathlib import Path

import pytest

from workbench.exchange.price_list import read_prices
from workbench.job import edits
from workbench.job.alternatives import add_alternative
from workbench.job.inputs import Change
from workbench.job.model import Job

HOUSE = [(0.0, 0.0), (192.0, 0.0), (192.0, 144.0), (0.0, 144.0)]


@pytest.fixture
def page(window):
    job, _ = edits.add_wing(Job(name="House"), HOUSE, ["eave", "rake", "eave", "rake"])
    window.document.new(job)
    window.centre.setCurrentIndex(1)
    window.show_stage("quantities")
    window.pages["quantities"].refresh_now()
    return window.pages["quantities"]


def mark(page, code: str) -> None:
    row = next(i for i, cells in enumerate(page.table.rows) if cells.key == code)
    page.table.selectRow(row)


def type_in(field, text: str) -> None:
    field.edit.setText(text)
    field.edit.setModified(True)
    field.commit()


def sum_of(page, code: str) -> str:
    return next(cells.texts[2] for cells in page.table.rows if cells.key == code)


def test_a_typed_price_makes_a_sum_and_an_emptied_one_takes_it_away(window, page) -> None:
    count = window.document.plan.sheathing.count
    assert sum_of(page, "sheet") == "not priced"
    mark(page, "sheet")
    type_in(page.prices.price, "20")
    assert sum_of(page, "sheet") == f"{count * 20:,.2f}"
    assert window.document.job.costs.price_of("sheet").unit == "sheets"
    assert f"{count * 20:,.2f}" in page.prices.total.text()
    assert "not priced" in page.prices.total.text()
    assert page.table.key == "sheet"
    type_in(page.prices.price, "")
    assert window.document.job.costs.prices == ()
    window.history.undo()
    assert window.document.job.costs.price_of("sheet").price == 20.0


def test_a_price_that_is_none_is_told_at_its_field(window, page) -> None:
    mark(page, "sheet")
    type_in(page.prices.price, "-3")
    assert "at least 0" in page.prices.price.error
    assert window.document.job.costs.prices == ()


def test_price_lists_go_out_and_come_in_as_one_step(window, page, dialogs, tmp_path: Path) -> None:
    dialogs.export_path = tmp_path / "prices.csv"
    page.prices.write.click()
    assert "code,name,unit,price" in dialogs.export_path.read_text()
    assert read_prices(dialogs.export_path) == ()
    filled = tmp_path / "filled.csv"
    filled.write_text("code,name,unit,price\nsheet,panels,sheets,20\nseams,tape,ft,0.5\n")
    dialogs.prices_path = filled
    page.prices.read.click()
    assert len(window.document.job.costs.prices) == 2
    window.history.undo()
    assert window.document.job.costs.prices == ()
    filled.write_text("code,name,unit,price\nsheet,panels,sheets,many\n")
    page.prices.read.click()
    assert "row 2, column price" in window.message.text
    assert window.document.job.costs.prices == ()


def test_prices_on_paper_is_a_choice_of_the_job(window, page) -> None:
    page.prices.on_paper.click()
    assert window.document.job.costs.on_paper
    window.history.undo()
    assert not page.prices.on_paper.isChecked()


def test_what_is_left_over_is_told_with_how(page) -> None:
    (sheets, how), (lumber, _) = page.waste
    assert "sq ft left over" in sheets.text()
    assert "ft left over" in lumber.text()
    assert how.isEnabled()


def test_alternatives_are_kept_compared_promoted_and_dropped(qtbot, window, page) -> None:
    form = page.alternatives
    type_name(form, "as drawn")
    form.keep.click()
    job = window.document.job
    assert [a.name for a in job.alternatives] == ["as drawn"]
    window.document.apply(edits.set_wing(job, "wing-1", slope_in_12=9.0), "Change slope")
    qtbot.waitUntil(lambda: bool(form.figures) and form.figures[0].slopes_in_12 == (9.0,), timeout=10_000)
    assert form.figures[1].slopes_in_12 == (7.0,)
    slope = next(cells for cells in form.table.job.rows if cells.key == "slopes_in_12")
    assert slope.texts == ("Slope", "9 in 12")
    slope = next(cells for cells in form.table.others.rows if cells.key == "slopes_in_12")
    assert slope.texts == ("7 in 12\n−2.00 in 12",)
    assert slope.strong == {0}
    assert "slope 9 in 12 → 7 in 12" in form.changes.text()
    form.promote.click()
    assert window.document.job.wing("wing-1").slope_in_12 == 7.0
    assert window.document.job.alternatives[0].name == "As it was before"
    window.history.undo()
    assert window.document.job.wing("wing-1").slope_in_12 == 9.0
    assert window.document.job.alternatives[0].name == "as drawn"
    form.drop.click()
    assert window.document.job.alternatives == ()
    assert not form.table.isVisible()


def test_all_alternatives_stand_beside_the_job_and_scroll(qtbot, window, page) -> None:
    job = window.document.job
    for slope in (5.0, 6.0, 8.0, 9.0, 10.0):
        job, _ = add_alternative(job, f"{slope:g} in 12", [Change(input="slope_in_12", value=slope)])
    window.document.apply(job, "Add alternatives")
    form = page.alternatives
    qtbot.waitUntil(lambda: len(form.figures) == 6, timeout=20_000)
    table = form.table
    assert table.columns == ("5 in 12", "6 in 12", "8 in 12", "9 in 12", "▸ 10 in 12")
    assert table.others.width() > table._scroll.viewport().width()
    assert [table.job.rowHeight(i) for i in range(len(table.job.rows))] == [
        table.others.rowHeight(i) for i in range(len(table.others.rows))
    ]
    area = next(cells for cells in table.others.rows if cells.key == "area_sqft")
    assert area.strong == {0, 1, 2, 3, 4}
    table.only.click()
    assert {"slopes_in_12", "area_sqft"} <= {cells.key for cells in table.others.rows}
    assert all(cells.strong for cells in table.others.rows)
    table.others.horizontalHeader().sectionClicked.emit(1)
    assert form.choice.value == job.alternatives[1].id
    assert table.columns[1] == "▸ 6 in 12"
    form.promote.click()
    assert window.document.job.wing("wing-1").slope_in_12 == 6.0


def test_one_input_at_another_value_is_an_alternative(qtbot, window, page) -> None:
    form = page.alternatives.variant
    for name, typed in (("slope_in_12", "8"), ("spacing_in", "16"), ("joins", "overframed")):
        form.input.set_value(name)
        form.value.edit.setText(typed)
        form.add.click()
    added = window.document.job.alternatives
    assert [a.name for a in added] == ["Slope 8 in 12", "Rafter spacing 1' 4\"", "Joined overframed"]
    assert [(c.input, c.value) for a in added for c in a.changes] == [
        ("slope_in_12", 8.0),
        ("spacing_in", 16.0),
        ("joins", "overframed"),
    ]
    assert page.alternatives.choice.value == added[-1].id
    form.input.set_value("joins")
    form.value.edit.setText("glued")
    form.add.click()
    assert 'give "framed" or "overframed"' in form.value.error
    form.input.set_value("plate_in")
    form.value.edit.setText("tall")
    form.add.click()
    assert form.value.error and len(window.document.job.alternatives) == 3


def test_an_alternative_without_a_name_is_asked_for_one(window, page) -> None:
    page.alternatives.keep.click()
    assert "needs a name" in page.alternatives.name.error
    assert window.document.job.alternatives == ()


def type_name(form, text: str) -> None:
    form.name.edit.setText(text)
    form.name.edit.setModified(True)


def test_hours_follow_the_crew_and_the_start(window, page) -> None:
    form = page.hours
    two = form._hours.hours
    form.crew.committed.emit(1)
    assert window.document.job.hours.crew == 1
    assert form._hours.hours > two
    type_in(form.start, "2026-11-30 07:00")
    assert "Done" in form.total.text()
    type_in(form.start, "soon")
    assert "2026-11-30 07:00" in form.start.error
    assert window.document.job.hours.start == "2026-11-30 07:00"


def test_how_much_slower_steep_roofs_are_is_typed(window, page) -> None:
    form = page.hours
    before = form._hours.hours
    type_in(form.steep, "4: 1; 7: 2")
    assert [(f.slope_in_12, f.factor) for f in window.document.job.hours.steep] == [(4.0, 1.0), (7.0, 2.0)]
    assert form._hours.hours > before
    type_in(form.steep, "very")
    assert "8: 1.2" in form.steep.error
    type_in(form.steep, "")
    assert window.document.job.hours.steep == ()


def test_logged_hours_move_the_rate_and_can_be_dropped(window, page) -> None:
    log = page.hours.log
    log.add.click()
    assert "over 0" in log.said.text()
    log.task.set_value("tape")
    type_in(log.amount, "100")
    type_in(log.hours, "4")
    log.add.click()
    (entry,) = window.document.job.hours.log
    assert (entry.task, entry.amount, entry.hours, entry.crew) == ("tape", 100.0, 4.0, 2)
    assert entry.slope_in_12 == pytest.approx(7.0)
    assert "by 1 logged job" in log.learned.text() and "with 80 %" in log.learned.text()
    tape = next(task for task in page.hours._hours.tasks if task.task == "tape")
    assert tape.rate.jobs == 1
    log.drop.click()
    assert "Mark an entry" in log.said.text()
    log.table.selectRow(0)
    log.drop.click()
    assert window.document.job.hours.log == ()


def test_any_input_is_swept_and_dragged(qtbot, window, page) -> None:
    sweep = page.sweep
    sweep.input.set_value("eave_overhang_in")
    sweep.quantity.set_value("area")
    sweep.refresh()
    qtbot.waitUntil(lambda: len(sweep.plot.points) > 5 and sweep.plot.points[0].at == 0.0, timeout=10_000)
    values = [point.value for point in sweep.plot.points]
    assert values == sorted(values)
    sweep.plot.chosen.emit(12.0)
    assert window.document.job.wing("wing-1").eave_overhang_in == 12.0
    assert "Roof area at overhang at the eaves" in sweep.value.text()
    window.history.undo()
    assert window.document.job.wing("wing-1").eave_overhang_in == 0.0


def test_another_job_while_a_sweep_waits_is_no_fault(qtbot, window, page) -> None:
    window.show_stage("plan")
    window.document.new(Job())
    page.sweep._reckon()
    page.sweep._reckoned(())
    page.sweep.plot.chosen.emit(12.0)
    assert window.document.job == Job()
    qtbot.wait(300)


def test_sheets_are_drawn_as_steps(qtbot, window, page) -> None:
    sweep = page.sweep
    sweep.input.set_value("spacing_in")
    sweep.quantity.set_value("sheets")
    sweep.refresh()
    spacings = [12.0, 16.0, 19.2, 24.0, 32.0]
    qtbot.waitUntil(lambda: [point.at for point in sweep.plot.points] == spacings, timeout=10_000)
    first, second = sweep.plot.points[:2]
    near = first.at + 0.4 * (second.at - first.at)
    assert sweep.plot.value_at(near) == first.value
    xs, ys = sweep.plot._curve.getData()
    assert len(xs) == len(ys) + 1
