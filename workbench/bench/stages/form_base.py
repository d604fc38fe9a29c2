"""What the forms of the plan page share: fields that take the wing's value when emptied, errors told at their field."""

from __future__ import annotations

from collections.abc import Callable

from PySide6.QtWidgets import QVBoxLayout, QWidget

from workbench.bench.document import Document
from workbench.bench.fields import (
    ChoiceField,
    Field,
    LengthField,
    NumberField,
    SlopeField,
    TextField,
    add_row,
    new_form,
)
from workbench.errors import BadInput
from workbench.job.model import Job, Wing

_LABEL_PX = 118
AS_THE_WING = "as the wing"


class OwnLength(LengthField):
    """A length of its own, of an edge for one; emptied, the wing's holds again, or none does."""

    may_be_empty = True


class OwnSlope(SlopeField):
    """A slope of its own; emptied, the wing's holds again, or none does."""

    may_be_empty = True


class OwnNumber(NumberField):
    """A number that may be left out."""

    may_be_empty = True


class Form(QWidget):
    """A form of the selected wing that edits through the document."""

    def __init__(self, document: Document, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.document = document
        self.wing_id = ""
        self.column = QVBoxLayout(self)
        self.column.setContentsMargins(0, 0, 0, 0)
        self.column.setSpacing(8)
        self.form = new_form()
        self.column.addLayout(self.form)

    def add(self, *fields: Field | TextField | ChoiceField) -> None:
        """Put fields into the form, the labels of all forms equally wide."""
        for field in fields:
            label = add_row(self.form, field)
            label.setMinimumWidth(_LABEL_PX)
            label.setWordWrap(True)

    def show_row(self, field: Field | TextField | ChoiceField, shown: bool) -> None:
        """Show or hide a field with its label."""
        if self.form.isRowVisible(field) != shown:
            self.form.setRowVisible(field, shown)

    def edit(self, field: Field | TextField | ChoiceField, change: Callable[[Job], Job], text: str) -> None:
        """Make an edit, or say at the field why it can't be made and keep what was typed there."""
        typed = "" if isinstance(field, ChoiceField) else field.edit.text()
        try:
            self.document.apply(change(self.document.job), text)
        except BadInput as error:
            self.again()
            if not isinstance(field, ChoiceField):
                field.edit.setText(typed)
                field.edit.setModified(True)
            field.show_error(str(error))

    def again(self) -> None:
        """Show the wing's values again."""
        wing = next((wing for wing in self.document.job.wings if wing.id == self.wing_id), None)
        if wing is not None:
            self.show_wing(wing)

    def show_wing(self, wing: Wing) -> None:
        """Show a wing."""
        raise NotImplementedError


def in_12(m: float) -> float:
    """Inches of rise in 12, without the noise of the last bits."""
    return round(12.0 * m, 10)
