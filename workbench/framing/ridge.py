"""Ridge boards: as deep as the cut rafter end, in the fewest feet of stock, joined at rafters.

Source of the depth: ridge board not less deep than the cut end of the rafter and at least 1 in nominal thick (IRC
R802.3, read in a copy); below 3 in 12 the ridge is designed as a beam, which the landing's findings say.
"""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from dataclasses import replace

from workbench.findings import GEOMETRY, SCREENING, Finding
from workbench.framing.group import Group
from workbench.framing.joints import Joints
from workbench.framing.layout import RafterLine
from workbench.framing.model import Hand, Measure, Member, Placement
from workbench.framing.overframe import laid_under
from workbench.framing.plies import offsets, part_of_end
from workbench.framing.space import add2, flat, left_of, unit
from workbench.framing.stick import NOISE_IN, End, Stick, square_end, stick_shape
from workbench.framing.stock import cheapest_run, nominal_depth, section_name, stock_length
from workbench.framing.timber import SAME_IN, Timber
from workbench.job.model import Wing
from workbench.measure import Trace, Units
from workbench.roof.model import Plane, Point2, Point3

_SQUARE = "square cut"
_LAID = "seat cut on the sleepers"


def ridge_boards(
    group: Group,
    ridges: Sequence[Timber],
    joints: Joints,
    lines: Mapping[str, Sequence[RafterLine]],
    units: Units,
) -> tuple[list[Member], list[Finding]]:
    """The ridge boards of one group, one member a length, and findings for those that can't be cut.

    Args:
        group: The wings, framed together.
        ridges: Their ridge lines.
        joints: How their ends are cut.
        lines: Rafter lines by plane id.
        units: How lengths are shown in the traces.
    """
    members: list[Member] = []
    failed: list[Finding] = []
    for ridge in ridges:
        wing = group.wing_of(ridge.right)
        low, high = (joints.end(ridge, upper=upper) for upper in (False, True))
        if low is None or high is None:
            sides = f"{group.by_id[ridge.right].name} and {group.by_id[ridge.left].name}"
            text = (
                f"{wing.name}: the ridge board between {sides} is not in the cut list: nothing says which of the "
                "timbers at its ends gives way; fit it on site."
            )
            failed.append(Finding("member-left-out", "warning", wing.id, text, GEOMETRY))
            continue
        mine = [plane for plane in group.planes if plane.id in (ridge.left, ridge.right) or _borders(plane, ridge)]
        xs = _joints_along(ridge, mine, lines)
        members += _Ridge(group, ridge, mine, (low.points, high.points), units).boards(xs)
        failed += _hung_finding(wing, ridge, units)
    return members, failed


def _hung_finding(wing: Wing, ridge: Timber, units: Units) -> list[Finding]:
    if ridge.hung_in <= 0.0:
        return []
    text = (
        f"{wing.name}: its ridge hangs from the main ridge, whose line is {units.length(ridge.hung_in)} above its own; "
        f"the hangers, and the main ridge that carries them, are for the engineer. {SCREENING}"
    )
    return [Finding("ridge-hung", "warning", wing.id, text, "NAVEDTRA 14044")]


def _borders(plane: Plane, ridge: Timber) -> bool:
    for edge in plane.all_edges:
        if edge.kind == "ridge":
            ends = [ridge.place(flat(point)) for point in (edge.start, edge.end)]
            if all(abs(w) < SAME_IN and -SAME_IN < s < ridge.run + SAME_IN for s, w in ends):
                return True
    return False


def _joints_along(ridge: Timber, planes: Sequence[Plane], lines: Mapping[str, Sequence[RafterLine]]) -> list[float]:
    """Where rafters of its planes meet a ridge, along it."""
    found: set[float] = set()
    for plane in planes:
        for line in lines[plane.id]:
            if line.high_kind == "ridge":
                s, w = ridge.place(flat(plane.to_space((line.x, line.span.high * plane.stretch))))
                if abs(w) < 1e-3:
                    found.add(round(s, 9))
    return sorted(found)


class _Ridge:
    """One ridge line and the boards it is made of."""

    def __init__(
        self,
        group: Group,
        ridge: Timber,
        planes: Sequence[Plane],
        ends: tuple[tuple[Point2, ...], tuple[Point2, ...]],
        units: Units,
    ) -> None:
        self.group = group
        self.wing = group.wing_of(ridge.right)
        self.ridge = ridge
        self.planes = planes
        self.units = units
        self.plumb_cut = max(self.wing.rafter.depth_in * plane.stretch for plane in planes)
        self.depth = self.wing.ridge.depth_in or nominal_depth(self.plumb_cut) or self.plumb_cut
        # The top is level with the tops of the steeper rafters at its face, half a thickness down their slope.
        self.z = ridge.a[2] - max(plane.tangent for plane in planes) * self.wing.ridge_width_in / 2.0
        self.low, self.high = End(_name(ends[0]), ends[0]), End(_name(ends[1]), ends[1])
        # A theoretical line has no thickness; its width only keeps float noise away.
        self.plies = self.wing.plies.ridge if self.wing.ridge.thickness_in > 0.0 else 1

    def _laid(self, offset: float) -> dict[bool, tuple[float, Point3]]:
        """For each end (upper or not) that lies on a roof below: its s at the top edge, and the normal of its cut."""
        found: dict[bool, tuple[float, Point3]] = {}
        side = left_of(self.ridge.direction)
        x, y = add2(flat(self.ridge.a), side, offset)
        for upper, tip in ((False, self.ridge.a), (True, self.ridge.b)):
            below = next((b for plane in self.planes if (b := laid_under(self.group, plane, tip)) is not None), None)
            if below is not None:
                plane = self.group.on_sleepers(below.id)
                climb = plane.climb(self.ridge.direction)
                normal = unit((-climb, -plane.climb(side), 1.0))
                found[upper] = (self.z - plane.height((x, y, self.ridge.a[2]))) / climb, normal
        return found

    def boards(self, joints: Sequence[float]) -> list[Member]:
        """The boards, joined at some of these places along the line; boards side by side at different ones."""
        members: list[Member] = []
        free = list(joints)
        for offset in offsets(2.0 * self.ridge.half, self.plies):
            made, used = self._ply(offset, free) or self._ply(offset, joints, last_resort=True) or ([], [])
            members += made
            free = [s for s in free if all(abs(s - other) > NOISE_IN for other in used)]
        return members

    def _ply(
        self, offset: float, joints: Sequence[float], *, last_resort: bool = False
    ) -> tuple[list[Member], list[float]] | None:
        """One board's thickness of the ridge and where its boards meet; None where no boards sold reach."""
        half = self.ridge.half / self.plies
        laid = self._laid(offset)
        low, high = (part_of_end(end, offset, half) if self.plies > 1 else end for end in (self.low, self.high))
        first = laid[False][0] if False in laid else low.first
        last = laid[True][0] if True in laid else high.last
        length = last - first
        sold = self.group.lumber.lengths_of(section_name(self.wing.ridge.thickness_in, self.depth))
        places = tuple(s - first for s in joints)
        runs = cheapest_run(length, places, sold) or cheapest_run(length, places)
        if runs is None and not last_resort:
            return None
        ridge = self.ridge
        traces = (
            _length_trace(ridge, first, last),
            _depth_trace(self.wing, self.planes, self.plumb_cut, self.depth, self.units),
        )
        members: list[Member] = []
        for start, stop in runs or ((0.0, length),):
            ends = (
                low if start <= NOISE_IN else square_end(_SQUARE, first + start, 2.0 * half),
                high if stop >= length - NOISE_IN else square_end(_SQUARE, first + stop, 2.0 * half),
            )
            lying = [laid.get(upper) if ends[upper] in (low, high) else None for upper in (False, True)]
            stick, turned, hand = self._stick(ends, (first + start, first + stop), (lying[0], lying[1]))
            middles = (stick.low.middle, stick.high.middle)
            ends_at = [-s for s in reversed(middles)] if turned else middles
            side = left_of(ridge.direction)
            points = [add2(add2(flat(ridge.a), ridge.direction, s), side, offset) for s in ends_at]
            begin, end = reversed(points) if turned else points
            placement = Placement(ridge.right, (*begin, self.z), (*end, self.z), hand)
            members.append(replace(_board(self.wing, stick, placement, traces), plies=self.plies))
        return members, [first + stop for _, stop in (runs or ())[:-1]]

    def _stick(
        self,
        ends: tuple[End, End],
        at: tuple[float, float],
        laid: tuple[tuple[float, Point3] | None, tuple[float, Point3] | None],
    ) -> tuple[Stick, bool, Hand]:
        """What is cut, and how it lies: turned end for end, and turned over (``right``)."""
        thickness = 2.0 * self.ridge.half / self.plies
        low, high = ends
        if laid[0] is not None:
            return self._on_roof(square_end(_LAID, at[0], thickness), high, laid[0][1]), False, ""
        if laid[1] is not None:
            # Turned end for end, so that the end on the roof is the low one.
            (x, y, z) = laid[1][1]
            return self._on_roof(square_end(_LAID, -at[1], thickness), _about(low), (-x, -y, z)), True, ""
        return _plain(Stick(0.0, self.depth, thickness, 0.0, low, high))

    def _on_roof(self, low: End, high: End, normal: Point3) -> Stick:
        thickness = 2.0 * self.ridge.half / self.plies
        return Stick(0.0, self.depth, thickness, 0.0, low, high, tail="square", tail_normals=(normal,))


def _name(points: Sequence[Point2]) -> str:
    if len(points) == 3:
        return "double cheek cut"
    return _SQUARE if abs(points[0][0] - points[1][0]) < NOISE_IN else "mitre cut"


def _plain(stick: Stick) -> tuple[Stick, bool, Hand]:
    """The one of a board's four positions (turned end for end, over, or both) that stands for all: they are one cut."""
    over = replace(stick, low=stick.low.mirrored, high=stick.high.mirrored)
    options: list[tuple[Stick, bool, Hand]] = [
        (stick, False, ""),
        (over, False, "right"),
        (replace(stick, low=_about(stick.high), high=_about(stick.low)), True, ""),
        (replace(over, low=_about(over.high), high=_about(over.low)), True, "right"),
    ]
    return max(options, key=lambda option: _figures(option[0]))


def _about(end: End) -> End:
    """An end of a board that has been turned end for end."""
    return End(end.name, tuple((-s, -w) for s, w in reversed(end.points)))


def _figures(stick: Stick) -> tuple[float, ...]:
    first = stick.low.first
    return tuple(round(x, 6) + 0.0 for end in (stick.low, stick.high) for s, w in end.points for x in (s - first, w))


def _board(wing: Wing, stick: Stick, placement: Placement, traces: tuple[Trace, ...]) -> Member:
    shape = stick_shape(stick)
    length, depth = shape.length_in, stick.depth
    return Member(
        mark="Ridge",
        kind="ridge_board",
        count=1,
        length_in=length,
        stock_in=stock_length(length) or length,
        section=section_name(wing.ridge.thickness_in, depth),
        depth_in=depth,
        thickness_in=wing.ridge.thickness_in,
        cuts=shape.cuts,
        profile=shape.profile,
        measures=(Measure("length", (0.0, depth), (length, depth), length),),
        placements=(placement,),
        traces=traces,
        angle_deg=0.0,
        top=shape.top,
    )


def _length_trace(ridge: Timber, first: float, last: float) -> Trace:
    return Trace(
        "ridge length",
        last - first,
        "in",
        "between the points where the lines meet, and what it runs past them or falls short of them",
        f"{ridge.run:.4f} {-first:+.4f} {last - ridge.run:+.4f} = {last - first:.4f} in",
        GEOMETRY,
    )


def _depth_trace(wing: Wing, planes: Sequence[Plane], plumb_cut: float, depth: float, units: Units) -> Trace:
    steepest = max(plane.angle for plane in planes)
    return Trace(
        "ridge depth",
        depth,
        "in",
        "not under the rafter's plumb cut d / cos θ",
        f"{wing.rafter.depth_in:g} / cos {math.degrees(steepest):.2f}° = {plumb_cut:.4f} in → {units.length(depth)}",
        "IRC R802.3, read in a copy",
    )
