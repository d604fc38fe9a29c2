"""What goes into raising a roof over an outline, and what comes out."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from workbench.roof.model import Point3


@dataclass(frozen=True, slots=True)
class Break:
    """Where the plane over an edge changes its slope.

    Attributes:
        at_in: Height of the change, inches.
        cot: Run per rise from there on; 0 where it goes straight up as a wall.
    """

    at_in: float
    cot: float


@dataclass(frozen=True, slots=True)
class FrontEdge:
    """How the plane over one outline edge climbs.

    Attributes:
        cot: Run per rise, 12/7 for a slope of 7 in 12; 0 for an edge that never moves (rake, or wall: the roof ends
            there vertically).
        start_in: Height at which the plane starts, inches (z of the eave line); not used where ``cot`` is 0.
        breaks: Changes of slope further up, each above the one before; none where ``cot`` is 0.
    """

    cot: float
    start_in: float = 0.0
    breaks: tuple[Break, ...] = ()


@dataclass(frozen=True, slots=True)
class FaceSide:
    """One straight side of a face.

    A side inside the roof stands on both faces it parts, with the very same two points in opposite order.

    Attributes:
        start: Where it starts, in the face's own direction round.
        end: Where it ends; the next side starts at the same point.
        neighbour: Edge whose *roof* face has this side too, or None.
        outline: Outline edge it lies over: the face's own eave, or the rake, wall or raised eave over whose line the
            roof ends vertically; None in mid-roof.
        wall: Edge whose *wall* face has this side too, or None. With ``outline`` None it is a step in mid-roof: an
            added wall, a drawn one that goes on past its inside corner over lower roof, or an upright piece of a plane
            that changes its slope.
        face: Index in ``Raised.faces`` of the face on the other side; None on the outline itself.
    """

    start: Point3
    end: Point3
    neighbour: int | None
    outline: int | None
    wall: int | None
    face: int | None


@dataclass(frozen=True, slots=True)
class Face:
    """One flat face: a piece of roof, or a piece of vertical wall under it.

    Attributes:
        edge: The outline edge it rises from (the first, where several eaves in line bear one plane). An added wall
            has a number of its own from ``len(edges)`` on.
        edges: All outline edges it rises from, in order.
        kind: ``roof`` or ``wall``.
        added_wall: True for a step wall that no outline edge asked for.
        sides: Closed ring without repeated corners; anticlockwise from above for a roof, from outside for a wall. It
            starts with the first side on its own edge, or on its own foot where it begins at a change of slope.
        piece: How many changes of its edge's slope lie under it: 0 for the first slope and for what is drawn as a wall.
    """

    edge: int
    edges: tuple[int, ...]
    kind: Literal["roof", "wall"]
    added_wall: bool
    sides: tuple[FaceSide, ...]
    piece: int = 0

    @property
    def corners(self) -> tuple[Point3, ...]:
        """The corners in space, corner i being where side i starts."""
        return tuple(side.start for side in self.sides)

    @property
    def plan_area(self) -> float:
        """Area of the face as seen from straight above, square inches; 0 for a wall up to rounding."""
        ring = self.corners
        x0, y0, _ = ring[0]
        pairs = zip(ring, ring[1:] + ring[:1], strict=True)
        return sum((ax - x0) * (by - y0) - (bx - x0) * (ay - y0) for (ax, ay, _), (bx, by, _) in pairs) / 2.0


@dataclass(frozen=True, slots=True)
class Takeover:
    """A choice that geometry leaves open, and how it was made.

    Two edges in line with different slopes became neighbours in mid-roof; the shallower plane went on alone from a
    level pitch break. A wall counts as the steepest: a gable wall ends level there, and the plane hips over it.

    Attributes:
        kept: Edge of the shallower plane, which goes on.
        dropped: Edge of the steeper plane, or of the wall, that ends here; None for an added step wall.
        start: One end of the level break.
        end: The other end.
        wall: Whether a wall was dropped: a rake's, an added one, or the upright piece of a plane.
    """

    kept: int
    dropped: int | None
    start: Point3
    end: Point3
    wall: bool = False


@dataclass(frozen=True)
class Raised:
    """The roof over an outline.

    Corners lie on their faces' planes to rounding; where events fall together to within 1e-8 of the outline's extent
    they share one corner, which may be off by as much.

    Attributes:
        faces: Roof faces by edge, then wall faces by edge; one edge may have several.
        takeovers: Where edges in line with unequal slopes were settled by the shallower plane.
    """

    faces: tuple[Face, ...]
    takeovers: tuple[Takeover, ...]

    @property
    def roof_faces(self) -> tuple[Face, ...]:
        """The faces that are roof."""
        return tuple(face for face in self.faces if face.kind == "roof")
