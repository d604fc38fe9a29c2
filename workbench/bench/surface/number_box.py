"""The small box at the pointer for typed numbers: Tab to the next, Enter takes them, Esc closes."""

from __future__ import annotations

from collections.abc import Sequence

from PySide6.QtCore import QEvent, QObject, QPoint, Qt, Signal
from PySide6.QtGui import QKeyEvent
from PySide6.QtWidgets import QComboBox, QFrame, QGridLayout, QLabel, QLineEdit, QWidget

from workbench.bench import theme
from workbench.bench.fields import typed_length, typed_slope
from workbench.bench.surface.tools.base import Ask, shown_angle
from workbench.errors import BadInput
from workbench.measure import Units, parse_angle


class NumberBox(QFrame):
    """One line edit for each number a tool asks for, a list for each choice.

    Signals:
        taken: ``(values)`` a dict by name, after Enter; numbers left empty come with the pointer's value.
        closed: Esc was pressed.
    """

    taken = Signal(dict)
    closed = Signal()

    def __init__(self, parent: QWidget) -> None:
        super().__init__(parent)
        self._room = parent
        self._at = QPoint()
        self.setObjectName("number-box")
        self.setFrameShape(QFrame.Shape.StyledPanel)
        self.setAutoFillBackground(True)
        self._grid = QGridLayout(self)
        self._grid.setContentsMargins(8, 6, 8, 6)
        self._grid.setHorizontalSpacing(8)
        self._grid.setVerticalSpacing(4)
        self._sentence = QLabel(self)
        self._sentence.setProperty("warning", True)
        self._sentence.setWordWrap(True)
        self._sentence.setMaximumWidth(280)
        self._labels: list[QLabel] = []
        self._fields: list[QLineEdit | QComboBox] = []
        self._asks: tuple[Ask, ...] = ()
        self._units = Units()
        self.hide()

    @property
    def edits(self) -> Sequence[QLineEdit]:
        """The line edits, in order."""
        return [field for field in self._fields if isinstance(field, QLineEdit)]

    @property
    def choices(self) -> Sequence[QComboBox]:
        """The lists of words, in order."""
        return [field for field in self._fields if isinstance(field, QComboBox)]

    @property
    def error(self) -> str:
        """The sentence on show."""
        return self._sentence.text()

    def open(self, asks: Sequence[Ask], units: Units, at: QPoint, first: str = "") -> None:
        """Ask for these numbers, near a place in the parent, the first one begun with a typed character."""
        self._units = units
        self._build(tuple(asks))
        self.show_live(asks)
        self.show_error("")
        self.move_near(at)
        self.show()
        self.raise_()
        if self.edits:
            edit = self.edits[0]
            edit.setText(first)
            edit.setFocus(Qt.FocusReason.ShortcutFocusReason)
            if first:
                edit.setCursorPosition(len(first))

    def type(self, text: str) -> None:
        """Go on with text that was typed on the surface."""
        edit = next((edit for edit in self.edits if edit.hasFocus()), self.edits[0])
        edit.insert(text)
        edit.setFocus(Qt.FocusReason.ShortcutFocusReason)

    def show_live(self, asks: Sequence[Ask]) -> None:
        """Show what the pointer says in the empty boxes."""
        if [ask.name for ask in asks] != [ask.name for ask in self._asks]:
            return
        self._asks = tuple(asks)
        for ask, field in zip(self._asks, self._fields, strict=True):
            if isinstance(field, QLineEdit):
                field.setPlaceholderText("" if ask.live is None else self._shown(ask, ask.live))

    def show_error(self, sentence: str) -> None:
        """Say what is wrong under the boxes; an empty sentence takes it away."""
        self._sentence.setText(f"⚠ {sentence}" if sentence else "")
        self._sentence.setVisible(bool(sentence))
        self.move_near(self._at)

    def move_near(self, at: QPoint) -> None:
        """Stand beside a place of the parent, inside it."""
        self._at = at
        # Twice: a wrapped sentence tells its height only once it has its width.
        self.adjustSize()
        self.adjustSize()
        parent = self._room
        x, y = at.x() + 18, at.y() + 18
        if x + self.width() > parent.width() - 6:
            x = at.x() - 18 - self.width()
        # Only across: the box stands beside the pointer, so that moving it up never hides the place.
        self.move(max(6, x), max(6, min(y, parent.height() - 6 - self.height())))

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:
        """Enter takes, Esc closes, Tab and Backtab go round."""
        if event.type() == QEvent.Type.KeyPress and isinstance(event, QKeyEvent) and watched in self._fields:
            key = event.key()
            if key in (Qt.Key.Key_Return, Qt.Key.Key_Enter):
                self._take()
                return True
            if key == Qt.Key.Key_Escape:
                self.closed.emit()
                return True
            if key in (Qt.Key.Key_Tab, Qt.Key.Key_Backtab):
                step = 1 if key == Qt.Key.Key_Tab else -1
                index = next(i for i, field in enumerate(self._fields) if field is watched)
                after = self._fields[(index + step) % len(self._fields)]
                after.setFocus(Qt.FocusReason.TabFocusReason)
                if isinstance(after, QLineEdit):
                    after.selectAll()
                return True
        return super().eventFilter(watched, event)

    def _take(self) -> None:
        values: dict[str, float] = {}
        for ask, field in zip(self._asks, self._fields, strict=True):
            if isinstance(field, QComboBox):
                values[ask.name] = float(field.currentIndex())
                continue
            try:
                values[ask.name] = self._read(ask, field.text())
            except BadInput as error:
                self.show_error(str(error))
                field.setFocus()
                field.selectAll()
                return
        self.taken.emit(values)

    def _read(self, ask: Ask, text: str) -> float:
        if not text.strip() and ask.live is not None:
            return ask.live
        if ask.kind == "angle":
            return parse_angle(text, ask.label)
        if ask.kind == "slope":
            return typed_slope(text, ask.label)
        return typed_length(text, self._units, ask.label)

    def _shown(self, ask: Ask, value: float) -> str:
        if ask.kind == "slope":
            return self._units.slope(value)
        return shown_angle(self._units, value) if ask.kind == "angle" else self._units.length(value)

    def _build(self, asks: tuple[Ask, ...]) -> None:
        """A field for each of these; the same ones are kept."""
        if [(ask.name, ask.kind) for ask in asks] != [(ask.name, ask.kind) for ask in self._asks]:
            for widget in (*self._labels, *self._fields):
                self._grid.removeWidget(widget)
                widget.deleteLater()
            self._labels, self._fields = [], []
            for row, ask in enumerate(asks):
                label, field = QLabel(ask.label), QComboBox() if ask.kind == "choice" else QLineEdit()
                field.setAccessibleName(ask.label)
                field.setMinimumWidth(110)
                field.installEventFilter(self)
                label.setBuddy(field)
                self._grid.addWidget(label, row, 0)
                self._grid.addWidget(field, row, 1)
                self._labels.append(label)
                self._fields.append(field)
            self._grid.removeWidget(self._sentence)
            self._grid.addWidget(self._sentence, len(asks), 0, 1, 2)
        self._asks = asks
        for ask, field in zip(asks, self._fields, strict=True):
            field.clear()
            if isinstance(field, QComboBox):
                field.addItems(list(ask.words))
                field.setCurrentIndex(int(ask.live or 0))
        colours = theme.current().colours
        self.setStyleSheet(f"#number-box {{ background: {colours.panel}; border: 1px solid {colours.accent}; }}")
