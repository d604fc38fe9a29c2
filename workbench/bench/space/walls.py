"""What stands under the roof: the walls as plain faces up to their plates and gables, and the grid on the ground.

Inches. The ground is z = 0. A wall goes up to the plate at an eave, and up to the roof at a rake or against a higher
wall; where it stands over another wing it begins at that wing's roof, and inside another building there is none.
A wing on posts has posts at its corners and beams under its plates.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray
from shapely.geometry import LineString, MultiLineString, Point, Polygon
from shapely.geometry.base import BaseGeometry
from shapely.ops import unary_union

from workbench.bench.space.steps import mid_roof_walls
from workbench.framing.space import Slope, slope_of
from workbench.plan import Plan
from workbench.roof.model import Plane, Point2, Point3
from workbench.roof.solved import SolvedWing

Floats = NDArray[np.float64]

_SHORT_IN = 0.5
_POST_IN = 5.5  # posts and beams are shown so thick; what they have to be is for the engineer
_BEAM_IN = 9.25
_TOUCH_IN = 0.01
_STANDS_IN = 0.25
_UNDER_IN = 2.0  # a gable stays that much under the rafters' top edges, so that its line is not in the roof


@dataclass(frozen=True)
class Wall:
    """One upright piece of wall.

    Attributes:
        wing: Wing id.
        edge: Index of the outline's edge it stands on.
        foot: Its lower ends, from left to right as seen from outside.
        top: Points of its upper edge, the same way.
    """

    wing: str
    edge: int
    foot: tuple[Point3, Point3]
    top: tuple[Point3, ...]

    @property
    def ring(self) -> list[Point2]:
        """Outline in its own axes: distance from its left end, height."""
        (x, y, _), _ = self.foot
        points = [*self.foot, *reversed(self.top)]
        return [(math.hypot(px - x, py - y), pz) for px, py, pz in points]

    def to_space(self, points: Floats) -> Floats:
        """Space points of points in its own axes, (..., 2) to (..., 3)."""
        start, end = np.array(self.foot[0][:2]), np.array(self.foot[1][:2])
        along = (end - start) / np.linalg.norm(end - start)
        return np.concatenate([start + points[..., :1] * along, points[..., 1:]], axis=-1)


@dataclass(frozen=True)
class Neighbour:
    """Another building a wing's walls may stand in or over: its outline and roof planes."""

    outline: tuple[Point2, ...]
    planes: tuple[Plane, ...]


@dataclass(frozen=True)
class WingWalls:
    """All that one wing's walls follow from; equal ones have equal walls.

    Attributes:
        wing: The wing as solved.
        ids: Ids of its outline's edges.
        planes: Its roof planes.
        others: The buildings that its own may overlap.
        open: Whether it stands on posts and beams, with no walls between them.
    """

    wing: SolvedWing
    ids: tuple[str, ...]
    planes: tuple[Plane, ...]
    others: tuple[Neighbour, ...]
    open: bool = False

    def walls(self) -> list[Wall]:
        """The walls, in the order of the outline."""
        outline = Polygon(self.wing.outline) if len(self.wing.outline) > 2 else Polygon()
        if not outline.is_valid or outline.is_empty:
            return []
        walls = _Walls(self)
        return [*(walls.open_pieces() if self.open else walls.pieces()), *walls.mid_roof(self.planes)]


def walls_of(plan: Plan) -> Iterator[WingWalls]:
    """What the walls of each wing follow from."""
    planes: dict[str, list[Plane]] = {}
    for plane in plan.roof.planes:
        planes.setdefault(plane.wing, []).append(plane)
    drawn = {wing.id: wing for wing in plan.job.wings}
    wings = [wing for wing in plan.wings if len(wing.outline) > 2 and wing.wing in drawn]
    if not wings:
        return
    low = np.array([np.min(wing.outline, axis=0) for wing in wings])
    high = np.array([np.max(wing.outline, axis=0) for wing in wings])
    for number, wing in enumerate(wings):
        beside = (low <= high[number]).all(axis=1) & (high >= low[number]).all(axis=1)
        others = [wings[k] for k in np.flatnonzero(beside) if k != number]
        yield WingWalls(
            wing,
            tuple(edge.id for edge in drawn[wing.wing].edges),
            tuple(planes.get(wing.wing, ())),
            tuple(Neighbour(other.outline, tuple(planes.get(other.wing, ()))) for other in others),
            drawn[wing.wing].stands_on == "posts",
        )


class _Walls:
    """The walls of one wing."""

    def __init__(self, given: WingWalls) -> None:
        self.wing, self.ids = given.wing, given.ids
        self.own = [(slope_of(plane), Polygon([c[:2] for c in plane.corners])) for plane in given.planes]
        self.plates = {eave.edge: eave.plate_in for eave in given.wing.eaves}
        shapes = [(Polygon(other.outline), [slope_of(plane) for plane in other.planes]) for other in given.others]
        self.others = [(shape.buffer(-_SHORT_IN), slopes) for shape, slopes in shapes if shape.is_valid]

    def pieces(self) -> Iterator[Wall]:
        ring = self.wing.outline
        inside = unary_union([shape for shape, _ in self.others])
        for index, start in enumerate(ring):
            line = LineString([start, ring[(index + 1) % len(ring)]])
            if line.length < _SHORT_IN:
                continue
            for part in _parts(line.difference(inside), line):
                yield from self._wall(index, part, (0.0, 0.0))
            for shape, slopes in self.others:
                for part in _parts(line.intersection(shape), line) if slopes else ():
                    yield from self._wall(index, part, (_under(slopes, part[0]), _under(slopes, part[1])))

    def open_pieces(self) -> Iterator[Wall]:
        """A beam under each plate, and the two outer faces of a post at each of its ends that no other building has."""
        ring, count = self.wing.outline, len(self.wing.outline)
        inside = unary_union([shape for shape, _ in self.others]).buffer(2.0 * _SHORT_IN)
        for index, start in enumerate(ring):
            end = ring[(index + 1) % count]
            length = math.dist(start, end)
            plate = self.plates.get(self.ids[index])
            if length < 2.0 * _POST_IN:
                continue
            if plate is not None:
                yield self._upright(index, start, end, plate - _BEAM_IN, plate)
            for corner, towards, beside in ((start, end, index - 1), (end, start, (index + 1) % count)):
                top = plate if plate is not None else self.plates.get(self.ids[beside])
                if top is None or inside.contains(Point(corner)):
                    continue
                share = _POST_IN / length
                other = (corner[0] + share * (towards[0] - corner[0]), corner[1] + share * (towards[1] - corner[1]))
                a, b = (corner, other) if corner == start else (other, corner)
                yield self._upright(index, a, b, 0.0, top - _BEAM_IN)

    def mid_roof(self, planes: Sequence[Plane]) -> Iterator[Wall]:
        """The walls that stand on the wing's own roof."""
        for drawn, (foot, top) in mid_roof_walls(planes):
            yield Wall(self.wing.wing, self.ids.index(drawn), foot, top)

    def _upright(self, index: int, start: Point2, end: Point2, low: float, high: float) -> Wall:
        return Wall(self.wing.wing, index, ((*start, low), (*end, low)), ((*start, high), (*end, high)))

    def _wall(self, index: int, part: tuple[Point2, Point2], low: tuple[float, float]) -> Iterator[Wall]:
        """What of a part of an outline edge rises over the roof it stands on, as a dormer's cheek does in part."""
        top = self._top(index, *part)
        start, length = part[0], math.dist(*part)

        def foot(along: float) -> float:
            return low[0] + (low[1] - low[0]) * along / length

        spots = [(math.dist(start, point[:2]), point[2]) for point in top]
        for run in _over(spots, foot):
            points = [(*self._at(part, along), z) for along, z in run]
            ends = ((*points[0][:2], foot(run[0][0])), (*points[-1][:2], foot(run[-1][0])))
            yield Wall(self.wing.wing, index, ends, tuple(points))

    @staticmethod
    def _at(part: tuple[Point2, Point2], along: float) -> Point2:
        (ax, ay), (bx, by) = part
        share = along / math.dist(*part)
        return ax + share * (bx - ax), ay + share * (by - ay)

    def _top(self, index: int, start: Point2, end: Point2) -> list[Point3]:
        """Upper edge over a part of an outline edge."""
        plate = self.plates.get(self.ids[index]) if index < len(self.ids) else None
        if plate is not None:
            return [(*start, plate), (*end, plate)]
        ends = self._ends(index, start, end)
        line = LineString([start, end])
        points = {0.0: ends[0], line.length: ends[1]}
        for slope, shape in self.own:
            for part in _parts(line.intersection(shape.buffer(_TOUCH_IN)), line):
                for point in part:
                    # Where two planes meet on the line both name the place, a hair apart.
                    at = round(math.dist(start, point) / (4.0 * _TOUCH_IN)) * 4.0 * _TOUCH_IN
                    points[line.length if at > line.length - _SHORT_IN else at] = slope.height(point)
        along = (np.subtract(end, start) / line.length).tolist()
        return [(start[0] + at * along[0], start[1] + at * along[1], points[at] - _UNDER_IN) for at in sorted(points)]

    def _ends(self, index: int, start: Point2, end: Point2) -> tuple[float, float]:
        """Heights where no plane of the wing stands over the line: those of the plates beside it."""
        ring, known = self.wing.outline, sorted(self.plates.values())
        before = self.plates.get(self.ids[index - 1], known[0] if known else 0.0)
        after = self.plates.get(self.ids[(index + 1) % len(self.ids)], before)
        a, b = ring[index], ring[(index + 1) % len(ring)]
        length = math.dist(a, b)
        shares = (math.dist(a, start) / length, math.dist(a, end) / length)
        return before + (after - before) * shares[0], before + (after - before) * shares[1]


def ground_lines(points: Floats, step: float) -> tuple[Floats, Floats]:
    """The grid on the ground round some plan points: segments (n, 2, 3), and the strength of each of their ends (n, 2).

    It fades outwards, so that it has no edge.
    """
    if not len(points):
        return np.empty((0, 2, 3)), np.empty((0, 2))
    low, high = points.min(axis=0), points.max(axis=0)
    middle, reach = (low + high) / 2.0, 0.5 * float(np.hypot(*(high - low))) * 1.7 + 2.0 * step
    while reach / step > 60.0:
        step *= 2.0
    first, count = np.floor((middle - reach) / step), 2 * math.ceil(reach / step) + 1
    along = [(first[axis] + np.arange(count + 1)) * step for axis in (0, 1)]
    segments: list[Floats] = []
    for axis in (0, 1):
        lines, cells = along[axis], along[1 - axis]
        ends = np.zeros((len(lines), len(cells) - 1, 2, 3))
        ends[..., axis] = lines[:, None, None]
        ends[..., 0, 1 - axis], ends[..., 1, 1 - axis] = cells[:-1], cells[1:]
        segments.append(ends.reshape(-1, 2, 3))
    found = np.concatenate(segments)
    away = np.linalg.norm(found[..., :2] - middle, axis=2) / reach
    strength = np.clip((1.0 - away) / 0.55, 0.0, 1.0)
    seen = strength.max(axis=1) > 0.0
    return found[seen], strength[seen]


def _over(spots: Sequence[tuple[float, float]], foot: Callable[[float], float]) -> Iterator[list[tuple[float, float]]]:
    """The runs of an upper edge, points (along, height), that lie over a foot; both are straight between the points."""
    run: list[tuple[float, float]] = []
    for k, (along, z) in enumerate(spots):
        rise = z - foot(along)
        if k:
            before, height = spots[k - 1]
            was = height - foot(before)
            if was * rise < 0.0:
                at = before + (along - before) * was / (was - rise)
                run.append((at, foot(at)))
                if rise < 0.0:
                    yield from _tall(run, foot)
                    run = []
        if rise >= 0.0:
            run.append((along, z))
    yield from _tall(run, foot)


def _tall(run: list[tuple[float, float]], foot: Callable[[float], float]) -> Iterator[list[tuple[float, float]]]:
    if len(run) > 1 and max(z - foot(along) for along, z in run) > _STANDS_IN and run[-1][0] - run[0][0] > _SHORT_IN:
        yield run


def _under(slopes: Sequence[Slope], point: Point2) -> float:
    """Height of a roof over a point inside its building: the lowest of its planes."""
    return min((slope.height(point) for slope in slopes), default=0.0)


def _parts(shape: BaseGeometry, line: LineString) -> Iterator[tuple[Point2, Point2]]:
    """The straight parts of what is left of a line, each in the line's own direction."""
    parts = list(shape.geoms) if isinstance(shape, MultiLineString) else [shape]
    for part in parts:
        if isinstance(part, LineString) and part.length >= _SHORT_IN:
            (ax, ay), (bx, by) = part.coords[0], part.coords[-1]
            a, b = (float(ax), float(ay)), (float(bx), float(by))
            start = line.coords[0]
            yield (a, b) if math.dist(start, a) <= math.dist(start, b) else (b, a)
