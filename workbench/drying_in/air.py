"""Air in and out: net free area against 1/150 or 1/300, the slot at the ridge, the openings over the plates.

Sources: IRC R806.2 (read in a copy; from memory) for the shares; areas and slots are geometry.
"""

from __future__ import annotations

import math
from collections.abc import Sequence

import shapely

from workbench.drying_in.lines import edge_runs, total
from workbench.drying_in.model import Air
from workbench.drying_in.words import at_least
from workbench.findings import COMMON_PRACTICE, GEOMETRY, SCREENING, Finding
from workbench.framing.model import Framing, Member
from workbench.job.drying_in import DryingIn
from workbench.job.model import Job
from workbench.measure import Trace, Units
from workbench.roof.model import Roof
from workbench.roof.solved import BuiltWing
from workbench.rules.dry_in import dry_in_rules

_SQIN = 144.0
_NOISE = 1e-6


def air_plan(
    job: Job, wings: Sequence[BuiltWing], roof: Roof, framing: Framing, units: Units
) -> tuple[Air | None, list[Finding]]:
    """Net free area of the vented wings; None where nothing is said to be vented."""
    drying = job.drying_in
    vented = [built for built in wings if built.effective.id not in drying.not_vented and built.planes]
    if drying.air != "vented" or not vented:
        return None, []
    ids = {built.effective.id for built in vented}
    planes = Roof(tuple(plane for plane in roof.planes if plane.wing in ids))
    area = shapely.union_all([shapely.Polygon(built.effective.outline) for built in vented]).area / _SQIN
    needed = area * _SQIN / drying.vent_share
    ridge = total(edge_runs(planes, "ridge"))
    upper, per_side = _ridge_air(job, vented, planes)
    intake = max(needed - upper, needed * (1.0 - drying.upper_share), 0.0)
    mine = {plane.id for plane in planes.planes}
    blocks = _vented_blocks(vented, framing, mine)
    width = sum(member.length_in * count for member, count in blocks)
    bays = sum(count for _, count in blocks)
    open_in = intake / width if width > 0.0 else None
    slot = _slot_needed(job, ridge, per_side, needed)
    air = Air(area, needed, upper, intake, bays, open_in, slot, _traces(drying, area, needed, upper, intake, width))
    return air, _findings(job, air, ridge, vented, units)


def _ridge_air(job: Job, vented: Sequence[BuiltWing], planes: Roof) -> tuple[float, float]:
    """Free area of the open ridge, square inches, and what of the slot the ridge board covers on a side, inches."""
    slot, drying = job.sheathing.ridge_slot_in, job.drying_in
    thickness = {built.effective.id: built.effective.ridge_width_in for built in vented}
    free, covered = 0.0, 0.0
    by_id = {plane.id: plane for plane in planes.planes}
    for run in edge_runs(planes, "ridge"):
        plane = by_id[run.plane]
        board = thickness[plane.wing] / 2.0 * plane.stretch
        covered = max(covered, board)
        width = 2.0 * max(slot - board, 0.0)
        by_slot = width * run.length_in
        by_vent = by_slot if drying.ridge_vent_sqin_ft is None else drying.ridge_vent_sqin_ft * run.length_in / 12.0
        free += min(by_slot, by_vent)
    return free, covered


def _slot_needed(job: Job, ridge_in: float, covered_in: float, needed: float) -> float | None:
    """Slot on each side that lets the upper share through, with what the ridge board covers."""
    if ridge_in <= 0.0:
        return None
    return needed * job.drying_in.upper_share / (2.0 * ridge_in) + covered_in


def _vented_blocks(vented: Sequence[BuiltWing], framing: Framing, planes: set[str]) -> list[tuple[Member, int]]:
    """Blocks over the plates that let air through, with how many stand in the vented wings."""
    wings = {built.effective.id for built in vented if built.effective.trim.eave_blocks == "vented"}
    found: list[tuple[Member, int]] = []
    for member in framing.members:
        if member.kind == "eave_block":
            mine = sum(p.plane in planes and p.plane.split("/")[0] in wings for p in member.placements)
            found += [(member, mine)] if mine else []
    return found


def _traces(
    drying: DryingIn, area: float, needed: float, upper: float, intake: float, width: float
) -> tuple[Trace, ...]:
    rules = dry_in_rules()
    traces = [
        Trace(
            "net free area needed",
            needed,
            "sqin",
            f"vented area / {drying.vent_share}",
            f"{area:.1f} sq ft · 144 / {drying.vent_share} = {needed:.1f} sq in",
            rules.vent_source,
        ),
        Trace(
            "free area at the ridge",
            upper,
            "sqin",
            "ridge length · 2 · (slot − half the ridge board / cos θ), no more than the vent lets through",
            f"{upper:.1f} sq in",
            GEOMETRY,
        ),
        Trace(
            "intake needed",
            intake,
            "sqin",
            "the greater of: needed − ridge, and the lower share of what is needed",
            f"max({needed:.1f} − {upper:.1f}, {1.0 - drying.upper_share:g} · {needed:.1f}) = {intake:.1f} sq in",
            rules.vent_source,
        ),
    ]
    if width > 0.0:
        traces.append(
            Trace(
                "opening over each vented block",
                intake / width,
                "in",
                "intake / clear width of all vented blocks",
                f"{intake:.1f} / {width:.1f} = {intake / width:.3f} in",
                f"geometry; {rules.vent_gap_source}",
            )
        )
    return tuple(traces)


def _findings(job: Job, air: Air, ridge: float, vented: Sequence[BuiltWing], units: Units) -> list[Finding]:
    drying, rules, slot = job.drying_in, dry_in_rules(), job.sheathing.ridge_slot_in
    findings: list[Finding] = []
    if ridge > 0.0 and slot <= _NOISE:
        wide = "" if air.slot_in is None else f" {at_least(air.slot_in, units)} on each side would do for its share."
        text = f"The space is vented, but the sheets leave no slot at the ridge.{wide} Set it on the Sheets stage."
        findings.append(Finding("ridge-slot-missing", "warning", "", text, rules.vent_source))
    elif ridge > 0.0 and air.slot_in is not None and slot < air.slot_in - _NOISE:
        text = (
            f"The ridge slot of {units.length(slot)} on each side gives {air.upper_sqin:.0f} sq in of "
            f"{drying.upper_share * air.needed_sqin:.0f} wanted up there; {at_least(air.slot_in, units)} would do. "
            f"{SCREENING}"
        )
        findings.append(Finding("ridge-slot-narrow", "warning", "", text, rules.vent_source))
    if not air.bays:
        text = (
            "The space is vented, but no wing has vented blocks over its plates to let "
            f"{math.ceil(air.intake_sqin):,} sq in of air in. Choose them on the Frame stage, or see to it in the "
            "soffit."
        )
        findings.append(Finding("no-intake", "warning", "", text, rules.vent_source))
    closed = [built.effective for built in vented if built.effective.trim.ridge_blocks == "solid"]
    if closed:
        names = ", ".join(wing.name for wing in closed)
        text = f"Solid ridge blocks of {names} close the slot; hold them down or leave them out where air goes through."
        findings.append(Finding("ridge-blocks-close-slot", "warning", closed[0].id, text, COMMON_PRACTICE))
    if drying.vent_share == 300 and not drying.vapor_retarder:
        share = air.upper_sqin / air.needed_sqin if air.needed_sqin else 0.0
        if not rules.vent_upper_least - _NOISE <= min(share, rules.vent_upper_most) <= rules.vent_upper_most + _NOISE:
            text = (
                f"1/300 holds with {rules.vent_upper_least:.0%} to {rules.vent_upper_most:.0%} of the vents in the "
                f"upper part, or with a vapor retarder; the ridge gives {share:.0%}. Take 1/150, or widen the slot. "
                f"{SCREENING}"
            )
            findings.append(Finding("upper-vents-short", "warning", "", text, rules.vent_source))
        elif share > rules.vent_upper_most + _NOISE:
            text = (
                f"1/300 asks for {rules.vent_upper_least:.0%} to {rules.vent_upper_most:.0%} of what is needed in the "
                f"upper part; the ridge gives {share:.0%} if all of the slot is open. Ask whether more up there is "
                f"let through, or narrow the slot. {SCREENING}"
            )
            findings.append(Finding("upper-vents-over", "note", "", text, rules.vent_source))
    return findings
