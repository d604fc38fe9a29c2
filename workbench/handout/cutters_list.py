"""The cutter's list: whole sheets summed up, cut sheets in the order they are needed, equal ones together."""

from __future__ import annotations

from dataclasses import dataclass

from workbench.drawing.stock_sheet import is_small, side_words, stock_sheet
from workbench.handout.blocks import LABEL, LARGE, SMALL, Block, Column, Columns, Picture, Table, Words
from workbench.handout.cut_cards import packed
from workbench.handout.page import Page, Paper, flowed, frame_size
from workbench.handout.painter import scale_text
from workbench.handout.saw_summary import summary_blocks
from workbench.handout.words import ranges, sheet_count
from workbench.plan import Plan
from workbench.sheathing.model import StockCut, StockSheet

PATTERN_SCALE, PATTERN_SCALE_METRIC = 32, 40
PATTERN_TALLEST, LARGE_TALLEST = 220.0, 330.0
GAP = 16.0
ROWS_AHEAD = 3
"""So many rows of drawings are looked at for one that fills up a page; the order of need is kept otherwise."""

MOST_LEADERS = 2
"""A sheet whose drawing needs more figures set outside than this is drawn larger."""

SMALL_PIECE_IN = 16.0
"""On a sheet drawn larger, pieces no longer than this either way have their sides in words below, inches."""

EDGES = "Double line: factory edge, the others are sawn."
FACES = "Drawn with the face up that goes up on the roof; turn no piece over."
FACES_ALIKE = (
    'Both faces are alike: what is marked "turn over" is drawn with the face up that goes DOWN on the roof; mark it '
    "when it is cut."
)
STRENGTH = "The sheet's strength runs along its length, which lies across the rafters."
"""What the marks on the drawings say."""

_PATTERN_DIGITS = 2


@dataclass(frozen=True)
class Batch:
    """Stock sheets cut alike, in the order they are needed."""

    sheets: tuple[StockSheet, ...]


def cutters_pages(plan: Plan, paper: Paper) -> list[Page]:
    """The cutter's list; no page where there are no sheets."""
    if not plan.sheathing.stock:
        return []
    blocks: list[Block] = [*_whole_sheets(plan)]
    blocks += _already(plan)
    batches = cut_batches(plan)
    blocks += summary_blocks(plan, [sheet for batch in batches for sheet in batch.sheets])
    cells = _paired(plan, batches, frame_size(paper)[0])
    if batches:
        count = sum(len(batch.sheets) for batch in batches)
        head: list[Block] = [Words(f"Sheets to cut: {count}", LARGE, bold=True, after=6.0)]
        kerf = plan.units.inches(plan.job.sheathing.kerf_in)
        measured = f"Measures are finished sizes; the saw takes {kerf}. Hatched: off-cut. {_scale_note(plan)}"
        head.append(Words(measured, LABEL, after=3.0))
        over = any(cut.turned_over for batch in batches for cut in batch.sheets[0].cuts)
        faces = FACES_ALIKE if over else FACES
        head.append(Words(f"{EDGES} {faces} {STRENGTH}", LABEL, after=6.0))
        blocks = _in_pages(blocks, _headed(head, cells), frame_size(paper))
    finish = _batches(list(plan.sheathing.exposed_stock))
    if finish:
        count = len(plan.sheathing.exposed_stock)
        thick = plan.units.inches(plan.job.sheathing.exposed.thickness_in)
        text = f"Finish panels of {thick} for exposed edges, a stack of their own: {count}. E at an eave, R at a rake"
        heading: list[Block] = [Words(text, LARGE, bold=True, after=6.0)]
        blocks += _headed(heading, _paired(plan, finish, frame_size(paper)[0]))
    return flowed("Cutter's list", sheet_count(plan), blocks, paper)


def _already(plan: Plan) -> list[Block]:
    """What is cut already and not to be cut again."""
    done = plan.sheets_cut.done
    if not done:
        return []
    names, places = _names(plan), _places(plan)
    by_plane: dict[str, list[str]] = {}
    for plane, label in sorted(done, key=lambda place: places.get(place, 0)):
        by_plane.setdefault(names.get(plane, plane), []).append(label)
    listed = "; ".join(f"{name} {', '.join(labels)}" for name, labels in by_plane.items())
    return [Words(f"Cut already, don't cut again: {listed}.", LARGE, bold=True, after=6.0)]


def _in_pages(before: list[Block], rows: list[Block], size: tuple[float, float]) -> list[Block]:
    """The rows after what stands before them; what is left of a page takes a row that comes soon and fits."""
    width, height = size
    left = height - sum(block.height(width) for block in before) % height
    tall = rows[0].height(width)
    left = left - tall if tall <= left else height - tall
    rest = packed([[row] for row in rows[1:]], width, height, left, ROWS_AHEAD)
    return [*before, rows[0], *(block for blocks in rest for block in blocks)]


def _headed(head: list[Block], blocks: list[Block]) -> list[Block]:
    """A heading that stays with the first of what it stands over."""
    return [Columns(((*head, *blocks[:1]),), after=0.0), *blocks[1:]]


def _scale_note(plan: Plan) -> str:
    metric = plan.units.system == "mm"
    return f"{scale_text(PATTERN_SCALE_METRIC if metric else PATTERN_SCALE, metric=metric)} where nothing else is said."


def _paired(plan: Plan, batches: tuple[Batch, ...], width: float) -> list[Block]:
    """Two sheets side by side; one with many small pieces has the whole width to itself, below the pair begun."""
    blocks: list[Block] = []
    held: list[Block] = []
    waiting: list[tuple[Block, ...]] = []
    half = (width - GAP) / 2.0
    for batch in batches:
        picture = _picture(plan, batch, large=False)
        if picture.scaled(half).layout.leaders > MOST_LEADERS:
            cell = _batch_cell(batch, _large_picture(plan, batch, width), _names(plan))
            wide = Columns(((*cell, *_small_pieces(plan, batch)),), after=12.0)
            (held if waiting else blocks).append(wide)
            continue
        waiting.append(_batch_cell(batch, picture, _names(plan)))
        if len(waiting) == 2:
            blocks += [_pair(waiting), *held]
            waiting, held = [], []
    return [*blocks, _pair(waiting), *held] if waiting else blocks


def _pair(cells: list[tuple[Block, ...]]) -> Columns:
    return Columns((*cells, ()) if len(cells) == 1 else tuple(cells), (1.0, 1.0), gap=GAP, after=12.0)


def _names(plan: Plan) -> dict[str, str]:
    return {plane.id: plane.name for plane in plan.roof.planes}


def cut_batches(plan: Plan) -> tuple[Batch, ...]:
    """Sheets that are cut, equal ones together, ordered by the piece that is needed first."""
    return _batches([sheet for sheet in _in_order(plan) if not _is_whole(plan, sheet)])


def _batches(sheets: list[StockSheet]) -> tuple[Batch, ...]:
    groups: dict[tuple[object, ...], list[StockSheet]] = {}
    for sheet in sheets:
        groups.setdefault(_pattern(sheet), []).append(sheet)
    return tuple(Batch(tuple(alike)) for alike in groups.values())


def _in_order(plan: Plan) -> list[StockSheet]:
    """Stock sheets by the first of their pieces that the carrier meets."""
    places = _places(plan)
    last = len(places)

    def first_use(sheet: StockSheet) -> int:
        return min((places.get((cut.plane, cut.label), last) for cut in sheet.cuts), default=last)

    return sorted(plan.sheathing.stock, key=first_use)


def _places(plan: Plan) -> dict[tuple[str, str], int]:
    pieces = [piece for sheets in plan.sheathing.planes for piece in sheets.pieces]
    return {(piece.plane, piece.label): i for i, piece in enumerate(pieces)}


def _is_whole(plan: Plan, sheet: StockSheet) -> bool:
    if len(sheet.cuts) != 1:
        return False
    sheets = plan.sheets_of(sheet.cuts[0].plane)
    pieces = sheets.pieces if sheets else ()
    return any(piece.label == sheet.cuts[0].label and piece.whole for piece in pieces)


def _pattern(sheet: StockSheet) -> tuple[object, ...]:
    """What the saw does: the shapes and where they lie, whatever they are called."""
    cuts = tuple(
        (cut.turned_over, *((round(x, _PATTERN_DIGITS), round(y, _PATTERN_DIGITS)) for x, y in cut.polygon))
        for cut in _sorted_cuts(sheet)
    )
    return sheet.length_in, sheet.width_in, cuts


def _sorted_cuts(sheet: StockSheet) -> list[StockCut]:
    """Cuts from the lower left of the sheet."""
    return sorted(sheet.cuts, key=lambda cut: min((round(x, _PATTERN_DIGITS), y) for x, y in cut.polygon))


def _whole_sheets(plan: Plan) -> list[Block]:
    """How many sheets go up uncut, by plane."""
    names = {plane.id: plane.name for plane in plan.roof.planes}
    whole: dict[str, list[str]] = {}
    for sheet in _in_order(plan):
        if _is_whole(plan, sheet):
            whole.setdefault(sheet.cuts[0].plane, []).append(sheet.cuts[0].label)
    count = sum(len(labels) for labels in whole.values())
    if not count:
        return [Words("No whole sheets: every sheet is cut.", LARGE, bold=True, after=8.0)]
    rows = tuple(("[]", names.get(plane, plane), str(len(labels)), ranges(labels)) for plane, labels in whole.items())
    columns = (Column("", 0.3), Column("Plane", 1.6, bold=True), Column("Sheets", 0.8, "right"), Column("Pieces", 5.0))
    return [Words(f"Whole sheets, no cut: {count}", LARGE, bold=True), Table(columns, rows, LABEL, after=12.0)]


def _letters(batch: Batch) -> list[str]:
    """What the pieces are called on the drawing.

    Nothing where there is one piece; their labels on a single sheet for one plane; otherwise letters.
    """
    cuts = _sorted_cuts(batch.sheets[0])
    if len(cuts) == 1:
        return []
    labelled = len(batch.sheets) == 1 and len({cut.plane for cut in cuts}) == 1
    return [cut.label if labelled else chr(ord("a") + i % 26) for i, cut in enumerate(cuts)]


def _large_picture(plan: Plan, batch: Batch, width: float) -> Picture:
    """No larger than its figures need, so that more of them go on a page."""
    usual = PATTERN_SCALE_METRIC if plan.units.system == "mm" else PATTERN_SCALE
    smaller = _picture(plan, batch, large=True, largest=usual * 3 // 4)
    if smaller.scaled(width).layout.leaders <= MOST_LEADERS:
        return smaller
    return _picture(plan, batch, large=True, largest=usual // 2)


def _picture(plan: Plan, batch: Batch, *, large: bool, largest: int = 0) -> Picture:
    """The sheet's drawing; ``large`` for the whole width of the page, at one to ``largest`` at most."""
    first = batch.sheets[0]
    cuts = _sorted_cuts(first)
    model = StockSheet(first.name, first.length_in, first.width_in, tuple(cuts))
    names = _letters(batch) or [""] * len(cuts)
    drawing = stock_sheet(model, plan.units, names=names, least_in=SMALL_PIECE_IN if large else 0.0)
    metric = plan.units.system == "mm"
    usual = PATTERN_SCALE_METRIC if metric else PATTERN_SCALE
    if large:
        return Picture(drawing, LARGE_TALLEST, metric=metric, largest=largest, left=True)
    return Picture(drawing, PATTERN_TALLEST, metric=metric, largest=usual, left=True, usual=usual)


def _small_pieces(plan: Plan, batch: Batch) -> list[Block]:
    """The sides of pieces that are too small for figures on the drawing."""
    cuts = _sorted_cuts(batch.sheets[0])
    small = [
        f"{name}: {side_words(cut, plan.units)}"
        for name, cut in zip(_letters(batch) or [""] * len(cuts), cuts, strict=True)
        if is_small(cut, SMALL_PIECE_IN)
    ]
    return [Words(f"Sides of the small pieces, from the lower left round: {'; '.join(small)}.", LABEL)] if small else []


def _batch_cell(batch: Batch, picture: Picture, names: dict[str, str]) -> tuple[Block, ...]:
    count = len(batch.sheets)
    if count == 1:
        return Words(
            _sheet_line(batch.sheets[0], _letters(batch), names), LABEL, bold=True, tick=True, after=3.0
        ), picture
    rows = [_sheet_line(sheet, _letters(batch), names) for sheet in batch.sheets]
    return (
        Words(f"Cut {count} like this", LARGE, bold=True, after=3.0),
        picture,
        *(Words(text, LABEL if count <= 8 else SMALL, tick=True, after=2.0) for text in rows),
    )


def _sheet_line(sheet: StockSheet, letters: list[str], names: dict[str, str]) -> str:
    """Where the pieces of one sheet go: ``a front main 1A, b back main 3C``, planes named once."""
    parts: list[str] = []
    last = ""
    for i, cut in enumerate(_sorted_cuts(sheet)):
        plane = names.get(cut.plane, cut.plane)
        said = cut.label if plane == last else f"{plane} {cut.label}"
        parts.append(f"{letters[i]} = {said}" if letters and letters[i] != cut.label else said)
        last = plane
    return f"{sheet.name}: {', '.join(parts)}"
