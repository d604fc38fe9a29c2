"""Roof coverings: the least slope each may be laid on, and below which slope its underlayment is doubled."""

from __future__ import annotations

from functools import cache

import msgspec

from workbench.resources import resource_text


class Covering(msgspec.Struct, frozen=True, kw_only=True, forbid_unknown_fields=True):
    """One covering; slopes in inches of rise in 12.

    Attributes:
        id: Stable id that jobs name.
        name: In words.
        least_in_12: Least slope.
        double_below_in_12: Below this slope the underlayment is doubled; 0 where the rule has no such limit.
        source: Where the figures come from.
    """

    id: str
    name: str
    least_in_12: float
    double_below_in_12: float
    source: str


class _Table(msgspec.Struct, frozen=True, kw_only=True, forbid_unknown_fields=True):
    note: str
    coverings: tuple[Covering, ...]


@cache
def coverings() -> tuple[Covering, ...]:
    """Every covering, in the order they are offered."""
    return msgspec.json.decode(resource_text("rules", "coverings.json"), type=_Table).coverings


def covering(covering_id: str) -> Covering:
    """The covering of this id.

    Raises:
        KeyError: There is none.
    """
    for known in coverings():
        if known.id == covering_id:
            return known
    raise KeyError(covering_id)
