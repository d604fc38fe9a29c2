"""What the order list costs: price and sum of each line where a price is known, and how many lines have none."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from workbench.job.costs import Costs, PriceLine
from workbench.measure import Trace
from workbench.quantities.model import Quantity
from workbench.quantities.waste import LUMBER, board_length_in

NOT_PRICED = "not priced"
_ROOF_AREA, _ROOFING = "roof-squares", "roofing-price"
_SOURCE = "the job's price list"
_NAILS = "1000 nails"


@dataclass(frozen=True, slots=True)
class Cost:
    """One line of the order list with its price.

    Attributes:
        quantity: The line.
        price: Price of one of ``unit``; None where the line is not priced.
        unit: What the price is for.
        amount: How many of them are bought.
        total: Price times amount; None where the line is not priced.
        why: Where it has no sum of its own: why.
    """

    quantity: Quantity
    price: float | None
    unit: str
    amount: float
    total: float | None
    why: str = ""

    @property
    def missing(self) -> bool:
        """Whether the total lacks this line for want of a price."""
        return self.total is None and self.why.startswith(NOT_PRICED)


@dataclass(frozen=True)
class Costing:
    """The order list priced.

    Attributes:
        lines: One a line of the order list, in its order.
        currency: What the money is called.
    """

    lines: tuple[Cost, ...]
    currency: str = ""

    @property
    def total(self) -> float:
        """Sum of all lines that have a price."""
        return sum(line.total for line in self.lines if line.total is not None)

    @property
    def priced(self) -> int:
        """How many lines stand in the total."""
        return sum(line.total is not None for line in self.lines)

    @property
    def unpriced(self) -> int:
        """How many lines the total lacks."""
        return sum(line.missing for line in self.lines)

    def of(self, code: str) -> Cost | None:
        """The line of a code, or None."""
        return next((line for line in self.lines if line.quantity.code == code), None)

    @property
    def trace(self) -> Trace:
        """How the total was found."""
        terms = " + ".join(f"{line.quantity.name} {line.total:,.2f}" for line in self.lines if line.total is not None)
        missing = "" if not self.unpriced else f"; {self.unpriced} {_lines(self.unpriced)} not priced"
        values = f"{terms} = {self.total:,.2f}{missing}" if terms else f"nothing is priced{missing}"
        return Trace("total of what is priced", self.total, "money", "Σ amount · price", values, _SOURCE)

    def words(self) -> str:
        """The total in a sentence, with what it lacks."""
        if not self.priced:
            return "Nothing is priced yet."
        lacks = "every line is priced" if not self.unpriced else f"{self.unpriced} {_lines(self.unpriced)} not priced"
        return f"{money(self.total, self.currency)}; {lacks}."


def cost(quantities: Sequence[Quantity], costs: Costs) -> Costing:
    """Price an order list."""
    roofing = any(quantity.code == _ROOFING for quantity in quantities)
    return Costing(tuple(_cost(quantity, costs, roofing=roofing) for quantity in quantities), costs.currency)


def cost_trace(line: Cost) -> Trace | None:
    """How a line's sum was found; None where it has none of its own."""
    if line.total is None or line.price is None:
        return None
    values = f"{line.amount:,.4g} {line.unit} · {line.price:,.2f} = {line.total:,.2f}"
    return Trace(f"{line.quantity.name}, sum", line.total, "money", "amount · price", values, _SOURCE)


def money(value: float, currency: str = "") -> str:
    """Money as it is shown: two decimals, thousands parted."""
    return f"{currency} {value:,.2f}".strip()


def _cost(quantity: Quantity, costs: Costs, *, roofing: bool) -> Cost:
    if quantity.unit == "money":
        return Cost(quantity, None, "", 1.0, quantity.amount)
    if quantity.code == _ROOF_AREA and roofing:
        return Cost(quantity, None, "", quantity.amount, None, "priced by the roofers' brackets")
    found = _price(quantity, costs)
    if found is None:
        return Cost(quantity, None, quantity.unit, quantity.amount, None, NOT_PRICED)
    amount = _in_unit(quantity, found.unit)
    if amount is None:
        why = f"{NOT_PRICED}: the price is for {found.unit}, the list counts {quantity.unit}"
        return Cost(quantity, None, quantity.unit, quantity.amount, None, why)
    return Cost(quantity, found.price, found.unit, amount, amount * found.price)


def _price(quantity: Quantity, costs: Costs) -> PriceLine | None:
    exact = costs.price_of(quantity.code)
    if exact is not None or not quantity.code.startswith(LUMBER):
        return exact
    return costs.price_of(quantity.code.rpartition("-")[0])


def _in_unit(quantity: Quantity, unit: str) -> float | None:
    """The amount in the unit of a price; None where one can't be told from the other."""
    asked = " ".join(unit.lower().split())
    if asked in (quantity.unit, quantity.unit.removesuffix("s"), "each"):
        return quantity.amount
    if asked in ("ft", "foot", "feet") and quantity.code.startswith(LUMBER):
        return quantity.amount * board_length_in(quantity) / 12.0
    if asked in (_NAILS, "1,000 nails", "thousand nails") and quantity.unit == "nails":
        return quantity.amount / 1000.0
    return None


def _lines(count: int) -> str:
    return "line" if count == 1 else "lines"
