"""Edits of the plan page under the drawing; pure, like those in ``edits.py``. Inches and radians."""

from __future__ import annotations

import math
import os
from pathlib import Path, PurePath
from typing import Any

from msgspec.structs import replace

from workbench.errors import EditError
from workbench.job.edited import checked, replaced
from workbench.job.model import Job
from workbench.job.underlay import Underlay
from workbench.job.values import Corner

_LEAST_IN = 1e-6


def lay_underlay(job: Job, path: str, **fields: Any) -> Job:
    """Lay a page under the drawing, in the place of the one that was there. Raises EditError."""
    return checked(replace(job, underlay=replaced(Underlay(path=path), fields)))


def remove_underlay(job: Job) -> Job:
    """Take the page away; the file stays. Raises EditError."""
    return checked(replace(job, underlay=None))


def set_underlay(job: Job, **fields: Any) -> Job:
    """Change fields of the page under the drawing.

    Raises:
        EditError: There is none, or a value can't be used.
    """
    return checked(replace(job, underlay=replaced(_underlay(job), fields)))


def move_underlay(job: Job, by: Corner) -> Job:
    """Move the page. Raises EditError."""
    under = _underlay(job)
    return set_underlay(job, x_in=under.x_in + by[0], y_in=under.y_in + by[1])


def scale_underlay(job: Job, a: Corner, b: Corner, distance_in: float) -> Job:
    """Scale the page so that two points of it are a known distance apart; the first stays where it is.

    Raises:
        EditError: The points lie on one spot, the distance is none, or the scale can't be kept.
    """
    under = _underlay(job)
    apart = math.dist(a, b)
    if apart < _LEAST_IN:
        msg = "The two points lie on one spot; choose two points that are far apart on the page."
        raise EditError(msg)
    if not distance_in > 0.0:
        msg = "The distance has to be over 0; write a length like 24' 6\"."
        raise EditError(msg)
    by = distance_in / apart
    x, y = a[0] + (under.x_in - a[0]) * by, a[1] + (under.y_in - a[1]) * by
    return set_underlay(job, scale_in=under.scale_in * by, x_in=x, y_in=y)


def turn_underlay(job: Job, a: Corner, b: Corner) -> Job:
    """Turn the page about its point ``a`` until the line to ``b`` runs level or upright, whichever is nearer.

    Raises:
        EditError: The points lie on one spot.
    """
    if math.dist(a, b) < _LEAST_IN:
        msg = "The two points lie on one spot; choose two points along a wall."
        raise EditError(msg)
    direction = math.atan2(b[1] - a[1], b[0] - a[0])
    quarter = math.pi / 2.0
    return _turned(job, a, round(direction / quarter) * quarter - direction)


def _turned(job: Job, about: Corner, angle: float) -> Job:
    under = _underlay(job)
    dx, dy = under.x_in - about[0], under.y_in - about[1]
    cos, sin = math.cos(angle), math.sin(angle)
    turn = (under.turn_deg + math.degrees(angle) + 180.0) % 360.0 - 180.0
    return set_underlay(
        job, x_in=about[0] + dx * cos - dy * sin, y_in=about[1] + dx * sin + dy * cos, turn_deg=round(turn, 9)
    )


def beside(job: Job, folder: Path) -> Job:
    """The job with the way to its page told from a folder, for a file that is kept there."""
    under = job.underlay
    if under is None or not Path(under.path).is_absolute():
        return job
    try:
        path = PurePath(os.path.relpath(under.path, folder.absolute())).as_posix()
    except ValueError:
        return job  # on another drive
    return replace(job, underlay=replace(under, path=path))


def found_from(job: Job, folder: Path) -> Job:
    """The job with the whole way to its page, as read from a file in a folder."""
    under = job.underlay
    if under is None or Path(under.path).is_absolute():
        return job
    path = PurePath(os.path.normpath(folder.absolute() / under.path)).as_posix()
    return replace(job, underlay=replace(under, path=path))


def _underlay(job: Job) -> Underlay:
    if job.underlay is None:
        msg = "There is no page under the drawing; lay one there first."
        raise EditError(msg)
    return job.underlay
