"""Tape by the kind of seam it closes: lengths with their laps, rolls, and what is left on the last. Inches."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from types import MappingProxyType

from workbench.drying_in.lines import total
from workbench.drying_in.model import Run, TapeRolls, TapeUse
from workbench.drying_in.pieces import rolls_for
from workbench.drying_in.words import run_words
from workbench.job.drying_in import Tape
from workbench.measure import Trace, Units
from workbench.sheathing.model import SeamKind

SEAM_WORDS: Mapping[SeamKind, str] = MappingProxyType(
    {
        "upslope": "up-slope joints",
        "level": "level joints",
        "valley": "valleys",
        "hip": "hips",
        "ridge": "ridges",
        "wall": "roof to wall",
    }
)
"""What a kind of seam is called."""

_THROUGH: frozenset[SeamKind] = frozenset(("level",))  # they run past the others; all else ends on other seams


def tape_rolls(
    code: str, name: str, tape: Tape, parts: Sequence[tuple[SeamKind, Sequence[Run]]], units: Units
) -> TapeRolls | None:
    """The rolls of one tape for seams of some kinds; None where there are none.

    A seam that ends on others runs a lap past both its ends; each new roll laps over the one before.
    """
    uses = [_use(kind, tape, runs) for kind, runs in parts if runs]
    laid = sum(use.laid_in for use in uses)
    rolls = rolls_for(laid, tape.roll_in, tape.lap_in)
    if not rolls:
        return None
    left = rolls * tape.roll_in - (rolls - 1) * tape.lap_in - laid
    title = f"{name}, {units.inches(tape.width_in)} wide, rolls of {units.length(tape.roll_in)}"
    values = (
        f"{', '.join(_use_words(use, units) for use in uses)}: {units.length(laid)}; "
        f"({units.length(laid)} − {units.inches(tape.lap_in)}) / ({units.length(tape.roll_in)} − "
        f"{units.inches(tape.lap_in)}) → {rolls}; {units.length(left)} left over, {left / (rolls * tape.roll_in):.0%}"
    )
    formula = (
        f"each seam with {units.inches(tape.lap_in)} past both its ends, level joints without; rolls of "
        f"{units.length(tape.roll_in)}, each lapped {units.inches(tape.lap_in)} over the one before"
    )
    trace = Trace(title, float(rolls), "count", formula, values, "laps: the job's; counted: geometry")
    return TapeRolls(code, name, title, rolls, laid, left, tuple(uses), trace)


def left_words(tape: TapeRolls, units: Units) -> str:
    """Rolls of a tape and what is left of them, in a sentence."""
    rolls = "1 roll" if tape.rolls == 1 else f"{tape.rolls} rolls"
    return f"{tape.name[:1].upper()}{tape.name[1:]}: {rolls}, {run_words(tape.left_in, units)} left over."


def _use(kind: SeamKind, tape: Tape, runs: Sequence[Run]) -> TapeUse:
    past = 0.0 if kind in _THROUGH else 2.0 * tape.lap_in * len(runs)
    return TapeUse(kind, SEAM_WORDS[kind], len(runs), total(runs), total(runs) + past)


def _use_words(use: TapeUse, units: Units) -> str:
    return f"{use.words} {units.length(use.length_in)} in {use.seams}, {units.length(use.laid_in)} with laps"
