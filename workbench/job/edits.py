"""Edits: pure functions from a job to a new one.

Each takes the job and what to change, checks the result as strictly as the reader does, and raises ``EditError`` with
one sentence when it can't be; the job given stays as it was.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence
from typing import Any

from msgspec.structs import replace

from workbench.errors import EditError
from workbench.job.as_built import unmeasured_wing
from workbench.job.drying_in import vented_without
from workbench.job.edited import checked, fresh, replaced
from workbench.job.model import (
    Corner,
    Edge,
    Job,
    Landing,
    Opening,
    OpeningKind,
    OutlineKind,
    PlaneChoice,
    Wing,
)
from workbench.job.safety import without_wing
from workbench.job.screening import without_wing as unscreened_wing
from workbench.job.validate import signed_area


def add_wing(
    job: Job,
    outline: Sequence[Corner],
    kinds: Sequence[OutlineKind],
    name: str | None = None,
    **fields: Any,
) -> tuple[Job, str]:
    """Add a wing; its corners may run either way round.

    Args:
        job: The job.
        outline: Corners of the building line, inches.
        kinds: Kind of each edge, edge i from corner i to corner i + 1.
        name: What to call it; one is made up when it is None.
        **fields: Other fields of the wing.

    Returns:
        The new job and the new wing's id.

    Raises:
        EditError: The outline or a field can't be used.
    """
    if len(kinds) != len(outline):
        msg = f"The outline has {len(outline)} corners but {len(kinds)} edge kinds; give one for each."
        raise EditError(msg)
    corners = [(float(x), float(y)) for x, y in outline]
    edge_kinds = list(kinds)
    if len(corners) >= 3 and signed_area(corners) < 0.0:
        corners.reverse()
        edge_kinds = edge_kinds[-2::-1] + edge_kinds[-1:]
    wing_id = fresh("wing", [wing.id for wing in job.wings])
    title = name or ("main" if not job.wings else wing_id.replace("-", " "))
    edges = tuple(Edge(id=f"e{i}", kind=kind) for i, kind in enumerate(edge_kinds, start=1))
    try:
        wing = Wing(id=wing_id, name=title, outline=tuple(corners), edges=edges, **fields)
    except TypeError as error:
        raise EditError(f"{error}.") from None
    return checked(replace(job, wings=(*job.wings, wing))), wing_id


def remove_wing(job: Job, wing_id: str) -> Job:
    """Take a wing away, with all that stands on its planes and edges and the choices made for them.

    Raises:
        EditError: There is no such wing.
    """
    _wing(job, wing_id)
    wings = tuple(wing for wing in job.wings if wing.id != wing_id)
    openings = tuple(opening for opening in job.openings if not opening.plane.startswith(f"{wing_id}/"))
    choices = tuple(choice for choice in job.plane_choices if not choice.plane.startswith(f"{wing_id}/"))
    safety = without_wing(job.safety, wing_id)
    job = replace(job, screening=unscreened_wing(job.screening, wing_id))
    job = replace(job, drying_in=vented_without(job.drying_in, wing_id))
    site = replace(job.site, as_built=unmeasured_wing(job.site.as_built, wing_id))
    return checked(replace(job, wings=wings, openings=openings, plane_choices=choices, safety=safety, site=site))


def set_wing(job: Job, wing_id: str, **fields: Any) -> Job:
    """Change fields of a wing.

    Raises:
        EditError: A value can't be used.
    """
    return _change_wing(job, wing_id, lambda wing: replaced(wing, fields))


def set_edge(job: Job, wing_id: str, edge_id: str, **fields: Any) -> Job:
    """Change fields of one drawn edge. A second slope or a clip goes when the edge becomes of a kind that has none.

    Raises:
        EditError: A value can't be used, or no eave would be left.
    """
    index = _edge_index(_wing(job, wing_id), edge_id)
    lost: dict[str, Any] = {}
    if fields.get("kind", "eave") != "eave":
        lost["upper"] = None
    if fields.get("kind", "rake") != "rake":
        lost["clip_height_in"] = None

    def change(wing: Wing) -> Wing:
        edges = list(wing.edges)
        edges[index] = replaced(edges[index], {**lost, **fields})
        return replace(wing, edges=tuple(edges))

    return _change_wing(job, wing_id, change)


def set_heel(job: Job, wing_id: str, **fields: Any) -> Job:
    """Change how a wing's rafters sit on the low plate. Raises EditError."""
    return _change_wing(job, wing_id, lambda wing: replace(wing, heel=replaced(wing.heel, fields)))


def set_rafter(job: Job, wing_id: str, **fields: Any) -> Job:
    """Change a wing's rafter stock or layout. Raises EditError."""
    return _change_wing(job, wing_id, lambda wing: replace(wing, rafter=replaced(wing.rafter, fields)))


def set_ridge(job: Job, wing_id: str, **fields: Any) -> Job:
    """Change a wing's ridge board. Raises EditError."""
    return _change_wing(job, wing_id, lambda wing: replace(wing, ridge=replaced(wing.ridge, fields)))


def set_hips(job: Job, wing_id: str, **fields: Any) -> Job:
    """Change a wing's hip and valley rafters. Raises EditError."""
    return _change_wing(job, wing_id, lambda wing: replace(wing, hips=replaced(wing.hips, fields)))


def set_trim(job: Job, wing_id: str, **fields: Any) -> Job:
    """Change a wing's fascia, lookouts, blocks or ties. Raises EditError."""
    return _change_wing(job, wing_id, lambda wing: replace(wing, trim=replaced(wing.trim, fields)))


def set_landing(job: Job, wing_id: str, **fields: Any) -> Job:
    """Change where a wing's rafters must land, beginning one where there is none. Raises EditError."""
    return _change_wing(job, wing_id, lambda wing: replace(wing, landing=replaced(wing.landing or Landing(), fields)))


def clear_landing(job: Job, wing_id: str) -> Job:
    """Give the slope itself instead of a landing. Raises EditError."""
    return _change_wing(job, wing_id, lambda wing: replace(wing, landing=None))


def move_corner(job: Job, wing_id: str, index: int, to: Corner) -> Job:
    """Move one corner of a wing's outline. Raises EditError."""

    def change(wing: Wing) -> Wing:
        corners = list(wing.outline)
        corners[index] = (float(to[0]), float(to[1]))
        return replace(wing, outline=tuple(corners))

    return _change_wing(job, wing_id, change)


def move_edge(job: Job, wing_id: str, edge_id: str, distance_in: float) -> Job:
    """Move an edge parallel to itself, outwards when positive, its corners sliding along the neighbouring edges.

    Raises:
        EditError: The outline would cross itself or an edge would vanish.
    """
    index = _edge_index(_wing(job, wing_id), edge_id)
    return _change_wing(job, wing_id, lambda wing: replace(wing, outline=moved_edge(wing.outline, index, distance_in)))


def moved_edge(outline: Sequence[Corner], index: int, distance_in: float) -> tuple[Corner, ...]:
    """The outline with edge ``index`` moved outwards by a distance, neighbours keeping their directions."""
    count = len(outline)
    a, b = outline[index], outline[(index + 1) % count]
    length = math.dist(a, b)
    direction = ((b[0] - a[0]) / length, (b[1] - a[1]) / length)
    outward = (direction[1], -direction[0])
    moved = list(outline)
    moved[index] = _slide(a, outline[index - 1], outward, distance_in)
    moved[(index + 1) % count] = _slide(b, outline[(index + 2) % count], outward, distance_in)
    return tuple(moved)


def add_opening(
    job: Job,
    plane: str,
    *,
    x_in: float,
    y_in: float,
    width_in: float,
    length_in: float,
    kind: OpeningKind = "skylight",
) -> tuple[Job, str]:
    """Add a skylight or chimney; see ``Opening`` for how it is measured.

    Returns:
        The new job and the opening's id.

    Raises:
        EditError: There is no such plane, or a measure can't be used.
    """
    check_plane(job, plane)
    opening_id = fresh(kind, [opening.id for opening in job.openings if opening.id.startswith(kind)])
    opening = Opening(
        id=opening_id, plane=plane, x_in=x_in, y_in=y_in, width_in=width_in, length_in=length_in, kind=kind
    )
    return checked(replace(job, openings=(*job.openings, opening))), opening_id


def set_opening(job: Job, opening_id: str, **fields: Any) -> Job:
    """Change fields of an opening; a cricket goes when it becomes a skylight.

    Raises:
        EditError: There is no such opening or plane, or a value can't be used.
    """
    _opening(job, opening_id)
    if fields.get("kind", "chimney") != "chimney":
        fields = {"cricket": None, **fields}
    if "plane" in fields:
        check_plane(job, str(fields["plane"]))
    openings = tuple(replaced(o, fields) if o.id == opening_id else o for o in job.openings)
    return checked(replace(job, openings=openings))


def remove_opening(job: Job, opening_id: str) -> Job:
    """Close an opening.

    Raises:
        EditError: There is no such opening.
    """
    _opening(job, opening_id)
    return checked(replace(job, openings=tuple(o for o in job.openings if o.id != opening_id)))


def set_sheathing(job: Job, **fields: Any) -> Job:
    """Change the sheets or the rules they are laid by. Raises EditError."""
    return checked(replace(job, sheathing=replaced(job.sheathing, fields)))


def choose_for_plane(job: Job, plane_id: str, **fields: Any) -> Job:
    """Change what differs on one plane; a choice with nothing left in it goes. Raises EditError."""
    found = next((choice for choice in job.plane_choices if choice.plane == plane_id), PlaneChoice(plane=plane_id))
    changed = replaced(found, fields)
    others = tuple(choice for choice in job.plane_choices if choice.plane != plane_id)
    kept = () if changed == PlaneChoice(plane=plane_id) else (changed,)
    return checked(replace(job, plane_choices=(*others, *kept)))


def set_job(job: Job, **fields: Any) -> Job:
    """Change fields of the job itself: name, note, date, revision, units, brackets, fastening. Raises EditError."""
    return checked(replaced(job, fields))


def _change_wing(job: Job, wing_id: str, change: Callable[[Wing], Wing]) -> Job:
    wing = _wing(job, wing_id)
    changed = change(wing)
    return checked(replace(job, wings=tuple(changed if w.id == wing_id else w for w in job.wings)))


def _wing(job: Job, wing_id: str) -> Wing:
    try:
        return job.wing(wing_id)
    except KeyError:
        msg = f'There is no wing "{wing_id}" in this job.'
        raise EditError(msg) from None


def _opening(job: Job, opening_id: str) -> Opening:
    for opening in job.openings:
        if opening.id == opening_id:
            return opening
    msg = f'There is no opening "{opening_id}" in this job.'
    raise EditError(msg)


def check_plane(job: Job, plane: str) -> None:
    """Refuse a plane that no edge of the drawing bears.

    Raises:
        EditError: There is no such wing or edge, or no plane rises from it.
    """
    wing_id, _, edge_id = plane.partition("/")
    wing = _wing(job, wing_id)
    if any(edge.upper_id == edge_id for edge in wing.edges) or any(split.id == edge_id for split in wing.splits):
        return
    if not wing.edges[_edge_index(wing, edge_id)].bears_plane:
        msg = f'Edge "{edge_id}" of wing "{wing_id}" is no eave, so no plane rises from it; name an eave.'
        raise EditError(msg)


def _edge_index(wing: Wing, edge_id: str) -> int:
    for index, edge in enumerate(wing.edges):
        if edge.id == edge_id:
            return index
    msg = f'Wing "{wing.id}" has no edge "{edge_id}".'
    raise EditError(msg)


def _slide(corner: Corner, neighbour: Corner, outward: Corner, distance_in: float) -> Corner:
    """The corner moved along the line to its neighbour until it is ``distance_in`` further out."""
    dx, dy = corner[0] - neighbour[0], corner[1] - neighbour[1]
    length = math.hypot(dx, dy)
    rate = (dx * outward[0] + dy * outward[1]) / length if length else 0.0
    if abs(rate) < 1e-6:  # the neighbour runs along the edge: move square to the edge instead
        return corner[0] + outward[0] * distance_in, corner[1] + outward[1] * distance_in
    step = distance_in / rate
    return corner[0] + dx / length * step, corner[1] + dy / length * step
