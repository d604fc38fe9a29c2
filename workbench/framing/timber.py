"""A timber of the skeleton: a ridge, hip, valley or other board that rafters are cut against. Inches."""

from __future__ import annotations

import math
from dataclasses import dataclass
from functools import cached_property
from typing import Literal

from workbench.framing.space import cross2, dot2, flat, minus2, unit2
from workbench.roof.model import Point2, Point3

SAME_IN = 1e-5
"""Plan points nearer than this are one."""

LINE_IN = 1e-6
"""Half the width that a theoretical line keeps, so that float noise does not swallow it."""


@dataclass(frozen=True, eq=False)
class Timber:
    """One ridge, hip, valley or common rafter that others are cut against.

    Attributes:
        kind: What it is; ``common`` for a rafter that stands at the upper end of a hip, ``header`` for the inside
            board of a dormer's upper header.
        a: Its low end (of a ridge one end), in space, on the line where the planes meet.
        b: Its high end.
        half: Half its thickness.
        left: Id of the plane to its left, looking from a to b.
        right: Id of the plane to its right.
        through: For a long valley, the point from which on it lies in one plane alone; else None.
        first: For a common at a hip's head, whether it stands against the ridge and the hip beside it; else it fits
            between the hips.
        hung_in: For a lower ridge that runs on under a higher one and hangs from it, how far its line lies below that
            one's, inches; else 0.
    """

    kind: Literal["ridge", "hip", "valley", "common", "header"]
    a: Point3
    b: Point3
    half: float
    left: str
    right: str
    through: Point3 | None = None
    first: bool = True
    hung_in: float = 0.0

    @cached_property
    def direction(self) -> Point2:
        """Unit plan vector from a to b."""
        return unit2(flat(self.a), flat(self.b))

    @cached_property
    def run(self) -> float:
        """Level length, inches."""
        return math.dist(flat(self.a), flat(self.b))

    @cached_property
    def tangent(self) -> float:
        """Slope, rise / run."""
        return (self.b[2] - self.a[2]) / self.run

    def place(self, point: Point2) -> Point2:
        """Stick axes (s, w) of a plan point."""
        away = minus2(point, flat(self.a))
        along = self.direction
        return dot2(away, along), cross2(along, away)

    def ends_at(self, point: Point2) -> bool:
        """Whether one of its ends lies at a plan point."""
        return min(math.dist(flat(self.a), point), math.dist(flat(self.b), point)) < SAME_IN

    def passes(self, point: Point2) -> bool:
        """Whether a plan point lies on its line between its ends."""
        s, w = self.place(point)
        return abs(w) < SAME_IN and SAME_IN < s < self.run - SAME_IN
