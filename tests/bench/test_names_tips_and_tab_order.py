"""Everything has a name for a screen reader, every action a tip; small screens are enough; Tab goes down the page."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest
from PySide6.QtCore import QPoint, Qt
from PySide6.QtGui import QAction
from PySide6.QtWidgets import (
    QAbstractButton,
    QAbstractItemView,
    QComboBox,
    QLabel,
    QLineEdit,
    QMenu,
    QPushButton,
    QWidget,
)

from workbench.bench.menus import STAGES
from workbench.job import edits


@pytest.fixture
def house(window, small_house: Path):
    """A window with the small house open."""
    window.files.open_sample(small_house)
    return window


def _actions(menu: QMenu) -> Iterator[QAction]:
    for action in menu.actions():
        if action.menu() is not None:
            yield from _actions(action.menu())
        elif not action.isSeparator():
            yield action


def test_every_action_has_a_tip(house) -> None:
    tops = [action.menu() for action in house.menuBar().actions()]
    without = [action.text() for menu in tops for action in _actions(menu) if not action.statusTip()]
    assert without == []


def test_access_letters_of_a_menu_are_each_its_own(house) -> None:
    for top in house.menuBar().actions():
        letters = [text[text.index("&") + 1].lower() for a in top.menu().actions() if "&" in (text := a.text())]
        assert len(letters) == len(set(letters)), (top.text(), sorted(letters))


STAGE_NAMES = [name for name, _ in STAGES]


def test_every_control_in_sight_has_a_name(house) -> None:
    kinds = (QAbstractButton, QLineEdit, QComboBox, QAbstractItemView)
    for stage in STAGE_NAMES:
        house.show_stage(stage)
        unnamed = [
            f"{type(widget).__name__} in {type(widget.parent()).__name__}"
            for widget in house.findChildren(QWidget)
            if isinstance(widget, kinds)
            and widget.isVisible()
            and widget.focusPolicy() & Qt.FocusPolicy.TabFocus
            and not (widget.accessibleName() or getattr(widget, "text", str)())
        ]
        assert unnamed == [], stage


def test_nothing_is_cut_off_on_small_screens(qtbot, house) -> None:
    for size in ((1280, 800), (1024, 700)):
        house.resize(*size)
        for stage in STAGE_NAMES:
            house.show_stage(stage)
            qtbot.wait(20)
            assert (house.width(), house.height()) == size
            page = house.pages[stage]
            assert page.mapTo(house, QPoint(page.width(), 0)).x() <= house.width()
            for widget in page.findChildren(QWidget):
                if isinstance(widget, QLabel | QAbstractButton | QLineEdit | QComboBox) and widget.isVisible():
                    right = widget.mapTo(page, QPoint(widget.width(), 0)).x()
                    assert right <= page.width(), (stage, type(widget).__name__, getattr(widget, "text", str)())
            for button in house.findChildren(QPushButton):
                if button.isVisible():
                    needed = button.fontMetrics().horizontalAdvance(button.text().replace("&", ""))
                    assert needed <= button.width(), (stage, button.text())


def test_tab_goes_down_the_page(house) -> None:
    """The next one in the focus chain never stands far above the one before, as on a page that is read."""
    for stage in STAGE_NAMES:
        house.show_stage(stage)
        page = house.pages[stage]
        order = list(_in_turn(page))
        tops = [each.mapTo(page, QPoint(0, 0)).y() for each in order]
        back = [
            (type(a).__name__, b.accessibleName(), one - other)
            for a, b, one, other in zip(order, order[1:], tops, tops[1:], strict=False)
            if other < one - SIDE_BY_SIDE_PX
        ]
        assert back == [], stage


SIDE_BY_SIDE_PX = 120


def _in_turn(page: QWidget) -> Iterator[QWidget]:
    widget = page.nextInFocusChain()
    while widget is not page and page.isAncestorOf(widget):
        takes = widget.isVisible() and widget.isEnabled() and widget.focusPolicy() & Qt.FocusPolicy.TabFocus
        if takes and widget.focusProxy() is None:
            yield widget
        widget = widget.nextInFocusChain()


def test_a_long_name_is_shortened_and_pushes_nothing_out(qtbot, house) -> None:
    job = edits.set_job(house.document.job, name="A very long name of a job " * 4)
    job = edits.set_wing(job, job.wings[0].id, name="the wing with the longest name that anybody could think of " * 2)
    house.document.apply(job, "Rename")
    house.resize(1024, 700)
    qtbot.wait(20)
    for stage, _ in STAGES:
        house.show_stage(stage)
        assert house.width() == 1024
    assert house.stages.handout.mapTo(house, QPoint(house.stages.handout.width(), 0)).x() <= house.width()
