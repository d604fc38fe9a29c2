"""Prices on the Quantities page: the marked line's price, the total, price lists in and out."""

from __future__ import annotations

from functools import partial

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QCheckBox, QHBoxLayout, QPushButton, QWidget

from workbench.bench.document import Document
from workbench.bench.fields import TextField
from workbench.bench.how import HowButton
from workbench.bench.panel import note
from workbench.bench.stages.form_base import Form, OwnNumber
from workbench.errors import BadInput
from workbench.job.costs_edits import set_costs, set_price
from workbench.plan import Plan
from workbench.quantities.costing import Cost, Costing, cost, cost_trace, money


class PricesForm(Form):
    """Price of the line in hand, what all comes to, and the price list as a file.

    Signals:
        read_wanted: The user wants to take over a price list.
        write_wanted: The user wants to write it to a file.
    """

    read_wanted = Signal()
    write_wanted = Signal()

    def __init__(self, document: Document, parent: QWidget | None = None) -> None:
        super().__init__(document, parent)
        self._line: Cost | None = None
        self.price = OwnNumber(None, "Price", least=0.0, decimals=4)
        self.currency = TextField("", "Currency", longest=8)
        self.add(self.price, self.currency)
        self.about = note("", self)
        self.column.addWidget(self.about)
        self.total = note("", self)
        self.total.setProperty("quiet", False)
        self.how = HowButton("the total", self)
        row = QHBoxLayout()
        row.addWidget(self.total, 1)
        row.addWidget(self.how)
        self.column.addLayout(row)
        self.on_paper = QCheckBox("Print prices on the order list", self)
        self.column.addWidget(self.on_paper)
        buttons = QHBoxLayout()
        self.read = QPushButton("Take over a price list…", self)
        self.write = QPushButton("Write the price list…", self)
        self.read.setToolTip("CSV or XLSX with the columns code, name, unit, price")
        self.write.setToolTip("Every line of the order list with its price, or with room for one")
        buttons.addWidget(self.read)
        buttons.addWidget(self.write)
        self.column.addLayout(buttons)
        self.price.committed.connect(self._priced)
        self.price.cleared.connect(self._unpriced)
        self.currency.committed.connect(self._currency)
        self.on_paper.clicked.connect(self._paper)
        self.read.clicked.connect(self.read_wanted)
        self.write.clicked.connect(self.write_wanted)

    def show_plan(self, plan: Plan, costing: Costing, code: str) -> None:
        """Show the totals, and the price of one line."""
        self._line = costing.of(code)
        self.currency.set_value(plan.job.costs.currency)
        self.on_paper.setChecked(plan.job.costs.on_paper)
        self.total.setText(f"Total: {costing.words()}")
        self.how.set_traces((costing.trace,) if costing.lines else ())
        self._show_line()

    def again(self) -> None:
        """Show the job's values again."""
        plan = self.document.plan
        code = "" if self._line is None else self._line.quantity.code
        self.show_plan(plan, cost(plan.quantities, plan.job.costs), code)

    def _show_line(self) -> None:
        line = self._line
        own = line is not None and line.quantity.unit != "money"
        self.price.setEnabled(own)
        if line is None or not own:
            self.price.set_value(None)
            self.price.set_note("")
            words = "This line is priced in the Slope stage, by the roofers' brackets."
            self.about.setText(words if line is not None else "Mark a line to give its price.")
            return
        known = self.document.job.costs.price_of(line.quantity.code)
        self.price.set_value(line.price if line.price is not None else None if known is None else known.price)
        self.price.set_note(f"for one of: {known.unit if known else line.unit}")
        said = line.why if line.total is None else (trace.values if (trace := cost_trace(line)) else "")
        self.about.setText(f"{line.quantity.name}: {said}.")

    def _priced(self, value: float) -> None:
        if self._line is not None:
            line = self._line
            known = self.document.job.costs.price_of(line.quantity.code)
            unit = known.unit if known is not None else line.unit
            edit = partial(set_price, code=line.quantity.code, price=value, name=line.quantity.name, unit=unit)
            self.edit(self.price, edit, "Change price")

    def _unpriced(self) -> None:
        if self._line is not None:
            self.edit(self.price, partial(set_price, code=self._line.quantity.code, price=None), "Take price away")

    def _currency(self, text: str) -> None:
        self.edit(self.currency, partial(set_costs, currency=text), "Change currency")

    def _paper(self, on: bool) -> None:
        try:
            self.document.apply(set_costs(self.document.job, on_paper=on), "Prices on paper")
        except BadInput as error:
            self.document.refuse(error)


def sum_words(line: Cost | None) -> str:
    """What the table says of a line's sum."""
    if line is None or (line.total is None and not line.missing):
        return ""
    return "not priced" if line.total is None else money(line.total)
