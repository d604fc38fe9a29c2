"""From lines to boards: each rafter, hip and valley of a wing as a stick that stands somewhere. Inches."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

from workbench.findings import GEOMETRY, Finding
from workbench.framing.field import Fitted
from workbench.framing.group import Group
from workbench.framing.joints import Joints, TrimmedEnd, eave_edges_at
from workbench.framing.layout import RafterLine, is_own_eave
from workbench.framing.model import MemberKind
from workbench.framing.rafter import TAIL_NAMES, upper_name
from workbench.framing.skeleton import Timber
from workbench.framing.space import (
    Slope,
    add2,
    cross2,
    dihedral,
    dot2,
    flat,
    left_of,
    meet2,
    minus2,
    plan_angle,
    unit,
)
from workbench.framing.stick import NOISE_IN, End, Notch, Stick
from workbench.framing.stock import nominal_depth
from workbench.job.model import Tail, Wing
from workbench.roof.model import EdgeKind, Plane, PlaneEdge, Point2, Point3
from workbench.roof.solved import Eave, Section

SHORTEST_JACK_IN = 6.0
"""Jacks with less than this level between plate and hip, or valley and ridge, are left out: blocks go there."""

_OFF_CORNER_IN = 1e-4
_BORDERS: frozenset[EdgeKind] = frozenset(("eave", "ridge", "hip", "valley", "wall", "rake"))
_CHEEK_NAMES: dict[EdgeKind, str] = {
    "ridge": "ridge plumb cut",
    "hip": "cheek cut at the hip",
    "valley": "cheek cut at the valley",
    "wall": "upper plumb cut",
    "rake": "upper plumb cut",
}


@dataclass(frozen=True, slots=True)
class HipFacts:
    """What is known of a hip or valley, for its traces. Radians, inches; pairs are left and right.

    Attributes:
        eaves: Plan angle D between it and the level lines of the planes.
        slopes: Slopes of the planes, rise / run.
        corner: s of the building corner it stands over; None where it starts inside the roof.
        top: s of the point where the lines meet at its upper end.
        drop: Plumb drop of a dropped hip.
        backing: Bevels of a backed one.
        dihedral: Angle between the planes.
        through: s from which a long valley lies in one plane.
    """

    eaves: tuple[float, float]
    slopes: tuple[float, float]
    corner: float | None
    top: float
    drop: float
    backing: tuple[float, float]
    dihedral: float
    through: float | None


@dataclass(frozen=True, slots=True)
class RafterFacts:
    """What is known of a common or jack rafter, for its traces.

    Attributes:
        low: s where its line starts, at the eave or the middle of a valley.
        high: s where its line ends, at the middle of a ridge or hip.
        building: s of the building line, or None.
        low_rate: Level inches that the line it starts on gains up the slope per inch to the right: 0 on an eave, the
            tangent of the plan angle D on a valley.
        high_rate: The same of the line it ends on.
        spacing: Layout spacing.
        section: The landing section, for a common.
    """

    low: float
    high: float
    building: float | None
    low_rate: float
    high_rate: float
    spacing: float
    section: Section | None


@dataclass(frozen=True, slots=True)
class Board:
    """A stick and where it stands.

    Attributes:
        kind: What it is.
        plane: Plane id; of a hip or valley the plane to its left.
        origin: Plan point of s = 0, w = 0.
        direction: Unit plan vector, uphill.
        stick: What is cut.
        facts: How it was found.
    """

    kind: MemberKind
    plane: str
    origin: Point2
    direction: Point2
    stick: Stick
    facts: HipFacts | RafterFacts

    def at(self, s: float) -> Point3:
        """Space point of the top edge's centre line."""
        point = add2(self.origin, self.direction, s)
        return point[0], point[1], self.stick.top(s)

    @property
    def start(self) -> Point3:
        """Low end of the top edge's centre line."""
        return self.at(_middle(self.stick.low))

    @property
    def end(self) -> Point3:
        """High end of the top edge's centre line."""
        return self.at(_middle(self.stick.high))


@dataclass(frozen=True, slots=True)
class Laid:
    """Where a rafter meets the sleepers on a roof below.

    Attributes:
        at: s of the meeting on its centre line, at the top edge.
        rate: How much further up the slope that is per inch to the right.
        normal: Normal (s, w, z) of the cut.
    """

    at: float
    rate: float
    normal: Point3

    def points(self, half: float) -> tuple[Point2, ...]:
        """The end at the top edge, from the left face to the right one."""
        return (self.at - self.rate * half, half), (self.at + self.rate * half, -half)


def _middle(end: End) -> float:
    """Where an end crosses the centre line."""
    for (s0, w0), (s1, w1) in zip(end.points, end.points[1:], strict=False):
        if w0 >= 0.0 >= w1 and w0 > w1:
            return s0 + (s1 - s0) * w0 / (w0 - w1)
    return end.points[0][0]


class Boards:
    """The boards of one group.

    Args:
        group: The wings, framed together.
        joints: The ends of their timbers.
    """

    def __init__(self, group: Group, joints: Joints) -> None:
        self.group = group
        self.joints = joints
        self.building_lines = {plane.id: self._building_lines(plane) for plane in group.planes}
        self.findings: list[Finding] = []

    def _building_lines(self, plane: Plane) -> list[tuple[float, float, float, Eave]]:
        """For each eave of a plane its r, the x its building line runs between, and the eave."""
        wing, outline = self.group.wing_of(plane.id), self.group.solved_of(plane).outline
        index_of = {edge.id: i for i, edge in enumerate(wing.edges)}
        found: list[tuple[float, float, float, Eave]] = []
        for edge in plane.edges:
            if is_own_eave(edge) and edge.drawn is not None:
                at = index_of[edge.drawn]
                xs = [plane.to_plane(outline[k % len(outline)])[0] for k in (at, at + 1)]
                r = plane.to_plane(edge.start)[1] / plane.stretch
                found.append((r, min(xs), max(xs), self.group.eave(plane, edge)))
        return found

    def rafter(self, line: RafterLine, key: Timber | None) -> Board | None:
        """The rafter on one line: a common, a jack or a barge rafter; None where no rafter fits.

        Args:
            line: Where it stands.
            key: The timber it is in the skeleton where it stands at a hip's head.
        """
        plane = line.field.plane
        rafter = self.group.wing_of(plane.id).rafter
        half = rafter.thickness_in / 2.0
        low_fit = line.field.end_at(line.span.low_edge, line.x, half, upper=False)
        high_fit = line.field.end_at(line.span.high_edge, line.x, half, upper=True)
        low_kinds, high_kinds = _kinds(line, low_fit), _kinds(line, high_fit)
        kind = _rafter_kind(line, low_kinds, high_kinds)
        if kind is None:
            self._left_out(plane, f"a rafter at {plane.name}", f"it would run from {low_kinds[0]} to {high_kinds[0]}")
            return None
        low, high = _stick_points(low_fit, line.x), _stick_points(high_fit, line.x)
        laid = self._on_sleeper(line, low_fit)
        if laid is not None:
            low = laid.points(half)
        origin = flat(plane.to_space((line.x, 0.0)))
        if key is not None:
            trimmed = self.joints.end(key, upper=True)
            if trimmed is None or len(trimmed.points) > 3:
                self._left_out(
                    plane, f"the rafter at a hip's head on {plane.name}", "its upper end meets too many timbers"
                )
                return None
            offset = dot2(minus2(flat(key.a), origin), plane.uphill)
            high = tuple((s + offset, w) for s, w in trimmed.points)
        section = self._section(plane, line, high_kinds)
        foot = self._foot(plane, line, low, high)
        building = None if foot is None else foot[0]
        start = max(s for s, _ in low) if building is None else building
        short = min(s for s, _ in high) - start < SHORTEST_JACK_IN or ("eave" in low_kinds and foot is None)
        if short and kind != "barge_rafter":
            return None
        height = plane.origin[2]
        notches = self._notches(plane, foot, section, height) if foot is not None and kind != "barge_rafter" else ()
        landing = None
        if foot is not None and section is not None and section.given.high_end in ("notched", "whole") and notches:
            landing = foot[0] + section.answer.run_in
        tailed = low_kinds == ("eave",)
        stick = Stick(
            tangent=plane.tangent,
            depth=rafter.depth_in,
            thickness=rafter.thickness_in,
            height=height,
            low=End("seat cut on the sleeper" if laid is not None else _low_name(rafter.tail, low_kinds), low),
            high=End(_high_name(key, section, high_kinds, high), high),
            tail="square" if laid is not None else rafter.tail if tailed else "plumb",
            notches=notches,
            tail_normals=(laid.normal,) if laid is not None else (),
            landing_at=landing,
        )
        low_rate = _rate(line, low_fit) if laid is None else laid.rate
        rates = (low_rate, _rate(line, high_fit) if key is None else 0.0)
        facts = RafterFacts(line.span.low, line.span.high, building, *rates, rafter.spacing_in, section)
        return Board(kind, plane.id, origin, plane.uphill, stick, facts)

    def _on_sleeper(self, line: RafterLine, fit: Fitted) -> Laid | None:
        """How a rafter ends that stands on the roof below."""
        for i in fit.edges:
            edge = line.field.edges[i]
            if edge.laid and edge.source is not None and edge.source.neighbour in self.group.by_id:
                plane = line.field.plane
                below = self.group.on_sleepers(edge.source.neighbour)
                across, up = below.climb(plane.across), below.climb(plane.uphill)
                over = below.height(plane.to_space((line.x, 0.0))) - plane.origin[2]
                gain = plane.tangent - up
                return Laid(over / gain, across / gain, unit((-up, across, 1.0)))
        return None

    def hip(self, timber: Timber) -> Board | None:
        """A hip or valley rafter; None, with a finding, where it can't be cut."""
        group = self.group
        left, right = group.by_id[timber.left], group.by_id[timber.right]
        wing = group.wing_between(left.id, right.id)
        half, depth = timber.half, hip_depth(group, wing)
        high = self.joints.end(timber, upper=True)
        foot = self._hip_foot(timber, left, right)
        if foot is None:
            return None
        if high is None or len(high.points) > 3:
            self._left_out(left, _between(timber, left, right), "too many timbers shape its upper end; fit it on site")
            return None
        low, corner, plate = foot
        facts = self._hip_facts(timber, corner)
        height = timber.a[2] - facts.drop
        notches: tuple[Notch, ...] = ()
        tailed = corner is not None and plate is not None
        if corner is not None and plate is not None:
            heel = corner if timber.kind == "hip" else corner - max(half / math.tan(d) for d in facts.eaves)
            above = height + timber.tangent * heel - plate
            seat = (depth * math.hypot(1.0, timber.tangent) - above) / timber.tangent
            notches = (Notch("", heel, plate, seat),)
        stick = Stick(
            tangent=timber.tangent,
            depth=depth,
            thickness=2.0 * half,
            height=height,
            low=End(_tail_name(wing, tailed, low), low),
            high=End(_head_name(high), high.points),
            tail=wing.rafter.tail if tailed else "plumb",
            notches=notches,
            return_height=timber.a[2] - wing.rafter.depth_in * left.stretch / 2.0 if tailed else None,
            tail_normals=self._tail_normals(timber) if tailed and wing.rafter.tail == "square" else (),
        )
        kind: MemberKind = "hip_rafter" if timber.kind == "hip" else "valley_rafter"
        return Board(kind, left.id, flat(timber.a), timber.direction, stick, facts)

    def _left_out(self, plane: Plane, what: str, why: str) -> None:
        wing = self.group.wing_of(plane.id)
        text = f"{wing.name}: {what} is not in the cut list: {why}."
        self.findings.append(Finding("member-left-out", "warning", wing.id, text, GEOMETRY))

    def _section(self, plane: Plane, line: RafterLine, high_kinds: Sequence[EdgeKind]) -> Section | None:
        """The section a rafter stands in: only where it runs up to the plane's own top edge."""
        section = self.group.solved_of(plane).section_of(plane.id)
        if section is None or "hip" in high_kinds or "valley" in high_kinds:
            return None
        top = max(edge.start[1] for edge in line.field.edges)
        return section if line.span.high > top - 10.0 * NOISE_IN else None

    def _foot(
        self, plane: Plane, line: RafterLine, low: Sequence[Point2], high: Sequence[Point2]
    ) -> tuple[float, Eave] | None:
        """Where the building line is that a rafter crosses, and the eave there; None where it crosses none.

        One that starts on a valley crosses it too where the valley is still out over the overhang.
        """
        for start, left, right, eave in self.building_lines[plane.id]:
            s = start + eave.overhang_in
            within = left - NOISE_IN < line.x < right + NOISE_IN or line.barge
            if within and max(p[0] for p in low) < s + NOISE_IN and min(p[0] for p in high) > s:
                return s, eave
        return None

    def _notches(
        self, plane: Plane, foot: tuple[float, Eave], section: Section | None, height: float
    ) -> tuple[Notch, ...]:
        s, eave = foot
        m = plane.tangent
        above = height + m * s - eave.plate_in
        seat = (self.group.wing_of(plane.id).rafter.depth_in * plane.stretch - above) / m
        notches = [Notch("", s, eave.plate_in, seat)]
        if section is not None and section.given.high_end == "notched":
            answer = section.answer
            notches.append(Notch("upper", s + answer.run_in, answer.landing_in, answer.seat_high_in))
        return tuple(notches)

    def _hip_foot(
        self, timber: Timber, left: Plane, right: Plane
    ) -> tuple[tuple[Point2, ...], float | None, float | None] | None:
        """Low end in stick axes, s of the building corner and its plate height; None where it can't be cut."""
        bounds = eave_edges_at((left, right), flat(timber.a))
        if not any(edge.kind == "eave" for edge in bounds):
            end = self.joints.end(timber, upper=False)
            if end is None or len(end.points) > 3:
                self._left_out(left, _between(timber, left, right), "too many timbers shape its foot; fit it on site")
                return None
            return end.points, None, None
        corner = self._corner(timber, left, right, bounds)
        return None if corner is None else (_eave_end(timber, bounds), *corner)

    def _corner(
        self, timber: Timber, left: Plane, right: Plane, bounds: Sequence[PlaneEdge]
    ) -> tuple[float, float] | None:
        """Where the building corner lies (s) that a hip or valley stands over, and its plate height.

        The corner is where both building lines cross the hip: at one point, if it stands over a corner at all.
        """
        found: list[tuple[float, Eave]] = []
        for plane in (left, right):
            edge = next((e for e in bounds if e in plane.edges and is_own_eave(e)), None)
            eave = self.group.eave(plane, edge)
            on_line = add2(flat(plane.origin), plane.uphill, eave.overhang_in)
            if edge is not None:
                on_line = add2(flat(edge.start), plane.uphill, eave.overhang_in)
            point = meet2(flat(timber.a), timber.direction, on_line, plane.across)
            if point is not None:
                found.append((timber.place(point)[0], eave))
        what = _between(timber, left, right)
        if len(found) == 2 and abs(found[0][1].plate_in - found[1][1].plate_in) > NOISE_IN:
            why = "the plates it stands between are at different heights, so it does not pass over their corner"
            self._left_out(left, what, f"{why}; have its bearing drawn")
            return None
        if len(found) < 2 or abs(found[0][0] - found[1][0]) > _OFF_CORNER_IN:
            self._left_out(left, what, "it does not pass over a corner of the building line; have its bearing drawn")
            return None
        return found[0][0], found[0][1].plate_in

    def _hip_facts(self, timber: Timber, corner: float | None) -> HipFacts:
        direction = timber.direction
        side = left_of(direction)
        by_id, planar = self.group.by_id, self.group.slopes
        pair = (by_id[timber.left], by_id[timber.right])
        slopes = (planar[timber.left], planar[timber.right])
        top = self.group.wing_between(timber.left, timber.right).hips.top
        eaves = (plan_angle(direction, pair[0].across), plan_angle(direction, pair[1].across))
        # Fall of each plane from the centre line to the board's face on its own side.
        falls = (-slopes[0].climb(side) * timber.half, slopes[1].climb(side) * timber.half)
        drop, backing = 0.0, (0.0, 0.0)
        if timber.kind == "hip" and top == "dropped":
            drop = max(*falls, 0.0)
        elif timber.kind == "hip":
            bevels = [_backing(slope, direction, timber.tangent) for slope in slopes]
            backing = (bevels[0], bevels[1])
        elif timber.through is not None:
            drop = self._through_drop(timber)
        through = None if timber.through is None else timber.place(flat(timber.through))[0]
        return HipFacts(
            eaves,
            (pair[0].tangent, pair[1].tangent),
            corner,
            timber.run,
            drop,
            backing,
            dihedral(*slopes),
            through,
        )

    def _through_drop(self, timber: Timber) -> float:
        """How far a long valley is dropped, so that its edge clears the one plane it crosses higher up."""
        planar = (self.group.slopes[timber.left], self.group.slopes[timber.right])
        crossed = [slope for slope in planar if abs(slope.height(timber.b) - timber.b[2]) < _OFF_CORNER_IN]
        side = left_of(timber.direction)
        return max((abs(slope.climb(side)) * timber.half for slope in crossed), default=0.0)

    def _tail_normals(self, timber: Timber) -> tuple[Point3, ...]:
        """Normals (s, w, z) of the cuts square to the planes' own rafters, for a square tail."""
        side = left_of(timber.direction)
        normals: list[Point3] = []
        for key in (timber.left, timber.right):
            plane = self.group.by_id[key]
            x, y = plane.uphill
            normals.append(unit((dot2((x, y), timber.direction), dot2((x, y), side), plane.tangent)))
        return tuple(normals)


def hip_depth(group: Group, wing: Wing) -> float:
    """Depth of a wing's hips and valleys, inches: not under the plumb cut of the rafters that meet them."""
    planes = [plane for plane in group.planes if plane.wing == wing.id]
    plumb_cut = max((wing.rafter.depth_in * plane.stretch for plane in planes), default=wing.rafter.depth_in)
    return wing.hips.depth_in or nominal_depth(plumb_cut) or plumb_cut


def _between(timber: Timber, left: Plane, right: Plane) -> str:
    return f"the {timber.kind} between {left.name} and {right.name}"


def _kinds(line: RafterLine, fit: Fitted) -> tuple[EdgeKind, ...]:
    """What an end lies on, each kind once, from the left face to the right one."""
    return tuple(dict.fromkeys(line.field.edges[i].kind for i in fit.edges))


def _rate(line: RafterLine, fit: Fitted) -> float:
    """Slope in the field of the hip or valley an end lies on; 0 at other edges."""
    for i in fit.edges:
        edge = line.field.edges[i]
        if edge.kind in ("hip", "valley"):
            dx, dr = edge.direction
            return dr / dx
    return 0.0


def _rafter_kind(line: RafterLine, low: Sequence[EdgeKind], high: Sequence[EdgeKind]) -> MemberKind | None:
    tops = [kind for kind in high if kind in ("ridge", "wall", "rake")]
    full = bool(tops) or line.key is not None  # at a hip's head it ends where the ridge does
    if any(kind not in _BORDERS for kind in (*low, *high)):
        return None
    if line.barge:
        return "barge_rafter" if "eave" in low and full else None
    if "eave" in low:
        # From the plate up to a long valley that crosses over it: a jack at a valley too.
        return "common_rafter" if full else "hip_jack" if "hip" in high else "valley_jack"
    if low[0] == "wall":
        return "common_rafter" if full else "hip_jack"  # from a header, or a wall that stands inside the roof
    if low[0] != "valley":
        return None
    return "valley_jack" if full else "cripple_jack"


def _low_name(tail: Tail, kinds: Sequence[EdgeKind]) -> str:
    if kinds == ("eave",):
        return TAIL_NAMES[tail]
    if "eave" in kinds:
        return "tail plumb cut, cheek at the valley"
    return "cheek cut at the valley" if "valley" in kinds else "lower plumb cut"


def _high_name(key: Timber | None, section: Section | None, kinds: Sequence[EdgeKind], high: Sequence[Point2]) -> str:
    if len(high) > 2:
        return "double cheek cut at the head"
    square = abs(high[0][0] - high[1][0]) < NOISE_IN
    if key is not None:
        return "ridge plumb cut" if square else "cheek cut at the ridge"
    return upper_name(section) if section is not None else _CHEEK_NAMES[kinds[0]]


def _stick_points(fitted: Fitted, x: float) -> tuple[Point2, ...]:
    return tuple((r, x - at) for at, r in fitted.points)


def _backing(slope: Slope, direction: Point2, tangent: float) -> float:
    """Bevel that brings half of a hip's top edge into a plane, radians."""
    stretch = math.hypot(1.0, tangent)
    left = left_of(direction)
    up = (-direction[0] * tangent / stretch, -direction[1] * tangent / stretch, 1.0 / stretch)
    n = slope.normal
    across = n[0] * left[0] + n[1] * left[1]
    return math.atan2(abs(across), n[0] * up[0] + n[1] * up[1] + n[2] * up[2])


def _eave_end(timber: Timber, bounds: Sequence[PlaneEdge]) -> tuple[Point2, ...]:
    """The tail of a hip or valley: level with the eave lines that meet at its foot.

    A hip stays inside both eave lines, a valley inside either.
    """
    half = timber.half
    lines: list[tuple[float, float]] = []  # s = offset + rate · w along each line
    for edge in bounds:
        along = minus2(flat(edge.end), flat(edge.start))
        if math.hypot(*along) < NOISE_IN:
            continue
        rise, across = dot2(along, timber.direction), cross2(timber.direction, along)
        if abs(across) < NOISE_IN:
            continue
        s, w = timber.place(flat(edge.start))
        rate = rise / across
        lines.append((s - rate * w, rate))
    choose = max if timber.kind == "hip" else min
    ws = [half, -half]
    for i, (a, ra) in enumerate(lines):
        for b, rb in lines[i + 1 :]:
            if abs(ra - rb) > NOISE_IN and -half + NOISE_IN < (b - a) / (ra - rb) < half - NOISE_IN:
                ws.append((b - a) / (ra - rb))
    ws.sort(reverse=True)
    return tuple((choose(a + rate * w for a, rate in lines), w) for w in ws)


def _tail_name(wing: Wing, tailed: bool, low: Sequence[Point2]) -> str:
    if not tailed:
        return "lower plumb cut"
    return TAIL_NAMES[wing.rafter.tail] if len(low) == 2 else f"{TAIL_NAMES[wing.rafter.tail]}, two cheeks"


def _head_name(high: TrimmedEnd) -> str:
    if len(high.points) == 3:
        return "double cheek cut at the head"
    square = abs(high.points[0][0] - high.points[1][0]) < NOISE_IN
    return "plumb cut at the head" if square else "cheek cut at the head"
