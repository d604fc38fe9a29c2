"""What exposed eaves and rakes take: boards or finish panels, and their nails."""

from __future__ import annotations

from workbench.job.model import Job
from workbench.measure import Trace, Units
from workbench.quantities.model import Quantity
from workbench.sheathing.model import SheathingPlan

_SQIN_PER_SQFT = 144.0


def exposed_lines(job: Job, sheathing: SheathingPlan, units: Units) -> list[Quantity]:
    """The finish and its nails; nothing where no edge is exposed."""
    strips = sheathing.exposed
    if not strips:
        return []
    exposed = job.sheathing.exposed
    thick = units.inches(exposed.thickness_in)
    area = units.area(sum(strip.area_sqin for strip in strips) / _SQIN_PER_SQFT)
    if exposed.finish == "boards":
        length = sum(strip.length_in for strip in strips)
        courses = sum(strip.courses for strip in strips)
        trace = Trace(
            "boards at exposed edges",
            length,
            "in",
            "every course as long as its longest level line, net; no laps, no waste",
            f"{courses} courses on {len(strips)} strips, {area} = {units.length(length)}",
            "geometry",
        )
        name = f"boards at exposed eaves and rakes, {thick}, {units.inches(exposed.board_in)} cover, net"
        lines = [Quantity("exposed-boards", "sheathing", name, length / 12.0, "ft", trace)]
    else:
        count = float(len(sheathing.exposed_stock))
        pieces = sum(len(strip.pieces) for strip in strips)
        trace = Trace(
            "finish panels",
            count,
            "count",
            "the strips' pieces placed on sheets, off-cuts used again",
            f"{pieces} pieces, {area}, from {count:.0f} sheets",
            "geometry",
        )
        settings = job.sheathing
        name = f"finish panels at exposed edges, {settings.panel_width_in:g} x {settings.panel_length_in:g} in, {thick}"
        lines = [Quantity("exposed-panels", "sheathing", name, count, "sheets", trace)]
    nails = sum(strip.nails for strip in strips)
    rule = (
        "two a board at each rafter, three over 6 in" if exposed.finish == "boards" else "as the sheets, line by line"
    )
    nailed = Trace("nails at exposed edges", float(nails), "count", rule, f"{nails}", "common practice, no source")
    text = "nails at exposed edges, net: no longer than rafter and finish hide"
    return [*lines, Quantity("exposed-nails", "fastening", text, float(nails), "nails", nailed)]
