"""The ice barrier: how far up each slope it reaches, and what it takes.

It reaches from the eave edge to at least 24 in inside the exterior wall line, measured level; up the slope that is
(overhang + inside) · √(1 + m²), and what the sheathing runs past the tail. Some editions ask for 36 in along the slope
from 8 in 12 on. Sources stand with the rules.
"""

from __future__ import annotations

import math
from collections.abc import Mapping

from workbench.drying_in.lines import edge_runs
from workbench.drying_in.model import Barrier, Material, Run
from workbench.drying_in.pieces import rolls_for
from workbench.job.drying_in import IceBarrier
from workbench.measure import Trace, Units
from workbench.roof.model import Plane, Roof
from workbench.roof.solved import Eave
from workbench.rules.dry_in import dry_in_rules

_NOISE = 1e-9


def ice_barriers(
    ice: IceBarrier, roof: Roof, eaves: Mapping[str, Eave], past_tail_in: float, units: Units
) -> tuple[Barrier, ...]:
    """One for every plane that has an eave of its own.

    Args:
        ice: The barrier that is asked for.
        roof: All planes.
        eaves: Eaves by plane id.
        past_tail_in: Run of the sheathing past the tail, up the slope.
        units: How figures are shown.
    """
    found: list[Barrier] = []
    for plane in roof.planes:
        eave = eaves.get(plane.id)
        if eave is not None and any(edge.kind == "eave" and edge.opening is None for edge in plane.edges):
            found.append(_barrier(ice, plane, eave, past_tail_in, units))
    return tuple(found)


def _barrier(ice: IceBarrier, plane: Plane, eave: Eave, past_tail_in: float, units: Units) -> Barrier:
    rules = dry_in_rules()
    level = eave.overhang_in - ice.wall_in + ice.inside_in
    up = max(level, 0.0) * plane.stretch + past_tail_in
    values = (
        f"({eave.overhang_in:g} − {ice.wall_in:g} + {ice.inside_in:g}) · √(1 + {plane.tangent:.4f}²) + "
        f"{past_tail_in:g} = {up:.3f} in"
    )
    source = rules.ice_source
    steep = plane.in_12 >= rules.ice_steep_from_in_12 - _NOISE and ice.edition in rules.ice_steep_editions
    if steep:
        source = f"{source}; {rules.ice_steep_source}"
        if up < rules.ice_steep_least_in:
            up = rules.ice_steep_least_in
            values += f"; from {rules.ice_steep_from_in_12:g} in 12 at least {rules.ice_steep_least_in:g} in"
    up = min(up, plane.plane_length_in + past_tail_in)
    step = ice.roll_width_in - ice.lap_in
    courses = max(1, math.ceil((up - ice.lap_in) / step - _NOISE))
    formula = "(overhang − wall + inside) · √(1 + m²) + past the tail, up the slope from the eave edge"
    trace = Trace(f"ice barrier on {plane.name}", up, "in", formula, f"{values} → {units.length(up)}", source)
    return Barrier(plane.id, up, courses, trace)


def ice_runs(roof: Roof, barriers: tuple[Barrier, ...]) -> list[Run]:
    """The eaves it is laid along."""
    courses = {barrier.plane: barrier.courses for barrier in barriers}
    return [run for run in edge_runs(roof, "eave") if run.plane in courses]


def ice_material(ice: IceBarrier, roof: Roof, barriers: tuple[Barrier, ...], units: Units) -> Material | None:
    """Rolls of it: every course as long as its eave, ends lapped, rolls run on from one eave to the next."""
    courses = {barrier.plane: barrier.courses for barrier in barriers}
    runs = ice_runs(roof, barriers)
    length = sum(run.length_in * courses[run.plane] for run in runs)
    rolls = rolls_for(length, ice.roll_in, ice.end_lap_in)
    if not rolls:
        return None
    parts = ", ".join(f"{run.name} {units.length(run.length_in)} · {courses[run.plane]}" for run in runs)
    trace = Trace(
        "ice barrier",
        float(rolls),
        "count",
        "eave length times courses, each new roll lapped over the one before; hips and valleys not taken off",
        f"{parts} = {units.length(length)} in rolls of {units.length(ice.roll_in)} → {rolls}",
        dry_in_rules().ice_source,
    )
    name = f"ice barrier, {units.inches(ice.roll_width_in)} wide, rolls of {units.length(ice.roll_in)}"
    return Material("ice-barrier", name, float(rolls), "rolls", trace)
