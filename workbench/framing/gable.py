"""Gable walls over the top plate: sloped plates under the end rafters, and the studs below them. Inches.

A stud's top is bevelled by the roof's slope; neighbours differ by spacing · rise / run (geometry). The wall is seen
from outside: u runs along the building line from left to right, z is height.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace

from workbench.findings import COMMON_PRACTICE, GEOMETRY, SCREENING, Finding
from workbench.framing.group import Group
from workbench.framing.space import add2, dot2, left_of, minus2, slope_of, unit2
from workbench.framing.stock import nominal_depth
from workbench.framing.timber import SAME_IN
from workbench.job.model import Edge, Wing
from workbench.job.site import GableWalls
from workbench.measure import Units
from workbench.roof.eaves import edge_plate
from workbench.roof.model import Plane, Point2
from workbench.roof.solved import BuiltWing

_LEVEL = 1e-9


@dataclass(frozen=True, slots=True)
class WallTop:
    """A straight stretch of a gable wall's upper line.

    Attributes:
        left: u where it begins.
        right: u where it ends.
        at_zero: Height that its line has over u = 0.
        rise: Height gained for each inch to the right.
        plane: Id of the plane over it.
    """

    left: float
    right: float
    at_zero: float
    rise: float
    plane: str

    def z(self, u: float) -> float:
        """Height over u."""
        return self.at_zero + self.rise * u

    @property
    def stretch(self) -> float:
        """Length along it for each inch of u."""
        return math.hypot(1.0, self.rise)


@dataclass(frozen=True)
class GableWall:
    """One gable wall: its place, what it stands on and how high it goes.

    Attributes:
        wing: The wing, solved values put in.
        edge: The drawn edge it stands on.
        origin: Plan point of u = 0.
        along: Unit plan vector of u.
        base: Height of what the studs stand on.
        tops: Upper line of what carries the rafters, from left to right.
        ridge_bottom: Height of the ridge board's lower edge over the wall, or None.
    """

    wing: Wing
    edge: Edge
    origin: Point2
    along: Point2
    base: float
    tops: tuple[WallTop, ...]
    settings: GableWalls
    ridge_bottom: float | None = None

    @property
    def inward(self) -> Point2:
        """Unit plan vector into the building."""
        return left_of(self.along)

    @property
    def peak(self) -> float:
        """The u at which it is highest; the middle of a level top."""
        highest = max(max(top.z(top.left), top.z(top.right)) for top in self.tops)
        ends = [u for top in self.tops for u in (top.left, top.right) if abs(top.z(u) - highest) < SAME_IN]
        return (min(ends) + max(ends)) / 2.0

    def lowered(self, plumb: Sequence[float]) -> tuple[WallTop, ...]:
        """The upper line moved down by so much plumb on each stretch, met again where stretches meet."""
        moved = [replace(top, at_zero=top.at_zero - down) for top, down in zip(self.tops, plumb, strict=True)]
        return _met(moved)

    def under_plates(self, layers: int) -> tuple[WallTop, ...]:
        """The line under so many sloped plates."""
        return self.lowered([layers * self.settings.thickness_in * top.stretch for top in self.tops])

    def place(self, u: float, inward: float = 0.0) -> Point2:
        """Plan point at u, so far in from the building line."""
        return add2(add2(self.origin, self.along, u), self.inward, inward)


def gable_walls_of(group: Group, units: Units) -> tuple[list[GableWall], list[Finding]]:
    """The gable walls that are asked for, and findings about those that can't be had."""
    walls: list[GableWall] = []
    findings: list[Finding] = []
    for built in group.wings:
        wing = built.effective
        if wing.gable_walls is None:
            continue
        if wing.joins == "overframed":
            text = (
                f"{wing.name}: it stands on the roof below, so its gable wall has no level plate to stand on; its "
                f"studs are not in the cut list, fit them on site. {SCREENING}"
            )
            findings.append(Finding("gable-wall-left-out", "note", wing.id, text, COMMON_PRACTICE))
            continue
        for index, edge in enumerate(wing.edges):
            wall = _wall(group, built, index, edge) if edge.kind == "rake" else None
            if wall is not None:
                walls.append(wall)
                findings += _vent_findings(wall, units)
    return walls, findings


def _wall(group: Group, built: BuiltWing, index: int, edge: Edge) -> GableWall | None:
    wing, outline = built.effective, group.solved(built).outline
    settings = wing.gable_walls
    if settings is None:
        return None
    a, b = outline[index], outline[(index + 1) % len(outline)]
    along, width = unit2(a, b), math.dist(a, b)
    base = min(edge_plate(wing, other) for other in wing.edges if other.kind == "eave")
    tops: list[WallTop] = []
    for plane in built.planes:
        for side in plane.edges:
            if side.drawn == edge.id and side.kind == "rake":
                us = sorted(dot2(minus2((p[0], p[1]), a), along) for p in (side.start, side.end))
                left, right = max(us[0], 0.0), min(us[1], width)
                if right - left > SAME_IN:
                    tops.append(_under(plane, wing, settings, a, along, left, right))
    clip = edge.clip_height_in
    if clip is not None and tops:
        # What rises over a clip may be cut away whole; its plates then count with the plane beside it.
        over = next((plane.id for plane in built.planes if plane.drawn == edge.id), tops[0].plane)
        tops = _clipped(tops, edge_plate(wing, edge), over)
    if not tops:
        return None
    tops.sort(key=lambda top: top.left)
    bottom = _ridge_bottom(built.planes, wing, tops, settings)
    return GableWall(wing, edge, a, along, base, _met(tops), settings, bottom)


def _under(
    plane: Plane, wing: Wing, settings: GableWalls, a: Point2, along: Point2, left: float, right: float
) -> WallTop:
    """The underside of the rafters of a plane over the building line, lowered as the wall asks."""
    slope = slope_of(plane)
    down = wing.rafter.depth_in * plane.stretch + settings.drop_in
    at_zero = slope.height(a) - down
    return WallTop(left, right, at_zero, slope.height(add2(a, along)) - down - at_zero, plane.id)


def _clipped(tops: Sequence[WallTop], level: float, plane: str) -> list[WallTop]:
    """A wall that ends on a level plate: rising lines up to it, then level, then down again."""
    rising = [top for top in tops if top.rise > _LEVEL]
    falling = [top for top in tops if top.rise < -_LEVEL]
    start = max((top.right for top in rising), default=min(top.left for top in tops))
    end = min((top.left for top in falling), default=max(top.right for top in tops))
    return [*rising, WallTop(min(start, end), max(start, end), level, 0.0, plane), *falling]


def _met(tops: Sequence[WallTop]) -> tuple[WallTop, ...]:
    """Neighbouring stretches made to end where their lines meet."""
    met = list(tops)
    for i in range(len(met) - 1):
        here, there = met[i], met[i + 1]
        turn = here.rise - there.rise
        if abs(turn) < _LEVEL:
            continue
        u = (there.at_zero - here.at_zero) / turn
        if here.left - SAME_IN < u < there.right + SAME_IN:
            met[i], met[i + 1] = replace(here, right=u), replace(there, left=u)
    return tuple(top for top in met if top.right - top.left > SAME_IN)


def _ridge_bottom(planes: Sequence[Plane], wing: Wing, tops: Sequence[WallTop], settings: GableWalls) -> float | None:
    """Lower edge of the ridge board that comes to the wall, as the ridge's own module reckons it."""
    if not settings.ridge_pocket:
        return None
    mine = {top.plane for top in tops}
    found = [plane for plane in planes if plane.id in mine and any(edge.kind == "ridge" for edge in plane.edges)]
    heights = [edge.start[2] for plane in found for edge in plane.edges if edge.kind == "ridge"]
    if not heights:
        return None
    plumb = max(wing.rafter.depth_in * plane.stretch for plane in found)
    depth = wing.ridge.depth_in or nominal_depth(plumb) or plumb
    top = max(heights) - max(plane.tangent for plane in found) * wing.ridge_width_in / 2.0
    return top - depth


def _vent_findings(wall: GableWall, units: Units) -> Iterator[Finding]:
    settings = wall.settings
    if settings.vent_width_in <= 0.0:
        return
    half = settings.vent_width_in / 2.0 + settings.thickness_in
    head = wall.base + settings.vent_sill_in + settings.vent_height_in + settings.thickness_in
    tops = wall.under_plates(settings.plates)
    room = min((top_at(tops, wall.peak + side * half) or -math.inf) for side in (-1.0, 1.0))
    if head > room + SAME_IN:
        text = (
            f"{wall.wing.name}: the vent's head would stand {units.length(head - wall.base)} over the plate, where the "
            f"gable leaves {units.length(max(room - wall.base, 0.0))}; make it smaller or set it lower."
        )
        yield Finding("vent-too-high", "warning", wall.wing.id, text, GEOMETRY)


def top_at(tops: Sequence[WallTop], u: float) -> float | None:
    """Height of an upper line at u; None outside it."""
    over = [top.z(u) for top in tops if top.left - SAME_IN <= u <= top.right + SAME_IN]
    return min(over) if over else None
