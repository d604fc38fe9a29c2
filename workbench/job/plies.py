"""How many boards members are made of, side by side."""

from __future__ import annotations

from typing import Annotated

from msgspec import Meta

from workbench.job.values import Value

PlyCount = Annotated[int, Meta(ge=1, le=3)]


class Plies(Value, frozen=True, kw_only=True):
    """The boards that make one member of each kind; the thickness given for the kind is that of one board.

    Attributes:
        hip: Boards of a hip rafter.
        valley: Boards of a valley rafter.
        ridge: Boards of a ridge.
        header: Boards of the headers at openings; None takes one up to 4 ft of opening, else two.
        trimmer: Trimmer rafters on each side of an opening; None takes as many as its headers have boards.
    """

    hip: PlyCount = 1
    valley: PlyCount = 1
    ridge: PlyCount = 1
    header: PlyCount | None = None
    trimmer: PlyCount | None = None
