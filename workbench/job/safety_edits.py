"""Edits of anchors, ground, guards and the other safety settings; pure, like those in ``edits.py``."""

from __future__ import annotations

from typing import Any

from msgspec.structs import replace

from workbench.errors import EditError
from workbench.job.edited import checked, fresh, replaced
from workbench.job.edits import check_plane
from workbench.job.model import Job, Wing
from workbench.job.safety import LEAST_REACH_IN, Anchor, GroundLine, Guard, Safety, ServedFrom


def set_safety(job: Job, **fields: Any) -> Job:
    """Change fields of the safety settings.

    Raises:
        EditError: A value can't be used: a reach under 60 in, own rules without a source.
    """
    reach = fields.get("reach_in", LEAST_REACH_IN)
    if isinstance(reach, int | float) and reach < LEAST_REACH_IN:
        msg = (
            f"A reach of {reach:g} in is under {LEAST_REACH_IN:g} in, which a hand or foot has past the harness; "
            f"give {LEAST_REACH_IN:g} in or more."
        )
        raise EditError(msg)
    return _with(job, replaced(job.safety, fields))


def add_anchor(job: Job, plane: str, *, x_in: float, y_in: float | None = None, **fields: Any) -> tuple[Job, str]:
    """Set an anchor on a plane, on its top edge where ``y_in`` is None; see ``Anchor`` for how it is measured.

    Returns:
        The new job and the anchor's id.

    Raises:
        EditError: There is no such plane, or a value can't be used.
    """
    check_plane(job, plane)
    anchor_id = fresh("A", [anchor.id for anchor in job.safety.anchors])
    try:
        anchor = Anchor(id=anchor_id, plane=plane, x_in=float(x_in), y_in=y_in, **fields)
    except TypeError as error:
        raise EditError(f"{error}.") from None
    return _with(job, replace(job.safety, anchors=(*job.safety.anchors, anchor))), anchor_id


def set_anchor(job: Job, anchor_id: str, **fields: Any) -> Job:
    """Change fields of an anchor.

    Raises:
        EditError: There is no such anchor or plane, or a value can't be used.
    """
    _anchor(job, anchor_id)
    if "plane" in fields:
        check_plane(job, str(fields["plane"]))
    anchors = tuple(replaced(a, fields) if a.id == anchor_id else a for a in job.safety.anchors)
    return _with(job, replace(job.safety, anchors=anchors))


def move_anchor(job: Job, anchor_id: str, *, x_in: float, y_in: float | None = None, plane: str | None = None) -> Job:
    """Put an anchor down elsewhere, on the top edge where ``y_in`` is None. Raises EditError."""
    where: dict[str, Any] = {"x_in": x_in, "y_in": y_in}
    return set_anchor(job, anchor_id, **where, **({} if plane is None else {"plane": plane}))


def remove_anchor(job: Job, anchor_id: str) -> Job:
    """Take an anchor away.

    Raises:
        EditError: There is no such anchor.
    """
    _anchor(job, anchor_id)
    anchors = tuple(anchor for anchor in job.safety.anchors if anchor.id != anchor_id)
    return _with(job, replace(job.safety, anchors=anchors))


def set_ground(job: Job, edge: str, start_in: float, end_in: float | None = None) -> Job:
    """Give the ground line below a drawn edge, level where only one height is given. Raises EditError."""
    _check_edge(job, edge)
    line = replaced(GroundLine(edge=edge), {"start_in": start_in, "end_in": start_in if end_in is None else end_in})
    others = tuple(known for known in job.safety.ground if known.edge != edge)
    return _with(job, replace(job.safety, ground=(*others, line)))


def set_guard(job: Job, edge: str, **fields: Any) -> Job:
    """Put a deck or guardrail along a drawn edge, or change fields of the one that is there.

    Raises:
        EditError: There is no such edge, or a value can't be used.
    """
    _check_edge(job, edge)
    known = next((guard for guard in job.safety.guards if guard.edge == edge), Guard(edge=edge, kind="guardrail"))
    others = tuple(guard for guard in job.safety.guards if guard.edge != edge)
    return _with(job, replace(job.safety, guards=(*others, replaced(known, fields))))


def remove_guard(job: Job, edge: str) -> Job:
    """Take the deck or guardrail of an edge away. Raises EditError."""
    guards = tuple(guard for guard in job.safety.guards if guard.edge != edge)
    if guards == job.safety.guards:
        msg = f'There is no deck or guardrail at "{edge}".'
        raise EditError(msg)
    return _with(job, replace(job.safety, guards=guards))


def set_served_from(job: Job, edge: str, by: str | None) -> Job:
    """Say what serves the strip along an eave; None for nothing yet. Raises EditError."""
    _check_edge(job, edge)
    others = tuple(known for known in job.safety.served_from if known.edge != edge)
    mine = () if by is None else (replaced(ServedFrom(edge=edge, by="ladder"), {"by": by}),)
    return _with(job, replace(job.safety, served_from=(*others, *mine)))


def _with(job: Job, safety: Safety) -> Job:
    return checked(replace(job, safety=safety))


def _anchor(job: Job, anchor_id: str) -> Anchor:
    for anchor in job.safety.anchors:
        if anchor.id == anchor_id:
            return anchor
    msg = f'There is no anchor "{anchor_id}" in this job.'
    raise EditError(msg)


def _check_edge(job: Job, edge: str) -> None:
    wing_id, _, edge_id = edge.partition("/")
    wing: Wing | None = next((known for known in job.wings if known.id == wing_id), None)
    if wing is None or all(known.id != edge_id for known in wing.edges):
        msg = f'There is no drawn edge "{edge}" in this job; name one as wing/edge.'
        raise EditError(msg)
