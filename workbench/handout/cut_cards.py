"""Cut cards: each mark with its side view, its ends enlarged, its cuts and what to order."""

from __future__ import annotations

import math
from collections.abc import Sequence

from workbench.drawing.cut_card import (
    CutSide,
    card_length_in,
    cut_angle_text,
    cut_card,
    cut_detail,
    cut_sides,
    is_plain,
    lettered_cuts,
)
from workbench.framing.model import Member
from workbench.framing.words import notes_of
from workbench.handout.blocks import LABEL, LARGE, Block, Column, Columns, Picture, Space, Table, Words
from workbench.handout.cut_families import differing_measures, families, lengths_table, plain_table, plane_names
from workbench.handout.page import Page, Paper, flowed, frame_size
from workbench.handout.words import listed
from workbench.plan import Plan
from workbench.site.plates import seat_note

OVERALL_TALLEST = 150.0
DETAIL_TALLEST = 170.0
COARSEST = 48
"""Where the whole member comes out smaller than one to this, its measures stand without their names."""

SHORT_IN = 75.0
"""Members up to this length are drawn larger: their measures are longer words than they are themselves, inches."""

LOOK_AHEAD = 8
"""So many cards are looked at for the one that best fills up a page."""

BESIDE = 0.56
"""Share of the page up to which details leave room for the table of cuts beside them."""

LEAST_DETAIL_IN = 9.0
"""A detail gets at least the width of so many inches of stock: its letters and scale need it."""

DETAIL_SCALE, SMALL_DETAIL_SCALE, LEAST_DETAIL_SCALE = 6, 8, 12
"""Details across the page, with the table of cuts beside them, and where a family would run over its page."""

DETAIL_PAST_IN = 4.0
"""Stock shown beyond the cuts of a detail, inches."""

GROUP_GAP_IN = 8.0
"""Cuts further apart than this stand in details of their own, inches."""


def cut_card_pages(plan: Plan, paper: Paper) -> list[Page]:
    """All cut cards, marks that differ only in length on one; no page where there are no members."""
    members = plan.framing.members
    if not members:
        return []
    width, height = frame_size(paper)
    cards = [_card(plan, family, width, height) for family in families([m for m in members if not is_plain(m)])]
    blocks = [block for card in packed(cards, width, height) for block in card]
    plain = [member for member in members if is_plain(member)]
    if plain:
        blocks += [Words("Boards cut square at both ends", LARGE, bold=True, after=4.0), plain_table(plan, plain)]
    count = sum(member.count for member in members)
    marks = len(members)
    line = f"{marks} {'mark' if marks == 1 else 'marks'}, {count} pieces; angles off square, hands looking up the slope"
    return flowed("Cut cards", line, blocks, paper)


def packed(
    cards: Sequence[list[Block]],
    width: float,
    height: float,
    first: float | None = None,
    look: int = LOOK_AHEAD,
) -> list[list[Block]]:
    """The cards in order, but what is left of a page takes the tallest that fits of those that come soon.

    Args:
        cards: Each the blocks of one card.
        width: Width of the page.
        height: Height of the page.
        first: What is left of the first page; None where it is empty.
        look: How many cards are looked at for one that fits.
    """
    waiting = [(card, sum(block.height(width) for block in card)) for card in cards]
    result: list[list[Block]] = []
    left = height if first is None else first
    while waiting:
        fits = [i for i, (_, tall) in enumerate(waiting[:look]) if tall <= left]
        place = max(fits, key=lambda i: (waiting[i][1], -i), default=0) if left < height else 0
        card, tall = waiting.pop(place)
        left = left - tall if tall <= left else height - tall % height
        result.append(card)
    return result


def _card(plan: Plan, family: list[Member], width: float, height: float) -> list[Block]:
    """One mark, or marks with the same cuts: then the lengths that differ stand in a table below it."""
    alone = len(family) == 1
    if alone:
        return [Columns((_card_blocks(plan, family, width),), after=16.0)]
    lengths = lengths_table(plan, family)
    for scale in (DETAIL_SCALE, SMALL_DETAIL_SCALE, LEAST_DETAIL_SCALE):
        together = Columns(((*_card_blocks(plan, family, width, scale), Space(4.0), lengths),), after=12.0)
        if together.height(width) <= height:
            return [together]
    own = Words(f"Lengths of {family[0].mark} to {family[-1].mark}", LARGE, bold=True, after=2.0)
    return [Columns((_card_blocks(plan, family, width),), after=4.0), own, lengths, Space(12.0)]


def _card_blocks(plan: Plan, family: list[Member], width: float, scale: int = DETAIL_SCALE) -> tuple[Block, ...]:
    """Head, figures, drawings and cuts of a card, with its details at a scale."""
    longest = max(family, key=lambda member: member.length_in)
    alone = len(family) == 1
    seats = seat_note(plan.site.plates, [member.mark for member in family])
    said = (*_lengths(plan, longest, alone=alone), _top_edge(plan, longest), *notes_of(longest), seats)
    return (
        Words(_head(plan, family), LARGE, bold=True, tick=alone, after=2.0),
        Words(" ".join(part for part in said if part), LABEL, after=4.0),
        *_pictures(plan, family, longest, width, scale),
    )


def _head(plan: Plan, family: list[Member]) -> str:
    member, marks = family[0], [member.mark for member in family]
    if len(family) == 1:
        count = f"{member.count} piece" if member.count == 1 else f"{member.count} pieces"
        done = plan.cut.of(member.mark).count
        cut = f", {done} cut, {member.count - done} to cut" if done else ""
        return f"{member.mark}: {count} of {plan.job.lumber.name_of(member.section)}{cut}"
    named = listed(marks) if len(marks) < 3 else f"{marks[0]} to {marks[-1]}"
    return f"{named}: {plan.job.lumber.name_of(member.section)}, the same cuts, lengths by the table"


def _lengths(plan: Plan, member: Member, *, alone: bool) -> list[str]:
    """Length, place and hands of a mark that has its card alone; of a family only the planes."""
    planes = plane_names(plan, [member], most=4)
    where = f"For {planes}." if planes else ""
    if not alone:
        return [where]
    units = plan.units
    top = f"Top edge {units.tape(member.length_in)}"
    long_points = card_length_in(member)
    if long_points - member.length_in > 1.0 / 64.0:
        top += f"; long point to long point {units.tape(long_points)}"
    return [f"{top}.", where, _hands(member)]


def _pictures(plan: Plan, family: list[Member], member: Member, width: float, scale: int) -> list[Block]:
    """The whole member, its cuts enlarged, and how the saw is set: beside the details where there is room."""
    details, table = _details(plan, member, scale), _cuts_table(plan, family)
    overall = _overall(plan, family, member, width, detailed=bool(details))
    taken = sum(wide for _, wide in details)
    if details and taken * 72.0 / SMALL_DETAIL_SCALE <= BESIDE * width:
        details, table = _details(plan, member, SMALL_DETAIL_SCALE), _cuts_table(plan, family, narrow=True)
        cells = tuple(cell for cell, _ in details)
        shares = (*(wide for _, wide in details), width * SMALL_DETAIL_SCALE / 72.0 - taken)
        return [overall, Columns((*cells, (table,)), shares, gap=8.0, after=2.0)]
    rows = [_detail_row(details[i : i + 3]) for i in range(0, len(details), 3)]
    return [overall, *rows, table]


def _overall(plan: Plan, family: list[Member], member: Member, width: float, *, detailed: bool) -> Picture:
    """The whole member; where its measures are longer than the member itself, with the bare figures."""
    units = plan.units
    named = {measure.name: measure.name for measure in differing_measures(family)} if len(family) > 1 else {}
    bare = {m.name: units.tape(m.length_in) for m in member.measures if m.name not in named}

    def picture(said: dict[str, str]) -> Picture:
        drawing = cut_card(
            member, units, names="none" if detailed else "letters", short=not detailed, top=not detailed, said=said
        )
        largest = 24 if detailed and card_length_in(member) > SHORT_IN else 12
        return Picture(drawing, OVERALL_TALLEST, metric=units.system == "mm", largest=largest)

    full = picture(named)
    scale = full.scaled(width).scale
    return full if scale is not None and scale <= COARSEST else picture({**named, **bare})


def _hands(member: Member) -> str:
    """How many are cut as drawn and how many as the mirror image."""
    if not member.right:
        return ""
    if not member.left:
        return "Right-hand, the mirror image of the drawing."
    return f"{member.left} left-hand as drawn, {member.right} right-hand, the mirror image."


def _top_edge(plan: Plan, member: Member) -> str:
    """What is done to the top edge of a hip so that sheets lie on it."""
    units = plan.units
    said = [f"Drop the top {units.inches(member.drop_in)} plumb."] if member.drop_in > 0.0 else []
    if member.backing_deg:
        sides = listed(units.angle(math.radians(deg)) for deg in member.backing_deg)
        said.append(f"Back the top edge {sides} off square.")
    return " ".join(said)


def _details(plan: Plan, member: Member, scale: int = DETAIL_SCALE) -> list[tuple[tuple[Block, ...], float]]:
    """The cuts enlarged with their width, those that lie close together in one; none where the whole view shows them.

    Widths are inches of stock at the scale of the details.
    """
    groups = _groups(member)
    xs = [x for x, _ in member.profile]
    if member.kind == "ridge_board" or not groups or max(xs) - min(xs) < 4.0 * GROUP_GAP_IN:
        return []
    metric = plan.units.system == "mm"
    cells: list[tuple[tuple[Block, ...], float]] = []
    for group in groups:
        ends = [x for side in group for x in (side.start[0], side.end[0])]
        start, end = max(min(ends) - DETAIL_PAST_IN, min(xs)), min(max(ends) + DETAIL_PAST_IN, max(xs))
        drawing = cut_detail(member, plan.units, start, end, along=False)
        picture = Picture(
            drawing, DETAIL_TALLEST, metric=metric, largest=scale - 1 if metric else scale, left=True, brief=True
        )
        # Room for the measures beside a bird's-mouth.
        spare = 14.0 if len(group) > 1 else 2.0
        cells.append(((picture,), max(end - start + spare, LEAST_DETAIL_IN)))
    return cells


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


def _cuts_table(plan: Plan, family: list[Member], *, narrow: bool = False) -> Table:
    columns = (
        Column("", 0.5 if narrow else 0.4, bold=True),
        Column("Cut", 2.0),
        Column("Saw setting, off square", 3.0),
        Column("Along the top edge" if narrow else "Along the top edge from the low end", 2.0),
    )
    rows: list[tuple[str, ...]] = []
    for i, (letter, cut) in enumerate(lettered_cuts(family[0])):
        tape = plan.units.inches if narrow else plan.units.tape
        places = {tape(member.cuts[i].at_in) for member in family}
        place = places.pop() if len(places) == 1 else "by the table"
        rows.append((letter, cut.name, cut_angle_text(cut, plan.units), place))
    return Table(columns, tuple(rows), LABEL)
