"""What the 3-D view shows of a plan: parts kept by ident and made anew only where they differ. Inches, no Qt.

Layers are shown apart: ``planes`` with their edges, ``members`` as they are cut, ``sheets`` lifted off the planes,
``walls``. A layer that is not shown is not made.
"""

from __future__ import annotations

from collections.abc import Callable, Hashable, Iterable, Iterator, Sequence
from dataclasses import dataclass
from functools import partial

import numpy as np

from workbench.bench.space.parts import (
    LAYERS,
    NO_LINES,
    Floats,
    Layer,
    Part,
    Shape,
    first_hit,
    in_path,
    joined,
    nearest,
)
from workbench.bench.space.walls import WingWalls, walls_of
from workbench.drawing.roof_plan import edge_key
from workbench.drawing.styles import STYLES
from workbench.framing.model import Member, Placement
from workbench.framing.solids import board, both_sides, slabs, standing, triangles_of
from workbench.plan import Plan
from workbench.roof.model import Plane
from workbench.sheathing.model import PlaneSheets

SHEET_LIFT_IN = 0.5
"""How far the tops of sheets stand off the plane, inches."""
MEMBER_DROP_IN = 1.0 / 16.0
"""How far members are let down, so that their top edges don't lie in the planes themselves, inches."""

_SHEET_UNDER_IN = 1.0 / 16.0
_EDGE_WEIGHT, _JOINT_WEIGHT, _WALL_WEIGHT = 1.1, 0.7, 0.8


@dataclass(frozen=True)
class Marked:
    """What stands out for a selected key.

    Attributes:
        key: The key.
        lines: Segments to be drawn over everything, (n, 2, 3).
        hidden: Triangles that should be seen through what covers them, (n, 3, 3).
    """

    key: str
    lines: Floats
    hidden: Floats


@dataclass(frozen=True)
class _Wanted:
    """A part that should be there: what its shape follows from, and how it is made."""

    ident: Hashable
    keys: tuple[str, ...]
    source: object
    make: Callable[[], Shape]
    whole: bool = True


class Scene:
    """The parts of one plan, layer by layer."""

    def __init__(self) -> None:
        self._kept: dict[Layer, dict[Hashable, tuple[object, Part]]] = {layer: {} for layer in LAYERS}
        self._plan: Plan | None = None

    def show(self, plan: Plan, layers: Iterable[Layer]) -> None:
        """Take over a plan: in these layers only, and only what differs is made anew."""
        self._plan = plan
        for layer in layers:
            kept = self._kept[layer]
            now: dict[Hashable, tuple[object, Part]] = {}
            for wanted in _WANTED[layer](plan):
                now[wanted.ident] = _renewed(kept.get(wanted.ident), wanted)
            self._kept[layer] = now

    def parts(self, layer: Layer) -> dict[Hashable, Part]:
        """The parts of a layer by ident, in the order of the plan."""
        return {ident: part for ident, (_, part) in self._kept[layer].items()}

    def outer_points(self) -> Floats:
        """What the view has to hold: the planes' corners and the walls' feet, (n, 3)."""
        if self._plan is None:
            return np.empty((0, 3))
        points = [corner for plane in self._plan.roof.planes for corner in plane.corners]
        points += [(x, y, 0.0) for wing in self._plan.wings for x, y in wing.outline]
        return np.array(points, dtype=float).reshape(-1, 3)

    def mark(self, key: str, layers: Sequence[Layer]) -> Marked:
        """What stands out for a key in these layers."""
        lines: list[Floats] = []
        hidden: list[Floats] = []
        kind, _, name = key.partition(":")
        for layer in layers if key else ():
            for part in self.parts(layer).values():
                lines.append(part.lines_of(key))
                if layer == "members" and key in part.keys:
                    hidden.append(part.shape.faces[part.faces_of(key)])
                # A wing is its walls and the planes over them.
                if kind == "wing" and part.keys[0].startswith(f"plane:{name}/"):
                    lines.append(part.shape.lines)
        return Marked(key, joined(lines, NO_LINES), joined(hidden))

    def pick(self, eye: Floats, direction: Floats, layers: Sequence[Layer], reach: float) -> str:
        """Key of what a ray meets first; empty for nothing.

        Args:
            eye: Where the ray starts.
            direction: Its unit vector.
            layers: The layers on show.
            reach: Inches per inch of distance within which an edge of the outline is taken before its plane.
        """
        best, found = float("inf"), ""
        parts = [part for layer in layers for part in self.parts(layer).values()]
        for part in in_path(eye, direction, parts):
            distance, index = first_hit(eye, direction, part.shape.faces)
            if distance < best:
                best, found = distance, part.keys[part.shape.face_owner[index]]
        for part in in_path(eye, direction, parts, reach):
            names = [part.keys[owner] for owner in part.shape.line_owner]
            named = [index for index, name in enumerate(names) if name.startswith("edge:")]
            off, along = nearest(eye, direction, part.shape.lines[named])
            # Nothing may lie before it: its own plane is as far away as itself, give or take the reach.
            near = (off < reach * along) & (along < best + 4.0 * reach * along + 1.0)
            if near.any():
                return names[named[int(np.where(near, off / along, np.inf).argmin())]]
        return found


def _renewed(known: tuple[object, Part] | None, wanted: _Wanted) -> tuple[object, Part]:
    if known is None or (known[0] is not wanted.source and known[0] != wanted.source):
        return wanted.source, Part(wanted.keys, wanted.make(), wanted.whole)
    if known[1].keys != wanted.keys:
        # The same shape under another name: marks are numbered anew when one of them goes.
        return known[0], Part(wanted.keys, known[1].shape, wanted.whole)
    return known


def _planes(plan: Plan) -> Iterator[_Wanted]:
    for plane in plan.roof.planes:
        named = [edge_key(plane, edge) for edge in plane.all_edges if edge.drawn is not None]
        keys = (f"plane:{plane.id}", *dict.fromkeys(named))
        yield _Wanted(plane.id, keys, plane, partial(_plane, plane, keys))


def _plane(plane: Plane, keys: Sequence[str]) -> Shape:
    flat = triangles_of(plane.polygon, plane.opening_polygons)
    faces = both_sides(_in_space(plane, flat))
    edges = [edge for edge in plane.all_edges if edge.length_in > 0.0]
    owners = [keys.index(edge_key(plane, edge)) if edge.drawn is not None else 0 for edge in edges]
    return Shape(
        faces,
        np.zeros(len(faces), dtype=np.intp),
        np.array([(edge.start, edge.end) for edge in edges], dtype=float).reshape(-1, 2, 3),
        np.array(owners, dtype=np.intp),
        _EDGE_WEIGHT * np.array([STYLES[edge.kind].weight for edge in edges], dtype=float),
    )


def _in_space(plane: Plane, points: Floats) -> Floats:
    """Points in plane axes, the third (if any) square off the plane, as space points."""
    run, (ux, uy) = 1.0 / plane.stretch, plane.uphill
    rise = plane.tangent * run
    axes = np.array([(*plane.across, 0.0), (ux * run, uy * run, rise), (-ux * rise, -uy * rise, run)])
    return np.array(plane.origin) + points @ axes[: points.shape[-1]]


def _members(plan: Plan) -> Iterator[_Wanted]:
    """One part a mark and wing, known by its shape and places: a change of one wing may name all marks anew."""
    for member in plan.framing.members:
        by_wing: dict[str, list[Placement]] = {}
        for placement in member.placements:
            by_wing.setdefault(placement.plane.partition("/")[0], []).append(placement)
        cut = _cut(member)
        for placements in by_wing.values():
            ident = (cut, tuple(placements))
            make = partial(_boards, member, placements)
            yield _Wanted(ident, (f"member:{member.mark}",), ident, make)


def _cut(member: Member) -> Hashable:
    """What tells boards apart by eye: equal ones of several wings come from any one of them, with its float noise."""
    measures = [value for point in member.profile + member.top for value in point]
    measures += [member.length_in, member.depth_in, member.thickness_in, member.angle_deg, *member.backing_deg]
    return tuple(round(value, 4) for value in measures)


def _boards(member: Member, placements: Sequence[Placement]) -> Shape:
    faces = standing(board(member), placements, MEMBER_DROP_IN)
    return Shape(faces, np.zeros(len(faces), dtype=np.intp))


def _sheets(plan: Plan) -> Iterator[_Wanted]:
    planes = {plane.id: plane for plane in plan.roof.planes}
    for sheets in plan.sheathing.planes:
        plane = planes.get(sheets.plane)
        if plane is None:
            continue
        source = (plane, tuple(piece.polygon for piece in sheets.pieces))
        keys = tuple(f"piece:{piece.plane}/{piece.label}" for piece in sheets.pieces)
        yield _Wanted(sheets.plane, keys, source, partial(_pieces, plane, sheets), whole=False)


def _pieces(plane: Plane, sheets: PlaneSheets) -> Shape:
    rings = [piece.polygon for piece in sheets.pieces]
    solids, face_owner = slabs(rings, _SHEET_UNDER_IN, SHEET_LIFT_IN)
    corners = [(x, y, SHEET_LIFT_IN) for ring in rings for x, y in ring]
    after = [(x, y, SHEET_LIFT_IN) for ring in rings for x, y in ring[1:] + ring[:1]]
    ends = np.array([corners, after], dtype=float).reshape(2, -1, 3).swapaxes(0, 1)
    line_owner = np.repeat(np.arange(len(rings)), [len(ring) for ring in rings])
    lines = _in_space(plane, ends)
    return Shape(_in_space(plane, solids), face_owner, lines, line_owner, np.full(len(lines), _JOINT_WEIGHT))


def _walls(plan: Plan) -> Iterator[_Wanted]:
    for given in walls_of(plan):
        name, corners = given.wing.wing, len(given.wing.outline)
        keys = (f"wing:{name}", *(f"edge:{name}/{edge}" for edge in given.ids))
        keys += tuple(f"corner:{name}/{number}" for number in range(corners))
        yield _Wanted(name, keys, given, partial(_walls_shape, given))


def _walls_shape(given: WingWalls) -> Shape:
    """The walls of a wing; owners are the wing, then its edges, then its corners."""
    faces: list[Floats] = []
    lines: list[Floats] = []
    owners: list[int] = []
    sides, corners = len(given.ids), len(given.wing.outline)
    for wall in given.walls():
        faces.append(both_sides(wall.to_space(triangles_of(wall.ring))))
        ring = np.array([*wall.foot, *reversed(wall.top)], dtype=float)
        lines.append(np.stack([ring, np.roll(ring, -1, axis=0)], axis=1))
        # Along the ring: the foot, the right-hand upright, the top from right to left, the left-hand upright.
        of_edge = 1 + wall.edge
        right = 1 + sides + (wall.edge + 1) % corners
        owners += [of_edge, right, *[of_edge] * (len(ring) - 3), 1 + sides + wall.edge]
    found, segments = joined(faces), joined(lines, NO_LINES)
    return Shape(
        found,
        np.zeros(len(found), dtype=np.intp),
        segments,
        np.array(owners, dtype=np.intp),
        np.full(len(segments), _WALL_WEIGHT),
    )


_WANTED: dict[Layer, Callable[[Plan], Iterator[_Wanted]]] = {
    "planes": _planes,
    "members": _members,
    "sheets": _sheets,
    "walls": _walls,
}
