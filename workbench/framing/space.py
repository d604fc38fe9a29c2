"""Lines, planes and saw settings in space. Inches, radians; plan axes x right and y up, z up.

Every angle of a roof follows from the planes z = a·x + b·y + c that its top edges lie in: where two of them meet is the
hip or valley, the angle between their normals the dihedral, and a cut is a plane whose normal, taken in the axes of
the board it goes through, gives the mitre and the bevel. Source of all of it: geometry.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from workbench.roof.model import Plane, Point2, Point3

_PARALLEL = 1e-12


def add2(a: Point2, b: Point2, share: float = 1.0) -> Point2:
    """The sum a + share · b, in plan."""
    return a[0] + share * b[0], a[1] + share * b[1]


def minus2(a: Point2, b: Point2) -> Point2:
    """The difference a − b, in plan."""
    return a[0] - b[0], a[1] - b[1]


def dot2(a: Point2, b: Point2) -> float:
    """Scalar product in plan."""
    return a[0] * b[0] + a[1] * b[1]


def cross2(a: Point2, b: Point2) -> float:
    """Upright part of the cross product: positive where b lies to the left of a."""
    return a[0] * b[1] - a[1] * b[0]


def left_of(direction: Point2) -> Point2:
    """The direction a quarter turn to the left."""
    return -direction[1], direction[0]


def back(direction: Point2) -> Point2:
    """The opposite direction."""
    return -direction[0], -direction[1]


def unit2(a: Point2, b: Point2) -> Point2:
    """Unit plan vector from a to b.

    Raises:
        ValueError: The points are one.
    """
    length = math.dist(a, b)
    if length == 0.0:
        msg = "two points that are one have no direction"
        raise ValueError(msg)
    return (b[0] - a[0]) / length, (b[1] - a[1]) / length


def flat(point: Point3) -> Point2:
    """The plan point under a point."""
    return point[0], point[1]


def dot(a: Point3, b: Point3) -> float:
    """Scalar product."""
    return a[0] * b[0] + a[1] * b[1] + a[2] * b[2]


def cross(a: Point3, b: Point3) -> Point3:
    """Cross product."""
    return a[1] * b[2] - a[2] * b[1], a[2] * b[0] - a[0] * b[2], a[0] * b[1] - a[1] * b[0]


def unit(a: Point3) -> Point3:
    """The vector at length 1.

    Raises:
        ValueError: It has no length.
    """
    length = math.sqrt(dot(a, a))
    if length == 0.0:
        msg = "a vector without length has no direction"
        raise ValueError(msg)
    return a[0] / length, a[1] / length, a[2] / length


def meet2(p: Point2, along: Point2, q: Point2, other: Point2) -> Point2 | None:
    """Where two plan lines cross, each given by a point and a direction; None where they are parallel."""
    turn = cross2(along, other)
    if abs(turn) <= _PARALLEL * math.hypot(*along) * math.hypot(*other):
        return None
    return add2(p, along, cross2(minus2(q, p), other) / turn)


@dataclass(frozen=True, slots=True)
class Slope:
    """A plane z = a·x + b·y + c.

    Attributes:
        a: Rise per inch of x.
        b: Rise per inch of y.
        c: Height over the origin, inches.
    """

    a: float
    b: float
    c: float

    def height(self, point: Point2 | Point3) -> float:
        """Height of the plane over a plan point, inches."""
        return self.a * point[0] + self.b * point[1] + self.c

    def climb(self, direction: Point2) -> float:
        """Rise per inch of run in a plan direction."""
        return self.a * direction[0] + self.b * direction[1]

    @property
    def normal(self) -> Point3:
        """Unit normal, upward."""
        return unit((-self.a, -self.b, 1.0))


def slope_of(plane: Plane) -> Slope:
    """The same plane as z = a·x + b·y + c."""
    a, b = plane.tangent * plane.uphill[0], plane.tangent * plane.uphill[1]
    return Slope(a, b, plane.origin[2] - a * plane.origin[0] - b * plane.origin[1])


def meeting_direction(first: Slope, second: Slope) -> tuple[Point2, float] | None:
    """Plan direction in which two planes meet, pointing uphill, and the slope of their line; None where parallel."""
    x, y, z = cross(first.normal, second.normal)
    run = math.hypot(x, y)
    if run <= _PARALLEL:
        return None
    sense = -1.0 if z < 0.0 else 1.0
    return (sense * x / run, sense * y / run), abs(z) / run


def dihedral(first: Slope, second: Slope) -> float:
    """Angle between two planes over or under the roof, π less the angle between their normals; radians."""
    one, other = first.normal, second.normal
    across = cross(one, other)
    return math.pi - math.atan2(math.sqrt(dot(across, across)), dot(one, other))


def plan_angle(direction: Point2, across: Point2) -> float:
    """Acute plan angle between two lines, radians: D where one is a hip or valley and the other an eave."""
    return math.atan2(abs(cross2(direction, across)), abs(dot2(direction, across)))


@dataclass(frozen=True, slots=True)
class BoardAxes:
    """Axes of an upright board that lies along a plan direction at a slope (rise / run).

    Attributes:
        direction: Unit plan vector, uphill.
        tangent: Slope of its edges.
    """

    direction: Point2
    tangent: float

    @property
    def along(self) -> Point3:
        """Unit vector along the edges, uphill."""
        stretch = math.hypot(1.0, self.tangent)
        return self.direction[0] / stretch, self.direction[1] / stretch, self.tangent / stretch

    @property
    def left(self) -> Point3:
        """Unit vector square to the faces, to the left as one looks up the slope."""
        return -self.direction[1], self.direction[0], 0.0

    @property
    def up(self) -> Point3:
        """Unit vector square to the edges, upward."""
        return cross(self.along, self.left)

    def saw(self, normal: Point3) -> tuple[float, float]:
        """Mitre and bevel of the cut that has this normal, radians.

        The mitre is the angle, on the board's face, between the cut and the square across; it is 0 for a square cut and
        the slope angle for a plumb one. The bevel is the tilt of the blade off square to the face, positive where the
        cut's uphill side turns to the left.
        """
        n = unit(normal)
        if dot(n, self.along) < 0.0:
            n = (-n[0], -n[1], -n[2])
        mitre = math.atan2(abs(dot(n, self.up)), abs(dot(n, self.along)))
        return mitre, math.asin(max(-1.0, min(1.0, dot(n, self.left))))
