"""Off-cuts that do not travel: equal pieces change places until each sheet's are needed close together.

How far apart the pieces of a sheet are needed is counted in rows, along the order of the work: all rows of one plane,
then those of the next. Two equal pieces of different sheets change places where that brings the two sheets' sum down;
neither the count nor any cut changes.
"""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import replace

from workbench.sheathing.cutting import Blank
from workbench.sheathing.kinds import shape_of
from workbench.sheathing.model import StockCut, StockSheet

_MOST_ROUNDS = 6
_MOST_PIECES = 1500
_ROW = re.compile(r"\d+")

Key = tuple[str, str]


def brought_together(sheets: Sequence[StockSheet], blanks: Sequence[Blank]) -> tuple[StockSheet, ...]:
    """The same sheets with equal pieces exchanged, in order of need and named by it.

    Args:
        sheets: A cut plan of exactly these pieces.
        blanks: The pieces in the order they are needed.
    """
    if len(blanks) > _MOST_PIECES:
        return tuple(sheets)
    rows = rows_in_order(blanks)
    held = [[(cut.plane, cut.label) for cut in sheet.cuts] for sheet in sheets]
    kinds: dict[object, list[tuple[int, int]]] = {}
    shapes = {(blank.plane, blank.label): _shape(blank) for blank in blanks}
    for s, keys in enumerate(held):
        for c, key in enumerate(keys):
            kinds.setdefault(shapes[key], []).append((s, c))
    # Where all pieces of a kind have a sheet of their own there is nothing to gain.
    open_kinds = [places for places in kinds.values() if any(len(held[s]) > 1 for s, _ in places) and len(places) > 1]
    for _ in range(_MOST_ROUNDS):
        if not sum(_exchange(places, held, rows) for places in open_kinds):
            break
    return _renamed(sheets, held, blanks)


def rows_apart(sheets: Sequence[StockSheet], blanks: Sequence[Blank]) -> int:
    """Rows between the first and the last piece needed of each sheet, summed."""
    rows = rows_in_order(blanks)
    return sum(_spread([rows[(cut.plane, cut.label)] for cut in sheet.cuts]) for sheet in sheets)


def rows_in_order(blanks: Sequence[Blank]) -> dict[Key, int]:
    """The number of each piece's row in the order of the work, all planes one after the other."""
    found: dict[Key, int] = {}
    numbers: dict[tuple[str, str], int] = {}
    for blank in blanks:
        row = _ROW.search(blank.label)
        name = (blank.plane, row.group() if row else "")
        found[(blank.plane, blank.label)] = numbers.setdefault(name, len(numbers))
    return found


def _shape(blank: Blank) -> object:
    xs, ys = [x for x, _ in blank.ring], [y for _, y in blank.ring]
    net = (max(xs) - min(xs), max(ys) - min(ys))
    return shape_of(*net, blank.ring, blank.upright), round(blank.length_in, 6), round(blank.width_in, 6)


def _spread(rows: Sequence[int]) -> int:
    return max(rows) - min(rows)


def _exchange(places: Sequence[tuple[int, int]], held: list[list[Key]], rows: dict[Key, int]) -> bool:
    """One round over the pairs of a kind; whether any was exchanged."""
    changed = False
    for i, (s, c) in enumerate(places):
        for t, d in places[i + 1 :]:
            if s == t or (len(held[s]) == 1 and len(held[t]) == 1):
                continue
            one, other = held[s][c], held[t][d]
            if rows[one] == rows[other]:
                continue
            before = _spread([rows[key] for key in held[s]]) + _spread([rows[key] for key in held[t]])
            held[s][c], held[t][d] = other, one
            if _spread([rows[key] for key in held[s]]) + _spread([rows[key] for key in held[t]]) < before:
                changed = True
            else:
                held[s][c], held[t][d] = one, other
    return changed


def _renamed(
    sheets: Sequence[StockSheet], held: Sequence[Sequence[Key]], blanks: Sequence[Blank]
) -> tuple[StockSheet, ...]:
    need = {(blank.plane, blank.label): number for number, blank in enumerate(blanks)}
    made: list[tuple[int, StockSheet]] = []
    for sheet, keys in zip(sheets, held, strict=True):
        cuts = [replace(cut, plane=plane, label=label) for cut, (plane, label) in zip(sheet.cuts, keys, strict=True)]
        cuts.sort(key=lambda cut: need[(cut.plane, cut.label)])
        made.append((_first(cuts, need), replace(sheet, cuts=tuple(cuts))))
    made.sort(key=lambda one: one[0])
    return tuple(replace(sheet, name=f"Sheet {n}") for n, (_, sheet) in enumerate(made, start=1))


def _first(cuts: Sequence[StockCut], need: dict[Key, int]) -> int:
    return min((need[(cut.plane, cut.label)] for cut in cuts), default=len(need))
