"""Hip and valley rafters: line, ends, foot, dropped or backed top. Inches, radians."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import replace

from workbench.framing.board import SHORTEST_IN, Board, HipFacts, Remarks
from workbench.framing.group import Group
from workbench.framing.joints import Joints, TrimmedEnd, eave_edges_at
from workbench.framing.layout import is_own_eave
from workbench.framing.model import MemberKind
from workbench.framing.peak import Head, head_of
from workbench.framing.rafter import TAIL_NAMES
from workbench.framing.space import (
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
from workbench.framing.timber import Timber
from workbench.job.model import Wing
from workbench.roof.model import Plane, PlaneEdge, Point2, Point3
from workbench.roof.solved import Eave

_OFF_CORNER_IN = 1e-4
_Foot = tuple[tuple[Point2, ...], float | None, float | None]


class Hips:
    """The hips and valleys of one group.

    Args:
        group: The wings, framed together.
        joints: The ends of their timbers.
        remarks: Where to note what can't be cut.
    """

    def __init__(self, group: Group, joints: Joints, remarks: Remarks) -> None:
        self.group = group
        self.joints = joints
        self.remarks = remarks

    def hip(self, timber: Timber) -> Board | None:
        """A hip or valley rafter; None, with a finding, where it can't be cut."""
        group = self.group
        left, right = group.by_id[timber.left], group.by_id[timber.right]
        wing = group.wing_between(left.id, right.id)
        half, depth = timber.half, hip_depth(group, wing, (left, right))
        high = self.joints.end(timber, upper=True)
        foot = self._hip_foot(timber, left, right)
        if foot is None:
            return None
        if high is None:
            why = "nothing says which of the timbers at its upper end gives way; fit it on site"
            self.remarks.left_out(left, _between(timber, left, right), why)
            return None
        self.remarks.squared(left, _between(timber, left, right), high.gap)
        low, corner, plate = foot
        if min(s for s, _ in high.points) - max(s for s, _ in low) < SHORTEST_IN:
            self.remarks.left_out(
                left, _between(timber, left, right), "it is shorter than its joints; block it on site"
            )
            return None
        head = head_of(self.joints, timber, high.points)
        facts = replace(self._hip_facts(timber, corner), head=head)
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
            high=End(_head_name(high, head), high.points),
            tail=wing.rafter.tail if tailed else "plumb",
            notches=notches,
            return_height=timber.a[2] - wing.rafter.depth_in * left.stretch / 2.0 if tailed else None,
            tail_normals=self._tail_normals(timber) if tailed and wing.rafter.tail == "square" else (),
        )
        kind: MemberKind = "hip_rafter" if timber.kind == "hip" else "valley_rafter"
        plies = wing.plies.hip if timber.kind == "hip" else wing.plies.valley
        return Board(kind, left.id, flat(timber.a), timber.direction, stick, facts, plies)

    def _hip_foot(self, timber: Timber, left: Plane, right: Plane) -> _Foot | None:
        """Low end in stick axes, s of the building corner and its plate height; None where it can't be cut."""
        bounds = eave_edges_at((left, right), flat(timber.a))
        over = [plane for plane in (left, right) if any(e.kind == "eave" and e in plane.edges for e in bounds)]
        # A dormer's valley starts between its side wall and the roof that runs on below: over no corner of plates.
        if not over or (timber.kind == "valley" and len(over) == 1):
            end = self.joints.end(timber, upper=False)
            if end is None:
                why = "nothing says which of the timbers at its foot gives way; fit it on site"
                self.remarks.left_out(left, _between(timber, left, right), why)
                return None
            self.remarks.squared(left, _between(timber, left, right), end.gap)
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
            self.remarks.left_out(left, what, f"{why}; have its bearing drawn")
            return None
        if len(found) < 2 or abs(found[0][0] - found[1][0]) > _OFF_CORNER_IN:
            self.remarks.left_out(
                left, what, "it does not pass over a corner of the building line; have its bearing drawn"
            )
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
            backing = (_backing(falls[0], timber.half, timber.tangent), _backing(falls[1], timber.half, timber.tangent))
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


def hip_depth(group: Group, wing: Wing, beside: Sequence[Plane]) -> float:
    """Depth of a hip or valley, inches: not under the cut end of any rafter of the wing or of the planes beside it."""
    planes = {plane.id: plane for plane in (*group.planes, *beside) if plane.wing == wing.id or plane in beside}
    plumb_cut = max(group.wing_of(key).rafter.depth_in * plane.stretch for key, plane in planes.items())
    return wing.hips.depth_in or nominal_depth(plumb_cut) or plumb_cut


def _between(timber: Timber, left: Plane, right: Plane) -> str:
    return f"the {timber.kind} between {left.name} and {right.name}"


def _backing(fall: float, half: float, tangent: float) -> float:
    """Bevel that brings half of a hip's top edge into a plane that falls this much, plumb, to its face; radians.

    Square to the hip the plumb fall is cos of the hip's slope as much; where the plane rises there is nothing to bevel.
    """
    return math.atan2(max(fall, 0.0) / math.hypot(1.0, tangent), half)


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
        if len(low) == 2:
            return "lower plumb cut" if abs(low[0][0] - low[1][0]) < NOISE_IN else "cheek cut at the foot"
        return "double cheek cut at the foot"
    return TAIL_NAMES[wing.rafter.tail] if len(low) == 2 else f"{TAIL_NAMES[wing.rafter.tail]}, two cheeks"


def _head_name(high: TrimmedEnd, head: Head) -> str:
    if head.cut:
        return head.cut
    if len(high.points) == 3:
        return "double cheek cut at the head"
    square = abs(high.points[0][0] - high.points[1][0]) < NOISE_IN
    return "plumb cut at the head" if square else "cheek cut at the head"
