"""Planes drawn by hand: a wing that is one plane of its own slope and height, and lines that split a plane.

A wing's planes follow from its eaves. What no outline of eaves gives is said here, and both go with the wing, so that
everything that can be done to a wing (its outline, rafters, overhangs, edges) can be done to it too.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import Annotated, Literal

from msgspec import Meta

from workbench.errors import JobError
from workbench.job.values import Corner, Identifier, Position, SlopeIn12, Value

Meets = Literal["auto", "over", "under"]
Fold = Literal["up", "down"]
SplitSide = Literal["left", "right"]

_SPOT_IN = 1.0 / 64.0  # the drawing lattice


class Single(Value, frozen=True, kw_only=True):
    """One plane given by its slope (the wing's), the way it rises and one level line that is known.

    Attributes:
        uphill_deg: Direction up the slope in plan, degrees anticlockwise from the plan's right.
        line: A plan point on the known level line, which runs square to that direction.
        height_in: Height of the rafters' top edges along the line.
        meets: Where it crosses another roof: the higher one stays (``over``: a valley), the lower one stays (``under``:
            a ridge or hip), or each keeps the side it comes from (``auto``).
    """

    uphill_deg: Annotated[float, Meta(ge=-360.0, le=360.0)]
    line: Corner
    height_in: Position
    meets: Meets = "auto"


class PlaneSplit(Value, frozen=True, kw_only=True):
    """A line that splits a plane in two; the part on one side of it gets a plane of its own.

    Attributes:
        id: Stable id, unique in the wing among splits and edges; the new plane is ``wing/id``.
        edge: What rises as the plane that is split: the edge's id, that id with ``-upper`` for a second slope, or the
            id of an earlier split for the part it made.
        start: One end in plan; the line runs on to the ends of the plane.
        end: The other end.
        side: On which side of the line, seen from start to end, the new plane lies.
        slope_in_12: Slope of the new plane, which turns about the line so that the line holds; None keeps the plane as
            it is, as two planes with sheets of their own.
        fold: Whether the new plane goes ``up`` or ``down`` from the line.
    """

    id: Identifier
    edge: Identifier
    start: Corner
    end: Corner
    side: SplitSide = "left"
    slope_in_12: SlopeIn12 | None = None
    fold: Fold = "up"


def check_splits(place: str, splits: Sequence[PlaneSplit], known: Sequence[str]) -> None:
    """Check the splits of one wing.

    Args:
        place: What to call the wing in the sentence.
        splits: Its splits, in order.
        known: Ids of what its planes rise from, ``-upper`` ones with them.

    Raises:
        JobError: One sentence with the place and the mend.
    """
    ids = list(known)
    for split in splits:
        if split.id in ids:
            msg = f'{place}: the id "{split.id}" stands twice among its edges and splits; give each its own.'
            raise JobError(msg)
        apart = max(abs(a - b) for a, b in zip(split.start, split.end, strict=True))
        if apart < _SPOT_IN:
            msg = f'{place}, split "{split.id}": both ends of the line lie on one spot; draw it longer.'
            raise JobError(msg)
        ids.append(split.id)


def check_single(place: str, *, has_landing: bool, has_profiles: bool) -> None:
    """Check that a plane drawn by hand has nothing that only a wing of eaves can have.

    Raises:
        JobError: One sentence with the place and the mend.
    """
    if has_landing:
        msg = f"{place} is one plane drawn by hand, its slope is given; take its landing away."
        raise JobError(msg)
    if has_profiles:
        msg = f"{place} is one plane drawn by hand; take the second slopes and clips of its edges away."
        raise JobError(msg)
