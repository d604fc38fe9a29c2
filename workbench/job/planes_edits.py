"""Edits of planes drawn by hand: single planes, lines that split a plane, and lines the slopes are solved for."""

from __future__ import annotations

import math
from collections.abc import Sequence
from typing import Any

from msgspec.structs import replace

from workbench.errors import EditError
from workbench.job.edited import checked, replaced
from workbench.job.edits import add_wing, set_edge
from workbench.job.model import Corner, Job, OutlineKind, Wing
from workbench.job.planes import PlaneSplit, Single

_OFF_IN = 0.5  # a drawn line may miss the one the slopes give by this much


def add_single(
    job: Job, outline: Sequence[Corner], kinds: Sequence[OutlineKind], single: Single, **fields: Any
) -> tuple[Job, str]:
    """Add one plane drawn by hand.

    Args:
        job: The job.
        outline: Corners of its outline in plan, either way round, inches.
        kinds: Kind of each edge; the low one is an eave.
        single: Its height and way of rising; the slope is the wing's.
        **fields: Other fields of the wing.

    Returns:
        The new job and the new wing's id.

    Raises:
        EditError: The outline or a field can't be used.
    """
    return add_wing(job, outline, kinds, single=single, **fields)


def set_single(job: Job, wing_id: str, **fields: Any) -> Job:
    """Change the height, the way of rising or the meeting of a plane drawn by hand.

    Raises:
        EditError: The wing is no such plane, or a value can't be used.
    """
    wing = _wing(job, wing_id)
    if wing.single is None:
        msg = f'"{wing.name}" rises from its eaves; only a plane drawn by hand has a height and direction of its own.'
        raise EditError(msg)
    return _with(job, replace(wing, single=replaced(wing.single, fields)))


def add_split(job: Job, wing_id: str, edge: str, start: Corner, end: Corner, **fields: Any) -> tuple[Job, str]:
    """Split a plane by a line; see ``PlaneSplit``.

    Returns:
        The new job and the split's id.

    Raises:
        EditError: There is no such wing, or a value can't be used.
    """
    wing = _wing(job, wing_id)
    taken = {split.id for split in wing.splits} | {each.id for each in wing.edges}
    number = len(wing.splits) + 1
    while f"s{number}" in taken:
        number += 1
    try:
        split = PlaneSplit(id=f"s{number}", edge=edge, start=start, end=end, **fields)
    except TypeError as error:
        raise EditError(f"{error}.") from None
    return _with(job, replace(wing, splits=(*wing.splits, split))), split.id


def set_split(job: Job, wing_id: str, split_id: str, **fields: Any) -> Job:
    """Change a line that splits a plane, or the slope of the part it makes. Raises EditError."""
    wing = _wing(job, wing_id)
    _split(wing, split_id)
    return _with(job, replace(wing, splits=tuple(replaced(s, fields) if s.id == split_id else s for s in wing.splits)))


def remove_split(job: Job, wing_id: str, split_id: str) -> Job:
    """Take a line away, with the lines that split the part it made and what was chosen for that part.

    Raises:
        EditError: There is no such line.
    """
    wing = _wing(job, wing_id)
    _split(wing, split_id)
    gone = {split_id}
    for split in wing.splits:
        if split.edge in gone:
            gone.add(split.id)
    planes = {f"{wing_id}/{name}" for name in gone}
    job = replace(
        job,
        openings=tuple(opening for opening in job.openings if opening.plane not in planes),
        plane_choices=tuple(choice for choice in job.plane_choices if choice.plane not in planes),
    )
    return _with(job, replace(wing, splits=tuple(split for split in wing.splits if split.id not in gone)))


def moved_lines(wing: Wing, right: float, up: float) -> dict[str, Any]:
    """The fields of a wing that have to move with its outline: its own level line and the lines that split it."""

    def moved(point: Corner) -> Corner:
        return point[0] + right, point[1] + up

    single = wing.single
    return {
        "single": None if single is None else replace(single, line=moved(single.line)),
        "splits": tuple(replace(s, start=moved(s.start), end=moved(s.end)) for s in wing.splits),
    }


def solve_for_line(job: Job, wing_id: str, keep: str, change: str, start: Corner, end: Corner) -> Job:
    """Change the slope over one eave so that its plane meets another eave's plane in a drawn line.

    The line is a ridge (parallel to both eaves), a hip or a valley (through the corner between them). Heights over both
    plates grow with the distance in from the building lines, and the line is where they are equal; the height above
    plate is one for the whole wing, so it plays no part.

    Args:
        job: The job.
        wing_id: The wing.
        keep: Id of the eave whose slope stays.
        change: Id of the eave whose slope is solved.
        start: One end of the line in plan, inches.
        end: The other end.

    Raises:
        EditError: No slope puts the line there; the sentence says why.
    """
    wing = _wing(job, wing_id)
    for name in (keep, change):
        if not any(edge.id == name and edge.kind == "eave" for edge in wing.edges):
            msg = f'"{wing.name}" has no eave "{name}"; a ridge, hip or valley lies between two eaves.'
            raise EditError(msg)
    first, second = (_distances(wing, name, (start, end)) for name in (keep, change))
    slope, plate = _slope_and_plate(wing, keep)
    _, other = _slope_and_plate(wing, change)
    far = max((0, 1), key=lambda k: abs(second[k]))
    if abs(second[far]) < _OFF_IN:
        msg = "The line lies on the eave whose slope is to be solved; draw it further in."
        raise EditError(msg)
    solved = (slope * first[far] + plate - other) / second[far]
    if solved <= 0.0:
        msg = "No slope over 0 brings that plane up to the line; draw the line on the roof, between the two eaves."
        raise EditError(msg)
    near = 1 - far
    miss = (slope * first[near] + plate) - (solved * second[near] + other)
    # What the miss in height is as a shift of the line in plan.
    if abs(miss) / max(slope, solved) > _OFF_IN:
        msg = (
            f"The two planes can't meet in this line: at its other end they would be {abs(miss):.4g} in apart in "
            "height. Draw a ridge parallel to both eaves, a hip or valley through the corner between them."
        )
        raise EditError(msg)
    return set_edge(job, wing_id, change, slope_in_12=12.0 * solved)


def _distances(wing: Wing, edge_id: str, points: Sequence[Corner]) -> list[float]:
    """Level distances of plan points in from an edge's building line."""
    index = next(i for i, edge in enumerate(wing.edges) if edge.id == edge_id)
    (ax, ay), (bx, by) = wing.outline[index], wing.outline[(index + 1) % len(wing.outline)]
    length = math.hypot(bx - ax, by - ay)
    return [((bx - ax) * (y - ay) - (by - ay) * (x - ax)) / length for x, y in points]


def _slope_and_plate(wing: Wing, edge_id: str) -> tuple[float, float]:
    edge = next(edge for edge in wing.edges if edge.id == edge_id)
    slope = wing.slope_in_12 if edge.slope_in_12 is None else edge.slope_in_12
    return slope / 12.0, wing.plate_in if edge.plate_in is None else edge.plate_in


def _wing(job: Job, wing_id: str) -> Wing:
    try:
        return job.wing(wing_id)
    except KeyError:
        msg = f'There is no wing "{wing_id}" in this job.'
        raise EditError(msg) from None


def _split(wing: Wing, split_id: str) -> PlaneSplit:
    for split in wing.splits:
        if split.id == split_id:
            return split
    msg = f'"{wing.name}" has no line "{split_id}".'
    raise EditError(msg)


def _with(job: Job, wing: Wing) -> Job:
    return checked(replace(job, wings=tuple(wing if each.id == wing.id else each for each in job.wings)))
