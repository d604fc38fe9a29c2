"""What the pages say: slopes, sheets, nails, amounts, cautions. All figures through the job's formatter."""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence

from workbench.measure import Units
from workbench.plan import Plan
from workbench.quantities.model import Quantity
from workbench.roof.model import Plane
from workbench.rules.nailing import nailing_schedule
from workbench.sheathing.model import NailLineKind

FALL_CAUTION = (
    "FALLS KILL. Nobody goes up before fall protection stands: rails, a guarded deck, or harness and anchor by a "
    "competent person. Clear of eaves, rakes, openings and bare rafters. Not in wind, wet or frost."
)
"""On every page that is read on the roof."""

FALL_CAUTION_SHORT = (
    "FALL HAZARD. Rails, guarded deck, or harness and anchor first. Step on no sheet before it is nailed; "
    "leave none loose."
)

CAUTIONS = (
    FALL_CAUTION,
    "Step on no sheet before it is fastened; leave none loose overnight. Spread stacks over several rafters.",
    "Not a design: spans, snow, wind, thrust, bracing and connections are for the engineer, what is required here for "
    "the local code.",
)
"""On page 1."""

NAIL_WORDS: dict[NailLineKind, str] = {
    "edge": "sheet edges",
    "field": "field",
    "boundary": "roof edges",
    "blocking": "blocking",
    "gable_end": "gable end",
}


def slope_text(plane: Plane, units: Units) -> str:
    """The slope to be framed and what it is called."""
    framed, angle = units.slope(plane.tangent), units.angle(plane.angle)
    called = math.floor(plane.in_12 + 0.5)
    if abs(plane.in_12 - called) < 0.005:
        return f"Slope {framed} ({angle})"
    return f"Frame {framed} ({angle}), called {called} in 12"


def short_slope(plane: Plane, units: Units) -> str:
    """The same for a table cell."""
    called = math.floor(plane.in_12 + 0.5)
    framed = units.slope(plane.tangent)
    return framed if abs(plane.in_12 - called) < 0.005 else f"{framed}, called {called}"


def sheet_count(plan: Plan) -> str:
    """Sheets to buy and how good that is."""
    count, least = plan.sheathing.count, plan.sheathing.at_least
    word = "sheet" if count == 1 else "sheets"
    how = "fewest proven" if plan.sheathing.proven else f"no layout under {least}"
    return f"{count} {word} ({how})"


def nail_text(plan: Plan, plane_id: str) -> str:
    """Nail spacings of one plane as its nail lines have them; empty where it has none."""
    spacings: dict[NailLineKind, set[float]] = {}
    for line in plan.sheathing.nail_lines:
        if line.plane == plane_id:
            spacings.setdefault(line.kind, set()).add(line.spacing_in)
    parts = [
        f"{word} {' and '.join(plan.units.inches(x) for x in sorted(spacings[kind]))}"
        for kind, word in NAIL_WORDS.items()
        if kind in spacings
    ]
    return f"Nails on center: {', '.join(parts)}." if parts else ""


def clip_text(plan: Plan, plane_id: str) -> str:
    """How many edge clips a plane takes and where; empty where it takes none."""
    lines = [line for line in plan.sheathing.clip_lines if line.plane == plane_id]
    if not lines:
        return ""
    each = "one clip midway" if lines[0].a_span == 1 else f"{lines[0].a_span} clips evenly"
    return f"Edge clips: {sum(line.count for line in lines)}. On every level joint {each} between rafters."


def nail_kind(plan: Plan) -> str:
    """The nail the job's schedule asks for, with the table; empty where the schedule is not known."""
    try:
        schedule = nailing_schedule(plan.job.fastening.schedule)
    except KeyError:
        return ""
    return f"{schedule.nail} ({schedule.edition}, {schedule.table}; verify with the local code)"


def amount_text(quantity: Quantity, units: Units) -> str:
    """An amount to order, rounded up to what is sold whole."""
    value, unit = quantity.amount, quantity.unit
    if unit == "ft":
        return f"{math.ceil(value * 0.3048 - 1e-9):,} m" if units.system == "mm" else f"{math.ceil(value - 1e-9):,} ft"
    if unit == "money":
        return f"{value:,.2f}"
    if unit == "squares":
        return f"{value:,.1f} squares"
    count = math.ceil(value - 1e-9)
    return f"{count:,} {unit.removesuffix('s') if count == 1 else unit}"


def ranges(labels: Sequence[str]) -> str:
    """Labels in a list, runs of one row joined: ``1A–1C, 1E``."""
    parts: list[list[str]] = []
    for label in labels:
        if parts and _follows(parts[-1][-1], label):
            parts[-1].append(label)
        else:
            parts.append([label])
    return ", ".join(run[0] if len(run) == 1 else f"{run[0]}–{run[-1]}" for run in parts)


def _follows(before: str, label: str) -> bool:
    same_row = before[:-1] == label[:-1]
    return same_row and before[-1].isalpha() and label[-1].isalpha() and ord(label[-1]) == ord(before[-1]) + 1


def listed(words: Iterable[str]) -> str:
    """Words joined by commas and a last "and"."""
    found = list(words)
    return found[0] if len(found) == 1 else f"{', '.join(found[:-1])} and {found[-1]}" if found else ""
