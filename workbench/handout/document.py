"""The whole handout: its pages in order, then numbered and written."""

from __future__ import annotations

from collections.abc import Callable, Collection
from pathlib import Path
from typing import Literal

from workbench.errors import BadInput
from workbench.handout.boards_page import boards_pages
from workbench.handout.changes_page import changes_pages
from workbench.handout.checks_page import checks_pages
from workbench.handout.cut_cards import cut_card_pages
from workbench.handout.cutters_list import cutters_pages
from workbench.handout.details_page import details_pages
from workbench.handout.dry_in_page import dry_in_pages
from workbench.handout.erection_page import erection_pages
from workbench.handout.first_row_page import first_row_pages
from workbench.handout.frame_page import frame_pages
from workbench.handout.measured_page import measured_pages
from workbench.handout.order_list import order_pages
from workbench.handout.page import Page, Paper, draw_page
from workbench.handout.pen import Pen
from workbench.handout.plane_page import plane_pages
from workbench.handout.roof_page import finding_pages, roof_pages
from workbench.handout.safety_page import safety_pages
from workbench.handout.setting_out_page import setting_out_pages
from workbench.job.write import write_bytes
from workbench.plan import Plan

Part = Literal[
    "roof",
    "measuring",
    "frame",
    "setting-out",
    "planes",
    "dry-in",
    "cutter",
    "cut-cards",
    "order",
    "safety",
    "checks",
]
_Pages = Callable[[Plan, Paper], list[Page]]

PARTS: tuple[tuple[Part, str], ...] = (
    ("roof", "The roof, findings"),
    ("measuring", "As built: what to measure"),
    ("frame", "Frame plans"),
    ("setting-out", "Setting out, order of erection"),
    ("planes", "Sheets, plane by plane"),
    ("dry-in", "Dry-in"),
    ("cutter", "Cutter's list"),
    ("cut-cards", "Boards, cut cards, tails"),
    ("order", "Order list"),
    ("safety", "Safety"),
    ("checks", "Checks"),
)
"""What can be printed by itself, in words: nobody carries the saw's pages up the ladder."""


def _planes(plan: Plan, paper: Paper) -> list[Page]:
    return [page for plane in plan.roof.planes for page in plane_pages(plan, plane, paper)]


_ORDER: tuple[tuple[Part, _Pages], ...] = (
    ("roof", roof_pages),
    ("roof", changes_pages),
    ("measuring", measured_pages),
    ("frame", frame_pages),
    ("setting-out", setting_out_pages),
    ("setting-out", erection_pages),
    ("planes", _planes),
    ("planes", first_row_pages),
    ("dry-in", dry_in_pages),
    ("cutter", cutters_pages),
    ("cut-cards", boards_pages),
    ("cut-cards", cut_card_pages),
    ("cut-cards", details_pages),
    ("order", order_pages),
    ("safety", safety_pages),
    ("checks", checks_pages),
    ("roof", finding_pages),
)


def named_parts(text: str) -> tuple[Part, ...]:
    """Parts from their names with commas between, such as ``roof, safety``; all of them for an empty text.

    Raises:
        BadInput: A name is of no part.
    """
    names = [name.strip().lower() for name in text.split(",") if name.strip()]
    known: dict[str, Part] = {part: part for part, _ in PARTS}
    for name in names:
        if name not in known:
            msg = f'The handout has no part "{name}"; its parts are {", ".join(known)}.'
            raise BadInput(msg)
    return tuple(part for name, part in known.items() if name in names or not names)


def handout_pages(plan: Plan, paper: Paper = "letter", parts: Collection[Part] = ()) -> list[Page]:
    """The pages in the order of the work: all of them, or those of some parts."""
    return [page for part, pages in _ORDER if not parts or part in parts for page in pages(plan, paper)]


def render_handout(plan: Plan, paper: Paper = "letter", parts: Collection[Part] = ()) -> bytes:
    """The handout as PDF; the same plan gives the same bytes."""
    return _render(plan, handout_pages(plan, paper, parts), paper)


def write_handout(plan: Plan, path: Path, paper: Paper = "letter", parts: Collection[Part] = ()) -> int:
    """Write the handout and say how many pages it has.

    Raises:
        BadInput: What was chosen has no page in this job.
        JobError: The file can't be written; an older one is untouched.
    """
    pages = handout_pages(plan, paper, parts)
    if not pages:
        msg = f"This job has no page of {', '.join(parts)} yet; choose other parts of the handout."
        raise BadInput(msg)
    write_bytes(path, _render(plan, pages, paper))
    return len(pages)


def _render(plan: Plan, pages: list[Page], paper: Paper) -> bytes:
    pen = Pen(plan.job.name, "Roof handout: framing and sheathing")
    for number, page in enumerate(pages, 1):
        draw_page(pen, plan, page, paper, number, len(pages))
    return pen.finish()
