"""The cutter's list in a few lines: which widths to rip and how often, and what waits for another plane."""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence

from workbench.handout.blocks import LABEL, LARGE, Block, Column, Table, Words
from workbench.plan import Plan
from workbench.sheathing.model import StockCut, StockSheet

FEWEST_ALIKE = 2
"""A width that fewer sheets are ripped at is no setting of its own."""

_SAME_DIGITS = 3
_NARROWER_IN = 0.05
"""A piece narrower than its sheet by more than this was ripped."""


def rips(sheets: Sequence[StockSheet]) -> list[tuple[float, int, int]]:
    """Widths to set the saw to, widest first, each with how many sheets are ripped at it and into how many strips.

    Only sheets that are ripped along their whole length count: where all pieces are narrower than the sheet. Pieces of
    one width one above the other are strips; one beside the other they are cut from one strip.
    """
    counted: Counter[float] = Counter()
    strips: Counter[float] = Counter()
    for sheet in sheets:
        found = _strips(sheet)
        for width, count in found.items():
            counted[width] += 1
            strips[width] += count
    return [(width, counted[width], strips[width]) for width in sorted(counted, reverse=True)]


def _strips(sheet: StockSheet) -> dict[float, int]:
    spans = [_span(cut) for cut in sheet.cuts]
    if any(high - low > sheet.width_in - _NARROWER_IN for low, high in spans):
        return {}
    levels = {(round(high - low, _SAME_DIGITS), round(low, 1)) for low, high in spans}
    return dict(Counter(width for width, _ in levels))


def _span(cut: StockCut) -> tuple[float, float]:
    ys = [y for _, y in cut.polygon]
    return min(ys), max(ys)


def kept_for_later(plan: Plan) -> dict[tuple[str, str], list[str]]:
    """Pieces that wait: by the plane their sheet is cut for and the plane they go to, each as ``Sheet 4: 3C``."""
    order = {sheets.plane: number for number, sheets in enumerate(plan.sheathing.planes)}
    waiting: dict[tuple[str, str], list[str]] = {}
    for sheet in plan.sheathing.stock:
        by_plane: dict[str, list[str]] = {}
        for cut in sheet.cuts:
            by_plane.setdefault(cut.plane, []).append(cut.label)
        first, *later = sorted(by_plane, key=lambda plane: order.get(plane, len(order)))
        for plane in later:
            waiting.setdefault((first, plane), []).append(f"{sheet.name}: {', '.join(by_plane[plane])}")
    return waiting


def summary_blocks(plan: Plan, cut: Sequence[StockSheet]) -> list[Block]:
    """Both, as the cutter's list begins with them; nothing where there is nothing to say."""
    blocks: list[Block] = []
    found = [one for one in rips(cut) if one[1] >= FEWEST_ALIKE]
    if found:
        blocks.append(Words("Rips along the whole sheet, of two sheets or more", LARGE, bold=True, after=2.0))
        columns = (
            Column("", 0.3),
            Column("Set the saw to", 1.6, bold=True),
            Column("Sheets", 1.0),
            Column("Strips", 3.0),
        )
        rows = tuple(("[]", plan.units.inches(width), str(count), str(strips)) for width, count, strips in found)
        blocks.append(Table(columns, rows, LABEL, after=10.0))
    waiting = kept_for_later(plan)
    if waiting:
        names = {plane.id: plane.name for plane in plan.roof.planes}
        blocks.append(Words("Mark and keep for later", LARGE, bold=True, after=2.0))
        columns = (Column("Cut with", 1.0), Column("Keep for", 1.0, bold=True), Column("Pieces", 4.4))
        rows = tuple((names.get(a, a), names.get(b, b), "; ".join(pieces)) for (a, b), pieces in waiting.items())
        blocks.append(Table(columns, rows, LABEL, after=10.0))
    return blocks
