"""Real widgets on the offscreen platform: own fonts, own settings file, every Qt warning fails the test.

The offscreen platform has no OpenGL: there the tests marked ``gl`` are deselected, and counted as such. They run with
``QT_QPA_PLATFORM=xcb xvfb-run pytest -m gl tests/bench``.
"""

from __future__ import annotations

import os
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, field
from pathlib import Path
from typing import cast

os.environ.setdefault("QT_QPA_PLATFORM", "offscreen")

import pytest
from PySide6.QtCore import QEvent, QSettings
from PySide6.QtWidgets import QApplication

from workbench.bench import theme
from workbench.bench.dialogs import Dialogs, Overwrite, RecoveryChoice, Unsaved
from workbench.bench.settings import Settings
from workbench.bench.window import Window
from workbench.job.autosave import Leftover
from workbench.resources import sample_job_path

_HERE = Path(__file__).parent
_OFFSCREEN_NOISE = (
    "This plugin does not support propagateSizeHints",
    "This plugin does not support raise",
    "This plugin does not support grabbing the keyboard",
)


def pytest_collection_modifyitems(config: pytest.Config, items: list[pytest.Item]) -> None:
    """Let Qt's warnings fail the tests of this folder, but for what the offscreen platform always says."""
    if os.environ["QT_QPA_PLATFORM"] == "offscreen":
        without = [item for item in items if item.get_closest_marker("gl") is not None]
        config.hook.pytest_deselected(items=without)
        items[:] = [item for item in items if item.get_closest_marker("gl") is None]
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
    # What the test before left to be deleted goes now: without a running event loop Qt would keep it for good.
    qapp.sendPostedEvents(None, QEvent.Type.DeferredDelete)
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


@dataclass
class ScriptedDialogs:
    """Answers in the place of dialogs, and what was asked."""

    open_path: Path | None = None
    save_path: Path | None = None
    pdf_path: Path | None = None
    page_path: Path | None = None
    export_path: Path | None = None
    prices_path: Path | None = None
    unsaved: Unsaved = "cancel"
    overwrite: Overwrite = "cancel"
    recover: bool | None = None
    asked: list[str] = field(default_factory=list)

    def ask_open(self, folder: Path) -> Path | None:
        """The scripted file."""
        self.asked.append("open")
        return self.open_path

    def ask_save(self, suggested: Path) -> Path | None:
        """The scripted file."""
        self.asked.append(f"save {suggested.name}")
        return self.save_path

    def ask_page(self, folder: Path) -> Path | None:
        """The scripted file."""
        self.asked.append("page")
        return self.page_path

    def ask_pdf(self, suggested: Path) -> Path | None:
        """The scripted file."""
        self.asked.append(f"pdf {suggested.name}")
        return self.pdf_path

    def ask_export(self, suggested: Path, formats: str) -> Path | None:
        """The scripted file."""
        self.asked.append(f"export {suggested.name}")
        return self.export_path

    def ask_prices(self, folder: Path) -> Path | None:
        """The scripted file."""
        self.asked.append("prices")
        return self.prices_path

    def ask_unsaved(self, title: str) -> Unsaved:
        """The scripted answer."""
        self.asked.append(f"unsaved {title}")
        return self.unsaved

    def ask_overwrite(self, path: Path) -> Overwrite:
        """The scripted answer."""
        self.asked.append(f"overwrite {path.name}")
        return self.overwrite

    def ask_recovery(self, found: Sequence[Leftover]) -> RecoveryChoice | None:
        """The latest leftover, recovered or forgotten as scripted; None for later."""
        self.asked.append(f"recovery {len(found)}")
        return None if self.recover is None else RecoveryChoice(found[0], self.recover)

    def tell(self, title: str, sentence: str, detail: str = "") -> None:
        """Only noted."""
        self.asked.append(f"tell {sentence}")


@pytest.fixture
def dialogs() -> ScriptedDialogs:
    """Scripted answers."""
    return ScriptedDialogs()


@pytest.fixture
def state(tmp_path: Path) -> Path:
    """Where the autosaves of this test lie."""
    return tmp_path / "state"


@pytest.fixture
def make_window(qtbot, ini: Path, state: Path, dialogs: ScriptedDialogs) -> Iterator[Callable[[], Window]]:
    """Makes shown windows that share settings and autosaves, as two starts of the program would."""
    made: list[Window] = []

    def make() -> Window:
        window = Window(Settings(ini), cast(Dialogs, dialogs), state)
        made.append(window)
        window.show()
        return window

    yield make
    dialogs.unsaved = "discard"
    for window in made:
        window.close()
        window.deleteLater()
    QApplication.sendPostedEvents(None, QEvent.Type.DeferredDelete)


@pytest.fixture
def window(make_window: Callable[[], Window]) -> Window:
    """A shown window."""
    return make_window()


@pytest.fixture(scope="session")
def small_house() -> Path:
    """The sample with several wings."""
    return sample_job_path("small-house.json")
