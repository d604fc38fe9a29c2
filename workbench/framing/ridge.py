"""Ridge boards: as deep as the cut rafter end, in the fewest feet of stock, joined at rafters.

Source of the depth: ridge board not less deep than the cut end of the rafter and at least 1 in nominal thick (IRC
R802.3, read in a copy); below 3 in 12 the ridge is designed as a beam, which the landing's findings say.
"""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from dataclasses import replace

from workbench.findings import GEOMETRY, Finding
from workbench.framing.group import Group
from workbench.framing.joints import Joints
from workbench.framing.layout import RafterLine
from workbench.framing.model import Measure, Member, Placement
from workbench.framing.skeleton import SAME_IN, Timber
from workbench.framing.space import add2, flat
from workbench.framing.stick import NOISE_IN, End, Stick, square_end, stick_shape
from workbench.framing.stock import cheapest_run, nominal_depth, section_name, stock_length
from workbench.job.model import Wing
from workbench.measure import Trace, Units
from workbench.roof.model import Plane, Point2

_SQUARE = "square cut"


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
        if low is None or high is None or max(len(low.points), len(high.points)) > 3:
            sides = f"{group.by_id[ridge.right].name} and {group.by_id[ridge.left].name}"
            text = (
                f"{wing.name}: the ridge board between {sides} is not in the cut list: too many timbers shape its "
                "ends; fit it on site."
            )
            failed.append(Finding("member-left-out", "warning", wing.id, text, GEOMETRY))
            continue
        mine = [plane for plane in group.planes if _borders(plane, ridge)]
        xs = _joints_along(ridge, mine, lines)
        members += _boards(wing, ridge, mine, (low.points, high.points), xs, units)
    return members, failed


def _borders(plane: Plane, ridge: Timber) -> bool:
    for edge in plane.edges:
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


def _boards(
    wing: Wing,
    ridge: Timber,
    planes: Sequence[Plane],
    ends: tuple[tuple[Point2, ...], tuple[Point2, ...]],
    joints: Sequence[float],
    units: Units,
) -> list[Member]:
    low, high = ends
    first, last = min(s for s, _ in low), max(s for s, _ in high)
    length = last - first
    runs = cheapest_run(length, tuple(s - first for s in joints)) or ((0.0, length),)
    plumb_cut = max(wing.rafter.depth_in * plane.stretch for plane in planes)
    depth = wing.ridge.depth_in or nominal_depth(plumb_cut) or plumb_cut
    # The board's top is level with the tops of the steeper rafters at its face, half a thickness down their slope.
    drop = max(plane.tangent for plane in planes) * wing.ridge.thickness_in / 2.0
    traces = (_length_trace(ridge, first, last), _depth_trace(wing, planes, plumb_cut, depth, units))
    members: list[Member] = []
    for start, stop in runs:
        lower = End(_name(low), low) if start <= NOISE_IN else square_end(_SQUARE, first + start, 2.0 * ridge.half)
        upper = (
            End(_name(high), high) if stop >= length - NOISE_IN else square_end(_SQUARE, first + stop, 2.0 * ridge.half)
        )
        stick = _plain(Stick(0.0, depth, 2.0 * ridge.half, 0.0, lower, upper))
        points = [add2(flat(ridge.a), ridge.direction, first + s) for s in (start, stop)]
        z = ridge.a[2] - drop
        placement = Placement(ridge.right, (*points[0], z), (*points[1], z))
        members.append(_board(wing, stick, placement, traces))
    return members


def _name(points: Sequence[Point2]) -> str:
    if len(points) == 3:
        return "double cheek cut"
    return _SQUARE if abs(points[0][0] - points[1][0]) < NOISE_IN else "mitre cut"


def _plain(stick: Stick) -> Stick:
    """The one of a board's four positions (turned end for end, over, or both) that stands for all: they are one cut."""

    def turned(one: Stick) -> Stick:
        ends = [End(end.name, tuple((-s, -w) for s, w in reversed(end.points))) for end in (one.high, one.low)]
        return replace(one, low=ends[0], high=ends[1])

    over = replace(stick, low=stick.low.mirrored, high=stick.high.mirrored)
    return max((stick, over, turned(stick), turned(over)), key=_figures)


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
