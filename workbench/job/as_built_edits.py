"""Edits of what was measured on site, and taking it over into the drawing; pure, like those in ``edits.py``."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any

from msgspec.structs import replace

from workbench.errors import EditError
from workbench.job.as_built import AsBuilt, PlaneMeasured, PlateMeasured, Taped, unmeasured_wing
from workbench.job.edited import checked, replaced
from workbench.job.edits import set_edge, set_wing
from workbench.job.model import Corner, Edge, Job, Wing
from workbench.job.site import GableWalls


def set_site(job: Job, **fields: Any) -> Job:
    """Change where props stand or from which end the layout stick runs. Raises EditError."""
    return checked(replace(job, site=replaced(job.site, fields)))


def set_gable_walls(job: Job, wing_id: str, **fields: Any) -> Job:
    """Change a wing's gable walls, beginning them where there are none. Raises EditError."""
    wing = _wing(job, wing_id)
    return set_wing(job, wing_id, gable_walls=replaced(wing.gable_walls or GableWalls(), fields))


def measure_plate(job: Job, wing_id: str, edge_id: str, **fields: float | None) -> Job:
    """Note the plate's height at an end of an eave (``left_in``, ``right_in``); None takes the reading away.

    Raises:
        EditError: There is no such eave, or a value can't be used.
    """
    edge = _edge(_wing(job, wing_id), edge_id)
    if edge.kind != "eave":
        msg = f'Edge "{edge_id}" of wing "{wing_id}" is no eave, so no rafter sits on its plate; name an eave.'
        raise EditError(msg)
    name = f"{wing_id}/{edge_id}"
    as_built = job.site.as_built
    changed = replaced(as_built.plate(name) or PlateMeasured(edge=name), dict(fields))
    plates = tuple(plate for plate in as_built.plates if plate.edge != name)
    if changed.left_in is not None or changed.right_in is not None:
        plates = (*plates, changed)
    return _with(job, replace(as_built, plates=plates))


def measure_corner(job: Job, wing_id: str, index: int, height_in: float | None) -> Job:
    """Note the plate's height at one corner, for every eave that ends there; None takes the reading away.

    Raises:
        EditError: No eave ends at that corner, or the plates of the two that do are drawn at different heights.
    """
    wing = _wing(job, wing_id)
    count = len(wing.edges)
    sides = [(wing.edges[index % count], "left_in"), (wing.edges[(index - 1) % count], "right_in")]
    eaves = [(edge, end) for edge, end in sides if edge.kind == "eave"]
    if not eaves:
        msg = f'No eave ends at corner {index % count + 1} of wing "{wing_id}"; measure the plate where rafters sit.'
        raise EditError(msg)
    drawn = {wing.plate_in if edge.plate_in is None else edge.plate_in for edge, _ in eaves}
    if len(drawn) > 1:
        msg = (
            f'At corner {index % count + 1} of wing "{wing_id}" two plates meet at different heights; give the '
            "height for each eave."
        )
        raise EditError(msg)
    for edge, end in eaves:
        job = measure_plate(job, wing_id, edge.id, **{end: height_in})
    return job


def tape(job: Job, wing_id: str, start: str, end: str, length_in: float | None) -> Job:
    """Note a length between two corners, each named by the edge that begins there; None takes it away.

    Raises:
        EditError: There is no such corner, or the length can't be used.
    """
    wing = _wing(job, wing_id)
    for corner in (start, end):
        _edge(wing, corner)
    as_built = job.site.as_built
    ends = {start, end}
    tapes = tuple(t for t in as_built.tapes if t.wing != wing_id or {t.start, t.end} != ends)
    if length_in is not None:
        tapes = (*tapes, Taped(wing=wing_id, start=start, end=end, length_in=float(length_in)))
    return _with(job, replace(as_built, tapes=tapes))


def measure_plane(job: Job, plane_id: str, **fields: float | None) -> Job:
    """Note a plane's length along its left or right end (``left_in``, ``right_in``); None takes the reading away.

    Raises:
        EditError: There is no such wing, or a value can't be used.
    """
    _wing(job, plane_id.partition("/")[0])
    as_built = job.site.as_built
    changed = replaced(as_built.plane(plane_id) or PlaneMeasured(plane=plane_id), dict(fields))
    planes = tuple(plane for plane in as_built.planes if plane.plane != plane_id)
    if changed.left_in is not None or changed.right_in is not None:
        planes = (*planes, changed)
    return _with(job, replace(as_built, planes=planes))


def clear_as_built(job: Job, wing_id: str | None = None) -> Job:
    """Take all readings away, or those of one wing."""
    return _with(job, AsBuilt() if wing_id is None else unmeasured_wing(job.site.as_built, wing_id))


def take_over_plates(job: Job, wing_id: str, plates_in: Mapping[str, float]) -> Job:
    """Draw the eaves of a wing at other plate heights; the roof over them moves with them.

    Args:
        job: The job.
        wing_id: The wing.
        plates_in: Plate heights by the id of the eave.

    Raises:
        EditError: There is no such eave, or a height can't be used.
    """
    wing = _wing(job, wing_id)
    eaves = [edge for edge in wing.edges if edge.kind == "eave"]
    for edge_id in plates_in:
        _edge(wing, edge_id)
    heights = {edge.id: float(plates_in.get(edge.id, _plate(wing, edge))) for edge in eaves}
    if len(set(heights.values())) == 1:
        # One height for all: the wing's own, which its gables and clips stand on too.
        job = set_wing(job, wing_id, plate_in=next(iter(heights.values())))
        for edge in eaves:
            if edge.plate_in is not None:
                job = set_edge(job, wing_id, edge.id, plate_in=None)
        return job
    for edge in eaves:
        if heights[edge.id] != _plate(wing, edge):
            job = set_edge(job, wing_id, edge.id, plate_in=heights[edge.id])
    return job


def take_over_outline(job: Job, wing_id: str, outline: Sequence[Corner]) -> Job:
    """Draw a wing's building line as it was found on site.

    Raises:
        EditError: The number of corners differs, or the outline can't be used.
    """
    wing = _wing(job, wing_id)
    if len(outline) != len(wing.outline):
        msg = f'The outline has {len(outline)} corners, wing "{wing_id}" has {len(wing.outline)}; give one for each.'
        raise EditError(msg)
    return set_wing(job, wing_id, outline=tuple((float(x), float(y)) for x, y in outline))


def _with(job: Job, as_built: AsBuilt) -> Job:
    return checked(replace(job, site=replace(job.site, as_built=as_built)))


def _plate(wing: Wing, edge: Edge) -> float:
    return wing.plate_in if edge.plate_in is None else edge.plate_in


def _wing(job: Job, wing_id: str) -> Wing:
    try:
        return job.wing(wing_id)
    except KeyError:
        msg = f'There is no wing "{wing_id}" in this job.'
        raise EditError(msg) from None


def _edge(wing: Wing, edge_id: str) -> Edge:
    for edge in wing.edges:
        if edge.id == edge_id:
            return edge
    msg = f'Wing "{wing.id}" has no edge "{edge_id}".'
    raise EditError(msg)
