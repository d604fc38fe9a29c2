"""What every labelled field is: an editor, a sentence under it, a small word behind it."""

from __future__ import annotations

from PySide6.QtCore import QEvent, QObject, Qt, Signal
from PySide6.QtGui import QKeyEvent
from PySide6.QtWidgets import QHBoxLayout, QLabel, QLineEdit, QSizePolicy, QVBoxLayout, QWidget

from workbench.errors import BadInput


class Frame(QWidget):
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


class Edit(QLineEdit):
    """A line edit that tells Esc and keeps plain up and down for moving on."""

    escaped = Signal()

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Esc gives the text back; everything else is as usual."""
        if event.key() == Qt.Key.Key_Escape and self.isModified():
            self.escaped.emit()
            event.accept()
            return
        super().keyPressEvent(event)


class Field(Frame):
    """A field of one number; subclasses say how it is read and shown.

    Signals:
        committed: ``(value)`` the user gave another value.
        cleared: The user emptied it; only where it may be empty.
    """

    committed = Signal(float)
    cleared = Signal()

    may_be_empty = False
    """Whether nothing typed is an answer: not given, or as what stands above it."""

    def __init__(self, value: float | None, label: str, parent: QWidget | None = None) -> None:
        self._edit = Edit()
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
        if self.may_be_empty and not self._edit.text().strip():
            if self._value is None:
                self.restore()
            else:
                self.cleared.emit()
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
        self.offer(value)

    def offer(self, value: float) -> None:
        """Tell a value; where it is refused, what was typed stays and the value before is kept for Esc."""
        typed, before = self._edit.text(), self._value
        # Not modified any more: leaving the field after Enter must not commit twice.
        self._edit.setModified(False)
        self._value = value
        self._edit.setText(self.shown(value))
        self.show_error("")
        self.committed.emit(value)
        if self.error:
            self._value = before
            self._edit.setText(typed)
            self._edit.setModified(True)

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:
        """Select everything on coming in by the keyboard, so that typing replaces the value."""
        if watched is self._edit and event.type() == QEvent.Type.FocusIn and not self._edit.isModified():
            self._edit.selectAll()
        return super().eventFilter(watched, event)
