"""Price lists in and out, every kind of nonsense in a cell named by row and column, and what the order list costs."""

from __future__ import annotations

import csv
import io
import json
from pathlib import Path

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from openpyxl import Workbook

from workbench.cli import main
from workbench.errors import BadInput, EditError, JobError
from workbench.exchange.price_list import read_prices, write_prices
from workbench.job import edits
from workbench.job.costs import Costs, PriceLine
from workbench.job.costs_edits import merge_prices, set_costs, set_price
from workbench.job.model import Job, PriceBracket
from workbench.job.read import parse_job, read_job
from workbench.job.write import dump_job, write_job
from workbench.measure import Trace
from workbench.plan import Plan, solve
from workbench.quantities.costing import cost, cost_trace
from workbench.quantities.model import Quantity
from workbench.quantities.waste import lumber_bought_in, sheets_covered_sqft, waste_as_built

HOUSE = [(0.0, 0.0), (192.0, 0.0), (192.0, 144.0), (0.0, 144.0)]


@pytest.fixture(scope="module")
def plan() -> Plan:
    job, _ = edits.add_wing(Job(name="House"), HOUSE, ["eave", "rake", "eave", "rake"])
    return solve(set_price(job, "sheet", 21.5, name="panels", unit="sheets"))


def written(path: Path, rows: list[list[object]]) -> Path:
    if path.suffix == ".csv":
        stream = io.StringIO(newline="")
        csv.writer(stream).writerows(rows)
        path.write_text(stream.getvalue(), encoding="utf-8")
    else:
        book = Workbook()
        for row in rows:
            book.active.append(row)
        book.save(path)
        book.close()
    return path


HEAD = ["code", "name", "unit", "price"]


@pytest.mark.parametrize("ending", ["csv", "xlsx"])
def test_what_is_written_is_read_back(plan: Plan, ending: str, tmp_path: Path) -> None:
    job = set_price(plan.job, "lumber-2x8", 1.05, name="=odd name", unit="ft")
    path = tmp_path / f"prices.{ending}"
    write_prices(solve(job), path)
    found = {line.code: line for line in read_prices(path)}
    assert found == {line.code: line for line in job.costs.prices if line.code != "sheet"} | {
        "sheet": PriceLine(code="sheet", name=next(q.name for q in plan.quantities if q.code == "sheet"), **SHEET)
    }


SHEET = {"unit": "sheets", "price": 21.5}


@pytest.mark.parametrize("ending", ["csv", "xlsx"])
@pytest.mark.parametrize(
    ("row", "place", "words"),
    [
        (["sheet", "panels", "sheets", "twelve"], "row 3, column price", "no number"),
        (["sheet", "panels", "sheets", "12,50"], "row 3, column price", "no number"),
        (["sheet", "panels", "sheets", -1], "row 3, column price", "negative"),
        (["sheet", "panels", "sheets", "=1+1"], "row 3, column price", "formula"),
        (["sheet", "panels", "sheets", "nan"], "row 3, column price", "ordinary"),
        (["sheet", "panels", "sheets", 1e12], "row 3, column price", "ordinary"),
        (["=HYPERLINK(1)", "panels", "sheets", 1], "row 3, column code", "formula"),
        (["sheet", "@panels", "sheets", 1], "row 3, column name", "formula"),
        (["", "panels", "sheets", 1], "row 3, column code", "empty"),
        (["sheet", "panels", "", 1], "row 3, column unit", "empty"),
        (["sheet", "p" * 500, "sheets", 1], "row 3, column name", "longer"),
        (["seams", "again", "ft", 1], "row 3", "twice"),
    ],
)
def test_a_cell_that_can_not_be_used_is_named(
    ending: str, row: list[object], place: str, words: str, tmp_path: Path
) -> None:
    path = written(tmp_path / f"prices.{ending}", [HEAD, ["seams", "tape", "ft", 0.3], row])
    with pytest.raises(BadInput) as caught:
        read_prices(path)
    said = str(caught.value)
    assert place in said and words in said and "\n" not in said


def test_columns_in_any_order_blank_rows_thousands_and_other_columns(tmp_path: Path) -> None:
    rows = [
        ["Price", "maker", "UNIT", "Name", "Code"],
        [],
        ["1,234.50", "x", "ft", "tape", "seams"],
        ["", "", "", "", ""],
    ]
    (line,) = read_prices(written(tmp_path / "prices.csv", rows))
    assert line == PriceLine(code="seams", name="tape", unit="ft", price=1234.5)
    semicolons = tmp_path / "other.csv"
    semicolons.write_text("code;name;unit;price\nseams;tape, wide;ft;0.3\n", encoding="utf-8-sig")
    assert read_prices(semicolons)[0].name == "tape, wide"


@pytest.mark.parametrize(
    ("name", "data"),
    [
        ("prices.csv", b"\xff\xfe\x00"),
        ("prices.csv", b""),
        ("prices.csv", b"code,name\n"),
        ("prices.xlsx", b"no workbook"),
        ("prices.csv", b'code,name,unit,price\nseams,"tape,ft,0.3\n'),
        ("prices.txt", b"code,name,unit,price\n"),
        ("gone.csv", None),
    ],
)
def test_a_file_that_is_no_price_list_is_one_sentence(name: str, data: bytes | None, tmp_path: Path) -> None:
    if data is not None:
        (tmp_path / name).write_bytes(data)
    with pytest.raises(BadInput) as caught:
        read_prices(tmp_path / name)
    assert "\n" not in str(caught.value)


@given(st.binary(max_size=200) | st.text(max_size=200).map(lambda text: b"code,name,unit,price\n" + text.encode()))
@settings(max_examples=60, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture])
def test_no_file_breaks_the_reader(tmp_path: Path, data: bytes) -> None:
    path = tmp_path / "any.csv"
    path.write_bytes(data)
    try:
        assert all(line.price >= 0.0 for line in read_prices(path))
    except BadInput as error:
        assert str(error)


def test_sums_are_amount_times_price_and_the_total_says_what_it_lacks(plan: Plan) -> None:
    costing = cost(plan.quantities, plan.job.costs)
    sheet = costing.of("sheet")
    assert sheet.total == pytest.approx(plan.sheathing.count * 21.5)
    assert costing.total == pytest.approx(sheet.total)
    assert costing.unpriced == len(plan.quantities) - 1
    assert f"{costing.unpriced} lines not priced" in costing.words()
    assert cost_trace(sheet).value == sheet.total
    assert cost_trace(costing.of("seams")) is None


def test_boards_by_the_foot_nails_by_the_thousand_and_units_that_do_not_fit(plan: Plan) -> None:
    boards = [q for q in plan.quantities if q.code.startswith("lumber-2x8-")]
    assert boards
    lines = (
        PriceLine(code="lumber-2x8", unit="ft", price=2.0),
        PriceLine(code="sheathing-nails", unit="1000 nails", price=40.0),
        PriceLine(code="seams", unit="roll", price=30.0),
    )
    costing = cost(plan.quantities, Costs(prices=lines))
    by_foot = sum(line.total for line in costing.lines if line.quantity in boards)
    assert by_foot == pytest.approx(lumber_bought_in(boards) / 12.0 * 2.0)
    nails = next(q.amount for q in plan.quantities if q.code == "sheathing-nails")
    assert costing.of("sheathing-nails").total == pytest.approx(nails / 1000.0 * 40.0)
    assert costing.of("seams").missing and "roll" in costing.of("seams").why


def test_the_roofers_brackets_stand_in_the_total_once() -> None:
    job, _ = edits.add_wing(Job(), HOUSE, ["eave", "rake", "eave", "rake"])
    priced = solve(edits.set_job(job, brackets=(PriceBracket(from_in_12=0.0, price_per_square=100.0),)))
    costing = cost(priced.quantities, Costs())
    assert costing.total == pytest.approx(next(q.amount for q in priced.quantities if q.code == "roofing-price"))
    assert not costing.of("roof-squares").missing


@given(st.lists(st.tuples(st.floats(0, 1e6), st.one_of(st.none(), st.floats(0, 1e6))), max_size=8))
@settings(max_examples=50, deadline=None)
def test_any_list_adds_up(rows) -> None:
    trace = Trace("x", 0.0, "count", "", "", "")
    quantities = [Quantity(f"c{i}", "framing", f"c{i}", amount, "pieces", trace) for i, (amount, _) in enumerate(rows)]
    prices = [PriceLine(code=f"c{i}", unit="pieces", price=p) for i, (_, p) in enumerate(rows) if p is not None]
    costing = cost(quantities, Costs(prices=tuple(prices)))
    assert costing.total == pytest.approx(sum(amount * price for amount, price in rows if price is not None))
    assert costing.priced + costing.unpriced == len(rows)


def test_waste_is_what_is_bought_less_what_is_laid(plan: Plan) -> None:
    sheets, lumber = waste_as_built(plan.quantities, plan.framing, plan.sheathing, plan.job.sheathing, plan.units)
    assert sheets.bought == plan.sheathing.count * 32.0
    area = sum(plane.area_sqft for plane in plan.roof.planes)
    # All but the gaps between the sheets is covered.
    assert 0.98 * area < sheets.placed == sheets_covered_sqft(plan.sheathing) <= area
    assert sheets.left == sheets.trace.value == sheets.bought - sheets.placed
    assert lumber.left == lumber.trace.value >= 0.0
    assert waste_as_built((), solve(Job()).framing, solve(Job()).sheathing, Job().sheathing, plan.units) == ()


def test_prices_are_edited_one_by_one_and_kept_in_the_file(plan: Plan) -> None:
    job = set_price(plan.job, "sheet", 25.0)
    assert job.costs.price_of("sheet") == PriceLine(code="sheet", name="panels", unit="sheets", price=25.0)
    assert set_price(job, "sheet", None).costs.prices == ()
    assert parse_job(dump_job(job), "job") == job
    merged = merge_prices(job, [PriceLine(code="seams", unit="ft", price=1.0)])
    assert [line.code for line in merged.costs.prices] == ["sheet", "seams"]
    with pytest.raises(EditError):
        set_price(job, "sheet", -1.0)
    twice = (PriceLine(code="a", unit="ft", price=1.0),) * 2
    with pytest.raises(EditError, match="twice"):
        set_costs(job, prices=twice)
    with pytest.raises(JobError):
        parse_job(dump_job(job).replace(b'"unit": "sheets"', b'"unit": ""'), "job")


def test_the_command_takes_prices_over_and_prints_the_total(plan: Plan, tmp_path: Path, capsys) -> None:
    path = tmp_path / "house.json"
    write_job(plan.job, path)
    table = written(tmp_path / "in.csv", [HEAD, ["seams", "tape", "ft", 0.3]])
    assert main(["prices", str(path), "--read", str(table), "--write", str(tmp_path / "out.csv"), "--json"]) == 0
    got = json.loads(capsys.readouterr().out)
    assert got["priced"] == 2 and got["unpriced"] > 0
    assert got["hours"]["low"] < got["hours"]["hours"] < got["hours"]["high"]
    assert read_job(path).costs.price_of("seams").price == 0.3
    assert {line.code for line in read_prices(tmp_path / "out.csv")} == {"sheet", "seams"}
    before = path.read_bytes()
    bad = written(tmp_path / "bad.csv", [HEAD, ["seams", "tape", "ft", "x"]])
    assert main(["prices", str(path), "--read", str(bad)]) == 2
    assert path.read_bytes() == before
    capsys.readouterr()
    assert main(["prices", str(path)]) == 0
    assert "not priced" in capsys.readouterr().out
