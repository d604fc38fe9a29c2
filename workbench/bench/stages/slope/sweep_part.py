"""The sweep on the Slope page: what to plot, the plot, and the work behind it."""

from __future__ import annotations

from PySide6.QtWidgets import QHBoxLayout, QLabel, QVBoxLayout, QWidget

from workbench.bench.document import Document
from workbench.bench.fields import ChoiceField
from workbench.bench.how import HowButton
from workbench.bench.panel import note
from workbench.bench.stages.slope.curve import Curve
from workbench.bench.stages.slope.plot import Format, SweepPlot
from workbench.bench.stages.slope.said import sweep_traces
from workbench.bench.strip.measures import Cut
from workbench.compare import feet
from workbench.errors import BadInput
from workbench.job.model import Job
from workbench.measure import Units
from workbench.quantities.hours import clock_words
from workbench.sweep import STEPPED, SweepPoint, SweepQuantity, at_slope, sweep, usual_slopes

QUANTITY_WORDS: dict[SweepQuantity, str] = {
    "area": "roof area",
    "rafter_length": "rafter length",
    "ridge_height": "height of the ridge",
    "price": "price of roofing",
    "sheets": "sheets to buy",
    "lumber": "lumber to buy",
    "hours": "hours of work",
}
_WAIT_MS = 120


class SweepPart(QWidget):
    """A quantity against the slope; the curve is reckoned off to the side, the last one stays meanwhile."""

    def __init__(self, document: Document, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._document = document
        self._cut: Cut | None = None
        self._shown_for: tuple[object, ...] = ()
        self.quantity = ChoiceField(list(QUANTITY_WORDS.items()), "area", "Quantity against the slope")
        self.plot = SweepPlot(self)
        self.plot.setAccessibleName("Slope against the chosen quantity")
        self.value = QLabel(self)
        self.value.setWordWrap(True)
        self.how = HowButton("this figure", self)
        self.about = note("Drag the line, or move it with the left and right keys.", self)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(6)
        line = QHBoxLayout()
        line.setContentsMargins(0, 0, 0, 0)
        line.addWidget(self.value, 1)
        line.addWidget(self.how)
        column.addWidget(self.quantity)
        column.addLayout(line)
        column.addWidget(self.plot)
        column.addWidget(self.about)
        self._curve = Curve(_WAIT_MS, self)
        self._curve.due.connect(self._reckon)
        self._curve.reckoned.connect(self._reckoned)
        self.quantity.committed.connect(self._again)
        self.plot.previewed.connect(self._preview)
        self.plot.chosen.connect(self._choose)
        self.plot.cancelled.connect(document.cancel_preview)

    def show_cut(self, cut: Cut | None) -> None:
        """Show another section: line and words at once, the curve as soon as it is reckoned."""
        self._cut = cut
        self.setVisible(cut is not None)
        if cut is None:
            self._curve.give_up()
            return
        self.plot.show_slope(cut.section.answer.in_12)
        self.plot.show_limits(
            [(b.from_in_12, f"price bracket from {b.from_in_12:g}") for b in cut.job.brackets if b.from_in_12 > 0]
        )
        found = cut.unknown == "slope"
        follows = "the slope is then given and the landing follows" if found else "what is to find follows"
        self.about.setText(f"Drag the line, or move it with the left and right keys; {follows}.")
        self._show_value()
        if self._wanted() != self._shown_for:
            self._curve.ask()

    def stop(self) -> None:
        """Let nothing run on; call it before the page goes."""
        self._curve.stop()

    def _wanted(self) -> tuple[object, ...]:
        """What the curve depends on."""
        cut = self._cut
        return () if cut is None else (cut.job, cut.plane.id, self.quantity.value, cut.section.answer.in_12)

    def _again(self) -> None:
        self._curve.ask(at_once=True)

    def _reckon(self) -> None:
        cut, quantity = self._cut, self._quantity()
        if cut is None:
            return
        self._shown_for = self._wanted()
        slopes = usual_slopes(cut.job, cut.section.answer.in_12)
        job, plane = cut.job, cut.plane
        self._curve.reckon(slopes, lambda in_12: sweep(job, plane.wing, (in_12,), quantity, edge_id=plane.drawn))

    def _reckoned(self, points: tuple[SweepPoint, ...]) -> None:
        quantity = self._quantity()
        write = value_format(quantity, self._document.plan.units)
        self.plot.show_points(points, write, steps=quantity in STEPPED)
        self._show_value()

    def _quantity(self) -> SweepQuantity:
        return next(name for name in QUANTITY_WORDS if name == self.quantity.value)

    def _show_value(self) -> None:
        cut, units = self._cut, self._document.plan.units
        if cut is None:
            return
        quantity = self._quantity()
        value = self.plot.value_at(cut.section.answer.in_12)
        words = QUANTITY_WORDS[quantity]
        self.how.set_traces(() if value is None else sweep_traces(self._document.plan, cut, quantity))
        if value is not None:
            shown = value_format(quantity, units)(value)
            self.value.setText(f"{words[:1].upper()}{words[1:]} at {units.slope(cut.section.answer.tangent)}: {shown}")
        elif quantity == "price":
            self.value.setText("No price is known here; type one in the price brackets.")
        else:
            self.value.setText("")

    def _turned(self, in_12: float) -> Job | None:
        cut = self._cut
        if cut is None:
            return None
        try:
            return at_slope(self._document.job, cut.plane.wing, in_12, edge_id=cut.plane.drawn)
        except BadInput as error:
            self._document.refuse(error)
            return None

    def _preview(self, in_12: float) -> None:
        job = self._turned(in_12)
        if job is not None:
            self._document.preview(job)

    def _choose(self, in_12: float) -> None:
        job = self._turned(in_12)
        if job is not None:
            self._document.apply(job, "Change slope")


def value_format(quantity: SweepQuantity, units: Units) -> Format:
    """How a quantity's values are written."""
    match quantity:
        case "area":
            return units.area
        case "rafter_length" | "ridge_height":
            return units.length
        case "price":
            return "{:,.0f}".format
        case "sheets":
            return "{:,.0f}".format
        case "lumber":
            return lambda value: feet(value, units)
        case "hours":
            return clock_words
