"""The lumber to cut: which boards to take and what comes out of each, boards that are cut alike on one line."""

from __future__ import annotations

import math

from workbench.handout.blocks import LABEL, SMALL, Block, Column, Table, Words
from workbench.handout.page import Page, Paper, flowed
from workbench.plan import Plan
from workbench.quantities.lumber_lines import board_lines
from workbench.quantities.lumber_model import SectionBoards

_COLUMNS = (
    Column("", 0.35),
    Column("Boards", 0.75, "right", bold=True),
    Column("Long", 1.0, "right", bold=True),
    Column("Cut from each, in this order", 4.8),
    Column("Left", 0.8, "right"),
)

WORTH_KEEPING_IN = 6.0
"""Off-cuts from this length on are told, in whole inches: a block may come out of them."""


def boards_pages(plan: Plan, paper: Paper) -> list[Page]:
    """The cutting list of the lumber; no page where there are no members."""
    sections = plan.lumber.sections
    if not sections:
        return []
    rows: list[tuple[str, ...]] = []
    for section in sections:
        rows.append((section_words(plan, section),))
        rows += [
            ("[]", str(line.count), plan.units.length(line.stock_in), line.text, _left(plan, line.left_in))
            for line in board_lines(section)
        ]
    kerf = plan.units.inches(plan.lumber.kerf_in)
    said = (
        f"Lengths and cuts of each mark: its cut card. The saw takes {kerf}. Crown up; the straightest boards for "
        "ridges, hips and valleys. Cut one of a mark, try it, then cut the rest. Nothing is added for knots, splits or "
        "a wrong cut: order a few more."
    )
    done = sum(count.count for _, count in plan.cut.done)
    if done:
        said = f"{done} {'piece is' if done == 1 else 'pieces are'} cut already and not in this list. {said}"
    said += "".join(f" {finding.text}" for finding in plan.lumber.findings if finding.code == "plies-to-nail")
    boards = sum(section.boards for section in sections)
    blocks: list[Block] = [Words(said, LABEL, after=6.0), Table(_COLUMNS, tuple(rows), LABEL)]
    if not plan.lumber.proven:
        blocks.append(Words("“At least” is what no way of cutting goes under.", SMALL))
    return flowed("Boards to cut", f"{boards} boards", blocks, paper)


def section_words(plan: Plan, section: SectionBoards) -> str:
    """How much of a section is bought, and how sure it is that this is the least."""
    units = plan.units
    least = "fewest proven" if section.proven else f"at least {units.length(section.at_least_in)}"
    number = "1 board" if section.boards == 1 else f"{section.boards} boards"
    return f"{section.name}: {number}, {units.length(section.bought_in)} in all ({least})"


def _left(plan: Plan, left_in: float) -> str:
    return plan.units.length(float(math.floor(left_in))) if left_in >= WORTH_KEEPING_IN else ""
