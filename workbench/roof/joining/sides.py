"""The sides of what is left of each plane, and what kind of edge each is."""

from __future__ import annotations

import math
from dataclasses import dataclass

from workbench.roof.assemble import inner_kind
from workbench.roof.joining.cells import Side, is_narrow
from workbench.roof.joining.scene import EQUAL_IN, SAME_SLOPE, Layer
from workbench.roof.joining.standing import Gone, Standing
from workbench.roof.model import EdgeKind, PlaneEdge, Point2

_ON_EDGE_IN = 1e-3

Piece = tuple[int, int]
"""A layer and the number of one of its pieces."""


@dataclass(frozen=True, slots=True)
class Look:
    """What a side is to the piece on its left.

    Attributes:
        piece: The piece.
        kind: Kind of edge.
        beyond: The piece it meets there, or None.
        drawn: Drawn edge it lies on, or None.
        opening: Opening it bounds, or None.
        torn: Whether the roof ends here, over a building, in mid-air.
    """

    piece: Piece
    kind: EdgeKind
    beyond: Piece | None = None
    drawn: str | None = None
    opening: str | None = None
    torn: bool = False


class Pieces:
    """The pieces every plane comes out in, and their sides.

    Attributes:
        cells_of: Cells of each piece.
        sides_of: Directed sides round each piece, holes included.
    """

    def __init__(self, standing: Standing) -> None:
        self.standing = standing
        self.cells_of: dict[Piece, list[int]] = {}
        self.sides_of: dict[Piece, list[Side]] = {}
        self._piece_at: dict[tuple[int, int], Piece] = {}
        over: dict[int, list[int]] = {}
        for cell in standing.present:
            for layer in standing.standing(cell):
                over.setdefault(layer, []).append(cell)
        for layer in standing.scene.layers:
            for number, part in enumerate(standing.cells.parts(over.get(layer.number, []))):
                self._take(layer.number, number, part)

    def _take(self, layer: int, number: int, part: list[int]) -> None:
        standing, cells = self.standing, self.standing.cells
        sides = [side for cell in part for side in cells.sides[cell] if not standing.stands(cells.right(side), layer)]
        if is_narrow(cells, part, sides):
            for cell in part:
                standing.drop(cell, layer, Gone("thin"))
            return
        self.cells_of[layer, number] = part
        self.sides_of[layer, number] = sides
        for cell in part:
            self._piece_at[cell, layer] = (layer, number)

    def area(self, piece: Piece) -> float:
        """Plan area of a piece, square inches."""
        return sum(self.standing.cells.areas[cell] for cell in self.cells_of[piece])

    def look(self, piece: Piece, side: Side) -> Look:
        """What a side of a piece is."""
        standing, layer = self.standing, self.standing.scene.layers[piece[0]]
        cell, beyond = standing.cells.left[side], standing.cells.right(side)
        mine = None if beyond is None else standing.present[beyond].get(layer.wing)
        drawn = own_edge(layer, standing.cells.middle(side)) if mine is None else None
        met = self._met(layer, side, cell, beyond)
        if met is not None and beyond is not None:
            kind = self._inner_kind(layer, standing.scene.layers[met], side)
            return Look(piece, kind, self._piece_at[beyond, met], drawn and drawn.drawn)
        if mine is None:
            kind = "step" if drawn is None else drawn.kind
            if kind == "rake" and self._against_wall(layer, side, cell, beyond):
                kind = "wall"
            return Look(piece, kind, None, drawn and drawn.drawn)
        if beyond is None or standing.stands(beyond, mine):
            own = own_edge(layer, standing.cells.middle(side))  # the wing's planes have two heights here
            return Look(piece, "step") if own is None else Look(piece, own.kind, None, own.drawn)
        return self._cut(piece, side, cell, beyond, mine)

    def _met(self, layer: Layer, side: Side, cell: int, beyond: int | None) -> int | None:
        """The plane that goes on from this side at the same height; one that ends here too before one that runs on."""
        standing, layers = self.standing, self.standing.scene.layers
        level = [
            other
            for other in standing.standing(beyond)
            if other != layer.number and standing.level_along(side, layer.number, other)
        ]
        if not level:
            return None
        return min(level, key=lambda k: (layers[k].wing != layer.wing, standing.stands(cell, k), k))

    def _inner_kind(self, layer: Layer, other: Layer, side: Side) -> EdgeKind:
        """From the line the two planes share, which the side follows only as near as the lattice lets it."""
        gx, gy = layer.slope_x - other.slope_x, layer.slope_y - other.slope_y
        apart = math.hypot(gx, gy)
        if apart < SAME_SLOPE:
            return "pitch_break"  # one plane in two wings
        (ax, ay), (bx, by) = (self.standing.cells.nodes[node] for node in side)
        ux, uy = -gy / apart, gx / apart
        if (bx - ax) * ux + (by - ay) * uy < 0.0:
            ux, uy = -ux, -uy
        end = (ux, uy, layer.slope_x * ux + layer.slope_y * uy)
        return inner_kind(((0.0, 0.0, 0.0), end), layer.plane.uphill, other.plane.uphill)

    def _against_wall(self, layer: Layer, side: Side, cell: int, beyond: int | None) -> bool:
        """Whether a higher wing's wall stands on this side."""
        if beyond is None:
            return False
        standing = self.standing
        for wing in standing.inside[beyond] - standing.inside[cell]:
            upper = standing.present[beyond].get(wing)
            if upper is not None and min(standing.gaps_along(side, upper, layer.number)) > -EQUAL_IN:
                return True
        return False

    def _cut(self, piece: Piece, side: Side, cell: int, beyond: int, mine: int) -> Look:
        standing = self.standing
        reasons = standing.gone[beyond, mine]
        for reason in reasons:
            if reason.why == "opening":
                return Look(piece, "wall", opening=reason.opening)
        if any(reason.why == "walls" and self._is_wall_of(reason.wing, side, cell, beyond) for reason in reasons):
            return Look(piece, "wall")
        over_rooms = bool(standing.inside[cell]) and bool(standing.inside[beyond])
        torn = over_rooms and not self._own_step(piece[0], side) and self._is_torn(piece[0], side, cell, beyond)
        return Look(piece, "step", torn=torn)

    def _is_wall_of(self, wing: int | None, side: Side, cell: int, beyond: int) -> bool:
        """Whether a wing that stands beyond a side has a wall there: its building line, or a step in its own roof."""
        if wing is None:
            return False
        return wing not in self.standing.inside[cell] or self._own_step(self.standing.present[beyond][wing], side)

    def _own_step(self, layer: int, side: Side) -> bool:
        """Whether a plane ends along a side in a step of its own wing (or a gablet), where there is a wall."""
        edge = own_edge(self.standing.scene.layers[layer], self.standing.cells.middle(side))
        return edge is not None and edge.neighbour is None and edge.kind != "eave"

    def _is_torn(self, layer: int, side: Side, cell: int, beyond: int) -> bool:
        """Whether the weather gets in: no roof goes on above or below, none beyond comes near, and it is no sliver."""
        standing = self.standing
        here, there = standing.standing(cell), standing.standing(beyond)
        if any(max(standing.gaps_along(side, k, layer)) > EQUAL_IN or k in there for k in here if k != layer):
            return False
        if any(r.why == "thin" for k in standing.present[beyond].values() for r in standing.gone.get((beyond, k), ())):
            return False
        return all(max(map(abs, standing.gaps_along(side, layer, k))) > 1.0 for k in there)


def own_edge(layer: Layer, point: Point2) -> PlaneEdge | None:
    """The edge of a plane, as its wing has it alone, on which a plan point lies."""
    best: tuple[float, PlaneEdge] | None = None
    for (ax, ay, bx, by), edge in zip(layer.sides, layer.plane.edges, strict=True):
        dx, dy = bx - ax, by - ay
        length2 = dx * dx + dy * dy
        along = 0.0 if length2 == 0.0 else ((point[0] - ax) * dx + (point[1] - ay) * dy) / length2
        share = min(1.0, max(0.0, along))
        off = abs(point[0] - ax - share * dx) + abs(point[1] - ay - share * dy)
        if off < _ON_EDGE_IN and (best is None or off < best[0]):
            best = (off, edge)
    return None if best is None else best[1]
