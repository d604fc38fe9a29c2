"""Plan: the drawing tools as verbs, the wings, and what the selected wing and edge are."""

from __future__ import annotations

from PySide6.QtCore import Qt, Signal
from PySide6.QtGui import QShowEvent
from PySide6.QtWidgets import (
    QButtonGroup,
    QCheckBox,
    QGridLayout,
    QHBoxLayout,
    QListWidget,
    QListWidgetItem,
    QPushButton,
)

from workbench.bench.panel import Panel
from workbench.bench.stages.plan_forms import CornerForm, EdgeForm, WingForm
from workbench.bench.stages.stock import StockForm
from workbench.bench.surface.tools import VERBS
from workbench.bench.surface.tools.base import wing_of
from workbench.bench.surface.view import Surface
from workbench.job.edits import remove_wing
from workbench.job.model import Wing

_MOST_ROWS = 6


class PlanPanel(Panel):
    """The right side of the plan stage.

    Signals:
        tool_asked: ``(name)`` the tool to start on the surface.
    """

    title = "Plan"
    tool_asked = Signal(str)

    def build(self) -> None:
        """Tools first, then wings, the selected wing, its selected edge or corner, its rafters."""
        self._filling = False
        self._surface: Surface | None = None
        self._build_tools()
        self._build_wings()
        self.wing_heading = self.add_heading("Wing")
        self.wing_form = WingForm(self.document, self)
        self.add(self.wing_form)
        self.edge_heading = self.add_heading("Edge")
        self.edge_form = EdgeForm(self.document, self.selection, self)
        self.add(self.edge_form)
        self.corner_heading = self.add_heading("Corner")
        self.corner_form = CornerForm(self.document, self.selection, self)
        self.add(self.corner_form)
        self.stock_heading = self.add_heading("Rafters and ridge board")
        self.stock = StockForm(self.document, self.selection, self)
        self.add(self.stock)

    def refresh(self) -> None:
        """Show the wings, and the one the selection is on."""
        job = self.plan.job
        wing = self.wing
        self._fill_wings()
        for widget in (self.wing_heading, self.wing_form, self.edge_heading, self.edge_form, self.stock):
            widget.setVisible(wing is not None)
        self.stock_heading.setVisible(wing is not None)
        self.wings.setVisible(bool(job.wings))
        self.none.setVisible(not job.wings)
        self.remove.setVisible(bool(job.wings))
        corner = wing is not None and self.selection.kind == "corner"
        self.corner_heading.setVisible(corner)
        self.corner_form.setVisible(corner)
        if wing is None:
            return
        self.wing_heading.setText(f"Wing: {wing.name}")
        self.wing_form.show_wing(wing)
        self.edge_form.show_wing(wing)
        if corner:
            self.corner_form.show_wing(wing)
        self.stock.refresh()

    @property
    def wing(self) -> Wing | None:
        """The wing the selection is on; the first while nothing of the plan is selected."""
        wings = self.plan.job.wings
        plane = self.plane
        of_plane = next((wing for wing in wings if plane is not None and wing.id == plane.wing), None)
        return wing_of(self.plan.job, self.selection.key) or of_plane or (wings[0] if wings else None)

    def showEvent(self, event: QShowEvent) -> None:
        """The tools are the surface's: find it once, in the window both stand in."""
        super().showEvent(event)
        surface = self.window().findChild(Surface)
        if self._surface is None and surface is not None:
            self._surface = surface
            self.tool_asked.connect(surface.start_tool)
            surface.tool_changed.connect(self.show_tool)
            self.grid.toggled.connect(surface.set_grid_catches)
            self.grid.setChecked(surface.grid_catches)
            self.show_tool(surface.tool_name)

    def show_tool(self, name: str) -> None:
        """Let the button of the tool in use be down."""
        for verb, button in zip(VERBS, self.buttons, strict=True):
            button.setChecked(verb.name == name)

    def _build_tools(self) -> None:
        grid = QGridLayout()
        grid.setSpacing(6)
        self._group = QButtonGroup(self)
        self.buttons: list[QPushButton] = []
        for number, verb in enumerate(VERBS):
            button = QPushButton(verb.words, self)
            button.setCheckable(True)
            button.setToolTip(verb.tip)
            button.setStatusTip(verb.tip)
            button.setAccessibleDescription(verb.tip)
            button.clicked.connect(lambda _=False, name=verb.name: self.tool_asked.emit(name))
            self._group.addButton(button)
            grid.addWidget(button, number // 2, number % 2)
            self.buttons.append(button)
        self.buttons[0].setChecked(True)
        self.add(grid)
        self.grid = QCheckBox("Catch the pointer on the grid", self)
        self.grid.setToolTip("Corners, middles, edges and right angles catch it in any case; Ctrl lets it go free")
        self.grid.setChecked(True)
        self.add(self.grid)

    def _build_wings(self) -> None:
        self.add_heading("Wings")
        self.none = self.add_note("None yet. Draw an outline, a rectangle or a single plane.")
        self.wings = QListWidget(self)
        self.wings.setAccessibleName("Wings")
        self.wings.setUniformItemSizes(True)
        self.wings.setStyleSheet("QListView::item { padding: 5px 4px; }")
        self.wings.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.wings.currentItemChanged.connect(self._chosen)
        self.add(self.wings)
        row = QHBoxLayout()
        self.remove = QPushButton("Remove wing", self)
        self.remove.clicked.connect(self._remove)
        row.addStretch(1)
        row.addWidget(self.remove)
        self.add(row)

    def _fill_wings(self) -> None:
        """The list again, without telling the selection."""
        self._filling = True
        rows = [(wing.id, self._wing_row(wing)) for wing in self.plan.job.wings]
        if len(rows) != self.wings.count():
            self.wings.clear()
            self.wings.addItems([text for _, text in rows])
        here = self.wing
        for number, (wing_id, text) in enumerate(rows):
            item = self.wings.item(number)
            item.setText(text)
            item.setData(Qt.ItemDataRole.UserRole, wing_id)
            if here is not None and here.id == wing_id:
                self.wings.setCurrentRow(number)
        row_px = self.wings.sizeHintForRow(0) if rows else 0
        self.wings.setFixedHeight(row_px * min(len(rows), _MOST_ROWS) + 2 * self.wings.frameWidth() + 2)
        self._filling = False

    def _wing_row(self, wing: Wing) -> str:
        planes = [plane for plane in self.plan.roof.planes if plane.wing == wing.id]
        if not planes:
            return f"{wing.name}: not solved, see the findings"
        slopes = list(dict.fromkeys(self.plan.units.slope(plane.tangent) for plane in planes))
        count = "1 plane" if len(planes) == 1 else f"{len(planes)} planes"
        return f"{wing.name}: {count}, {' and '.join(slopes)}"

    def _chosen(self, item: QListWidgetItem | None) -> None:
        if item is not None and not self._filling:
            self.selection.select(f"wing:{item.data(Qt.ItemDataRole.UserRole)}")

    def _remove(self) -> None:
        wing = self.wing
        if wing is not None:
            self.document.apply(remove_wing(self.document.job, wing.id), f"Remove {wing.name}")
            self.selection.select("")
