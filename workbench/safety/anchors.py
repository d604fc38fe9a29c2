"""Anchors on the roof: where they stand, what rope each permits, what it serves and what it leaves exposed. Inches."""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from functools import partial

from shapely.geometry.base import BaseGeometry

from workbench.job.safety import Anchor, WorkStage
from workbench.roof.model import Plane, Point2
from workbench.safety.areas import to_area, worked_on
from workbench.safety.exposed import exposures_of
from workbench.safety.falls import struck_below
from workbench.safety.model import AnchorPlan, Exposure, Fall, Limit, RopeToBuy
from workbench.safety.ropes import Allowances, Standpoint, governing, limits_of, rope_to_buy
from workbench.safety.site import Site
from workbench.safety.surface import Surface, off_plane_in, on_plane, plane_at

OFF_IN = 1.0
"""An anchor this little outside its plane still stands on it."""

_STAGES: tuple[WorkStage, ...] = ("framed", "sheathing", "sheathed")


@dataclass(frozen=True)
class Placed:
    """An anchor and where it stands; ``off_in`` is how far off the roof it lies, inf where its plane is not there."""

    anchor: Anchor
    plane: Plane | None
    at: Point2
    off_in: float

    @property
    def name(self) -> str:
        """What it is called."""
        return self.anchor.name or self.anchor.id


def place(anchor: Anchor, alone: Mapping[str, Plane], surface: Surface) -> Placed:
    """Where an anchor stands on the roof as joined.

    Args:
        anchor: The anchor, measured on the plane as its wing has it alone.
        alone: Those planes by id.
        surface: The roof as joined.
    """
    whole = alone.get(anchor.plane)
    if whole is None:
        return Placed(anchor, None, (0.0, 0.0), math.inf)
    y, out = anchor.y_in, 0.0
    if y is None:
        y, out = top_of(whole, anchor.x_in)
    plan = whole.to_space((anchor.x_in, y))
    piece, off = plane_at(surface.planes, whole.whole, (plan[0], plan[1]), OFF_IN)
    if not piece or out > OFF_IN:
        return Placed(anchor, None, (anchor.x_in, y), max(off, out))
    plane = surface.planes[piece]
    return Placed(anchor, plane, on_plane(plane, plane.to_plane(plan)), off)


def stands_on(anchor: AnchorPlan, plane: Plane) -> bool:
    """Whether an anchor stands on a plane, or on an edge the plane shares with the one it is measured on."""
    if not anchor.plane or anchor.plane == plane.id:
        return anchor.plane == plane.id
    at = plane.to_plane(anchor.space)
    return off_plane_in(plane, at) <= OFF_IN and abs(plane.to_space(at)[2] - anchor.space[2]) <= OFF_IN


def top_of(plane: Plane, x: float) -> tuple[float, float]:
    """The highest y of a plane at an x, and how far the x lies beside the plane."""
    left, right = min(corner[0] for corner in plane.polygon), max(corner[0] for corner in plane.polygon)
    inside = min(max(x, left), right)
    highest = -math.inf
    for (ax, ay), (bx, by) in zip(plane.polygon, plane.polygon[1:] + plane.polygon[:1], strict=True):
        low, high = sorted((ax, bx))
        if not low <= inside <= high:
            continue
        share = (inside - ax) / (bx - ax) if abs(bx - ax) > 1e-9 else 1.0
        highest = max(highest, ay + share * (by - ay), ay if abs(bx - ax) <= 1e-9 else -math.inf)
    return highest, abs(x - inside)


def is_built(anchor: Anchor, stage: WorkStage) -> bool:
    """Whether an anchor may be used at a stage of work."""
    return _STAGES.index(anchor.valid_from) <= _STAGES.index(stage)


def plan_anchor(
    site: Site, surface: Surface, shapes: Mapping[str, BaseGeometry], placed: Placed, falls: Sequence[Fall]
) -> AnchorPlan:
    """What an anchor permits and serves; one that is off the roof permits nothing."""
    anchor, plane = placed.anchor, placed.plane
    if plane is None:
        nothing = RopeToBuy(None, None, 0.0)
        return AnchorPlan(
            anchor.id, placed.name, "", placed.at, (0.0, 0.0, 0.0), False, (), None, 0.0, 0.0, nothing, (), False, ()
        )
    safety = site.safety
    allowances = Allowances.of(safety)
    stand = Standpoint.on(surface, plane, placed.at)
    limits = limits_of(surface, stand, falls, allowances, site.units)
    rakes = safety.restrain == "all"
    governs = governing(limits, rakes=rakes)
    permitted = 0.0 if governs is None else max(governs.total_in, 0.0)
    rope = max(permitted - allowances.connector_in, 0.0)
    tied = anchor.rope_in
    set_in = permitted if rope > 0.0 else 0.0
    if tied is not None:
        set_in = tied + allowances.connector_in
    built = is_built(anchor, safety.stage)
    # A rope tied too long serves no more than a permitted one: beyond that hands work past the limit of an edge.
    serving_in = set_in if governs is None else min(set_in, permitted if rope > 0.0 else 0.0)
    radius_in = serving_in + allowances.work_reach_in if serving_in else 0.0
    served = worked_on(surface, shapes, stand.chains, stand.at, radius_in)
    return AnchorPlan(
        id=anchor.id,
        name=placed.name,
        plane=plane.id,
        point=placed.at,
        space=stand.space,
        built=built,
        limits=limits,
        governs=governs,
        set_in=set_in,
        rope_in=max(set_in - allowances.connector_in, 0.0),
        to_buy=rope_to_buy(safety.ropes_in, rope, allowances.connector_in, _to_eave(limits)),
        exposed=_exposed(site, surface, shapes, stand, limits, set_in) if set_in else (),
        rakes_free=not rakes,
        served=tuple((name, to_area(shape)) for name, shape in sorted(served.items())),
        permitted_in=rope,
    )


def _to_eave(limits: Sequence[Limit]) -> float:
    return min((limit.distance_in for limit in limits if limit.fall.kind == "eave"), default=math.inf)


def _exposed(
    site: Site,
    surface: Surface,
    shapes: Mapping[str, BaseGeometry],
    stand: Standpoint,
    limits: Sequence[Limit],
    set_in: float,
) -> tuple[Exposure, ...]:
    return exposures_of(
        surface,
        shapes,
        stand,
        limits,
        set_in,
        Allowances.of(site.safety),
        site.rules.arrest.deceleration_in,
        partial(struck_below, site),
    )
