"""How many pieces or rolls a length takes, laps counted. Inches."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

from workbench.measure import Trace, Units
from workbench.rules.dry_in import dry_in_rules

_NOISE_IN = 1e-6


@dataclass(frozen=True, slots=True)
class Pieces:
    """Pieces bought, and how many ends of theirs lie in each run."""

    bought: int
    in_run: tuple[int, ...]


def cut_pieces(runs_in: Sequence[float], piece_in: float, lap_in: float) -> Pieces:
    """Pieces for some runs: whole ones first, the rest of each run from the shortest off-cut that will do.

    Args:
        runs_in: Lengths of the runs.
        piece_in: Length of a piece.
        lap_in: Lap of a piece over the one before in the same run.
    """
    offcuts: list[float] = []
    bought = 0
    counts: list[int] = []
    least = dry_in_rules().least_offcut_in
    for run in runs_in:
        left, count = run, 0
        while left > _NOISE_IN:
            wanted = left + (lap_in if count else 0.0)
            taken = min(wanted, piece_in)
            fits = [offcut for offcut in offcuts if offcut >= taken - _NOISE_IN]
            if fits and taken < piece_in - _NOISE_IN:
                stock = min(fits)
                offcuts.remove(stock)
            else:
                stock = piece_in
                bought += 1
            if stock - taken >= least:
                offcuts.append(stock - taken)
            left -= taken - (lap_in if count else 0.0)
            count += 1
        counts.append(count)
    return Pieces(bought, tuple(counts))


def rolls_for(length_in: float, roll_in: float, lap_in: float) -> int:
    """Rolls for a length, each new one lapped over the one before."""
    if length_in <= _NOISE_IN:
        return 0
    return max(1, math.ceil((length_in - lap_in) / (roll_in - lap_in) - _NOISE_IN))


def pieces_trace(
    name: str, runs: Sequence[tuple[str, float]], found: Pieces, piece_in: float, lap_in: float, units: Units
) -> Trace:
    """How pieces were counted."""
    parts = ", ".join(
        f"{where} {units.length(length)}: {count}" for (where, length), count in zip(runs, found.in_run, strict=True)
    )
    return Trace(
        name,
        float(found.bought),
        "count",
        f"pieces of {units.length(piece_in)}, lapped {units.inches(lap_in)}; off-cuts from "
        f"{units.inches(dry_in_rules().least_offcut_in)} on are used again",
        f"{parts} → {found.bought} bought",
        "laps: the job's; counted: geometry",
    )
