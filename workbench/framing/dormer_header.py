"""The upper header of a gable dormer: a board between the dormer's trimmers that its ridge and valleys end against.

The lines meet over the middle of the header's inside board, so the ridge is half the dormer's span less half that
board's thickness (dormer without side walls, equal slopes: NAVEDTRA 14044); further boards stand behind it, up the
slope. The rafters above end on the header, short jacks stand between it and the valleys. Inches.
"""

from __future__ import annotations

from collections.abc import Sequence
from itertools import accumulate

from workbench.framing.field import Field, FieldEdge
from workbench.framing.group import Group
from workbench.framing.plies import header_boards
from workbench.framing.space import flat
from workbench.framing.timber import Timber
from workbench.roof.model import Plane, Point2

Ring = list[FieldEdge]


def with_headers(group: Group, fields: Sequence[Field], headers: Sequence[Timber]) -> list[Field]:
    """A plane's fields once its dormers' headers stand: holes reach up to them, what lies under them is its own field.

    Args:
        group: The wings the plane is framed with.
        fields: The fields of the plane without headers.
        headers: The headers of the group.
    """
    done: list[Field] = []
    for field in fields:
        mine = [timber for timber in headers if timber.left == field.plane.id]
        if not mine:
            done.append(field)
            continue
        outer, *holes = [list(field.edges[first:stop]) for first, stop in field.rings]
        rings, under = [outer], list[Ring]()
        for hole in holes:
            options = (_widened(group, field.plane, hole, timber) for timber in mine)
            found = next((option for option in options if option is not None), None)
            rings.append(hole if found is None else found[0])
            under += [] if found is None else found[1]
        done.append(_field(field.plane, rings))
        done += [_field(field.plane, [ring]) for ring in under]
    return done


def _field(plane: Plane, rings: Sequence[Ring]) -> Field:
    stops = list(accumulate(len(ring) for ring in rings))
    edges = tuple(edge for ring in rings for edge in ring)
    return Field(plane, edges, tuple(zip([0, *stops], stops, strict=False)))


def _widened(group: Group, plane: Plane, hole: Ring, header: Timber) -> tuple[Ring, list[Ring]] | None:
    """A hole whose two valleys meet under the middle of a header, up to the header, and the two parts beside them."""
    level = plane.to_plane(flat(header.a))[1] / plane.stretch
    for i, left in enumerate(hole):
        right = hole[(i + 1) % len(hole)]
        apex = plane.to_space((left.end[0], left.end[1] * plane.stretch))
        if left.kind != "valley" or right.kind != "valley" or not header.passes(flat(apex)):
            continue
        (x0, _), (x1, _) = left.start, right.end
        wing = group.wing_of(plane.id)
        behind = header_boards(wing, x1 - x0) * wing.rafter.thickness_in
        face = level - header.half
        corners = ((x0, face), (x1, face))
        sides: Ring = [
            FieldEdge("wall", left.start, corners[0], 0.0, None),
            FieldEdge("wall", corners[0], corners[1], behind, None),
            FieldEdge("wall", corners[1], right.end, 0.0, None),
        ]
        rest = [hole[(i + 2 + k) % len(hole)] for k in range(len(hole) - 2)]
        return [*sides, *rest], [_beside(left, corners[0], face), _beside(right, corners[1], face)]
    return None


def _beside(valley: FieldEdge, corner: Point2, face: float) -> Ring:
    """What lies between a valley, a header's lower face and the trimmer beside both."""
    (ax, ar), (bx, br) = valley.start, valley.end
    meets = (ax + (bx - ax) * (face - ar) / (br - ar), face)
    half, source = valley.half, valley.source
    if br > ar:
        return [
            FieldEdge("valley", valley.start, meets, half, source),
            FieldEdge("wall", meets, corner, 0.0, None),
            FieldEdge("wall", corner, valley.start, 0.0, None),
        ]
    return [
        FieldEdge("valley", meets, valley.end, half, source),
        FieldEdge("wall", valley.end, corner, 0.0, None),
        FieldEdge("wall", corner, meets, 0.0, None),
    ]
