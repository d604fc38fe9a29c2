"""The whole handout: its pages in order, then numbered and written."""

from __future__ import annotations

from pathlib import Path

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


def handout_pages(plan: Plan, paper: Paper = "letter") -> list[Page]:
    """All pages in the order of the work."""
    return [
        *roof_pages(plan, paper),
        *changes_pages(plan, paper),
        *measured_pages(plan, paper),
        *frame_pages(plan, paper),
        *setting_out_pages(plan, paper),
        *erection_pages(plan, paper),
        *(page for plane in plan.roof.planes for page in plane_pages(plan, plane, paper)),
        *first_row_pages(plan, paper),
        *dry_in_pages(plan, paper),
        *cutters_pages(plan, paper),
        *boards_pages(plan, paper),
        *cut_card_pages(plan, paper),
        *details_pages(plan, paper),
        *order_pages(plan, paper),
        *safety_pages(plan, paper),
        *checks_pages(plan, paper),
        *finding_pages(plan, paper),
    ]


def render_handout(plan: Plan, paper: Paper = "letter") -> bytes:
    """The handout as PDF; the same plan gives the same bytes."""
    return _render(plan, handout_pages(plan, paper), paper)


def write_handout(plan: Plan, path: Path, paper: Paper = "letter") -> int:
    """Write the handout and say how many pages it has.

    Raises:
        JobError: The file can't be written; an older one is untouched.
    """
    pages = handout_pages(plan, paper)
    write_bytes(path, _render(plan, pages, paper))
    return len(pages)


def _render(plan: Plan, pages: list[Page], paper: Paper) -> bytes:
    pen = Pen(plan.job.name, "Roof handout: framing and sheathing")
    for number, page in enumerate(pages, 1):
        draw_page(pen, plan, page, paper, number, len(pages))
    return pen.finish()
