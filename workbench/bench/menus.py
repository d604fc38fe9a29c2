"""The menus and their shortcuts. What an action does is the window's business."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path
from typing import TypeVar

from PySide6.QtGui import QAction, QActionGroup, QKeySequence, QUndoStack
from PySide6.QtWidgets import QMainWindow, QMenu

from workbench.bench import theme
from workbench.bench.job_panel import UNIT_CHOICES, known_units
from workbench.bench.surface.tools import VERBS
from workbench.bench.theme import Choice
from workbench.job.model import Units as JobUnits

STAGES: tuple[tuple[str, str], ...] = (
    ("plan", "Plan"),
    ("slope", "Slope"),
    ("frame", "Frame"),
    ("sheets", "Sheets"),
    ("safety", "Safety"),
    ("quantities", "Quantities"),
)
"""Stages in the order of the work, by the name code uses and the word the user sees."""

_STAGE_TIPS = {
    "plan": "Draw the building and say what its edges are",
    "slope": "Find the slope, and what would bring it into another price bracket",
    "frame": "Rafters, ridge and trim, with a cut card for every mark",
    "sheets": "Rows of sheathing, pieces and the sheets they are cut from",
    "safety": "Falls, anchors and ropes, what is carried",
    "quantities": "What to buy, with prices and how each number was counted",
}


def stage_beside(name: str, by: int) -> str:
    """The stage so many steps on; empty past the first and the last."""
    names = [known for known, _ in STAGES]
    at = names.index(name) + by
    return names[at] if 0 <= at < len(names) else ""


_COLOURS: tuple[tuple[Choice, str], ...] = (("system", "As the &system"), ("light", "&Light"), ("dark", "&Dark"))

_T = TypeVar("_T")
Keys = QKeySequence.StandardKey | str | None


class Menus:
    """Builds the menu bar of a window and keeps its actions by name."""

    def __init__(self, window: QMainWindow) -> None:
        self._window = window
        self.actions: dict[str, QAction] = {}
        self.groups: list[tuple[str, list[QAction]]] = []
        bar = window.menuBar()
        self.file, self.edit, self.draw, self.view, self.help = (
            bar.addMenu(words) for words in ("&File", "&Edit", "&Draw", "&View", "&Help")
        )
        self.recent = QMenu("Open &recent", window)
        self.samples = QMenu("Open a sa&mple", window)
        self.units = QMenu("Un&its", window)
        self.colours = QMenu("&Colours", window)
        self._unit_actions: list[tuple[JobUnits, QAction]] = []
        self._colour_actions: list[tuple[Choice, QAction]] = []

    def add(self, menu: QMenu, name: str, words: str, keys: Keys, do: Callable[[], object], tip: str = "") -> QAction:
        """Add an action to a menu; its tooltip names its shortcut."""
        action = QAction(words, self._window)
        if keys is not None:
            action.setShortcuts(_sequences(keys))
        plain = words.replace("&", "").rstrip("…")
        shown = ", ".join(each.toString(QKeySequence.SequenceFormat.NativeText) for each in action.shortcuts())
        action.setToolTip(f"{tip or plain} ({shown})" if shown else tip or plain)
        action.setStatusTip(tip or plain)
        action.triggered.connect(lambda: do())
        menu.addAction(action)
        self.actions[name] = action
        title = menu.title().replace("&", "")
        if not self.groups or self.groups[-1][0] != title:
            self.groups.append((title, []))
        self.groups[-1][1].append(action)
        return action

    def add_stages(self, do: Callable[[str], None]) -> None:
        """Add the stages as a group of which one is on."""
        group = QActionGroup(self._window)
        for number, (name, words) in enumerate(STAGES, start=1):
            action = self.add(
                self.view, f"stage {name}", f"&{number} {words}", f"Ctrl+{number}", _with(do, name), _STAGE_TIPS[name]
            )
            action.setCheckable(True)
            group.addAction(action)

    def add_verbs(self, do: Callable[[str], None]) -> None:
        """Add the drawing tools by their verbs, each with a letter of its own."""
        taken: set[str] = set()
        for verb in VERBS:
            words = _lettered(verb.words, taken)
            self.add(self.draw, f"tool {verb.name}", words, None, _with(do, verb.name), verb.tip)

    def add_units(self, do: Callable[[JobUnits], None]) -> None:
        """Fill the units menu, which the status bar shows too."""
        group = QActionGroup(self._window)
        for units, words in UNIT_CHOICES:
            action = QAction(words, self._window)
            action.setCheckable(True)
            action.setStatusTip(f"Show every length of the job in {words.lower()}")
            action.triggered.connect(_with(do, units))
            group.addAction(action)
            self.units.addAction(action)
            self._unit_actions.append((units, action))

    def add_colours(self, do: Callable[[Choice], None]) -> None:
        """Fill the colours menu."""
        group = QActionGroup(self._window)
        for choice, words in _COLOURS:
            action = QAction(words, self._window)
            action.setCheckable(True)
            action.setStatusTip("Light or dark colours of the window; paper stays black on white")
            action.triggered.connect(_with(do, choice))
            group.addAction(action)
            self.colours.addAction(action)
            self._colour_actions.append((choice, action))

    def show_undo(self, stack: QUndoStack) -> None:
        """Name what would be undone and redone."""
        for name, word, text, possible in (
            ("undo", "&Undo", stack.undoText(), stack.canUndo()),
            ("redo", "&Redo", stack.redoText(), stack.canRedo()),
        ):
            self.actions[name].setText(f"{word} {text[:1].lower()}{text[1:]}" if text else word)
            self.actions[name].setEnabled(possible)

    def show_units(self, units: JobUnits) -> None:
        """Check the units in use."""
        for known, action in self._unit_actions:
            action.setChecked(known == known_units(units))

    def show_colours(self) -> None:
        """Check the colours chosen."""
        for choice, action in self._colour_actions:
            action.setChecked(choice == theme.current().choice)

    def show_recent(self, paths: tuple[Path, ...], do: Callable[[Path], object], clear: Callable[[], None]) -> None:
        """List recent files; those that are gone are grey."""
        self.recent.clear()
        for number, path in enumerate(paths, start=1):
            there = path.exists()
            words = f"&{number % 10} {path.name}" if there else f"&{number % 10} {path.name} (missing)"
            action = self.recent.addAction(words)
            action.setEnabled(there)
            action.setToolTip(str(path))
            action.setStatusTip(str(path))
            action.triggered.connect(_with(do, path))
        self.recent.setEnabled(bool(paths))
        self.recent.addSeparator()
        forget = self.recent.addAction("&Clear the list")
        forget.setStatusTip("Forget the recent files; the files stay")
        forget.triggered.connect(lambda: clear())

    def unit_action(self, units: JobUnits) -> QAction:
        """The action of some units."""
        return next(action for known, action in self._unit_actions if known == units)


def _with(do: Callable[[_T], object], value: _T) -> Callable[[], None]:
    def act() -> None:
        do(value)

    return act


def _lettered(words: str, taken: set[str]) -> str:
    """The words with an access letter that none before has: of the last word's letters the first that is free."""
    last = words.rfind(" ") + 1
    for at in (*range(last, len(words)), *range(last)):
        letter = words[at].lower()
        if letter.isalpha() and letter not in taken:
            taken.add(letter)
            return f"{words[:at]}&{words[at:]}"
    return words


def _sequences(keys: QKeySequence.StandardKey | str) -> list[QKeySequence]:
    if isinstance(keys, str):
        return [QKeySequence(each) for each in keys.split(" | ")]
    found = QKeySequence.keyBindings(keys)
    # Some platforms have no key for these; the usual ones serve.
    fallback = {
        QKeySequence.StandardKey.Quit: "Ctrl+Q",
        QKeySequence.StandardKey.SaveAs: "Ctrl+Shift+S",
        QKeySequence.StandardKey.Preferences: "Ctrl+,",
    }
    return found or ([QKeySequence(fallback[keys])] if keys in fallback else [])
