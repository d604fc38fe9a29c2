"""Edits of loads, limits, headroom points and connectors; pure, like those in ``edits.py``."""

from __future__ import annotations

from typing import Any

from msgspec.structs import replace

from workbench.errors import EditError
from workbench.job.edited import checked, fresh, replaced
from workbench.job.model import Job
from workbench.job.screening import Connector, HeadroomPoint, Screening, Snow, WingLimits


def set_screening(job: Job, **fields: Any) -> Job:
    """Change fields of the loads and limits. Raises EditError."""
    return _with(job, replaced(job.screening, fields))


def set_snow(job: Job, **fields: Any) -> Job:
    """Give snow, or change its factors. Raises EditError."""
    known = job.screening.snow or Snow(ground_psf=0.0)
    return set_screening(job, snow=replaced(known, fields))


def set_wing_limits(job: Job, wing_id: str, **fields: Any) -> Job:
    """Change what differs in one wing; a wing in which nothing differs any more is left out.

    Raises:
        EditError: There is no such wing, or a value can't be used.
    """
    if all(wing.id != wing_id for wing in job.wings):
        msg = f'There is no wing "{wing_id}" in this job.'
        raise EditError(msg)
    mine = replaced(job.screening.of_wing(wing_id), fields)
    others = tuple(limits for limits in job.screening.wings if limits.wing != wing_id)
    kept = (*others, mine) if mine != WingLimits(wing=wing_id) else others
    return set_screening(job, wings=kept)


def add_headroom(job: Job, *, x_in: float, y_in: float, **fields: Any) -> tuple[Job, str]:
    """Add a point to stand upright at. Returns the new job and the point's id. Raises EditError."""
    name = fresh("H", [point.id for point in job.screening.headroom])
    point = replaced(HeadroomPoint(id=name, x_in=float(x_in), y_in=float(y_in)), fields)
    return set_screening(job, headroom=(*job.screening.headroom, point)), name


def set_headroom(job: Job, point_id: str, **fields: Any) -> Job:
    """Change a headroom point. Raises EditError."""
    _known("headroom point", point_id, [point.id for point in job.screening.headroom])
    points = tuple(replaced(p, fields) if p.id == point_id else p for p in job.screening.headroom)
    return set_screening(job, headroom=points)


def remove_headroom(job: Job, point_id: str) -> Job:
    """Take a headroom point away. Raises EditError."""
    _known("headroom point", point_id, [point.id for point in job.screening.headroom])
    return set_screening(job, headroom=tuple(p for p in job.screening.headroom if p.id != point_id))


def add_connector(job: Job, name: str, **fields: Any) -> tuple[Job, str]:
    """Add hardware that was called for. Returns the new job and its id. Raises EditError."""
    key = fresh("C", [connector.id for connector in job.screening.connectors])
    connector = replaced(Connector(id=key, name=name), fields)
    return set_screening(job, connectors=(*job.screening.connectors, connector)), key


def set_connector(job: Job, connector_id: str, **fields: Any) -> Job:
    """Change hardware that was called for. Raises EditError."""
    _known("connector", connector_id, [connector.id for connector in job.screening.connectors])
    found = tuple(replaced(c, fields) if c.id == connector_id else c for c in job.screening.connectors)
    return set_screening(job, connectors=found)


def remove_connector(job: Job, connector_id: str) -> Job:
    """Take hardware away. Raises EditError."""
    _known("connector", connector_id, [connector.id for connector in job.screening.connectors])
    return set_screening(job, connectors=tuple(c for c in job.screening.connectors if c.id != connector_id))


def _known(what: str, wanted: str, ids: list[str]) -> None:
    if wanted not in ids:
        msg = f'There is no {what} "{wanted}" in this job.'
        raise EditError(msg)


def _with(job: Job, screening: Screening) -> Job:
    return checked(replace(job, screening=screening))
