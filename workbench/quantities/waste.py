"""Waste as laid and as cut: what is bought against what is in place, as figures and never as a rule of thumb."""

from __future__ import annotations

from collections.abc import Iterable

from workbench.framing.model import Framing
from workbench.quantities.model import Quantity

LUMBER = "lumber-"
"""What the codes of boards begin with; they end with the board's length in inches."""


def lumber_bought_in(quantities: Iterable[Quantity]) -> float:
    """Length of all boards of an order list, inches."""
    return sum(q.amount * board_length_in(q) for q in quantities if q.code.startswith(LUMBER))


def board_length_in(quantity: Quantity) -> float:
    """Length of one board of a line of the order list, inches."""
    return float(quantity.code.rsplit("-", 1)[1])


def lumber_placed_in(framing: Framing) -> float:
    """Length of all members along their top edges, inches."""
    return sum(member.count * member.length_in for member in framing.members)
