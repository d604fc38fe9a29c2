"""Planes of a wing split by drawn lines: one part becomes a plane of its own, which may turn about the line.

The wing's planes are cut into cells along everything that can matter (their edges, the drawn line, the lines in which
the turned plane meets its neighbours). The new plane takes the cells on its side; where it met a neighbour at a hip or
ridge the lower of the two stays, in a valley the higher one, so that all ends on each other again. Inches.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace

from workbench.findings import GEOMETRY, Finding
from workbench.job.planes import PlaneSplit
from workbench.measure import Units
from workbench.roof.joining.cells import Cells, cut_into_cells
from workbench.roof.joining.corners import Corners
from workbench.roof.joining.geometry import Segment
from workbench.roof.joining.pieces import joined_planes
from workbench.roof.joining.scene import SAME_SLOPE, Layer, Scene, make_scene
from workbench.roof.joining.sides import Pieces
from workbench.roof.joining.standing import Standing, make_standing
from workbench.roof.model import Plane, PlaneEdge, Point2
from workbench.roof.sections import cut_section
from workbench.roof.solved import BuiltWing, Eave, SolvedWing

_LEVEL_IN = 1e-5
_PART_SQIN = 144.0  # a part smaller than a square foot is no plane
_FALLS = 0.1  # sine of the plan angle to an edge from which on a plane falls to it
_PAST = 1.5  # lines are drawn this many times the size of the roof


@dataclass(frozen=True, slots=True)
class _Turn:
    """The new plane: z = slope_x·x + slope_y·y + at_zero, and the line it turns about."""

    slope_x: float
    slope_y: float
    at_zero: float
    start: Point2
    away: Point2


def split_wing(built: BuiltWing, units: Units) -> BuiltWing:
    """A wing with its planes split by the lines drawn for it; a line that parts no plane is told."""
    if built.solved is None:
        return built
    findings: list[Finding] = []
    now = built
    for split in built.effective.splits:
        try:
            now = _split(now, split, units)
        except _CanNotSplitError as error:
            text = f"{built.effective.name}: the line {split.id} {error}"
            findings.append(Finding("split-left-out", "warning", built.effective.id, text, GEOMETRY))
    if now is built and not findings:
        return built
    return replace(now, findings=(*now.findings, *findings), unsplit=built.planes)


class _CanNotSplitError(Exception):
    """Why a line splits nothing, as the end of a sentence."""


def _split(built: BuiltWing, split: PlaneSplit, units: Units) -> BuiltWing:
    target = _target(built, split)
    turn = _turned(target, split)
    scene = _scene(built, target, split, turn)
    standing = make_standing(scene, cut_into_cells(*_lines(scene, split, turn)))
    number = next(layer.number for layer in scene.layers if layer.plane.id == target.id)
    _take_over(standing, _part(standing, number, split, turn), number)
    pieces = Pieces(standing)
    planes = tuple(joined_planes(scene, pieces, Corners(pieces))[0])
    _refuse_open(built.planes, planes)
    return _rebuilt(built, target, planes, units)


def _target(built: BuiltWing, split: PlaneSplit) -> Plane:
    """The plane, or the piece of it, that lies under the middle of the line."""
    named = f"{built.effective.id}/{split.edge}"
    mine = [plane for plane in built.planes if plane.whole == named]
    if not mine:
        raise _CanNotSplitError(f'stands on "{named}", but no plane rises from there now; it waits in the job unused.')
    middle = ((split.start[0] + split.end[0]) / 2.0, (split.start[1] + split.end[1]) / 2.0)
    found = next((plane for plane in mine if _holds(plane, middle)), None)
    if found is None:
        raise _CanNotSplitError(f'does not lie on "{mine[0].name}"; move it there, or take it away.')
    return found


def _holds(plane: Plane, point: Point2) -> bool:
    inside = False
    for edge in plane.edges:
        (ax, ay, _), (bx, by, _) = edge.start, edge.end
        if (ay > point[1]) != (by > point[1]) and point[0] < ax + (point[1] - ay) / (by - ay) * (bx - ax):
            inside = not inside
    return inside


def _turned(plane: Plane, split: PlaneSplit) -> _Turn:
    """The plane through the line with the slope asked for, on the side asked for."""
    (ax, ay), (bx, by) = split.start, split.end
    length = math.hypot(bx - ax, by - ay)
    along = ((bx - ax) / length, (by - ay) / length)
    away = (-along[1], along[0]) if split.side == "left" else (along[1], -along[0])
    gx, gy = plane.tangent * plane.uphill[0], plane.tangent * plane.uphill[1]
    top = plane.origin[2] + (ax - plane.origin[0]) * gx + (ay - plane.origin[1]) * gy
    if split.slope_in_12 is not None:
        rate, slope = gx * along[0] + gy * along[1], split.slope_in_12 / 12.0
        if slope < abs(rate) - SAME_SLOPE:
            raise _CanNotSplitError(
                f"rises {12.0 * abs(rate):.4g} in 12 itself, so no plane through it can be as flat as "
                f"{split.slope_in_12:.4g} in 12; give the new plane at least that slope, or turn the line."
            )
        across = math.sqrt(max(0.0, slope**2 - rate**2)) * (1.0 if split.fold == "up" else -1.0)
        gx, gy = rate * along[0] + across * away[0], rate * along[1] + across * away[1]
    return _Turn(gx, gy, top - gx * ax - gy * ay, split.start, away)


def _scene(built: BuiltWing, target: Plane, split: PlaneSplit, turn: _Turn) -> Scene:
    """The wing's planes with the new one as the last layer; every layer knows all edges of the outline."""
    slope = math.hypot(turn.slope_x, turn.slope_y)
    uphill = (turn.slope_x / slope, turn.slope_y / slope)
    if split.slope_in_12 is None:
        slope, uphill = target.tangent, target.uphill
    x, y, _ = target.origin
    new = replace(
        target,
        id=f"{built.effective.id}/{split.id}",
        name=f"{target.name}, {_place_of(target, turn)} part",
        split=split.id,
        tangent=slope,
        uphill=uphill,
        across=(uphill[1], -uphill[0]),
        origin=(x, y, turn.slope_x * x + turn.slope_y * y + turn.at_zero),
    )
    outer = [edge for plane in built.planes for edge in plane.edges if edge.neighbour is None]
    known = [replace(plane, edges=(*plane.edges, *_others(plane, outer))) for plane in (*built.planes, new)]
    return make_scene((replace(built, planes=tuple(known)),), ())


def _others(plane: Plane, outer: Sequence[PlaneEdge]) -> Iterator[PlaneEdge]:
    """The outer edges of other planes, as this one would end on them: at an eave it does not fall to, as at a rake."""
    mine = set(plane.edges)
    for edge in outer:
        if edge not in mine:
            dx, dy = edge.end[0] - edge.start[0], edge.end[1] - edge.start[1]
            falls = dx * plane.uphill[1] - dy * plane.uphill[0] > _FALLS * math.hypot(dx, dy)
            yield edge if falls or edge.kind != "eave" else replace(edge, kind="rake")


def _place_of(plane: Plane, turn: _Turn) -> str:
    """Where the new part lies on its plane, as seen from outside below."""
    right = turn.away[0] * plane.across[0] + turn.away[1] * plane.across[1]
    up = turn.away[0] * plane.uphill[0] + turn.away[1] * plane.uphill[1]
    if abs(up) > abs(right):
        return "upper" if up > 0.0 else "lower"
    return "right" if right > 0.0 else "left"


def _lines(scene: Scene, split: PlaneSplit, turn: _Turn) -> tuple[list[Segment], list[Segment]]:
    """The edges of all planes; then the drawn line and the lines in which the new plane meets others, all run on."""
    firm = list(dict.fromkeys(side for layer in scene.layers[:-1] for side in layer.sides))
    points = [point for layer in scene.layers for point in layer.ring]
    middle = (sum(x for x, _ in points) / len(points), sum(y for _, y in points) / len(points))
    reach = _PAST * max(math.dist(middle, point) for point in points)
    loose = [_through(split.start, (split.end[0] - split.start[0], split.end[1] - split.start[1]), middle, reach)]
    for layer in scene.layers[:-1]:
        nx, ny = layer.slope_x - turn.slope_x, layer.slope_y - turn.slope_y
        steep = nx * nx + ny * ny
        if steep > SAME_SLOPE:
            off = (layer.at_zero - turn.at_zero) / steep
            loose.append(_through((-off * nx, -off * ny), (-ny, nx), middle, reach))
    return firm, loose


def _through(place: Point2, way: Point2, middle: Point2, reach: float) -> Segment:
    """The line through a place, as far as a circle round the roof."""
    length = math.hypot(*way)
    ux, uy = way[0] / length, way[1] / length
    along = (middle[0] - place[0]) * ux + (middle[1] - place[1]) * uy
    x, y = place[0] + along * ux, place[1] + along * uy
    return x - reach * ux, y - reach * uy, x + reach * ux, y + reach * uy


def _beyond(cells: Cells, cell: int, turn: _Turn) -> bool:
    x, y = cells.insides[cell]
    return (x - turn.start[0]) * turn.away[0] + (y - turn.start[1]) * turn.away[1] > 0.0


def _part(standing: Standing, target: int, split: PlaneSplit, turn: _Turn) -> list[int]:
    """The cells of the plane on the new plane's side of the line, as far as they hang together with it."""
    cells = standing.cells
    mine = [cell for cell, layers in standing.present.items() if layers.get(0) == target]
    beyond = [cell for cell in mine if _beyond(cells, cell, turn)]
    part = [cell for its in cells.parts(beyond) if _beside_line(cells, its, split) for cell in its]
    area = sum(cells.areas[cell] for cell in part)
    if min(area, sum(cells.areas[cell] for cell in mine) - area) < _PART_SQIN:
        raise _CanNotSplitError("leaves less than a square foot on one of its sides; move it further in.")
    return part


def _beside_line(cells: Cells, part: Sequence[int], split: PlaneSplit) -> bool:
    """Whether some cells have a side on the line, somewhere between its drawn ends."""
    (ax, ay), (bx, by) = split.start, split.end
    length = math.hypot(bx - ax, by - ay)
    for side in cells.outer_sides(part):
        spots = [
            (
                ((x - ax) * (bx - ax) + (y - ay) * (by - ay)) / length,
                ((x - ax) * (by - ay) - (y - ay) * (bx - ax)) / length,
            )
            for x, y in (cells.nodes[node] for node in side)
        ]
        low, high = min(along for along, _ in spots), max(along for along, _ in spots)
        if all(abs(off) < 1e-3 for _, off in spots) and min(high, length) - max(low, 0.0) > _LEVEL_IN:
            return True
    return False


def _take_over(standing: Standing, part: Sequence[int], target: int) -> None:
    """Give the new plane its cells, then let it and its neighbours end on each other."""
    cells, layers = standing.cells, standing.scene.layers
    new = layers[-1]
    owner = {cell: its[0] for cell, its in standing.present.items() if 0 in its}
    before = dict(owner)
    reachable = _reachable(standing, part, before)
    for cell in part:
        owner[cell] = new.number
    for other in sorted({before[cell] for cell in reachable} - {target}):
        lower = _ends_below(standing, part, before, layers[target], layers[other])
        if lower is not None:
            _settle(cells, owner, (new, layers[other]), (set(part), reachable & _of(before, other)), lower=lower)
    for cell, number in owner.items():
        standing.present[cell][0] = number


def _of(owner: dict[int, int], number: int) -> set[int]:
    return {cell for cell, its in owner.items() if its == number}


def _reachable(standing: Standing, part: Sequence[int], owner: dict[int, int]) -> set[int]:
    """The cells of the planes that the part has an edge with."""
    cells = standing.cells
    beside = {owner[beyond] for side in cells.outer_sides(part) if (beyond := cells.right(side)) in owner}
    return {cell for cell, number in owner.items() if number in beside}


def _ends_below(
    standing: Standing, part: Sequence[int], owner: dict[int, int], target: Layer, other: Layer
) -> bool | None:
    """Whether the plane lies below its neighbour run on (a hip or ridge) beside their edge; None where none is."""
    cells = standing.cells
    for side in cells.outer_sides(part):
        beyond = cells.right(side)
        if owner.get(beyond if beyond is not None else -1) == other.number and standing.level_along(
            side, target.number, other.number
        ):
            at = cells.insides[cells.left[side]]
            return other.height(at) > target.height(at)
    return None


def _settle(
    cells: Cells,
    owner: dict[int, int],
    pair: tuple[Layer, Layer],
    homes: tuple[set[int], set[int]],
    *,
    lower: bool,
) -> None:
    """Let each of two planes take from the other's cells those where it is the one that stays, next to its own."""
    for (mine, theirs), (home, away) in ((pair, homes), (pair[::-1], homes[::-1])):
        won = {
            cell
            for cell in away
            if owner[cell] == theirs.number
            and (mine.height(cells.insides[cell]) < theirs.height(cells.insides[cell])) == lower
        }
        for found in cells.parts(won):
            beyond = {cells.right(side) for side in cells.outer_sides(found)}
            if any(cell in home for cell in beyond):
                for cell in found:
                    owner[cell] = mine.number


def _refuse_open(before: Sequence[Plane], after: Sequence[Plane]) -> None:
    """A plane turned so that it no longer ends on its neighbours tears the roof open."""

    def steps(planes: Sequence[Plane]) -> float:
        return sum(edge.length_in for plane in planes for edge in plane.all_edges if edge.kind == "step")

    if steps(after) > steps(before) + 1.0:
        raise _CanNotSplitError(
            "would tear the roof open: turned about it, the new plane does not end on the planes beside it. "
            "Draw it to a corner of the plane, or give the part another slope."
        )


def _rebuilt(built: BuiltWing, target: Plane, planes: tuple[Plane, ...], units: Units) -> BuiltWing:
    solved = built.solved
    if solved is None:
        return built
    before = {plane.id: plane for plane in built.planes}
    eaves = {eave.edge: eave for eave in solved.eaves}
    for plane in planes:
        eave = _new_eave(plane, eaves.get(plane.drawn), solved)
        if plane.id not in before and eave is not None:
            eaves[plane.drawn] = eave
    sections = [
        cut_section(built.effective, solved, before.get(plane.id, target), plane, units)
        for plane in planes
        if plane.id in before or abs(plane.tangent - target.tangent) < SAME_SLOPE
    ]
    made = tuple(section for section in sections if section is not None)
    return replace(
        built,
        planes=planes,
        solved=replace(solved, eaves=tuple(eaves[eave.edge] for eave in solved.eaves), sections=made),
    )


def _new_eave(plane: Plane, eave: Eave | None, solved: SolvedWing) -> Eave | None:
    """The eave as the new plane makes it, where it has a level edge there: its plate follows from the plane."""
    level = any(
        edge.kind == "eave" and edge.drawn == plane.drawn and abs(edge.start[2] - edge.end[2]) < _LEVEL_IN
        for edge in plane.edges
    )
    if eave is None or not level or abs(eave.tangent - plane.tangent) < SAME_SLOPE:
        return None
    low = min(corner[2] for corner in plane.corners)
    return replace(eave, tangent=plane.tangent, plate_in=low + plane.tangent * eave.overhang_in - eave.hap_in)
