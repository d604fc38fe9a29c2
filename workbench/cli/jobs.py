"""Commands on job files: ``new``, ``solve``, ``check``, ``list``, ``handout``, ``schema``."""

from __future__ import annotations

import argparse
import json
import math
import sys
from collections.abc import Callable, Sequence
from pathlib import Path
from typing import TypeVar

from workbench.cli import report
from workbench.errors import BadInput, EditError
from workbench.job.edits import add_wing, set_edge
from workbench.job.model import Heel, Job, OutlineKind, Rafter
from workbench.job.read import read_job
from workbench.job.schema import job_schema
from workbench.job.write import write_bytes, write_job
from workbench.measure import parse_length, parse_points, parse_slope
from workbench.plan import Effort, Plan, solve
from workbench.quantities.lumber_table import BOARD_COLUMNS, board_rows, write_boards_csv
from workbench.quantities.tables import write_csv, write_xlsx

_T = TypeVar("_T")

_KINDS: dict[str, OutlineKind] = {"eave": "eave", "rake": "rake", "wall": "wall"}


def new(arguments: argparse.Namespace) -> int:
    """Write a one-wing job; a file that was there is kept beside it with ``.bak`` added."""
    job = _one_wing(arguments)
    path: Path = arguments.file
    if path.is_file() and path.stat().st_size > 0:
        kept = path.with_name(path.name + ".bak")
        write_bytes(kept, path.read_bytes())
        print(f"{path} was there already; its old content is kept as {kept}.", file=sys.stderr)
    write_job(job, path)
    print(f"Written: {path}")
    return 0


def solve_job(arguments: argparse.Namespace) -> int:
    """Solve a job and print everything about it."""
    plan = _plan(arguments)
    print(json.dumps(report.plan_json(plan), ensure_ascii=False) if arguments.json else _solve_text(plan))
    return _status(plan)


def check(arguments: argparse.Namespace) -> int:
    """Print the findings of a job."""
    plan = _plan(arguments, "live")
    if arguments.json:
        print(json.dumps({"findings": report.findings_json(plan.findings)}, ensure_ascii=False))
    else:
        print(report.findings_text(plan.findings))
    return _status(plan)


def list_quantities(arguments: argparse.Namespace) -> int:
    """Print what to buy, and write it as a table where asked."""
    plan = _plan(arguments)
    if arguments.csv is not None:
        write_csv(plan.quantities, arguments.csv)
    if arguments.boards is not None:
        write_boards_csv(plan.lumber, plan.units, arguments.boards)
    if arguments.xlsx is not None:
        boards = (BOARD_COLUMNS, *board_rows(plan.lumber, plan.units))
        write_xlsx(plan.quantities, arguments.xlsx, boards)
    if arguments.json:
        print(json.dumps({"quantities": report.quantities_json(plan.quantities)}, ensure_ascii=False))
    else:
        print(report.quantities_text(plan.quantities))
    return _status(plan)


def handout(arguments: argparse.Namespace) -> int:
    """Write the handout."""
    from workbench.handout import named_parts, write_handout  # slow to import, so only where it is wanted

    parts = named_parts(arguments.parts)
    plan = _plan(arguments)
    pages = write_handout(plan, arguments.output, arguments.paper, parts)
    print(f"Written: {arguments.output}, {report.pages_text(pages)}")
    return _status(plan)


def schema(arguments: argparse.Namespace) -> int:
    """Print the schema of the job file."""
    del arguments
    print(json.dumps(job_schema(), indent=2))
    return 0


def _plan(arguments: argparse.Namespace, effort: Effort = "full") -> Plan:
    return solve(read_job(arguments.job), effort)


def _status(plan: Plan) -> int:
    return 1 if plan.has_errors else 0


def _solve_text(plan: Plan) -> str:
    return f"{report.summary_text(plan)}\n\n{report.layout_text(plan)}"


def _one_wing(arguments: argparse.Namespace) -> Job:
    outline = parse_points(arguments.outline)
    words: list[str] = arguments.edges.split(",")
    kinds: list[OutlineKind] = [_kind(word) for word in words]
    if len(kinds) != len(outline):
        msg = f"--edges names {len(kinds)} edges but the outline has {len(outline)} corners; give one for each."
        raise BadInput(msg)
    slopes = _per_edge(arguments.slope, len(kinds), "--slope", parse_slope)
    plates = _per_edge(arguments.plate, len(kinds), "--plate", parse_length)
    eaves = [i for i, kind in enumerate(kinds) if kind == "eave"]
    if not eaves:
        msg = "--edges has no eave, so no plane rises; name at least one edge eave."
        raise BadInput(msg)
    first = eaves[0]
    rafter = Rafter(spacing_in=arguments.spacing)
    try:
        job, wing_id = add_wing(
            Job(name=arguments.file.stem or "Untitled roof"),
            outline,
            kinds,
            slope_in_12=12.0 * slopes[first],
            plate_in=plates[first],
            eave_overhang_in=arguments.overhang,
            rake_overhang_in=arguments.rake_overhang,
            rafter=rafter,
            heel=Heel(given="seat", seat_in=_default_seat(rafter.depth_in, slopes[first])),
        )
        corners = job.wing(wing_id).outline
        for i in eaves:
            # A clockwise outline was turned round; each edge is found again by where it lies.
            edge = job.wing(wing_id).edges[_edge_at(corners, outline[i], outline[(i + 1) % len(outline)])]
            own_slope = None if slopes[i] == slopes[first] else 12.0 * slopes[i]
            own_plate = None if plates[i] == plates[first] else plates[i]
            if own_slope is not None or own_plate is not None:
                job = set_edge(job, wing_id, edge.id, slope_in_12=own_slope, plate_in=own_plate)
    except EditError as error:
        raise BadInput(str(error)) from None
    return job


def _kind(word: str) -> OutlineKind:
    kind = _KINDS.get(word.strip())
    if kind is None:
        msg = f'--edges has "{word.strip()}"; each edge is one of eave, rake, wall.'
        raise BadInput(msg)
    return kind


def _per_edge(text: str, count: int, option: str, read: Callable[[str], _T]) -> list[_T]:
    values = [read(part) for part in text.split(",")]
    if len(values) == 1:
        return values * count
    if len(values) != count:
        msg = f"{option} has {len(values)} values but there are {count} edges; give one, or one for each edge."
        raise BadInput(msg)
    return values


def _edge_at(corners: Sequence[tuple[float, float]], a: tuple[float, float], b: tuple[float, float]) -> int:
    ends = {a, b}
    count = len(corners)
    return next(i for i in range(count) if {corners[i], corners[(i + 1) % count]} == ends)


def _default_seat(depth_in: float, tangent: float) -> float:
    """A 2x4 plate's width, or as much of it as keeps the notch within a quarter of the depth, to an eighth below.

    Source of the quarter: WAC 246-359-250; of the full plate width: common practice, no source.
    """
    sine = tangent / math.hypot(1.0, tangent)
    allowed = math.floor(depth_in / 4.0 / sine * 8.0) / 8.0
    return min(3.5, allowed)
