"""What stands over each cell: one plane a wing, whose building it is in, which is higher, and what goes."""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import Literal

from workbench.roof.joining.cells import Cells, Side
from workbench.roof.joining.geometry import Shapes, distance_to_ring
from workbench.roof.joining.scene import EQUAL_IN, Scene


@dataclass(frozen=True, slots=True)
class Gone:
    """Why a plane does not stand over a cell.

    Attributes:
        why: ``walls``: inside the building of a higher wing; ``meet``: beyond a line where it meets a higher wing;
            ``same``: another wing has the same plane there; ``trimmed``: the end of a wing that would come out of the
            far side of another; ``opening``; ``thin``: too narrow a piece to be made.
        wing: The wing it gives way to.
        opening: The opening's id.
    """

    why: Literal["walls", "meet", "same", "trimmed", "opening", "thin"]
    wing: int | None = None
    opening: str | None = None


@dataclass(frozen=True)
class Standing:
    """The state of all cells.

    Attributes:
        scene: What is joined.
        cells: The cells.
        present: For each cell the layer of each wing that reaches over it, by wing.
        inside: For each cell the wings in whose building line it lies.
        gone: Why layers do not stand, by cell and layer.
    """

    scene: Scene
    cells: Cells
    present: dict[int, dict[int, int]]
    inside: dict[int, frozenset[int]]
    gone: dict[tuple[int, int], list[Gone]] = field(default_factory=dict[tuple[int, int], list[Gone]])

    def drop(self, cell: int, layer: int, reason: Gone) -> None:
        """Take a layer away over a cell."""
        self.gone.setdefault((cell, layer), []).append(reason)

    def reaches(self, cell: int, wing: int) -> bool:
        """Whether a wing reaches over a cell with more than a trimmed end."""
        layer = self.present[cell].get(wing)
        return layer is not None and all(reason.why != "trimmed" for reason in self.gone.get((cell, layer), ()))

    def stands(self, cell: int | None, layer: int) -> bool:
        """Whether a layer is there over a cell and stays."""
        if cell is None or (cell, layer) in self.gone:
            return False
        return self.present[cell].get(self.scene.layers[layer].wing) == layer

    def standing(self, cell: int | None) -> list[int]:
        """The layers that stay over a cell."""
        if cell is None:
            return []
        return [layer for layer in self.present[cell].values() if (cell, layer) not in self.gone]

    def off(self, cell: int, wing: int) -> float:
        """How far a cell lies outside a wing's building line, inches, to a thousandth."""
        if wing in self.inside[cell]:
            return 0.0
        return round(distance_to_ring(self.cells.insides[cell], self.scene.outlines[wing]), 3)

    def gap(self, cell: int, first: int, second: int) -> float:
        """How far the first layer lies above the second where they are furthest apart over a cell, inches."""
        a, b = self.scene.layers[first], self.scene.layers[second]
        nodes = self.cells.nodes
        gaps = [a.height(nodes[node]) - b.height(nodes[node]) for node in self.cells.corners[cell]]
        return max(gaps, key=abs)

    def gaps_along(self, side: Side, first: int, second: int) -> tuple[float, float]:
        """How far the first layer lies above the second at both ends of a side, inches."""
        a, b = self.scene.layers[first], self.scene.layers[second]
        start, end = self.cells.nodes[side[0]], self.cells.nodes[side[1]]
        return a.height(start) - b.height(start), a.height(end) - b.height(end)

    def level_along(self, side: Side, first: int, second: int) -> bool:
        """Whether two layers have one height all along a side."""
        return all(abs(gap) < EQUAL_IN for gap in self.gaps_along(side, first, second))


def make_standing(scene: Scene, cells: Cells) -> Standing:
    """Which planes lie over which cells, all of them staying so far."""
    order = list(cells.areas)
    present: dict[int, dict[int, int]] = {cell: {} for cell in order}
    inside: dict[int, set[int]] = {cell: set() for cell in order}
    points = [cells.insides[cell] for cell in order]
    for k, number in Shapes([layer.ring for layer in scene.layers]).holding(points):
        layer = scene.layers[number]
        present[order[k]].setdefault(layer.wing, layer.number)
    for k, number in Shapes(scene.outlines).holding(points):
        inside[order[k]].add(number)
    return Standing(scene, cells, present, {cell: frozenset(wings) for cell, wings in inside.items()})
