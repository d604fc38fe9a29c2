"""What a layout breaks, said to the framer, and how its figures were found."""

from __future__ import annotations

import itertools
import math

from workbench.findings import COMMON_PRACTICE, GEOMETRY, Finding
from workbench.measure.trace import Trace
from workbench.measure.units import Units
from workbench.roof.model import Plane
from workbench.rules.nailing import NailingSchedule, edge_distance_in, edge_distance_source
from workbench.sheathing.columns import bay_of, joint_offset, stagger_missed
from workbench.sheathing.layout import Layout, LayoutRules
from workbench.sheathing.model import SheathingPlan

_SAME_IN = 1.0
_STEP_FIT_IN = 0.25


def layout_findings(plane: Plane, layout: Layout, supports: tuple[float, ...], units: Units) -> list[Finding]:
    """Every rule a plane's layout breaks, and what was assumed."""
    rules = layout.rules
    findings = [
        *_row_findings(plane, layout, units),
        *_slot_findings(plane, layout, units),
        *_framing_findings(plane, layout, supports, units),
        *_piece_findings(plane, layout, units),
        *_stagger_findings(plane, layout, supports, units),
    ]
    if rules.first_piece_in is not None and abs(layout.first_in - rules.first_piece_in) > _SAME_IN:
        text = (
            f"{plane.name}: a first piece of {units.length(rules.first_piece_in)} ends on no rafter; it was made "
            f"{units.length(layout.first_in)}."
        )
        findings.append(Finding("first-piece-moved", "note", plane.id, text, COMMON_PRACTICE))
    return findings


def _stagger_findings(plane: Plane, layout: Layout, supports: tuple[float, ...], units: Units) -> list[Finding]:
    rules, pairs = layout.rules, list(itertools.pairwise(layout.joints))
    numbers = [
        row.number
        for row, (one, other) in zip(layout.rows, pairs, strict=False)
        if stagger_missed(one, other, rules.stagger_in)
    ]
    if not numbers:
        return []
    nearest = min(joint_offset(one, other) for one, other in pairs)
    bay = bay_of(supports)
    most = math.floor(rules.panel_length_in / bay / 2.0 + 1e-6) * bay if bay else math.inf
    why = ""
    if most < rules.stagger_in - _STEP_FIT_IN:
        why = f"; rafters {units.inches(bay)} on centre allow {units.inches(most)} at most"
    text = (
        f"{plane.name}: joints of {_rows(numbers)} and the row above are {units.inches(nearest)} apart, nearer than "
        f"the stagger of {units.inches(rules.stagger_in)}{why}."
    )
    return [Finding("stagger", "warning", plane.id, text, COMMON_PRACTICE)]


def _row_findings(plane: Plane, layout: Layout, units: Units) -> list[Finding]:
    rules = layout.rules.rows
    narrow = [row for row in layout.rows if row.width_in < rules.least_in - 1e-5]
    return [
        Finding(
            "row-too-narrow",
            "error",
            plane.id,
            f"{plane.name}: row {row.number} is {units.length(row.width_in)} wide, under the least width of "
            f"{units.length(rules.least_in)}: block its edges.",
            COMMON_PRACTICE,
        )
        for row in narrow
    ]


def _slot_findings(plane: Plane, layout: Layout, units: Units) -> list[Finding]:
    """A slot that is wider than the row below it is a slip in a measure."""
    slot = layout.rules.ridge_slot_in
    if not layout.rows or slot <= layout.rows[-1].width_in or not any(edge.kind == "ridge" for edge in plane.edges):
        return []
    text = (
        f"{plane.name}: the ridge slot of {units.length(slot)} is wider than the top row, "
        f"{units.length(layout.rows[-1].width_in)}, and leaves the roof open there; make it smaller."
    )
    return [Finding("slot-over-row", "error", plane.id, text, COMMON_PRACTICE)]


def _framing_findings(plane: Plane, layout: Layout, supports: tuple[float, ...], units: Units) -> list[Finding]:
    panel = layout.rules.panel_length_in
    if not supports:
        text = f"{plane.name}: no rafters are known here, so joints are {units.inches(panel)} apart and unchecked."
        return [Finding("no-framing", "warning", plane.id, text, COMMON_PRACTICE)]
    off = sum(columns.off_framing for row in layout.columns for columns in row)
    bay = bay_of(supports)
    near = _fitting_spacing(bay, panel)
    fits = bay > 0.0 and abs(panel - round(panel / bay) * bay) <= _STEP_FIT_IN
    other = f"; rafters {units.inches(near)} on centre would carry them" if bay and not fits else ""
    if off:
        text = f"{plane.name}: {off} end joints fall between rafters{other}."
        return [Finding("joint-off-framing", "error", plane.id, text, COMMON_PRACTICE)]
    if bay and not fits and any(columns.joints for row in layout.columns for columns in row):
        text = (
            f"{plane.name}: sheets of {units.inches(panel)} can't be used whole on rafters {units.inches(bay)} on "
            f"centre; {units.inches(near)} on centre would let joints fall every {units.inches(panel)}."
        )
        return [Finding("spacing-off-module", "warning", plane.id, text, COMMON_PRACTICE)]
    return []


def _piece_findings(plane: Plane, layout: Layout, units: Units) -> list[Finding]:
    short: list[int] = []
    single: list[int] = []
    for row, ways in zip(layout.rows, layout.columns, strict=True):
        if any(columns.too_short for columns in ways):
            short.append(row.number)
        if any(columns.one_bay for columns in ways):
            single.append(row.number)
    findings: list[Finding] = []
    if short:
        text = f"{plane.name}: a piece of {_rows(short)} spans less than one bay; choose another first piece."
        findings.append(Finding("piece-under-one-bay", "error", plane.id, text, COMMON_PRACTICE))
    if single:
        text = f"{plane.name}: a piece of {_rows(single)} spans one bay only; block or clip it."
        findings.append(Finding("piece-of-one-bay", "warning", plane.id, text, COMMON_PRACTICE))
    return findings


def _fitting_spacing(bay: float, panel: float) -> float:
    """The whole fraction of the panel length nearest to a spacing."""
    if bay <= 0.0:
        return panel / 4.0
    parts = max(1, round(panel / bay))
    return min((panel / n for n in (parts, parts + 1, max(parts - 1, 1))), key=lambda spacing: abs(spacing - bay))


def _rows(numbers: list[int]) -> str:
    return f"{'row' if len(numbers) == 1 else 'rows'} {_list(numbers)}"


def _list(numbers: list[int]) -> str:
    *most, last = (str(number) for number in numbers)
    return f"{', '.join(most)} and {last}" if most else last


def sheet_traces(plan: SheathingPlan, rules: LayoutRules, units: Units, full: bool = False) -> tuple[Trace, ...]:
    """How the number of sheets and its lower bound were found; ``full`` for the bound of the search for fewest."""
    if not plan.planes:
        return ()
    pieces = sum(len(plane.pieces) for plane in plan.planes)
    whole = sum(piece.whole for plane in plan.planes for piece in plane.pieces)
    kerf = units.length(rules.rows.kerf_in)
    halves = "halves of a sheet nominal" if rules.rows.halves_nominal else "every kerf paid for"
    count = Trace(
        "sheets",
        float(plan.count),
        "count",
        "whole sheets + sheets that the other pieces are cut from, off-cuts used on every plane",
        f"{pieces} pieces, {whole} of them whole sheets; kerf {kerf}, {halves} → {plan.count}",
        GEOMETRY,
    )
    rows = f"over {sum(len(plane.rows) for plane in plan.planes)} rows of {len(plan.planes)} planes"
    formula = "sheets ≥ Σ rows f(b / w) · (W - J·g) / l, f(x) = 1 above a half, 1/2 at a half, or x: the greater"
    if full:
        formula = (
            "sheets ≥ Σ planes worth of the cheapest layout's pieces / most worth of pieces that one sheet holds; "
            "straight cuts from edge to edge"
        )
        rows += ", every piece's worth from a linear program"
    least = Trace("at least", float(plan.at_least), "count", formula, f"{rows} → {plan.at_least}", GEOMETRY)
    return count, least


def nail_traces(plan: SheathingPlan, schedule: NailingSchedule, units: Units) -> tuple[Trace, ...]:
    """How the nails were counted."""
    if not plan.nail_lines:
        return ()
    counts = plan.nail_counts
    total = sum(counts.values())
    spacings = (
        f"edges {units.length(schedule.edge_in)}, field {units.length(schedule.field_in)}, gable-end framing "
        f"{units.length(schedule.gable_end_in)}"
    )
    parts = ", ".join(f"{name.replace('_', ' ')} {count}" for name, count in counts.items())
    return (
        Trace(
            "sheathing nails",
            float(total),
            "count",
            "each line: length between end nails / spacing, rounded up, + 1; level edges between rafters have no "
            "framing and no line; a nail where two lines of a piece meet counts in both; along the trimmers and "
            f"headers of openings as panel edges ({COMMON_PRACTICE})",
            f"{schedule.name}: {spacings}; end nails {units.inches(edge_distance_in())} from panel edges "
            f"({edge_distance_source()}); {parts} → {total}",
            schedule.source,
        ),
    )
