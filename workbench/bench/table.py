"""Tables that are as tall as their rows: the panel around them scrolls, never a table inside it."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from PySide6.QtCore import QAbstractTableModel, QModelIndex, QPersistentModelIndex, QRect, QSize, Qt, Signal
from PySide6.QtGui import (
    QFont,
    QGuiApplication,
    QKeyEvent,
    QKeySequence,
    QPainter,
    QPalette,
    QResizeEvent,
    QWheelEvent,
)
from PySide6.QtWidgets import (
    QAbstractItemView,
    QHeaderView,
    QStyle,
    QStyledItemDelegate,
    QStyleOptionViewItem,
    QTableView,
    QWidget,
)

from workbench.bench import theme

_Index = QModelIndex | QPersistentModelIndex
_NOWHERE = QModelIndex()
_CELL_X, _CELL_Y = 6, 4
_TOP_LEFT = Qt.AlignmentFlag.AlignLeft | Qt.AlignmentFlag.AlignTop
_WRAP = Qt.TextFlag.TextWordWrap


@dataclass(frozen=True, slots=True)
class Cells:
    """One row: what it shows, the key of what it is about (empty for a heading), and its columns in bold."""

    texts: tuple[str, ...]
    key: str = ""
    heading: bool = False
    strong: frozenset[int] = frozenset()


class RowsModel(QAbstractTableModel):
    """Rows of plain text; other rows of the same count replace the old ones in place."""

    def __init__(self, headings: Sequence[str], numeric: Sequence[int] = (), parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._headings = tuple(headings)
        self._numeric = frozenset(numeric)
        self._rows: tuple[Cells, ...] = ()

    @property
    def rows(self) -> tuple[Cells, ...]:
        """The rows on show."""
        return self._rows

    def set_rows(self, rows: Sequence[Cells]) -> bool:
        """Show other rows; tells whether anything changed."""
        rows = tuple(rows)
        if rows == self._rows:
            return False
        if len(rows) == len(self._rows):
            self._rows = rows
            self.dataChanged.emit(self.index(0, 0), self.index(len(rows) - 1, len(self._headings) - 1))
            return True
        self.beginResetModel()
        self._rows = rows
        self.endResetModel()
        return True

    def rowCount(self, parent: _Index = _NOWHERE) -> int:
        """How many rows."""
        return 0 if parent.isValid() else len(self._rows)

    def columnCount(self, parent: _Index = _NOWHERE) -> int:
        """How many columns."""
        return 0 if parent.isValid() else len(self._headings)

    def data(self, index: _Index, role: int = Qt.ItemDataRole.DisplayRole) -> object:
        """Text, alignment and weight of a cell."""
        cells = self._rows[index.row()]
        if role in (Qt.ItemDataRole.DisplayRole, Qt.ItemDataRole.ToolTipRole):
            return cells.texts[index.column()] if index.column() < len(cells.texts) else ""
        if role == Qt.ItemDataRole.TextAlignmentRole:
            side = Qt.AlignmentFlag.AlignRight if index.column() in self._numeric else Qt.AlignmentFlag.AlignLeft
            return side | Qt.AlignmentFlag.AlignVCenter
        if role == Qt.ItemDataRole.FontRole and (cells.heading or index.column() in cells.strong):
            font = QFont(QGuiApplication.font())
            font.setBold(True)
            return font
        return None

    def flags(self, index: _Index) -> Qt.ItemFlag:
        """Headings can't be selected."""
        usual = super().flags(index)
        if index.isValid() and self._rows[index.row()].heading:
            return Qt.ItemFlag.ItemIsEnabled
        return usual

    def headerData(self, section: int, orientation: Qt.Orientation, role: int = Qt.ItemDataRole.DisplayRole) -> object:
        """The columns' headings."""
        if orientation != Qt.Orientation.Horizontal:
            return None
        if role == Qt.ItemDataRole.DisplayRole:
            return self._headings[section]
        if role == Qt.ItemDataRole.TextAlignmentRole:
            side = Qt.AlignmentFlag.AlignRight if section in self._numeric else Qt.AlignmentFlag.AlignLeft
            return side | Qt.AlignmentFlag.AlignVCenter
        return None


class TwoWeights(QStyledItemDelegate):
    """Paints a cell's first line in ink and the rest under it, wrapped and quiet."""

    def paint(self, painter: QPainter, option: QStyleOptionViewItem, index: _Index) -> None:
        """Ground as always, then the two parts."""
        head, _, rest = str(index.data() or "").partition("\n")
        if not rest:
            super().paint(painter, option, index)
            return
        self.initStyleOption(option, index)
        option.text = ""
        widget = option.widget
        widget.style().drawControl(QStyle.ControlElement.CE_ItemViewItem, option, painter, widget)
        area = option.rect.adjusted(_CELL_X, _CELL_Y, -_CELL_X, -_CELL_Y)
        painter.save()
        painter.setPen(option.palette.color(QPalette.ColorRole.Text))
        painter.drawText(area, _TOP_LEFT | _WRAP, head)
        painter.setPen(theme.current().quiet)
        below = _height(option, area.width(), head)
        painter.drawText(area.adjusted(0, below, 0, 0), _TOP_LEFT | _WRAP, rest)
        painter.restore()

    def sizeHint(self, option: QStyleOptionViewItem, index: _Index) -> QSize:
        """As high as both parts at the column's width."""
        head, _, rest = str(index.data() or "").partition("\n")
        view = self.parent()
        width = view.columnWidth(index.column()) if isinstance(view, QTableView) else 200
        inner = width - 2 * _CELL_X
        if not rest:
            # The style's own hint knows less of margins than its painting: a word too many would end in dots.
            return super().sizeHint(option, index).expandedTo(QSize(0, _height(option, inner, head) + 2 * _CELL_Y))
        return QSize(width, _height(option, inner, head) + _height(option, inner, rest) + 2 * _CELL_Y)


def _height(option: QStyleOptionViewItem, width: int, text: str) -> int:
    return option.fontMetrics.boundingRect(QRect(0, 0, max(40, width), 9999), _TOP_LEFT | _WRAP, text).height()


class Table(QTableView):
    """A table of rows, as tall as it needs.

    Signals:
        chosen: ``(key)`` the user moved to this row.
    """

    chosen = Signal(str)

    def __init__(
        self,
        name: str,
        headings: Sequence[str],
        *,
        numeric: Sequence[int] = (),
        stretch: int = 0,
        wrap: bool = False,
        parent: QWidget | None = None,
    ) -> None:
        super().__init__(parent)
        self.setAccessibleName(name)
        self._wrap = wrap
        self._rows = RowsModel(headings, numeric, self)
        self.setModel(self._rows)
        self.setSelectionBehavior(QAbstractItemView.SelectionBehavior.SelectRows)
        self.setSelectionMode(QAbstractItemView.SelectionMode.SingleSelection)
        self.setEditTriggers(QAbstractItemView.EditTrigger.NoEditTriggers)
        self.setVerticalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.setTabKeyNavigation(False)
        self.setShowGrid(False)
        self.setWordWrap(wrap)
        self.setTextElideMode(Qt.TextElideMode.ElideRight)
        self.verticalHeader().hide()
        self.verticalHeader().setDefaultSectionSize(self.fontMetrics().height() + 8)
        header = self.horizontalHeader()
        header.setHighlightSections(False)
        header.setSectionResizeMode(QHeaderView.ResizeMode.ResizeToContents)
        header.setSectionResizeMode(stretch, QHeaderView.ResizeMode.Stretch)
        self.selectionModel().currentRowChanged.connect(self._moved)
        if wrap:
            self.setItemDelegateForColumn(stretch, TwoWeights(self))
        theme.current().changed.connect(self.viewport().update)
        self._fit()

    @property
    def rows(self) -> tuple[Cells, ...]:
        """The rows on show."""
        return self._rows.rows

    def set_rows(self, rows: Sequence[Cells]) -> None:
        """Show other rows; the row of the same key stays selected."""
        key = self.key
        if not self._rows.set_rows(rows):
            return
        self._fit()
        self.select_key(key)

    def set_heights(self, heights: Sequence[int]) -> None:
        """Give each row a height, pixels, and the table that of all of them."""
        for row, height in enumerate(heights):
            self.setRowHeight(row, height)
        self._fit()

    @property
    def key(self) -> str:
        """Key of the current row, or an empty string."""
        row = self.currentIndex().row()
        return self.rows[row].key if 0 <= row < len(self.rows) else ""

    def select_key(self, key: str) -> None:
        """Mark the row of a key without telling it; none for a key that is not there."""
        row = next((number for number, cells in enumerate(self.rows) if key and cells.key == key), -1)
        self.selectionModel().blockSignals(True)
        if row < 0:
            self.setCurrentIndex(_NOWHERE)
            self.clearSelection()
        else:
            self.selectRow(row)
        self.selectionModel().blockSignals(False)
        self.viewport().update()

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Copy puts the whole table on the clipboard, tabs between the columns."""
        if event.matches(QKeySequence.StandardKey.Copy):
            lines = ["\t".join(cells.texts) for cells in self.rows]
            QGuiApplication.clipboard().setText("\n".join(lines))
            event.accept()
            return
        super().keyPressEvent(event)

    def wheelEvent(self, event: QWheelEvent) -> None:
        """Leave the wheel to the panel."""
        event.ignore()

    def resizeEvent(self, event: QResizeEvent) -> None:
        """Wrapped rows get another height with another width."""
        super().resizeEvent(event)
        if self._wrap and event.size().width() != event.oldSize().width():
            self._fit()

    def _moved(self, now: QModelIndex) -> None:
        if now.isValid() and self.rows[now.row()].key:
            self.chosen.emit(self.rows[now.row()].key)

    def _fit(self) -> None:
        if self._wrap:
            self.resizeRowsToContents()
        rows = sum(self.rowHeight(row) for row in range(len(self.rows)))
        self.setFixedHeight(rows + self.horizontalHeader().sizeHint().height() + 2 * self.frameWidth())
