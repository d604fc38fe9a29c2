"""Fields of words: a line of free text, and one of a few choices."""

from __future__ import annotations

from collections.abc import Sequence

from PySide6.QtCore import Qt, Signal
from PySide6.QtGui import QPaintEvent, QWheelEvent
from PySide6.QtWidgets import QComboBox, QLineEdit, QStyle, QStyleOptionComboBox, QStylePainter, QWidget

from workbench.bench.field_base import Edit, Frame


class TextField(Frame):
    """A line of free text.

    Signals:
        committed: ``(text)`` the user gave another text.
    """

    committed = Signal(str)

    def __init__(self, value: str, label: str, parent: QWidget | None = None, *, longest: int = 120) -> None:
        self._edit = Edit()
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
        text, before = self._edit.text().strip(), self._value
        self.show_error("")
        if text == self._value:
            return
        self._value = text
        self.committed.emit(text)
        if self.error:
            self._value = before
            self._edit.setText(text)
            self._edit.setModified(True)


class _Combo(QComboBox):
    """A choice the wheel does not change by accident; long words make its list wider, not the page."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setSizeAdjustPolicy(QComboBox.SizeAdjustPolicy.AdjustToMinimumContentsLengthWithIcon)
        self.setMinimumContentsLength(6)

    def showPopup(self) -> None:
        """Let the list be as wide as its longest words."""
        self.view().setMinimumWidth(self.view().sizeHintForColumn(0) + 28)
        super().showPopup()

    def shown_text(self) -> str:
        """The chosen words as far as there is room, with dots for the rest."""
        option = QStyleOptionComboBox()
        self.initStyleOption(option)
        part = QStyle.SubControl.SC_ComboBoxEditField
        room = self.style().subControlRect(QStyle.ComplexControl.CC_ComboBox, option, part, self)
        return self.fontMetrics().elidedText(self.currentText(), Qt.TextElideMode.ElideRight, room.width() - 2)

    def paintEvent(self, event: QPaintEvent) -> None:
        """As always, but words that are too long end in dots and not in the middle of a letter."""
        painter, option = QStylePainter(self), QStyleOptionComboBox()
        self.initStyleOption(option)
        option.currentText = self.shown_text()
        painter.drawComplexControl(QStyle.ComplexControl.CC_ComboBox, option)
        painter.drawControl(QStyle.ControlElement.CE_ComboBoxLabel, option)

    def wheelEvent(self, event: QWheelEvent) -> None:
        """Leave the wheel to what scrolls around it."""
        event.ignore()


class ChoiceField(Frame):
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
        value, before = self._values[index], self._value
        if value == self._value:
            return
        self._value = value
        self.show_error("")
        self.committed.emit(value)
        if self.error:
            sentence = self._told
            self.set_value(before)
            self.show_error(sentence)
