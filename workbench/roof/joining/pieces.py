"""Planes from the rings of their pieces: ids, axes, order of edges."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import replace

from workbench.roof.joining.corners import Corners, Ring
from workbench.roof.joining.scene import Layer, Scene
from workbench.roof.joining.sides import Piece, Pieces
from workbench.roof.model import Plane, PlaneEdge, Point3


def joined_planes(scene: Scene, pieces: Pieces, corners: Corners) -> list[list[Plane]]:
    """The planes of each wing: its own objects where nothing changed, else what is left of them.

    The largest piece of a plane keeps its id; the others get the next numbers from left to right.
    """
    rings = {piece: corners.rings(piece) for piece in pieces.sides_of}
    whole = {piece: its for piece, its in rings.items() if sum(map(_turns_left, its)) == 1}
    ids = _ids(scene, pieces, list(whole))
    planes: list[list[Plane]] = [[] for _ in scene.wings]
    for piece in sorted(whole, key=lambda piece: (piece[0], ids[piece][1])):
        layer = scene.layers[piece[0]]
        planes[layer.wing].append(_plane(layer, whole[piece], ids, piece))
    return planes


def _ids(scene: Scene, pieces: Pieces, whole: Sequence[Piece]) -> dict[Piece, tuple[str, int]]:
    """Id of every piece, and its rank among the pieces of its plane."""
    taken = {layer.plane.id for layer in scene.layers}
    ids: dict[Piece, tuple[str, int]] = {}
    for layer in scene.layers:
        mine = [piece for piece in whole if piece[0] == layer.number]
        if not mine:
            continue
        largest = max(mine, key=lambda piece: (pieces.area(piece), -piece[1]))
        ids[largest] = (layer.plane.id, 0)
        places = {piece: _left_end(layer, pieces, piece) for piece in mine if piece != largest}
        for rank, piece in enumerate(sorted(places, key=lambda piece: places[piece]), start=1):
            number = 2
            while (name := f"{layer.plane.whole}-{number}") in taken:
                number += 1
            taken.add(name)
            ids[piece] = (name, rank)
    return ids


def _left_end(layer: Layer, pieces: Pieces, piece: Piece) -> tuple[float, float]:
    nodes = pieces.standing.cells.nodes
    places = [layer.plane.to_plane(nodes[a]) for a, _ in pieces.sides_of[piece]]
    return round(min(x for x, _ in places), 1), round(min(y for _, y in places), 1)


def _plane(layer: Layer, rings: Sequence[Ring], ids: Mapping[Piece, tuple[str, int]], piece: Piece) -> Plane:
    before = layer.plane
    name, rank = ids[piece]
    ring = _begun(next(ring for ring in rings if _turns_left(ring)), before)
    holes = sorted((_rotated(r, _lowest(r)) for r in rings if not _turns_left(r)), key=lambda hole: hole[0][0])
    corners = tuple(corner for corner, _ in ring)
    edges = _edges(ring, ids)
    if not holes and rank == 0 and corners == before.corners and edges == before.edges:
        return before
    return replace(
        before,
        id=name,
        name=before.name if rank == 0 else f"{before.name}, part {rank + 1}",
        origin=_origin(before, corners),
        corners=corners,
        edges=edges,
        openings=tuple(tuple(corner for corner, _ in hole) for hole in holes),
        opening_edges=tuple(_edges(hole, ids) for hole in holes),
    )


def _turns_left(ring: Ring) -> bool:
    x0, y0, _ = ring[0][0]
    corners = [corner for corner, _ in ring]
    pairs = zip(corners, corners[1:] + corners[:1], strict=True)
    return sum((a[0] - x0) * (b[1] - y0) - (b[0] - x0) * (a[1] - y0) for a, b in pairs) > 0.0


def _edges(ring: Ring, ids: Mapping[Piece, tuple[str, int]]) -> tuple[PlaneEdge, ...]:
    steps = zip(ring, ring[1:] + ring[:1], strict=True)
    return tuple(
        PlaneEdge(look.kind, start, end, _name(ids, look.beyond), look.drawn, look.opening)
        for (start, look), (end, _) in steps
    )


def _name(ids: Mapping[Piece, tuple[str, int]], piece: Piece | None) -> str | None:
    return ids[piece][0] if piece is not None and piece in ids else None


def _begun(ring: Ring, before: Plane) -> Ring:
    """The ring from where the plane's ring began before; else from its own eave, from left to right."""
    for k, (corner, _) in enumerate(ring):
        if corner == before.corners[0]:
            return _rotated(ring, k)
    eaves = [k for k, (_, look) in enumerate(ring) if look.kind == "eave" and look.drawn == before.drawn]
    if eaves:
        return _rotated(ring, min(eaves, key=lambda k: before.to_plane(ring[k][0])[0]))
    return _rotated(ring, _lowest(ring))


def _lowest(ring: Ring) -> int:
    return min(range(len(ring)), key=lambda k: (round(ring[k][0][2], 3), ring[k][0]))


def _rotated(ring: Ring, first: int) -> Ring:
    return ring[first:] + ring[:first]


def _origin(plane: Plane, corners: Sequence[Point3]) -> Point3:
    """The plane axes' origin: left end, lowest point."""
    places = [plane.to_plane(corner) for corner in corners]
    return plane.to_space((min(x for x, _ in places), min(y for _, y in places)))
