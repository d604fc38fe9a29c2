"""Labelled fields that read measures as people type them.

A field commits on Enter and on leaving it, takes Esc for "as it was", and tells what is wrong in one sentence under
itself while it keeps the text. Leaving a field that was not touched commits nothing, so that a value shown rounded
is never replaced by its rounding. A value that the job refuses is told the same way; Esc brings back the one before.
"""

from __future__ import annotations

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QFormLayout, QLabel, QWidget

from workbench.bench.field_base import Field, Frame
from workbench.bench.word_fields import ChoiceField, TextField
from workbench.errors import BadInput
from workbench.measure import Units, parse_length, parse_number, parse_slope

__all__ = [
    "ChoiceField",
    "Field",
    "LengthField",
    "NumberField",
    "SlopeField",
    "TextField",
    "add_row",
    "new_form",
    "typed_length",
    "typed_lengths",
    "typed_slope",
]


class LengthField(Field):
    """A length in inches, typed and shown in the job's units."""

    def __init__(self, units: Units, value: float | None, label: str, parent: QWidget | None = None) -> None:
        self._units = units
        super().__init__(value, label, parent)

    def read(self, text: str) -> float:
        """Inches; a bare number is inches, or millimetres where the job shows millimetres."""
        return typed_length(text, self._units, self.label)

    def shown(self, value: float) -> str:
        """The length in the job's units."""
        return self._units.length(value)

    def set_units(self, units: Units) -> None:
        """Show the value in other units."""
        if units != self._units:
            self._units = units
            self.restore()


class SlopeField(Field):
    """A slope m = rise/run; a bare number is inches of rise in 12."""

    def __init__(self, units: Units, value: float | None, label: str, parent: QWidget | None = None) -> None:
        self._units = units
        super().__init__(value, label, parent)

    def read(self, text: str) -> float:
        """m; a bare number is inches of rise in 12, as the field shows it."""
        return typed_slope(text, self.label)

    def shown(self, value: float) -> str:
        """The slope as ``7 in 12``."""
        return self._units.slope(value)

    def set_units(self, units: Units) -> None:
        """Take other units (a slope is shown the same in all)."""
        if units != self._units:
            self._units = units
            self.restore()


class NumberField(Field):
    """A plain number of at least ``least``, whole where it counts, with a word of what it counts behind it."""

    def __init__(
        self,
        value: float | None,
        label: str,
        parent: QWidget | None = None,
        *,
        least: float | None = None,
        decimals: int = 2,
        unit: str = "",
        whole: bool = False,
    ) -> None:
        self._least = least
        self._whole = whole
        self._decimals = decimals
        super().__init__(value, label, parent)
        self.set_note(unit)

    def read(self, text: str) -> float:
        """The number."""
        value = parse_number(text, self.label)
        if self._least is not None and value < self._least:
            msg = f"{self.label} is under {self._least:g}; give at least {self._least:g}."
            raise BadInput(msg)
        if self._whole and value != round(value):
            msg = f"{self.label} is a count; give a whole number."
            raise BadInput(msg)
        return value

    def shown(self, value: float) -> str:
        """The number without needless zeros."""
        text = f"{value:,.{self._decimals}f}"
        return (text.rstrip("0").rstrip(".") if "." in text else text).replace(",", "")


def typed_length(text: str, units: Units, label: str) -> float:
    """Inches of a typed length; a bare number is inches, or millimetres where the job shows millimetres.

    Raises:
        MeasureError: It can't be read.
    """
    if units.system == "mm" and text.strip().replace(".", "", 1).lstrip("-").isdigit():
        text = f"{text.strip()} mm"
    return parse_length(text, label)


def typed_lengths(text: str, units: Units, label: str) -> tuple[float, ...]:
    """Inches of several typed lengths with ``;`` between them, each over 0; none where nothing is typed.

    Raises:
        MeasureError: One of them can't be read.
        BadInput: One of them is not over 0.
    """
    lengths = tuple(typed_length(part.strip(), units, label) for part in text.split(";") if part.strip())
    if any(length <= 0.0 for length in lengths):
        msg = f"{label}: every length has to be over 0; write them like 4'; 8' 6\"."
        raise BadInput(msg)
    return lengths


def typed_slope(text: str, label: str) -> float:
    """M = rise/run of a typed slope; a bare number is inches of rise in 12.

    Raises:
        MeasureError: It can't be read.
    """
    bare = text.strip()
    if bare and all(character in "0123456789./ " for character in bare) and not bare.endswith("/12"):
        return parse_slope(f"{bare} in 12", label)
    return parse_slope(bare, label)


def new_form() -> QFormLayout:
    """The one layout of labelled fields: labels left, fields aligned, even spacing."""
    form = QFormLayout()
    form.setContentsMargins(0, 0, 0, 0)
    form.setHorizontalSpacing(12)
    form.setVerticalSpacing(6)
    form.setLabelAlignment(Qt.AlignmentFlag.AlignLeft | Qt.AlignmentFlag.AlignTop)
    form.setFieldGrowthPolicy(QFormLayout.FieldGrowthPolicy.ExpandingFieldsGrow)
    form.setRowWrapPolicy(QFormLayout.RowWrapPolicy.DontWrapRows)
    return form


def add_row(form: QFormLayout, field: Frame) -> QLabel:
    """Put a field into a form behind its label; the label leads to the field."""
    label = QLabel(field.label)
    label.setBuddy(field)
    label.setContentsMargins(0, 4, 0, 0)
    form.addRow(label, field)
    return label
