"""The solved job as tables: order list, members, pieces, sheets, planes. One CSV, or one worksheet each."""

from __future__ import annotations

import csv
import io
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import Any

from workbench.errors import BadInput
from workbench.exchange.words import kind_words
from workbench.findings import SCREENING
from workbench.plan import Plan
from workbench.quantities.costing import cost
from workbench.quantities.hours import plan_hours
from workbench.quantities.lumber_table import BOARD_COLUMNS, board_rows

Cell = str | float | int
_FORMULA_LEADS = ("=", "+", "-", "@", "\t", "\r", "\n")


@dataclass(frozen=True, slots=True)
class Sheet:
    """One table: its name, its columns, its rows; figures unrounded."""

    name: str
    columns: tuple[str, ...]
    rows: tuple[tuple[Cell, ...], ...]


def tables_of(plan: Plan) -> tuple[Sheet, ...]:
    """All tables of a plan, in the order of work."""
    return (
        _order(plan),
        _members(plan),
        _cuts(plan),
        _boards(plan),
        _pieces(plan),
        _stock(plan),
        _planes(plan),
        _hours(plan),
        _findings(plan),
    )


def csv_bytes(plan: Plan) -> bytes:
    """Order list, members, cuts, boards and pieces as one CSV (RFC 4180, UTF-8).

    Each row names its table; columns that a table lacks stay empty.
    """
    sheets = tables_of(plan)[:5]
    columns = tuple(dict.fromkeys(column for sheet in sheets for column in sheet.columns))
    stream = io.StringIO(newline="")
    writer = csv.writer(stream)
    writer.writerow(("table", *columns))
    for sheet in sheets:
        for row in sheet.rows:
            known = dict(zip(sheet.columns, row, strict=True))
            writer.writerow((sheet.name, *(plain_cell(known.get(column, "")) for column in columns)))
    return stream.getvalue().encode("utf-8")


def xlsx_bytes(plan: Plan) -> bytes:
    """Every table as a worksheet: figures as numbers, everything else as text.

    Raises:
        BadInput: The library for it is not installed.
    """
    return book_bytes(tables_of(plan))


def book_bytes(sheets: Sequence[Sheet]) -> bytes:
    """Tables as one workbook, headings bold and frozen.

    Raises:
        BadInput: The library for it is not installed.
    """
    try:
        from openpyxl import Workbook
        from openpyxl.cell import WriteOnlyCell
        from openpyxl.styles import Font
    except ImportError:
        msg = 'XLSX needs the openpyxl package, which is not installed; install "roof-workbench[exchange]".'
        raise BadInput(msg) from None
    book = Workbook(write_only=True)
    for sheet in sheets:
        page: Any = book.create_sheet(sheet.name)
        page.freeze_panes = "A2"
        for i, width in enumerate(_widths(sheet)):
            page.column_dimensions[_letter(i)].width = width
        heads: list[Any] = []
        for column in sheet.columns:
            cell: Any = WriteOnlyCell(page, value=column)
            cell.font = Font(bold=True)
            heads.append(cell)
        page.append(heads)
        for row in sheet.rows:
            page.append([plain_cell(cell) for cell in row])
    stream = io.BytesIO()
    book.save(stream)
    return stream.getvalue()


def plain_cell(cell: Cell) -> Cell:
    """A cell that no spreadsheet takes for a formula, without characters that no file may hold."""
    if not isinstance(cell, str):
        return cell
    text = "".join(c if c.isprintable() or c == "\n" else " " for c in cell)
    return f"'{text}" if text.lstrip().startswith(_FORMULA_LEADS) or cell.startswith(_FORMULA_LEADS) else text


def _boards(plan: Plan) -> Sheet:
    return Sheet("Boards", BOARD_COLUMNS, board_rows(plan.lumber, plan.units))


def _order(plan: Plan) -> Sheet:
    columns = ("code", "group", "name", "amount", "unit", "price", "price_for", "sum", "formula", "values", "source")
    rows: list[tuple[Cell, ...]] = []
    for line in cost(plan.quantities, plan.job.costs).lines:
        q, priced = line.quantity, line.price is not None
        price = (_or_empty(line.price), line.unit if priced else "", _or_empty(line.total))
        trace = q.trace
        rows.append((q.code, q.group, q.name, q.amount, q.unit, *price, trace.formula, trace.values, trace.source))
    return Sheet("Order list", columns, tuple(rows))


def _hours(plan: Plan) -> Sheet:
    columns = ("task", "amount", "unit", "crew", "hours", "hours_low", "hours_high", "values", "source")
    found = plan_hours(plan.job, plan.roof.planes, plan.framing, plan.sheathing)
    rows = [
        (t.words, t.amount, t.unit, found.crew, t.hours, t.low, t.high, t.trace.values, t.trace.source)
        for t in found.tasks
    ]
    return Sheet("Hours", columns, tuple(rows))


def _members(plan: Plan) -> Sheet:
    columns = ("mark", "kind", "count", "left", "right", "section", "length_in", "stock_in", "slope_deg", "planes")
    rows = [
        (
            member.mark,
            kind_words(member.kind),
            member.count,
            member.left,
            member.right,
            member.section,
            member.length_in,
            member.stock_in,
            member.angle_deg,
            ", ".join(dict.fromkeys(place.plane for place in member.placements)),
        )
        for member in plan.framing.members
    ]
    return Sheet("Members", columns, tuple(rows))


def _cuts(plan: Plan) -> Sheet:
    columns = ("mark", "cut", "at_in", "angle_deg", "in_12", "bevel_deg", "other_bevel_deg", "long_point")
    rows = [
        (m.mark, c.name, c.at_in, c.angle_deg, c.in_12, c.bevel_deg, _or_empty(c.other_bevel_deg), c.long)
        for m in plan.framing.members
        for c in m.cuts
    ]
    return Sheet("Cuts", columns, tuple(rows))


def _pieces(plan: Plan) -> Sheet:
    columns = ("plane", "piece", "row", "cut_width_in", "cut_length_in", "whole", "stock", "corners_in")
    return Sheet("Pieces", columns, tuple(_piece_rows(plan)))


def _piece_rows(plan: Plan) -> Iterator[tuple[Cell, ...]]:
    for sheets in plan.sheathing.planes:
        for p in sheets.pieces:
            corners = " ".join(f"{x:.4f},{y:.4f}" for x, y in p.polygon)
            whole = "whole" if p.whole else "cut"
            yield (p.plane, p.label, p.row, p.cut_width_in, p.cut_length_in, whole, p.stock, corners)


def _stock(plan: Plan) -> Sheet:
    columns = ("stock", "length_in", "width_in", "pieces")
    rows = [
        (sheet.name, sheet.length_in, sheet.width_in, ", ".join(f"{cut.plane} {cut.label}" for cut in sheet.cuts))
        for sheet in plan.sheathing.stock
    ]
    return Sheet("Stock sheets", columns, tuple(rows))


def _planes(plan: Plan) -> Sheet:
    columns = ("plane", "name", "slope_in_12", "area_sqft", "plane_length_in", "eaves_in", "rakes_in", "ridges_in")
    rows: list[tuple[Cell, ...]] = []
    for plane in plan.roof.planes:
        along = {
            kind: sum(edge.length_in for edge in plane.all_edges if edge.kind == kind)
            for kind in ("eave", "rake", "ridge")
        }
        rows.append(
            (plane.id, plane.name, plane.in_12, plane.area_sqft, plane.plane_length_in, *along.values()),
        )
    return Sheet("Planes", columns, tuple(rows))


def _findings(plan: Plan) -> Sheet:
    rows = [(f.severity, f.code, f.object, f.text, f.source) for f in plan.findings]
    return Sheet("Findings", ("severity", "code", "object", "text", "source"), (*rows, ("", "", "", SCREENING, "")))


def _or_empty(value: float | None) -> Cell:
    return "" if value is None else value


def _widths(sheet: Sheet) -> list[float]:
    """Column widths in characters: as wide as what stands in them, up to a limit."""
    shown = [[column, *(_shown(row[i]) for row in sheet.rows)] for i, column in enumerate(sheet.columns)]
    return [min(60.0, max(len(text) for text in texts) + 2.0) for texts in shown]


def _shown(cell: Cell) -> str:
    return cell if isinstance(cell, str) else f"{cell:.2f}"


def _letter(index: int) -> str:
    return chr(ord("A") + index)
