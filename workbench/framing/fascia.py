"""Fascia and sub-fascia: along every eave, mitred where eaves meet, joined at rafter tails. Inches, radians.

Corners are halved: on plumb tails each board's end is bevelled by half the turn; a fascia that leans with square tails
has a compound cut, mitre atan(tan h · sin θ) and bevel asin(sin h · cos θ), h half the turn. Source: geometry.
"""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace

from workbench.findings import COMMON_PRACTICE, GEOMETRY
from workbench.framing.group import Group
from workbench.framing.layout import RafterLine, is_own_eave
from workbench.framing.model import Cut, Measure, Member, MemberKind, Placement
from workbench.framing.space import add2, back, cross2, dot2, flat, left_of, unit2
from workbench.framing.stick import NOISE_IN, End, Stick, square_end, stick_shape
from workbench.framing.stock import cheapest_run, nominal_depth, section_name, stock_length
from workbench.framing.timber import SAME_IN
from workbench.job.model import Wing
from workbench.measure import Trace, Units
from workbench.roof.model import Plane, PlaneEdge, Point3

_STRAIGHT = 1e-9


@dataclass(frozen=True, slots=True)
class EaveRun:
    """Eaves of one plane in one line.

    Attributes:
        plane: The plane.
        start: Left end.
        end: Right end.
        half_turns: Half the turn of the eave line at its left and right end: positive at an outside corner, 0 where no
            eave at the same height goes on.
    """

    plane: Plane
    start: Point3
    end: Point3
    half_turns: tuple[float, float]

    @property
    def length_in(self) -> float:
        """Length along the rafter tails."""
        return math.dist(self.start, self.end)


def fascia_boards(group: Group, lines: Mapping[str, Sequence[RafterLine]], units: Units) -> list[Member]:
    """Fascia and sub-fascia of a group, one member a board."""
    members: list[Member] = []
    runs = eave_runs(group)
    kinds: tuple[MemberKind, ...] = ("sub_fascia", "fascia")
    for kind in kinds:
        for run in runs:
            trim = group.wing_of(run.plane.id).trim
            inner = 0.0 if kind == "sub_fascia" else trim.sub_fascia_in
            thickness = trim.sub_fascia_in if kind == "sub_fascia" else trim.fascia_in
            if thickness > 0.0:
                tails = [line.x for line in lines[run.plane.id] if line.low_kind == "eave"]
                members += _Fascia(group, run, kind, inner, thickness, units).boards(tails)
    return members


def eave_runs(group: Group) -> list[EaveRun]:
    """The eave lines of a group, each from corner to corner."""
    sides = [(plane, edge) for plane in group.planes for edge in plane.edges if is_own_eave(edge)]
    done: set[int] = set()
    runs: list[EaveRun] = []
    for i, (plane, edge) in enumerate(sides):
        if i in done:
            continue
        done.add(i)
        start, end = edge.start, edge.end
        grown = True
        while grown:
            grown = False
            for k, (other_plane, other) in enumerate(sides):
                if k in done or other_plane is not plane:
                    continue
                if math.dist(other.start, end) < SAME_IN:
                    end, grown = other.end, True
                elif math.dist(other.end, start) < SAME_IN:
                    start, grown = other.start, True
                else:
                    continue
                done.add(k)
        along = unit2(flat(start), flat(end))
        turns = (_turn(sides, start, along, at_start=True), _turn(sides, end, along, at_start=False))
        runs.append(EaveRun(plane, start, end, turns))
    return runs


def _turn(
    sides: Sequence[tuple[Plane, PlaneEdge]], corner: Point3, along: tuple[float, float], *, at_start: bool
) -> float:
    """Half the turn of the eave line at a corner."""
    for _, edge in sides:
        meets = edge.end if at_start else edge.start
        if math.dist(meets, corner) > SAME_IN:
            continue
        other = unit2(flat(edge.start), flat(edge.end))
        first, second = (other, along) if at_start else (along, other)
        turn = math.atan2(cross2(first, second), dot2(first, second))
        if abs(turn) > _STRAIGHT:
            return turn / 2.0
    return 0.0


class _Fascia:
    def __init__(
        self, group: Group, run: EaveRun, kind: MemberKind, inner: float, thickness: float, units: Units
    ) -> None:
        self.run = run
        self.kind: MemberKind = kind
        self.inner = inner
        self.thickness = thickness
        self.units = units
        self.wing: Wing = group.wing_of(run.plane.id)
        self.square_tail = self.wing.rafter.tail == "square"
        cut = _tail_depth(self.wing, run.plane)
        given = self.wing.trim.fascia_depth_in if kind == "fascia" else None
        self.depth = given or nominal_depth(cut) or cut
        self.sold = group.lumber.lengths_of(section_name(self.thickness, self.depth))

    def boards(self, tails: Sequence[float]) -> list[Member]:
        """The boards of this run, joined at rafter tails (plane axes) where it is longer than stock."""
        run = self.run
        low, high = (
            self._end(0.0, run.half_turns[0], upper=False),
            self._end(run.length_in, run.half_turns[1], upper=True),
        )
        first, last = low.first, high.last
        left = run.plane.to_plane(run.start)[0]
        places = tuple(x - left - first for x in tails)
        runs = cheapest_run(last - first, places, self.sold) or cheapest_run(last - first, places)
        pieces = runs or ((0.0, last - first),)
        members: list[Member] = []
        for start, stop in pieces:
            ends = (
                low if start <= NOISE_IN else square_end("square cut", first + start, self.thickness),
                high if stop >= last - first - NOISE_IN else square_end("square cut", first + stop, self.thickness),
            )
            members.append(self._board(ends, (last - first)))
        return members

    def _end(self, at: float, half_turn: float, *, upper: bool) -> End:
        """An end in plan: the outer face is the right one, as one looks along the eave with the roof to the left."""
        out = math.tan(half_turn) * (1.0 if upper else -1.0)
        half = self.thickness / 2.0
        name = "square cut" if half_turn == 0.0 else "corner mitre"
        return End(name, ((at + self.inner * out, half), (at + (self.inner + self.thickness) * out, -half)))

    def _board(self, ends: tuple[End, End], whole: float) -> Member:
        stick = Stick(0.0, self.depth, self.thickness, 0.0, ends[0], ends[1])
        shape = stick_shape(stick)
        cuts = tuple(self._leaning(cut) for cut in shape.cuts)
        outward = back(left_of(self._along))
        middle = self.inner + self.thickness / 2.0
        placed = [add2(add2(flat(self.run.start), self._along, end.middle), outward, middle) for end in ends]
        z = self.run.start[2]
        plane = self.run.plane
        return Member(
            mark="Fascia",
            kind=self.kind,
            count=1,
            length_in=shape.length_in,
            stock_in=stock_length(shape.overall_in) or shape.overall_in,
            section=section_name(self.thickness, self.depth),
            depth_in=self.depth,
            thickness_in=self.thickness,
            cuts=cuts,
            profile=shape.profile,
            measures=(Measure("long points", (0.0, self.depth), (shape.length_in, self.depth), shape.length_in),),
            placements=(Placement(plane.id, (*placed[0], z), (*placed[1], z)),),
            traces=(self._trace(whole), self._bevel_trace()),
            angle_deg=0.0,
            top=shape.top,
        )

    @property
    def _along(self) -> tuple[float, float]:
        return unit2(flat(self.run.start), flat(self.run.end))

    def _leaning(self, cut: Cut) -> Cut:
        """A corner cut of a fascia that leans with square tails."""
        if not self.square_tail or cut.bevel_deg == 0.0:
            return cut
        h, theta = math.radians(cut.bevel_deg), self.run.plane.angle
        mitre = math.atan(math.tan(h) * math.sin(theta))
        bevel = math.asin(math.sin(h) * math.cos(theta))
        return replace(cut, angle_deg=math.degrees(mitre), bevel_deg=math.degrees(bevel), in_12=12.0 * math.tan(mitre))

    def _trace(self, whole: float) -> Trace:
        out = self.inner + self.thickness
        gains = [max(self.inner * math.tan(turn), out * math.tan(turn)) for turn in self.run.half_turns]
        return Trace(
            f"{self.kind.replace('_', '-')} of this eave, long point to long point",
            whole,
            "in",
            "eave + at each end tan(half the turn) · how far off the tails the longer face lies: the outer one at an "
            "outside corner, the inner one at an inside corner",
            f"{self.run.length_in:.4f} {gains[0]:+.4f} {gains[1]:+.4f} = {whole:.4f} in",
            GEOMETRY,
        )

    def _bevel_trace(self) -> Trace:
        degrees = 0.0 if self.square_tail else math.degrees(self.run.plane.angle)
        return Trace(
            "bevel of the top edge, to lie under the sheathing",
            degrees,
            "deg",
            "the roof's slope on plumb tails, none on square ones",
            f"{degrees:.4f}°",
            COMMON_PRACTICE,
        )


def _tail_depth(wing: Wing, plane: Plane) -> float:
    """What a fascia has to cover: the rafter tail's face."""
    depth = wing.rafter.depth_in
    return {"plumb": depth * plane.stretch, "level": depth * plane.stretch / 2.0, "square": depth}[wing.rafter.tail]
