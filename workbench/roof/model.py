"""The roof as planes in space, whatever drew them.

Space axes: x right and y up in plan, z up; inches throughout. A plane's own axes: x along its level direction from its
left end as seen from outside below, y up the slope from its lowest point.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from functools import cached_property
from typing import Literal

EdgeKind = Literal["eave", "rake", "ridge", "hip", "valley", "wall", "pitch_break", "step"]
Point2 = tuple[float, float]
Point3 = tuple[float, float, float]


@dataclass(frozen=True, slots=True)
class PlaneEdge:
    """One side of a plane, from its corner i to corner i + 1.

    Attributes:
        kind: What the edge is; an edge between two planes stands on both with the same kind.
        start: Corner i in space.
        end: Corner i + 1 in space.
        neighbour: Id of the plane on the other side, or None at the outline. Where one roof runs on below another (an
            overframed wing, a dormer's overhang) only the plane that ends there has the edge.
        drawn: Id of the drawn outline edge it lies on, or None inside the roof.
        opening: Id of the skylight or chimney it runs along, else None.
    """

    kind: EdgeKind
    start: Point3
    end: Point3
    neighbour: str | None = None
    drawn: str | None = None
    opening: str | None = None

    @property
    def length_in(self) -> float:
        """True length in inches."""
        return math.dist(self.start, self.end)


@dataclass(frozen=True)
class Plane:
    """One sloped plane: the top edges of its rafters, which is the underside of its sheathing.

    Attributes:
        id: Stable id: ``wing/edge``, for a second slope ``wing/edge-upper``; further pieces with ``-2`` and so on.
        name: Where it is, in words, such as ``front main``.
        wing: Id of the wing it belongs to.
        drawn: Id of the drawn edge it rises from.
        tangent: rise / run.
        origin: Space point of the plane axes' origin.
        across: Unit plan vector of the plane's x axis.
        uphill: Unit plan vector that points up the slope.
        corners: The plane's corners in space, anticlockwise as seen from above.
        edges: One edge a corner; ``edges[i]`` runs from corner i to corner i + 1.
        openings: Holes in the plane (a dormer, a skylight), each a ring of corners in space, clockwise as seen from
            above, so that the plane lies to the left of every edge. A hole may touch the outer ring in a point.
        opening_edges: The edges of each hole, as ``edges`` are those of the outer ring.
        upper: Whether it is the second slope over its drawn edge, and begins at a pitch break and not at an eave.
        split: Id of the drawn line that made it out of a part of another plane, or None.
    """

    id: str
    name: str
    wing: str
    drawn: str
    tangent: float
    origin: Point3
    across: Point2
    uphill: Point2
    corners: tuple[Point3, ...]
    edges: tuple[PlaneEdge, ...]
    openings: tuple[tuple[Point3, ...], ...] = ()
    opening_edges: tuple[tuple[PlaneEdge, ...], ...] = ()
    upper: bool = False
    split: str | None = None

    @cached_property
    def _hash(self) -> int:
        return hash((self.tangent, self.corners))

    def __hash__(self) -> int:
        """Quick, and known once: caches look planes up many times."""
        return self._hash

    @property
    def whole(self) -> str:
        """Id of the whole plane, whatever piece of it this is."""
        if self.split is not None:
            return f"{self.wing}/{self.split}"
        return f"{self.wing}/{self.drawn}-upper" if self.upper else f"{self.wing}/{self.drawn}"

    @property
    def angle(self) -> float:
        """Slope angle, radians."""
        return math.atan(self.tangent)

    @property
    def in_12(self) -> float:
        """Rise in inches per 12 in of run."""
        return 12.0 * self.tangent

    @cached_property
    def stretch(self) -> float:
        """Length up the slope per inch of run: √(1 + m²)."""
        return math.hypot(1.0, self.tangent)

    def to_plane(self, point: Point2 | Point3) -> Point2:
        """Plane axes of the point of the plane that lies over (or at) this plan point, inches."""
        dx, dy = point[0] - self.origin[0], point[1] - self.origin[1]
        run = dx * self.uphill[0] + dy * self.uphill[1]
        return dx * self.across[0] + dy * self.across[1], run * self.stretch

    def to_space(self, point: Point2) -> Point3:
        """Space point of a point given in plane axes, inches."""
        run = point[1] / self.stretch
        return (
            self.origin[0] + point[0] * self.across[0] + run * self.uphill[0],
            self.origin[1] + point[0] * self.across[1] + run * self.uphill[1],
            self.origin[2] + run * self.tangent,
        )

    @cached_property
    def polygon(self) -> tuple[Point2, ...]:
        """The plane's outer ring in its own axes, inches, anticlockwise; the lowest point has y = 0."""
        return tuple(self.to_plane(corner) for corner in self.corners)

    @cached_property
    def opening_polygons(self) -> tuple[tuple[Point2, ...], ...]:
        """The holes in the plane's own axes, inches, clockwise."""
        return tuple(tuple(self.to_plane(corner) for corner in ring) for ring in self.openings)

    @cached_property
    def all_edges(self) -> tuple[PlaneEdge, ...]:
        """The edges of the outer ring and of all openings."""
        return self.edges + tuple(edge for ring in self.opening_edges for edge in ring)

    @cached_property
    def area_sqft(self) -> float:
        """True area, overhangs included and openings not, square feet."""
        return (_area(self.polygon) - sum(_area(ring) for ring in self.opening_polygons)) / 144.0

    @cached_property
    def plan_box(self) -> tuple[float, float, float, float]:
        """The level rectangle round it in plan, inches: left, lower, right and upper side."""
        xs, ys = [corner[0] for corner in self.corners], [corner[1] for corner in self.corners]
        return min(xs), min(ys), max(xs), max(ys)

    @cached_property
    def plane_length_in(self) -> float:
        """Greatest length up the slope, from the lowest to the highest point of the plane, inches."""
        return max(y for _, y in self.polygon) - min(y for _, y in self.polygon)

    @cached_property
    def width_in(self) -> float:
        """Greatest level width, inches."""
        return max(x for x, _ in self.polygon) - min(x for x, _ in self.polygon)


def _area(ring: tuple[Point2, ...]) -> float:
    twice = sum(a[0] * b[1] - b[0] * a[1] for a, b in zip(ring, ring[1:] + ring[:1], strict=True))
    return abs(twice) / 2.0


@dataclass(frozen=True)
class Roof:
    """All planes of a job."""

    planes: tuple[Plane, ...] = ()

    def plane(self, plane_id: str) -> Plane:
        """The plane of this id.

        Raises:
            KeyError: There is none.
        """
        for plane in self.planes:
            if plane.id == plane_id:
                return plane
        raise KeyError(plane_id)
