"""Labelled fields that read measures as people type them.

A field commits on Enter and on leaving it, takes Esc for "as it was", and tells what is wrong in one sentence under
itself while it keeps the text. Leaving a field that was not touched commits nothing, so that a value shown rounded
is never replaced by its rounding.
"""

from __future__ import annotations

from collections.abc import Sequence

from PySide6.QtCore import QEvent, QObject, Qt, Signal
from PySide6.QtGui import QKeyEvent, QWheelEvent
from PySide6.QtWidgets import QComboBox, QFormLayout, QHBoxLayout, QLabel, QLineEdit, QSizePolicy, QVBoxLayout, QWidget

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
    "typed_slope",
]


class _Frame(QWidget):
    """An editor with the sentence under it and room for a small word behind it."""

    def __init__(self, editor: QWidget, label: str, parent: QWidget | None) -> None:
        super().__init__(parent)
        self.label = label
        self._editor = editor
        self._told = ""
        editor.setAccessibleName(label)
        self._note = QLabel(self)
        self._note.setProperty("quiet", True)
        self._note.hide()
        self._sentence = QLabel(self)
        self._sentence.setWordWrap(True)
        self._sentence.setProperty("warning", True)
        self._sentence.hide()
        line = QHBoxLayout()
        line.setContentsMargins(0, 0, 0, 0)
        line.setSpacing(8)
        line.addWidget(editor, 1)
        line.addWidget(self._note)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(3)
        column.addLayout(line)
        column.addWidget(self._sentence)
        self.setFocusProxy(editor)
        self.setSizePolicy(QSizePolicy.Policy.Preferred, QSizePolicy.Policy.Fixed)

    @property
    def error(self) -> str:
        """The sentence on show, or an empty string."""
        return self._sentence.text()

    def set_note(self, text: str) -> None:
        """Put a small word behind the editor, such as ``given`` or ``to find``."""
        if text == self._note.text():
            return
        self._note.setText(text)
        self._note.setVisible(bool(text))

    def show_error(self, sentence: str) -> None:
        """Show what is wrong under the editor; an empty sentence takes it away."""
        if sentence == self._told:
            return  # polishing a widget anew costs more than all else that a drag does to it
        self._told = sentence
        # The sign keeps the warning readable without its colour.
        self._sentence.setText(f"⚠ {sentence}" if sentence else "")
        self._sentence.setVisible(bool(sentence))
        self._editor.setAccessibleDescription(sentence)
        self._editor.setProperty("wrong", bool(sentence))
        self._editor.style().unpolish(self._editor)
        self._editor.style().polish(self._editor)


class _Edit(QLineEdit):
    """A line edit that tells Esc and keeps plain up and down for moving on."""

    escaped = Signal()

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Esc gives the text back; everything else is as usual."""
        if event.key() == Qt.Key.Key_Escape and self.isModified():
            self.escaped.emit()
            event.accept()
            return
        super().keyPressEvent(event)


class Field(_Frame):
    """A field of one number; subclasses say how it is read and shown.

    Signals:
        committed: ``(value)`` the user gave another value.
    """

    committed = Signal(float)

    def __init__(self, value: float | None, label: str, parent: QWidget | None = None) -> None:
        self._edit = _Edit()
        super().__init__(self._edit, label, parent)
        self._value = value
        self._edit.editingFinished.connect(self.commit)
        self._edit.escaped.connect(self.restore)
        self._edit.installEventFilter(self)
        self.restore()

    def read(self, text: str) -> float:
        """The value of what was typed.

        Raises:
            BadInput: It can't be read.
        """
        raise NotImplementedError

    def shown(self, value: float) -> str:
        """The value as the field shows it."""
        raise NotImplementedError

    @property
    def value(self) -> float | None:
        """The value as set or last committed; None where there is none."""
        return self._value

    @property
    def edit(self) -> QLineEdit:
        """The line edit itself."""
        return self._edit

    def set_value(self, value: float | None) -> None:
        """Show another value; text that is being typed and a sentence about it stay."""
        same = value == self._value
        self._value = value
        if same and self._edit.isModified() and self._edit.hasFocus():
            return
        self.restore()

    def set_read_only(self, on: bool) -> None:
        """Let the value be seen only."""
        if on == self._edit.isReadOnly():
            return
        self._edit.setReadOnly(on)
        self._edit.style().unpolish(self._edit)
        self._edit.style().polish(self._edit)

    def restore(self) -> None:
        """Show the value again and forget what was typed."""
        shown = "" if self._value is None else self.shown(self._value)
        if shown != self._edit.text():
            self._edit.setText(shown)
        self._edit.setModified(False)
        self.show_error("")

    def commit(self) -> None:
        """Read what was typed; tell it, or say what is wrong with it."""
        if not self._edit.isModified():
            return
        try:
            value = self.read(self._edit.text())
        except BadInput as error:
            self.show_error(str(error))
            return
        known = "" if self._value is None else self.shown(self._value)
        if self._edit.text().strip() == known or value == self._value:
            self.restore()
            return
        # Not modified any more: leaving the field after Enter must not commit twice.
        self._edit.setModified(False)
        self._value = value
        self._edit.setText(self.shown(value))
        self.show_error("")
        self.committed.emit(value)

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:
        """Select everything on coming in by the keyboard, so that typing replaces the value."""
        if watched is self._edit and event.type() == QEvent.Type.FocusIn and not self._edit.isModified():
            self._edit.selectAll()
        return super().eventFilter(watched, event)


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
    """A plain number of at least ``least``, with a word of what it counts behind it."""

    def __init__(
        self,
        value: float | None,
        label: str,
        parent: QWidget | None = None,
        *,
        least: float | None = None,
        decimals: int = 2,
        unit: str = "",
    ) -> None:
        self._least = least
        self._decimals = decimals
        super().__init__(value, label, parent)
        self.set_note(unit)

    def read(self, text: str) -> float:
        """The number."""
        value = parse_number(text, self.label)
        if self._least is not None and value < self._least:
            msg = f"{self.label} is under {self._least:g}; give at least {self._least:g}."
            raise BadInput(msg)
        return value

    def shown(self, value: float) -> str:
        """The number without needless zeros."""
        text = f"{value:,.{self._decimals}f}"
        return (text.rstrip("0").rstrip(".") if "." in text else text).replace(",", "")


class TextField(_Frame):
    """A line of free text.

    Signals:
        committed: ``(text)`` the user gave another text.
    """

    committed = Signal(str)

    def __init__(self, value: str, label: str, parent: QWidget | None = None, *, longest: int = 120) -> None:
        self._edit = _Edit()
        super().__init__(self._edit, label, parent)
        self._edit.setMaxLength(longest)
        self._value = value
        self._edit.editingFinished.connect(self.commit)
        self._edit.escaped.connect(self.restore)
        self.restore()

    @property
    def edit(self) -> QLineEdit:
        """The line edit itself."""
        return self._edit

    @property
    def value(self) -> str:
        """The text as set or last committed."""
        return self._value

    def set_value(self, value: str) -> None:
        """Show another text; one that is being typed stays."""
        same = value == self._value
        self._value = value
        if same and self._edit.isModified() and self._edit.hasFocus():
            return
        self.restore()

    def restore(self) -> None:
        """Show the text as it was."""
        if self._edit.text() != self._value:
            self._edit.setText(self._value)
            self._edit.setCursorPosition(0)
        self._edit.setModified(False)
        self.show_error("")

    def commit(self) -> None:
        """Tell the new text."""
        if not self._edit.isModified():
            return
        self._edit.setModified(False)
        text = self._edit.text().strip()
        if text != self._value:
            self._value = text
            self.committed.emit(text)


class _Combo(QComboBox):
    """A choice the wheel does not change by accident."""

    def wheelEvent(self, event: QWheelEvent) -> None:
        """Leave the wheel to what scrolls around it."""
        event.ignore()


class ChoiceField(_Frame):
    """One of a few words.

    Signals:
        committed: ``(value)`` the user chose another one.
    """

    committed = Signal(object)

    def __init__(
        self, choices: Sequence[tuple[object, str]], value: object, label: str, parent: QWidget | None = None
    ) -> None:
        self._combo = _Combo()
        super().__init__(self._combo, label, parent)
        self._choices: tuple[tuple[object, str], ...] | None = None
        self._values: list[object] = []
        self.set_choices(choices)
        self.set_value(value)
        self._combo.activated.connect(self._activated)

    @property
    def combo(self) -> QComboBox:
        """The combo box itself."""
        return self._combo

    @property
    def value(self) -> object:
        """The chosen value."""
        return self._value

    def set_choices(self, choices: Sequence[tuple[object, str]]) -> None:
        """Offer other words; the chosen value stays where it is still offered."""
        if tuple(choices) == self._choices:
            return
        self._choices = tuple(choices)
        self._values = [value for value, _ in choices]
        self._combo.clear()
        self._combo.addItems([word for _, word in choices])
        if hasattr(self, "_value"):
            self.set_value(self._value)

    def set_value(self, value: object) -> None:
        """Show another choice."""
        self._value = value
        self._combo.setCurrentIndex(self._values.index(value) if value in self._values else -1)
        self.show_error("")

    def _activated(self, index: int) -> None:
        value = self._values[index]
        if value != self._value:
            self._value = value
            self.committed.emit(value)


def typed_length(text: str, units: Units, label: str) -> float:
    """Inches of a typed length; a bare number is inches, or millimetres where the job shows millimetres.

    Raises:
        MeasureError: It can't be read.
    """
    if units.system == "mm" and text.strip().replace(".", "", 1).lstrip("-").isdigit():
        text = f"{text.strip()} mm"
    return parse_length(text, label)


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


def add_row(form: QFormLayout, field: _Frame) -> QLabel:
    """Put a field into a form behind its label; the label leads to the field."""
    label = QLabel(field.label)
    label.setBuddy(field)
    label.setContentsMargins(0, 4, 0, 0)
    form.addRow(label, field)
    return label
