"""Plan: the drawing tools as verbs, the wings, and what the selected wing and edge are."""

from __future__ import annotations

from PySide6.QtCore import Signal
from PySide6.QtGui import QShowEvent
from PySide6.QtWidgets import (
    QButtonGroup,
    QCheckBox,
    QGridLayout,
    QHBoxLayout,
    QPushButton,
)

from workbench.bench.panel import Panel
from workbench.bench.stages.edge_form import EdgeForm
from workbench.bench.stages.key_list import KeyList
from workbench.bench.stages.opening_form import OpeningForm
from workbench.bench.stages.plan_forms import CornerForm, WingForm
from workbench.bench.stages.plane_forms import LineForm, SingleForm
from workbench.bench.stages.stock import StockForm
from workbench.bench.surface.menu import all_eaves
from workbench.bench.surface.tools import VERBS
from workbench.bench.surface.tools.base import opening_of, wing_of
from workbench.bench.surface.view import Surface
from workbench.bench.underlay.form import UnderlayForm
from workbench.job.edits import remove_wing
from workbench.job.model import Opening, Wing


class PlanPanel(Panel):
    """The right side of the plan stage.

    Signals:
        tool_asked: ``(name)`` the tool to start on the surface.
    """

    title = "Plan"
    tool_asked = Signal(str)

    def build(self) -> None:
        """Tools first, then wings and openings, then what is selected: a wing, its edge or corner, or an opening."""
        self._surface: Surface | None = None
        self._build_tools()
        self._build_lists()
        self.opening_heading = self.add_heading("Opening")
        self.opening_form = OpeningForm(self.document, self.selection, self)
        self.add(self.opening_form)
        self.wing_heading = self.add_heading("Wing")
        self.wing_form = WingForm(self.document, self)
        self.add(self.wing_form)
        self.single_form = SingleForm(self.document, self)
        self.add(self.single_form)
        self.line_heading = self.add_heading("Line on the plane")
        self.line_form = LineForm(self.document, self.selection, self)
        self.add(self.line_form)
        self.all_eaves = QPushButton("All eaves", self)
        self.all_eaves.setFlat(True)
        self.all_eaves.setToolTip("Make every edge of this wing an eave: a hip roof")
        self.all_eaves.clicked.connect(self._all_eaves)
        self.edge_heading = self.add_heading("Edge", self.all_eaves)
        self.edge_form = EdgeForm(self.document, self.selection, self)
        self.add(self.edge_form)
        self.corner_heading = self.add_heading("Corner")
        self.corner_form = CornerForm(self.document, self.selection, self)
        self.add(self.corner_form)
        self.stock_heading = self.add_heading("Rafters, ridge, hips")
        self.stock = StockForm(self.document, self.selection, self)
        self.add(self.stock)
        self.add_heading("Plan page below")
        self.underlay = UnderlayForm(self.document, self)
        self.underlay.tool_asked.connect(self.tool_asked)
        self.add(self.underlay)

    def refresh(self) -> None:
        """Show the wings and openings, and the one the selection is on."""
        job = self.plan.job
        wing, opening = self.wing, opening_of(job, self.selection.key)
        self._fill_lists()
        self.underlay.again()
        corner = opening is None and wing is not None and self.selection.kind == "corner"
        of_wing = (self.wing_heading, self.wing_form, self.edge_heading, self.all_eaves, self.edge_form)
        for widget in (*of_wing, self.stock_heading, self.stock):
            widget.setVisible(wing is not None and opening is None)
        for widget, shown in (
            (self.wings, bool(job.wings)),
            (self.none, not job.wings),
            (self.remove, bool(job.wings)),
            (self.openings_heading, bool(job.openings)),
            (self.openings, bool(job.openings)),
            (self.opening_heading, opening is not None),
            (self.opening_form, opening is not None),
            (self.single_form, wing is not None and opening is None and wing.single is not None),
            (self.line_heading, wing is not None and self.line_form.split_of(wing) is not None),
            (self.line_form, wing is not None and self.line_form.split_of(wing) is not None),
            (self.corner_heading, corner),
            (self.corner_form, corner),
        ):
            widget.setVisible(shown)
        if wing is None:
            return
        if opening is not None:
            self.opening_heading.setText(f"Opening: {opening.kind}")
            self.opening_form.show_wing(wing)
            return
        self.wing_heading.setText(f"Wing: {wing.name}")
        self.wing_form.show_wing(wing)
        self.single_form.show_wing(wing)
        self.line_form.show_wing(wing)
        self.all_eaves.setEnabled(any(edge.kind != "eave" for edge in wing.edges))
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
        self.underlay.show_tool(name)

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

    def _build_lists(self) -> None:
        self.add_heading("Wings")
        self.none = self.add_note("None yet. Draw an outline, a rectangle or a single plane.")
        self.wings = KeyList("Wings", self)
        self.wings.chosen.connect(self.selection.select)
        self.add(self.wings)
        row = QHBoxLayout()
        self.remove = QPushButton("Remove wing", self)
        self.remove.clicked.connect(self._remove)
        row.addStretch(1)
        row.addWidget(self.remove)
        self.add(row)
        self.openings_heading = self.add_heading("Openings")
        self.openings = KeyList("Openings", self)
        self.openings.chosen.connect(self.selection.select)
        self.add(self.openings)

    def _fill_lists(self) -> None:
        job, here = self.plan.job, self.wing
        rows = [(f"wing:{wing.id}", self._wing_row(wing)) for wing in job.wings]
        self.wings.show_rows(rows, "" if here is None else f"wing:{here.id}")
        rows = [(f"opening:{opening.id}", self._opening_row(opening)) for opening in job.openings]
        self.openings.show_rows(rows, self.selection.key)

    def _opening_row(self, opening: Opening) -> str:
        plane = next((plane for plane in self.plan.roof.planes if plane.whole == opening.plane), None)
        where = "no plane now" if plane is None else plane.name
        width, length = (self.plan.units.length(value) for value in (opening.width_in, opening.length_in))
        return f"{opening.kind}: {where}, {width} × {length}"

    def _wing_row(self, wing: Wing) -> str:
        planes = [plane for plane in self.plan.roof.planes if plane.wing == wing.id]
        if not planes:
            return f"{wing.name}: not solved, see the findings"
        slopes = list(dict.fromkeys(self.plan.units.slope(plane.tangent) for plane in planes))
        count = "1 plane" if len(planes) == 1 else f"{len(planes)} planes"
        return f"{wing.name}: {count}, {' and '.join(slopes)}"

    def _all_eaves(self) -> None:
        wing = self.wing
        if wing is not None:
            all_eaves(self.document, wing.id)

    def _remove(self) -> None:
        wing = self.wing
        if wing is not None:
            self.document.apply(remove_wing(self.document.job, wing.id), f"Remove {wing.name}")
            self.selection.select("")
