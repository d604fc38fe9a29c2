"""The frame from above, every member with its mark: where what the cut cards say goes."""

from __future__ import annotations

from collections.abc import Sequence

from workbench.drawing.frame_plan import frame_plan
from workbench.drawing.primitives import Drawing, Text
from workbench.drawing.truss_lines import has_trusses
from workbench.framing.trusses import BY_OTHERS
from workbench.handout.blocks import LABEL, Block, Boxed, Picture, Words
from workbench.handout.page import Page, Paper, frame_size
from workbench.handout.words import FALL_CAUTION_SHORT, listed
from workbench.plan import Plan

_FOUND_BY_THEMSELVES = frozenset(("lookout", "eave_block", "ridge_block", "row_block", "fascia", "sub_fascia"))
"""Small pieces that need no larger page for their label alone."""

NOTE = "Dash-dot: rafters and jacks. The number after a mark counts its equals in that plane."


def frame_pages(plan: Plan, paper: Paper) -> list[Page]:
    """The frame on one page; where not all marks have room there, one more for each wing. None without members."""
    members = plan.framing.members
    if not members and not has_trusses(plan):
        return []
    count = sum(member.count for member in members)
    line = f"{len(members)} marks, {count} pieces; each mark has its cut card"
    if has_trusses(plan):
        own = f"{len(members)} marks, {count} pieces, and {BY_OTHERS}"
        line = own if members else f"{BY_OTHERS.capitalize()}: no cuts here"
    framed = {placement.plane.partition("/")[0] for member in members for placement in member.placements}
    page, unnamed = _page(plan, paper, "The frame", line, frame_plan(plan))
    if not unnamed:
        return [page]
    small = {member.mark for member in members if member.kind in _FOUND_BY_THEMSELVES}
    if len(framed) < 2 or small.issuperset(unnamed):
        return [_page(plan, paper, "The frame", line, frame_plan(plan), unnamed)[0]]
    pages = [page]
    for wing in plan.job.wings:
        if wing.id in framed:
            title, line, drawing = (
                f"The frame of {wing.name}",
                "Marks by plane; each mark has its cut card",
                frame_plan(plan, wing.id),
            )
            page, unnamed = _page(plan, paper, title, line, drawing)
            pages.append(_page(plan, paper, title, line, drawing, unnamed)[0] if unnamed else page)
    return pages


def _page(
    plan: Plan, paper: Paper, title: str, line: str, drawing: Drawing, told: Sequence[str] = ()
) -> tuple[Page, list[str]]:
    """A page, on its side where that prints it larger, and the marks that no label on it has room for.

    Args:
        plan: The plan.
        paper: The paper.
        title: The page's title.
        line: The line under it.
        drawing: What is drawn.
        told: Marks that are told below the drawing instead.
    """
    metric = plan.units.system == "mm"
    below: list[Block] = [Boxed((Words(FALL_CAUTION_SHORT, LABEL, bold=True, after=0.0),), 1.4)]
    if told:
        where = "each has its cut card, rafters and jacks stand on the layout sticks"
        below.insert(0, Words(f"Too close or too short for a label here: {listed(told)}; {where}.", LABEL))

    def picture(*, landscape: bool) -> Picture:
        width, height = frame_size(paper, landscape=landscape)
        room = height - sum(block.height(width) for block in below)
        return Picture(drawing, room, metric=metric, largest=24, fill=True, note=NOTE)

    upright, lying = picture(landscape=False), picture(landscape=True)
    known = upright.scaled(frame_size(paper)[0])
    better = lying.scaled_over(frame_size(paper, landscape=True)[0], known.pt_per_in)
    shown, landscape = (upright, False) if better is None else (lying, True)
    named = {text.key for text in (better or known).layout.texts}
    wanted = dict.fromkeys(item.key for item in drawing.items if isinstance(item, Text))
    unnamed = [key.removeprefix("member:") for key in wanted if key.startswith("member:") and key not in named]
    return Page(title, line, (shown, *below), landscape=landscape), unnamed
