"""Heights and props, layout stick, tails, gable walls and readings, one below the other."""

from __future__ import annotations

from PySide6.QtWidgets import QHBoxLayout, QLabel, QVBoxLayout, QWidget

from workbench.bench.document import Document
from workbench.bench.drawing_view import DrawingView
from workbench.bench.fields import ChoiceField
from workbench.bench.how import HowButton
from workbench.bench.panel import heading, note
from workbench.bench.previews import is_fresh
from workbench.bench.selected import selected_plane
from workbench.bench.selection import Selection
from workbench.bench.stages.site.as_built import AsBuiltForm
from workbench.bench.stages.site.forms import GableForm, SiteForm
from workbench.bench.stages.site.rows import (
    covering_rows,
    height_rows,
    jack_rows,
    seat_rows,
    shift_rows,
    stick_rows,
    tail_rows,
)
from workbench.bench.table import Table
from workbench.drawing.stick_strip import stick_strip, strip_rows
from workbench.drawing.tail_section import tail_section
from workbench.findings import SCREENING
from workbench.measure import Units
from workbench.plan import Plan
from workbench.roof.model import Plane
from workbench.site.model import LayoutStick, MeasuredPlate, Tail

_ROW_PX, _FIGURES_PX = 72, 40
_PROPS = (
    "Heights are of the upper edge over the plate. Lengths are geometry; what props and bracing carry, and when they "
    f"come out, is for a competent person. {SCREENING}"
)


class SitePart(QWidget):
    """Part of a page; the page tells it to refresh."""

    def __init__(self, document: Document, selection: Selection, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.document = document
        self.selection = selection
        self._sticks: tuple[LayoutStick, ...] = ()
        self._stick = 0
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(8)
        self._column = column
        self._build_heights()
        self._build_stick()
        self._build_tail()
        self._add_heading("Gable walls")
        self.gable = GableForm(document, self)
        column.addWidget(self.gable)
        self._build_readings()
        self.heights.chosen.connect(selection.select)
        self.stick.chosen.connect(selection.select)
        self.jacks.chosen.connect(selection.select)
        self.seats.chosen.connect(selection.select)

    def _add_heading(self, text: str, beside: QWidget | None = None) -> QLabel:
        label = heading(text, self)
        label.setContentsMargins(0, 10, 0, 0)
        row = QHBoxLayout()
        row.setContentsMargins(0, 0, 0, 0)
        row.addWidget(label, 1)
        if beside is not None:
            row.addWidget(beside)
        self._column.addLayout(row)
        return label

    def _build_heights(self) -> None:
        self.heights_how = HowButton("the props", self)
        self._add_heading("Heights and props", self.heights_how)
        self.site = SiteForm(self.document, self)
        self.heights = Table("Heights and props", ("Set", "Height, length", "Top cut"), numeric=(1, 2), parent=self)
        self._column.addWidget(self.site)
        self._column.addWidget(self.heights)
        self._column.addWidget(note(_PROPS, self))

    def _build_stick(self) -> None:
        self.stick_how = HowButton("a line of the stick", self)
        self._add_heading("Layout stick", self.stick_how)
        self.which = ChoiceField((), None, "Along", self)
        self.which.committed.connect(self._choose_stick)
        self.strip = DrawingView("The layout stick", _ROW_PX + _FIGURES_PX, self)
        self.begins = note("", self)
        self.stick = Table("Layout stick", ("Line at", "Mark", ""), parent=self, stretch=1)
        self.jacks_note = note(
            "Jacks along hips and valleys: along the top edge from the low end, to their centres", self
        )
        self.jacks = Table("Jacks along hips and valleys", ("At", "Jack"), stretch=1, parent=self)
        for widget in (self.which, self.strip, self.begins, self.stick, self.jacks_note, self.jacks):
            self._column.addWidget(widget)

    def _build_tail(self) -> None:
        self.tail_how = HowButton("the tail", self)
        self.tail_name = self._add_heading("Tail", self.tail_how)
        self.tail_view = DrawingView("Section through the tail", 170, self)
        self.tail = Table("Tail", ("", "Measure", ""), numeric=(2,), stretch=1, parent=self)
        self._column.addWidget(self.tail_view)
        self._column.addWidget(self.tail)
        self.covering_how = HowButton("what the sheathing's thickness does", self)
        self._add_heading("Where the sheathing's thickness enters", self.covering_how)
        self.covering = Table(
            "Sheathing's thickness", ("Where", "Measure", "Bevel"), numeric=(1, 2), wrap=True, parent=self
        )
        self._column.addWidget(self.covering)

    def _build_readings(self) -> None:
        self.seats_how = HowButton("what follows from the readings", self)
        self._add_heading("As built", self.seats_how)
        self._column.addWidget(
            note(
                "Type what was measured, or the difference, such as +1/4; emptied, the drawing holds. Top edges stay "
                "in their planes.",
                self,
            )
        )
        self.as_built = AsBuiltForm(self.document, self)
        self.seats_note = note("", self)
        self.seats = Table(
            "Seats", ("At", "Mark", "HAP", "Seat", "or shim"), numeric=(0, 2, 3, 4), stretch=1, parent=self
        )
        self.shifts_note = note("", self)
        self.shifts = Table("Corners", ("Corner", "To the right", "Up"), numeric=(1, 2), parent=self)
        for widget in (self.as_built, self.seats_note, self.seats, self.shifts_note, self.shifts):
            self._column.addWidget(widget)

    def refresh(self) -> None:
        """Show the plan and the selection; a plan worked out in passing, without site figures, changes no table."""
        plan = self.document.plan
        plane = selected_plane(plan, self.selection)
        wing = next((wing for wing in plan.job.wings if plane is not None and wing.id == plane.wing), None)
        self.site.show_site(plan.job.site)
        self.gable.setVisible(wing is not None)
        self.as_built.setVisible(wing is not None)
        if wing is not None:
            self.gable.show_wing(wing)
            self.as_built.show_wing(wing)
        fresh = is_fresh(plan, "all") and bool(plan.site.sticks or plan.site.tails or not plan.framing.members)
        for table in (self.heights, self.stick, self.jacks, self.covering, self.tail, self.seats, self.shifts):
            table.setEnabled(fresh)
        if not fresh:
            return
        self._show_readings(plan, plane)
        self.heights.set_rows(height_rows(plan.site.heights, plan.units))
        chosen = [one for one in plan.site.heights if self.selection.id in one.mark.split(", ")] or plan.site.heights
        self.heights_how.set_traces([prop.trace for one in chosen[:1] for prop in one.props])
        self.covering.set_rows(covering_rows(plan.site.coverings, plan.units))
        self.covering_how.set_traces([one.trace for one in plan.site.coverings[:4]])
        self._show_sticks(plan, plane)
        self.jacks.set_rows(jack_rows(plan.site.jacks, plan.units))
        for widget in (self.jacks_note, self.jacks):
            widget.setVisible(bool(plan.site.jacks))
        self._show_tail(plan, plane)

    def _show_sticks(self, plan: Plan, plane: Plane | None) -> None:
        self._sticks = plan.site.sticks
        mine = [i for i, stick in enumerate(self._sticks) if plane is not None and plane.id in stick.planes]
        if self._stick not in mine and mine:
            self._stick = mine[0]
        self._stick = min(self._stick, max(len(self._sticks) - 1, 0))
        self.which.set_choices(tuple((i, stick.name) for i, stick in enumerate(self._sticks)))
        self.which.set_value(self._stick)
        shown = self._sticks[self._stick] if self._sticks else None
        for widget in (self.which, self.strip, self.begins, self.stick):
            widget.setVisible(shown is not None)
        self.stick_how.set_traces(() if shown is None else (shown.trace,))
        if shown is not None:
            self._show_stick(shown, plan.units)

    def _choose_stick(self, value: object) -> None:
        if isinstance(value, int):
            self._stick = value
            shown = self._sticks[value]
            self.stick_how.set_traces((shown.trace,))
            self._show_stick(shown, self.document.plan.units)

    def _show_stick(self, stick: LayoutStick, units: Units) -> None:
        self.strip.set_height(_ROW_PX * strip_rows(stick) + _FIGURES_PX)
        self.strip.show_drawing(stick_strip(stick, units))
        self.begins.setText(f"From the {stick.begins}; a cross goes beyond each line.")
        self.stick.set_rows(stick_rows(stick, units))

    def _show_tail(self, plan: Plan, plane: Plane | None) -> None:
        tail = _tail_of(plan, plane)
        for widget in (self.tail_view, self.tail, self.tail_how):
            widget.setVisible(tail is not None)
        if tail is None:
            self.tail_name.setText("Tail")
            return
        self.tail_name.setText(f"Tail at the eave of {tail.name}")
        self.tail_how.set_traces(tail.traces)
        self.tail_view.show_drawing(tail_section(tail))
        self.tail.set_rows(tail_rows(tail, plan.units))

    def _show_readings(self, plan: Plan, plane: Plane | None) -> None:
        plate = _plate_of(plan, plane)
        off = plate is not None and any(abs(seat.off_in) > 1.0 / 64.0 for seat in plate.seats)
        for widget in (self.seats_note, self.seats):
            widget.setVisible(off)
        if plate is not None and off:
            self.seats_note.setText(f"Seats on the plate of {plate.name}, from its left corner:")
            self.seats.set_rows(seat_rows(plate, plan.units))
        wing = "" if plane is None else plane.wing
        squaring = next((one for one in plan.site.squarings if one.wing == wing), None)
        for widget in (self.shifts_note, self.shifts):
            widget.setVisible(squaring is not None and squaring.fits)
        told = () if plate is None or not off else plate.traces
        self.seats_how.set_traces((*told, *(() if squaring is None else (squaring.trace,))))
        if squaring is not None:
            out = squaring.out_of_square_in
            said = "" if out is None else f" The diagonals differ by {plan.units.length(abs(out))} from the drawing."
            self.shifts_note.setText(f"Corners as taped, corner 1 and the first wall held.{said}")
            self.shifts.set_rows(shift_rows(squaring, plan.units))


def _tail_of(plan: Plan, plane: Plane | None) -> Tail | None:
    tails = plan.site.tails
    if plane is not None:
        found = next((tail for tail in tails if tail.edge == f"{plane.wing}/{plane.drawn}"), None)
        if found is not None:
            return found
    return next(iter(tails), None)


def _plate_of(plan: Plan, plane: Plane | None) -> MeasuredPlate | None:
    plates = plan.site.plates
    if plane is not None:
        found = next((plate for plate in plates if plate.edge == f"{plane.wing}/{plane.drawn}"), None)
        if found is not None:
            return found
    return next((plate for plate in plates if plane is None or plate.edge.startswith(f"{plane.wing}/")), None)
