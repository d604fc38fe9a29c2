"""Faces of the wavefront to named planes with edges by kind."""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence

from workbench.job.model import Wing
from workbench.roof.eaves import EaveLine
from workbench.roof.model import EdgeKind, Plane, PlaneEdge, Point2, Point3
from workbench.roof.wavefront import Face, FaceSide, Raised

_LEVEL_IN = 1e-6  # a side whose ends differ by less than this in height is level
_ALONG = 1e-6  # sine of the plan angle under which a plane's uphill runs along a side


def assemble_planes(
    wing: Wing, line: EaveLine, raised: Raised, tangents: Mapping[int, Sequence[float]]
) -> tuple[Plane, ...]:
    """The planes of one wing, in the order of its drawn edges, the upper ones after the lower.

    Args:
        wing: The wing.
        line: Its eave line; the wavefront's edge numbers count its sides.
        raised: What the wavefront made of it.
        tangents: By drawn edge index the slopes of its plane, the lower one first.

    Returns:
        One plane a roof face; ids are ``wing/edge``, for a second slope ``wing/edge-upper``, with ``-2``, ``-3`` where
        one of them has several faces.
    """
    faces = raised.roof_faces
    drawn = [_drawn(line, face.edge) for face in faces]
    counts: dict[str, int] = {}
    ids: list[str] = []
    for index, face in zip(drawn, faces, strict=True):
        whole = f"{wing.id}/{wing.edges[index].id}{'-upper' if face.piece else ''}"
        counts[whole] = counts.get(whole, 0) + 1
        ids.append(f"{whole}-{counts[whole]}" if counts[whole] > 1 else whole)
    position = {id(face): i for i, face in enumerate(faces)}
    by_face = {k: ids[position[id(face)]] for k, face in enumerate(raised.faces) if id(face) in position}
    names = _names(wing, line, faces, [len(tangents[index]) > 1 for index in drawn])
    return tuple(
        _plane(wing, line, face, ids[i], names[i], tangents[drawn[i]][face.piece], raised, by_face)
        for i, face in enumerate(faces)
    )


def _plane(
    wing: Wing,
    line: EaveLine,
    face: Face,
    plane_id: str,
    name: str,
    tangent: float,
    raised: Raised,
    by_face: Mapping[int, str],
) -> Plane:
    out = _outward(line, face.edge)
    uphill = (-out[0], -out[1])
    across = (uphill[1], -uphill[0])
    corners = face.corners
    lowest = min(corners, key=lambda corner: corner[2])
    left = min(corner[0] * across[0] + corner[1] * across[1] for corner in corners)
    shift = left - (lowest[0] * across[0] + lowest[1] * across[1])
    origin = (lowest[0] + shift * across[0], lowest[1] + shift * across[1], lowest[2])
    edges = tuple(
        PlaneEdge(
            _kind(wing, line, face, side, raised),
            side.start,
            side.end,
            None if side.neighbour is None or side.face is None else by_face.get(side.face),
            _drawn_id(wing, line, side),
        )
        for side in face.sides
    )
    drawn = wing.edges[_drawn(line, face.edge)].id
    return Plane(plane_id, name, wing.id, drawn, tangent, origin, across, uphill, corners, edges, upper=face.piece > 0)


def _kind(wing: Wing, line: EaveLine, face: Face, side: FaceSide, raised: Raised) -> EdgeKind:
    if side.outline is not None:
        index = line.edges[side.outline]
        if side.outline in face.edges:
            return "eave"
        return "rake" if index is None else wing.edges[index].kind
    if side.neighbour is None or side.face is None:
        return "step" if side.face is None else _beside_wall(line, side, raised.faces[side.face])
    return inner_kind(
        (side.start, side.end),
        _uphill(line, face.edge),
        _uphill(line, raised.faces[side.face].edge),
    )


def _beside_wall(line: EaveLine, side: FaceSide, wall: Face) -> EdgeKind:
    """What a plane's edge is beside a wall in mid-roof: at a gablet the planes above it end in rakes.

    The plane the gablet stands on ends against it as against any wall.
    """
    if wall.added_wall or wall.piece == 0:
        return "step"
    a, b = line.corners[wall.edge], line.corners[(wall.edge + 1) % len(line.corners)]
    along = (b[0] - a[0]) * (side.end[0] - side.start[0]) + (b[1] - a[1]) * (side.end[1] - side.start[1])
    return "rake" if along > 0.0 else "wall"


def inner_kind(side: tuple[Point3, Point3], uphill: Point2, other_uphill: Point2) -> EdgeKind:
    """What an edge between two planes is.

    Args:
        side: The edge, in the direction that keeps the first plane to its left.
        uphill: Unit plan vector up the first plane.
        other_uphill: The same of the second plane.

    Returns:
        ``ridge`` (level, both rise to it), ``valley`` (both fall to it), ``hip`` (sloped, both rise to it) or
        ``pitch_break`` (one rises to it, the other from it, or both are one plane).
    """
    (x0, y0, z0), (x1, y1, z1) = side
    length = math.hypot(x1 - x0, y1 - y0) or 1.0
    left = ((y0 - y1) / length, (x1 - x0) / length)
    rises = -(uphill[0] * left[0] + uphill[1] * left[1])
    other_rises = other_uphill[0] * left[0] + other_uphill[1] * left[1]
    # A plane that runs along the edge neither rises nor falls to it: the other one says which way it folds.
    least, most = min(rises, other_rises), max(rises, other_rises)
    if least >= -_ALONG and most > _ALONG:
        return "ridge" if abs(z1 - z0) <= _LEVEL_IN else "hip"
    if most <= _ALONG and least < -_ALONG:
        return "valley"
    return "pitch_break"


def _drawn(line: EaveLine, side: int) -> int:
    index = line.edges[side]
    if index is None:  # a short return between two overhangs never bears a plane
        msg = "a return of the eave line can't bear a plane"
        raise ValueError(msg)
    return index


def _drawn_id(wing: Wing, line: EaveLine, side: FaceSide) -> str | None:
    index = None if side.outline is None else line.edges[side.outline]
    return None if index is None else wing.edges[index].id


def _outward(line: EaveLine, side: int) -> Point2:
    a, b = line.corners[side], line.corners[(side + 1) % len(line.corners)]
    dx, dy = b[0] - a[0], b[1] - a[1]
    length = (dx * dx + dy * dy) ** 0.5
    return dy / length, -dx / length


def _uphill(line: EaveLine, side: int) -> Point2:
    out = _outward(line, side)
    return -out[0], -out[1]


def _names(wing: Wing, line: EaveLine, faces: Sequence[Face], split: Sequence[bool]) -> list[str]:
    """Where each plane is, in words: ``front main``, ``front main 2 upper``; a single plane takes the wing's own name.

    Planes that look the same way are numbered along the outline; an upper one has the number of the one below it.
    """
    if len(faces) == 1:
        return [wing.name]
    words = [_side_word(_outward(line, face.edge)) for face in faces]
    lower = [i for i, face in enumerate(faces) if face.piece == 0]
    numbers: dict[int, int] = {}
    below: dict[int, int] = {}
    for i in lower:
        numbers[i] = sum(words[k] == words[i] for k in lower if k <= i)
        below.setdefault(faces[i].edge, numbers[i])
    names: list[str] = []
    for i, face in enumerate(faces):
        several = sum(words[k] == words[i] for k in lower) > 1
        name = f"{words[i]} {wing.name}"
        if several:
            name += f" {numbers.get(i, below.get(face.edge, 1))}"
        if split[i]:
            name += " upper" if face.piece else " lower"
        names.append(name if name not in names else f"{name}, part {names.count(name) + 1}")
    return names


def _side_word(out: Point2) -> str:
    if abs(out[1]) >= abs(out[0]):
        return "front" if out[1] < 0.0 else "back"
    return "left" if out[0] < 0.0 else "right"
