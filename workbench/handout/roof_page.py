"""Page 1: the roof on one page. Plan, planes, order of work, totals, findings, cautions."""

from __future__ import annotations

from collections.abc import Sequence

from workbench.drawing.roof_plan import roof_plan
from workbench.findings import Finding
from workbench.framing.model import RAFTER_KINDS
from workbench.handout.blocks import LABEL, SMALL, Block, Boxed, Column, Columns, Picture, Space, Table, Words
from workbench.handout.page import Page, Paper, flowed, frame_size
from workbench.handout.painter import Scaled
from workbench.handout.words import CAUTIONS, listed, sheet_count, short_slope
from workbench.plan import Plan
from workbench.roof.model import Plane

MAIN_FINDINGS = 3

_SEVERITIES = ("error", "warning", "note")
_FALLS = frozenset(("fall-protection", "fall-protection-ask"))

LEAST_ROOM = 0.35
"""Share of the page that the plan of the roof has at least, or the tables go to the next page."""


def roof_pages(plan: Plan, paper: Paper) -> list[Page]:
    """The roof on one page; where that leaves too little room for the plan, the rest follows on a second.

    A wide roof that has a page for itself lies on its side where that prints it larger.
    """
    wanted: list[Block] = [_planes_table(plan), _order_of_work(plan)]
    upright = _Sheet(plan, paper, landscape=False)
    findings = upright.findings(0.0)
    kept = [*wanted, *findings]
    if upright.room(kept) >= LEAST_ROOM * upright.space:
        together, alone = upright.scaled(kept), upright.scaled(findings)
        if together.layout.leaders <= alone.layout.leaders + 1 and together.scale is not None:
            return [upright.page(kept)]
    kept = upright.findings(0.2 * upright.space)
    lying = _Sheet(plan, paper, landscape=True)
    lower = lying.findings(0.2 * lying.space)
    known = upright.scaled(kept)
    better = lying.picture(lower).scaled_over(lying.width, known.pt_per_in)
    first = upright.page(kept) if better is None else lying.page(lower)
    return [first, *flowed("The roof, continued", _headline(plan), wanted, paper)]


class _Sheet:
    """Page 1, upright or on its side: the plan of the roof over what else stands there, the cautions below."""

    def __init__(self, plan: Plan, paper: Paper, *, landscape: bool) -> None:
        self.plan = plan
        self.landscape = landscape
        self.width, height = frame_size(paper, landscape=landscape)
        self.cautions = Boxed(tuple(Words(text, SMALL, bold=i == 0, after=1.0) for i, text in enumerate(CAUTIONS)), 1.4)
        self.space = height - self.cautions.height(self.width)
        self._drawing = roof_plan(plan)
        self._pictures: dict[int, Picture] = {}

    def room(self, blocks: Sequence[Block]) -> float:
        """Height that is left for the plan."""
        return self.space - sum(block.height(self.width) for block in blocks)

    def picture(self, blocks: Sequence[Block]) -> Picture:
        """The plan in the room that these blocks leave."""
        room = round(max(self.room(blocks), 1.0))
        metric = self.plan.units.system == "mm"
        if room not in self._pictures:
            note = _legend(self.plan)
            self._pictures[room] = Picture(self._drawing, room, metric=metric, largest=24, fill=True, note=note)
        return self._pictures[room]

    def scaled(self, blocks: Sequence[Block]) -> Scaled:
        """How large it comes out there."""
        return self.picture(blocks).scaled(self.width)

    def findings(self, room: float) -> list[Block]:
        """The worst findings."""
        return _main_findings(self.plan, self.width, room)

    def page(self, blocks: Sequence[Block]) -> Page:
        """The page with these blocks."""
        set_out = (self.picture(blocks), *blocks, self.cautions)
        return Page("The roof", _headline(self.plan), set_out, landscape=self.landscape)


def _headline(plan: Plan) -> str:
    planes = len(plan.roof.planes)
    nails = sum(plan.sheathing.nail_counts.values())
    return f"{sheet_count(plan)}, {nails:,} nails, {planes} {'plane' if planes == 1 else 'planes'}"


def finding_pages(plan: Plan, paper: Paper) -> list[Page]:
    """All findings with their sources."""
    if not plan.findings:
        return []
    columns = (Column("What", 1.1, bold=True), Column("Finding", 5.6), Column("Source", 2.0))
    rows = tuple((finding.severity, finding.text, finding.source) for finding in plan.findings)
    return flowed("Findings", _counted(plan.findings), [Table(columns, rows, LABEL)], paper)


def _legend(plan: Plan) -> str:
    kinds = {edge.kind for plane in plan.roof.planes for edge in plane.edges}
    overhang = "Dash-dot: building line. " if plan.wings and kinds & {"eave", "rake"} else ""
    return f"{overhang}Arrows point down the slope; lengths are true lengths."


def _planes_table(plan: Plan) -> Table:
    columns = (
        Column("Plane", 2.6, bold=True),
        Column("Slope", 2.9),
        Column("Length", 2.1, "right"),
        Column("Area", 1.9, "right"),
        Column("Rafters", 1.5, "right"),
        Column("Rows", 1.1, "right"),
        Column("Pieces", 1.4, "right"),
    )
    units, planes = plan.units, plan.roof.planes
    rows = [_plane_row(plan, plane) for plane in planes]
    rafters = sum(member.count for member in plan.framing.members if member.kind in RAFTER_KINDS)
    pieces = sum(len(sheets.pieces) for sheets in plan.sheathing.planes)
    area = units.area(sum(plane.area_sqft for plane in planes))
    rows.append(("Together", f"{plan.sheathing.count:,} sheets", "", area, f"{rafters:,}", "", f"{pieces:,}"))
    return Table(columns, tuple(rows), LABEL)


def _plane_row(plan: Plan, plane: Plane) -> tuple[str, ...]:
    sheets = plan.sheets_of(plane.id)
    rafters = sum(
        placement.plane == plane.id
        for member in plan.framing.members
        if member.kind in RAFTER_KINDS
        for placement in member.placements
    )
    return (
        plane.name,
        short_slope(plane, plan.units),
        plan.units.length(plane.plane_length_in),
        plan.units.area(plane.area_sqft),
        str(rafters or "–"),
        str(len(sheets.rows)) if sheets else "–",
        str(len(sheets.pieces)) if sheets else "–",
    )


def _order_of_work(plan: Plan) -> Columns:
    work = [Words("Order of work", LABEL, bold=True)]
    work += [Words(text, LABEL, lead=f"{i}", after=1.0) for i, text in enumerate(_steps(plan), 1)]
    return Columns((tuple(work),), after=4.0)


def _steps(plan: Plan) -> list[str]:
    steps = ["Measure plates, run and diagonals as built; if they differ from the drawing, solve again."]
    kinds = {member.kind for member in plan.framing.members}
    cut = [f"{m.count} {m.mark}" for m in plan.framing.members]
    if cut:
        shown = listed(cut) if len(cut) <= 5 else f"{', '.join(cut[:4])} and {len(cut) - 4} more marks"
        steps.append(f"Cut {shown} by the cut cards; try one of each first.")
    if "ridge_board" in kinds:
        steps.append("Set and brace the ridge, then the rafters in pairs from both sides.")
    elif "common_rafter" in kinds:
        steps.append("Set the end rafters, string a line, then set the others.")
    if any(sheets.rows for sheets in plan.sheathing.planes):
        steps.append("Snap the lines, lay the sheets from the eave up, nail each row off before stepping on it.")
    steps.append("Eave metal, then seam tape from the bottom up: up-slope seams first, level ones over them.")
    return steps


def _main_findings(plan: Plan, width: float, room: float) -> list[Block]:
    """As many findings as there is room for, the worst first, and of those what keeps people on the roof.

    At least how many there are and where they stand.
    """
    if not plan.findings:
        return []
    head = f"Findings: {_counted(plan.findings)}; in full with their sources on the last page."
    blocks: list[Block] = [Words(head, LABEL, bold=True)]
    urgent = sorted(plan.findings, key=lambda each: (_SEVERITIES.index(each.severity), each.code not in _FALLS))
    for finding in urgent[:MAIN_FINDINGS]:
        line = Words(f"{finding.severity}: {finding.text}", SMALL, lead="•", after=1.5)
        room -= line.height(width)
        if room < 0.0:
            break
        blocks.append(line)
    return [*blocks, Space(5.0)]


def _counted(findings: tuple[Finding, ...]) -> str:
    parts: list[str] = []
    for severity in _SEVERITIES:
        count = sum(finding.severity == severity for finding in findings)
        if count:
            parts.append(f"{count} {severity}{'' if count == 1 else 's'}")
    return listed(parts)
