"""Quantities: what to buy, each number with how it was counted."""

from __future__ import annotations

from PySide6.QtCore import Qt

from workbench.bench.how import HowButton
from workbench.bench.panel import Panel, note
from workbench.bench.previews import is_fresh
from workbench.bench.table import Cells, Table
from workbench.measure import Units
from workbench.quantities.model import Group, Quantity

GROUP_WORDS: dict[Group, str] = {
    "framing": "Framing",
    "sheathing": "Sheathing",
    "fastening": "Fastening",
    "drying_in": "Drying in",
    "roofing": "Roofing",
}


_ABOUT = "Counted as laid and as cut. Nothing is added for waste or mistakes."
_BEFORE = "As before the drag: counted anew as soon as the hand rests."


class QuantitiesPanel(Panel):
    """The order list as a table; the row in hand tells its formula."""

    title = "Quantities"

    def build(self) -> None:
        """Table, then how the marked row was counted."""
        self.about = note(_ABOUT)
        self.pinned.addWidget(self.about)
        self.table = Table(
            "What to buy", ("What, and how it was counted", "How many"), numeric=(1,), wrap=True, parent=self
        )
        self.table.chosen.connect(self._chosen)
        self.add(self.table)
        self.how = HowButton("this quantity", self)
        self.add_heading("How this row was counted", self.how)
        self.formula = self.add_note()
        self.formula.setTextInteractionFlags(Qt.TextInteractionFlag.TextSelectableByMouse)
        self.source = self.add_note()

    def refresh(self) -> None:
        """Show the plan's quantities; while something is dragged, say that they are still those before."""
        fresh = is_fresh(self.plan, "all")
        self.about.setText(_ABOUT if fresh else _BEFORE)
        self.table.setEnabled(fresh)
        if not fresh:
            return
        self.table.set_rows(quantity_rows(self.plan.quantities, self.plan.units))
        self._chosen(self.table.key)

    def _chosen(self, code: str) -> None:
        line = next((line for line in self.plan.quantities if line.code == code), None)
        if line is None:
            self.formula.setText("Mark a row to see its formula and source.")
            self.source.clear()
            self.how.set_traces(())
            return
        self.formula.setText(line.trace.formula)
        self.source.setText(f"Source: {line.trace.source}")
        self.how.set_traces((line.trace,))


def quantity_rows(quantities: tuple[Quantity, ...], units: Units) -> list[Cells]:
    """Rows of the table under their headings, in the order of work."""
    rows: list[Cells] = []
    for group, words in GROUP_WORDS.items():
        lines = [line for line in quantities if line.group == group]
        if lines:
            rows.append(Cells((words, ""), heading=True))
        rows += [Cells((f"{line.name}\n{line.trace.values}", amount_words(line, units)), line.code) for line in lines]
    return rows


def amount_words(line: Quantity, units: Units) -> str:
    """The amount with its unit, as it is ordered."""
    match line.unit:
        case "ft":
            return f"{line.amount * 0.3048:,.1f} m" if units.system == "mm" else f"{line.amount:,.0f} ft"
        case "squares":
            return f"{line.amount:,.2f} squares"
        case "money":
            return f"{line.amount:,.2f}"
        case unit:
            return f"{line.amount:,.0f} {unit}"
