"""One stock sheet with what is cut from it. x along the sheet, y across it, inches."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import replace

from workbench.drawing.primitives import Drawing, Line, Polygon, Primitive, Text
from workbench.drawing.shapes import area, box, direction_deg, distance_to_line, middle, sides, visual_centre
from workbench.measure import Units
from workbench.roof.model import Point2
from workbench.sheathing.model import StockCut, StockSheet

MERGE_IN = 0.3
"""Marks closer than this are the two sides of one saw cut; the one nearer to the corner is given."""

SQUARE_IN = 1.0 / 64.0
"""A side that leaves the sheet's direction by no more than this runs along or across it."""

FACTORY_IN = 0.9
"""How far inside a factory edge its second line is drawn, inches."""

TICK_IN = 2.0
"""Length of a mark at the sheet's edge, inches."""

TEXT_OFF_MM = 0.7
"""Printed distance of a mark's figure from its end."""


def stock_sheet(
    sheet: StockSheet, units: Units, *, names: Sequence[str] | None = None, least_in: float = 0.0
) -> Drawing:
    """A sheet's cuts with all their measures, off-cuts hatched.

    Square pieces carry their size; others the length of each side. Running marks along the sheet's edges say where the
    cuts meet them, from the lower left corner.

    Args:
        sheet: The sheet.
        units: The job's formatter.
        names: What to write on each cut instead of its piece label.
        least_in: Pieces no longer than this either way are named only; ``side_words`` says their sides.
    """
    whole = ((0.0, 0.0), (sheet.length_in, 0.0), (sheet.length_in, sheet.width_in), (0.0, sheet.width_in))
    items: list[Primitive] = [Polygon(f"stock:{sheet.name}", "off_cut", whole, hatch="diagonal")]
    texts: list[Primitive] = []
    for i, cut in enumerate(sheet.cuts):
        key = f"piece:{cut.plane}/{cut.label}"
        items.append(Polygon(key, "sheet_whole", cut.polygon))
        items += [Line(key, "sheet", start, end) for start, end in factory_edges(cut, sheet)]
        name = names[i] if names is not None else cut.label
        if is_small(cut, least_in):
            at = visual_centre(cut.polygon, 8)
            texts.append(Text(key, "title", at, name, "label", within=cut.polygon))
        else:
            texts += _piece(key, cut, name, units, whole)
    items += [Line(f"stock:{sheet.name}", "sheet", start, end) for start, end in sides(whole)]
    large = tuple(cut for cut in sheet.cuts if not is_small(cut, least_in))
    items += _running_marks(replace(sheet, cuts=large), units)
    return Drawing((*items, *texts))


def factory_edges(cut: StockCut, sheet: StockSheet) -> list[tuple[Point2, Point2]]:
    """A second line inside each side of a piece that is the sheet's own edge, and not sawn."""
    found: list[tuple[Point2, Point2]] = []
    for (x0, y0), (x1, y1) in sides(cut.polygon):
        if math.dist((x0, y0), (x1, y1)) <= 2.0 * FACTORY_IN:
            continue
        for axis, limit, inward in (
            (1, 0.0, FACTORY_IN),
            (1, sheet.width_in, -FACTORY_IN),
            (0, 0.0, FACTORY_IN),
            (0, sheet.length_in, -FACTORY_IN),
        ):
            # The end gap leaves a piece an eighth short of the sheet: still its own end.
            if max(abs((x0, y0)[axis] - limit), abs((x1, y1)[axis] - limit)) <= MERGE_IN:
                off = (inward, 0.0) if axis == 0 else (0.0, inward)
                found.append(((x0 + off[0], y0 + off[1]), (x1 + off[0], y1 + off[1])))
    return found


def is_small(cut: StockCut, least_in: float) -> bool:
    """Whether a piece is no longer than a length either way."""
    x0, y0, x1, y1 = box(cut.polygon)
    return max(x1 - x0, y1 - y0) <= least_in


def side_words(cut: StockCut, units: Units) -> str:
    """The sides of a piece, round from its lower left: ``along 6 1/4, across 4 1/8, slant 7 1/2``."""
    ring = list(cut.polygon) if area(cut.polygon) > 0.0 else list(reversed(cut.polygon))
    first = min(range(len(ring)), key=lambda i: (round(ring[i][1], 2), ring[i][0]))
    said: list[str] = []
    for start, end in sides(ring[first:] + ring[:first]):
        length = math.dist(start, end)
        if length > MERGE_IN:
            dx, dy = abs(end[0] - start[0]), abs(end[1] - start[1])
            way = "along" if dy < SQUARE_IN else "across" if dx < SQUARE_IN else "slant"
            said.append(f"{way} {units.compact(length)}")
    return ", ".join(said)


def is_rectangle(ring: Sequence[Point2]) -> bool:
    """Whether a piece is square at all corners and lies square in its axes."""
    x0, y0, x1, y1 = box(ring)
    return abs(abs(area(ring)) - (x1 - x0) * (y1 - y0)) < 1e-3


def _piece(key: str, cut: StockCut, name: str, units: Units, whole: Sequence[Point2]) -> Iterator[Text]:
    x0, y0, x1, y1 = box(cut.polygon)
    at = visual_centre(cut.polygon, 8)
    if is_rectangle(cut.polygon):
        size = f"{units.compact(y1 - y0)} × {units.compact(x1 - x0)}"
        tall = x1 - x0 < y1 - y0
        text = f"{name}\n{size}" if name else size
        stacked = size.replace(" × ", " ×\n")
        shorter = (f"{name}\n{stacked}", name) if name else (stacked,)
        yield Text(key, "title", at, text, "label", 90.0 if tall else 0.0, within=cut.polygon, shorter=shorter)
        return
    if name or cut.turned_over:
        said = "\n".join(part for part in (name, "turn over" if cut.turned_over else "") if part)
        shorter = (said.replace("\n", " "), f"{name} over".strip()) if cut.turned_over else ()
        yield Text(key, "title", at, said, "label", within=cut.polygon, shorter=shorter)
    anticlockwise = area(cut.polygon) > 0.0
    for start, end in sides(cut.polygon):
        length = math.dist(start, end)
        if length > MERGE_IN and not _marked_off(start, end, whole):
            a, b = (start, end) if anticlockwise else (end, start)
            shown, angle = units.compact(length), direction_deg(a, b)
            yield Text(key, "dimension", middle(a, b), shown, "small", angle, shift=0.7, span=length)


def _marked_off(start: Point2, end: Point2, whole: Sequence[Point2]) -> bool:
    """Whether a side runs along the sheet's edge from one of its corners, where the running marks already give it."""
    along = any(max(distance_to_line(p, a, b) for p in (start, end)) < MERGE_IN for a, b in sides(whole))
    return along and any(math.dist(corner, point) < MERGE_IN for corner in whole for point in (start, end))


def _running_marks(sheet: StockSheet, units: Units) -> Iterator[Line | Text]:
    """Where cuts meet the sheet's four edges, measured from the lower left corner."""
    points = [point for cut in sheet.cuts for point in cut.polygon]
    key, long, wide = f"stock:{sheet.name}", sheet.length_in, sheet.width_in
    for y, out in ((0.0, -TICK_IN), (wide, TICK_IN)):
        for x in _marks([p[0] for p in points if abs(p[1] - y) < MERGE_IN], long):
            yield Line(key, "dimension", (x, y), (x, y + out))
            off = math.copysign(TEXT_OFF_MM, out)
            yield Text(key, "dimension", (x, y + out), units.compact(x), "small", shift=off)
    for x, out in ((0.0, -TICK_IN), (long, TICK_IN)):
        for y in _marks([p[1] for p in points if abs(p[0] - x) < MERGE_IN], wide):
            yield Line(key, "dimension", (x, y), (x + out, y))
            off = math.copysign(TEXT_OFF_MM, -out)
            yield Text(key, "dimension", (x + out, y), units.compact(y), "small", 90.0, shift=off)


def _marks(values: list[float], end: float) -> list[float]:
    kept: list[float] = []
    for value in sorted(values):
        if MERGE_IN < value < end - MERGE_IN and (not kept or value - kept[-1] > MERGE_IN):
            kept.append(value)
    return kept
