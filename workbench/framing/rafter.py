"""The common rafter: its side view, cuts and measures from the section it stands in.

Section axes: X level from the low building line towards the ridge, Z height. Member axes: x along the top edge from the
tail's top point, y square to it, the bottom edge at y = 0.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from shapely.geometry import Polygon

from workbench.framing.model import Cut, Measure
from workbench.job.model import Tail
from workbench.roof.model import Point2
from workbench.roof.solved import Section

_NOISE_IN = 1e-6


@dataclass(frozen=True, slots=True)
class RafterShape:
    """What is cut, apart from how many and where.

    Attributes:
        length_in: Along the top edge, from the tail's top point to the upper end's.
        overall_in: Along the stock, from the furthest point at the one end to that at the other.
        cuts: From the low end up.
        profile: Side view, member axes.
        measures: What to mark.
    """

    length_in: float
    overall_in: float
    cuts: tuple[Cut, ...]
    profile: tuple[Point2, ...]
    measures: tuple[Measure, ...]


def upper_reach(section: Section) -> float:
    """X of the upper plumb cut: half the ridge board short of its centreline, at the face, or past the landing."""
    given, answer = section.given, section.answer
    if given.high_end == "ridge":
        return answer.run_in - given.ridge_thickness_in / 2.0
    return answer.run_in + section.past_in


def rafter_shape(section: Section, depth_in: float, tail: Tail, *, seated: bool = True) -> RafterShape:
    """Shape of the rafter in a section.

    Args:
        section: The solved section.
        depth_in: Depth square to the edge.
        tail: The cut at the tail.
        seated: False for a barge rafter, which hangs outside the wall and has no bird's-mouth.
    """
    return _Shaper(section, depth_in, tail, seated).shape()


class _Shaper:
    def __init__(self, section: Section, depth_in: float, tail: Tail, seated: bool) -> None:
        self.section = section
        self.depth = depth_in
        self.tail: Tail = tail
        self.seated = seated
        self.m = section.answer.tangent
        self.theta = math.atan(self.m)
        self.plumb = depth_in / math.cos(self.theta)
        self.stretch = math.hypot(1.0, self.m)
        self.low = -section.overhang_in
        self.high = upper_reach(section)

    def shape(self) -> RafterShape:
        profile = self._profile()
        xs = [x for x, _ in profile]
        return RafterShape(
            (self.high - self.low) * self.stretch, max(xs) - min(xs), self._cuts(), profile, self._measures()
        )

    def _profile(self) -> tuple[Point2, ...]:
        """The stock between its end cuts less its notches, from the tail's top point on, anticlockwise.

        Notches are taken off as shapes, because a short tail or a long seat may run out through an end cut.
        """
        ends = [
            *self._tail_points(),
            (self.high, self._bottom(self.high)),
            (self.high, self._top(self.high)),
            (self.low, self._top(self.low)),
        ]
        shape = Polygon(ends)
        for _, x, z, seat in self._notches():
            under = self._bottom(x) - self.depth
            shape = shape.difference(Polygon([(x, z), (x, under), (x + seat, under), (x + seat, z)]))
        if not isinstance(shape, Polygon):
            shape = max(shape.geoms, key=lambda part: part.area)
        ring = [(x, z) for x, z in shape.exterior.coords[:-1]]
        if not shape.exterior.is_ccw:
            ring.reverse()
        start = min(range(len(ring)), key=lambda i: math.dist(ring[i], (self.low, self._top(self.low))))
        return tuple(self._member(point) for point in (*ring[start:], *ring[:start]))

    def _top(self, x: float) -> float:
        answer = self.section.answer
        return answer.low_plate_in + answer.hap_low_in + self.m * x

    def _bottom(self, x: float) -> float:
        return self._top(x) - self.plumb

    def _member(self, point: Point2) -> Point2:
        dx, dz = point[0] - self.low, point[1] - self._top(self.low)
        cos, sin = math.cos(self.theta), math.sin(self.theta)
        return dx * cos + dz * sin, dz * cos - dx * sin + self.depth

    def _along(self, x: float) -> float:
        """Position along the top edge, from the tail's top point, of the plumb line at X."""
        return (x - self.low) * self.stretch

    def _tail_points(self) -> list[Point2]:
        """From below the tail's top point (left out, it closes the ring) to the bottom edge."""
        low, top = self.low, self._top(self.low)
        if self.tail == "square":
            x = low + self.depth * math.sin(self.theta)
            return [(x, self._bottom(x))]
        if self.tail == "level":
            # The plumb face is half the plumb depth; the level return runs from it in to the bottom edge.
            level = top - self.plumb / 2.0
            return [(low, level), (low + (self.plumb / 2.0) / self.m, level)]
        return [(low, self._bottom(low))]

    def _notches(self) -> list[tuple[str, float, float, float]]:
        """Name, X of the bearing line, height of the support and seat of each bird's-mouth, from the low end up."""
        if not self.seated:
            return []
        answer = self.section.answer
        notches = [("low", 0.0, answer.low_plate_in, answer.seat_in)]
        if self.section.given.high_end == "notched":
            notches.append(("high", answer.run_in, answer.landing_in, answer.seat_high_in))
        return [notch for notch in notches if notch[3] > _NOISE_IN]

    def _cuts(self) -> tuple[Cut, ...]:
        plumb, in_12 = math.degrees(self.theta), 12.0 * self.m
        level = 90.0 - plumb
        cuts: list[Cut] = []
        if self.tail == "square":
            cuts.append(Cut("tail square cut", 0.0, 0.0, 0.0, 0.0))
        else:
            cuts.append(Cut("tail plumb cut", plumb, 0.0, in_12, 0.0))
        if self.tail == "level":
            cuts.append(Cut("tail level cut", level, 0.0, in_12, 0.0))
        for which, x, _, seat in self._notches():
            name = "" if which == "low" else "upper "
            if x - self.low > _NOISE_IN or self.tail == "square":  # without a tail the plumb cut there is the heel
                cuts.append(Cut(f"{name}heel cut (plumb)", plumb, 0.0, in_12, self._along(x)))
            cuts.append(Cut(f"{name}seat cut (level)", level, 0.0, in_12, self._along(min(x + seat, self.high))))
        cuts.append(Cut(self._upper_name(), plumb, 0.0, in_12, self._along(self.high)))
        return tuple(cuts)

    def _upper_name(self) -> str:
        names = {"ridge": "ridge plumb cut", "face": "upper plumb cut at the face"}
        return names.get(self.section.given.high_end, "upper plumb cut")

    def _measures(self) -> tuple[Measure, ...]:
        measures = [self._top_measure("top edge", self.low, self.high)]
        if self.seated:
            if self.section.overhang_in > _NOISE_IN:
                measures.append(self._top_measure("tail to heel plumb line", self.low, 0.0))
            measures.append(self._top_measure("heel plumb line to upper cut", 0.0, self.high))
            if self.section.given.high_end in ("notched", "whole"):
                measures.append(self._top_measure("heel to landing line", 0.0, self.section.answer.run_in))
        for which, x, z, seat in self._notches():
            name = "" if which == "low" else "upper "
            shown = min(seat, self.high - x)
            measures.append(self._measure(f"{name}seat", (x, z), (x + shown, z)))
            measures.append(self._measure(f"{name}heel", (x, self._bottom(x)), (x, z)))
            measures.append(self._measure(f"{name}height above plate", (x, z), (x, self._top(x))))
        return tuple(measures)

    def _top_measure(self, name: str, start: float, end: float) -> Measure:
        return self._measure(name, (start, self._top(start)), (end, self._top(end)))

    def _measure(self, name: str, start: Point2, end: Point2) -> Measure:
        return Measure(name, self._member(start), self._member(end), math.dist(start, end))
