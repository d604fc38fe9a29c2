"""The title bar of the 3-D view's dock: its name, and buttons to set it apart and to close it."""

from __future__ import annotations

from PySide6.QtCore import QSize
from PySide6.QtGui import QIcon
from PySide6.QtWidgets import QDockWidget, QHBoxLayout, QLabel, QPushButton, QWidget

from workbench.resources import resource_path

_ICON_PX = 14


class TitleBar(QWidget):
    """Stands in for the style's own bar, whose signs can't be seen in the dark colours.

    It leaves mouse events alone, so that the dock is dragged by it. What ``closing`` does is the dock's business.
    """

    def __init__(self, dock: QDockWidget) -> None:
        super().__init__(dock)
        self._dock = dock
        self.setObjectName("space_title")
        row = QHBoxLayout(self)
        row.setContentsMargins(12, 0, 6, 0)
        row.setSpacing(2)
        row.addWidget(QLabel(dock.windowTitle(), self))
        row.addStretch(1)
        self.apart = self._button("apart", "Set apart from the window, or put back")
        self.apart.clicked.connect(self._set_apart)
        self.closing = self._button("close", "Close the 3-D view")
        row.addWidget(self.apart)
        row.addWidget(self.closing)

    def _set_apart(self) -> None:
        self._dock.setFloating(not self._dock.isFloating())

    def _button(self, icon: str, tip: str) -> QPushButton:
        button = QPushButton(self)
        button.setIcon(QIcon(str(resource_path("icons", f"{icon}.svg"))))
        button.setIconSize(QSize(_ICON_PX, _ICON_PX))
        button.setFlat(True)
        button.setToolTip(tip)
        button.setAccessibleName(tip)
        return button
