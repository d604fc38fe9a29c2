"""The frame from above, every member with its mark: where what the cut cards say goes."""

from __future__ import annotations

from workbench.drawing.frame_plan import frame_plan
from workbench.drawing.primitives import Drawing, Text
from workbench.drawing.truss_lines import has_trusses
from workbench.framing.trusses import BY_OTHERS
from workbench.handout.blocks import LABEL, Block, Boxed, Picture, Words
from workbench.handout.page import Page, Paper, frame_size
from workbench.handout.words import FALL_CAUTION_SHORT
from workbench.plan import Plan

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
    page, missing = _page(plan, paper, "The frame", line, frame_plan(plan))
    pages = [page]
    framed = {placement.plane.partition("/")[0] for member in members for placement in member.placements}
    if missing and len(framed) > 1:
        for wing in plan.job.wings:
            if wing.id in framed:
                title, line = f"The frame of {wing.name}", "Marks by plane; each mark has its cut card"
                pages.append(_page(plan, paper, title, line, frame_plan(plan, wing.id))[0])
    return pages


def _page(plan: Plan, paper: Paper, title: str, line: str, drawing: Drawing) -> tuple[Page, int]:
    """A page, on its side where that prints it larger, and how many labels have no room on it."""
    metric = plan.units.system == "mm"
    below: list[Block] = [Boxed((Words(FALL_CAUTION_SHORT, LABEL, bold=True, after=0.0),), 1.4)]

    def picture(*, landscape: bool) -> Picture:
        width, height = frame_size(paper, landscape=landscape)
        room = height - sum(block.height(width) for block in below)
        return Picture(drawing, room, metric=metric, largest=24, fill=True, note=NOTE)

    upright, lying = picture(landscape=False), picture(landscape=True)
    known = upright.scaled(frame_size(paper)[0])
    better = lying.scaled_over(frame_size(paper, landscape=True)[0], known.pt_per_in)
    shown, landscape = (upright, False) if better is None else (lying, True)
    texts = sum(isinstance(item, Text) for item in drawing.items)
    missing = texts - len((better or known).layout.texts)
    return Page(title, line, (shown, *below), landscape=landscape), missing
