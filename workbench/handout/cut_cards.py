"""Cut cards: each mark with its side view, its ends enlarged, its cuts and what to order."""

from __future__ import annotations

from workbench.drawing.cut_card import card_length_in, cut_angle_text, cut_card, cut_detail, cut_sides
from workbench.drawing.primitives import Drawing
from workbench.framing.model import Member
from workbench.handout.blocks import LABEL, LARGE, SMALL, Block, Column, Columns, Picture, Space, Table, Words
from workbench.handout.page import Page, Paper, flowed
from workbench.plan import Plan

OVERALL_TALLEST = 190.0
DETAIL_TALLEST = 150.0
DETAIL_SCALE = 8
DETAIL_REACH_IN = 26.0
"""Length of the enlarged ends beyond their outermost cut, inches at most."""


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
        Picture(overall, OVERALL_TALLEST, metric=metric, largest=DETAIL_SCALE),
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
    """Both ends at a larger scale, where the member is too long for the cuts to be seen."""
    sides = cut_sides(member)
    if member.kind == "ridge_board" or not sides:
        return []
    xs = [x for x, _ in member.profile]
    low, high = min(xs), max(xs)
    if high - low < 3.0 * DETAIL_REACH_IN:
        return []
    ends = [x for side in sides for x in (side.start[0], side.end[0])]
    middle = (low + high) / 2.0
    lower, upper = [x for x in ends if x < middle], [x for x in ends if x >= middle]
    parts: list[tuple[str, Drawing]] = []
    if lower:
        end = min(max(lower) + 5.0, low + 2.0 * DETAIL_REACH_IN)
        parts.append(("Lower end", cut_detail(member, plan.units, low, end)))
    if upper:
        start = max(min(upper) - 5.0, high - 2.0 * DETAIL_REACH_IN)
        parts.append(("Upper end", cut_detail(member, plan.units, start, high)))
    metric = plan.units.system == "mm"
    cells = tuple(
        (
            Words(name, SMALL, bold=True),
            Picture(drawing, DETAIL_TALLEST, metric=metric, largest=DETAIL_SCALE, left=True),
        )
        for name, drawing in parts
    )
    return [Columns(cells, gap=10.0, after=4.0), Space(2.0)]


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
