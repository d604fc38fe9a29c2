"""One page a plane: its sheets as the carrier meets them, snap lines, start pieces, nails."""

from __future__ import annotations

from workbench.drawing.primitives import Drawing
from workbench.drawing.sheet_plan import piece_size, plane_sheets
from workbench.handout.blocks import LARGE, Block, Boxed, Column, Picture, Table, Words
from workbench.handout.page import Page, Paper, frame_size
from workbench.handout.words import FALL_CAUTION_SHORT, nail_text, slope_text
from workbench.plan import Plan
from workbench.roof.model import Plane
from workbench.sheathing.model import Piece, PlaneSheets


def plane_page(plan: Plan, plane: Plane, paper: Paper) -> Page:
    """The page of one plane, on its side where that prints it larger."""
    drawing = plane_sheets(plan, plane.id)
    upright = _picture(plan, plane, drawing, paper, landscape=False)
    lying = _picture(plan, plane, drawing, paper, landscape=True)
    widths = [frame_size(paper, landscape=landscape)[0] for landscape in (False, True)]
    larger = lying.scaled(widths[1]).pt_per_in > upright.scaled(widths[0]).pt_per_in * 1.001
    picture = lying if larger else upright
    name = plane.name[:1].upper() + plane.name[1:]
    line = f"{slope_text(plane, plan.units)}, {plan.units.length(plane.plane_length_in)} up the slope"
    return Page(name, line, (picture, *_below(plan, plane)), landscape=larger)


def _picture(plan: Plan, plane: Plane, drawing: Drawing, paper: Paper, *, landscape: bool) -> Picture:
    width, height = frame_size(paper, landscape=landscape)
    room = height - sum(block.height(width) for block in _below(plan, plane))
    return Picture(drawing, room, metric=plan.units.system == "mm", largest=12, fill=True, note=_legend(plan, plane))


def _legend(plan: Plan, plane: Plane) -> str:
    sheets = plan.sheets_of(plane.id)
    if sheets is None:
        return "Seen from the eave."
    return "Seen from the eave. White: whole sheet; grey: cut piece; dash-dot: rafter."


def _below(plan: Plan, plane: Plane) -> list[Block]:
    sheets = plan.sheets_of(plane.id)
    blocks: list[Block] = []
    if sheets is not None and sheets.rows:
        blocks.append(_row_table(plan, plane, sheets))
    nails = nail_text(plan, plane.id)
    if nails:
        blocks.append(Words(nails, LARGE))
    return [*blocks, Boxed((Words(FALL_CAUTION_SHORT, LARGE, bold=True, after=0.0),), 2.0)]


def _row_table(plan: Plan, plane: Plane, sheets: PlaneSheets) -> Table:
    """Rows from the eave up: width, snap line as the tape reads it, the piece it starts with."""
    past = plan.job.sheathing.past_tail_in
    columns = [Column("Row", 0.6, bold=True), Column("Width", 1.3), Column("Snap line from the eave", 2.6, bold=True)]
    if past > 0.0:
        columns.append(Column("Hooked on the tail", 1.4))
    columns += [Column(f"Starts {_start_side(plan, plane)} with", 2.0)]
    rows: list[tuple[str, ...]] = []
    for row in sheets.rows:
        last = row is sheets.rows[-1]
        snap = plan.units.tape(row.snap_in)
        cells = [str(row.number), plan.units.inches(row.width_in), f"top edge {snap}" if last else snap]
        if past > 0.0:
            cells.append(plan.units.inches(row.snap_in - past))
        first = start_piece(plan, plane, sheets, row.number)
        cells.append("–" if first is None else f"{first.label}: {_size(plan, first)}")
        rows.append(tuple(cells))
    return Table(tuple(columns), tuple(rows), LARGE, after=6.0)


def start_piece(plan: Plan, plane: Plane, sheets: PlaneSheets, number: int) -> Piece | None:
    """The piece a row begins with, at the end of the plane the crew starts from."""
    mine = [piece for piece in sheets.pieces if piece.row == number]
    pick = max if _start_side(plan, plane) == "right" else min
    return pick(mine, key=lambda piece: sum(x for x, _ in piece.polygon) / len(piece.polygon), default=None)


def _start_side(plan: Plan, plane: Plane) -> str:
    for choice in plan.job.plane_choices:
        if choice.plane == plane.id and choice.start is not None:
            return choice.start
    return plan.job.sheathing.start


def _size(plan: Plan, piece: Piece) -> str:
    return "whole sheet" if piece.whole else piece_size(piece, plan.units)
