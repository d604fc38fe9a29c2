"""The order list adds up to the plan it is made from, and its tables are safe to open."""

from __future__ import annotations

import csv
from dataclasses import replace

import pytest
from openpyxl import load_workbook

from workbench.job import edits
from workbench.job.model import Job, PriceBracket
from workbench.measure import Trace
from workbench.plan import Plan, solve
from workbench.quantities.model import Quantity
from workbench.quantities.tables import write_csv, write_xlsx

RECTANGLE = [(0.0, 0.0), (480.0, 0.0), (480.0, 336.0), (0.0, 336.0)]


@pytest.fixture(scope="module")
def plan() -> Plan:
    job, _ = edits.add_wing(Job(), RECTANGLE, ["eave", "rake", "eave", "rake"], slope_in_12=9.0, rake_overhang_in=12.0)
    brackets = (PriceBracket(from_in_12=0, price_per_square=400), PriceBracket(from_in_12=8, price_per_square=500))
    return solve(edits.set_job(job, brackets=brackets))


def amount(plan: Plan, code: str) -> float:
    return next(q.amount for q in plan.quantities if q.code == code)


def test_every_member_is_bought_and_pieces_share_boards(plan: Plan) -> None:
    boards = sum(q.amount for q in plan.quantities if q.group == "framing")
    assert 0 < boards < sum(member.count for member in plan.framing.members)
    bought = sum(q.amount * float(q.code.rsplit("-", 1)[1]) for q in plan.quantities if q.group == "framing")
    used = sum(m.count * m.length_in for m in plan.framing.members)
    one_each = sum(m.count * m.stock_in for m in plan.framing.members)
    assert used <= bought < one_each
    assert bought == pytest.approx(sum(section.bought_in for section in plan.lumber.sections))


def test_sheets_nails_and_seams_are_those_of_the_layout(plan: Plan) -> None:
    assert amount(plan, "sheet") == plan.sheathing.count
    assert amount(plan, "sheathing-nails") == sum(line.count for line in plan.sheathing.nail_lines)
    assert amount(plan, "seams") * 12 == pytest.approx(sum(seam.length_in for seam in plan.sheathing.seams))


def test_the_price_goes_by_the_bracket_of_the_framed_slope(plan: Plan) -> None:
    area = sum(plane.area_sqft for plane in plan.roof.planes)
    assert area == pytest.approx(504 * 336 * 1.25 / 144)
    assert amount(plan, "roofing-price") == pytest.approx(area / 100 * 500)
    unpriced = solve(edits.set_job(plan.job, brackets=(PriceBracket(from_in_12=0),)))
    assert "roofing-price" not in [q.code for q in unpriced.quantities]


def test_every_line_says_how_it_was_counted(plan: Plan) -> None:
    for quantity in plan.quantities:
        assert quantity.trace.formula
        assert quantity.trace.values
        assert quantity.trace.source


def odd_line(text: str) -> Quantity:
    return Quantity(text, "framing", text, 1.5, "pieces", Trace("x", 1.5, "count", text, text, text))


@pytest.mark.parametrize("text", ["=1+1", "+1", "-1", "@x", "\t=1"])
def test_text_that_leads_like_a_formula_is_kept_as_text(tmp_path, plan: Plan, text: str) -> None:
    line = replace(odd_line(text), name=text)
    write_csv([line], tmp_path / "list.csv")
    with (tmp_path / "list.csv").open(newline="", encoding="utf-8") as stream:
        row = next(iter(csv.DictReader(stream)))
    assert row["name"] == f"'{text}"
    assert float(row["amount"]) == 1.5
    write_xlsx([line], tmp_path / "list.xlsx")
    book = load_workbook(tmp_path / "list.xlsx")
    cells = [cell for row in book.active.iter_rows() for cell in row]
    assert not any(cell.data_type == "f" for cell in cells)
    book.close()


def test_tables_hold_every_line(tmp_path, plan: Plan) -> None:
    write_csv(plan.quantities, tmp_path / "list.csv")
    with (tmp_path / "list.csv").open(newline="", encoding="utf-8") as stream:
        rows = list(csv.DictReader(stream))
    assert [row["code"] for row in rows] == [q.code for q in plan.quantities]
    assert [float(row["amount"]) for row in rows] == [q.amount for q in plan.quantities]
