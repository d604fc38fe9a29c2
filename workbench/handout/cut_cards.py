"""Cut cards: each mark with its side view, its ends enlarged, its cuts and what to order."""

from __future__ import annotations

from workbench.drawing.cut_card import CutSide, card_length_in, cut_angle_text, cut_card, cut_detail, cut_sides
from workbench.framing.model import Member
from workbench.handout.blocks import LABEL, LARGE, Block, Column, Columns, Picture, Table, Words
from workbench.handout.page import Page, Paper, flowed
from workbench.plan import Plan

OVERALL_TALLEST = 190.0
DETAIL_TALLEST = 190.0
DETAIL_SCALE = 6
DETAIL_PAST_IN = 4.0
"""Stock shown beyond the cuts of a detail, inches."""

GROUP_GAP_IN = 8.0
"""Cuts further apart than this stand in details of their own, inches."""


def cut_card_pages(plan: Plan, paper: Paper) -> list[Page]:
    """All cut cards; no page where there are no members."""
    if not plan.framing.members:
        return []
    blocks: list[Block] = [Columns((tuple(_card(plan, member)),), after=16.0) for member in plan.framing.members]
    count = sum(member.count for member in plan.framing.members)
    marks = len(plan.framing.members)
    line = f"{marks} {'mark' if marks == 1 else 'marks'}, {count} pieces; angles are off square"
    return flowed("Cut cards", line, blocks, paper)


def _card(plan: Plan, member: Member) -> list[Block]:
    units = plan.units
    count = f"{member.count} piece" if member.count == 1 else f"{member.count} pieces"
    head = f"{member.mark}: {count} of {member.section}, order {units.length(member.stock_in)} long"
    top = f"Top edge {units.tape(member.length_in)}"
    long_points = card_length_in(member)
    if long_points - member.length_in > 1.0 / 64.0:
        top += f"; long point to long point {units.tape(long_points)}"
    where = _planes(plan, member)
    metric = units.system == "mm"
    details = _details(plan, member)
    overall = cut_card(member, units, names="none" if details else "letters", short=not details)
    return [
        Words(head, LARGE, bold=True, tick=True, after=2.0),
        Words(f"{top}. {where}", LABEL, after=4.0),
        Picture(overall, OVERALL_TALLEST, metric=metric, largest=12),
        *details,
        _cuts_table(plan, member),
    ]


def _planes(plan: Plan, member: Member) -> str:
    names: list[str] = []
    for placement in member.placements:
        plane = plan.plane(placement.plane)
        if plane is not None and plane.name not in names:
            names.append(plane.name)
    return f"For {', '.join(names)}." if names else ""


def _details(plan: Plan, member: Member) -> list[Block]:
    """The cuts enlarged, those that lie close together in one detail; none where the whole view shows them."""
    groups = _groups(member)
    xs = [x for x, _ in member.profile]
    if member.kind == "ridge_board" or not groups or max(xs) - min(xs) < 4.0 * GROUP_GAP_IN:
        return []
    metric = plan.units.system == "mm"
    cells: list[tuple[tuple[Block, ...], float]] = []
    for group in groups:
        ends = [x for side in group for x in (side.start[0], side.end[0])]
        start, end = max(min(ends) - DETAIL_PAST_IN, min(xs)), min(max(ends) + DETAIL_PAST_IN, max(xs))
        drawing = cut_detail(member, plan.units, start, end)
        picture = Picture(drawing, DETAIL_TALLEST, metric=metric, largest=5 if metric else DETAIL_SCALE, left=True)
        # Room for the measures beside a bird's-mouth.
        cells.append(((picture,), end - start + (14.0 if len(group) > 1 else 2.0)))
    return [_detail_row(cells[i : i + 3]) for i in range(0, len(cells), 3)]


def _detail_row(row: list[tuple[tuple[Block, ...], float]]) -> Columns:
    """Details side by side, each as wide as it is long; fewer than three leave the rest free."""
    cells, widths = [cell for cell, _ in row], [width for _, width in row]
    if len(cells) < 3:
        cells, widths = [*cells, ()], [*widths, (3 - len(cells)) * sum(widths) / len(widths)]
    return Columns(tuple(cells), tuple(widths), gap=8.0, after=6.0)


def _groups(member: Member) -> list[list[CutSide]]:
    """Cuts in order along the stock, parted where the next lies further off."""
    groups: list[list[CutSide]] = []
    for side in sorted(cut_sides(member), key=lambda side: min(side.start[0], side.end[0])):
        last = max((x for other in groups[-1] for x in (other.start[0], other.end[0])), default=0.0) if groups else 0.0
        if groups and min(side.start[0], side.end[0]) - last < GROUP_GAP_IN:
            groups[-1].append(side)
        else:
            groups.append([side])
    return groups


def _cuts_table(plan: Plan, member: Member) -> Table:
    columns = (
        Column("", 0.4, bold=True),
        Column("Cut", 2.4),
        Column("Saw setting, off square", 2.4),
        Column("Along the top edge from the low end", 2.4),
    )
    rows = tuple(
        (side.letter, side.cut.name, cut_angle_text(side.cut, plan.units), plan.units.tape(side.cut.at_in))
        for side in cut_sides(member)
    )
    return Table(columns, rows, LABEL)
