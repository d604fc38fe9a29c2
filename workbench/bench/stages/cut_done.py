"""How many of the mark in hand are cut already: numbers to type, and actions of the table of marks."""

from __future__ import annotations

from collections.abc import Callable

from PySide6.QtCore import Qt
from PySide6.QtGui import QAction, QKeySequence
from PySide6.QtWidgets import QWidget

from workbench.bench.document import Document
from workbench.bench.fields import NumberField
from workbench.bench.stages.form_base import Form
from workbench.bench.table import Table
from workbench.framing.already_cut import already_cut, with_cut_count
from workbench.framing.model import Hand, Member
from workbench.job import edits
from workbench.job.model import Job, Wing


class CutDoneForm(Form):
    """Pieces of the mark in hand that are cut; what is cut stays as it is when the job changes."""

    def __init__(self, document: Document, marks: Table, parent: QWidget | None = None) -> None:
        super().__init__(document, parent)
        self._member: Member | None = None
        self.fields: dict[Hand, NumberField] = {
            "": NumberField(None, "Cut already", self, least=0.0, decimals=0, whole=True),
            "left": NumberField(None, "Cut, left", self, least=0.0, decimals=0, whole=True),
            "right": NumberField(None, "Cut, right", self, least=0.0, decimals=0, whole=True),
        }
        for hand, field in self.fields.items():
            self.add(field)
            field.committed.connect(self._setter(hand))
        self.all = self._action(marks, "Mark as cut", "Ctrl+K", self.mark_all)
        self.none = self._action(marks, "Take back what is marked as cut", "Ctrl+Shift+K", self.take_back)
        marks.setContextMenuPolicy(Qt.ContextMenuPolicy.ActionsContextMenu)

    def _action(self, marks: Table, text: str, keys: str, work: Callable[[], None]) -> QAction:
        action = QAction(text, marks)
        action.setShortcut(QKeySequence(keys))
        action.setShortcutContext(Qt.ShortcutContext.WidgetWithChildrenShortcut)
        action.triggered.connect(lambda: work())
        marks.addAction(action)
        return action

    def show_member(self, member: Member | None) -> None:
        """Show how many of a mark are cut."""
        self._member = member
        self.setVisible(member is not None)
        self.all.setEnabled(member is not None)
        self.none.setEnabled(member is not None)
        if member is None:
            return
        done = self.document.plan.cut.of(member.mark)
        either = member.count - member.left - member.right
        for hand, most, count in (
            ("", either, done.either),
            ("left", member.left, done.left),
            ("right", member.right, done.right),
        ):
            field = self.fields[hand]
            self.show_row(field, most > 0)
            field.set_value(float(count))
            field.set_note(f"of {most}")

    def show_wing(self, wing: Wing) -> None:
        """Nothing of it is a wing's."""

    def again(self) -> None:
        """Show the numbers as they are."""
        self.show_member(self._member)

    def mark_all(self) -> None:
        """Every piece of the mark in hand is cut."""
        member = self._member
        if member is not None:
            either = member.count - member.left - member.right
            self._set({"": either, "left": member.left, "right": member.right}, f"Mark {member.mark} as cut")

    def take_back(self) -> None:
        """No piece of the mark in hand is cut."""
        if self._member is not None:
            self._set({"": 0, "left": 0, "right": 0}, f"Take back {self._member.mark} as cut")

    def _setter(self, hand: Hand) -> Callable[[float], None]:
        def take(value: float) -> None:
            member, field = self._member, self.fields[hand]
            if member is not None:
                counts: dict[Hand, int] = {hand: round(value)}
                self.edit(field, lambda job: self._changed(job, member, counts), f"Mark {member.mark} as cut")

        return take

    def _set(self, counts: dict[Hand, int], text: str) -> None:
        member = self._member
        if member is not None:
            self.edit(self.fields[""], lambda job: self._changed(job, member, counts), text)

    def _changed(self, job: Job, member: Member, counts: dict[Hand, int]) -> Job:
        plan, records = self.document.plan, job.cut_members
        for hand, count in counts.items():
            cut = already_cut(plan.framing, records, plan.units)
            records = with_cut_count(records, cut, member, hand, count)
        return edits.set_job(job, cut_members=records)
