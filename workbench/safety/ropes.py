"""How long a rope may be: distance to the nearest unprotected edge less reach, stretch and slip. Inches."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

from workbench.job.safety import Safety
from workbench.measure import Trace, Units
from workbench.roof.model import Plane, Point2, Point3
from workbench.safety.model import Fall, Limit, RopeToBuy
from workbench.safety.surface import Chain, Stretch, Surface, outside_in, stretches

_SAME_IN = 1e-6
FORMULA = "distance to the edge − reach − stretch − grab travel − anchor movement"
SOURCE = "geometry; allowances: common practice, no source"


@dataclass(frozen=True, slots=True)
class Allowances:
    """What is taken off the distance to an edge.

    Attributes:
        reach_in: Harness point to the far foot or hand.
        stretch_in: What the rope gives.
        grab_travel_in: What the grab slips.
        anchor_movement_in: What the anchor gives.
        work_reach_in: How far past the harness point a hand works; not taken off, but what it serves.
        connector_in: Connectors and lanyard, the part of the length that is not rope.
    """

    reach_in: float
    stretch_in: float = 0.0
    grab_travel_in: float = 0.0
    anchor_movement_in: float = 0.0
    work_reach_in: float = 0.0
    connector_in: float = 0.0

    @classmethod
    def of(cls, safety: Safety) -> Allowances:
        """Those of a job."""
        return cls(
            safety.reach_in,
            safety.stretch_in,
            safety.grab_travel_in,
            safety.anchor_movement_in,
            safety.work_reach_in,
            safety.connector_in,
        )

    @property
    def total_in(self) -> float:
        """All that is taken off."""
        return self.reach_in + self.stretch_in + self.slip_in

    @property
    def slip_in(self) -> float:
        """What lets the harness further out without a load: grab travel and anchor movement."""
        return self.grab_travel_in + self.anchor_movement_in


@dataclass(frozen=True)
class Standpoint:
    """An anchor's place on the roof, with every way from it over the folds."""

    plane: str
    at: Point2
    space: Point3
    chains: tuple[Chain, ...]
    connected: frozenset[str]

    @classmethod
    def on(cls, surface: Surface, plane: Plane, at: Point2) -> Standpoint:
        """A point of a plane."""
        return cls(plane.id, at, plane.to_space(at), surface.chains(plane.id, at), surface.connected(plane.id))


def measured(surface: Surface, stand: Standpoint, fall: Fall) -> tuple[Stretch, ...]:
    """How a fall is measured from a standpoint; empty where no roof leads to it."""
    if fall.plane not in stand.connected:
        return ()
    if not fall.ring:
        return stretches(surface, stand.chains, stand.at, stand.space, fall.plane, fall.start, fall.end)
    plane = surface.planes[fall.plane]
    if fall.plane == stand.plane and outside_in(fall.ring, stand.at) <= _SAME_IN:
        return (Stretch(stand.at, stand.at, stand.at, 0.0, 1.0, straight=False),)
    corners = [plane.to_space(corner) for corner in fall.ring]
    return tuple(
        part
        for start, end in zip(corners, [*corners[1:], corners[0]], strict=True)
        for part in stretches(surface, stand.chains, stand.at, stand.space, fall.plane, start, end)
    )


def limits_of(
    surface: Surface, stand: Standpoint, falls: Sequence[Fall], allowances: Allowances, units: Units
) -> tuple[Limit, ...]:
    """One limit for every fall that nothing guards, the shortest first."""
    found: list[Limit] = []
    for fall in falls:
        if fall.guarded:
            continue
        parts = measured(surface, stand, fall)
        if not parts:
            continue
        nearest = min(parts, key=lambda part: part.least_in)
        distance = nearest.least_in
        total = distance - allowances.total_in
        trace = _trace(fall, distance, total, allowances, units, straight=nearest.straight)
        found.append(Limit(fall, distance, total, nearest.straight, trace))
    return tuple(sorted(found, key=lambda limit: (round(limit.total_in, 6), limit.fall.id)))


def least_total_in(
    surface: Surface, stand: Standpoint, falls: Sequence[Fall], allowances: Allowances, *, rakes: bool
) -> float:
    """Length of rope, connector and lanyard that every fall allows, with the rakes or without; inf for none."""
    least = math.inf
    for fall in falls:
        if fall.guarded or (fall.kind == "rake" and not rakes):
            continue
        for part in measured(surface, stand, fall):
            least = min(least, part.least_in - allowances.total_in)
    return least


def governing(limits: Sequence[Limit], *, rakes: bool) -> Limit | None:
    """The shortest limit, with the rakes or without."""
    return next((limit for limit in limits if rakes or limit.fall.kind != "rake"), None)


def rope_to_buy(ropes_in: Sequence[float], rope_in: float, connector_in: float, to_eave_in: float) -> RopeToBuy:
    """Which rope to take for a permitted length.

    Args:
        ropes_in: Lengths that can be had.
        rope_in: Permitted length of rope, without connector and lanyard.
        connector_in: Length of these.
        to_eave_in: From the anchor to the nearest eave; inf where there is none.
    """
    lengths = sorted(ropes_in)
    fits = [length for length in lengths if length <= rope_in + _SAME_IN]
    longer = [length for length in lengths if length > rope_in + _SAME_IN]
    after = longer[0] if longer else None
    hangs = max(0.0, after + connector_in - to_eave_in) if after is not None else 0.0
    return RopeToBuy(fits[-1] if fits else None, after, hangs)


def _trace(fall: Fall, distance: float, total: float, allowances: Allowances, units: Units, *, straight: bool) -> Trace:
    taken = (
        allowances.reach_in,
        allowances.stretch_in,
        allowances.grab_travel_in,
        allowances.anchor_movement_in,
    )
    values = " − ".join(units.length(x) for x in (distance, *taken)) + f" = {units.signed(total)}"
    if straight:
        values += " (straight distance: a taut rope leaves the roof across a valley)"
    return Trace(f"rope, connector and lanyard: {fall.name}", total, "in", FORMULA, values, SOURCE)
