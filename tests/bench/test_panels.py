"""Frame, sheets, safety and quantities pages: they show the plan's own figures and select what is pressed."""

from __future__ import annotations

from pathlib import Path

import pytest
from PySide6.QtCore import QPoint, Qt
from PySide6.QtTest import QAbstractItemModelTester

from workbench.bench.stages.quantities import GROUP_WORDS
from workbench.bench.stages.safety import CAUTION
from workbench.bench.stages.sheets import piece_of
from workbench.bench.stages.variants import CHOICES, chosen_value, variants, with_choice
from workbench.bench.table import Cells, RowsModel, Table
from workbench.drawing.cut_card import cut_sides
from workbench.plan import solve


@pytest.fixture
def house(window, small_house: Path):
    """A window with the small house open."""
    window.files.open_sample(small_house)
    return window


def _press_row(qtbot, table, row: int) -> None:
    at = table.visualRect(table.model().index(row, 0)).center()
    qtbot.mouseClick(table.viewport(), Qt.MouseButton.LeftButton, pos=QPoint(at))


def test_rows_model_keeps_qt_s_rules(qtbot) -> None:
    model = RowsModel(("A", "B"), numeric=(1,))
    QAbstractItemModelTester(model, QAbstractItemModelTester.FailureReportingMode.Fatal)
    assert model.set_rows([Cells(("1", "2"), "k"), Cells(("3", "4"))])
    assert not model.set_rows([Cells(("1", "2"), "k"), Cells(("3", "4"))])
    assert model.set_rows([Cells(("1", "2"), "k"), Cells(("3", "5"))])
    assert model.set_rows([Cells(("heading",), heading=True)])
    assert model.data(model.index(0, 1)) == ""


def test_wrapped_rows_are_high_enough_at_every_width(qtbot) -> None:
    """A line that is a hair too long for its column goes on below; it never ends in dots."""
    table = Table("Falls", ("Edge", "Drop"), numeric=(1,), wrap=True)
    qtbot.addWidget(table)
    words = "eave of right gable dormer"
    table.set_rows([Cells((words, "15' 6 3/8\""), "a")])
    table.show()
    line = table.fontMetrics().height()
    needed = table.fontMetrics().horizontalAdvance(words) + 12
    for width in range(300, 140, -1):
        table.resize(width, 200)
        if table.columnWidth(0) < needed:
            assert table.rowHeight(0) >= 2 * line, width


def test_frame_page_shows_every_mark_and_the_card_of_the_one_pressed(qtbot, house) -> None:
    house.show_stage("frame")
    page, members = house.pages["frame"], house.document.plan.framing.members
    listed = [cells.texts[0] for cells in page.marks.rows if not cells.heading]
    assert listed == [member.mark for member in members]
    chosen = next(member for member in members[1:] if member.kind == "common_rafter")
    _press_row(qtbot, page.marks, [cells.texts[0] for cells in page.marks.rows].index(chosen.mark))
    assert house.selection.key == f"member:{chosen.mark}"
    assert page.name.text() == f"Cut card: {chosen.mark}"
    assert [cells.texts[1].split("\n")[0] for cells in page.cuts.rows] == [side.cut.name for side in cut_sides(chosen)]
    assert len(page.measures.rows) == len(chosen.measures)
    assert {item.key for item in page.card.drawing.items} == {house.selection.key}
    assert page.low.drawing.items
    assert page.high.drawing.items


def test_spacing_typed_in_the_frame_page_reframes_and_can_be_undone(qtbot, house) -> None:
    house.show_stage("frame")
    stock = house.pages["frame"].stock
    before = sum(member.count for member in house.document.plan.framing.members)
    stock.spacing.edit.setFocus()
    stock.spacing.edit.selectAll()
    qtbot.keyClicks(stock.spacing.edit, "12")
    qtbot.keyClick(stock.spacing.edit, Qt.Key.Key_Return)
    assert sum(member.count for member in house.document.plan.framing.members) > before
    assert house.document.stack.undoText() == "Change rafter spacing"
    house.document.stack.undo()
    assert sum(member.count for member in house.document.plan.framing.members) == before


def test_impossible_spacing_is_told_beside_the_field(qtbot, house) -> None:
    house.show_stage("frame")
    stock = house.pages["frame"].stock
    stock.spacing.edit.selectAll()
    qtbot.keyClicks(stock.spacing.edit, "0")
    qtbot.keyClick(stock.spacing.edit, Qt.Key.Key_Return)
    assert stock.spacing.error
    assert not house.document.modified


def test_sheets_page_lists_rows_as_the_tape_reads_them(house) -> None:
    house.show_stage("sheets")
    plan = house.document.plan
    sheets = plan.sheets_of(plan.roof.planes[0].id)
    rows = house.pages["sheets"].rows.rows
    assert len(rows) == len(sheets.rows)
    assert rows[0].texts == ("1", plan.units.inches(sheets.rows[0].width_in), plan.units.tape(sheets.rows[0].snap_in))
    assert rows[-1].texts[2] == "top edge"


def test_selected_piece_shows_its_size_and_its_stock_sheet(house) -> None:
    house.show_stage("sheets")
    plan, page = house.document.plan, house.pages["sheets"]
    piece = next(piece for piece in plan.sheathing.planes[0].pieces if not piece.whole)
    key = f"piece:{piece.plane}/{piece.label}"
    assert piece_of(plan, key) == piece
    house.selection.select(key)
    assert not page.sheet.isHidden()
    assert plan.units.inches(piece.cut_length_in) in page.piece_note.text()
    assert piece.stock.lower() in page.piece_heading.text().lower()
    assert key in {item.key for item in page.sheet.drawing.items}
    house.selection.select("")
    assert page.sheet.isHidden()


def test_choices_tell_what_each_would_buy_and_taking_one_buys_that(qtbot, house) -> None:
    house.show_stage("sheets")
    form = house.pages["sheets"].choices
    values = [(name, value) for name, _, options in CHOICES for value, _ in options]
    qtbot.waitUntil(lambda: all(form.bought(name, value).endswith("sheets") for name, value in values), timeout=20_000)
    promised = int(form.bought("first_piece_in", 96.0).split()[0])
    form.option("first_piece_in", 96.0).click()
    assert house.document.job.sheathing.first_piece_in == 96.0
    assert house.document.plan.sheathing.count == promised
    assert "first piece" in house.document.stack.undoText()


def test_choice_for_one_plane_leaves_the_others(qtbot, house) -> None:
    house.show_stage("sheets")
    plane = house.document.plan.roof.planes[0]
    form = house.pages["sheets"].choices
    form.one.click()
    form.option("rip", "top").click()
    job = house.document.job
    assert job.sheathing.rip == "bottom"
    assert chosen_value(job, plane.id, "rip") == "top"
    assert chosen_value(job, house.document.plan.roof.planes[1].id, "rip") == "bottom"


def test_variants_differ_in_one_choice_each(house) -> None:
    job = house.document.job
    found = list(variants(job, ""))
    assert len(found) == sum(len(options) for _, _, options in CHOICES)
    for variant in found:
        assert variant.job == with_choice(job, "", variant.name, variant.value)
        assert variant.job.wings == job.wings


def test_variant_s_count_is_that_of_the_solved_job(house) -> None:
    variant = next(v for v in variants(house.document.job, "") if v.name == "rip" and v.value == "top")
    house.document.apply(variant.job, "Change rip")
    assert house.document.plan.sheathing.count == solve(variant.job).sheathing.count


def test_caution_stays_on_screen_whatever_is_scrolled(house) -> None:
    house.resize(1000, 660)
    house.show_stage("safety")
    page = house.pages["safety"]
    bar = page.findChild(type(page._scroll)).verticalScrollBar()
    bar.setValue(bar.maximum())
    assert CAUTION in page.caution.text()
    assert page.caution.isVisible()
    assert page.caution.visibleRegion().boundingRect().size() == page.caution.size()


def test_heights_and_steepness_are_the_roof_s_own(house) -> None:
    house.show_stage("safety")
    plan, page = house.document.plan, house.pages["safety"]
    plane = plan.roof.planes[0]
    top = max(corner[2] for corner in plane.corners)
    assert page.heights.rows[0].texts[2] == plan.units.length(top)
    words = {cells.texts[0]: cells.texts[3] for cells in page.heights.rows}
    steep = plan.safety.rules.is_steep
    assert words == {p.name: "steep" if steep(p.tangent) else "low slope" for p in plan.roof.planes}


def test_quantities_page_has_every_line_under_its_heading_with_its_count(qtbot, house) -> None:
    house.show_stage("quantities")
    plan, page = house.document.plan, house.pages["quantities"]
    lines = [cells for cells in page.table.rows if not cells.heading]
    assert {cells.key for cells in lines} == {quantity.code for quantity in plan.quantities}
    for quantity in plan.quantities:
        cells = next(cells for cells in lines if cells.key == quantity.code)
        assert quantity.trace.values in cells.texts[0]
    headings = [cells.texts[0] for cells in page.table.rows if cells.heading]
    assert headings == [words for group, words in GROUP_WORDS.items() if any(q.group == group for q in plan.quantities)]
    row = next(number for number, cells in enumerate(page.table.rows) if not cells.heading)
    _press_row(qtbot, page.table, row)
    assert page.formula.text() == next(q for q in plan.quantities if q.code == page.table.key).trace.formula


def test_no_table_scrolls_inside_its_page(house) -> None:
    house.resize(1000, 660)
    for stage in ("frame", "sheets", "safety", "quantities"):
        house.show_stage(stage)
        for table in house.pages[stage].findChildren(type(house.pages["frame"].marks)):
            if not table.isVisible():
                continue  # nothing has given it a width yet
            needed = sum(table.rowHeight(row) for row in range(len(table.rows)))
            assert table.viewport().height() >= needed, table.accessibleName()
            assert table.horizontalHeader().length() <= table.viewport().width(), table.accessibleName()
