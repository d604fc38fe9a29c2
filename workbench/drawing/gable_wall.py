"""A gable wall seen from outside: studs and sloped plates with their marks. x from the wall's left corner, y height."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass

from workbench.drawing.primitives import Drawing, Polygon, Primitive, Text
from workbench.framing.model import Member, Placement
from workbench.framing.space import dot2, flat, left_of, minus2, slope_of, unit2
from workbench.plan import Plan
from workbench.roof.model import Point2

_NEAR_IN = 24.0
_SILL_IN = 3.0


@dataclass(frozen=True, slots=True)
class WallStud:
    """One stud of a gable wall.

    Attributes:
        mark: Its mark.
        line_in: Its near face from the wall's left corner, seen from outside.
        long_in: Its long point.
        short_in: Its short point.
        foot_in: Height of its foot.
    """

    mark: str
    line_in: float
    long_in: float
    short_in: float
    foot_in: float


@dataclass(frozen=True)
class GableView:
    """A gable wall as drawn.

    Attributes:
        name: Where it is, in words.
        drawing: It, seen from outside.
        studs: Its studs from left to right.
    """

    name: str
    drawing: Drawing
    studs: tuple[WallStud, ...]


def gable_views(plan: Plan) -> tuple[GableView, ...]:
    """All gable walls that have studs or plates, in the order of the wings."""
    found: list[GableView] = []
    for solved in plan.wings:
        wing = plan.job.wing(solved.wing)
        if wing.gable_walls is None:
            continue
        for i, edge in enumerate(wing.edges):
            if edge.kind == "rake":
                wall = _Wall(plan, solved.outline[i], solved.outline[(i + 1) % len(solved.outline)], wing.id)
                if wall.boards:
                    found.append(
                        GableView(f"gable of {wing.name}, {_facing(wall.along)}", wall.drawing(), wall.studs())
                    )
    return tuple(found)


def _facing(along: Point2) -> str:
    """Which way an edge faces on the drawing."""
    out_x, out_y = along[1], -along[0]
    if abs(out_x) > abs(out_y):
        return "right side of the plan" if out_x > 0.0 else "left side of the plan"
    return "upper side of the plan" if out_y > 0.0 else "lower side of the plan"


class _Wall:
    """The members that stand in one building line."""

    def __init__(self, plan: Plan, left: Point2, right: Point2, wing: str) -> None:
        self.plan = plan
        self.left = left
        self.along = unit2(left, right)
        self.length = math.dist(left, right)
        inward = left_of(self.along)
        self.boards: list[tuple[Member, Placement]] = []
        for member in plan.framing.members:
            if member.kind not in ("gable_stud", "rake_plate"):
                continue
            for place in member.placements:
                away = minus2(flat(place.start), left)
                if (
                    place.plane.startswith(f"{wing}/")
                    and -1.0 < dot2(away, inward) < _NEAR_IN
                    and -1.0 < dot2(away, self.along) < self.length + 1.0
                    and self._runs_along(member, place)
                ):
                    self.boards.append((member, place))

    def _runs_along(self, member: Member, place: Placement) -> bool:
        """Whether a plate runs along this wall, and not along one round the corner."""
        if member.kind == "gable_stud":
            across = minus2(flat(place.end), flat(place.start))
            return abs(dot2(across, self.along)) <= abs(dot2(across, left_of(self.along)))
        run = minus2(flat(place.end), flat(place.start))
        return abs(dot2(run, self.along)) > abs(dot2(run, left_of(self.along)))

    def u(self, point: Point2) -> float:
        return dot2(minus2(point, self.left), self.along)

    def studs(self) -> tuple[WallStud, ...]:
        found: list[WallStud] = []
        for member, place in self.boards:
            if member.kind == "gable_stud":
                lengths = {measure.name: measure.length_in for measure in member.measures}
                long = lengths["long point"]
                line = self.u(flat(place.start)) - member.thickness_in / 2.0
                found.append(WallStud(member.mark, line, long, lengths.get("short point", long), place.start[2]))
        return tuple(sorted(found, key=lambda stud: (stud.line_in, stud.foot_in)))

    def drawing(self) -> Drawing:
        base = min(place.start[2] for _, place in self.boards)
        items: list[Primitive] = [
            Polygon("", "plate", ((0.0, -_SILL_IN), (self.length, -_SILL_IN), (self.length, 0.0), (0.0, 0.0)))
        ]
        for member, place in self.boards:
            items += (
                self._stud(member, place, base) if member.kind == "gable_stud" else self._plate(member, place, base)
            )
        return Drawing(tuple(items))

    def _stud(self, member: Member, place: Placement, base: float) -> Iterator[Primitive]:
        half, u = member.thickness_in / 2.0, self.u(flat(place.start))
        foot = place.start[2] - base
        lengths = {measure.name: measure.length_in for measure in member.measures}
        long = foot + lengths["long point"]
        short = foot + lengths.get("short point", lengths["long point"])
        plane = self.plan.plane(place.plane)
        climb = 0.0 if plane is None else slope_of(plane).climb(self.along)
        left, right = (short, long) if climb > 0.0 else (long, short)
        ring = [(u - half, foot), (u + half, foot), (u + half, right), (u - half, left)]
        if any(cut.other_bevel_deg is not None for cut in member.cuts):
            ring[2:] = [(u + half, short), (u, long), (u - half, short)]
        key = f"member:{member.mark}"
        yield Polygon(key, "wood", tuple(ring))
        number = member.mark.rpartition(" ")[2]
        yield Text(key, "note", (u, foot + 2.0), number, "small", 90.0, anchor="left", back=True)

    def _plate(self, member: Member, place: Placement, base: float) -> Iterator[Primitive]:
        start, end = (self.u(flat(place.start)), place.start[2] - base), (self.u(flat(place.end)), place.end[2] - base)
        length = math.dist(start, end)
        ex, ey = (end[0] - start[0]) / length, (end[1] - start[1]) / length
        # Square up from the plate's upper edge, whichever way it rises.
        nx, ny = (-ey, ex) if ex > 0.0 else (ey, -ex)
        key = f"member:{member.mark}"
        ring = tuple(
            (start[0] + x * ex + (y - member.depth_in) * nx, start[1] + x * ey + (y - member.depth_in) * ny)
            for x, y in member.profile
        )
        yield Polygon(key, "board", ring)
        if length > 30.0:
            middle = ((start[0] + end[0]) / 2.0, (start[1] + end[1]) / 2.0)
            angle = math.degrees(math.atan2(ey, ex))
            yield Text(key, "note", middle, member.mark, "small", angle if ex > 0.0 else angle - 180.0, shift=1.0)
