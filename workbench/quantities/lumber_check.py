"""Looks a cutting list over that other code has made: every piece once, every board long enough and to be had."""

from __future__ import annotations

import math
from collections import Counter
from collections.abc import Sequence

from workbench.framing.model import Hand
from workbench.quantities.lumber_model import BoardPiece, SectionBoards

_SAME_IN = 4e-6


def cutting_faults(section: SectionBoards, needed: Sequence[BoardPiece], kerf_in: float) -> list[str]:
    """What is wrong with the boards of a section; empty where nothing is.

    Args:
        section: The boards.
        needed: The pieces that have to come out of them.
        kerf_in: What the saw takes between two pieces.
    """
    faults: list[str] = []
    made: Counter[tuple[str, Hand, float]] = Counter()
    for batch in section.batches:
        if batch.count < 1 or not batch.pieces:
            faults.append(f"{section.section}: a board that nothing is cut from")
        for piece in batch.pieces:
            made[piece.mark, piece.hand, round(piece.length_in, 6)] += batch.count
        taken = math.fsum([piece.length_in for piece in batch.pieces] + [kerf_in] * (len(batch.pieces) - 1))
        if taken > batch.stock_in + _SAME_IN:
            faults.append(f"{section.section}: {taken:.4f} in cut from a board of {batch.stock_in:g} in")
        if batch.stock_in not in section.lengths_in and batch.stock_in not in section.special_in:
            faults.append(f"{section.section}: a board of {batch.stock_in:g} in, which can't be had")
    wanted: Counter[tuple[str, Hand, float]] = Counter()
    for piece in needed:
        wanted[piece.mark, piece.hand, round(piece.length_in, 6)] += 1
    for key, count in wanted.items():
        if made[key] != count:
            faults.append(f"{section.section}: {made[key]} of {key[0]} {key[1]} cut, but {count} needed")
    faults += [f"{section.section}: {key[0]} is cut but not needed" for key in made if key not in wanted]
    if section.at_least_in > section.bought_in + 1e-6:
        faults.append(
            f"{section.section}: {section.bought_in:g} in bought, but {section.at_least_in:g} in said to be least"
        )
    return faults
