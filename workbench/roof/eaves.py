"""Eaves of a wing: slope, plate, height above plate and overhang of each, and the eave line round the building."""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace

from workbench.job.model import Edge, Wing
from workbench.roof.model import Point2
from workbench.roof.solved import Eave

_PARALLEL = 1e-9


@dataclass(frozen=True, slots=True)
class EaveLine:
    """The outline grown by the overhangs.

    Attributes:
        corners: Anticlockwise, inches.
        edges: For each side the index of the drawn edge, or None for the short return between two edges in line whose
            overhangs differ.
    """

    corners: tuple[Point2, ...]
    edges: tuple[int | None, ...]


def wing_hap(wing: Wing) -> float:
    """Height above plate that all rafters of a wing share, inches.

    Where planes meet their top edges must meet, so one height serves the wing. A given seat is that of the first eave.
    """
    if wing.heel.given == "hap":
        return wing.heel.hap_in
    first = next(edge for edge in wing.edges if edge.kind == "eave")
    tangent = edge_tangent(wing, first)
    return wing.rafter.depth_in * math.hypot(1.0, tangent) - wing.heel.seat_in * tangent


def edge_tangent(wing: Wing, edge: Edge) -> float:
    """Slope (rise / run) of the plane that rises from an eave."""
    return (wing.slope_in_12 if edge.slope_in_12 is None else edge.slope_in_12) / 12.0


def edge_plate(wing: Wing, edge: Edge) -> float:
    """Top of the plate under the plane that rises from an eave or over a clipped gable, inches."""
    if edge.clip_height_in is not None:
        return wing.plate_in + edge.clip_height_in
    return wing.plate_in if edge.plate_in is None else edge.plate_in


def wing_eaves(wing: Wing) -> dict[int, Eave]:
    """All eaves of a wing, those of clipped gables too, by the index of their edge.

    With unequal slopes and level fascia the given overhang is the shallowest eave's, and a steeper one's is shorter so
    that both tails end at one height; this goes by eaves of equal plate height, and where the slope changes further up
    by the lower one. An overhang of an edge's own is kept; a clipped gable's is that of its rake.

    A second slope that would begin over or outside the wall is left out; ``low_uppers`` tells which.
    """
    hap = wing_hap(wing)
    bearing = {i: edge for i, edge in enumerate(wing.edges) if edge.bears_plane}
    plates = {i: edge_plate(wing, edge) for i, edge in bearing.items() if edge.kind == "eave"}
    eaves: dict[int, Eave] = {}
    for i, edge in bearing.items():
        tangent = edge_tangent(wing, edge)
        plate = edge_plate(wing, edge)
        common = wing.eave_overhang_in if edge.kind == "eave" else wing.rake_overhang_in
        overhang = common if edge.overhang_in is None else edge.overhang_in
        if edge.overhang_in is None and edge.kind == "eave" and wing.fascia == "level":
            shallowest = min(edge_tangent(wing, wing.edges[k]) for k, other in plates.items() if other == plate)
            overhang *= shallowest / tangent
        eave = Eave(edge.id, tangent, plate, hap, overhang)
        if edge.upper is not None and edge.upper.height_in > hap:
            slope = edge.upper.slope_in_12
            upper = None if slope is None else slope / 12.0
            eave = replace(eave, break_in=plate + edge.upper.height_in, upper_tangent=upper)
        eaves[i] = eave
    return eaves


def low_uppers(wing: Wing, eaves: Mapping[int, Eave]) -> tuple[int, ...]:
    """The edges whose second slope would have to begin over or outside the wall."""
    return tuple(i for i, eave in eaves.items() if wing.edges[i].upper is not None and eave.break_in is None)


def eave_line(wing: Wing, outline: Sequence[Point2], eaves: dict[int, Eave]) -> EaveLine:
    """The outline with each edge moved out by its overhang."""
    count = len(outline)
    offsets = [_overhang(wing, i, eaves) for i in range(count)]
    directions = [_direction(outline[i], outline[(i + 1) % count]) for i in range(count)]
    corners: list[Point2] = []
    edges: list[int | None] = []
    for i in range(count):
        before, here = directions[i - 1], directions[i]
        cross = before[0] * here[1] - before[1] * here[0]
        if abs(cross) > _PARALLEL:
            corners.append(_meet(outline[i], before, offsets[i - 1], here, offsets[i]))
        else:
            corners.append(_out(outline[i], before, offsets[i - 1]))
            if abs(offsets[i - 1] - offsets[i]) > _PARALLEL:
                edges.append(None)
                corners.append(_out(outline[i], here, offsets[i]))
        edges.append(i)
    return EaveLine(tuple(corners), tuple(edges))


def _overhang(wing: Wing, index: int, eaves: dict[int, Eave]) -> float:
    edge = wing.edges[index]
    if index in eaves:
        return eaves[index].overhang_in
    if edge.overhang_in is not None:
        return edge.overhang_in
    return wing.rake_overhang_in if edge.kind == "rake" else 0.0


def _direction(a: Point2, b: Point2) -> Point2:
    length = math.dist(a, b)
    return (b[0] - a[0]) / length, (b[1] - a[1]) / length


def _out(corner: Point2, along: Point2, distance: float) -> Point2:
    return corner[0] + along[1] * distance, corner[1] - along[0] * distance


def _meet(corner: Point2, before: Point2, out_before: float, here: Point2, out_here: float) -> Point2:
    """Where the two edges that meet in a corner meet again after both have moved out."""
    cross = before[0] * here[1] - before[1] * here[0]
    along_before = (out_before * (before[0] * here[0] + before[1] * here[1]) - out_here) / cross
    base = _out(corner, before, out_before)
    return base[0] - along_before * before[0], base[1] - along_before * before[1]
