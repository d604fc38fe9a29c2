"""The cutting list of the boards as a table: one row for boards that are cut alike."""

from __future__ import annotations

import csv
import io
from pathlib import Path

from workbench.job.write import write_bytes
from workbench.measure import Units
from workbench.quantities.lumber_lines import pieces_text
from workbench.quantities.lumber_model import LumberPlan

BOARD_COLUMNS = ("section", "lumber", "boards", "stock_in", "pieces", "cut_from_each", "left_in")


def board_rows(lumber: LumberPlan, units: Units) -> tuple[tuple[str | float | int, ...], ...]:
    """Rows for ``BOARD_COLUMNS``: sections in the order of work, longest boards first; lengths unrounded inches."""
    return tuple(
        (
            section.section,
            section.name,
            batch.count,
            batch.stock_in,
            len(batch.pieces),
            pieces_text(batch, units),
            batch.left_in,
        )
        for section in lumber.sections
        for batch in section.batches
    )


def write_boards_csv(lumber: LumberPlan, units: Units, path: Path) -> None:
    """Write the cutting list as CSV (RFC 4180, UTF-8).

    Raises:
        JobError: The file can't be written.
    """
    stream = io.StringIO(newline="")
    writer = csv.writer(stream)
    writer.writerow(BOARD_COLUMNS)
    writer.writerows(board_rows(lumber, units))
    write_bytes(path, stream.getvalue().encode("utf-8"))
