"""The table for the day: how wide to rip the outer row for the length that the framing really has."""

from __future__ import annotations

from dataclasses import dataclass, replace

from workbench.handout.blocks import LARGE, Block, Column, Columns, Table, Words
from workbench.handout.page import Page, Paper, flowed, frame_size
from workbench.handout.words import listed
from workbench.measure import Units
from workbench.plan import Plan
from workbench.sheathing.first_row import FirstRow, can_be_measured, first_row_table
from workbench.sheathing.solve import plane_rules

GAP = 22.0


@dataclass(frozen=True)
class DayTable:
    """One table: the planes it serves, their outer row, the length drawn, and a line a length.

    Attributes:
        planes: Names of the planes.
        row: Number of the outer row.
        planned_in: Length up the slope as drawn.
        planned_widths_in: Widths of all rows as planned, from the eave up.
        lines: Shortest first.
    """

    planes: tuple[str, ...]
    row: int
    planned_in: float
    planned_widths_in: tuple[float, ...]
    lines: tuple[FirstRow, ...]


def day_tables(plan: Plan) -> tuple[DayTable, ...]:
    """One table for all planes that are alike; none for planes of other shapes, and those measured already."""
    measured = {one.plane for one in plan.job.site.as_built.planes}
    found: dict[tuple[int, float, tuple[float, ...], tuple[FirstRow, ...]], list[str]] = {}
    for sheets in plan.sheathing.planes:
        plane = plan.plane(sheets.plane)
        if plane is None or plane.id in measured or not can_be_measured(plane) or not sheets.rows:
            continue
        rules = plane_rules(plan.job.sheathing, plan.job.plane_choices, plane.id)
        lines = tuple(first_row_table(sheets, plane, rules.rows, rules.rip, plan.units))
        outer = sheets.rows[-1 if rules.rip == "top" else 0]
        row, widths = outer.number, tuple(round(one.width_in, 6) for one in sheets.rows)
        if not any(_as_drawn(line, plane.plane_length_in, plan.units) for line in lines):
            # Between two round steps: the row of the plane's own page has to be found here too.
            drawn = FirstRow(plane.plane_length_in, outer.width_in, widths, switched=False)
            lines = tuple(sorted((*lines, drawn), key=lambda line: line.measured_in))
        found.setdefault((row, round(plane.plane_length_in, 6), widths, lines), []).append(plane.name)
    return tuple(DayTable(tuple(names), *key) for key, names in found.items())


def planes_without(plan: Plan) -> list[str]:
    """Names of the planes with rows that two lengths do not tell: those of other than four plain sides."""
    planes = (plan.plane(sheets.plane) for sheets in plan.sheathing.planes if sheets.rows)
    return [plane.name for plane in planes if plane is not None and not can_be_measured(plane)]


def first_row_pages(plan: Plan, paper: Paper) -> list[Page]:
    """The tables, two halves side by side; no page where no plane can be told by two lengths."""
    tables = day_tables(plan)
    if not tables:
        return []
    blocks: list[Block] = [
        Words(
            "Before the first rip: tape each plane on the rafters, tail to top, along both ends. Each end of the row "
            "gets the width beside its own length; snap a line between. All other rows stay as planned.",
            LARGE,
            after=4.0,
        ),
    ]
    if any(line.switched for table in tables for line in table.lines):
        text = (
            "Where another row has a width too, the first alone would be too narrow or over a sheet: rip both. If only "
            "one end falls there, cut nothing; enter both lengths in the job and print again."
        )
        blocks.append(Words(text, LARGE, after=8.0))
    for table in tables:
        blocks += _table_blocks(table, plan.units, frame_size(paper))
    without = planes_without(plan)
    if without:
        names = listed(without)
        text = (
            f"No table: {names}. Two lengths do not tell such a plane. Tape its longest rafter; where that differs "
            "from the length on the plane's own page, change the drawing and print again before the first rip."
        )
        blocks.append(Words(text, LARGE))
    return flowed("First row as measured", "Plane length on the day and the width to rip", blocks, paper)


def _table_blocks(table: DayTable, units: Units, room: tuple[float, float]) -> list[Block]:
    names = listed(table.planes)
    head = f"{names[:1].upper()}{names[1:]}: drawn {units.tape(table.planned_in)}"
    half = (len(table.lines) + 1) // 2
    parts = (_part(table, table.lines[:half], units), _part(table, table.lines[half:], units))
    halves = Columns((parts[:1], parts[1:]), (1.0, 1.0), gap=GAP, after=0.0)
    # One block, so that no table stands without its head.
    block = Columns(((Words(head, LARGE, bold=True, after=2.0), halves),), (1.0,), after=12.0)
    width, height = room
    if block.height(width) > height and half > 1:
        lower, upper = replace(table, lines=table.lines[:half]), replace(table, lines=table.lines[half:])
        return [*_table_blocks(lower, units, room), *_table_blocks(upper, units, room)]
    return [block]


def _part(table: DayTable, lines: tuple[FirstRow, ...], units: Units) -> Table:
    columns = [Column("Measured", 1.25, "right"), Column(f"Row {table.row}", 1.15, "right", bold=True)]
    switched = any(line.switched for line in lines)
    other = _one_other(table)
    if not switched:
        columns.append(Column("", 0.9))
    elif other is None:
        columns.append(Column("Other rows", 1.6))
    else:
        columns.append(Column(f"Row {other}", 1.15, "right", bold=True))
    rows = tuple(
        (
            units.inches(line.measured_in),
            units.inches(line.outer_in),
            (_others(line, table, other, units) if switched else "")
            or ("drawn" if _as_drawn(line, table.planned_in, units) else ""),
        )
        for line in lines
    )
    return Table(tuple(columns), rows, LARGE, after=0.0)


def _as_drawn(line: FirstRow, planned_in: float, units: Units) -> bool:
    """Whether a length reads as the plane's drawn one does."""
    return units.inches(line.measured_in) == units.inches(planned_in)


def _changed(line: FirstRow, table: DayTable) -> tuple[tuple[int, float], ...] | None:
    """Rows beside the outer one that are not as planned, with their widths; None where there are more or fewer rows."""
    planned = table.planned_widths_in
    if not line.switched:
        return ()
    if len(line.widths_in) != len(planned):
        return None
    return tuple(
        (number, width)
        for number, (width, before) in enumerate(zip(line.widths_in, planned, strict=True), start=1)
        if number != table.row and abs(width - before) > 1.0 / 32.0
    )


def _one_other(table: DayTable) -> int | None:
    """The one row beside the outer one that ever changes, or None where that can't head a column."""
    changed = [_changed(line, table) for line in table.lines]
    numbers = {number for rows in changed for number, _ in rows or ()}
    return numbers.pop() if None not in changed and len(numbers) == 1 else None


def _others(line: FirstRow, table: DayTable, other: int | None, units: Units) -> str:
    """Rows beside the outer one that are not as planned."""
    changed = _changed(line, table)
    if changed is None:
        widths = ", ".join(units.compact(width) for width in line.widths_in)
        return f"{len(line.widths_in)} rows: {widths}"
    if other is not None:
        return units.inches(dict(changed).get(other, table.planned_widths_in[other - 1]))
    return ", ".join(f"row {number}: {units.compact(width)}" for number, width in changed)
