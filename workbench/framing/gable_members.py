"""Studs and sloped plates of gable walls as members. Inches.

A stud lies with its wide face down and is cut with a tilted blade: the bevel is the roof's slope. Turned about its own
length it fits on either side of the ridge, so studs have no left and right hand.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from workbench.findings import GEOMETRY, Finding
from workbench.framing.board import SHORTEST_IN
from workbench.framing.gable import GableWall, WallTop, gable_walls_of, top_at
from workbench.framing.group import Group
from workbench.framing.model import Cut, Measure, Member, Placement
from workbench.framing.space import back
from workbench.framing.stick import NOISE_IN, End, Stick, square_end, stick_shape
from workbench.framing.stock import section_name, stock_length
from workbench.framing.timber import SAME_IN
from workbench.measure import Trace, Units
from workbench.roof.model import Point2, Point3

_LEAN_IN = 1e-5
"""Studs lean by so little square to the wall, so that what draws them knows which way they face."""


@dataclass(frozen=True, slots=True)
class Stud:
    """One upright of a gable wall, or a short one under or over its vent.

    Attributes:
        u: Its centre along the wall, from the left.
        foot: Height of its lower end.
        left: Height of its top on the left face.
        right: Height of its top on the right face.
        middle: Height of its top at ``middle_u`` where the wall's line breaks inside it, else None.
        middle_u: Where that is.
        plane: Id of the plane over it.
    """

    u: float
    foot: float
    left: float
    right: float
    middle: float | None
    middle_u: float
    plane: str

    @property
    def long(self) -> float:
        """Height of its highest point."""
        return max(self.left, self.right, self.left if self.middle is None else self.middle)


def gable_walls(group: Group, units: Units) -> tuple[list[Member], list[Finding]]:
    """Studs and sloped plates of the gable walls a group's wings ask for."""
    walls, findings = gable_walls_of(group, units)
    members: list[Member] = []
    for wall in walls:
        members += rake_plates(wall)
        members += [_stud_member(wall, stud, units) for stud in studs_of(wall)]
        members += _vent_boards(wall, units)
    return members, findings


def studs_of(wall: GableWall) -> list[Stud]:
    """The studs of a wall from left to right; none where less than 6 in would be left."""
    settings = wall.settings
    half = settings.thickness_in / 2.0
    tops = wall.under_plates(settings.plates)
    vent = _vent(wall)
    sides = [] if vent is None else [vent[0] - half, vent[1] + half]
    us = [u for u in _layout(wall) if all(abs(u - side) > 2.0 * half - SAME_IN for side in sides)]
    studs: list[Stud] = []
    for u in sorted([*us, *sides]):
        if vent is None or not vent[0] < u < vent[1]:
            studs += _stud(wall, tops, u, wall.base)
            continue
        sill, head = vent[2] - settings.thickness_in, vent[3] + settings.thickness_in
        under = top_at(tops, u)
        if under is not None and sill - wall.base > SHORTEST_IN:
            studs.append(Stud(u, wall.base, sill, sill, None, u, tops[0].plane))
        studs += _stud(wall, tops, u, head)
    return studs


def _layout(wall: GableWall) -> list[float]:
    """Centres at whole spacings from the end the wall is laid out from."""
    end = max(top.right for top in wall.tops)
    every, found = wall.settings.spacing_in, list[float]()
    steps = int(end / every)
    for k in range(1, steps + 1):
        found.append(k * every if wall.settings.start == "left" else end - k * every)
    return found


def _vent(wall: GableWall) -> tuple[float, float, float, float] | None:
    """Left, right, lower and upper side of the vent; None without one."""
    settings = wall.settings
    if settings.vent_width_in <= 0.0 or settings.vent_height_in <= 0.0:
        return None
    sill = wall.base + settings.vent_sill_in
    half = settings.vent_width_in / 2.0
    return wall.peak - half, wall.peak + half, sill, sill + settings.vent_height_in


def _stud(wall: GableWall, tops: Sequence[WallTop], u: float, foot: float) -> Iterator[Stud]:
    half = wall.settings.thickness_in / 2.0
    left, right, over = top_at(tops, u - half), top_at(tops, u + half), top_at(tops, u)
    if left is None or right is None or over is None:
        return
    breaks = [top.right for top in tops if u - half + SAME_IN < top.right < u + half - SAME_IN]
    plane = next(top.plane for top in tops if top.left - SAME_IN <= u <= top.right + SAME_IN)
    middle = top_at(tops, breaks[0]) if breaks else None
    pocket = wall.ridge_bottom
    if pocket is not None and abs(u - wall.peak) < wall.wing.ridge_width_in / 2.0 + half - SAME_IN:
        left = right = min(left, right, pocket)
        middle = None
    if min(left, right) - foot > SHORTEST_IN:
        yield Stud(u, foot, left, right, middle, breaks[0] if breaks else u, plane)


def _stud_member(wall: GableWall, stud: Stud, units: Units) -> Member:
    settings = wall.settings
    turned = stud.right > stud.left + NOISE_IN
    high = End("top cut", _top_points(stud, settings.thickness_in / 2.0, turned=turned))
    low = square_end("square cut", 0.0, settings.thickness_in)
    shape = stick_shape(Stick(0.0, settings.depth_in, settings.thickness_in, 0.0, low, high))
    length, depth = shape.length_in, settings.depth_in
    short = min(stud.left, stud.right) - stud.foot
    measures = [Measure("long point", (0.0, depth), (length, depth), length)]
    if length - short > NOISE_IN:
        measures.append(Measure("short point", (0.0, depth), (short, depth), short))
    return Member(
        mark="Gable stud",
        kind="gable_stud",
        count=1,
        length_in=length,
        stock_in=stock_length(length) or length,
        section=section_name(settings.thickness_in, depth),
        depth_in=depth,
        thickness_in=settings.thickness_in,
        cuts=shape.cuts,
        profile=shape.profile,
        measures=tuple(measures),
        placements=(_upright(wall, stud, turned=turned),),
        traces=_stud_traces(wall, stud, units),
        angle_deg=0.0,
        top=shape.top,
    )


def _top_points(stud: Stud, half: float, *, turned: bool) -> tuple[Point2, ...]:
    """The top from its left face to its right one, the longer face left."""
    left, right = stud.left - stud.foot, stud.right - stud.foot
    points: list[Point2] = [(left, half), (right, -half)]
    if stud.middle is not None:
        points.insert(1, (stud.middle - stud.foot, stud.u - stud.middle_u))
    return tuple((s, -w) for s, w in reversed(points)) if turned else tuple(points)


def _upright(wall: GableWall, stud: Stud, *, turned: bool) -> Placement:
    """A stud's place: its outer face in the building line; turned about, its inner face is what it is placed by."""
    inward = wall.settings.depth_in
    # Left of one who looks up is the wall's right where the stud leans outward, else the wall's left.
    foot = wall.place(stud.u, inward if turned else 0.0)
    lean = back(wall.inward) if turned else wall.inward
    top = (foot[0] + lean[0] * _LEAN_IN, foot[1] + lean[1] * _LEAN_IN)
    start: Point3 = (*foot, stud.foot)
    return Placement(stud.plane, start, (*top, stud.long))


def _stud_traces(wall: GableWall, stud: Stud, units: Units) -> tuple[Trace, ...]:
    length = stud.long - stud.foot
    traces = [
        Trace(
            "stud, long point",
            length,
            "in",
            "underside of the rafters over its longer face, less the sloped plates plumb, less what it stands on",
            f"{stud.long:.4f} − {stud.foot:.4f} = {length:.4f} in = {units.length(length)}",
            GEOMETRY,
        )
    ]
    rise = max(abs(top.rise) for top in wall.tops)
    every = wall.settings.spacing_in
    if rise > 0.0:
        common = every * rise
        traces.append(
            Trace(
                "common difference of the studs",
                common,
                "in",
                "spacing · rise / run",
                f"{every:g} · {rise:.6f} = {common:.4f} in = {units.length(common)}",
                GEOMETRY,
            )
        )
    return tuple(traces)


def rake_plates(wall: GableWall) -> list[Member]:
    """The sloped plates of a wall, every layer and stretch; cut level where they lie on the plate below."""
    members: list[Member] = []
    settings = wall.settings
    for layer in range(settings.plates):
        made = (_plate(wall, top) for top in wall.under_plates(layer))
        members += [member for member in made if member is not None]
    return members


def _plate(wall: GableWall, top: WallTop) -> Member | None:
    """One plate under its upper line; None where too little of it stands over the wall below."""
    settings = wall.settings
    m, t = abs(top.rise), settings.thickness_in
    falls = top.rise < 0.0
    low, high = (top.right, top.left) if falls else (top.left, top.right)
    side = -1.0 if falls else 1.0
    high = _short_of_ridge(wall, high, side)
    lying = m > NOISE_IN and top.z(low) < wall.base - NOISE_IN
    if lying:
        # The upper line comes down to the wall's plate here, the lower one further in.
        low = (wall.base - top.at_zero) / top.rise
    run = (high - low) * side
    further = t * top.stretch / m if lying else 0.0
    if run - further < SHORTEST_IN:
        return None
    length, angle = run * top.stretch, math.atan(m)
    off = t * m  # how far along the plate a plumb cut runs off
    foot: Point2 = (t / m, 0.0) if lying else (-off, 0.0)
    ring: tuple[Point2, ...] = ((0.0, t), foot, (length - off, 0.0), (length, t))
    degrees, in_12 = math.degrees(angle), 12.0 * m
    first = Cut("level cut on the plate", 90.0 - degrees, 0.0, in_12, 0.0)
    upper = Cut("upper plumb cut", degrees, 0.0, in_12, length)
    overall = length if lying else length + off
    centre = settings.depth_in / 2.0
    start, end = wall.place(low, centre), wall.place(high, centre)
    return Member(
        mark="Rake plate",
        kind="rake_plate",
        count=1,
        length_in=length,
        stock_in=stock_length(overall) or overall,
        section=section_name(t, settings.depth_in),
        depth_in=t,
        thickness_in=settings.depth_in,
        cuts=(first if lying else Cut("lower plumb cut", degrees, 0.0, in_12, 0.0), upper),
        profile=ring,
        measures=(Measure("top edge", (0.0, t), (length, t), length),),
        placements=(Placement(top.plane, (*start, top.z(low)), (*end, top.z(high))),),
        traces=(
            Trace(
                "rake plate, top edge",
                length,
                "in",
                "level length · √(1 + m²)",
                f"{run:.4f} · {top.stretch:.6f} = {length:.4f} in",
                GEOMETRY,
            ),
        ),
        angle_deg=degrees,
    )


def _short_of_ridge(wall: GableWall, high: float, side: float) -> float:
    """The upper end, short of a ridge board that goes through the wall."""
    half = wall.wing.ridge_width_in / 2.0
    through = wall.ridge_bottom is not None and abs(high - wall.peak) < half + SAME_IN
    return wall.peak - side * half if through else high


def _vent_boards(wall: GableWall, units: Units) -> Iterator[Member]:
    """Sill and head of the vent, laid flat between the studs beside it."""
    vent = _vent(wall)
    if vent is None:
        return
    settings, width = wall.settings, vent[1] - vent[0]
    depth, t = settings.depth_in, settings.thickness_in
    for name, z in (("sill", vent[2]), ("head", vent[3] + t)):
        if z - t < wall.base - NOISE_IN:
            continue
        ends = [wall.place(u, depth / 2.0) for u in (vent[0], vent[1])]
        yield Member(
            mark="Rake plate",
            kind="rake_plate",
            count=1,
            length_in=width,
            stock_in=stock_length(width) or width,
            section=section_name(t, depth),
            depth_in=t,
            thickness_in=depth,
            cuts=(Cut("square cut", 0.0, 0.0, 0.0, 0.0), Cut("square cut", 0.0, 0.0, 0.0, width)),
            profile=((0.0, t), (0.0, 0.0), (width, 0.0), (width, t)),
            measures=(Measure("length", (0.0, t), (width, t), width),),
            placements=(Placement(wall.tops[0].plane, (*ends[0], z), (*ends[1], z)),),
            traces=(
                Trace(f"vent {name}", width, "in", "width of the opening", units.tape(width), "the job's gable walls"),
            ),
            angle_deg=0.0,
        )
