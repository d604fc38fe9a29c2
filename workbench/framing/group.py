"""Wings whose roofs meet, framed together."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from fractions import Fraction
from functools import cached_property

from workbench.framing.space import Slope, slope_of
from workbench.job.lumber import ORDINARY_LUMBER, Lumber
from workbench.job.model import Wing
from workbench.roof.model import Plane, PlaneEdge
from workbench.roof.solved import BuiltWing, Eave, SolvedWing

SHEATHING_IN = 7.0 / 16.0
_THICKEST_IN = 3.0
SLEEPER_IN = 1.5
"""Thickness of a sleeper, a board of two inches nominal laid flat (common practice, no source)."""


def sheathing_thickness(category: str) -> float:
    """Thickness of a panel from its performance category, such as ``15/32`` or ``1 1/8``, inches; 7/16 if not clear."""
    try:
        value = float(sum(Fraction(part) for part in category.replace('"', "").split()))
    except (ValueError, ZeroDivisionError):
        return SHEATHING_IN
    return value if 0.0 < value <= _THICKEST_IN else SHEATHING_IN


@dataclass(frozen=True, eq=False)
class Group:
    """Wings that have edges with each other, or one that stands alone; all of them solved.

    Attributes:
        wings: The wings.
        sheathing_in: Thickness of the sheathing, inches: what a sleeper lies on.
        lumber: Lengths of boards that can be had and carried, for long runs.
    """

    wings: tuple[BuiltWing, ...]
    sheathing_in: float = SHEATHING_IN
    lumber: Lumber = ORDINARY_LUMBER

    @cached_property
    def planes(self) -> tuple[Plane, ...]:
        """All planes, in the order of the wings."""
        return tuple(plane for wing in self.wings for plane in wing.planes)

    @cached_property
    def by_id(self) -> dict[str, Plane]:
        """The planes by their ids."""
        return {plane.id: plane for plane in self.planes}

    @cached_property
    def slopes(self) -> dict[str, Slope]:
        """The planes as z = a·x + b·y + c, by their ids."""
        return {plane.id: slope_of(plane) for plane in self.planes}

    @cached_property
    def _built(self) -> dict[str, BuiltWing]:
        return {wing.effective.id: wing for wing in self.wings}

    @cached_property
    def _eaves(self) -> dict[tuple[str, str], Eave]:
        return {(wing.effective.id, eave.edge): eave for wing in self.wings for eave in self.solved(wing).eaves}

    def wing_of(self, plane_id: str) -> Wing:
        """The wing a plane belongs to, solved values put in."""
        return self._built[self.by_id[plane_id].wing].effective

    def wing_between(self, first: str, second: str) -> Wing:
        """The wing whose settings hold for a hip or valley between two planes: of two wings the later one."""
        order = [wing.effective.id for wing in self.wings]
        one, other = self.wing_of(first), self.wing_of(second)
        return one if order.index(one.id) >= order.index(other.id) else other

    def solved_of(self, plane: Plane) -> SolvedWing:
        """What was solved for the wing of a plane."""
        return self.solved(self._built[plane.wing])

    def eave(self, plane: Plane, edge: PlaneEdge | None = None) -> Eave:
        """The eave an edge of a plane lies on, or the one the plane rises from."""
        drawn = plane.drawn if edge is None or edge.drawn is None else edge.drawn
        return self._eaves[plane.wing, drawn]

    def shares(self, plane: Plane, edge: PlaneEdge) -> bool:
        """Whether the plane across an edge ends there too, and does not run on below it."""
        other = self.by_id.get(edge.neighbour or "")
        return other is not None and any(
            {e.start, e.end} == {edge.start, edge.end} and e.neighbour == plane.id for e in other.all_edges
        )

    def on_sleepers(self, plane_id: str) -> Slope:
        """The plane that what stands on sleepers ends on: sheathing and sleeper over the rafters of the roof below."""
        slope = self.slopes[plane_id]
        rise = (self.sheathing_in + SLEEPER_IN) * math.sqrt(1.0 + slope.a**2 + slope.b**2)
        return Slope(slope.a, slope.b, slope.c + rise)

    @staticmethod
    def solved(wing: BuiltWing) -> SolvedWing:
        """What was solved for a wing of the group."""
        if wing.solved is None:
            msg = "only solved wings are framed"
            raise ValueError(msg)
        return wing.solved


def groups_of(wings: Sequence[BuiltWing]) -> list[tuple[BuiltWing, ...]]:
    """The solved wings, those that meet together, in the order they come."""
    solved = [wing for wing in wings if wing.solved is not None and wing.planes]
    home = {plane.id: i for i, wing in enumerate(solved) for plane in wing.planes}
    leader = list(range(len(solved)))

    def find(i: int) -> int:
        while leader[i] != i:
            i = leader[i]
        return i

    for i, wing in enumerate(solved):
        for plane in wing.planes:
            for edge in plane.all_edges:
                other = home.get(edge.neighbour or "")
                if other is not None:
                    low, high = sorted((find(i), find(other)))
                    leader[high] = low
    groups: dict[int, list[BuiltWing]] = {}
    for i, wing in enumerate(solved):
        groups.setdefault(find(i), []).append(wing)
    return [tuple(group) for group in groups.values()]
