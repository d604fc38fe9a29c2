"""The user's own prices: what a line of the order list costs."""

from __future__ import annotations

from typing import Annotated

from msgspec import Meta

from workbench.errors import JobError
from workbench.job.safety import unique
from workbench.job.values import Name, Price, Value

MOST_PRICES = 2_000

Code = Annotated[str, Meta(min_length=1, max_length=80)]
Unit = Annotated[str, Meta(min_length=1, max_length=30)]
Currency = Annotated[str, Meta(max_length=8)]


class PriceLine(Value, frozen=True, kw_only=True):
    """What one thing costs.

    Attributes:
        code: The order list's code of the thing, such as ``sheet`` or ``lumber-2x8-192``; ``lumber-2x8`` prices every
            length of that section by the foot.
        name: What it is, in words.
        unit: What the price is for: the order list's unit, ``ft`` for boards, or ``1000 nails``.
        price: In the job's money.
    """

    code: Code
    name: Name = ""
    unit: Unit
    price: Price


class Costs(Value, frozen=True, kw_only=True):
    """Prices of a job.

    Attributes:
        prices: The price list.
        currency: What the money is called on paper, such as ``$``; empty leaves it out.
        on_paper: Whether the printed order list says prices.
    """

    prices: Annotated[tuple[PriceLine, ...], Meta(max_length=MOST_PRICES)] = ()
    currency: Currency = ""
    on_paper: bool = False

    def price_of(self, code: str) -> PriceLine | None:
        """The price of a code, None where it has none."""
        return next((line for line in self.prices if line.code == code), None)


def check_costs(costs: Costs) -> None:
    """Check what no field of the prices can say alone.

    Raises:
        JobError: A code is priced twice.
    """
    unique("costs, prices", [line.code for line in costs.prices])
    for line in costs.prices:
        if line.code != line.code.strip() or line.unit != line.unit.strip():
            msg = f'costs, prices: "{line.code}" or its unit has blanks around it; take them away.'
            raise JobError(msg)
