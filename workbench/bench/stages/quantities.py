"""Quantities: what to buy and what it costs, each number with how it was found; what is left over, alternatives."""

from __future__ import annotations

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QHBoxLayout, QLabel

from workbench.bench.how import HowButton
from workbench.bench.panel import Panel, note
from workbench.bench.previews import is_fresh
from workbench.bench.stages.boards import BoardsPart
from workbench.bench.stages.costs.alternatives_form import AlternativesForm
from workbench.bench.stages.costs.hours_form import HoursForm
from workbench.bench.stages.costs.input_sweep import InputSweep
from workbench.bench.stages.costs.prices_form import PricesForm, sum_words
from workbench.bench.table import Cells, Table
from workbench.measure import Units
from workbench.quantities.costing import Costing, cost, cost_trace
from workbench.quantities.model import Group, Quantity
from workbench.quantities.waste import Waste, waste_as_built, waste_words

GROUP_WORDS: dict[Group, str] = {
    "framing": "Framing",
    "sheathing": "Sheathing",
    "fastening": "Fastening",
    "drying_in": "Drying in",
    "roofing": "Roofing",
    "safety": "Fall protection",
}


_ABOUT = "Counted as laid and as cut. Nothing is added for waste or mistakes."
_BEFORE = "As before the drag: counted anew as soon as the hand rests."


class QuantitiesPanel(Panel):
    """The order list as a table with sums; the row in hand tells its formula and takes its price."""

    title = "Quantities"

    def build(self) -> None:
        """Table, how the marked row was counted, prices, what is left over, alternatives."""
        self.about = note(_ABOUT)
        self.pinned.addWidget(self.about)
        self.table = Table("What to buy", ("What", "How many", "Sum"), numeric=(1, 2), wrap=True, parent=self)
        self.table.chosen.connect(self._chosen)
        self.add(self.table)
        self.how = HowButton("this quantity", self)
        self.add_heading("How this row was counted", self.how)
        self.formula = self.add_note()
        self.formula.setTextInteractionFlags(Qt.TextInteractionFlag.TextSelectableByMouse)
        self.source = self.add_note()
        self.boards = BoardsPart(self.document, self)
        self.add(self.boards)
        self.add_heading("Prices")
        self.prices = PricesForm(self.document, self)
        self.add(self.prices)
        self.waste_heading = self.add_heading("Bought and built")
        self.waste = tuple(self._waste_line(name) for name in ("sheets", "lumber"))
        self.add_heading("Hours")
        self.hours = HoursForm(self.document, self)
        self.add(self.hours)
        self.add_heading("What another value would make it")
        self.sweep = InputSweep(self.document, self)
        self.add(self.sweep)
        self.add_heading("Alternatives")
        self.alternatives = AlternativesForm(self.document, self)
        self.add(self.alternatives)

    def refresh(self) -> None:
        """Show the plan's quantities; while something is dragged, say that they are still those before."""
        fresh = is_fresh(self.plan, "all")
        self.about.setText(_ABOUT if fresh else _BEFORE)
        self.table.setEnabled(fresh)
        if not fresh:
            return
        plan = self.plan
        self._costing = cost(plan.quantities, plan.job.costs)
        self.table.set_rows(quantity_rows(plan.quantities, plan.units, self._costing))
        self._chosen(self.table.key)
        self.boards.refresh(plan)
        self._show_waste(
            waste_as_built(plan.quantities, plan.framing, plan.sheathing, plan.job.sheathing, plan.units, plan.cut)
        )
        self.hours.show_plan(plan)
        self.sweep.refresh()
        if not self.document.previewing:
            self.alternatives.refresh(plan.job)

    def stop(self) -> None:
        """Let nothing run on; call it before the page goes."""
        self.alternatives.stop()
        self.sweep.stop()

    def _waste_line(self, name: str) -> tuple[QLabel, HowButton]:
        words, how = note("", self), HowButton(f"what is left over of {name}", self)
        words.setProperty("quiet", False)
        row = QHBoxLayout()
        row.setContentsMargins(0, 0, 0, 0)
        row.addWidget(words, 1)
        row.addWidget(how)
        self.add(row)
        return words, how

    def _show_waste(self, found: tuple[Waste, ...]) -> None:
        self.waste_heading.setVisible(bool(found))
        for i, (words, how) in enumerate(self.waste):
            words.setVisible(i < len(found))
            how.setVisible(i < len(found))
            if i < len(found):
                words.setText(waste_words(found[i], self.plan.units))
                how.set_traces((found[i].trace,))

    def _chosen(self, code: str) -> None:
        self.prices.show_plan(self.plan, self._costing, code)
        line = next((line for line in self.plan.quantities if line.code == code), None)
        if line is None:
            self.formula.setText("Mark a row to see its formula and source.")
            self.source.clear()
            self.how.set_traces(())
            return
        self.formula.setText(line.trace.formula)
        self.source.setText(f"Source: {line.trace.source}")
        priced = self._costing.of(code)
        summed = None if priced is None else cost_trace(priced)
        self.how.set_traces((line.trace,) if summed is None else (line.trace, summed))


def quantity_rows(quantities: tuple[Quantity, ...], units: Units, costing: Costing) -> list[Cells]:
    """Rows of the table under their headings, in the order of work."""
    rows: list[Cells] = []
    for group, words in GROUP_WORDS.items():
        lines = [line for line in quantities if line.group == group]
        if lines:
            rows.append(Cells((words, "", ""), heading=True))
        rows += [
            Cells(
                (f"{line.name}\n{line.trace.values}", amount_words(line, units), sum_words(costing.of(line.code))),
                line.code,
            )
            for line in lines
        ]
    return rows


def amount_words(line: Quantity, units: Units) -> str:
    """The amount with its unit, as it is ordered."""
    match line.unit:
        case "ft":
            return f"{line.amount * 0.3048:,.1f} m" if units.system == "mm" else f"{line.amount:,.0f} ft"
        case "squares":
            return f"{line.amount:,.2f} squares"
        case "money":
            return ""  # it stands in the column of sums
        case unit:
            return f"{line.amount:,.0f} {unit.removesuffix('s') if round(line.amount) == 1 else unit}"
