"""How a figure was found, shown beside it on asking "How?"."""

from __future__ import annotations

from collections.abc import Sequence

from PySide6.QtCore import QPoint, Qt
from PySide6.QtWidgets import QFrame, QLabel, QPushButton, QVBoxLayout, QWidget

from workbench.bench import theme
from workbench.measure.trace import Trace

_WIDTH = 440


class HowPopup(QFrame):
    """Formula, the same with its values, and the rule's source, for one figure or a few. Esc or a click closes it."""

    def __init__(self, traces: Sequence[Trace], parent: QWidget | None = None) -> None:
        super().__init__(parent, Qt.WindowType.Popup)
        self.setAttribute(Qt.WidgetAttribute.WA_DeleteOnClose)
        self.setAccessibleName("How this figure was found")
        self.setFrameShape(QFrame.Shape.NoFrame)
        colours = theme.current().colours
        self.setStyleSheet(f"HowPopup {{ background: {colours.paper}; border: 1px solid {colours.accent}; }}")
        column = QVBoxLayout(self)
        column.setContentsMargins(16, 14, 16, 14)
        column.setSpacing(4)
        for number, trace in enumerate(traces):
            if number:
                column.addSpacing(10)
            for label in _labels(trace, self):
                column.addWidget(label)
        # Wrapped text has its height only for a width; the size hint would guess too much.
        self.setFixedSize(_WIDTH, column.heightForWidth(_WIDTH))

    @property
    def text(self) -> str:
        """Everything it says, one line a label."""
        return "\n".join(label.text() for label in self.findChildren(QLabel))

    def show_at(self, anchor: QWidget) -> None:
        """Show it beside a widget, inside the screen."""
        corner = anchor.mapToGlobal(QPoint(0, anchor.height() + 2))
        area = anchor.screen().availableGeometry()
        x = min(corner.x(), area.right() - self.width())
        y = corner.y()
        if y + self.height() > area.bottom():
            y = anchor.mapToGlobal(QPoint(0, 0)).y() - self.height() - 2
        self.move(max(area.left(), x), max(area.top(), y))
        self.show()
        self.setFocus()


def _labels(trace: Trace, parent: QWidget) -> list[QLabel]:
    name = QLabel(trace.name[:1].upper() + trace.name[1:], parent)
    name.setFont(theme.heading_font(theme.FONT_POINTS))
    formula = QLabel(trace.formula, parent)
    values = QLabel(f"= {trace.values}" if trace.values else "", parent)
    source = QLabel(f"Source: {trace.source}", parent)
    source.setProperty("quiet", True)
    shown = [name, formula, *([values] if trace.values else []), source]
    for label in shown:
        label.setTextFormat(Qt.TextFormat.PlainText)
        label.setWordWrap(True)
        label.setTextInteractionFlags(Qt.TextInteractionFlag.TextSelectableByMouse)
    return shown


class HowButton(QPushButton):
    """A small flat "How?" that shows the traces it holds; it is off while it has none."""

    def __init__(self, what: str, parent: QWidget | None = None) -> None:
        super().__init__("How?", parent)
        self._traces: tuple[Trace, ...] = ()
        self.setFlat(True)
        self.setAccessibleName(f"How was {what} found?")
        self.setToolTip("Formula, values and source")
        self.setCursor(Qt.CursorShape.PointingHandCursor)
        self.clicked.connect(self._show)
        self.setEnabled(False)

    def set_traces(self, traces: Sequence[Trace]) -> None:
        """Hold other traces."""
        self._traces = tuple(traces)
        self.setEnabled(bool(self._traces))

    def _show(self) -> None:
        HowPopup(self._traces, self).show_at(self)
