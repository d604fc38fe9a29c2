"""From sheets by kinds of pieces to sheets of this job's own pieces, in the order the pieces are needed. Inches."""

from __future__ import annotations

from collections import deque
from collections.abc import Sequence

from workbench.sheathing.arrange import Arranged, Laid
from workbench.sheathing.cutting import Blank
from workbench.sheathing.fewest import Chosen
from workbench.sheathing.kinds import Ring, shape_of, turned_ring
from workbench.sheathing.model import StockCut, StockSheet
from workbench.sheathing.nearness import brought_together
from workbench.sheathing.relaxed import Stock


def assembled(blanks: Sequence[Blank], chosen: Chosen, stock: Stock) -> tuple[StockSheet, ...]:
    """The cut plan: every piece gets a place, and a sheet's pieces are needed as close together as can be.

    The piece needed first takes the sheet whose other pieces are needed soonest; places that no piece needs stay empty.
    """
    kinds = [_kind(blank, stock) for blank in blanks]
    waiting: dict[int, deque[int]] = {}
    for number, kind in enumerate(kinds):
        waiting.setdefault(kind, deque()).append(number)
    left = [times for _, times in chosen.sheets]
    sheets: list[list[tuple[int, StockCut]]] = []
    done: set[int] = set()
    for number, kind in enumerate(kinds):
        if number in done:
            continue
        if kind in stock.alone:
            taken = Arranged((Laid(kind, stock.shapes[kind].ring, False),), ())
        else:
            places = [p for p, times in enumerate(left) if times and _holds(chosen.sheets[p][0], kind)]
            place = min(places, key=lambda p: _spread(chosen.sheets[p][0], waiting, len(blanks)))
            taken = chosen.sheets[place][0]
            left[place] -= 1
        cuts: list[tuple[int, StockCut]] = []
        for laid in taken.laid:
            if waiting.get(laid.kind):
                own = waiting[laid.kind].popleft()
                done.add(own)
                shape = _cut(blanks[own], laid)
                cuts.append((own, StockCut(blanks[own].plane, blanks[own].label, shape, laid.mirrored)))
        sheets.append(sorted(cuts, key=lambda cut: cut[0]))
    rules = stock.rules
    made = tuple(
        StockSheet(f"Sheet {n}", rules.length_in, rules.width_in, tuple(cut for _, cut in cuts))
        for n, cuts in enumerate(sheets, start=1)
    )
    return brought_together(made, blanks)


def columns_of(blanks: Sequence[Blank], sheets: Sequence[StockSheet], stock: Stock) -> list[Arranged]:
    """The sheets of a cut plan by kinds of pieces; pieces with a sheet of their own are left out."""
    by_name = {(blank.plane, blank.label): blank for blank in blanks}
    found: list[Arranged] = []
    for sheet in sheets:
        laid: list[Laid] = []
        for cut in sheet.cuts:
            blank = by_name[(cut.plane, cut.label)]
            kind = stock.number.get(shape_of(blank.length_in, blank.width_in, blank.ring, blank.upright))
            if kind is not None and kind not in stock.alone:
                laid.append(Laid(kind, cut.polygon, False, cut.turned_over))
        if laid:
            found.append(Arranged(tuple(laid), ()))
    return found


def _kind(blank: Blank, stock: Stock) -> int:
    return stock.number[shape_of(blank.length_in, blank.width_in, blank.ring, blank.upright)]


def _holds(arranged: Arranged, kind: int) -> bool:
    return any(laid.kind == kind for laid in arranged.laid)


def _spread(arranged: Arranged, waiting: dict[int, deque[int]], never: int) -> tuple[int, int]:
    """When the last of a sheet's pieces is needed, and how many of its places nobody needs."""
    need: dict[int, int] = {}
    for laid in arranged.laid:
        need[laid.kind] = need.get(laid.kind, 0) + 1
    last = unused = 0
    for kind, count in need.items():
        queue = waiting.get(kind, deque[int]())
        unused += max(0, count - len(queue))
        if queue:
            last = max(last, queue[min(count, len(queue)) - 1])
    return unused, last if last else never


def _cut(blank: Blank, laid: Laid) -> Ring:
    """The piece's own shape where its kind lies: upright ones may be a little shorter than the place they take."""
    if not blank.upright:
        return laid.ring
    left, bottom = min(x for x, _ in laid.ring), min(y for _, y in laid.ring)
    ring = turned_ring(blank.ring) if laid.turned else blank.ring
    return tuple((x + left, y + bottom) for x, y in ring)
