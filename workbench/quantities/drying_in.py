"""Drying in and hardware on the order list."""

from __future__ import annotations

from collections.abc import Sequence

from workbench.drying_in.model import DryInPlan
from workbench.quantities.model import Group, Quantity
from workbench.screening.model import ScreeningPlan


def drying_in_lines(dry: DryInPlan) -> list[Quantity]:
    """What dries the roof in, in the order of work."""
    return [Quantity(m.code, "drying_in", m.name, m.amount, m.unit, m.trace) for m in dry.materials]


def connector_lines(screening: ScreeningPlan) -> list[Quantity]:
    """Ties, hangers and straps that were called for."""
    return [
        Quantity(f"connector-{c.id}", "fastening", c.name, float(c.count), "pieces", c.trace)
        for c in screening.called
        if c.count
    ]


_ORDER: tuple[Group, ...] = ("framing", "sheathing", "fastening", "drying_in", "roofing", "safety")


def with_dry_in(quantities: Sequence[Quantity], dry: DryInPlan, screening: ScreeningPlan) -> tuple[Quantity, ...]:
    """The order list with drying in and hardware put under their headings, in the order of work."""
    lines = [*quantities, *connector_lines(screening), *drying_in_lines(dry)]
    return tuple(sorted(lines, key=lambda line: _ORDER.index(line.group) if line.group in _ORDER else len(_ORDER)))
