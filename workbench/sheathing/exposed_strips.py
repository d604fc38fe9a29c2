"""What goes on exposed eaves and rakes: courses of boards, or finish panels cut from sheets of their own. Inches."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import replace

from workbench.findings import COMMON_PRACTICE, GEOMETRY, Finding
from workbench.job.exposed import ExposedEdges
from workbench.measure.units import Units
from workbench.roof.model import Plane
from workbench.rules.nailing import NailingSchedule
from workbench.sheathing.cutting import Blank, cut_sheets, layout_blanks
from workbench.sheathing.exposed import StripArea
from workbench.sheathing.layout import Layout, LayoutRules
from workbench.sheathing.model import ExposedStrip, NailLine, Piece, Seam, StockSheet
from workbench.sheathing.nails import NailedFrame, layout_nails
from workbench.sheathing.seams import layout_seams
from workbench.sheathing.search import quick_plane

_SAME_IN = 1e-3
_ON_RAFTER_IN = 0.75
_LEAST_RAKE_IN = 2.0
_SAME_THICKNESS_IN = 1.0 / 64.0
_TWO_NAILS_IN = 6.0  # a wider board takes three at each rafter (common practice, no source)
_MARKS = {"eave": "E", "rake": "R"}


def lay_strip(
    plane: Plane,
    area: StripArea,
    exposed: ExposedEdges,
    supports: tuple[float, ...],
    rules: LayoutRules,
    schedule: NailingSchedule,
) -> tuple[ExposedStrip, tuple[Blank, ...]]:
    """One strip with its boards or panels, and the blanks of its panels."""
    strip = ExposedStrip(
        plane=plane.id,
        edge=area.edge,
        width_in=area.width_in,
        polygons=tuple(area.region.rings),
        changes=area.changes,
        area_sqin=area.region.area_sqin,
    )
    if exposed.finish == "boards":
        return _boards(strip, area, exposed.board_in, supports), ()
    layout = quick_plane(area.region, supports, _strip_rules(area, rules)).ways[0].layout
    frame = NailedFrame(supports, (), 0.0, change_xs([area]))
    nails = layout_nails(plane, layout, frame, schedule)
    marked = tuple(
        replace(blank, label=f"{_MARKS[area.edge]}{blank.label}") for blank in layout_blanks(layout, plane.id)
    )
    pieces = _pieces(layout, plane, rules, [blank.label for blank in marked])
    seams = layout_seams(layout, plane.id)
    return replace(strip, pieces=pieces, nails=_count(nails), seams=seams), marked


def _count(lines: Sequence[NailLine]) -> int:
    return sum(line.count for line in lines)


def _strip_rules(area: StripArea, rules: LayoutRules) -> LayoutRules:
    """A strip has rows as narrow as it is, and no stagger against itself."""
    least = min(rules.rows.least_in, area.width_in / 2.0)
    rows = replace(rules.rows, least_in=least, planned_in=None, taper_in=0.0)
    return replace(rules, rows=rows, stagger_in=0.0, first_piece_in=None, split="fewest")


def _pieces(layout: Layout, plane: Plane, rules: LayoutRules, labels: Sequence[str]) -> tuple[Piece, ...]:
    return tuple(
        Piece(label, plane.id, cell.row, cell.ring, cell.width_in, cell.length_in, "", cell.is_whole(rules))
        for cell, label in zip(layout.cells, labels, strict=True)
    )


def _boards(strip: ExposedStrip, area: StripArea, board_in: float, supports: Sequence[float]) -> ExposedStrip:
    """Level courses from the lowest point up; each is as long as its longest level line."""
    region = area.region
    left = min(x for ring in region.rings for x, _ in ring) - 1.0
    right = max(x for ring in region.rings for x, _ in ring) + 1.0
    courses = math.ceil((region.top_in - region.bottom_in) / board_in - _SAME_IN)
    each = 2 if board_in <= _TWO_NAILS_IN else 3
    length, nails = 0.0, 0
    for k in range(courses):
        low = region.bottom_in + k * board_in
        for ring in region.clipped(left, low, right, min(low + board_in, region.top_in)):
            x0, x1 = min(x for x, _ in ring), max(x for x, _ in ring)
            length += x1 - x0
            nails += each * sum(x0 - _SAME_IN <= x <= x1 + _SAME_IN for x in supports)
    return replace(strip, courses=courses, length_in=length, nails=nails)


def cut_strips(
    strips: Sequence[ExposedStrip], blanks: Sequence[Blank], rules: LayoutRules
) -> tuple[tuple[ExposedStrip, ...], tuple[StockSheet, ...]]:
    """The finish panels cut from sheets of their own, each piece with the sheet it comes from."""
    stock = tuple(replace(sheet, name=f"Finish {sheet.name.lower()}") for sheet in cut_sheets(blanks, rules.sheet))
    names = {(cut.plane, cut.label): sheet.name for sheet in stock for cut in sheet.cuts}
    cut = tuple(
        replace(strip, pieces=tuple(replace(p, stock=names[(p.plane, p.label)]) for p in strip.pieces))
        for strip in strips
    )
    return cut, stock


def change_seams(strip: ExposedStrip) -> tuple[Seam, ...]:
    """The joints of a strip's panels, and the line where the sheets begin."""
    changes = tuple(
        Seam(
            "level" if abs(a[1] - b[1]) <= _SAME_IN else "upslope",
            strip.plane,
            a,
            b,
            math.dist(a, b),
        )
        for a, b in strip.changes
    )
    return (*strip.seams, *changes)


def change_xs(areas: Sequence[StripArea]) -> tuple[float, ...]:
    """Where an upright edge of the sheets lies at a change of material, x."""
    return tuple(sorted({a[0] for area in areas for a, b in area.changes if abs(a[0] - b[0]) <= _SAME_IN}))


def strips_told(
    plane: Plane, areas: Sequence[StripArea], exposed: ExposedEdges, supports: Sequence[float], units: Units
) -> list[Finding]:
    """Where the change falls, and what is wrong with it there."""
    kinds = {edge.kind for edge in plane.edges}
    asked = (exposed.eaves_in > 0.0 and "eave" in kinds) or (exposed.rakes_in > 0.0 and "rake" in kinds)
    if asked and not areas:
        return [too_wide(plane, exposed, units)]
    findings: list[Finding] = []
    for area in areas:
        if area.edge == "eave":
            findings.append(_at_eave(plane, area, exposed, units))
        else:
            findings += _at_rake(plane, area, supports, units)
    return findings


def _at_eave(plane: Plane, area: StripArea, exposed: ExposedEdges, units: Units) -> Finding:
    where = f"{plane.name}: the finish changes {units.length(area.width_in)} up from the eave; row 1 begins there"
    if exposed.finish == "panel":
        return Finding("exposed-change", "note", plane.id, f"{where}.", COMMON_PRACTICE)
    whole = max(round(area.width_in / exposed.board_in), 1)
    courses = math.ceil(area.width_in / exposed.board_in - _SAME_IN)
    said = f"{courses} courses of boards" if courses > 1 else "one course of boards"
    if abs(whole * exposed.board_in - area.width_in) > 1.0 / 16.0:
        last = area.width_in - (courses - 1) * exposed.board_in
        fits = units.length(whole * exposed.board_in)
        said += f", the last ripped to {units.length(last)}; {fits} would take whole boards"
    return Finding("exposed-change", "note", plane.id, f"{where}, above {said}.", COMMON_PRACTICE)


def _at_rake(plane: Plane, area: StripArea, supports: Sequence[float], units: Units) -> list[Finding]:
    """A change along a rake needs a rafter under it: both materials end there."""
    ends = [x for x, _ in plane.polygon]
    low, high = min(ends), max(ends)
    off = [x for x in change_xs([area]) if not any(abs(s - x) <= _ON_RAFTER_IN for s in supports)]
    if not off:
        return []
    inner = sorted({round(min(s - low, high - s), 3) for s in supports if min(s - low, high - s) > _LEAST_RAKE_IN})
    near = sorted(inner, key=lambda width: abs(width - area.width_in))[:2]
    better = " or ".join(units.length(width) for width in sorted(near))
    mend = f"make it {better}, on a rafter" if near else "put a rafter or blocks there"
    text = (
        f"{plane.name}: the finish changes {units.length(area.width_in)} in from the rake, between two rafters: "
        f"{mend}, or block between."
    )
    return [Finding("exposed-change-off-rafter", "error", plane.id, text, COMMON_PRACTICE)]


def too_wide(plane: Plane, exposed: ExposedEdges, units: Units) -> Finding:
    """The strips leave nothing to the sheets."""
    widths = [
        f"{units.length(width)} {words}"
        for width, words in ((exposed.eaves_in, "at the eaves"), (exposed.rakes_in, "at the rakes"))
        if width > 0.0
    ]
    text = (
        f"{plane.name}: a finish of {' and '.join(widths)} leaves nothing to the sheets; the plane is laid with sheets "
        "all over. Make it narrower."
    )
    return Finding("exposed-too-wide", "error", plane.id, text, GEOMETRY)


def thickness_finding(exposed: ExposedEdges, sheathing_in: float, units: Units) -> Finding | None:
    """The step in the deck's surface where the two materials differ in thickness; None where they do not."""
    step = exposed.thickness_in - sheathing_in
    if abs(step) < _SAME_THICKNESS_IN:
        return None
    higher = "higher" if step > 0.0 else "lower"
    text = (
        f"The eave strip changes thickness: finish {units.length(exposed.thickness_in)}, sheets "
        f"{units.length(sheathing_in)}; its surface lies {units.length(abs(step))} {higher}. Pad or notch the rafters, "
        "or choose one thickness; check the heights of fascia and drip edge."
    )
    return Finding("exposed-thickness", "warning", "", text, GEOMETRY)
