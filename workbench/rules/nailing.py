"""Nailing schedules of roof panels, and how many nails stand in a line. Inches.

The schedules are data (``resources/rules/nailing.json``), each with its edition and source.
"""

from __future__ import annotations

import math
from functools import cache

import msgspec

from workbench.resources import resource_text

_NOISE_IN = 1e-6


class NailingSchedule(msgspec.Struct, frozen=True, kw_only=True, forbid_unknown_fields=True):
    """How roof panels are nailed to their framing.

    Attributes:
        id: Stable id that jobs name.
        name: What it is, in words.
        edition: Edition of the document, or ``no edition``.
        table: Table it stands in.
        nail: The nails it allows.
        edge_in: Spacing along panel edges on framing.
        field_in: Spacing along supports between them.
        gable_end_in: Field spacing over gable-end framing.
        zone_field_in: Field spacing in the strip along the roof's edges and ridges.
        zone_width_in: Width of that strip; 0 where the schedule has none.
        zone_edge_in: Spacing along panel edges in that strip; None where it is the same as elsewhere.
        note: What else the schedule says.
        source: Where the figures come from; says ``from memory`` where that is all.
    """

    id: str
    name: str
    edition: str
    table: str
    nail: str
    edge_in: float
    field_in: float
    gable_end_in: float
    zone_field_in: float
    zone_width_in: float
    note: str
    source: str
    zone_edge_in: float | None = None


class _Table(msgspec.Struct, frozen=True, kw_only=True, forbid_unknown_fields=True):
    note: str
    edge_distance_in: float
    edge_distance_source: str
    schedules: tuple[NailingSchedule, ...]


@cache
def _table() -> _Table:
    return msgspec.json.decode(resource_text("rules", "nailing.json"), type=_Table)


def nailing_schedules() -> tuple[NailingSchedule, ...]:
    """Every schedule, in the order they are offered."""
    return _table().schedules


def nailing_schedule(schedule_id: str) -> NailingSchedule:
    """The schedule of this id.

    Raises:
        KeyError: There is none.
    """
    for schedule in _table().schedules:
        if schedule.id == schedule_id:
            return schedule
    raise KeyError(schedule_id)


def edge_distance_in() -> float:
    """Least distance of a nail from the panel's edge (common practice, no source)."""
    return _table().edge_distance_in


def edge_distance_source() -> str:
    """Where the distance from the panel's edge comes from."""
    return _table().edge_distance_source


def nails_in_line(length_in: float, spacing_in: float) -> int:
    """Nails in a line with one at each end and none further apart than the spacing.

    A line too short for two nails at the edge distance (length 0 or less) still takes one.

    Args:
        length_in: Distance between the end nails.
        spacing_in: Greatest distance between nails.
    """
    if length_in <= _NOISE_IN:
        return 1
    return max(math.ceil(length_in / spacing_in - _NOISE_IN), 1) + 1
