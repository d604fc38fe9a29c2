"""Real widgets on the offscreen platform: own fonts, own settings file, every Qt warning fails the test."""

from __future__ import annotations

import os
from collections.abc import Iterator
from pathlib import Path

os.environ["QT_QPA_PLATFORM"] = "offscreen"

import pytest
from PySide6.QtCore import QSettings
from PySide6.QtWidgets import QApplication

from workbench.bench import theme

_HERE = Path(__file__).parent
_OFFSCREEN_NOISE = (
    "This plugin does not support propagateSizeHints",
    "This plugin does not support raise",
    "This plugin does not support grabbing the keyboard",
)


def pytest_collection_modifyitems(items: list[pytest.Item]) -> None:
    """Let Qt's warnings fail the tests of this folder, but for what the offscreen platform always says."""
    for item in items:
        if _HERE in item.path.parents:
            item.add_marker(pytest.mark.qt_log_level_fail("WARNING"))
            item.add_marker(pytest.mark.qt_log_ignore(*_OFFSCREEN_NOISE, extend=True))


@pytest.fixture(scope="session")
def qapp_cls() -> type[QApplication]:
    """The application class pytest-qt makes."""
    return QApplication


@pytest.fixture(autouse=True)
def dressed(qapp: QApplication) -> Iterator[None]:
    """The project's fonts and the light colours for every test, whatever the one before chose."""
    if not qapp.property("dressed"):
        theme.dress(qapp)
        qapp.setProperty("dressed", True)
    if theme.current().choice != "light":
        theme.current().choose("light")
    yield
    if theme.current().choice != "light":
        theme.current().choose("light")


@pytest.fixture
def ini(tmp_path: Path) -> Path:
    """A settings file of this test alone."""
    QSettings.setDefaultFormat(QSettings.Format.IniFormat)
    return tmp_path / "settings.ini"
