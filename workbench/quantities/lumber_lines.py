"""The boards to buy as lines of the order list."""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass

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


@dataclass(frozen=True, slots=True)
class BoardLine:
    """Boards that the same marks are cut from, whichever hand.

    Attributes:
        count: How many.
        stock_in: Their length.
        text: What is cut from each: ``Common 1, 2 of Jack 3 (5 left, 3 right in all)``.
        left_in: What is left of each.
    """

    count: int
    stock_in: float
    text: str
    left_in: float


def board_lines(section: SectionBoards) -> tuple[BoardLine, ...]:
    """The boards of a section, those that differ only in hands on one line; longest first, then the most of a kind."""
    groups: dict[tuple[object, ...], list[BoardBatch]] = {}
    for batch in section.batches:
        groups.setdefault((batch.stock_in, *(piece.mark for piece in batch.pieces)), []).append(batch)
    lines = [_board_line(group) for group in groups.values()]
    return tuple(sorted(lines, key=lambda line: (-line.stock_in, -line.count)))


def _board_line(group: Sequence[BoardBatch]) -> BoardLine:
    each = Counter(piece.mark for piece in group[0].pieces)
    hands: dict[str, Counter[str]] = {}
    for batch in group:
        for piece in batch.pieces:
            if piece.hand:
                hands.setdefault(piece.mark, Counter())[piece.hand] += batch.count
    said: list[str] = []
    for mark, count in each.items():
        name = mark if count == 1 else f"{count} of {mark}"
        ways = hands.get(mark, Counter())
        if len(ways) == 2:
            name = f"{name} ({ways['left']} left, {ways['right']} right in all)"
        elif ways:
            name = f"{name} {next(iter(ways))}"
        said.append(name)
    return BoardLine(sum(b.count for b in group), group[0].stock_in, ", ".join(said), group[0].left_in)


def pieces_text(batch: BoardBatch, units: Units) -> str:
    """What is cut from a board: ``Common 1, 2 of Jack 3 left; 1' 2 1/2" left over``."""
    counts: Counter[str] = Counter(f"{piece.mark} {piece.hand}".strip() for piece in batch.pieces)
    said = ", ".join(name if n == 1 else f"{n} of {name}" for name, n in counts.items())
    return said if batch.left_in < 1.0 / 64.0 else f"{said}; {units.length(batch.left_in)} over"
