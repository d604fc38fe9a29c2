"""Every edge of a roof that a person can fall over: how deep, and whether the rule set asks for protection. Inches."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence

from workbench.job.model import Wing
from workbench.job.safety import GroundLine, Guard
from workbench.measure import Units
from workbench.roof.model import Plane, PlaneEdge, Point2, Point3
from workbench.rules.fall_protection import RuleSet
from workbench.safety.model import FALL_WORDS, Fall, FallKind
from workbench.safety.site import SAME_IN, Site, judged
from workbench.safety.surface import height_at, off_plane_in
from workbench.safety.unfinished import unfinished_falls

_OUT_IN = 1.0
_STRUCK_IN = (_OUT_IN, 12.0, 24.0)
"""How far out from an edge a roof below it is looked for, level."""

_PLACES_IN = 12.0
"""A step is looked at this often along it: a roof may rise behind a part of it."""

_OUTER: tuple[FallKind, ...] = ("eave", "rake", "step")


def all_falls(site: Site) -> tuple[Fall, ...]:
    """The falls of all planes at the stage of work looked at, plane by plane."""
    return tuple(fall for plane in site.planes for fall in _plane_falls(site, plane))


def _plane_falls(site: Site, plane: Plane) -> Iterator[Fall]:
    number = 0
    for edge in plane.all_edges:
        fall = _edge_fall(site, plane, edge, f"{plane.id}#{number + 1}")
        if fall is not None:
            number += 1
            yield fall
    yield from unfinished_falls(site, plane, number)


def _edge_fall(site: Site, plane: Plane, edge: PlaneEdge, fall_id: str) -> Fall | None:
    kind = _kind(site.planes, edge)
    if kind is None:
        return None
    drawn = drawn_name(plane, edge)
    below = [_level_below(site, plane, edge, kind, point) for point in (edge.start, edge.end)]
    drops = sorted((edge.start[2] - below[0], edge.end[2] - below[1]))
    trigger, needed = judged(site.rules, plane.tangent, kind, drops[1])
    guarded, why_not = _guard(site, edge, kind, drawn)
    return Fall(
        fall_id,
        plane.id,
        kind,
        _name(plane, edge, kind),
        edge.start,
        edge.end,
        (),
        drawn,
        drops[0],
        drops[1],
        trigger,
        "no" if guarded else needed,
        guarded,
        why_not,
        edge.opening or "",
    )


def _kind(planes: Sequence[Plane], edge: PlaneEdge) -> FallKind | None:
    """What falls over an edge are; None where a roof or wall goes on."""
    if edge.opening is not None:
        return "opening"
    if edge.neighbour is not None or edge.kind in ("wall", "valley"):
        return None
    if edge.kind in ("eave", "rake"):
        return edge.kind
    # A step, or a high edge with nothing behind it: a fall unless a roof rises behind all of it.
    return "step" if levels_past(planes, edge) else None


def levels_past(planes: Sequence[Plane], edge: PlaneEdge) -> list[float | None]:
    """How high the roof just outside an edge is, at each place along it where none rises behind; None for no roof."""
    (ax, ay, az), (bx, by, bz) = edge.start, edge.end
    length = math.hypot(bx - ax, by - ay)
    if length <= 0.0:
        return []
    out_x, out_y = _OUT_IN * (by - ay) / length, -_OUT_IN * (bx - ax) / length
    count = max(3, math.ceil(length / _PLACES_IN))
    found: list[float | None] = []
    for share in ((k + 0.5) / count for k in range(count)):
        out = (ax + share * (bx - ax) + out_x, ay + share * (by - ay) + out_y)
        near = (other for other in planes if _may_reach(other, out))
        heights = [height_at(other, out) for other in near if off_plane_in(other, other.to_plane(out)) <= 0.0]
        highest = max(heights, default=None)
        if highest is None or highest <= az + share * (bz - az) - _OUT_IN:
            found.append(highest)
    return found


def _may_reach(plane: Plane, point: Point2) -> bool:
    left, lower, right, upper = plane.plan_box
    return left - _OUT_IN < point[0] < right + _OUT_IN and lower - _OUT_IN < point[1] < upper + _OUT_IN


def _level_below(site: Site, plane: Plane, edge: PlaneEdge, kind: FallKind, point: Point3) -> float:
    """Height of the level below a point of an edge: the floor, a roof below a step, or the ground."""
    if kind == "opening":
        return site.safety.floor_in
    if kind == "step":
        past = levels_past(site.planes, edge)
        lowest = min((level for level in past if level is not None), default=None)
        if lowest is not None and None not in past:
            return lowest
    return ground_below(site.safety.ground, site.wings, drawn_name(plane, edge), point)


def level_below(site: Site, fall: Fall, point: Point3) -> float:
    """Height of the level below a point of a fall's edge."""
    if fall.kind in ("opening", "leading_edge", "bare_rafters"):
        return site.safety.floor_in
    if fall.kind == "step":
        return max(fall.start[2], fall.end[2]) - fall.drop_in
    return ground_below(site.safety.ground, site.wings, fall.drawn, point)


def struck_below(site: Site, fall: Fall, point: Point3) -> float:
    """Height of what one who falls over a point of an edge strikes first: a lower roof, else the level below."""
    level = level_below(site, fall, point)
    if fall.kind not in _OUTER:
        return level
    dx, dy = fall.end[0] - fall.start[0], fall.end[1] - fall.start[1]
    length = math.hypot(dx, dy)
    if length <= 0.0:
        return level
    for out_in in _STRUCK_IN:
        x, y = point[0] + out_in * dy / length, point[1] - out_in * dx / length
        for other in site.planes:
            left, lower, right, upper = other.plan_box
            if left < x < right and lower < y < upper and off_plane_in(other, other.to_plane((x, y))) <= 0.0:
                height = height_at(other, (x, y))
                if height < point[2] - _OUT_IN:  # a roof that rises beyond the edge is no landing
                    level = max(level, height)
    return level


def ground_below(lines: Sequence[GroundLine], wings: Sequence[Wing], drawn: str, point: Point2 | Point3) -> float:
    """Height of the ground below a point over a drawn edge; away from drawn edges the lowest line given.

    The ground lies straight between the two ends of the drawn edge, and level past them; 0 where no line is given.
    """
    line = next((line for line in lines if line.edge == drawn), None)
    if line is None:
        return 0.0 if drawn else min((min(each.start_in, each.end_in) for each in lines), default=0.0)
    ends = _drawn_ends(wings, drawn)
    if ends is None:
        return min(line.start_in, line.end_in)
    (ax, ay), (bx, by) = ends
    square = (bx - ax) ** 2 + (by - ay) ** 2
    share = ((point[0] - ax) * (bx - ax) + (point[1] - ay) * (by - ay)) / square if square else 0.0
    return line.start_in + min(max(share, 0.0), 1.0) * (line.end_in - line.start_in)


def _drawn_ends(wings: Sequence[Wing], drawn: str) -> tuple[Point2, Point2] | None:
    wing_id, _, edge_id = drawn.partition("/")
    wing = next((wing for wing in wings if wing.id == wing_id), None)
    if wing is None:
        return None
    for i, edge in enumerate(wing.edges):
        if edge.id == edge_id:
            return wing.outline[i], wing.outline[(i + 1) % len(wing.outline)]
    return None


def guard_faults(guard: Guard, rules: RuleSet, units: Units) -> tuple[str, ...]:
    """Why a deck or guardrail does not take its edge away, in words; empty where it does."""
    deck = guard.kind == "deck"
    faults: list[str] = []
    if not guard.guarded:
        faults.append("it has no rail of its own" if deck else "it has no mid-rail and toeboard")
    if not guard.wide:
        faults.append("it is not said to be wide enough" if deck else "it does not run along the whole edge")
    if not guard.strong:
        faults.append("nobody competent has said that it is strong enough")
    trigger = rules.trigger("walking_surface").height_in
    if guard.drop_in >= trigger - SAME_IN:
        faults.append(f"the drop on to it is {units.length(guard.drop_in)}, which is not under {units.length(trigger)}")
    return tuple(faults)


def _guard(site: Site, edge: PlaneEdge, kind: FallKind, drawn: str) -> tuple[bool, str]:
    if kind == "opening":
        return edge.opening in site.safety.covered_openings, ""
    guard = next((guard for guard in site.safety.guards if guard.edge == drawn), None)
    if guard is None or kind not in _OUTER:
        return False, ""
    faults = guard_faults(guard, site.rules, site.units)
    return not faults, "; ".join(faults)


def drawn_name(plane: Plane, edge: PlaneEdge) -> str:
    """The drawn edge an edge lies on as ``wing/edge``, else empty."""
    if edge.drawn is None:
        return ""
    return edge.drawn if "/" in edge.drawn else f"{plane.wing}/{edge.drawn}"


def _name(plane: Plane, edge: PlaneEdge, kind: FallKind) -> str:
    if kind == "opening":
        return f"{edge.opening} in {plane.name}"
    if kind != "rake":
        return f"{FALL_WORDS[kind]} of {plane.name}"
    x = plane.to_plane(_middle(edge))[0]
    middle = sum(corner[0] for corner in plane.polygon) / len(plane.polygon)
    return f"{'left' if x < middle else 'right'} rake of {plane.name}"


def _middle(edge: PlaneEdge) -> Point3:
    x, y, z = ((a + b) / 2.0 for a, b in zip(edge.start, edge.end, strict=True))
    return x, y, z
