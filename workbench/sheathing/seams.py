"""Seams to be taped, each joint once. Inches, plane axes.

Level seams run on the middle of the gap between two rows, end joints from the middle of one such gap to the next. So
the perimeters of the pieces, grown by half a gap, exceed the covered area's perimeter by twice the seams' length.
"""

from __future__ import annotations

import itertools
import math
from collections.abc import Sequence

from workbench.roof.model import Plane, Roof
from workbench.sheathing.layout import Layout
from workbench.sheathing.model import Row, Seam, SeamKind, SeamTotals
from workbench.sheathing.region import edges_of

_EDGE_SEAMS: dict[str, SeamKind] = {
    "ridge": "ridge",
    "hip": "hip",
    "valley": "valley",
    "wall": "wall",
    "pitch_break": "level",
}


def layout_seams(layout: Layout, plane_id: str) -> tuple[Seam, ...]:
    """The joints between the pieces of one plane: up-slope ones row by row, then the long level ones."""
    rows, region = layout.rows, layout.region
    seams: list[Seam] = []
    for number, (row, joints) in enumerate(zip(rows, layout.joints, strict=True)):
        low = row.bottom_in if number == 0 else _middle(rows[number - 1], row)
        high = row.bottom_in + row.width_in if number == len(rows) - 1 else _middle(row, rows[number + 1])
        for x in dict.fromkeys(joints):
            for a, b in region.chords_up(x, low, high):
                seams.append(Seam("upslope", plane_id, (x, a), (x, b), b - a))
    for below, above in zip(rows, rows[1:], strict=False):
        y = _middle(below, above)
        seams += (Seam("level", plane_id, (a, y), (b, y), b - a) for a, b in region.chords_across(y))
    return tuple(seams)


def seam_lengths(layout: Layout) -> tuple[float, float]:
    """The joints between the pieces of a plane: counted one by one, and by the perimeters of what they part.

    Every joint is a side of two parts, every edge of what is covered of one: so the parts' perimeters exceed the
    covered area's by twice the joints (geometry). The two ways share nothing but where rows and joints lie.
    """
    counted = sum(seam.length_in for seam in layout_seams(layout, ""))
    rows, region = layout.rows, layout.region
    cuts = [_middle(below, above) for below, above in itertools.pairwise(rows)]
    lows, highs = [-math.inf, *cuts], [*cuts, math.inf]
    left, right = min(x for ring in region.rings for x, _ in ring), max(x for ring in region.rings for x, _ in ring)
    low_end, high_end = region.bottom_in - 1.0, region.top_in + 1.0
    parts = 0.0
    for low, high, joints in zip(lows, highs, layout.joints, strict=True):
        ends = [left - 1.0, *sorted(set(joints)), right + 1.0]
        for a, b in itertools.pairwise(ends):
            parts += region.perimeter_within(a, max(low, low_end), b, min(high, high_end))
    return counted, (parts - region.perimeter_in) / 2.0


def edge_seams(roof: Roof, plane: Plane) -> tuple[Seam, ...]:
    """The plane's ridges, hips, valleys, walls and pitch breaks; one shared with an earlier plane counts there."""
    order = {other.id: number for number, other in enumerate(roof.planes)}
    seams: list[Seam] = []
    for edge, start, end in edges_of(plane):
        kind = _EDGE_SEAMS.get(edge.kind)
        if kind is None:
            continue
        across = roof.planes[order[edge.neighbour]] if edge.neighbour in order else None
        counted = across is not None and order[across.id] < order[plane.id]
        if counted and across and any(e.neighbour == plane.id and e.kind == edge.kind for e in across.all_edges):
            continue
        seams.append(Seam(kind, plane.id, start, end, edge.length_in))
    return tuple(seams)


def seam_totals(seams: Sequence[Seam]) -> SeamTotals:
    """Lengths by kind."""
    totals: dict[SeamKind, float] = {"upslope": 0.0, "level": 0.0, "ridge": 0.0, "hip": 0.0, "valley": 0.0, "wall": 0.0}
    for seam in seams:
        totals[seam.kind] += seam.length_in
    return SeamTotals(**totals)


def _middle(below: Row, above: Row) -> float:
    return (below.bottom_in + below.width_in + above.bottom_in) / 2.0
