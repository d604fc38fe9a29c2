"""``compare``: the alternatives of a job side by side."""

from __future__ import annotations

import argparse
import json
from collections.abc import Sequence

from workbench.compare import COMPARED, Figures, compare, compare_rows
from workbench.findings import SCREENING
from workbench.job.read import read_job
from workbench.measure import Units

Json = dict[str, object]

_HOW_TO_ADD = (
    'This job has no alternatives. Add one in the Quantities stage of the window, or to the job file: "alternatives": '
    '[{"id": "steeper", "name": "8 in 12", "changes": [{"input": "slope_in_12", "value": 8}]}].'
)


def compare_job(arguments: argparse.Namespace) -> int:
    """Print the job and its alternatives side by side; their findings do not change the status."""
    job = read_job(arguments.job)
    figures = compare(job, "full")
    if arguments.json:
        print(
            json.dumps({"job": job.name, "alternatives": [_json(f, figures[0]) for f in figures]}, ensure_ascii=False)
        )
        return 0
    print(_text(figures, Units(job.units.system, job.units.fraction)))
    if not job.alternatives:
        print(f"\n{_HOW_TO_ADD}")
    print(SCREENING)
    return 0


def _json(figures: Figures, job: Figures) -> Json:
    return {
        "id": figures.id,
        "name": figures.name,
        "changes": list(figures.changes),
        "problem": figures.problem,
        "slopes_in_12": list(figures.slopes_in_12),
        "area_sqft": figures.area_sqft,
        "sheets": {
            "count": figures.sheets,
            "at_least": figures.at_least,
            "proven": figures.sheets == figures.at_least and not figures.problem,
        },
        "members": figures.members,
        "lumber_bought_in": figures.lumber_bought_in,
        "lumber_placed_in": figures.lumber_placed_in,
        "longest_rafter_in": figures.longest_rafter_in,
        "ridge_in": figures.ridge_in,
        "price": figures.price,
        "unpriced": figures.unpriced,
        "hours": figures.hours,
        "errors": figures.errors,
        "warnings": figures.warnings,
        "differences": _differences(figures, job),
    }


def _differences(figures: Figures, job: Figures) -> Json:
    """Each figure less the job's own; empty for what can't be made, without what is not known on both sides."""
    if figures.problem or job.problem:
        return {}
    pairs = ((key, getattr(figures, key), getattr(job, key)) for key in COMPARED)
    return {key: value - before for key, value, before in pairs if value is not None and before is not None}


def _text(figures: Sequence[Figures], units: Units) -> str:
    rows = compare_rows(figures, units)
    cells = [["", *(f.name for f in figures)]]
    for row in rows:
        shown = [f"{v} ({d})" if d else v for v, d in zip(row.values, row.differences, strict=True)]
        cells.append([row.words, *shown])
    widths = [max(len(line[i]) for line in cells) for i in range(len(cells[0]))]
    lines = ["   ".join(cell.ljust(width) for cell, width in zip(line, widths, strict=True)).rstrip() for line in cells]
    said = [f"{f.name}: {f.problem or '; '.join(f.changes) or 'nothing differs from the job'}" for f in figures[1:]]
    return "\n".join([*lines, *([""] if said else []), *said])
