"""Rows of sheets up the slope: full rows, rips and snap lines. Inches, unrounded.

With L the length to cover, w the panel width and g the gap, the widths b1 ... bn keep b1 + ... + bn + (n - 1)·g = L
with as few rows as can be, and no row is narrower than the least width (common practice, no source).
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Literal

from workbench.errors import BadInput
from workbench.findings import COMMON_PRACTICE, Finding
from workbench.measure.units import Units
from workbench.sheathing.model import Row

RipPlace = Literal["bottom", "top", "both"]
SplitRule = Literal["fewest", "halves", "least"]
SplitName = Literal["one", "halves", "least"]

NOISE_IN = 1e-6
"""Differences below this are arithmetic, not carpentry."""


@dataclass(frozen=True, slots=True)
class RowRules:
    """What the rows are split by; inches.

    Attributes:
        panel_in: Stated panel width, w.
        least_in: Least width of a row; at most half the panel.
        gap_in: Gap between rows.
        kerf_in: What the saw takes.
        halves_nominal: Whether two half rips come out of one sheet though the saw takes its kerf.
        planned_in: Length to cover that the rows were planned for, where the plane was measured since: the outer rip
            then takes up the difference, and the other rows stay as they are while it can.
        taper_in: By how much the plane's ends differ: the outer rip is that much narrower at its other end.
    """

    panel_in: float = 48.0
    least_in: float = 24.0
    gap_in: float = 0.125
    kerf_in: float = 0.125
    halves_nominal: bool = True
    planned_in: float | None = None
    taper_in: float = 0.0


@dataclass(frozen=True, slots=True)
class RowOption:
    """One way of making up the rows.

    Attributes:
        split: ``one`` where there is at most one rip, else how the two rips share what is left.
        full: Number of full rows.
        rips_in: Widths of the ripped rows, narrowest first; the outer one first where the plane was measured.
        gap_in: Gap between the rows; opened a little where the gaps take up a bare leftover.
        sheets_per_column: Sheets that one column, a panel length wide, takes.
    """

    split: SplitName
    full: int
    rips_in: tuple[float, ...]
    gap_in: float
    sheets_per_column: float


@dataclass(frozen=True)
class RowSplit:
    """The rows of one plane.

    Attributes:
        rows: From the eave up.
        sheets_per_column: Sheets that one column, a panel length wide, takes.
        notes: What a framer should know about the split, in words.
        findings: Rows that break the least width.
        options: The splits compared.
        chosen: The one the rows are made of.
    """

    rows: tuple[Row, ...]
    sheets_per_column: float
    notes: tuple[str, ...]
    findings: tuple[Finding, ...]
    options: tuple[RowOption, ...]
    chosen: RowOption

    @property
    def gap_in(self) -> float:
        """Gap between the rows."""
        return self.chosen.gap_in


def split_rows(
    length_in: float,
    *,
    panel_in: float = 48.0,
    least_in: float = 24.0,
    gap_in: float = 0.125,
    rip: RipPlace = "bottom",
    split: SplitRule = "fewest",
    halves_nominal: bool = True,
    kerf_in: float = 0.125,
    units: Units | None = None,
) -> RowSplit:
    """Splits a length up the slope into rows, bottom row first.

    Args:
        length_in: Length to cover.
        panel_in: Panel width.
        least_in: Least width of a row.
        gap_in: Gap between rows.
        rip: Where ripped rows go.
        split: How a leftover too narrow for one row is split in two.
        halves_nominal: Whether two half rips come out of one sheet though the saw takes its kerf.
        kerf_in: What the saw takes.
        units: What lengths in notes and findings are shown in.

    Returns:
        The rows with the snap line of each, and every split that was compared.

    Raises:
        BadInput: A measure that can't be used.
    """
    rules = RowRules(panel_in, least_in, gap_in, kerf_in, halves_nominal)
    check_measures(length_in, rules)
    options = row_options(length_in, rules)
    chosen = choose_option(options, split)
    shown = units or Units()
    return RowSplit(
        rows=place_rows(chosen, rules, rip),
        sheets_per_column=chosen.sheets_per_column,
        notes=_notes(length_in, chosen, options, rules, shown),
        findings=_findings(length_in, rules, shown),
        options=options,
        chosen=chosen,
    )


def check_measures(length_in: float, rules: RowRules) -> None:
    """Refuses measures that no rows can be made of.

    Raises:
        BadInput: Naming the first measure that can't be used.
    """
    if not (math.isfinite(length_in) and length_in > 0.0):
        raise BadInput("The length to cover must be more than 0; give the length up the slope.")
    if not (math.isfinite(rules.panel_in) and rules.panel_in > 0.0):
        raise BadInput("The panel width must be more than 0; 48 in is usual.")
    if length_in > 10_000 * rules.panel_in:
        raise BadInput("The length to cover is over 10,000 panel widths; check its unit.")
    if not 0.0 < rules.least_in <= rules.panel_in / 2.0 + NOISE_IN:
        raise BadInput("The least row width must be more than 0 and at most half the panel width.")
    if not 0.0 <= rules.gap_in < rules.least_in:
        raise BadInput("The gap must be 0 or more and less than the least row width; 1/8 in is usual.")
    if not 0.0 <= rules.kerf_in < rules.least_in:
        raise BadInput("The saw kerf must be 0 or more and less than the least row width; 1/8 in is usual.")


def row_options(length_in: float, rules: RowRules) -> tuple[RowOption, ...]:
    """Every split worth comparing: one where at most one rip is needed, else least + rest and halves.

    The measures must have passed ``check_measures``. Where the plane was measured, ``length_in`` is its longer end's.
    """
    if rules.planned_in is None:
        return _planned(length_in, rules)
    kept = (fitted(option, length_in, rules) for option in _planned(rules.planned_in, rules))
    return tuple(option for option in kept if option is not None) or switched(length_in, rules)


def fitted(option: RowOption, length_in: float, rules: RowRules) -> RowOption | None:
    """The rows of an option with the outer one as wide as a length asks for; None where it can't be.

    The outer row is the rip at the eave, or at the top where the rips go there; a full row is ripped where none is yet.
    """
    panel = rules.panel_in
    full, rips = (option.full, option.rips_in[1:]) if option.rips_in else (option.full - 1, ())
    outer = length_in - full * panel - sum(rips) - (full + len(rips)) * option.gap_in
    if outer > panel + NOISE_IN or outer - rules.taper_in < rules.least_in - NOISE_IN:
        return None
    if outer >= panel - NOISE_IN and not rips:
        return _made(option.split, full + 1, (), option.gap_in, rules)
    return _made(option.split, full, (outer, *rips), option.gap_in, rules)


def switched(length_in: float, rules: RowRules) -> tuple[RowOption, ...]:
    """The splits of a measured length made afresh, the outer row wide enough at both of its ends where that can be."""
    panel, least, outer = rules.panel_in, rules.least_in, rules.least_in + rules.taper_in
    afresh = _planned(length_in, rules)
    rips, full, gap = afresh[0].rips_in, afresh[0].full, afresh[0].gap_in
    if not rips or not full + len(rips) - 1 or (len(rips) == 1 and rips[0] >= outer - NOISE_IN):
        return afresh
    both, full = (panel + rips[0], full - 1) if len(rips) == 1 else (sum(rips), full)
    options: list[RowOption] = []
    if least - NOISE_IN <= both - outer <= panel + NOISE_IN:
        options.append(_made("least", full, (outer, both - outer), gap, rules))
    if both / 2.0 > outer + NOISE_IN:
        options.append(_made("halves", full, (both / 2.0, both / 2.0), gap, rules))
    return tuple(options) or afresh


def _planned(length_in: float, rules: RowRules) -> tuple[RowOption, ...]:
    panel, gap, least = rules.panel_in, rules.gap_in, rules.least_in
    full = math.floor((length_in + gap + NOISE_IN) / (panel + gap))
    if full == 0:
        return (_option("one", 0, (length_in,), rules),)
    bare = length_in - full * panel - (full - 1) * gap
    if bare <= NOISE_IN:
        return (_option("one", full, (), rules),)
    if bare <= gap + NOISE_IN:
        # No row fits in so little. The gaps open by their share of it; a single row just stays that much short.
        opened = gap + bare / (full - 1) if full > 1 else gap
        return (_option("one", full, (), rules, opened),)
    rip = bare - gap
    if rip >= least - NOISE_IN:
        return (_option("one", full, (rip,), rules),)
    both = panel + rip
    options = [_option("least", full - 1, (least, both - least), rules)]
    if both / 2.0 - least > NOISE_IN:
        options.append(_option("halves", full - 1, (both / 2.0, both / 2.0), rules))
    return tuple(options)


def choose_option(options: tuple[RowOption, ...], split: SplitRule) -> RowOption:
    """The option a rule asks for; with ``fewest`` and equal sheets the halves, which need one saw setting only."""
    for option in options:
        if option.split == split:
            return option
    return min(options, key=lambda option: (round(option.sheets_per_column, 9), option.split == "least"))


def rips_per_sheet(width_in: float, rules: RowRules) -> int:
    """How many rips of this width come out of one sheet, the kerf counted unless they are nominal halves."""
    count = math.floor((rules.panel_in + rules.kerf_in + NOISE_IN) / (width_in + rules.kerf_in))
    if rules.halves_nominal and width_in <= rules.panel_in / 2.0 + NOISE_IN:
        count = max(count, 2)
    return max(count, 1)


def place_rows(option: RowOption, rules: RowRules, rip: RipPlace) -> tuple[Row, ...]:
    """The rows from the eave up with their snap lines: running sums of widths and gaps."""
    full = (rules.panel_in,) * option.full
    rips = option.rips_in
    if rip == "top":
        widths = (*full, *reversed(rips))
    elif rip == "both" and len(rips) > 1:
        widths = (rips[0], *full, *rips[1:])
    else:
        widths = (*rips, *full)
    rows: list[Row] = []
    bottom = 0.0
    for number, width in enumerate(widths, start=1):
        rows.append(Row(number=number, width_in=width, bottom_in=bottom, snap_in=bottom + width))
        bottom += width + option.gap_in
    return tuple(rows)


def _option(
    split: SplitName, full: int, rips: tuple[float, ...], rules: RowRules, gap_in: float | None = None
) -> RowOption:
    return _made(split, full, tuple(sorted(rips)), rules.gap_in if gap_in is None else gap_in, rules)


def _made(split: SplitName, full: int, rips: tuple[float, ...], gap_in: float, rules: RowRules) -> RowOption:
    # Two rips always measure more than a panel together, so no two of one column share a sheet.
    sheets = float(full) + sum(1.0 / rips_per_sheet(width, rules) for width in rips)
    return RowOption(split, full, rips, gap_in, sheets)


def _notes(
    length_in: float, chosen: RowOption, options: tuple[RowOption, ...], rules: RowRules, units: Units
) -> tuple[str, ...]:
    notes: list[str] = []
    full, rips = chosen.full, chosen.rips_in
    if not rips and length_in - full * rules.panel_in - (full - 1) * rules.gap_in > NOISE_IN:
        taken = "the gaps open to take it up" if full > 1 else "the row stays that much short of the top"
        notes.append(f"What is left over is no wider than a gap: {taken}.")
    if len(rips) == 1 and full and rips[0] > rules.panel_in - rules.gap_in * full - NOISE_IN:
        trim = units.length(rules.panel_in - rips[0])
        notes.append(f"Full panels would fit but for the gaps: one row is trimmed by {trim}.")
    for option in options if len(options) > 1 else ():
        first, second = (units.compact(width) for width in option.rips_in)
        mark = ", chosen" if option is chosen else ""
        notes.append(f"{first} + {second}: {_sheets(option.sheets_per_column)} a column{mark}.")
    half = any(abs(2.0 * width - rules.panel_in) < rules.kerf_in for width in rips)
    if half and chosen.sheets_per_column % 1.0:
        notes.append("Two half rips come out of one sheet: each is cut half a kerf short and the gaps take it up.")
    return tuple(notes)


def _sheets(count: float) -> str:
    whole, part = divmod(count, 1.0)
    shown = {0.0: f"{whole:.0f}", 0.5: f"{whole:.0f} 1/2" if whole else "1/2"}.get(part, f"{count:.2f}")
    return f"{shown} {'sheet' if count <= 1.0 else 'sheets'}"


def _findings(length_in: float, rules: RowRules, units: Units) -> tuple[Finding, ...]:
    if length_in >= rules.least_in - NOISE_IN:
        return ()
    text = (
        f"The only row is {units.length(length_in)} wide, under the least width of {units.length(rules.least_in)}: "
        "block its edges."
    )
    return (Finding("row-too-narrow", "error", "", text, COMMON_PRACTICE),)
