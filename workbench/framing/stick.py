"""An upright board between two plumb ends: its side view, top edge, cuts and measures.

Stick axes: s level along the board from a reference point, w level across it to the left, z height. The two ends are
lines in plan from the left face to the right one, so a bevelled end, a pointed and a notched one are all the same
thing. Member axes: x along the top edge from the lower long point, y square to it, the bottom edge at y = 0. Source of
the angles: geometry.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from shapely.geometry import Polygon
from shapely.geometry.base import BaseGeometry

from workbench.framing.model import Cut, LongPoint, Measure
from workbench.framing.space import BoardAxes
from workbench.job.model import Tail
from workbench.roof.model import Point2, Point3

NOISE_IN = 1e-6
"""Lengths under this are float noise."""


@dataclass(frozen=True, slots=True)
class End:
    """One end of a board as seen from above.

    Attributes:
        name: What the cut is called.
        points: (s, w) from the left face to the right face, inches.
    """

    name: str
    points: tuple[Point2, ...]

    @property
    def first(self) -> float:
        """Its lowest s."""
        return min(s for s, _ in self.points)

    @property
    def last(self) -> float:
        """Its highest s."""
        return max(s for s, _ in self.points)

    @property
    def middle(self) -> float:
        """Its s on the centre line."""
        for (s0, w0), (s1, w1) in zip(self.points, self.points[1:], strict=False):
            if w0 >= 0.0 >= w1 and w0 > w1:
                return s0 + (s1 - s0) * w0 / (w0 - w1)
        return self.points[0][0]

    @property
    def bevels(self) -> tuple[float, ...]:
        """Bevel of each facet, radians, from the left; positive where its right end is further up."""
        pairs = zip(self.points, self.points[1:], strict=False)
        return tuple(math.atan2(b[0] - a[0], a[1] - b[1]) for a, b in pairs)

    @property
    def mirrored(self) -> End:
        """The same end of the mirror image."""
        return End(self.name, tuple((s, -w) for s, w in reversed(self.points)))


def square_end(name: str, s: float, thickness: float) -> End:
    """An end that goes straight across."""
    return End(name, ((s, thickness / 2.0), (s, -thickness / 2.0)))


@dataclass(frozen=True, slots=True)
class Notch:
    """A bird's-mouth.

    Attributes:
        name: Empty for the low one, ``upper`` for that on a landing.
        at: s of the heel's plumb line.
        support: Height of what it sits on.
        seat: Level length of the seat, inches; none is cut where it is not over 0.
    """

    name: str
    at: float
    support: float
    seat: float


@dataclass(frozen=True, slots=True)
class Stick:
    """What is cut, apart from how many and where. Inches; slope as rise / run.

    Attributes:
        tangent: Slope of the edges.
        depth: Square to the edge.
        thickness: Across.
        height: Height of the top edge's centre line over s = 0.
        low: Lower end at the top edge.
        high: Upper end.
        tail: How the lower end is cut.
        notches: From the low end up.
        return_height: Height of a level tail's return; None takes half the plumb depth.
        tail_normals: Normals (s, w, z) of a ``square`` tail's cuts where it has two cheeks, left one first; or of the
            one cut that lies on a sloping plane, such as a roof below.
        landing_at: s of the bearing line on a landing, to be measured from the heel.
    """

    tangent: float
    depth: float
    thickness: float
    height: float
    low: End
    high: End
    tail: Tail = "plumb"
    notches: tuple[Notch, ...] = ()
    return_height: float | None = None
    tail_normals: tuple[Point3, ...] = ()
    landing_at: float | None = None

    @property
    def seats(self) -> tuple[Notch, ...]:
        """The notches that take wood away."""
        return tuple(notch for notch in self.notches if notch.seat > NOISE_IN)

    def top(self, s: float) -> float:
        """Height of the top edge."""
        return self.height + self.tangent * s


@dataclass(frozen=True, slots=True)
class StickShape:
    """A stick as cut.

    Attributes:
        length_in: Along the top edge, long point to long point.
        overall_in: Along the stock, from the furthest point at the one end to that at the other.
        cuts: From the low end up.
        profile: Side view, member axes.
        measures: What to mark.
        top: Top edge seen square on; empty where both ends are square.
    """

    length_in: float
    overall_in: float
    cuts: tuple[Cut, ...]
    profile: tuple[Point2, ...]
    measures: tuple[Measure, ...]
    top: tuple[Point2, ...]


def stick_shape(stick: Stick) -> StickShape:
    """Side view, top edge, cuts and measures of a stick."""
    return _Shaper(stick).shape()


def largest_ring(shape: BaseGeometry) -> list[Point2]:
    """Outer ring of a shape's largest part, anticlockwise, its first corner not repeated; empty where it has none."""
    parts = [part for part in getattr(shape, "geoms", [shape]) if isinstance(part, Polygon)]
    if not parts:
        return []
    outer = max(parts, key=lambda part: part.area).exterior
    corners = [(float(s), float(z)) for s, z in outer.coords[:-1]]
    ring = [corner for i, corner in enumerate(corners) if math.dist(corner, corners[i - 1]) > NOISE_IN]
    return ring if outer.is_ccw else ring[::-1]


class _Shaper:
    def __init__(self, stick: Stick) -> None:
        self.stick = stick
        self.m = stick.tangent
        self.theta = math.atan(self.m)
        self.stretch = math.hypot(1.0, self.m)
        self.plumb = stick.depth * self.stretch
        self.low = stick.low.first
        self.high = stick.high.last

    def shape(self) -> StickShape:
        profile = self._profile()
        xs = [x for x, _ in profile]
        length = (self.high - self.low) * self.stretch
        return StickShape(length, max(xs) - min(xs), self._cuts(), profile, self._measures(), self._top_view())

    def _bottom(self, s: float) -> float:
        return self.stick.top(s) - self.plumb

    def _member(self, point: Point2) -> Point2:
        """Member axes of a point (s, z) of the side view."""
        ds, dz = point[0] - self.low, point[1] - self.stick.top(self.low)
        return (ds + dz * self.m) / self.stretch, (dz - ds * self.m) / self.stretch + self.stick.depth

    def _along(self, s: float) -> float:
        """Position along the top edge of the plumb line at s."""
        return (s - self.low) * self.stretch

    def _profile(self) -> tuple[Point2, ...]:
        """The stock between its end cuts less its notches, from the tail's top point on, anticlockwise."""
        start: Point2 = (self.low, self.stick.top(self.low))
        end: list[Point2] = [(self.high, self._bottom(self.high)), (self.high, self.stick.top(self.high))]
        tail = self._tail_points()
        ring = self._notched(tail) or self._cut_out([start, *tail, *end], start)
        return tuple(self._member(point) for point in ring)

    def _notched(self, tail: list[Point2]) -> list[Point2]:
        """The ring where every notch lies clear of the ends and of the top; empty where one does not."""
        ring: list[Point2] = [(self.low, self.stick.top(self.low)), *tail]
        reached = tail[-1][0]
        for notch in self.stick.seats:
            foot, end = notch.at, notch.at + notch.seat
            flush = abs(self._bottom(end) - notch.support) < NOISE_IN
            if end > self.high - NOISE_IN or not flush or notch.support > self.stick.top(foot) - NOISE_IN:
                return []
            if len(ring) == 2 and self.stick.tail == "plumb" and abs(foot - self.low) < NOISE_IN:
                # Without a tail the plumb cut there is the heel.
                ring[1:] = [(self.low, notch.support), (end, notch.support)]
            elif reached + NOISE_IN < foot:
                ring += [(foot, self._bottom(foot)), (foot, notch.support), (end, notch.support)]
            else:
                return []
            reached = end
        return [*ring, (self.high, self._bottom(self.high)), (self.high, self.stick.top(self.high))]

    def _cut_out(self, outline: list[Point2], start: Point2) -> list[Point2]:
        """Notches taken off as shapes, because a short tail or a long seat may run out through an end cut."""
        shape: BaseGeometry = Polygon(outline).buffer(0.0)  # a level return longer than the board crosses itself
        for notch in self.stick.seats:
            under = self._bottom(notch.at) - self.stick.depth
            # A heel at the very end takes the end with it: no sliver of float noise is left standing.
            foot = notch.at if notch.at - self.low > NOISE_IN else self.low - self.stick.depth
            end = notch.at + notch.seat
            box = [(foot, notch.support), (foot, under), (end, under), (end, notch.support)]
            shape = shape.difference(Polygon(box))
        ring = largest_ring(shape)
        first = min(range(len(ring)), key=lambda i: math.dist(ring[i], start))
        return [*ring[first:], *ring[:first]]

    def _tail_points(self) -> list[Point2]:
        """From below the tail's top point to the bottom edge."""
        low, tail = self.low, self.stick.tail
        if tail == "square":
            s = low + self._square_run()
            return [(s, self._bottom(s))]
        level = self._return_height()
        if tail == "level" and level > self._bottom(low) + NOISE_IN:
            return [(low, level), (low + (level - self._bottom(low)) / self.m, level)]
        return [(low, self._bottom(low))]

    def _return_height(self) -> float:
        stick = self.stick
        return stick.top(self.low) - self.plumb / 2.0 if stick.return_height is None else stick.return_height

    def _square_run(self) -> float:
        """How far further up a square tail ends at the bottom edge than at the top edge, level."""
        if not self.stick.tail_normals:
            return self.stick.depth * math.sin(self.theta)
        # From the top edge down its plane the cut meets the bottom edge, a plumb depth lower: n · (s, z) = 0.
        runs = [self.plumb * n[2] / (n[0] + self.m * n[2]) for n in self.stick.tail_normals]
        return max(runs) if self._pointed_tail() else min(runs)

    def _pointed_tail(self) -> bool:
        return len(self.stick.low.points) == 3 and self.stick.low.points[0][0] > self.low + NOISE_IN

    def _cuts(self) -> tuple[Cut, ...]:
        plumb, in_12 = math.degrees(self.theta), 12.0 * self.m
        level = 90.0 - plumb
        cuts = [self._tail_cut()]
        if self.stick.tail == "level" and self._return_height() > self._bottom(self.low) + NOISE_IN:
            cuts.append(Cut("tail level cut", level, 0.0, in_12, 0.0))
        for notch in self.stick.seats:
            name = f"{notch.name} " if notch.name else ""
            # Without a tail the plumb cut there is the heel.
            if notch.at - self.low > NOISE_IN or self.stick.tail == "square":
                cuts.append(Cut(f"{name}heel cut (plumb)", plumb, 0.0, in_12, self._along(notch.at)))
            end = min(notch.at + notch.seat, self.high)
            cuts.append(Cut(f"{name}seat cut (level)", level, 0.0, in_12, self._along(end)))
        cuts.append(self._plumb_cut(self.stick.high, self._along(self.high)))
        return tuple(cuts)

    def _tail_cut(self) -> Cut:
        stick = self.stick
        if stick.tail != "square":
            return self._plumb_cut(stick.low, 0.0)
        if not stick.tail_normals:
            return Cut(stick.low.name, 0.0, 0.0, 0.0, 0.0)
        axes = BoardAxes((1.0, 0.0), self.m)
        settings = [axes.saw(normal) for normal in stick.tail_normals]
        mitre, bevel = settings[0]
        # Steeper than half a right angle it is marked like a level cut, on the run side.
        in_12 = 12.0 * (math.tan(mitre) if mitre <= math.pi / 4.0 else 1.0 / math.tan(mitre))
        if len(settings) == 1:
            along = self._plumb_cut(stick.low, 0.0)
            long = along.long if abs(bevel) > 1e-9 else ""
            return Cut(stick.low.name, math.degrees(mitre), math.degrees(abs(bevel)), in_12, 0.0, long=long)
        other = math.degrees(abs(settings[-1][1]))
        long = "middle" if self._pointed_tail() else "faces"
        middle = self._middle(stick.low)
        degrees = math.degrees(abs(bevel))
        return Cut(stick.low.name, math.degrees(mitre), degrees, in_12, 0.0, other, long=long, middle_in=middle)

    def _plumb_cut(self, end: End, at: float) -> Cut:
        """A plumb cut with the bevels of an end's one or two facets."""
        angle, in_12 = math.degrees(self.theta), 12.0 * self.m
        bevels = end.bevels
        sides = [self._side(bevel) for bevel in bevels]
        name = end.name
        if len(bevels) == 1:
            bevel = bevels[0]
            if abs(bevel) * self.stick.thickness < NOISE_IN:
                return Cut(name, angle, 0.0, in_12, at)
            right_up = bevel > 0.0
            upper = end is self.stick.high
            long: LongPoint = "right" if right_up == upper else "left"
            return Cut(name, angle, math.degrees(abs(bevel)), in_12, at, side_in_12=sides[0], long=long)
        return Cut(
            name,
            angle,
            math.degrees(abs(bevels[0])),
            in_12,
            at,
            math.degrees(abs(bevels[-1])),
            sides[0],
            sides[-1],
            self._long(end),
            self._middle(end),
        )

    def _long(self, end: End) -> LongPoint:
        """Where a double cheek is longest."""
        outward = 1.0 if end is self.stick.high else -1.0
        left, middle, right = (outward * end.points[i][0] for i in (0, 1, -1))
        if middle > max(left, right) - NOISE_IN:
            return "middle"
        if middle < min(left, right) + NOISE_IN:
            return "faces"
        return "left" if left > right else "right"

    def _middle(self, end: End) -> float:
        return self.stick.thickness / 2.0 - end.points[1][1]

    def _side(self, bevel: float) -> float | None:
        """The bevel as a framing square takes it on the top edge, against 12 on the tongue."""
        return 12.0 / (self.stretch * math.tan(abs(bevel))) if abs(bevel) > 1e-9 else None

    def _measures(self) -> tuple[Measure, ...]:
        stick = self.stick
        measures = [self._top_measure("top edge", self.low, self.high)]
        short = min(stick.high.points[0][0], stick.high.points[-1][0])
        if self.high - short > NOISE_IN:
            measures.append(self._top_measure("top edge to the short point", self.low, short))
        for notch in (n for n in stick.notches if not n.name):
            if notch.at - self.low > NOISE_IN:
                measures.append(self._top_measure("tail to heel plumb line", self.low, notch.at))
            measures.append(self._top_measure("heel plumb line to upper cut", notch.at, self.high))
            if stick.landing_at is not None:
                measures.append(self._top_measure("heel to landing line", notch.at, stick.landing_at))
        for notch in stick.seats:
            name = f"{notch.name} " if notch.name else ""
            shown = min(notch.seat, self.high - notch.at)
            x, z = notch.at, notch.support
            measures.append(self._measure(f"{name}seat", (x, z), (x + shown, z)))
            # Without a tail the plumb cut there takes away what would be measured.
            if notch.name or x - self.low > NOISE_IN:
                measures.append(self._measure(f"{name}heel", (x, self._bottom(x)), (x, z)))
            measures.append(self._measure(f"{name}height above plate", (x, z), (x, stick.top(x))))
        return tuple(measures)

    def _top_measure(self, name: str, start: float, end: float) -> Measure:
        return self._measure(name, (start, self.stick.top(start)), (end, self.stick.top(end)))

    def _measure(self, name: str, start: Point2, end: Point2) -> Measure:
        return Measure(name, self._member(start), self._member(end), math.dist(start, end))

    def _top_view(self) -> tuple[Point2, ...]:
        low, high = self.stick.low.points, self.stick.high.points
        if max(len(low), len(high)) == 2 and abs(low[0][0] - low[1][0]) + abs(high[0][0] - high[1][0]) < NOISE_IN:
            return ()
        # Anticlockwise with the left face above: along the right face, up the upper end, back along the left face.
        ring = [*low, *reversed(high)]
        return tuple((self._along(s), w) for s, w in ring)
