"""The page: paper, margins, the clip's place, title block and foot. Points."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Literal

from workbench.findings import SCREENING
from workbench.handout.blocks import LABEL, LARGE, SMALL, TITLE, Block, Table, draw_down, shortened
from workbench.handout.pen import Pen, text_width
from workbench.plan import Plan

Paper = Literal["letter", "a4"]
SIZES: dict[Paper, tuple[float, float]] = {"letter": (612.0, 792.0), "a4": (210.0 / 25.4 * 72.0, 297.0 / 25.4 * 72.0)}
CLIP = 30.0 / 25.4 * 72.0
"""Kept free at the top, where the page hangs."""

MARGIN = 36.0
HEAD = 62.0
"""Height of the title block."""

FOOT = 40.0
"""Height of the foot."""

LEAST_ROWS = 3
"""A table that fits on the next page is not begun for fewer rows than this."""

BAR_IN, BAR_MM = 2.0, 50.0


@dataclass(frozen=True)
class Page:
    """One page, complete but for its number.

    Attributes:
        title: What it shows, such as a plane's name.
        line: A line under the title, such as the slope.
        blocks: What stands on it.
        landscape: Whether it lies on its side.
    """

    title: str
    line: str
    blocks: tuple[Block, ...]
    landscape: bool = False


def page_size(paper: Paper, *, landscape: bool = False) -> tuple[float, float]:
    """Width and height of the page."""
    width, height = SIZES[paper]
    return (height, width) if landscape else (width, height)


def frame_size(paper: Paper, *, landscape: bool = False) -> tuple[float, float]:
    """Width and height left for blocks."""
    width, height = page_size(paper, landscape=landscape)
    return width - 2.0 * MARGIN, height - CLIP - HEAD - FOOT - MARGIN


def flowed(title: str, line: str, blocks: Sequence[Block], paper: Paper) -> list[Page]:
    """Blocks set on as many upright pages as they need; tables are split between rows."""
    width, height = frame_size(paper)
    pages: list[list[Block]] = [[]]
    left = height
    waiting = list(blocks)
    while waiting:
        block = waiting.pop(0)
        tall = block.height(width)
        if tall <= left:
            pages[-1].append(block)
            left -= tall
            continue
        first, rest = block.split(width, left) if isinstance(block, Table) else (None, block)
        if first is not None and len(first.rows) < LEAST_ROWS and tall <= height and pages[-1]:
            first, rest = None, block
        if first is not None:
            pages[-1].append(first)
        elif not pages[-1]:
            # Taller than a whole page: nothing gained by turning over.
            pages[-1].append(block)
            rest = None
        pages.append([])
        left = height
        waiting[:0] = [rest] if rest is not None else []
    titles = [title if i == 0 else f"{title}, continued" for i in range(len(pages))]
    return [Page(name, line, tuple(page)) for name, page in zip(titles, pages, strict=True) if page]


def draw_page(pen: Pen, plan: Plan, page: Page, paper: Paper, number: int, count: int) -> None:
    """One page with its title block and foot."""
    width, height = page_size(paper, landscape=page.landscape)
    pen.start_page(width, height, shortened(page.title, LARGE, 400.0))
    _draw_head(pen, plan, page, width, height - CLIP, f"page {number} of {count}")
    draw_down(pen, page.blocks, MARGIN, height - CLIP - HEAD, width - 2.0 * MARGIN)
    _draw_foot(pen, plan, width)


def _draw_head(pen: Pen, plan: Plan, page: Page, width: float, top: float, number: str) -> None:
    right = width - MARGIN
    room = right - MARGIN - text_width(number, LARGE, bold=True) - 12.0
    pen.text(MARGIN, top - 16.0, shortened(page.title, TITLE, room, bold=True), TITLE, bold=True)
    pen.text(right, top - 16.0, number, LARGE, bold=True, anchor="right")
    pen.text(MARGIN, top - 34.0, shortened(page.line, LARGE, right - MARGIN), LARGE)
    made = f"Revision {plan.job.revision or '____'}, {plan.job.date or 'date ____________'}"
    made = shortened(made, LABEL, 0.45 * (right - MARGIN))
    room = right - MARGIN - text_width(made, LABEL) - 12.0
    pen.text(MARGIN, top - 49.0, shortened(plan.job.name, LABEL, room, bold=True), LABEL, bold=True)
    pen.text(right, top - 49.0, made, LABEL, anchor="right")
    pen.line((MARGIN, top - 55.0), (right, top - 55.0), 1.0)


def _draw_foot(pen: Pen, plan: Plan, width: float) -> None:
    metric = plan.units.system == "mm"
    bar = BAR_MM / 25.4 * 72.0 if metric else BAR_IN * 72.0
    y = MARGIN + 18.0
    pen.line((MARGIN, y + 11.0), (width - MARGIN, y + 11.0), 0.5)
    pen.line((MARGIN, y), (MARGIN + bar, y), 1.2)
    for x in (MARGIN, MARGIN + bar):
        pen.line((x, y - 4.0), (x, y + 4.0), 1.2)
    length = "50 mm" if metric else "2 in"
    text = f"This bar is {length} long when printed at 100 %. Do not scale from copies."
    pen.text(MARGIN + bar + 8.0, y - 3.0, shortened(text, SMALL, width - 2 * MARGIN - bar - 8.0), SMALL)
    pen.text(MARGIN, MARGIN + 2.0, shortened(SCREENING, SMALL, width - 2 * MARGIN, bold=True), SMALL, bold=True)
