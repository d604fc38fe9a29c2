"""The job itself: what is printed on every page, and how lengths are shown."""

from __future__ import annotations

from collections.abc import Callable
from typing import cast

from PySide6.QtCore import Signal
from PySide6.QtGui import QFocusEvent
from PySide6.QtWidgets import QPlainTextEdit, QWidget

from workbench.bench.fields import ChoiceField, TextField, add_row, new_form
from workbench.bench.panel import Panel
from workbench.bench.unraised import unraised
from workbench.errors import BadInput
from workbench.job import edits
from workbench.job.model import Units as JobUnits
from workbench.measure import FractionOf

UNIT_CHOICES: tuple[tuple[JobUnits, str], ...] = (
    *((JobUnits(fraction=cast(FractionOf, part)), f"Feet and inches to 1/{part}") for part in (8, 16, 32)),
    (JobUnits(system="mm"), "Millimetres"),
)


class NoteEdit(QPlainTextEdit):
    """Free text over several lines; taken on leaving it.

    Signals:
        committed: ``(text)`` the user gave another text.
    """

    committed = Signal(str)

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._text = ""
        self.setAccessibleName("Note")
        self.setTabChangesFocus(True)
        self.setFixedHeight(6 * self.fontMetrics().lineSpacing() + 14)

    def show_text(self, text: str) -> None:
        """Show another text; one that is being typed stays."""
        if text != self._text or not self.hasFocus():
            self._text = text
            if self.toPlainText() != text:
                self.setPlainText(text)

    def focusOutEvent(self, event: QFocusEvent) -> None:
        """Take the text."""
        super().focusOutEvent(event)
        text = self.toPlainText()
        if text != self._text:
            self._text = text
            unraised(lambda: self.committed.emit(text))


class JobPanel(Panel):
    """Name, date, revision, note, units."""

    title = "Job"

    def build(self) -> None:
        """The fields."""
        form = new_form()
        self._fields: list[tuple[TextField, str]] = []
        for name, label, longest in (
            ("name", "Name", 120),
            ("date", "Date", 40),
            ("revision", "Revision", 20),
        ):
            field = TextField("", label, self, longest=longest)
            field.committed.connect(self._setter(field, name, label))
            self._fields.append((field, name))
            add_row(form, field)
        self.units = ChoiceField(UNIT_CHOICES, UNIT_CHOICES[1][0], "Lengths in", self)
        self.units.committed.connect(self._units)
        add_row(form, self.units)
        self.note = NoteEdit(self)
        self.note.committed.connect(self._note)
        form.addRow("Note", self.note)
        self.add(form)
        self.add_note("Name, date and revision are printed on every page of the handout, as written here.")

    def refresh(self) -> None:
        """Show the job's own values."""
        job = self.plan.job
        for field, name in self._fields:
            field.set_value(getattr(job, name))
        self.units.set_value(known_units(job.units))
        self.note.show_text(job.note)

    def _setter(self, field: TextField, name: str, label: str) -> Callable[[str], None]:
        def take(text: str) -> None:
            try:
                self.document.apply(edits.set_job(self.document.job, **{name: text}), f"Change {label.lower()}")
            except BadInput as error:
                field.show_error(str(error))

        return take

    def _note(self, text: str) -> None:
        try:
            self.document.apply(edits.set_job(self.document.job, note=text), "Change note")
        except BadInput as error:
            self.document.refuse(error)

    def _units(self, units: object) -> None:
        self.document.apply(edits.set_job(self.document.job, units=units), "Change units")


def known_units(units: JobUnits) -> JobUnits:
    """The offered choice that these units are: the fraction says nothing in millimetres."""
    return JobUnits(system="mm") if units.system == "mm" else units
