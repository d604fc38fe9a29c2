"""The list of findings: what is wrong or worth knowing, errors first; a press leads to the object."""

from __future__ import annotations

from collections.abc import Sequence

from PySide6.QtCore import Qt, Signal
from PySide6.QtGui import QKeyEvent, QMouseEvent, QPainter, QPaintEvent, QPen
from PySide6.QtWidgets import QFrame, QLabel, QVBoxLayout, QWidget

from workbench.bench import theme
from workbench.bench.panel import Panel, note
from workbench.findings import Finding
from workbench.plan import Plan

_WORDS = {"error": "⚠ Error", "warning": "⚠ Warning", "note": "Note"}


class FindingRow(QFrame):
    """One finding: severity and object, text, source.

    Signals:
        chosen: ``(key)`` the user wants to see the object.
    """

    chosen = Signal(str)

    def __init__(self, finding: Finding, where: str, key: str, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.finding = finding
        self.key = key
        head = QLabel(f"{_WORDS[finding.severity]} · {where}" if where else _WORDS[finding.severity], self)
        head.setFont(theme.heading_font(theme.FONT_POINTS - 0.5))
        head.setProperty("warning", finding.severity != "note")
        text = QLabel(finding.text, self)
        text.setWordWrap(True)
        text.setTextFormat(Qt.TextFormat.PlainText)
        column = QVBoxLayout(self)
        column.setContentsMargins(12, 8, 12, 8)
        column.setSpacing(3)
        for label in (head, text, note(f"Source: {finding.source}", self)):
            column.addWidget(label)
        self.setAccessibleName(f"{finding.severity}: {finding.text}")
        if key:
            self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
            self.setCursor(Qt.CursorShape.PointingHandCursor)
            self.setToolTip("Show where")

    def mouseReleaseEvent(self, event: QMouseEvent) -> None:
        """A press shows the object."""
        if event.button() == Qt.MouseButton.LeftButton and self.rect().contains(event.position().toPoint()):
            self._choose()
        super().mouseReleaseEvent(event)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Enter and Space do as a press does."""
        if event.key() in (Qt.Key.Key_Return, Qt.Key.Key_Enter, Qt.Key.Key_Space):
            self._choose()
            return
        super().keyPressEvent(event)

    def paintEvent(self, event: QPaintEvent) -> None:
        """A plain ground, framed in the accent while it has the focus."""
        painter = QPainter(self)
        painter.setPen(QPen(theme.current().accent if self.hasFocus() else theme.current().line, 1))
        painter.setBrush(theme.current().paper)
        painter.drawRect(self.rect().adjusted(0, 0, -1, -1))

    def _choose(self) -> None:
        if self.key:
            self.chosen.emit(self.key)


class FindingsPanel(Panel):
    """All findings of the plan on show."""

    title = "Findings"

    def build(self) -> None:
        """The rows come with the plan."""
        self.empty = self.add_note("Nothing stands against this roof that the program can see.")
        self.add_note("Screening, not design: the local code and the engineer decide.")
        self._rows: list[FindingRow] = []
        self._found: tuple[Finding, ...] = ()
        self._box = QVBoxLayout()
        self._box.setSpacing(8)
        self.add(self._box)

    @property
    def rows(self) -> tuple[FindingRow, ...]:
        """The rows on show."""
        return tuple(self._rows)

    def refresh(self) -> None:
        """Show the plan's findings; an equal list stays as it is."""
        found = self.plan.findings
        self.empty.setVisible(not found)
        if found == self._found:
            return
        self._found = found
        for row in self._rows:
            self._box.removeWidget(row)
            row.deleteLater()
        self._rows = self._made(found)
        for row in self._rows:
            self._box.addWidget(row)

    def _made(self, found: Sequence[Finding]) -> list[FindingRow]:
        rows: list[FindingRow] = []
        for finding in found:
            key, where = object_key(self.plan, finding.object)
            row = FindingRow(finding, where, key, self)
            row.chosen.connect(self.selection.select)
            rows.append(row)
        return rows


def object_key(plan: Plan, name: str) -> tuple[str, str]:
    """Key and words of what a finding is about; both empty for the whole job."""
    plane = plan.plane(name)
    if plane is not None:
        return f"plane:{plane.id}", plane.name
    for wing in plan.job.wings:
        if wing.id == name:
            return f"wing:{wing.id}", wing.name
        for edge in wing.edges:
            if name == f"{wing.id}/{edge.id}":
                return f"edge:{name}", f"{wing.name}, {edge.kind}"
    if any(member.mark == name for member in plan.framing.members):
        return f"member:{name}", name
    for sheets in plan.sheathing.planes:
        for piece in sheets.pieces:
            if name == f"{piece.plane}/{piece.label}":
                return f"piece:{name}", f"sheet {piece.label}"
    return "", name
