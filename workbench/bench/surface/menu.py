"""The small menu of an edge or a wing."""

from __future__ import annotations

from collections.abc import Callable

from PySide6.QtCore import Signal
from PySide6.QtGui import QAction
from PySide6.QtWidgets import QMenu, QWidget

from workbench.bench.document import Document
from workbench.bench.surface.tools.base import edge_index, opening_of, wing_of
from workbench.bench.surface.tools.kinds import KIND_WORDS, word_of_kind
from workbench.errors import BadInput
from workbench.job.edits import remove_opening, remove_wing, set_edge
from workbench.job.model import Opening, OutlineKind, Wing


class WingMenu(QMenu):
    """A menu that can also start a tool.

    Signals:
        verb: ``(name)`` the tool to start.
    """

    verb = Signal(str)


def edge_menu(parent: QWidget, document: Document, key: str) -> WingMenu:
    """What an edge is (for an edge), then what can be done with its wing."""
    menu = WingMenu(parent)
    opening = opening_of(document.job, key)
    if opening is not None:
        menu.addAction(f"Remove {opening.kind}").triggered.connect(lambda: _close(document, opening))
        return menu
    wing = wing_of(document.job, key)
    if wing is None:
        return menu
    if key.startswith("edge:"):
        _add_kinds(menu, document, wing, key.rpartition("/")[2])
        menu.addSeparator()
        _add_verb(menu, "Split this edge", "split")
    if key.startswith("plane:"):
        _add_verb(menu, "Draw a dormer here", "dormer")
        _add_verb(menu, "Draw an opening here", "opening")
        menu.addSeparator()
    _add_verb(menu, f"Move {wing.name}", "move")
    _add_verb(menu, f"Repeat {wing.name}", "repeat")
    if any(edge.kind != "eave" for edge in wing.edges):
        menu.addAction("Make all edges eaves").triggered.connect(lambda: all_eaves(document, wing.id))
    menu.addSeparator()
    remove = menu.addAction(f"Remove {wing.name}")
    remove.triggered.connect(lambda: _remove(document, wing))
    return menu


def set_kind(document: Document, wing_id: str, edge_id: str, kind: OutlineKind) -> None:
    """Say what an edge is.

    Raises:
        EditError: It can't be that.
    """
    job = set_edge(document.job, wing_id, edge_id, kind=kind)
    document.apply(job, f"Make edge {word_of_kind(kind).lower()}")


def all_eaves(document: Document, wing_id: str) -> None:
    """Make every edge of a wing an eave: a hip roof in one step."""
    job = document.job
    try:
        for edge in job.wing(wing_id).edges:
            job = set_edge(job, wing_id, edge.id, kind="eave")
        document.apply(job, "Make all edges eaves")
    except BadInput as error:
        document.refuse(error)


def _add_kinds(menu: WingMenu, document: Document, wing: Wing, edge_id: str) -> None:
    index = edge_index(wing, edge_id)
    if index is None:
        return
    for kind, word in KIND_WORDS:
        action = QAction(f"{word}\t{word[0] if kind != 'wall' else 'W'}", menu)
        action.setCheckable(True)
        action.setChecked(wing.edges[index].kind == kind)
        action.triggered.connect(_kind_setter(document, wing.id, edge_id, kind))
        menu.addAction(action)


def _kind_setter(document: Document, wing_id: str, edge_id: str, kind: OutlineKind) -> Callable[[], None]:
    def take() -> None:
        try:
            set_kind(document, wing_id, edge_id, kind)
        except BadInput as error:
            document.refuse(error)

    return take


def _add_verb(menu: WingMenu, words: str, name: str) -> None:
    menu.addAction(words).triggered.connect(lambda: menu.verb.emit(name))


def _close(document: Document, opening: Opening) -> None:
    document.apply(remove_opening(document.job, opening.id), f"Remove {opening.kind}")


def _remove(document: Document, wing: Wing) -> None:
    document.apply(remove_wing(document.job, wing.id), f"Remove {wing.name}")
