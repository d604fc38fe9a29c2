"""The boards to buy as lines of the order list."""

from __future__ import annotations

from collections import Counter

from workbench.measure import Trace, Units
from workbench.quantities.lumber_model import BoardBatch, LumberPlan, SectionBoards
from workbench.quantities.model import Quantity

_SOURCE = "geometry; lengths sold and the kerf are the job's"


def lumber_lines(lumber: LumberPlan, units: Units) -> list[Quantity]:
    """One line a section and length."""
    return [
        _line(section, stock, count, units)
        for section in sorted(lumber.sections, key=lambda section: section.section)
        for stock, count in section.counts().items()
    ]


def _line(section: SectionBoards, stock: float, count: int, units: Units) -> Quantity:
    length = units.length(stock)
    held: Counter[str] = Counter()
    for batch in section.batches:
        if batch.stock_in == stock:
            for piece in batch.pieces:
                held[piece.mark] += batch.count
    least = "fewest proven" if section.proven else f"at least {units.length(section.at_least_in)}"
    marks = ", ".join(f"{mark}: {n}" for mark, n in held.items())
    trace = Trace(
        f"{section.section} {length}",
        float(count),
        "count",
        "pieces over their furthest points, kerfs between them, cut so that the section buys the fewest feet",
        f"{marks} → {count}; all {section.section}: {units.length(section.bought_in)} ({least})",
        _SOURCE,
    )
    code = f"lumber-{section.section}-{stock:g}".replace(" ", "").replace('"', "in").replace("'", "ft")
    return Quantity(code, "framing", f"{section.name}, {length} long", float(count), "pieces", trace)


def pieces_text(batch: BoardBatch, units: Units) -> str:
    """What is cut from a board: ``Common 1, 2 of Jack 3 left; 1' 2 1/2" left over``."""
    counts: Counter[str] = Counter(f"{piece.mark} {piece.hand}".strip() for piece in batch.pieces)
    said = ", ".join(name if n == 1 else f"{n} of {name}" for name, n in counts.items())
    return said if batch.left_in < 1.0 / 64.0 else f"{said}; {units.length(batch.left_in)} over"
