"""Undo and redo that show what they changed: the wing, edge, corner or opening that differs is selected afterwards."""

from __future__ import annotations

from collections.abc import Callable

from PySide6.QtCore import QObject

from workbench.bench.document import Document
from workbench.bench.selection import Selection
from workbench.job.model import Job, Wing


class History(QObject):
    """Takes the document's steps back and forth."""

    def __init__(self, document: Document, selection: Selection, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self._document = document
        self._selection = selection

    def undo(self) -> None:
        """Take the last step back."""
        self._step(self._document.stack.undo)

    def redo(self) -> None:
        """Make it again."""
        self._step(self._document.stack.redo)

    def _step(self, step: Callable[[], object]) -> None:
        before = self._document.job
        step()
        after = self._document.job
        key = changed_key(before, after)
        if key is not None:
            self._selection.select(key)
        elif not names_something(after, self._selection.key):
            self._selection.select("")


def changed_key(before: Job, after: Job) -> str | None:
    """Key of the one thing that differs, as finely as it can be said; None where that is nothing that is drawn.

    What is gone afterwards can't be selected: then nothing is, which is the empty key.
    """
    olds, news = ({wing.id: wing for wing in job.wings} for job in (before, after))
    changed = [wing for wing in after.wings if olds.get(wing.id) != wing]
    if changed:
        wing = changed[-1]
        old = olds.get(wing.id)
        return f"wing:{wing.id}" if old is None or len(changed) > 1 else _key_in_wing(old, wing)
    if any(wing_id not in news for wing_id in olds):
        return ""
    known = {opening.id: opening for opening in before.openings}
    for opening in after.openings:
        if known.get(opening.id) != opening:
            return f"opening:{opening.id}"
    return "" if len(after.openings) < len(before.openings) else None


def names_something(job: Job, key: str) -> bool:
    """Whether a key of a wing, edge, corner or opening is in the job; keys of what is worked out are left alone."""
    kind, _, name = key.partition(":")
    wing_id, _, part = name.partition("/")
    wing = next((wing for wing in job.wings if wing.id == wing_id), None)
    match kind:
        case "wing":
            return wing is not None
        case "edge":
            return wing is not None and any(edge.id == part for edge in wing.edges)
        case "corner":
            return wing is not None and part.isdigit() and int(part) < len(wing.outline)
        case "opening":
            return any(opening.id == name for opening in job.openings)
        case _:
            return True


def _key_in_wing(old: Wing, new: Wing) -> str:
    """The one edge or corner of a wing that differs, else the wing."""
    if len(old.outline) != len(new.outline):
        return f"wing:{new.id}"
    corners = [i for i, (a, b) in enumerate(zip(old.outline, new.outline, strict=True)) if a != b]
    edges = [i for i, (a, b) in enumerate(zip(old.edges, new.edges, strict=True)) if a != b]
    count = len(new.outline)
    if len(edges) == 1 and not corners:
        return f"edge:{new.id}/{new.edges[edges[0]].id}"
    if len(corners) == 1 and not edges:
        return f"corner:{new.id}/{corners[0]}"
    if len(corners) == 2 and not edges:
        for i, j in (corners, reversed(corners)):
            if (i + 1) % count == j:
                return f"edge:{new.id}/{new.edges[i].id}"
    return f"wing:{new.id}"
