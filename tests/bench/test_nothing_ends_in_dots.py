"""Words on the pages are read whole: no cell of a table ends in dots; a choice without room says so."""

from __future__ import annotations

from pathlib import Path

import pytest
from PySide6.QtWidgets import QComboBox

from workbench.bench.stage_bar import StageBar
from workbench.bench.table import Table
from workbench.resources import sample_job_path

STAGES = ("plan", "slope", "frame", "sheets", "safety", "quantities")


@pytest.fixture
def house(window):
    """The cut-up house: the longest names."""
    window.resize(1280, 800)
    window.files.open_sample(Path(str(sample_job_path("cut-up-house.json"))))
    window.show()
    return window


def test_cells_that_do_not_wrap_fit_their_columns(house) -> None:
    short: list[str] = []
    for stage in STAGES:
        house.show_stage(stage)
        for table in house.pages[stage].findChildren(Table):
            if not table.isVisible():
                continue
            for row, cells in enumerate(table.rows):
                for column, text in enumerate(cells.texts):
                    if table.wordWrap() or cells.heading or table.isRowHidden(row):
                        continue
                    needed = table.fontMetrics().horizontalAdvance(text) + 8
                    if needed > table.columnWidth(column):
                        short.append(f"{stage}, {table.accessibleName()}: {text}")
    assert short == []


def test_a_choice_without_room_ends_in_dots_and_no_letter_is_cut(house) -> None:
    house.show_stage("sheets")
    box = next(box for box in house.pages["sheets"].findChildren(QComboBox) if box.isVisible() and box.count() > 1)
    box.setItemText(box.currentIndex(), "one")
    assert box.shown_text() == "one"
    box.setItemText(box.currentIndex(), "one has to go up and no piece of it may ever be turned over")
    assert box.shown_text().endswith("…") and box.shown_text().startswith("one has")
    assert not box.grab().isNull()


def test_every_name_on_the_sheet_of_shortcuts_is_read_whole(house, qtbot) -> None:
    sheet = house.show_shortcuts()
    qtbot.addWidget(sheet)
    table = sheet.table
    for cells in table.rows:
        assert table.fontMetrics().horizontalAdvance(cells.texts[0]) + 8 <= table.columnWidth(0), cells.texts[0]
    keys = max(table.fontMetrics().horizontalAdvance(cells.texts[1]) for cells in table.rows if len(cells.texts) > 1)
    assert keys > table.columnWidth(1) or table.rowHeight(1) < 2 * table.fontMetrics().height()


def test_stages_and_handout_are_read_whole_however_narrow_the_row(house) -> None:
    bar = house.findChild(StageBar)
    for width in (1200, 900, 760):
        bar.setMinimumWidth(0)
        bar.resize(width, bar.height())
        for button in (*(bar.button(name) for name in STAGES), bar.handout):
            assert button.width() >= button.sizeHint().width(), (width, button.text())
    assert bar.job.text() in ("…", "") or bar.job.text().endswith("…")
    bar.resize(1400, bar.height())
    assert bar.job.text().endswith("revision A")
