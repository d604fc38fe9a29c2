"""The order list: what to buy, with a box to tick and how it was counted."""

from __future__ import annotations

from workbench.handout.blocks import LABEL, SMALL, Block, Column, Table, Words
from workbench.handout.page import Page, Paper, flowed
from workbench.handout.words import amount_text, nail_kind
from workbench.plan import Plan
from workbench.quantities.model import Group, Quantity

GROUP_WORDS: dict[Group, str] = {
    "framing": "Framing",
    "sheathing": "Sheathing",
    "fastening": "Fastening",
    "drying_in": "Drying in",
    "roofing": "Roofing",
}


def order_pages(plan: Plan, paper: Paper) -> list[Page]:
    """The order list; no page where there is nothing to buy."""
    if not plan.quantities:
        return []
    columns = (
        Column("", 0.35),
        Column("What", 2.7, bold=True),
        Column("Amount", 1.75, "right", bold=True),
        Column("How it was counted", 4.6),
    )
    rows: list[tuple[str, ...]] = []
    for group, word in GROUP_WORDS.items():
        mine = [quantity for quantity in plan.quantities if quantity.group == group]
        if mine:
            rows.append((word,))
            rows += [("[]", q.name, amount_text(q, plan.units), _counted(q)) for q in mine]
    blocks: list[Block] = [Table(columns, tuple(rows), LABEL)]
    nails = nail_kind(plan)
    if nails and plan.sheathing.nail_lines:
        blocks.append(Words(f"Nails: {nails}.", LABEL))
    blocks.append(Words("Nothing is added for loss or breakage: what is listed is what is built.", SMALL))
    return flowed("Order list", "Rounded up to whole pieces", blocks, paper)


def _counted(quantity: Quantity) -> str:
    trace = quantity.trace
    return f"{trace.formula}: {trace.values}" if trace.values else trace.formula
