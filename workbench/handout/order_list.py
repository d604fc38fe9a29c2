"""The order list: what to buy, with a box to tick and how it was counted."""

from __future__ import annotations

from collections.abc import Container, Sequence

from workbench.handout.blocks import LABEL, Block, Column, Table, Words
from workbench.handout.page import Page, Paper, flowed
from workbench.handout.words import amount_text, nail_kind
from workbench.measure import Units
from workbench.plan import Plan
from workbench.quantities.costing import NOT_PRICED, Cost, cost, money
from workbench.quantities.model import Group, Quantity
from workbench.quantities.waste import waste_as_built, waste_words

GROUP_WORDS: dict[Group, str] = {
    "framing": "Framing",
    "sheathing": "Sheathing",
    "fastening": "Fastening",
    "drying_in": "Drying in",
    "roofing": "Roofing",
    "safety": "Fall protection",
}


_PLAIN = (
    Column("", 0.35),
    Column("What", 2.5, bold=True),
    Column("Amount", 1.45, "right", bold=True),
    Column("How it was counted", 5.4),
)
_PRICED = (
    Column("", 0.35),
    Column("What", 2.4, bold=True),
    Column("Amount", 1.45, "right", bold=True),
    Column("Price", 1.8, "right"),
    Column("Sum", 1.55, "right", bold=True),
    Column("How it was counted", 3.1),
)


def order_pages(plan: Plan, paper: Paper) -> list[Page]:
    """The order list; no page where there is nothing to buy."""
    if not plan.quantities:
        return []
    costing = cost(plan.quantities, plan.job.costs)
    priced = plan.job.costs.on_paper
    often = _told_once(plan.quantities)
    rows: list[tuple[str, ...]] = []
    for group, word in GROUP_WORDS.items():
        mine = [quantity for quantity in plan.quantities if quantity.group == group]
        if mine:
            rows.append((word,))
            rows += [_row(q, costing.of(q.code) if priced else None, plan.units, often) for q in mine]
    blocks: list[Block] = [Table(_PRICED if priced else _PLAIN, tuple(rows), LABEL)]
    blocks += [Words(f"{GROUP_WORDS[group]}: {formula}.", LABEL) for formula, group in often.items() if not priced]
    if priced:
        blocks.append(Words(f"Total: {costing.words()}", LABEL, bold=True))
    nails = nail_kind(plan)
    if nails and plan.sheathing.nail_lines:
        blocks.append(Words(f"Nails: {nails}.", LABEL))
    found = waste_as_built(plan.quantities, plan.framing, plan.sheathing, plan.job.sheathing, plan.units, plan.cut)
    blocks += [Words(waste_words(waste, plan.units), LABEL) for waste in found]
    return flowed("Order list", "Rounded up to whole pieces; nothing is added for loss or breakage", blocks, paper)


def _told_once(quantities: Sequence[Quantity]) -> dict[str, Group]:
    """What several lines are counted by, with the group they stand in: it is told below the table, once."""
    by_formula: dict[str, list[Quantity]] = {}
    for quantity in quantities:
        if quantity.trace.values:
            by_formula.setdefault(quantity.trace.formula, []).append(quantity)
    return {formula: mine[0].group for formula, mine in by_formula.items() if len(mine) > 1}


def _row(quantity: Quantity, line: Cost | None, units: Units, often: Container[str]) -> tuple[str, ...]:
    if line is None:
        counted = quantity.trace.values if quantity.trace.formula in often else _counted(quantity)
        return "[]", quantity.name, amount_text(quantity, units), counted
    amount = "" if quantity.unit == "money" else amount_text(quantity, units)
    price = "" if line.price is None else f"{line.price:,.2f} / {line.unit.removesuffix('s')}"
    total = NOT_PRICED if line.missing else "" if line.total is None else money(line.total)
    return "[]", quantity.name, amount, price, total, quantity.trace.values or quantity.trace.formula


def _counted(quantity: Quantity) -> str:
    trace = quantity.trace
    return f"{trace.formula}: {trace.values}" if trace.values else trace.formula
