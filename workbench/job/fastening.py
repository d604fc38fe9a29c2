"""How sheets are nailed."""

from __future__ import annotations

from typing import Annotated

from msgspec import Meta

from workbench.job.values import Identifier, Length, PositiveLength, Value


class Fastening(Value, frozen=True, kw_only=True):
    """How the sheets are nailed, and how nails are bought.

    Attributes:
        schedule: Nailing schedule, by its id in the rule tables.
        box_of: Nails in a box or coil; None where they are not counted in boxes.
        zone_in: Width of the strip along eaves, rakes and ridges that is nailed closer; None as the schedule says.
        zone_spacing_in: Spacing in that strip at most, in the field and along edges; None as the schedule says.
    """

    schedule: Identifier = "irc-2021"
    box_of: Annotated[int, Meta(ge=1, le=100_000)] | None = None
    zone_in: Length | None = None
    zone_spacing_in: PositiveLength | None = None
