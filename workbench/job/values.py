"""What the values of a job document are made of: their base and the ranges of plain numbers and names."""

from __future__ import annotations

from typing import Annotated

from msgspec import Meta, Struct

MAX_PRICE = 1e9
MAX_LENGTH_IN = 12_000.0  # 1,000 ft: past this a figure is a slip of the keyboard, not a house

Length = Annotated[float, Meta(ge=0.0, le=MAX_LENGTH_IN, description="inches")]
PositiveLength = Annotated[float, Meta(gt=0.0, le=MAX_LENGTH_IN, description="inches")]
Position = Annotated[float, Meta(ge=-MAX_LENGTH_IN, le=MAX_LENGTH_IN, description="inches")]
SlopeIn12 = Annotated[float, Meta(gt=0.0, le=120.0, description="inches of rise in 12 of run")]
Price = Annotated[float, Meta(ge=0.0, le=MAX_PRICE)]
Identifier = Annotated[str, Meta(min_length=1, max_length=60, pattern=r"^[A-Za-z0-9][A-Za-z0-9 _.\-]*$")]
Name = Annotated[str, Meta(max_length=120)]
Corner = tuple[Position, Position]
PlaneName = Annotated[str, Meta(pattern=r"^[A-Za-z0-9][A-Za-z0-9 _.\-]*/[A-Za-z0-9][A-Za-z0-9 _.\-]*$", max_length=121)]


class Value(Struct, frozen=True, forbid_unknown_fields=True, kw_only=True, omit_defaults=False):
    """Base of all document values: immutable, by keyword, unknown keys refused by name."""
