"""Where the sheathing's thickness enters: over planes, at ridges, hips and valleys, under sleepers. Inches, degrees.

Roof planes are the rafters' top edges, the underside of the sheathing. Where two sheets meet over a ridge or hip their
edges lie close when each is bevelled by half the angle the planes turn, (180° − dihedral) / 2; the sheet is then longer
on its upper face by t · tan of it, in a valley shorter. A roof framed over a sheathed one stands on that sheathing.
Source: geometry.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence

from workbench.findings import GEOMETRY, Finding
from workbench.framing.group import SLEEPER_IN
from workbench.framing.space import dihedral, slope_of
from workbench.measure import Trace, Units
from workbench.roof.model import Plane, PlaneEdge
from workbench.site.model import Covering

COVERING_WORDS = {
    "plane": "on a plane, plumb",
    "ridge": "ridge: upper face longer",
    "hip": "hip: upper face longer",
    "valley": "valley: upper face shorter",
    "overframed": "over a sheathed roof: ends short by",
}
"""What each kind is called beside its figure."""

_FOLDS = {"ridge": "ridge", "hip": "hip", "valley": "valley"}


def coverings(planes: Sequence[Plane], thickness_in: float, units: Units) -> tuple[Covering, ...]:
    """What the sheathing's thickness does, equal lines told once.

    Args:
        planes: All planes.
        thickness_in: Of the sheathing.
        units: How lengths are shown in the traces.
    """
    found = [*_over_planes(planes, thickness_in), *_folds(planes, thickness_in, units)]
    known: dict[tuple[object, ...], Covering] = {}
    for one in found:
        key = (one.kind, round(one.figure_in, 6), round(one.bevel_deg, 6))
        if one.kind == "plane" or key not in known:
            known[(*key, one.name) if one.kind == "plane" else key] = one
    return tuple(known.values())


def covering_findings(planes: Sequence[Plane], thickness_in: float, units: Units) -> tuple[Finding, ...]:
    """Planes whose sheets lie on the sheathing of a roof below: they end short of the line that is drawn."""
    by_id = {plane.id: plane for plane in planes}
    found: dict[tuple[str, str], Finding] = {}
    for plane in planes:
        for edge in plane.all_edges:
            below = by_id.get(edge.neighbour or "")
            if edge.kind != "valley" or below is None or _shared(edge, plane, below):
                continue
            one = _overframed(plane, below, thickness_in, units)
            text = (
                f"{plane.name}: along the valley its sheets lie on the sheathing of {below.name}. Planes are drawn to "
                f"the rafters' top edges: cut them {units.length(one.figure_in)} short, up their slope, edge bevelled "
                f"{one.bevel_deg:.1f}°."
            )
            found[plane.id, below.id] = Finding("sheets-end-short", "note", plane.id, text, GEOMETRY)
    return tuple(found.values())


def _over_planes(planes: Sequence[Plane], t: float) -> Iterator[Covering]:
    done: set[float] = set()
    for plane in planes:
        slope = round(plane.tangent, 9)
        if slope in done:
            continue
        done.add(slope)
        plumb = t * plane.stretch
        values = f"{t:.4f} · {plane.stretch:.6f} = {plumb:.4f} in"
        trace = Trace(f"sheathing, plumb, {plane.name}", plumb, "in", "t · √(1 + m²)", values, GEOMETRY)
        yield Covering("plane", plane.name, plumb, 0.0, trace)


def _folds(planes: Sequence[Plane], t: float, units: Units) -> Iterator[Covering]:
    by_id = {plane.id: plane for plane in planes}
    done: set[frozenset[object]] = set()
    for plane in planes:
        for edge in plane.all_edges:
            other = by_id.get(edge.neighbour or "")
            if edge.kind not in _FOLDS or other is None:
                continue
            key: frozenset[object] = frozenset((edge.start, edge.end))
            if key in done:
                continue
            done.add(key)
            if edge.kind == "valley" and not _shared(edge, plane, other):
                yield _overframed(plane, other, t, units)
            else:
                yield _fold(edge, plane, other, t)


def _shared(edge: PlaneEdge, plane: Plane, other: Plane) -> bool:
    return any({e.start, e.end} == {edge.start, edge.end} and e.neighbour == plane.id for e in other.all_edges)


def _fold(edge: PlaneEdge, plane: Plane, other: Plane, t: float) -> Covering:
    angle = dihedral(slope_of(plane), slope_of(other))
    half = (math.pi - angle) / 2.0
    gain = t * math.tan(half)
    kind = "ridge" if edge.kind == "ridge" else "hip" if edge.kind == "hip" else "valley"
    trace = Trace(
        f"edge of the sheets at the {kind}",
        gain,
        "in",
        "t · tan((180° − angle between the planes) / 2)",
        f"{t:.4f} · tan((180° − {math.degrees(angle):.4f}°) / 2) = {gain:.4f} in",
        GEOMETRY,
    )
    return Covering(kind, f"{kind} between {plane.name} and {other.name}", gain, math.degrees(half), trace)


def _overframed(plane: Plane, below: Plane, t: float, units: Units) -> Covering:
    """How far up its slope a sheet of the upper roof ends short of the valley that the rafters' top edges make."""
    upper, lower = slope_of(plane), slope_of(below)
    lift = t * below.stretch
    # Up the upper plane by a unit of run it gains on the lower one by this much.
    gain = plane.tangent - lower.climb(plane.uphill)
    back = lift / gain * plane.stretch
    rip = dihedral(upper, lower) - math.pi / 2.0
    trace = Trace(
        f"sheets of {plane.name} over {below.name}",
        back,
        "in",
        "t · √(1 + m_below²) / (m − climb of the roof below in the same direction) · √(1 + m²); rafters there also "
        "stand on a sleeper",
        f"{t:.4f} · {below.stretch:.6f} / {gain:.6f} · {plane.stretch:.6f} = {back:.4f} in; sleeper "
        f"{units.length(SLEEPER_IN)}",
        GEOMETRY,
    )
    return Covering("overframed", f"{plane.name} over {below.name}", back, math.degrees(rip), trace)
