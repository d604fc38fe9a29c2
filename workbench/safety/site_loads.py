"""Ladders to the eaves, weights carried and set down. Screening figures. Inches, pounds."""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence

from workbench.job.model import Sheathing
from workbench.job.safety import Safety
from workbench.measure import Trace, Units
from workbench.roof.model import Plane, Point3
from workbench.rules.site_work import lifting_limit_lb, site_work
from workbench.safety.model import Carrying, Fall, Ladder

_SQIN_PER_SQFT = 144.0


def ladders(falls: Sequence[Fall], ground: Callable[[Fall, Point3], float], units: Units) -> tuple[Ladder, ...]:
    """A ladder to the middle of each eave: foot out by a quarter of the working length, rails 3 ft above the eave."""
    rule = site_work().ladder
    found: list[Ladder] = []
    for fall in falls:
        if fall.kind != "eave":
            continue
        x, y, z = ((a + b) / 2.0 for a, b in zip(fall.start, fall.end, strict=True))
        height = z - ground(fall, (x, y, z))
        if height <= 0.0:
            continue
        upright = math.sqrt(1.0 - rule.out_share * rule.out_share)
        working, rails = height / upright, (height + rule.above_in) / upright
        trace = Trace(
            f"ladder to the {fall.name}",
            rule.out_share * working,
            "in",
            "working length = height / √(1 − 1/4²); foot out = working length / 4; rails reach 3 ft above the eave",
            f"{units.length(height)} / {upright:.4f} = {units.length(working)}; / 4 = "
            f"{units.length(rule.out_share * working)}; with 3 ft above {units.length(rails)}",
            f"{rule.out_source}; {rule.above_source}",
        )
        found.append(Ladder(fall, height, rule.out_share * working, working, rails, trace))
    return tuple(found)


def carrying(
    sheathing: Sheathing, safety: Safety, planes: Sequence[Plane], sheets: int, pieces: int, units: Units
) -> Carrying:
    """Weights of the sheets, pieces handed up, one lift against the lifting equation, one stack on the roof."""
    figures = site_work()
    weight = figures.panel(sheathing.thickness)
    area = sheathing.panel_width_in * sheathing.panel_length_in / _SQIN_PER_SQFT
    psf = weight.heavier if weight is not None else 0.0
    sheet = psf * area
    limit = lifting_limit_lb(safety.hold_in, safety.lift_in)
    live = min((figures.roof_live.at(plane.tangent) for plane in planes), default=figures.roof_live.at(0.0))
    stack = sheet * safety.stack_sheets
    deck = figures.deck
    on_deck = (stack + safety.people * deck.person_lb) / area
    bearing = deck.class_for(on_deck)
    classes = ", ".join(f"{each.name} {units.pressure(each.psf)}" for each in deck.classes)
    traces = (
        Trace(
            "weight of a sheet",
            sheet,
            "lb",
            "area of a sheet · weight of its thickness, the heavier of plywood and OSB",
            f"{area:g} sq ft · {psf:g} psf = {units.weight(sheet)}",
            figures.panels.source,
        ),
        Trace(
            "limit of one lift",
            limit,
            "lb",
            "51 lb · (10 / H) · (0.82 + 1.8 / D), lifted from knuckle height",
            f"51 · (10 / {safety.hold_in:g}) · (0.82 + 1.8 / {safety.lift_in:g}) = {units.weight(limit)}",
            figures.lifting.source,
        ),
        Trace(
            "stack on the roof",
            stack,
            "lb",
            "sheets in the stack · weight of a sheet; on its footprint sheets · weight a square foot",
            f"{safety.stack_sheets} · {units.weight(sheet)} = {units.weight(stack)}; "
            f"{units.pressure(safety.stack_sheets * psf)} beside a roof live load of {units.pressure(live)}",
            f"{figures.panels.source}; {figures.roof_live.source}",
        ),
        Trace(
            "stack on a deck",
            on_deck,
            "psf",
            "(stack + people · weight of one with tools) / area of a sheet",
            f"({units.weight(stack)} + {safety.people} · {units.weight(deck.person_lb)}) / {area:g} sq ft = "
            f"{units.pressure(on_deck)}; {classes}",
            deck.source,
        ),
    )
    return Carrying(
        sheet,
        sheet * sheets,
        pieces,
        limit,
        sheet / limit,
        sheet / 2.0 / limit,
        stack,
        safety.stack_sheets * psf,
        live,
        on_deck,
        "" if bearing is None else bearing.name,
        traces,
    )
