"""Purlins: boards on edge under level pitch breaks, that the rafters of both slopes are cut against. Inches.

A purlin's middle stands under the break; the rafters on either side are half its thickness short, as at a ridge. Its
top edge is bevelled to the lower slope on the downhill half, so that sheets lie on it; it is as deep as the deeper of
the two cut rafter ends. What it stands on, and whether it is strong enough, is for the engineer. All of it is common
practice, no source.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping, Sequence

from workbench.findings import COMMON_PRACTICE, GEOMETRY
from workbench.framing.group import Group
from workbench.framing.layout import RafterLine
from workbench.framing.model import Measure, Member, Placement
from workbench.framing.space import add2, cross2, dot2, flat, minus2
from workbench.framing.stick import NOISE_IN, End, Stick, square_end, stick_shape
from workbench.framing.stock import cheapest_run, nominal_depth, section_name, stock_length
from workbench.framing.timber import SAME_IN
from workbench.measure import Trace, Units
from workbench.roof.model import Plane, PlaneEdge, Point3

_SQUARE, _MITRE = "square cut", "mitre cut at the hip"


def purlins(group: Group, lines: Mapping[str, Sequence[RafterLine]], units: Units) -> Iterator[Member]:
    """The purlins of one group, where its wings have any.

    Args:
        group: The wings, framed together.
        lines: Rafter lines by plane id.
        units: How lengths are shown in the traces.
    """
    for plane in group.planes:
        if group.wing_of(plane.id).purlin_in <= 0.0:
            continue
        highest = max(corner[2] for corner in plane.corners)
        for edge in plane.all_edges:
            upper = group.by_id.get(edge.neighbour or "")
            if edge.kind == "pitch_break" and upper is not None and edge.start[2] > highest - SAME_IN:
                yield from _Purlin(group, plane, upper, edge, units).boards(lines[plane.id])


class _Purlin:
    """One break and the boards under it."""

    def __init__(self, group: Group, lower: Plane, upper: Plane, edge: PlaneEdge, units: Units) -> None:
        self.lower = lower
        self.units = units
        wing = group.wing_of(lower.id)
        self.half = wing.purlin_in / 2.0
        self.plumb_cut = max(wing.rafter.depth_in * plane.stretch for plane in (lower, upper))
        self.depth = nominal_depth(self.plumb_cut) or self.plumb_cut
        self.sold = group.lumber.lengths_of(section_name(wing.purlin_in, self.depth))
        ends = sorted((edge.start, edge.end), key=lambda point: lower.to_plane(point)[0])
        self.left, self.right = ends
        self.run = math.dist(flat(self.left), flat(self.right))
        self.hip_halves = {"hip": wing.hip_width_in / 2.0, "valley": wing.valley_width_in / 2.0}

    def boards(self, lines: Sequence[RafterLine]) -> Iterator[Member]:
        """The boards, joined at rafters."""
        low, high = self._end(self.left, 0.0, 1.0), self._end(self.right, self.run, -1.0)
        first, last = low.first, high.last
        x0 = self.lower.to_plane(self.left)[0]
        joints = tuple(sorted({line.x - x0 - first for line in lines if line.high_kind == "pitch_break"}))
        length = last - first
        runs = cheapest_run(length, joints, self.sold) or cheapest_run(length, joints) or ((0.0, length),)
        for start, stop in runs:
            stick = Stick(
                tangent=0.0,
                depth=self.depth,
                thickness=2.0 * self.half,
                height=0.0,
                low=low if start <= NOISE_IN else square_end(_SQUARE, first + start, 2.0 * self.half),
                high=high if stop >= length - NOISE_IN else square_end(_SQUARE, first + stop, 2.0 * self.half),
            )
            yield self._member(stick)

    def _end(self, tip: Point3, at: float, inward: float) -> End:
        """One end: square where the roof ends, along the side of a hip or valley where one passes."""
        for edge in self.lower.all_edges:
            touches = min(math.dist(edge.start, tip), math.dist(edge.end, tip)) < SAME_IN
            if not touches or edge.kind not in ("hip", "valley"):
                continue
            way = minus2(flat(edge.end), flat(edge.start))
            along, across = dot2(way, self.lower.across), cross2(self.lower.across, way)
            if abs(across) < NOISE_IN:
                continue
            off = inward * self.hip_halves[edge.kind] * math.hypot(along, across) / abs(across)
            rate = along / across
            return End(_MITRE, tuple((at + off + rate * w, w) for w in (self.half, -self.half)))
        return square_end(_SQUARE, at, 2.0 * self.half)

    def _member(self, stick: Stick) -> Member:
        shape = stick_shape(stick)
        points = [add2(flat(self.left), self.lower.across, s) for s in (stick.low.middle, stick.high.middle)]
        z = self.left[2]
        bevel = math.degrees(math.atan(self.lower.tangent))
        return Member(
            mark="Purlin",
            kind="purlin",
            count=1,
            length_in=shape.length_in,
            stock_in=stock_length(shape.overall_in) or shape.overall_in,
            section=section_name(2.0 * self.half, self.depth),
            depth_in=self.depth,
            thickness_in=2.0 * self.half,
            cuts=shape.cuts,
            profile=shape.profile,
            measures=(Measure("length", (0.0, self.depth), (shape.length_in, self.depth), shape.length_in),),
            placements=(Placement(self.lower.id, (*points[0], z), (*points[1], z)),),
            traces=self._traces(shape.length_in, bevel),
            angle_deg=0.0,
            top=shape.top,
            backing_deg=(0.0, bevel),
        )

    def _traces(self, length: float, bevel: float) -> tuple[Trace, ...]:
        units = self.units
        return (
            Trace(
                "purlin length",
                length,
                "in",
                "along the pitch break, from rake to rake or between the sides of the hips; joined at rafters",
                f"of {units.tape(self.run)} in all: {units.tape(length)}",
                GEOMETRY,
            ),
            Trace(
                "bevel of the top edge, downhill half",
                bevel,
                "deg",
                "atan m of the lower slope, so that the sheets lie on it",
                f"atan {self.lower.tangent:.6f} = {bevel:.4f}°",
                GEOMETRY,
            ),
            Trace(
                "purlin depth",
                self.depth,
                "in",
                "not under the deeper of the two plumb cuts d / cos θ",
                f"{self.plumb_cut:.4f} in → {units.length(self.depth)}",
                COMMON_PRACTICE,
            ),
        )
