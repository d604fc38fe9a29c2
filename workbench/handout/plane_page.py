"""One page a plane: its sheets as the carrier meets them, snap lines, start pieces, nails."""

from __future__ import annotations

import math
from collections.abc import Callable

from workbench.drawing.exposed_plan import exposed_words
from workbench.drawing.safety_plan import anchors_on, safety_on_plane
from workbench.drawing.shapes import box
from workbench.drawing.sheet_plan import Part, piece_size, plane_sheets
from workbench.handout.blocks import LARGE, Block, Boxed, Column, Columns, Picture, Table, Words
from workbench.handout.edge_words import plane_edge_words
from workbench.handout.page import Page, Paper, frame_size
from workbench.handout.words import FALL_CAUTION_SHORT, clip_text, listed, nail_text, slope_text
from workbench.plan import Plan
from workbench.roof.model import Plane
from workbench.safety.words import rope_words
from workbench.sheathing.model import Piece, PlaneSheets

MOST_FINDINGS = 2
MOST_ROPES = 4

SMALL_SCALE = 100
"""Down to this scale a plane stays on one page whatever its labels need."""

LEAST_SCALE = 128
"""Down to this one where nearly all labels stand in their pieces; below it a plane is printed in parts."""

MOST_PARTS = 6


def plane_pages(plan: Plan, plane: Plane, paper: Paper) -> list[Page]:
    """The page of one plane, on its side where that prints it larger; a long plane in parts."""
    name = plane.name[:1].upper() + plane.name[1:]
    line = f"{slope_text(plane, plan.units)}, {plan.units.length(plane.plane_length_in)} up the slope"
    sheets = plan.sheets_of(plane.id)
    pieces = len(sheets.pieces) if sheets else 0
    pages: list[Page] = []
    legible: list[Page] = []
    for count in range(1, MOST_PARTS + 1):
        parts = _parts(plane, count)
        titles = [name if count == 1 else f"{name}, part {i} of {count}" for i in range(1, count + 1)]
        set_out = [_set_out(plan, plane, paper, part) for part in parts]
        pages = [
            Page(title, line, (picture, *_below(plan, plane, landscape=landscape)), landscape=landscape)
            for title, (picture, landscape) in zip(titles, set_out, strict=True)
        ]
        scaled = [picture.scaled(frame_size(paper, landscape=landscape)[0]) for picture, landscape in set_out]
        leaders = sum(view.layout.leaders for view in scaled)
        coarsest = max(view.scale or math.inf for view in scaled)
        if coarsest <= SMALL_SCALE or (coarsest <= LEAST_SCALE and leaders <= 0.1 * pieces):
            return pages
        if not legible and coarsest <= LEAST_SCALE:
            legible = pages
    return legible or pages  # more parts are no help: the fewest that can be read


def _parts(plane: Plane, count: int) -> list[Part | None]:
    if count == 1:
        return [None]
    left, _, right, _ = box(plane.polygon)
    step = (right - left) / count
    return [(left + i * step, left + (i + 1) * step) for i in range(count)]


def _set_out(plan: Plan, plane: Plane, paper: Paper, part: Part | None) -> tuple[Picture, bool]:
    """The picture of a part of a plane, and whether it is larger on its side."""
    left, right = part or (-math.inf, math.inf)
    drawing = plane_sheets(plan, plane.id, part=part) + safety_on_plane(plan, plane.id, left, right)
    note = "Seen from the eave. White: whole sheet; grey: cut piece; dash-dot: rafter."
    metric = plan.units.system == "mm"

    def picture(*, landscape: bool) -> Picture:
        width, height = frame_size(paper, landscape=landscape)
        room = height - sum(block.height(width) for block in _below(plan, plane, landscape=landscape))
        return Picture(drawing, max(room, 40.0), metric=metric, largest=12, fill=True, note=note)

    upright, lying = picture(landscape=False), picture(landscape=True)
    known = upright.scaled(frame_size(paper)[0])
    better = lying.scaled_over(frame_size(paper, landscape=True)[0], known.pt_per_in)
    return (upright, False) if better is None else (lying, True)


def _below(plan: Plan, plane: Plane, *, landscape: bool) -> list[Block]:
    """What stands under the drawing: below each other upright, side by side on a page on its side."""
    sheets = plan.sheets_of(plane.id)
    table: list[Block] = [_row_table(plan, plane, sheets)] if sheets is not None and sheets.rows else []
    nails = nail_text(plan, plane.id)
    rest = [*_findings(plan, plane), *([Words(nails, LARGE, after=6.0)] if nails else [])]
    edges = plane_edge_words(plan, plane.id)
    rest += [Words(edges, LARGE, after=6.0)] if edges else []
    exposed = exposed_words(plan, plane.id)
    rest += [Words(exposed, LARGE, bold=True, after=6.0)] if exposed else []
    clips = clip_text(plan, plane.id)
    rest += [Words(clips, LARGE, bold=True, after=6.0)] if clips else []
    rest += [Words(text, LARGE, bold=True, after=2.0) for text in _ropes(plan, plane)]
    rest.append(Boxed((Words(FALL_CAUTION_SHORT, LARGE, bold=True, after=0.0),), 2.0))
    if landscape and table:
        return [Columns((tuple(table), tuple(rest)), (1.5, 1.0), after=0.0)]
    return [*table, *rest]


def _ropes(plan: Plan, plane: Plane) -> list[str]:
    """The rope limits of the anchors on this plane, and which edges they do not keep anyone from."""
    here = [anchor for anchor, _ in anchors_on(plan, plane)]
    if not here:
        return []
    shown = [f"{anchor.name} {rope_words(anchor, plan.units)}" for anchor in here[:MOST_ROPES]]
    more = ", more on the safety page" if len(here) > MOST_ROPES else ""
    lines = [f"Rope at most: {', '.join(shown)}{more}."]
    exposed = {e.fall.name for anchor in here for e in anchor.exposed if e.fall.plane == plane.id}
    if exposed:
        names = sorted(name.removesuffix(f" of {plane.name}") for name in exposed)
        lines.append(f"NOT restrained: {listed(names)}, cross-hatched.")
    return lines


def _findings(plan: Plan, plane: Plane) -> list[Block]:
    """What is wrong on this plane, in a few words; the rest stands on the page of findings."""
    mine = [found for found in plan.findings if found.object == plane.id and found.severity != "note"]
    shown = [Words(f"{found.severity.capitalize()}: {found.text}", LARGE) for found in mine[:MOST_FINDINGS]]
    if len(mine) > MOST_FINDINGS:
        shown.append(Words(f"{len(mine) - MOST_FINDINGS} more on the page of findings.", LARGE))
    return list(shown)


def _row_table(plan: Plan, plane: Plane, sheets: PlaneSheets) -> Table:
    """Rows from the eave up: width, snap line as the tape reads it, the piece it starts with."""
    past = plan.job.sheathing.past_tail_in
    columns = [Column("Row", 0.75, bold=True), Column("Width", 1.15), Column("Snap line from the eave", 3.2, bold=True)]
    if past > 0.0:
        columns.append(Column("Hooked on the tail", 1.4))
    columns += [Column(f"Starts {_start_side(plan, plane)} with", 2.3)]
    rows: list[tuple[str, ...]] = []
    for row in sheets.rows:
        last = row is sheets.rows[-1]
        snap = _at_ends(row.snap_in, row.snap_ends_in, plan.units.tape)
        width = _at_ends(row.width_in, row.width_ends_in, plan.units.compact)
        cells = [str(row.number), width, f"top {snap}" if last else snap]
        if past > 0.0:
            hooked = None if row.snap_ends_in is None else (row.snap_ends_in[0] - past, row.snap_ends_in[1] - past)
            cells.append(_at_ends(row.snap_in - past, hooked, plan.units.inches))
        first = start_piece(plan, plane, sheets, row.number)
        cells.append("–" if first is None else f"{first.label}: {_size(plan, first)}")
        rows.append(tuple(cells))
    return Table(tuple(columns), tuple(rows), LARGE, after=6.0)


def _at_ends(everywhere: float, ends: tuple[float, float] | None, shown: Callable[[float], str]) -> str:
    """A length, or what it is at the left and the right end where these differ."""
    return shown(everywhere) if ends is None else f"L {shown(ends[0])}, R {shown(ends[1])}"


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
