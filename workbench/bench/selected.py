"""Which plane the selected object belongs to: the one the strip, the figures and the panels speak about."""

from __future__ import annotations

from workbench.bench.selection import Selection
from workbench.plan import Plan
from workbench.roof.model import Plane


def selected_plane(plan: Plan, selection: Selection) -> Plane | None:
    """The plane of the selected key; of the edge's, corner's, opening's or wing's first plane; else the first.

    None only where the roof has no plane at all. A key that no longer names anything counts as nothing selected.
    """
    planes = plan.roof.planes
    return _named(plan, selection.kind, selection.id) or (planes[0] if planes else None)


def _named(plan: Plan, kind: str, name: str) -> Plane | None:
    match kind:
        case "plane":
            return plan.plane(name)
        case "piece":
            return plan.plane(name.rpartition("/")[0])
        case "edge":
            return _of_edge(plan, name)
        case "corner":
            return _of_wing(plan, name.rpartition("/")[0])
        case "wing":
            return _of_wing(plan, name)
        case "anchor":
            anchor = plan.safety.anchor(name)
            return None if anchor is None else plan.plane(anchor.plane)
        case "member":
            return _of_member(plan, name)
        case "opening":
            return _of_opening(plan, name)
        case _:
            return None


def _of_edge(plan: Plan, name: str) -> Plane | None:
    """The plane that rises from the edge, else the first that ends at it, else the wing's first."""
    wing, _, edge = name.rpartition("/")
    of_wing = [plane for plane in plan.roof.planes if plane.wing == wing]
    rising = next((plane for plane in of_wing if plane.drawn == edge), None)
    ending = next((plane for plane in of_wing if any(side.drawn == edge for side in plane.edges)), None)
    return rising or ending or _of_wing(plan, wing)


def _of_wing(plan: Plan, wing: str) -> Plane | None:
    return next((plane for plane in plan.roof.planes if plane.wing == wing), None)


def _of_opening(plan: Plan, name: str) -> Plane | None:
    opening = next((opening for opening in plan.job.openings if opening.id == name), None)
    return next((plane for plane in plan.roof.planes if opening is not None and plane.whole == opening.plane), None)


def _of_member(plan: Plan, mark: str) -> Plane | None:
    member = next((member for member in plan.framing.members if member.mark == mark), None)
    if member is None:
        return None
    found = (plan.plane(placement.plane) for placement in member.placements)
    return next((plane for plane in found if plane is not None), None)
