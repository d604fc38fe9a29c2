"""The window's colours and fonts: one neutral palette, one accent, one warning, light or dark as the system is.

Text on its ground has a contrast of 4.5 or more in both schemes; ``tests/bench/test_theme.py`` measures it.
"""

from __future__ import annotations

import re
from collections.abc import Generator
from contextlib import contextmanager
from dataclasses import dataclass
from functools import cache
from typing import Literal

from PySide6.QtCore import QObject, Qt, Signal
from PySide6.QtGui import QColor, QFont, QFontDatabase, QGuiApplication, QPalette
from PySide6.QtWidgets import QApplication

from workbench.resources import resource_path

Scheme = Literal["light", "dark"]
Choice = Literal["system", "light", "dark"]

FONT_FAMILY = "DejaVu Sans"
FONT_POINTS = 9.5


@dataclass(frozen=True, slots=True)
class Colours:
    """One scheme's colours, as ``#rrggbb``.

    Attributes:
        ink: Text and the drawing's lines.
        paper: Ground of drawings, tables and fields.
        panel: Ground of panels and bars.
        quiet: Text of lesser weight.
        grid: Grid and zebra lines.
        line: Borders.
        accent: Selection and handles.
        accent_soft: Ground of what is selected.
        on_accent: Text on the accent.
        warning: Warnings; a sign and words always go with it.
        sheet: Sheets.
        wood: Members.
    """

    ink: str
    paper: str
    panel: str
    quiet: str
    grid: str
    line: str
    accent: str
    accent_soft: str
    on_accent: str
    warning: str
    sheet: str
    wood: str


SCHEMES: dict[Scheme, Colours] = {
    "light": Colours(
        ink="#22262a",
        paper="#fcfcfa",
        panel="#f1f1ee",
        quiet="#585f66",
        grid="#e4e4e0",
        line="#c8c8c2",
        accent="#0a6a72",
        accent_soft="#d5e8e8",
        on_accent="#ffffff",
        warning="#944600",
        sheet="#ffffff",
        wood="#d8d5ce",
    ),
    "dark": Colours(
        ink="#e6e7e8",
        paper="#1b1e21",
        panel="#262a2e",
        quiet="#a8afb6",
        grid="#2b3034",
        line="#474d53",
        accent="#62c6cc",
        accent_soft="#21484c",
        on_accent="#10262a",
        warning="#f0a552",
        sheet="#343a3f",
        wood="#4d5257",
    ),
}


class Theme(QObject):
    """The colours in use, as ``QColor``; follows the system's scheme unless one is chosen.

    Signals:
        changed: The colours are others now; repaint.
    """

    changed = Signal()

    def __init__(self, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self._choice: Choice = "system"
        self._scheme: Scheme = "light"

    @property
    def scheme(self) -> Scheme:
        """The scheme in use."""
        return self._scheme

    @property
    def choice(self) -> Choice:
        """What the user chose: a scheme, or the system's."""
        return self._choice

    @property
    def colours(self) -> Colours:
        """The colours of the scheme in use, as text."""
        return SCHEMES[self._scheme]

    @property
    def ink(self) -> QColor:
        """Text and the drawing's lines."""
        return QColor(self.colours.ink)

    @property
    def paper(self) -> QColor:
        """Ground of drawings, tables and fields."""
        return QColor(self.colours.paper)

    @property
    def panel(self) -> QColor:
        """Ground of panels and bars."""
        return QColor(self.colours.panel)

    @property
    def quiet(self) -> QColor:
        """Text of lesser weight."""
        return QColor(self.colours.quiet)

    @property
    def grid(self) -> QColor:
        """Grid lines."""
        return QColor(self.colours.grid)

    @property
    def line(self) -> QColor:
        """Borders."""
        return QColor(self.colours.line)

    @property
    def accent(self) -> QColor:
        """Selection and handles."""
        return QColor(self.colours.accent)

    @property
    def accent_soft(self) -> QColor:
        """Ground of what is selected."""
        return QColor(self.colours.accent_soft)

    @property
    def on_accent(self) -> QColor:
        """Text on the accent."""
        return QColor(self.colours.on_accent)

    @property
    def warning(self) -> QColor:
        """Warnings; a sign and words always go with it."""
        return QColor(self.colours.warning)

    @property
    def sheet(self) -> QColor:
        """Sheets."""
        return QColor(self.colours.sheet)

    @property
    def wood(self) -> QColor:
        """Members."""
        return QColor(self.colours.wood)

    def choose(self, choice: Choice) -> None:
        """Take a scheme, or the system's."""
        self._choice = choice
        self._take(_system_scheme() if choice == "system" else choice)

    def follow_system(self) -> None:
        """Keep up with the system's scheme from now on (needs the application)."""
        QGuiApplication.styleHints().colorSchemeChanged.connect(self._system_changed)
        self.choose(self._choice)

    @contextmanager
    def undressed(self) -> Generator[None]:
        """Without the style sheet while many widgets are put together: Qt would work it out again at every step."""
        app = QApplication.instance()
        if isinstance(app, QApplication):
            app.setStyleSheet("")
        try:
            yield
        finally:
            if isinstance(app, QApplication):
                app.setStyleSheet(_style_sheet(self.colours))

    def _system_changed(self) -> None:
        if self._choice == "system":
            self._take(_system_scheme())

    def _take(self, scheme: Scheme) -> None:
        self._scheme = scheme
        app = QApplication.instance()
        with self.undressed():
            if isinstance(app, QApplication):
                app.setPalette(_palette(self.colours))
            self.changed.emit()


@cache
def current() -> Theme:
    """The one theme of the program."""
    return Theme()


def dress(app: QApplication) -> None:
    """Give the application the project's fonts, the plain style and the theme's colours."""
    load_fonts()
    app.setStyle("Fusion")
    font = QFont(FONT_FAMILY)
    font.setPointSizeF(FONT_POINTS)
    app.setFont(font)
    current().follow_system()


def load_fonts() -> None:
    """Load the project's own fonts, so that text measures the same everywhere."""
    for path in sorted(resource_path("fonts").glob("*.ttf")):
        QFontDatabase.addApplicationFont(str(path))


def heading_font(points: float = FONT_POINTS + 1.5) -> QFont:
    """The font of headings."""
    font = QFont(FONT_FAMILY)
    font.setPointSizeF(points)
    font.setBold(True)
    return font


def _system_scheme() -> Scheme:
    if QGuiApplication.instance() is None:
        return "light"
    return "dark" if QGuiApplication.styleHints().colorScheme() == Qt.ColorScheme.Dark else "light"


def _palette(colours: Colours) -> QPalette:
    role = QPalette.ColorRole
    palette = QPalette()
    for which, colour in (
        (role.Window, colours.panel),
        (role.WindowText, colours.ink),
        (role.Base, colours.paper),
        (role.AlternateBase, colours.panel),
        (role.Text, colours.ink),
        (role.PlaceholderText, colours.quiet),
        (role.Button, colours.panel),
        (role.ButtonText, colours.ink),
        (role.ToolTipBase, colours.paper),
        (role.ToolTipText, colours.ink),
        (role.Highlight, colours.accent),
        (role.HighlightedText, colours.on_accent),
        (role.Link, colours.accent),
        (role.LinkVisited, colours.accent),
        (role.Accent, colours.accent),
        (role.Mid, colours.line),
        (role.Light, colours.paper),
        (role.Midlight, colours.grid),
        (role.Dark, colours.line),
    ):
        palette.setColor(which, QColor(colour))
    for which in (role.WindowText, role.Text, role.ButtonText):
        palette.setColor(QPalette.ColorGroup.Disabled, which, QColor(colours.quiet))
    return palette


def _style_sheet(colours: Colours) -> str:
    arrow = resource_path("icons", "arrow-down.svg").as_posix()
    return re.sub(r"@(\w+)", lambda match: str(getattr(colours, match[1])), _STYLE.replace("@arrow", arrow))


_STYLE = """
QToolTip { color: @ink; background: @paper; border: 1px solid @line; padding: 4px; }
QLineEdit, QComboBox, QPlainTextEdit { background: @paper; border: 1px solid @line; border-radius: 3px;
    padding: 3px 6px; min-height: 18px; selection-background-color: @accent; selection-color: @on_accent; }
QLineEdit:focus, QComboBox:focus, QPlainTextEdit:focus { border: 1px solid @accent; }
QLineEdit[wrong="true"] { border: 2px solid @warning; }
QLineEdit:read-only { background: @panel; }
QPushButton { background: @paper; border: 1px solid @line; border-radius: 3px; padding: 4px 12px; min-height: 18px; }
QPushButton[lines="1"] { min-height: 28px; }
QPushButton[lines="2"] { min-height: 46px; }
QPushButton:hover { border-color: @accent; }
QPushButton:focus { border: 1px solid @accent; }
QPushButton:pressed, QPushButton:checked { background: @accent_soft; border-color: @accent; }
QPushButton:flat { background: transparent; border: 1px solid transparent; color: @accent; padding: 2px 6px; }
QPushButton:flat:hover, QPushButton:flat:focus { border-color: @accent; }
QPushButton:disabled { color: @quiet; background: @panel; }
QRadioButton { spacing: 8px; }
QRadioButton::indicator { width: 12px; height: 12px; border-radius: 7px; border: 1px solid @quiet; background: @paper; }
QRadioButton::indicator:hover, QRadioButton::indicator:focus { border-color: @accent; }
QRadioButton::indicator:checked { width: 6px; height: 6px; border: 4px solid @accent; }
QRadioButton::indicator:disabled { border-color: @line; }
QRadioButton:focus { color: @accent; }
QToolButton { border: 0; border-radius: 3px; padding: 2px 8px; background: transparent; }
QToolButton:hover, QToolButton:focus { background: @accent_soft; }
QToolButton::menu-indicator { image: none; }
QLabel[quiet="true"] { color: @quiet; }
QLabel[warning="true"] { color: @warning; }
QToolBar { border: 0; spacing: 2px; padding: 2px; }
QStatusBar { border-top: 1px solid @line; }
QStatusBar::item { border: 0; }
QSplitter::handle { background: @panel; }
QSplitter::handle:horizontal { border-left: 1px solid @line; }
QSplitter::handle:vertical { border-top: 1px solid @line; }
QSplitter::handle:hover { background: @line; }
QTableView, QTreeView, QListView { background: @paper; border: 1px solid @line; gridline-color: @grid;
    selection-background-color: @accent_soft; selection-color: @ink; alternate-background-color: @panel; }
QHeaderView::section { background: @panel; color: @quiet; border: 0; border-bottom: 1px solid @line; padding: 4px 6px; }
QTableView { outline: 0; }
QTableView::item { padding: 0 3px; border: 0; }
QTableView:focus, QListView:focus { border: 1px solid @accent; }
QScrollBar:vertical { background: transparent; width: 12px; margin: 0; }
QScrollBar:horizontal { background: transparent; height: 12px; margin: 0; }
QScrollBar::handle { background: @line; border-radius: 4px; margin: 2px; }
QScrollBar::handle:vertical { min-height: 28px; }
QScrollBar::handle:horizontal { min-width: 28px; }
QScrollBar::handle:disabled { background: transparent; }
QScrollBar::handle:hover:enabled { background: @quiet; }
QScrollBar::add-line, QScrollBar::sub-line { width: 0; height: 0; }
QScrollBar::add-page, QScrollBar::sub-page { background: transparent; }
QProgressBar { background: @grid; border: 0; border-radius: 3px; }
QProgressBar::chunk { background: @accent; border-radius: 3px; }
QComboBox::drop-down { border: 0; width: 22px; }
QComboBox::down-arrow { image: url(@arrow); width: 10px; height: 10px; }
QScrollArea { border: 0; background: transparent; }
"""
