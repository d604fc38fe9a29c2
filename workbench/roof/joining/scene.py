"""What is joined, as seen from above: the planes of several wings as layers, with building lines and openings."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from functools import cached_property

from workbench.job.model import Opening
from workbench.roof.joining.footprints import footprint
from workbench.roof.joining.geometry import Segment
from workbench.roof.model import Plane, Point2
from workbench.roof.solved import BuiltWing

EQUAL_IN = 1e-3
"""Heights that differ by less are one height."""

SAME_SLOPE = 1e-9
"""Two planes whose slopes differ by less never meet in a line."""


@dataclass(frozen=True)
class Layer:
    """One plane: z = slope_x·x + slope_y·y + at_zero over its shape in plan. Inches.

    Attributes:
        number: Its place among the layers.
        wing: Number of its wing.
        plane: The plane as its wing has it alone.
    """

    number: int
    wing: int
    plane: Plane
    slope_x: float
    slope_y: float
    at_zero: float

    def height(self, point: Point2) -> float:
        """Height of the plane over a plan point."""
        return self.slope_x * point[0] + self.slope_y * point[1] + self.at_zero

    def is_one_plane_with(self, other: Layer) -> bool:
        """Whether the other is the same plane in space."""
        apart = math.hypot(self.slope_x - other.slope_x, self.slope_y - other.slope_y)
        places = (self.ring[0], other.ring[0])
        return apart < SAME_SLOPE and all(abs(self.height(p) - other.height(p)) < EQUAL_IN for p in places)

    @cached_property
    def ring(self) -> tuple[Point2, ...]:
        """Its outline in plan."""
        return tuple((corner[0], corner[1]) for corner in self.plane.corners)

    @cached_property
    def sides(self) -> tuple[Segment, ...]:
        """Its edges in plan, in the plane's order."""
        return tuple((*edge.start[:2], *edge.end[:2]) for edge in self.plane.edges)


@dataclass(frozen=True)
class Scene:
    """Wings to be joined, all of which have planes.

    Attributes:
        wings: The wings as built alone.
        openings: Skylights and chimneys in their planes.
        layers: All planes, wing by wing.
        outlines: Building line of each wing.
        footprints: Plan rectangle of each opening, None where its plane is not there.
    """

    wings: tuple[BuiltWing, ...]
    openings: tuple[Opening, ...]
    layers: tuple[Layer, ...]
    outlines: tuple[tuple[Point2, ...], ...]
    footprints: tuple[tuple[Point2, ...] | None, ...]

    def overframed(self, wing: int) -> bool:
        """Whether a wing leaves the roofs below it whole."""
        return self.wings[wing].effective.joins == "overframed"

    def tail_in(self, layer: Layer) -> float:
        """Plumb depth of the rafters under a plane: the room its tails need, inches."""
        return self.wings[layer.wing].effective.rafter.depth_in * layer.plane.stretch


def make_scene(wings: Sequence[BuiltWing], openings: Sequence[Opening]) -> Scene:
    """The scene of some wings and openings."""
    layers: list[Layer] = []
    outlines: list[tuple[Point2, ...]] = []
    for number, wing in enumerate(wings):
        outlines.append(wing.effective.outline if wing.solved is None else wing.solved.outline)
        layers += [_layer(k, number, plane) for k, plane in enumerate(wing.planes, start=len(layers))]
    planes = {plane.id: plane for wing in wings for plane in wing.measured}
    footprints = tuple(
        None if opening.plane not in planes else footprint(planes[opening.plane], opening) for opening in openings
    )
    return Scene(tuple(wings), tuple(openings), tuple(layers), tuple(outlines), footprints)


def _layer(number: int, wing: int, plane: Plane) -> Layer:
    slope_x, slope_y = plane.tangent * plane.uphill[0], plane.tangent * plane.uphill[1]
    x, y, z = plane.origin
    return Layer(number, wing, plane, slope_x, slope_y, z - slope_x * x - slope_y * y)
