"""Whether whole sheets laid from a rake's edge join on rafters, and what first-rafter offset makes them. Inches."""

from __future__ import annotations

from collections.abc import Sequence

from workbench.findings import COMMON_PRACTICE, Finding
from workbench.framing.model import Framing
from workbench.job.model import Sheathing, Wing
from workbench.measure import Units
from workbench.roof.model import Plane

_ON_CENTRE_IN = 1.0 / 32.0


def sheet_offset(plane: Plane, wing: Wing, sheathing: Sheathing, building_end: float) -> float | None:
    """The offset of the layout at which sheets laid whole from the plane's edge join on rafter centres.

    Args:
        plane: The plane; its edge is the outermost point at the end the layout is measured from.
        wing: Its wing.
        sheathing: The sheets.
        building_end: x of the building line's end there, plane axes.

    Returns:
        The least offset, or None where no whole number of spacings makes a sheet's length.
    """
    spacing = wing.rafter.spacing_in
    if abs(sheathing.panel_length_in / spacing - round(sheathing.panel_length_in / spacing)) * spacing > _ON_CENTRE_IN:
        return None
    xs = [x for x, _ in plane.polygon]
    edge = min(xs) if wing.rafter.start == "left" else max(xs)
    past = building_end - edge if wing.rafter.start == "left" else edge - building_end
    offset = -past % spacing
    return 0.0 if spacing - offset < _ON_CENTRE_IN else offset


def offset_findings(
    wings: Sequence[Wing], planes: Sequence[Plane], framing: Framing, sheathing: Sheathing, units: Units
) -> tuple[Finding, ...]:
    """Where whole sheets laid from the end of the layout would not join on rafters, and the offset that mends it.

    Only the plane over a wing's first eave is looked at, between rakes, where rows start from the same end.
    """
    by_id = {plane.id: plane for plane in planes}
    found: list[Finding] = []
    for wing in wings:
        eave = next((edge for edge in wing.edges if edge.kind == "eave"), None)
        plane = by_id.get(f"{wing.id}/{eave.id}") if eave is not None else None
        if eave is None or plane is None or sheathing.start != wing.rafter.start:
            continue
        kinds = {edge.kind for edge in plane.all_edges}
        if not kinds <= {"eave", "rake", "ridge", "wall"} or not framing.supports_of(plane.id):
            continue
        at = wing.edges.index(eave)
        ends = [plane.to_plane(wing.outline[k % len(wing.outline)])[0] for k in (at, at + 1)]
        best = sheet_offset(plane, wing, sheathing, min(ends) if wing.rafter.start == "left" else max(ends))
        if best is None or abs(best - wing.rafter.offset_in % wing.rafter.spacing_in) < _ON_CENTRE_IN:
            continue
        text = (
            f"{plane.name}: whole sheets laid from the {wing.rafter.start} rake's edge do not join on rafters; with "
            f"the layout offset by {units.inches(best)} (now {units.inches(wing.rafter.offset_in)}) they do."
        )
        found.append(Finding("layout-off-sheets", "note", wing.id, text, COMMON_PRACTICE))
    return tuple(found)
