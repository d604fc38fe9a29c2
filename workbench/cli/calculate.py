"""``slope`` and ``rows``: answers that need no job."""

from __future__ import annotations

import argparse
import json

from workbench.findings import SCREENING
from workbench.framing.span import SpanAnswer, SpanInput, greatest_span
from workbench.measure import Units
from workbench.roof.brackets import Change
from workbench.roof.nominal import miss_in_words, move_in_words
from workbench.roof.slope_report import SlopeReport, slope_report
from workbench.sheathing.rows import RowSplit, split_rows

_UNITS = Units()


def slope(arguments: argparse.Namespace) -> int:
    """Find the slope at which a rafter lands; also when it can't be built so the status is 0."""
    report = slope_report(
        arguments.run,
        arguments.rise,
        arguments.heel_low,
        arguments.heel_high,
        arguments.depth,
        arguments.whole,
        arguments.bracket,
        arguments.target,
    )
    print(json.dumps(report.as_json(), ensure_ascii=False) if arguments.json else _slope_text(report))
    return 0


def rows(arguments: argparse.Namespace) -> int:
    """Split a plane length into rows."""
    split = split_rows(
        arguments.length,
        panel_in=arguments.panel,
        least_in=arguments.least,
        gap_in=arguments.gap,
        rip=arguments.rip,
        split=arguments.split,
    )
    print(json.dumps(_rows_json(split), ensure_ascii=False) if arguments.json else _rows_text(split))
    return 0


def span(arguments: argparse.Namespace) -> int:
    """Find the greatest span of a rafter."""
    asked = SpanInput(
        species=arguments.species,
        grade=arguments.grade,
        size=arguments.size,
        spacing_in=arguments.spacing,
        live_psf=arguments.live,
        dead_psf=arguments.dead,
        deflection=arguments.deflection,
        load="snow" if arguments.snow else "roof_live",
        basis=arguments.basis,
    )
    answer = greatest_span(asked)
    if arguments.json:
        print(json.dumps(_span_json(answer), ensure_ascii=False))
    else:
        print(f"Greatest span {_UNITS.length(answer.span_in)} on the level, governed by {answer.governs}")
        print(f"{answer.trace.values}\n{answer.source}\n{SCREENING}")
    return 0


def _span_json(answer: SpanAnswer) -> dict[str, object]:
    trace = answer.trace
    return {
        "span_in": answer.span_in,
        "governs": answer.governs,
        "trace": {"formula": trace.formula, "values": trace.values, "source": trace.source},
        "source": answer.source,
    }


def _slope_text(report: SlopeReport) -> str:
    answer, bracket = report.answer, report.bracket
    lines = [
        f"Slope {_UNITS.slope(answer.tangent)}, {_UNITS.angle(answer.angle, 2)}, called {report.called_in_12} in 12",
        f"Length along the slope {_UNITS.tape(answer.length_in)}",
        "",
        "Framed at a whole slope instead:",
        *(f"  {miss_in_words(nominal, _UNITS)}" for nominal in report.nominal),
        "",
        f"Price bracket from {bracket.bracket.from_in_12:g} in 12: {'over' if bracket.over else 'under'}",
    ]
    if bracket.to_reach_target:
        lines.append(f"To come to {bracket.target_in_12:g} in 12, one of these alone:")
        lines += [f"  {_change(change)}" for change in bracket.to_reach_target]
    lines += _findings_text(report)
    return "\n".join(lines)


def _change(change: Change) -> str:
    return move_in_words(change.move, _UNITS)


def _findings_text(report: SlopeReport) -> list[str]:
    return ["", *(f"{finding.severity}: {finding.text}" for finding in report.findings)] if report.findings else []


def _rows_json(split: RowSplit) -> dict[str, object]:
    return {
        "rows": [{"width_in": row.width_in, "snap_in": row.snap_in} for row in split.rows],
        "sheets_per_column": split.sheets_per_column,
        "notes": [*split.notes, *(finding.text for finding in split.findings)],
    }


def _rows_text(split: RowSplit) -> str:
    lines = ["Row   width        snap line from the eave"]
    lines += [
        f"{row.number:>3}   {_UNITS.length(row.width_in):<12} {_UNITS.tape(row.snap_in)}"
        for row in reversed(split.rows)
    ]
    lines.append(f"Sheets a column: {split.sheets_per_column:g}")
    lines += [*split.notes, *(f"{finding.severity}: {finding.text}" for finding in split.findings)]
    return "\n".join(lines)
