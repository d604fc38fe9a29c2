"""The sheathing of a job: every plane laid out, cut, taped and nailed. Inches.

A pure function of roof, frame and settings. It never raises for a job that could be read: what can't be laid out
becomes a finding, and the other planes are still solved. Planes are cached, so that a change re-solves what it touches.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field, replace
from functools import lru_cache

from msgspec import structs

from workbench.findings import GEOMETRY, Finding, in_order
from workbench.framing.group import sheathing_thickness
from workbench.framing.model import Framing
from workbench.job.as_built import PlaneMeasured
from workbench.job.exposed import ExposedEdges
from workbench.job.model import Fastening, PlaneChoice, Sheathing
from workbench.measure.units import Units
from workbench.roof.model import Plane, Point3, Roof
from workbench.rules.nailing import NailingSchedule, nailing_schedule, nailing_schedules
from workbench.sheathing.bound import BoundPlane, at_least, at_least_by_area
from workbench.sheathing.clips import clip_lines, clips_a_span
from workbench.sheathing.cutting import Blank, cut_sheets, layout_blanks
from workbench.sheathing.explain import layout_findings, nail_traces, sheet_traces
from workbench.sheathing.exposed import StripArea, left_to_sheets, lifted_rows
from workbench.sheathing.exposed_strips import (
    change_seams,
    change_xs,
    cut_strips,
    lay_strip,
    strips_told,
    thickness_finding,
)
from workbench.sheathing.first_row import (
    Measured,
    measured_findings,
    measured_of,
    measured_region,
    measured_rows,
    measured_rules,
)
from workbench.sheathing.layout import Layout, LayoutRules
from workbench.sheathing.model import (
    ClipLine,
    ExposedStrip,
    NailLine,
    Piece,
    PlaneSheets,
    Seam,
    SheathingPlan,
    SplitOption,
    StockSheet,
)
from workbench.sheathing.nails import NailedFrame, layout_nails
from workbench.sheathing.nearness import brought_together
from workbench.sheathing.region import Region, covered_region
from workbench.sheathing.rows import RowRules, place_rows
from workbench.sheathing.seams import edge_seams, layout_seams, seam_lengths, seam_totals
from workbench.sheathing.search import Counted, PlaneSearch, quick_plane, search_job, search_plane, sheets_of

_SEAMS_OFF_IN, _SEAMS_OFF = 2.0, 0.002  # gaps that opened are counted a little differently
_MOST_SHEETS = 20_000  # of one plane; more is a slip in a measure, and would take minutes


@dataclass(frozen=True)
class LaidPlane:
    """A plane that can be laid out: ``measured`` where its length was taken on site, ``strips`` in another material.

    ``lifted_in`` is how far up from the lower edge of the sheathing the sheets begin.
    """

    plane: Plane
    region: Region
    supports: tuple[float, ...]
    rules: LayoutRules
    search: PlaneSearch
    measured: Measured | None = None
    strips: tuple[StripArea, ...] = ()
    lifted_in: float = 0.0


@dataclass(frozen=True)
class Work:
    """A job ready to be chosen layouts for.

    Attributes:
        roof: The planes.
        framing: Their rafters.
        base: The job's rules.
        laid: The planes that can be laid out.
        findings: What was found so far.
        least: Sheets that no allowed layout can go under, as far as is quickly known.
        units: What lengths are shown in.
        span_rating: Span rating of the panels.
        settings: The job's sheets.
    """

    roof: Roof
    framing: Framing
    base: LayoutRules
    laid: tuple[LaidPlane, ...]
    findings: tuple[Finding, ...]
    least: int
    units: Units
    span_rating: str = ""
    settings: Sheathing = field(default_factory=Sheathing)


def plan_sheathing(
    roof: Roof,
    framing: Framing,
    settings: Sheathing,
    choices: tuple[PlaneChoice, ...] = (),
    fastening: Fastening | None = None,
    units: Units | None = None,
    *,
    quick: bool = False,
    bare: bool = False,
    measured: tuple[PlaneMeasured, ...] = (),
) -> SheathingPlan:
    """Lays every plane, cuts its pieces from as few sheets as are found, and lists seams and nails.

    Args:
        roof: The planes.
        framing: Their rafters.
        settings: The job's sheets and rules.
        choices: What differs on single planes.
        fastening: The nailing schedule; None takes the job model's default.
        units: What lengths in findings and traces are shown in.
        quick: For frames of a drag: each plane's own best layout, and a lower bound from areas alone.
        bare: Without seams and nails, where only the sheets are shown.
        measured: Lengths of planes as taken on site.
    """
    work = lay_planes(roof, framing, settings, choices, units, quick=quick, measured=measured)
    if quick:
        chosen = tuple(one.search.ways[0] for one in work.laid)
        stock = _cut_near(work, chosen)
    else:
        chosen, stock = first_choice(work)
    return finish(work, chosen, stock, work.least, fastening, bare=bare)


def first_choice(work: Work) -> tuple[tuple[Counted, ...], tuple[StockSheet, ...]]:
    """Layouts that buy few sheets together, found quickly, with their cut plan: where a longer search begins."""
    chosen = search_job([one.search for one in work.laid], [one.rules for one in work.laid], work.least)
    stock = _cut_near(work, chosen)
    if len(stock) > work.least:
        # What the frames of a drag show may be better by a sheet; the number must not rise when the hand rests.
        shown = tuple(quick_plane(one.region, one.supports, one.rules).ways[0] for one in work.laid)
        fewer = _cut_near(work, shown)
        if len(fewer) < len(stock) and _faults(shown) <= _faults(chosen):
            return shown, fewer
    return chosen, stock


def _cut_near(work: Work, chosen: Sequence[Counted]) -> tuple[StockSheet, ...]:
    blanks = blanks_of(work, chosen)
    return brought_together(cut_sheets(blanks, work.base.sheet), blanks)


def _faults(chosen: Sequence[Counted]) -> tuple[int, int]:
    """Errors and warnings of the chosen layouts together."""
    return sum(way.layout.errors for way in chosen), sum(way.layout.warnings for way in chosen)


def lay_planes(
    roof: Roof,
    framing: Framing,
    settings: Sheathing,
    choices: tuple[PlaneChoice, ...] = (),
    units: Units | None = None,
    *,
    quick: bool = False,
    measured: tuple[PlaneMeasured, ...] = (),
) -> Work:
    """Looks at every plane by itself: what it must cover, by which rules, and its layouts."""
    shown = units or Units()
    taken = {one.plane: one for one in measured}
    base, findings = _rules_of(settings, shown)
    by_plane = {choice.plane: choice for choice in choices}
    laid: list[LaidPlane] = []
    for plane in roof.planes:
        rules = _with_choice(base, by_plane.get(plane.id))
        supports, as_built = framing.supports_of(plane.id), measured_of(plane, taken.get(plane.id))
        found = _lay(plane, supports, rules, as_built, shown, settings.exposed, quick)
        if isinstance(found, Finding):
            findings.append(found)
        else:
            laid.append(found)
            if settings.exposed.any:
                findings += strips_told(plane, found.strips, settings.exposed, supports, shown)
    if any(one.strips for one in laid):
        step = thickness_finding(settings.exposed, sheathing_thickness(settings.thickness), shown)
        findings += [step] if step is not None else []
    bounded = [BoundPlane(one.region, one.supports, one.rules, one.search.lawful) for one in laid]
    if quick:
        least = at_least_by_area(bounded)
    else:
        least = at_least(bounded, sheets_of([one.search.ways[0] for one in laid], base))
    return Work(roof, framing, base, tuple(laid), tuple(findings), least, shown, settings.span_rating, settings)


def blanks_of(work: Work, chosen: Sequence[Counted]) -> list[Blank]:
    """The pieces of the chosen layouts, in the order they are needed."""
    pairs = zip(work.laid, chosen, strict=True)
    return [blank for one, way in pairs for blank in layout_blanks(way.layout, one.plane.id)]


def finish(
    work: Work,
    chosen: Sequence[Counted],
    stock: tuple[StockSheet, ...],
    least: int,
    fastening: Fastening | None = None,
    *,
    notes: Sequence[Finding] = (),
    full: bool = False,
    bare: bool = False,
) -> SheathingPlan:
    """The plan of chosen layouts and a cut plan: pieces, seams, nails, findings and traces.

    Args:
        work: The job.
        chosen: One layout a plane.
        stock: The cut plan.
        least: Sheets that no allowed layout can go under.
        fastening: The nailing schedule; None takes the job model's default.
        notes: Findings to be added.
        full: Whether the bound comes from the search for fewest sheets.
        bare: Without seams and nails.
    """
    findings = [*work.findings, *notes]
    sheet_of = {(cut.plane, cut.label): sheet.name for sheet in stock for cut in sheet.cuts}
    pairs = list(zip(work.laid, chosen, strict=True))
    planes = tuple(_plane_sheets(one, way, sheet_of) for one, way in pairs)
    for one, way in pairs:
        findings += layout_findings(one.plane, way.layout, one.supports, work.units)
        if one.measured is not None:
            findings += measured_findings(one.plane, one.measured, way.layout, work.units)
    seams = () if bare else _seams(work.roof, work.laid, chosen)
    clips = _clips(work, seams)
    if not bare:
        findings += _seam_findings(work, pairs)
    schedule, unknown = _schedule(fastening or Fastening())
    findings += unknown
    nails = () if bare else _nails(pairs, work.framing, schedule)
    strips, finish_stock = (), ()
    if not bare and work.settings.exposed.any:
        strips, finish_stock = _strips(work, schedule)
        seams = (*seams, *(seam for strip in strips for seam in change_seams(strip)))
    totals = seam_totals(seams)
    told = in_order(findings)
    plan = SheathingPlan(planes, stock, least, seams, totals, nails, told, (), clips, strips, finish_stock)
    traces = sheet_traces(plan, work.base, work.units, full)
    return replace(plan, traces=(*traces, *nail_traces(plan, schedule, work.units)))


def plane_rules(settings: Sheathing, choices: Sequence[PlaneChoice], plane_id: str) -> LayoutRules:
    """What one plane is laid out by: the job's sheathing with what differs on the plane."""
    choice = next((one for one in choices if one.plane == plane_id), None)
    return _with_choice(_rules_of(settings, Units())[0], choice)


def _rules_of(settings: Sheathing, units: Units) -> tuple[LayoutRules, list[Finding]]:
    """The job's rules, brought to what rows can be made of; a finding says so."""
    findings: list[Finding] = []
    half = settings.panel_width_in / 2.0
    least = settings.least_in
    if least > half:
        text = f"The least row width can be {units.length(half)} at most, half a panel; that is what was taken."
        findings.append(Finding("least-over-half", "warning", "", text, GEOMETRY))
        least = half
    gap, kerf = min(settings.gap_in, least / 2.0), min(settings.kerf_in, least / 2.0)
    if (gap, kerf) != (settings.gap_in, settings.kerf_in):
        text = f"The gap or the kerf is as wide as a row: {units.length(least / 2.0)} was taken."
        findings.append(Finding("gap-too-wide", "warning", "", text, GEOMETRY))
    rows = RowRules(settings.panel_width_in, least, gap, kerf, settings.halves_nominal)
    rules = LayoutRules(
        rows=rows,
        panel_length_in=settings.panel_length_in,
        rip=settings.rip,
        split=settings.split,
        stagger_in=settings.stagger_in,
        first_piece_in=settings.first_piece_in,
        start=settings.start,
        past_tail_in=settings.past_tail_in,
        ridge_slot_in=settings.ridge_slot_in,
        mirrored=settings.mirrored,
    )
    return rules, findings


def _with_choice(rules: LayoutRules, choice: PlaneChoice | None) -> LayoutRules:
    if choice is None:
        return rules
    first = rules.first_piece_in if choice.first_piece_in is None else choice.first_piece_in
    return replace(
        rules,
        rip=choice.rip or rules.rip,
        split=choice.split or rules.split,
        first_piece_in=first,
        start=choice.start or rules.start,
    )


def _lay(
    plane: Plane,
    supports: tuple[float, ...],
    rules: LayoutRules,
    measured: Measured | None,
    units: Units,
    exposed: ExposedEdges,
    quick: bool,
) -> LaidPlane | Finding:
    region = _region(plane, rules.past_tail_in, rules.ridge_slot_in)
    if not region.rings:
        text = (
            f"{plane.name}: the ridge slot of {units.length(rules.ridge_slot_in)} leaves nothing to sheathe; "
            "make it smaller."
        )
        return Finding("nothing-to-sheathe", "error", plane.id, text, GEOMETRY)
    strips: tuple[StripArea, ...] = ()
    whole = region
    if exposed.any:
        sheets, strips = left_to_sheets(region, plane, exposed, rules.past_tail_in)
        region, strips = (sheets, strips) if sheets.rings else (region, ())
    rows = (region.top_in - region.bottom_in) / rules.rows.panel_in
    columns = plane.width_in / rules.panel_length_in
    if (rows + 1.0) * (columns + 1.0) > _MOST_SHEETS:
        text = f"{plane.name}: over {_MOST_SHEETS:,} sheets; check the panel's size and the plane's."
        return Finding("too-many-sheets", "error", plane.id, text, GEOMETRY)
    taken = measured_region(region, plane, measured, rules.rip) if measured is not None else None
    if measured is not None and taken is not None:
        rules = replace(rules, rows=measured_rules(rules.rows, region, measured))
    used, search = taken or region, quick_plane if quick else search_plane
    found = search(used, supports, rules)
    return LaidPlane(plane, used, supports, rules, found, measured, strips, region.bottom_in - whole.bottom_in)


@lru_cache(maxsize=2048)
def _region(plane: Plane, past_tail_in: float, ridge_slot_in: float) -> Region:
    return covered_region(plane, past_tail_in, ridge_slot_in)


def _strips(work: Work, schedule: NailingSchedule) -> tuple[tuple[ExposedStrip, ...], tuple[StockSheet, ...]]:
    exposed = work.settings.exposed
    pairs = [
        lay_strip(one.plane, area, exposed, one.supports, one.rules, schedule)
        for one in work.laid
        for area in one.strips
    ]
    blanks = [blank for _, own in pairs for blank in own]
    return cut_strips([strip for strip, _ in pairs], blanks, work.base)


def _plane_sheets(one: LaidPlane, way: Counted, sheet_of: dict[tuple[str, str], str]) -> PlaneSheets:
    layout = way.layout
    pieces = [
        Piece(
            label=label,
            plane=one.plane.id,
            row=cell.row,
            polygon=cell.ring,
            cut_width_in=cell.width_in,
            cut_length_in=cell.length_in,
            stock=sheet_of[(one.plane.id, label)],
            whole=cell.is_whole(one.rules),
        )
        for cell, label in zip(layout.cells, layout.labels, strict=True)
    ]
    if one.rules.start == "right":
        pieces = [piece for row in layout.rows for piece in reversed([p for p in pieces if p.row == row.number])]
    return PlaneSheets(
        plane=one.plane.id,
        covered_in=one.region.top_in - one.region.bottom_in,
        rows=lifted_rows(measured_rows(layout, one.measured), one.lifted_in),
        first_piece_in=layout.first_in,
        pieces=tuple(pieces),
        options=tuple(_option(found, layout, one.rules) for found in one.search.by_split),
        sheets=way.sheets,
        joints_in=layout.joints,
    )


def _option(found: Counted, chosen: Layout, rules: LayoutRules) -> SplitOption:
    option = found.layout.option
    widths = tuple(row.width_in for row in place_rows(option, rules.rows, rules.rip))
    return SplitOption(option.split, widths, found.sheets, option == chosen.option)


def _seams(roof: Roof, laid: Sequence[LaidPlane], chosen: Sequence[Counted]) -> tuple[Seam, ...]:
    joints = {one.plane.id: layout_seams(way.layout, one.plane.id) for one, way in zip(laid, chosen, strict=True)}
    return tuple(seam for plane in roof.planes for seam in (*joints.get(plane.id, ()), *edge_seams(roof, plane)))


def _seam_findings(work: Work, pairs: Sequence[tuple[LaidPlane, Counted]]) -> list[Finding]:
    """Planes whose joints, counted one by one, do not come to what the pieces' perimeters say."""
    findings: list[Finding] = []
    for one, way in pairs:
        counted, reckoned = seam_lengths(way.layout)
        if abs(counted - reckoned) > _SEAMS_OFF_IN + _SEAMS_OFF * reckoned:
            text = (
                f"{one.plane.name}: its joints come to {work.units.length(counted)}, but to "
                f"{work.units.length(reckoned)} by the perimeters of its pieces: a fault in this program. Measure the "
                "tape yourself, keep the job file and report it."
            )
            findings.append(Finding("seams-disagree", "error", one.plane.id, text, GEOMETRY))
    return findings


def _clips(work: Work, seams: Sequence[Seam]) -> tuple[ClipLine, ...]:
    lines: list[ClipLine] = []
    for one in work.laid:
        asked = clips_a_span(one.plane, one.supports, work.span_rating)
        if asked is not None:
            lines += clip_lines(one.plane, seams, one.supports, asked[0])
    return tuple(lines)


def _schedule(fastening: Fastening) -> tuple[NailingSchedule, list[Finding]]:
    try:
        return _with_zone(nailing_schedule(fastening.schedule), fastening), []
    except KeyError:
        instead = nailing_schedule(Fastening().schedule)
        known = ", ".join(schedule.id for schedule in nailing_schedules())
        text = f'No nailing schedule is called "{fastening.schedule}"; {instead.id} was taken. Known are {known}.'
        instead = _with_zone(instead, fastening)
        return instead, [Finding("unknown-schedule", "warning", "", text, instead.source)]


def _with_zone(schedule: NailingSchedule, fastening: Fastening) -> NailingSchedule:
    """The schedule with the job's own strip along the roof's edges."""
    wide = schedule.zone_width_in if fastening.zone_in is None else fastening.zone_in
    apart = fastening.zone_spacing_in
    if apart is None:
        return schedule if wide == schedule.zone_width_in else structs.replace(schedule, zone_width_in=wide)
    edge = min(schedule.edge_in, apart)
    return structs.replace(schedule, zone_width_in=wide, zone_field_in=apart, zone_edge_in=edge)


def _nails(
    pairs: Sequence[tuple[LaidPlane, Counted]], framing: Framing, schedule: NailingSchedule
) -> tuple[NailLine, ...]:
    barges: dict[str, list[Point3]] = {}
    for member in framing.members:
        for placement in member.placements if member.kind == "barge_rafter" else ():
            barges.setdefault(placement.plane, []).append(placement.start)
    boards = [member.thickness_in for member in framing.members if member.kind == "ridge_board"]
    half_in = max(boards, default=0.0) / 2.0
    lines: list[NailLine] = []
    for one, way in pairs:
        xs = [one.plane.to_plane(start)[0] for start in barges.get(one.plane.id, ())]
        near = {support for support in one.supports if any(abs(support - x) <= 1e-3 for x in xs)}
        frame = NailedFrame(one.supports, tuple(sorted(near)), half_in * one.plane.stretch, change_xs(one.strips))
        lines += layout_nails(one.plane, way.layout, frame, schedule)
    return tuple(lines)
