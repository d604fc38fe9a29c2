"""What to buy, with how each number was counted."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from workbench.measure.trace import Trace

Group = Literal["framing", "sheathing", "fastening", "drying_in", "roofing", "safety"]


@dataclass(frozen=True, slots=True)
class Quantity:
    """One line of the order list.

    Attributes:
        code: Stable code, such as ``sheet`` or ``rafter-stock``.
        group: Heading it stands under.
        name: What it is, in words.
        amount: How many, in ``unit``.
        unit: ``pieces``, ``sheets``, ``rolls``, ``nails``, ``ft``, ``squares``, ``money``.
        trace: How it was counted.
    """

    code: str
    group: Group
    name: str
    amount: float
    unit: str
    trace: Trace
