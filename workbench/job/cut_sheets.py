"""Pieces of sheathing that are cut already: what they are in wood stays as it is, whatever becomes of the job."""

from __future__ import annotations

from typing import Annotated

from msgspec import Meta

from workbench.errors import JobError
from workbench.job.values import Corner, Name, PlaneName, Value

MOST_CUT_SHEETS = 20_000


class CutSheet(Value, frozen=True, kw_only=True):
    """One piece as it was cut.

    Attributes:
        plane: The plane it was cut for.
        label: What the piece was called then, such as ``2C``.
        shape: Its outline as it lies on the roof, seen from above, x along the sheet and y up the slope, inches, from
            the lower left corner of the rectangle round it.
        thickness: Performance category of its sheet, such as ``7/16``.
    """

    plane: PlaneName
    label: Name
    shape: Annotated[tuple[Corner, ...], Meta(min_length=3, max_length=60)]
    thickness: Annotated[str, Meta(max_length=20)] = ""


def check_cut_sheets(cut: tuple[CutSheet, ...]) -> None:
    """Check that no shape is only a line.

    Raises:
        JobError: One sentence with the place and the mend.
    """
    for number, piece in enumerate(cut):
        xs, ys = [x for x, _ in piece.shape], [y for _, y in piece.shape]
        if max(xs) - min(xs) <= 0.0 or max(ys) - min(ys) <= 0.0:
            msg = f'cut_sheets[{number}] ("{piece.label}") has no area; give the outline of the piece, or take it out.'
            raise JobError(msg)
