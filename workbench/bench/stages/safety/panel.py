"""Safety: the caution, always in sight, and what this program works out about falls. Screening, never a plan."""

from __future__ import annotations

from PySide6.QtCore import Signal
from PySide6.QtGui import QShowEvent
from PySide6.QtWidgets import QButtonGroup, QCheckBox, QHBoxLayout, QPushButton

from workbench.bench.how import HowButton
from workbench.bench.panel import Panel, note
from workbench.bench.stages.safety.anchor_form import AnchorForm, EdgeForm
from workbench.bench.stages.safety.forms import AllowanceForm, LoadForm, WorkForm
from workbench.bench.stages.safety.rows import (
    anchor_rows,
    fall_key,
    fall_rows,
    height_rows,
    ladder_rows,
    limit_rows,
)
from workbench.bench.surface.tools import SAFETY_VERBS
from workbench.bench.surface.view import Surface
from workbench.bench.table import Table
from workbench.drawing.roof_plan import planes_alone
from workbench.errors import BadInput
from workbench.job.safety_edits import remove_anchor, set_safety
from workbench.safety.cautions import ARREST_GRADE, GEOMETRY_ONLY, ROPE_RULES, SITE_RULES, SITE_SOURCE
from workbench.safety.model import Fall
from workbench.safety.propose import set_fewest
from workbench.safety.words import (
    anchor_words,
    exposure_words,
    fewest_words,
    halves_words,
    heat_words,
    load_words,
    rope_serves_words,
    rule_lines,
    served_words,
    water_words,
)

CAUTION = (
    "Anyone on this roof can fall off it. This page screens; it is no safety plan, and its rope limits are geometry "
    "only. Anchors, connectors, rescue and the choice between restraint and arrest belong to a competent person and "
    "the rule in force. Nobody goes up on the strength of these figures."
)


class SafetyPanel(Panel):
    """Falls, anchors and ropes under a caution that never scrolls away.

    Signals:
        tool_asked: ``(name)`` the tool to start on the surface.
    """

    title = "Safety"
    tool_asked = Signal(str)

    def build(self) -> None:
        """Caution pinned above; anchors first, then falls, the selected edge, what is served, loads, rules."""
        self._surface: Surface | None = None
        self.caution = note(f"⚠ {CAUTION}", self)
        self.caution.setProperty("quiet", False)
        self.caution.setProperty("warning", True)
        self.pinned.addWidget(self.caution)
        self._build_tools()
        self._build_anchors()
        self._build_falls()
        self.add_heading("What the ropes serve")
        self.served = self.add_note()
        self.halves = self.add_note()
        self.add_heading("Rules and work")
        self.work = WorkForm(self.document, self)
        self.add(self.work)
        self.add_heading("Taken off every distance")
        self.allowances = AllowanceForm(self.document, self)
        self.add(self.allowances)
        self.add_note("The values it starts with are common practice, no source. Measure your own gear.")
        self._build_heights()
        self._build_loads()
        self.add_heading("The rule set says")
        self.rules = self.add_note()
        self.add_heading("Always")
        for text in (GEOMETRY_ONLY, ARREST_GRADE, *ROPE_RULES, *SITE_RULES):
            self.add_note(f"• {text}")
        self.add_note(f"Source, where none is named: {SITE_SOURCE}.")

    def refresh(self) -> None:
        """Show the plan's safety stage and what is selected."""
        plan, plane = self.plan, self.plane
        safety, units, settings = plan.safety, plan.units, plan.job.safety
        self._show_anchor()
        self.falls.set_rows(fall_rows(plan))
        self.falls.select_key(self.selection.key)
        self._show_edge()
        self.served.setText(served_words(safety, plane, units))
        self.halves.setText(halves_words(safety, settings.people, plane, units))
        for form in (self.work, self.allowances, self.loads):
            form.show_settings(settings)
        self.heights.set_rows(height_rows(plan))
        self.heights.select_key(f"plane:{plane.id}" if plane is not None else "")
        self.ladders.set_rows(ladder_rows(plan))
        self.how_ladders.set_traces([ladder.trace for ladder in safety.ladders[:3]])
        self.load.setText(load_words(safety, plan.job, units))
        self.heat.setText(f"{heat_words(safety, units)} {water_words(units)}")
        traces = safety.carrying.traces if safety.carrying is not None else ()
        self.how_loads.set_traces((*traces, *(safety.heat.traces if safety.heat is not None else ())))
        self.rules.setText("\n".join(f"• {line}" for line in rule_lines(safety, units)))

    def showEvent(self, event: QShowEvent) -> None:
        """The tools are the surface's: find it once, in the window both stand in."""
        super().showEvent(event)
        surface = self.window().findChild(Surface)
        if self._surface is None and surface is not None:
            self._surface = surface
            self.tool_asked.connect(surface.start_tool)
            surface.tool_changed.connect(self.show_tool)
            self.show_tool(surface.tool_name)

    def show_tool(self, name: str) -> None:
        """Let the button of the tool in use be down."""
        for verb, button in zip(SAFETY_VERBS, self.buttons, strict=True):
            button.setChecked(verb.name == name)

    # Building

    def _build_tools(self) -> None:
        row = QHBoxLayout()
        row.setSpacing(6)
        self._group = QButtonGroup(self)
        self.buttons: list[QPushButton] = []
        for verb in SAFETY_VERBS:
            button = QPushButton(verb.words, self)
            button.setCheckable(True)
            button.setToolTip(verb.tip)
            button.setAccessibleDescription(verb.tip)
            button.clicked.connect(lambda _=False, name=verb.name: self.tool_asked.emit(name))
            self._group.addButton(button)
            row.addWidget(button)
            self.buttons.append(button)
        self.fewest = QPushButton("Fewest anchors", self)
        self.fewest.setToolTip("Set the fewest anchors that serve all that can be served of the selected plane")
        self.fewest.clicked.connect(self._set_fewest)
        row.addWidget(self.fewest)
        self.add(row)
        self.proposal = self.add_note()
        self.proposal.hide()

    def _build_anchors(self) -> None:
        self.add_heading("Anchors")
        self.anchors = Table("Anchors", ("Anchor", "Rope", "Limited by"), numeric=(1,), stretch=2, parent=self)
        self.anchors.chosen.connect(self.selection.select)
        self.add(self.anchors)
        self.none = self.add_note("None yet. Set one on the drawing, or let the fewest be set on the selected plane.")
        self.how = HowButton("this rope", self)
        self.anchor_heading = self.add_heading("Anchor", self.how)
        self.rope = self.add_note()
        self.exposed = self.add_note()
        self.exposed.setProperty("quiet", False)
        self.exposed.setProperty("warning", True)
        self.limits = Table("Rope limits", ("Open edge", "Distance", "Rope at most"), numeric=(1, 2), parent=self)
        self.add(self.limits)
        self.anchor_form = AnchorForm(self.document, self.selection, self)
        self.add(self.anchor_form)
        row = QHBoxLayout()
        self.remove = QPushButton("Remove anchor", self)
        self.remove.clicked.connect(self._remove)
        row.addStretch(1)
        row.addWidget(self.remove)
        self.add(row)

    def _build_falls(self) -> None:
        self.add_heading("Falls")
        self.falls = Table("Falls", ("Edge", "Drop up to", "Protection"), numeric=(1,), wrap=True, parent=self)
        self.falls.chosen.connect(self.selection.select)
        self.add(self.falls)
        self.ground = self.add_note(
            "Drops are measured from the tops of the rafters to the ground line below the edge; over openings and bare "
            "rafters to the floor. Select an edge to give its ground line, and the deck or rail along it."
        )
        self.edge_heading = self.add_heading("Edge")
        self.edge_form = EdgeForm(self.document, self)
        self.add(self.edge_form)
        self.guard_fault = self.add_note()
        self.covered = QCheckBox("The opening is covered or railed in", self)
        self.covered.clicked.connect(self._cover)
        self.add(self.covered)

    def _build_heights(self) -> None:
        self.add_heading("Heights")
        self.heights = Table(
            "Heights of the planes", ("Plane", "Eave edge", "Highest", ""), numeric=(1, 2), parent=self
        )
        self.heights.chosen.connect(self.selection.select)
        self.add(self.heights)
        self.how_ladders = HowButton("a ladder", self)
        self.add_heading("Ladders, to the middle of each eave", self.how_ladders)
        headings = ("Eave", "Height", "Foot out", "Rails")
        self.ladders = Table("Ladders", headings, numeric=(1, 2, 3), wrap=True, parent=self)
        self.ladders.chosen.connect(self.selection.select)
        self.add(self.ladders)

    def _build_loads(self) -> None:
        self.how_loads = HowButton("these loads", self)
        self.add_heading("Loads and heat", self.how_loads)
        self.load = self.add_note()
        self.heat = self.add_note()
        self.loads = LoadForm(self.document, self)
        self.add(self.loads)

    # Showing

    def _show_anchor(self) -> None:
        plan = self.plan
        self.anchors.set_rows(anchor_rows(plan))
        self.anchors.select_key(self.selection.key)
        self.anchors.setVisible(bool(plan.safety.anchors))
        self.none.setVisible(not plan.safety.anchors)
        given = self.anchor_form.anchor
        anchor = plan.safety.anchor(given.id) if given is not None else None
        shown = given is not None and anchor is not None
        for widget in (self.anchor_heading, self.how, self.rope, self.limits, self.anchor_form, self.remove):
            widget.setVisible(shown)
        self.exposed.setVisible(shown and anchor is not None and bool(anchor.exposed))
        if given is None or anchor is None:
            return
        self.anchor_heading.setText(f"Anchor {anchor.name}")
        serves = rope_serves_words(anchor, plan.roof.planes)
        self.rope.setText(f"{anchor_words(anchor, plan.units)} {serves}".strip())
        self.exposed.setText("\n".join(f"⚠ {exposure_words(exposure, plan.units)}" for exposure in anchor.exposed))
        self.limits.set_rows(limit_rows(anchor, plan.units, plan.job.safety.connector_in))
        self.how.set_traces([limit.trace for limit in anchor.limits[:2]])
        self.anchor_form.show_anchor(given)

    def _show_edge(self) -> None:
        self.covered.setVisible(self.selection.kind == "opening")
        self.covered.setChecked(self.selection.id in self.plan.job.safety.covered_openings)
        fall = self._fall()
        for widget in (self.edge_heading, self.edge_form):
            widget.setVisible(fall is not None)
        self.guard_fault.setVisible(fall is not None and bool(fall.why_not))
        if fall is None:
            return
        self.edge_heading.setText(f"Edge: {fall.name}")
        self.edge_form.show_edge(fall.drawn, fall.kind)
        self.guard_fault.setText(f"It does not take the edge away: {fall.why_not}.")

    def _fall(self) -> Fall | None:
        """The fall of the selected drawn edge."""
        if self.selection.kind != "edge":
            return None
        return next((fall for fall in self.plan.safety.falls if fall_key(fall) == self.selection.key), None)

    # Doing

    def _set_fewest(self) -> None:
        plane, plan = self.plane, self.plan
        found = plan.safety.fewest(plane.id) if plane is not None else None
        if plane is None or found is None:
            return
        alone = next((each for each in planes_alone(plan, plane.wing) if each.id == plane.whole), None)
        if found.points and alone is not None:
            try:
                job = set_fewest(self.document.job, found, plane, alone, plan.safety.anchors)
            except BadInput as error:
                self.document.refuse(error)
                return
            self.document.apply(job, f"Set the fewest anchors on {plane.name}")
        self.proposal.setText(fewest_words(plane, found, plan.units))
        self.proposal.show()

    def _cover(self, on: bool) -> None:
        opening = self.selection.id
        others = tuple(known for known in self.document.job.safety.covered_openings if known != opening)
        try:
            job = set_safety(self.document.job, covered_openings=(*others, opening) if on else others)
        except BadInput as error:
            self.document.refuse(error)
            return
        self.document.apply(job, f"{'Cover' if on else 'Uncover'} {opening}")

    def _remove(self) -> None:
        anchor = self.anchor_form.anchor
        if anchor is not None:
            self.document.apply(remove_anchor(self.document.job, anchor.id), f"Remove anchor {anchor.id}")
            self.selection.select("")
