"""What no single field can say: outlines, matching counts, unique ids, references."""

from __future__ import annotations

import math
from collections.abc import Sequence

from workbench.errors import JobError
from workbench.job.as_built import check_as_built
from workbench.job.costs import check_costs
from workbench.job.cut_sheets import check_cut_sheets
from workbench.job.drying_in import check_drying_in
from workbench.job.hours import check_hours
from workbench.job.lumber import check_lumber
from workbench.job.model import Corner, Edge, Job, Wing
from workbench.job.planes import check_single, check_splits
from workbench.job.safety import check_safety, unique
from workbench.job.screening import check_screening
from workbench.job.values import MAX_LENGTH_IN

_EPS_IN = 1.0 / 64.0  # two drawn points closer than the drawing lattice are one point


def check_job(job: Job) -> None:
    """Check a whole job.

    Raises:
        JobError: One sentence with the place and the mend.
    """
    unique("wings", [wing.id for wing in job.wings])
    for wing in job.wings:
        check_wing(wing)
    unique("openings", [opening.id for opening in job.openings])
    for opening in job.openings:
        if opening.cricket is not None and opening.kind != "chimney":
            msg = (
                f'opening "{opening.id}" is a skylight, but has a cricket; make it a chimney, or take the cricket away.'
            )
            raise JobError(msg)
    if job.sheathing.least_in > job.sheathing.panel_width_in / 2.0:
        msg = (
            f"sheathing.least_in is {job.sheathing.least_in:g} in, more than half the panel width "
            f"({job.sheathing.panel_width_in:g} in), so a leftover could not be split; give half of it or less."
        )
        raise JobError(msg)
    starts = [bracket.from_in_12 for bracket in job.brackets]
    if any(b <= a for a, b in zip(starts, starts[1:], strict=False)):
        msg = "brackets: each price bracket has to start at a steeper slope than the one before; put them in order."
        raise JobError(msg)
    unique("plane_choices", [choice.plane for choice in job.plane_choices])
    check_safety(job.safety)
    check_screening(job.screening)
    check_drying_in(job.drying_in)
    check_lumber(job.lumber)
    check_cut_sheets(job.cut_sheets)
    check_as_built(job.site.as_built)
    check_costs(job.costs)
    check_hours(job.hours)
    _check_alternatives(job)


def _check_alternatives(job: Job) -> None:
    unique("alternatives", [alternative.id for alternative in job.alternatives])
    for alternative in job.alternatives:
        if alternative.snapshot is None:
            continue
        place = f'alternative "{alternative.id}", snapshot'
        if alternative.snapshot.alternatives:
            msg = f"{place}: it holds alternatives of its own; a snapshot is one design, take them out."
            raise JobError(msg)
        try:
            check_job(alternative.snapshot)
        except JobError as error:
            raise JobError(f"{place}: {error}") from None


def check_wing(wing: Wing) -> None:
    """Check one wing.

    Raises:
        JobError: One sentence with the place and the mend.
    """
    place = f'wing "{wing.id}"'
    if len(wing.edges) != len(wing.outline):
        msg = f"{place} has {len(wing.outline)} corners but {len(wing.edges)} edges; give one edge for each corner."
        raise JobError(msg)
    uppers = [edge.upper_id for edge in wing.edges if edge.upper_id is not None]
    unique(f"{place}, edges", [*(edge.id for edge in wing.edges), *uppers])
    check_outline(wing.outline, place)
    if not any(edge.kind == "eave" for edge in wing.edges):
        msg = f"{place} has no eave, so no plane rises from it; make at least one edge an eave."
        raise JobError(msg)
    for edge in wing.edges:
        _check_profile(edge, f'{place}, edge "{edge.id}"')
    check_splits(place, wing.splits, [*(edge.id for edge in wing.edges), *uppers])
    if wing.single is not None:
        odd = any(edge.upper is not None or edge.clip_height_in is not None for edge in wing.edges)
        check_single(place, has_landing=wing.landing is not None, has_profiles=odd)


def _check_profile(edge: Edge, place: str) -> None:
    """What stands at an edge of another kind has no meaning there, so it is refused and not dropped."""
    if edge.upper is not None and edge.kind != "eave":
        msg = f"{place} is a {edge.kind}, but has a second slope; make it an eave, or take its second slope away."
        raise JobError(msg)
    if edge.clip_height_in is not None and edge.kind != "rake":
        what = "an eave" if edge.kind == "eave" else "a wall"
        msg = f"{place} is {what}, but is clipped as a gable; make it a rake, or take the clip away."
        raise JobError(msg)


def check_outline(outline: Sequence[Corner], place: str) -> None:
    """Check that corners form one simple anticlockwise polygon.

    Args:
        outline: Corners, inches.
        place: What to call the outline in the sentence.

    Raises:
        JobError: One sentence with the place and the mend.
    """
    for number, corner in enumerate(outline, start=1):
        if not all(math.isfinite(value) and abs(value) <= MAX_LENGTH_IN for value in corner):
            msg = f"{place}, corner {number} lies at {corner}; give two ordinary lengths."
            raise JobError(msg)
    if len(outline) < 3:
        msg = f"{place} has {len(outline)} corners; an outline needs at least three."
        raise JobError(msg)
    count = len(outline)
    for i in range(count):
        if math.dist(outline[i], outline[(i + 1) % count]) < _EPS_IN:
            msg = f"{place}: corners {i + 1} and {(i + 1) % count + 1} lie on one spot; remove one of them."
            raise JobError(msg)
    crossing = _first_crossing(outline)
    if crossing is not None:
        i, j = crossing
        msg = (
            f"{place}: the outline crosses itself, edge {i + 1} meets edge {j + 1}; "
            "move a corner so that edges meet only at their ends."
        )
        raise JobError(msg)
    if signed_area(outline) <= 0.0:
        msg = f"{place}: the corners run clockwise; list them anticlockwise as seen from above."
        raise JobError(msg)


def signed_area(outline: Sequence[Corner]) -> float:
    """Area of the polygon, square inches; negative when its corners run clockwise."""
    return sum(a[0] * b[1] - b[0] * a[1] for a, b in zip(outline, [*outline[1:], outline[0]], strict=True)) / 2.0


def _first_crossing(outline: Sequence[Corner]) -> tuple[int, int] | None:
    count = len(outline)
    sides = [(outline[i], outline[(i + 1) % count]) for i in range(count)]
    for i in range(count):
        for j in range(i + 1, count):
            if j == i + 1 or (i == 0 and j == count - 1):
                if _folds_back(sides[i], sides[j], shared_end=j == i + 1):
                    return i, j
            elif _touch(*sides[i], *sides[j]):
                return i, j
    return None


def _folds_back(first: tuple[Corner, Corner], second: tuple[Corner, Corner], *, shared_end: bool) -> bool:
    a, b, c = (first[0], first[1], second[1]) if shared_end else (second[0], second[1], first[1])
    along = (b[0] - a[0]) * (c[0] - b[0]) + (b[1] - a[1]) * (c[1] - b[1])
    return abs(_turn(a, b, c)) <= _EPS_IN * math.dist(a, b) and along < 0.0


def _turn(a: Corner, b: Corner, c: Corner) -> float:
    return (b[0] - a[0]) * (c[1] - a[1]) - (b[1] - a[1]) * (c[0] - a[0])


def _touch(p: Corner, q: Corner, r: Corner, s: Corner) -> bool:
    d1, d2, d3, d4 = _turn(r, s, p), _turn(r, s, q), _turn(p, q, r), _turn(p, q, s)
    if d1 * d2 < 0.0 and d3 * d4 < 0.0:
        return True
    return any(
        d == 0.0 and _within(point, ends)
        for d, point, ends in ((d1, p, (r, s)), (d2, q, (r, s)), (d3, r, (p, q)), (d4, s, (p, q)))
    )


def _within(point: Corner, ends: tuple[Corner, Corner]) -> bool:
    (ax, ay), (bx, by) = ends
    return min(ax, bx) <= point[0] <= max(ax, bx) and min(ay, by) <= point[1] <= max(ay, by)
