"""Members that are cut already: what they are in wood stays as it is, whatever becomes of the job.

Each record holds the piece itself, so that it can be told whether it still fits after the job has changed.
"""

from __future__ import annotations

from typing import Annotated, Literal

from msgspec import Meta
from msgspec.structs import replace

from workbench.job.values import Corner, Identifier, Name, PositiveLength, Value

Ring = Annotated[tuple[Corner, ...], Meta(max_length=60)]
Degrees = Annotated[float, Meta(ge=-180.0, le=180.0, description="degrees")]
Pieces = Annotated[int, Meta(ge=1, le=100_000)]


class SawCut(Value, frozen=True, kw_only=True):
    """One cut as it was made: its mitre and bevel off square."""

    name: Name
    angle_deg: Degrees = 0.0
    bevel_deg: Degrees = 0.0


class CutMembers(Value, frozen=True, kw_only=True):
    """Some equal pieces that are cut.

    Attributes:
        mark: The mark they were cut for, as it was called then.
        kind: Kind of the mark.
        section: Its section.
        hand: ``left`` or ``right`` where the mark was needed both ways round.
        count: How many are cut.
        length_in: Length along the top edge.
        profile: Side view as cut, x along the top edge from the lower long point, y square up from the bottom edge.
        top: The top edge seen square on; empty where both ends are square across.
        cuts: Every cut, from the low end up.
    """

    mark: Name
    kind: Identifier
    section: Annotated[str, Meta(min_length=1, max_length=40)]
    hand: Literal["", "left", "right"] = ""
    count: Pieces = 1
    length_in: PositiveLength
    profile: Annotated[Ring, Meta(min_length=3)]
    top: Ring = ()
    cuts: Annotated[tuple[SawCut, ...], Meta(max_length=30)] = ()


def with_cut(known: tuple[CutMembers, ...], record: CutMembers) -> tuple[CutMembers, ...]:
    """The records with some more pieces cut; equal pieces under one."""
    same = [i for i, other in enumerate(known) if replace(other, count=record.count) == record]
    if not same:
        return (*known, record)
    return tuple(
        replace(other, count=other.count + record.count) if i == same[0] else other for i, other in enumerate(known)
    )


def without_cut(known: tuple[CutMembers, ...], index: int, count: int | None = None) -> tuple[CutMembers, ...]:
    """The records with some pieces of one taken back, or all of them.

    Raises:
        IndexError: There is no such record.
    """
    left = 0 if count is None else known[index].count - count
    if left > 0:
        return tuple(replace(other, count=left) if i == index else other for i, other in enumerate(known))
    _ = known[index]
    return tuple(other for i, other in enumerate(known) if i != index)
