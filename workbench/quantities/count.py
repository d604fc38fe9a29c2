"""The order list: what the frame and the sheets add up to."""

from __future__ import annotations

from collections.abc import Sequence

from workbench.job.model import Job, PriceBracket
from workbench.measure import Trace, Units
from workbench.quantities.exposed import exposed_lines
from workbench.quantities.lumber_lines import lumber_lines
from workbench.quantities.lumber_model import LumberPlan
from workbench.quantities.model import Quantity
from workbench.quantities.sheet_sundries import sheet_sundries
from workbench.roof.brackets import Bracket, bracket_of
from workbench.roof.model import Plane, Roof
from workbench.sheathing.model import SheathingPlan

_SQFT_PER_SQUARE = 100.0


def count_quantities(
    job: Job, roof: Roof, lumber: LumberPlan, sheathing: SheathingPlan, units: Units
) -> tuple[Quantity, ...]:
    """Everything to buy that this job computes, in the order of work."""
    return (
        *lumber_lines(lumber, units),
        *_sheets(job, sheathing),
        *exposed_lines(job, sheathing, units),
        *_nails(sheathing),
        *sheet_sundries(job, sheathing),
        *_seams(sheathing, units),
        *_roofing(job, roof.planes, units),
    )


def _sheets(job: Job, sheathing: SheathingPlan) -> list[Quantity]:
    if not sheathing.stock:
        return []
    settings = job.sheathing
    size = (
        f"{settings.panel_width_in:g} x {settings.panel_length_in:g} in, {settings.thickness}, {settings.span_rating}"
    )
    pieces = sum(len(sheet.cuts) for sheet in sheathing.stock)
    proof = "fewest proven" if sheathing.proven else f"at least {sheathing.at_least} whatever the layout"
    trace = Trace(
        "sheets",
        float(sheathing.count),
        "count",
        "every piece of the layout placed on a sheet, off-cuts used again",
        f"{pieces} pieces from {sheathing.count} sheets; {proof}",
        "geometry",
    )
    return [Quantity("sheet", "sheathing", f"sheathing panels, {size}", float(sheathing.count), "sheets", trace)]


def _nails(sheathing: SheathingPlan) -> list[Quantity]:
    counts = {kind: count for kind, count in sheathing.nail_counts.items() if count}
    total = sum(counts.values())
    if not total:
        return []
    trace = Trace(
        "sheathing nails",
        float(total),
        "count",
        "each nailed line of each piece: length / spacing, both end nails counted; no allowance for lost nails",
        " + ".join(f"{kind.replace('_', ' ')} {count}" for kind, count in counts.items()) + f" = {total}",
        "the job's nailing schedule",
    )
    return [Quantity("sheathing-nails", "fastening", "sheathing nails, net", float(total), "nails", trace)]


def _seams(sheathing: SheathingPlan, units: Units) -> list[Quantity]:
    totals = sheathing.seam_totals
    parts = {
        "up-slope": totals.upslope,
        "level": totals.level,
        "ridge": totals.ridge,
        "hip": totals.hip,
        "valley": totals.valley,
        "wall": totals.wall,
    }
    total = sum(parts.values())
    if total <= 0.0:
        return []
    trace = Trace(
        "seams to tape",
        total,
        "in",
        "every joint between sheets once, and the roof's ridges, hips, valleys and walls; no laps, no waste",
        " + ".join(f"{name} {units.length(value)}" for name, value in parts.items() if value)
        + f" = {units.length(total)}",
        "geometry",
    )
    return [Quantity("seams", "drying_in", "seams to tape, net length", total / 12.0, "ft", trace)]


def _roofing(job: Job, planes: Sequence[Plane], units: Units) -> list[Quantity]:
    if not planes:
        return []
    area = sum(plane.area_sqft for plane in planes)
    squares = Trace(
        "roof area",
        area / _SQFT_PER_SQUARE,
        "sqft",
        "sum of the planes' true areas, overhangs included, / 100 sq ft",
        " + ".join(f"{plane.name} {units.area(plane.area_sqft)}" for plane in planes) + f" = {units.area(area)}",
        "geometry",
    )
    lines = [Quantity("roof-squares", "roofing", "roof area to cover", area / _SQFT_PER_SQUARE, "squares", squares)]
    price = _price(job, planes)
    return [*lines, price] if price else lines


def _price(job: Job, planes: Sequence[Plane]) -> Quantity | None:
    """What the roofers would charge by the job's brackets; None unless every plane's bracket has a price."""
    total, terms = 0.0, list[str]()
    for plane in planes:
        bracket = plane_bracket(job.brackets, plane.tangent)
        if bracket is None or bracket.price_per_square is None:
            return None
        squares = plane.area_sqft / _SQFT_PER_SQUARE
        total += squares * bracket.price_per_square
        terms.append(f"{plane.name} {squares:.2f} squares · {bracket.price_per_square:g}")
    trace = Trace(
        "roofing price",
        total,
        "money",
        "squares of each plane times the price of the bracket its framed slope falls in",
        " + ".join(terms) + f" = {total:.2f}",
        "the job's price brackets",
    )
    return Quantity("roofing-price", "roofing", "roofing by the job's price brackets", total, "money", trace)


def plane_bracket(brackets: Sequence[PriceBracket], tangent: float) -> Bracket | None:
    """The price bracket a slope (rise / run) falls in, or None below the first."""
    return bracket_of(tangent, tuple(Bracket(b.from_in_12, b.price_per_square) for b in brackets))
