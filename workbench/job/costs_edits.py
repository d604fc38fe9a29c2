"""Edits of the price list; pure, like those in ``edits.py``."""

from __future__ import annotations

from collections.abc import Iterable
from typing import Any

from msgspec.structs import replace

from workbench.job.costs import PriceLine
from workbench.job.edited import checked, replaced
from workbench.job.model import Job


def set_costs(job: Job, **fields: Any) -> Job:
    """Change fields of the costs. Raises EditError."""
    return checked(replace(job, costs=replaced(job.costs, fields)))


def set_price(job: Job, code: str, price: float | None, *, name: str = "", unit: str = "") -> Job:
    """Price one code of the order list; None takes its price away.

    Raises:
        EditError: The price is negative or no number.
    """
    known = job.costs.price_of(code)
    if price is None:
        return set_costs(job, prices=tuple(line for line in job.costs.prices if line is not known))
    line = PriceLine(
        code=code,
        name=name or (known.name if known else ""),
        unit=unit or (known.unit if known else "each"),
        price=price,
    )
    if known is None:
        return set_costs(job, prices=(*job.costs.prices, line))
    return set_costs(job, prices=tuple(line if old is known else old for old in job.costs.prices))


def merge_prices(job: Job, lines: Iterable[PriceLine]) -> Job:
    """Take prices over, those of the same code in the place of the old ones.

    Raises:
        EditError: There are too many.
    """
    found = {line.code: line for line in job.costs.prices}
    found.update((line.code, line) for line in lines)
    return set_costs(job, prices=tuple(found.values()))
