"""The sheet of shortcuts, made from the menus themselves and the keys of the drawing."""

from __future__ import annotations

from collections.abc import Sequence

from PySide6.QtCore import Qt
from PySide6.QtGui import QAction, QKeySequence
from PySide6.QtWidgets import QDialog, QDialogButtonBox, QScrollArea, QVBoxLayout, QWidget

from workbench.bench.panel import heading
from workbench.bench.table import Cells, Table

ON_THE_DRAWING: tuple[tuple[str, str], ...] = (
    ("Zoom at the pointer", "Wheel"),
    ("Move the drawing", "Middle button, or Space and drag"),
    ("Next object, previous object", "Tab, Shift+Tab"),
    ("Move the selected corner, edge or opening", "Arrow keys"),
    ("Make the selected edge an eave, a rake, against a wall", "E, R, W"),
    ("Remove the selected wing or opening", "Delete"),
    ("Gable, shed or hip dormer while drawing one", "G, S, H"),
    ("Type a length or a slope while drawing", "Digits, then Enter"),
    ("Give up what is being drawn", "Esc"),
    ("What can be done with an object", "Menu key, or right button"),
)
IN_SPACE: tuple[tuple[str, str], ...] = (
    ("Turn the house", "Drag, or arrow keys"),
    ("Move it", "Middle button, or Shift and drag, or Shift and arrow keys"),
    ("Nearer, further", "Wheel, or + and -"),
    ("From the front, back, left, right, above", "F, B, L, R, A"),
    ("As at first, whole house", "Home, 0"),
)
IN_FIELDS: tuple[tuple[str, str], ...] = (
    ("Take the value", "Enter, or leave the field"),
    ("As it was", "Esc"),
    ("Copy a whole table", "Ctrl+C in the table"),
)


def shortcut_rows(groups: Sequence[tuple[str, Sequence[QAction]]]) -> list[Cells]:
    """Every action that has keys, under its menu's name."""
    rows: list[Cells] = []
    for name, actions in groups:
        lines = [
            Cells((action.text().replace("&", "").rstrip("…"), keys_of(action)))
            for action in actions
            if action.shortcuts() and not action.isSeparator()
        ]
        if lines:
            rows += [Cells((name, ""), heading=True), *lines]
    others = (("On the drawing", ON_THE_DRAWING), ("In the 3-D view", IN_SPACE), ("In fields and tables", IN_FIELDS))
    for name, pairs in others:
        rows += [Cells((name, ""), heading=True), *(Cells(pair) for pair in pairs)]
    return rows


def keys_of(action: QAction) -> str:
    """The keys of an action, as the platform writes them; those with a key of their own (Open, Undo) are left out."""
    texts = [keys.toString(QKeySequence.SequenceFormat.NativeText) for keys in action.shortcuts()]
    usual = [text for text in texts if "+" in text or text[1:].isdigit()]
    return ", ".join((usual or texts)[:1])


class ShortcutSheet(QDialog):
    """All shortcuts in one table."""

    def __init__(self, groups: Sequence[tuple[str, Sequence[QAction]]], parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setWindowTitle("Shortcuts")
        self.table = Table("Shortcuts", ("What", "Keys"), stretch=1, wrap=True, parent=self)
        self.table.set_rows(shortcut_rows(groups))
        page = QWidget(self)
        inside = QVBoxLayout(page)
        inside.setContentsMargins(16, 16, 4, 16)
        inside.addWidget(heading("Everything can be done without the mouse", page))
        inside.addWidget(self.table)
        scroll = QScrollArea(self)
        scroll.setWidgetResizable(True)
        scroll.setVerticalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOn)
        scroll.setWidget(page)
        buttons = QDialogButtonBox(QDialogButtonBox.StandardButton.Close, self)
        buttons.setContentsMargins(12, 8, 12, 12)
        buttons.rejected.connect(self.reject)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.addWidget(scroll)
        column.addWidget(buttons)
        self.resize(640, 640)
