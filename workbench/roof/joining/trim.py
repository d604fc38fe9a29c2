"""A plane drawn by hand against the roof it crosses: which of the two stays on which side of their line.

Where two planes cross, each keeps the side it comes from: planes that rise to their line end on it as at a ridge or
hip, where the lower one stays on either side; planes that fall to it end on it as in a valley, where the higher one
stays. A plane that lies wholly over another roof comes from its low edge.
"""

from __future__ import annotations

import math
from collections.abc import Iterator

from workbench.roof.joining.geometry import Shapes
from workbench.roof.joining.scene import EQUAL_IN, Layer
from workbench.roof.joining.standing import Gone, Standing
from workbench.roof.model import Point2

_OWN_SHARE = 0.1  # a plane of which less than this stands free comes from its low edge
_INWARD_IN = 0.05
_SHARES = (0.1, 0.3, 0.5, 0.7, 0.9)


def lower_stays(standing: Standing, wings: tuple[int, int], both: list[int]) -> bool:
    """Whether of two wings the lower one stays where they cross.

    Args:
        standing: The state of all cells.
        wings: The wings.
        both: The cells over which both reach.
    """
    single = [(wing, its) for wing in wings if (its := standing.scene.wings[wing].effective.single) is not None]
    said = [its.meets for _, its in single if its.meets != "auto"]
    if said:
        return said[-1] == "under"
    if not single or not _crosses(standing, wings, both):
        return False
    votes = 0.0
    for wing, _ in single:
        other = wings[1] if wing == wings[0] else wings[0]
        votes += _from_free_part(standing, wing, other, both) or _from_low_edge(standing, wing, other)
    return votes < 0.0


def drop_loose_overhangs(standing: Standing, wings: tuple[int, int]) -> None:
    """Take away what is left of a wing's overhang, away from its building, where another plane has cut between."""
    for wing in wings:
        mine = {cell: layers[wing] for cell, layers in standing.present.items() if wing in layers}
        free = {cell for cell, layer in mine.items() if (cell, layer) not in standing.gone}
        for part in standing.cells.parts(free):
            if not any(wing in standing.inside[cell] for cell in part) and _beside_cut(standing, part, mine):
                for cell in part:
                    standing.drop(cell, mine[cell], Gone("meet", wings[1] if wing == wings[0] else wings[0]))


def _beside_cut(standing: Standing, part: list[int], mine: dict[int, int]) -> bool:
    beyond = {standing.cells.right(side) for side in standing.cells.outer_sides(part)}
    return any(
        reason.why == "meet" for cell in beyond if cell in mine for reason in standing.gone.get((cell, mine[cell]), ())
    )


def _crosses(standing: Standing, wings: tuple[int, int], both: list[int]) -> bool:
    gaps = [standing.gap(c, standing.present[c][wings[0]], standing.present[c][wings[1]]) for c in both]
    return any(gap > EQUAL_IN for gap in gaps) and any(gap < -EQUAL_IN for gap in gaps)


def _from_free_part(standing: Standing, wing: int, other: int, both: list[int]) -> float:
    """Over 0 where a wing's free part lies above the planes it crosses, run on; 0 where hardly any stands free."""
    cells, layers = standing.cells, standing.scene.layers
    mine = {cell: layers[its[wing]] for cell, its in standing.present.items() if wing in its}
    free = [cell for cell in mine if other not in standing.present[cell]]
    whole = sum(cells.areas[cell] for cell in mine)
    if sum(cells.areas[cell] for cell in free) < _OWN_SHARE * whole:
        return 0.0
    met: dict[int, float] = {}
    for cell in both:
        met[standing.present[cell][other]] = met.get(standing.present[cell][other], 0.0) + cells.areas[cell]
    votes = 0.0
    for cell in free:
        at = cells.insides[cell]
        for number, weight in met.items():
            votes += cells.areas[cell] * weight * math.copysign(1.0, mine[cell].height(at) - layers[number].height(at))
    return math.copysign(1.0, votes)


def _from_low_edge(standing: Standing, wing: int, other: int) -> float:
    """Over 0 where a wing's plane begins above the other roof along its low edges, under 0 where it begins below."""
    mine = next(layer for layer in standing.scene.layers if layer.wing == wing)
    theirs = [layer for layer in standing.scene.layers if layer.wing == other]
    points = list(_low_points(standing, wing, mine))
    votes = sum(
        math.copysign(1.0, mine.height(points[k]) - theirs[number].height(points[k]))
        for k, number in Shapes([layer.ring for layer in theirs]).holding(points)
    )
    return math.copysign(1.0, votes) if votes else 0.0


def _low_points(standing: Standing, wing: int, layer: Layer) -> Iterator[Point2]:
    """Points along the building line of a wing's low edges, a little up the slope from them."""
    outline, edges = standing.scene.outlines[wing], standing.scene.wings[wing].effective.edges
    up = layer.plane.uphill
    for i, edge in enumerate(edges):
        if edge.kind == "eave":
            (ax, ay), (bx, by) = outline[i], outline[(i + 1) % len(outline)]
            for share in _SHARES:
                x, y = ax + share * (bx - ax), ay + share * (by - ay)
                yield x + up[0] * _INWARD_IN, y + up[1] * _INWARD_IN
