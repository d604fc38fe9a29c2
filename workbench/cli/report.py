"""A solved job as one JSON object, and as text for the terminal."""

from __future__ import annotations

import math
from collections.abc import Iterable

from workbench.cli.lumber_report import lumber_json, lumber_text
from workbench.cli.safety_report import safety_json
from workbench.cli.screening_report import drying_in_json, screening_json
from workbench.cli.site_report import site_json, site_text
from workbench.drawing.exposed_plan import exposed_words
from workbench.findings import SCREENING, Finding
from workbench.measure import Units
from workbench.plan import Plan
from workbench.quantities.model import Quantity
from workbench.roof.model import Plane
from workbench.safety.cautions import GEOMETRY_ONLY

Json = dict[str, object]

FALL_CAUTION = f"Falls and ropes: {GEOMETRY_ONLY[:1].lower()}{GEOMETRY_ONLY[1:]}"
_OF_FALLS = ("fall-", "rope", "rake-not-", "anchor-", "guard-", "strip-along-", "half-without-", "ground-not-")


def plan_json(plan: Plan) -> Json:
    """What ``solve --json`` prints: inches, degrees, square feet, unrounded."""
    sheathing, totals, counts = plan.sheathing, plan.sheathing.seam_totals, plan.sheathing.nail_counts
    return {
        "job": plan.job.name,
        "planes": [_plane_json(plan, plane) for plane in plan.roof.planes],
        "members": [
            {
                "mark": member.mark,
                "kind": member.kind,
                "count": member.count,
                "length_in": member.length_in,
                "stock_in": member.stock_in,
                "section": member.section,
                "left": member.left,
                "right": member.right,
                "drop_in": member.drop_in,
                "backing_deg": list(member.backing_deg),
                "plies": member.plies,
                "cut": plan.cut.of(member.mark).count,
                "cuts": [
                    {
                        "name": cut.name,
                        "angle_deg": cut.angle_deg,
                        "bevel_deg": cut.bevel_deg,
                        "other_bevel_deg": cut.other_bevel_deg,
                        "in_12": cut.in_12,
                        "side_in_12": cut.side_in_12,
                        "other_side_in_12": cut.other_side_in_12,
                        "at_in": cut.at_in,
                    }
                    for cut in member.cuts
                ],
            }
            for member in plan.framing.members
        ],
        "lumber": lumber_json(plan.lumber),
        "sheets": {"count": sheathing.count, "at_least": sheathing.at_least, "proven": sheathing.proven},
        "turned_over": [{"plane": plane, "label": label} for plane, label in sorted(_over(plan))],
        "exposed": [
            {
                "plane": strip.plane,
                "edge": strip.edge,
                "width_in": strip.width_in,
                "area_sqin": strip.area_sqin,
                "courses": strip.courses,
                "length_in": strip.length_in,
                "pieces": len(strip.pieces),
                "nails": strip.nails,
                "changes_in": [[list(a), list(b)] for a, b in strip.changes],
            }
            for strip in sheathing.exposed
        ],
        "seams_in": {
            "upslope": totals.upslope,
            "level": totals.level,
            "ridge": totals.ridge,
            "hip": totals.hip,
            "valley": totals.valley,
            "wall": totals.wall,
        },
        "cut_sheets": [{"plane": plane, "label": label} for plane, label in sorted(plan.sheets_cut.done)],
        "nails": {"count": sum(counts.values()), "by_line": dict(counts)},
        "safety": safety_json(plan.safety),
        "screening": screening_json(plan.screening),
        "drying_in": drying_in_json(plan.drying_in),
        "site": site_json(plan.site),
        "findings": findings_json(plan.findings),
    }


def findings_json(findings: Iterable[Finding]) -> list[Json]:
    """Findings with their stable codes."""
    return [
        {"code": f.code, "severity": f.severity, "object": f.object, "text": f.text, "source": f.source}
        for f in findings
    ]


def quantities_json(quantities: Iterable[Quantity]) -> list[Json]:
    """The order list with the trace of each line."""
    return [
        {
            "code": q.code,
            "group": q.group,
            "name": q.name,
            "amount": q.amount,
            "unit": q.unit,
            "formula": q.trace.formula,
            "values": q.trace.values,
            "source": q.trace.source,
        }
        for q in quantities
    ]


def summary_text(plan: Plan) -> str:
    """The roof, its members, sheets and findings for the terminal."""
    blocks = [f"{plan.job.name}", *([plan.job.note] if plan.job.note else []), "", "Planes"]
    blocks += [f"  {_plane_text(plan.units, plane)}" for plane in plan.roof.planes]
    blocks += ["", "Members"]
    blocks += [
        f"  {m.mark}: {m.count} of {m.section}, {plan.units.length(m.length_in)} along the top edge, "
        f"from {plan.units.length(m.stock_in)} stock"
        for m in plan.framing.members
    ]
    blocks += ["", "Boards", *(f"  {line}" for line in lumber_text(plan.lumber, plan.units).splitlines())]
    blocks += ["", f"Setting out, {plan.site.base_words}"] if plan.site.heights or plan.site.sticks else []
    blocks += [f"  {line}" for line in site_text(plan.site, plan.units).splitlines()]
    blocks += ["", f"Sheets: {sheets_text(plan)}"]
    return "\n".join([*blocks, "", findings_text(plan.findings)])


def sheets_text(plan: Plan) -> str:
    """How many sheets, and how sure that is the fewest."""
    sheathing = plan.sheathing
    proof = "fewest proven" if sheathing.proven else f"at least {sheathing.at_least} whatever the layout"
    return f"{sheathing.count} ({proof})"


def layout_text(plan: Plan) -> str:
    """Rows, snap lines and pieces of every plane for the terminal."""
    lines: list[str] = []
    over = _over(plan)
    for sheets in plan.sheathing.planes:
        plane = plan.plane(sheets.plane)
        lines.append(f"Sheets on {plane.name if plane else sheets.plane}")
        for row in reversed(sheets.rows):
            mine = [piece for piece in sheets.pieces if piece.row == row.number]
            sizes = " | ".join(
                f"{p.label} {plan.units.compact(p.cut_length_in)}{' turn over' if (p.plane, p.label) in over else ''}"
                for p in mine
            )
            lines.append(
                f"  row {row.number}: {plan.units.length(row.width_in)} wide, "
                f"snap at {plan.units.tape(row.snap_in)}: {sizes}"
            )
        exposed = exposed_words(plan, sheets.plane)
        lines += [f"  {exposed}"] if exposed else []
    return "\n".join(lines)


def _over(plan: Plan) -> set[tuple[str, str]]:
    """Pieces that are turned over, where both faces of the sheets are alike."""
    return {(cut.plane, cut.label) for sheet in plan.sheathing.stock for cut in sheet.cuts if cut.turned_over}


def findings_text(findings: Iterable[Finding]) -> str:
    """Findings one a line, errors first, with the cautions."""
    found = list(findings)
    lines = [f"{finding.severity}: {finding.text} [{finding.source}]" for finding in found]
    falls = [FALL_CAUTION] if any(finding.code.startswith(_OF_FALLS) for finding in found) else []
    return "\n".join([*(lines or ["No findings."]), *falls, SCREENING])


def quantities_text(quantities: Iterable[Quantity]) -> str:
    """The order list for the terminal."""
    return "\n".join(f"{amount_text(q):>12} {_unit(q):<8} {q.name}  ({q.trace.values})" for q in quantities)


def pages_text(pages: int) -> str:
    """``1 page``, ``2 pages``."""
    return "1 page" if pages == 1 else f"{pages} pages"


def amount_text(quantity: Quantity) -> str:
    """A whole number where it is one, else one or two decimals."""
    if quantity.unit in ("pieces", "sheets", "nails", "rolls"):
        return f"{quantity.amount:.0f}"
    return f"{quantity.amount:.2f}" if quantity.unit in ("squares", "money") else f"{quantity.amount:.1f}"


def _unit(quantity: Quantity) -> str:
    return quantity.unit.removesuffix("s") if amount_text(quantity) == "1" else quantity.unit


def _plane_text(units: Units, plane: Plane) -> str:
    return (
        f"{plane.name}: {units.slope(plane.tangent)} ({units.angle(plane.angle)}), {units.area(plane.area_sqft)}, "
        f"plane length {units.length(plane.plane_length_in)}"
    )


def _plane_json(plan: Plan, plane: Plane) -> Json:
    sheets = plan.sheets_of(plane.id)
    return {
        "id": plane.id,
        "name": plane.name,
        "slope_in_12": plane.in_12,
        "angle_deg": _degrees(plane),
        "area_sqft": plane.area_sqft,
        "plane_length_in": plane.plane_length_in,
        "polygon_in": [list(point) for point in plane.polygon],
        "edges": [{"kind": edge.kind, "length_in": edge.length_in} for edge in plane.edges],
        "rows": [{"width_in": row.width_in, "snap_in": row.snap_in} for row in sheets.rows] if sheets else [],
        "pieces": [
            {"label": piece.label, "polygon_in": [list(point) for point in piece.polygon], "stock": piece.stock}
            for piece in sheets.pieces
        ]
        if sheets
        else [],
    }


def _degrees(plane: Plane) -> float:
    return math.degrees(plane.angle)
