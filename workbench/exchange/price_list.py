"""The price list as CSV or XLSX, out to be filled in and back in again."""

from __future__ import annotations

import csv
import io
import math
import zipfile
from collections.abc import Iterator, Sequence
from importlib import import_module
from pathlib import Path
from typing import Any

from workbench.errors import BadInput
from workbench.exchange.tables import Cell, Sheet, book_bytes, plain_cell
from workbench.job.costs import MOST_PRICES, PriceLine
from workbench.job.values import MAX_PRICE
from workbench.job.write import write_bytes
from workbench.plan import Plan
from workbench.quantities.costing import cost

COLUMNS = ("code", "name", "unit", "price")

_MOST_BYTES = 10_000_000
_LEADS = ("=", "+", "-", "@")
_LENGTHS = {"code": 80, "name": 120, "unit": 30}

Row = tuple[int, dict[str, object]]


def write_prices(plan: Plan, path: Path) -> None:
    """Write the price list: every line of the order list with its price or an empty one, then the other known prices.

    Raises:
        BadInput: The ending is neither .csv nor .xlsx, or the library for it is missing.
        JobError: The file can't be written; an older one is untouched.
    """
    rows = price_rows(plan)
    match path.suffix.lower():
        case ".csv":
            stream = io.StringIO(newline="")
            writer = csv.writer(stream)
            writer.writerow(COLUMNS)
            writer.writerows([plain_cell(cell) for cell in row] for row in rows)
            write_bytes(path, stream.getvalue().encode("utf-8"))
        case ".xlsx":
            write_bytes(path, book_bytes([Sheet("Prices", COLUMNS, rows)]))
        case _:
            raise BadInput(_unknown(path))


def price_rows(plan: Plan) -> tuple[tuple[Cell, ...], ...]:
    """The rows of the price list."""
    rows: dict[str, tuple[Cell, ...]] = {}
    for line in cost(plan.quantities, plan.job.costs).lines:
        if line.quantity.unit != "money":
            known = plan.job.costs.price_of(line.quantity.code)
            price: Cell = "" if known is None else known.price
            rows[line.quantity.code] = (line.quantity.code, line.quantity.name, line.unit, price)
    for known in plan.job.costs.prices:
        rows.setdefault(known.code, (known.code, known.name, known.unit, known.price))
    return tuple(rows.values())


def read_prices(path: Path) -> tuple[PriceLine, ...]:
    """Read a price list: columns code, name, unit, price in any order; rows without a price are left out.

    Raises:
        BadInput: It can't be read, or a cell can't be used: one sentence that names row and column.
    """
    match path.suffix.lower():
        case ".csv":
            rows = _csv_rows(path)
        case ".xlsx":
            rows = _xlsx_rows(path)
        case _:
            raise BadInput(_unknown(path))
    found: dict[str, PriceLine] = {}
    for number, row in rows:
        line = _line(path, number, row)
        if line is None:
            continue
        if line.code in found:
            msg = f'{path.name}, row {number}: the code "{line.code}" stands twice; keep one of its rows.'
            raise BadInput(msg)
        found[line.code] = line
        if len(found) > MOST_PRICES:
            msg = f"{path.name} has more than {MOST_PRICES:,} prices; keep those of this job."
            raise BadInput(msg)
    return tuple(found.values())


def _line(path: Path, number: int, row: dict[str, object]) -> PriceLine | None:
    words = {column: _text(path, number, column, row[column]) for column in ("code", "name", "unit")}
    price = _price(path, number, row["price"])
    if price is None:
        return None
    for column in ("code", "unit"):
        if not words[column]:
            msg = f"{path.name}, row {number}, column {column}: it is empty, but the row has a price; fill it in."
            raise BadInput(msg)
    return PriceLine(code=words["code"], name=words["name"], unit=words["unit"], price=price)


def _text(path: Path, number: int, column: str, cell: object) -> str:
    text = " ".join(_shown(cell).split())
    escaped = text.startswith("'")
    text = text.removeprefix("'")
    if text.startswith(_LEADS) and not escaped:
        msg = f'{path.name}, row {number}, column {column}: "{text[:40]}" is a formula; put plain text in its place.'
        raise BadInput(msg)
    if len(text) > _LENGTHS[column] or not text.isprintable():
        msg = f"{path.name}, row {number}, column {column}: longer than {_LENGTHS[column]} signs or not plain; mend it."
        raise BadInput(msg)
    return text


def _price(path: Path, number: int, cell: object) -> float | None:
    place = f"{path.name}, row {number}, column price"
    if isinstance(cell, bool):
        raise BadInput(f"{place}: {_shown(cell)} is no price; give a plain number.")
    text = _shown(cell).strip()
    if not text:
        return None
    if text.startswith("="):
        raise BadInput(f'{place}: "{text[:40]}" is a formula; put its number in its place.')
    try:
        price = float(cell) if isinstance(cell, int | float) else float(_without_commas(text))
    except ValueError:
        raise BadInput(f'{place}: "{text[:40]}" is no number; give a plain one, such as 12.50.') from None
    if not math.isfinite(price) or price > MAX_PRICE:
        raise BadInput(f"{place}: {text[:40]} is no ordinary price; give a plain number.")
    if price < 0.0:
        raise BadInput(f"{place}: {text[:40]} is negative; a price is 0 or more.")
    return price


def _without_commas(text: str) -> str:
    """A number without the commas that part its thousands; a comma anywhere else stays, and is then no number."""
    whole, point, part = text.partition(".")
    groups = whole.split(",")
    if len(groups) > 1 and 1 <= len(groups[0].lstrip("-+")) <= 3 and all(len(g) == 3 for g in groups[1:]):
        return "".join(groups) + point + part
    return text


def _shown(cell: object) -> str:
    return "" if cell is None else str(cell)


def _csv_rows(path: Path) -> Iterator[Row]:
    try:
        text = _bytes(path).decode("utf-8-sig")
    except UnicodeDecodeError:
        msg = f"{path.name} is not a UTF-8 text file; save it as CSV in UTF-8."
        raise BadInput(msg) from None
    head = text.partition("\n")[0]
    delimiter = max(",;\t", key=head.count)
    reader = csv.reader(io.StringIO(text, newline=""), delimiter=delimiter, strict=True)
    try:
        cells = [(reader.line_num, row) for row in reader]
    except csv.Error:
        msg = f"{path.name}, row {reader.line_num}: can't be read as CSV, its quotes don't close; mend the row."
        raise BadInput(msg) from None
    return _rows(path, [row for _, row in cells])


def _xlsx_rows(path: Path) -> Iterator[Row]:
    data = _bytes(path)
    try:
        openpyxl: Any = import_module("openpyxl")
    except ImportError:
        msg = 'XLSX needs the openpyxl package, which is not installed; install "roof-workbench[exchange]".'
        raise BadInput(msg) from None
    try:
        book: Any = openpyxl.load_workbook(io.BytesIO(data), read_only=True, data_only=False)
        sheet: Any = book.worksheets[0]
        rows = [list(row) for row in sheet.iter_rows(values_only=True, max_row=20 * MOST_PRICES, max_col=60)]
    except (zipfile.BadZipFile, KeyError, ValueError, IndexError, TypeError, OSError):
        msg = f"{path.name} can't be read as a workbook; save it again as .xlsx, or as .csv."
        raise BadInput(msg) from None
    return _rows(path, rows)


def _rows(path: Path, cells: Sequence[Sequence[object]]) -> Iterator[Row]:
    """The rows under the headings, by column, numbered as a spreadsheet numbers them."""
    heads = [_shown(cell).strip().lower() for cell in cells[0]] if cells else []
    missing = [column for column in COLUMNS if column not in heads]
    if missing:
        msg = (
            f"{path.name}: its first row has no column {' and no column '.join(missing)}; a price list has the columns "
            f"{', '.join(COLUMNS)}."
        )
        raise BadInput(msg)
    at = {column: heads.index(column) for column in COLUMNS}
    for number, row in enumerate(cells[1:], 2):
        if any(_shown(cell).strip() for cell in row):
            yield number, {column: row[i] if i < len(row) else None for column, i in at.items()}


def _bytes(path: Path) -> bytes:
    try:
        if path.stat().st_size > _MOST_BYTES:
            msg = f"{path.name} is larger than any price list; check that it is the right file."
            raise BadInput(msg)
        return path.read_bytes()
    except OSError as error:
        msg = f"{path.name}: can't be read ({error.strerror or error}); check name and place."
        raise BadInput(msg) from None


def _unknown(path: Path) -> str:
    return f'"{path.name}" ends in neither .csv nor .xlsx; a price list is one of these.'
