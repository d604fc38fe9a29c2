"""The order list as CSV and as a spreadsheet."""

from __future__ import annotations

import csv
import io
from collections.abc import Sequence
from pathlib import Path

from workbench.errors import BadInput
from workbench.job.write import write_bytes
from workbench.quantities.model import Quantity

_HEADER = ("code", "group", "name", "amount", "unit", "formula", "values", "source")
_FORMULA_LEADS = ("=", "+", "-", "@", "\t", "\r")


def write_csv(quantities: Sequence[Quantity], path: Path) -> None:
    """Write the order list as CSV (RFC 4180, UTF-8), amounts unrounded.

    Text that a spreadsheet would take for a formula gets an apostrophe before it.

    Raises:
        JobError: The file can't be written.
    """
    stream = io.StringIO(newline="")
    writer = csv.writer(stream)
    writer.writerow(_HEADER)
    writer.writerows([_plain(cell) for cell in _cells(quantity)] for quantity in quantities)
    write_bytes(path, stream.getvalue().encode("utf-8"))


def write_xlsx(quantities: Sequence[Quantity], path: Path, boards: Sequence[Sequence[str | float]] = ()) -> None:
    """Write the order list as a spreadsheet, amounts as numbers, everything else as plain text.

    Args:
        quantities: The order list.
        path: Where to write it.
        boards: The cutting list of the boards, its heads first, on a sheet of its own.

    Raises:
        BadInput: The library for it is not installed.
        JobError: The file can't be written.
    """
    try:
        from openpyxl import Workbook
    except ImportError:
        msg = "--xlsx needs the openpyxl package, which is not installed; install it, or write --csv instead."
        raise BadInput(msg) from None
    book = Workbook(write_only=True)
    sheet = book.create_sheet("Order list")
    sheet.append(_HEADER)
    for quantity in quantities:
        sheet.append([_plain(cell) for cell in _cells(quantity)])
    if boards:
        cut = book.create_sheet("Boards to cut")
        for row in boards:
            cut.append([_plain(cell) for cell in row])
    stream = io.BytesIO()
    book.save(stream)
    write_bytes(path, stream.getvalue())


def _cells(q: Quantity) -> tuple[str | float, ...]:
    return (q.code, q.group, q.name, q.amount, q.unit, q.trace.formula, q.trace.values, q.trace.source)


def _plain(cell: str | float) -> str | float:
    return f"'{cell}" if isinstance(cell, str) and cell.startswith(_FORMULA_LEADS) else cell
