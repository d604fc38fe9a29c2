"""Cut cards: each mark with its side view, its ends enlarged, its cuts and what to order."""

from __future__ import annotations

import math

from workbench.drawing.cut_card import (
    CutSide,
    card_length_in,
    cut_angle_text,
    cut_card,
    cut_detail,
    cut_sides,
    is_bevelled,
)
from workbench.framing.model import Member
from workbench.handout.blocks import LABEL, LARGE, Block, Column, Columns, Picture, Space, Table, Words
from workbench.handout.cut_families import differing_measures, families, lengths_table
from workbench.handout.page import Page, Paper, flowed
from workbench.handout.words import listed
from workbench.plan import Plan

OVERALL_TALLEST = 190.0
DETAIL_TALLEST = 190.0
DETAIL_SCALE = 6
DETAIL_PAST_IN = 4.0
"""Stock shown beyond the cuts of a detail, inches."""

GROUP_GAP_IN = 8.0
"""Cuts further apart than this stand in details of their own, inches."""


def cut_card_pages(plan: Plan, paper: Paper) -> list[Page]:
    """All cut cards, marks that differ only in length on one; no page where there are no members."""
    if not plan.framing.members:
        return []
    blocks: list[Block] = []
    for family in families(plan.framing.members):
        blocks += _card(plan, family[0]) if len(family) == 1 else _family_card(plan, family)
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
    said = (f"{top}.", _planes(plan, [member]), _hands(member), _top_edge(plan, member), _from_above(member))
    details = _details(plan, member)
    overall = cut_card(member, units, names="none" if details else "letters", short=not details, top=not details)
    card = [
        Words(head, LARGE, bold=True, tick=True, after=2.0),
        Words(" ".join(part for part in said if part), LABEL, after=4.0),
        Picture(overall, OVERALL_TALLEST, metric=units.system == "mm", largest=12),
        *details,
        _cuts_table(plan, [member]),
    ]
    return [Columns((tuple(card),), after=16.0)]


def _family_card(plan: Plan, family: list[Member]) -> list[Block]:
    """One card for marks with the same cuts: drawing without the lengths that differ, then a table of them."""
    units, longest = plan.units, max(family, key=lambda member: member.length_in)
    differing = differing_measures(family)
    marks = [member.mark for member in family]
    named = listed(marks) if len(marks) < 3 else f"{marks[0]} to {marks[-1]}"
    head = f"{named}: {family[0].section}, the same cuts, lengths by the table"
    said = (_planes(plan, family), _top_edge(plan, longest), _from_above(longest))
    details = _details(plan, longest)
    names = {measure.name: measure.name for measure in differing}
    overall = cut_card(
        longest, units, names="none" if details else "letters", short=not details, top=not details, said=names
    )
    card = [
        Words(head, LARGE, bold=True, after=2.0),
        Words(" ".join(part for part in said if part), LABEL, after=4.0),
        Picture(overall, OVERALL_TALLEST, metric=units.system == "mm", largest=12),
        *details,
        _cuts_table(plan, family),
    ]
    return [Columns((tuple(card),), after=4.0), lengths_table(plan, family), Space(12.0)]


def _hands(member: Member) -> str:
    """How many are cut as drawn and how many as the mirror image."""
    if not member.right:
        return ""
    if not member.left:
        return "Right-hand, the mirror image of the drawing."
    return f"{member.left} left-hand as drawn, {member.right} right-hand, the mirror image."


def _from_above(member: Member) -> str:
    if not any(is_bevelled(cut) for cut in member.cuts):
        return ""
    return "Left and right as seen looking up the slope; from above the left face is up."


def _top_edge(plan: Plan, member: Member) -> str:
    """What is done to the top edge of a hip so that sheets lie on it."""
    units = plan.units
    said = [f"Drop the top {units.inches(member.drop_in)} plumb."] if member.drop_in > 0.0 else []
    if member.backing_deg:
        sides = listed(units.angle(math.radians(deg)) for deg in member.backing_deg)
        said.append(f"Back the top edge {sides} off square.")
    return " ".join(said)


def _planes(plan: Plan, members: list[Member]) -> str:
    names: list[str] = []
    for placement in (placement for member in members for placement in member.placements):
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
        # Room for the measures beside a bird's-mouth, and for what is written over a view from above.
        spare = 14.0 if len(group) > 1 else 6.0 if is_bevelled(group[0].cut) else 2.0
        cells.append(((picture,), end - start + spare))
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


def _cuts_table(plan: Plan, family: list[Member]) -> Table:
    columns = (
        Column("", 0.4, bold=True),
        Column("Cut", 2.2),
        Column("Saw setting, off square", 3.0),
        Column("Along the top edge from the low end", 2.2),
    )
    rows: list[tuple[str, ...]] = []
    for i, side in enumerate(cut_sides(family[0])):
        places = {plan.units.tape(member.cuts[i].at_in) for member in family}
        place = places.pop() if len(places) == 1 else "by the table"
        rows.append((side.letter, side.cut.name, cut_angle_text(side.cut, plan.units), place))
    return Table(columns, tuple(rows), LABEL)
