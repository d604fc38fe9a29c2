"""The printed order list with and without prices, and what is left over; read back with pdfplumber."""

from __future__ import annotations

import io

import pdfplumber
import pytest

from workbench.handout.order_list import order_pages
from workbench.handout.page import draw_page
from workbench.handout.pen import Pen
from workbench.job import edits
from workbench.job.costs_edits import set_costs, set_price
from workbench.job.model import Job
from workbench.plan import Plan, solve

HOUSE = [(0.0, 0.0), (192.0, 0.0), (192.0, 144.0), (0.0, 144.0)]


@pytest.fixture(scope="module")
def job() -> Job:
    job, _ = edits.add_wing(Job(name="House"), HOUSE, ["eave", "rake", "eave", "rake"])
    return set_price(job, "sheet", 21.5, name="panels", unit="sheets")


def text_of(plan: Plan) -> str:
    pages = order_pages(plan, "letter")
    pen = Pen("House", "Order list")
    for number, page in enumerate(pages, 1):
        draw_page(pen, plan, page, "letter", number, len(pages))
    with pdfplumber.open(io.BytesIO(pen.finish())) as pdf:
        return "\n".join(page.extract_text() for page in pdf.pages)


def test_without_prices_no_money_is_said(job: Job) -> None:
    text = text_of(solve(job))
    assert "21.50" not in text and "not priced" not in text
    assert "sq ft left over" in text


def test_with_prices_every_line_has_a_sum_or_says_that_it_has_none(job: Job) -> None:
    plan = solve(set_costs(job, on_paper=True, currency="$"))
    text = text_of(plan)
    total = plan.sheathing.count * 21.5
    assert f"{total:,.2f}" in text and "21.50 / sheet" in text
    assert f"Total: $ {total:,.2f}; {len(plan.quantities) - 1} lines not priced" in text
    assert text.count("not priced") == len(plan.quantities)
