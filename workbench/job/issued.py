"""What went to the site last: a compact record of an issued handout, to tell what has changed since."""

from __future__ import annotations

from typing import Annotated

from msgspec import Meta

from workbench.job.values import Name, Value

_Text = Annotated[str, Meta(max_length=400)]
_Code = Annotated[str, Meta(max_length=20)]
_Amount = Annotated[float, Meta(ge=-1e9, le=1e9)]
_Count = Annotated[int, Meta(ge=0, le=1_000_000)]


class IssuedCut(Value, frozen=True, kw_only=True):
    """A cut of a mark: its name, mitre and bevel in degrees, and where it is along the top edge, inches."""

    name: _Text
    angle_deg: _Amount
    bevel_deg: _Amount
    at_in: _Amount


class IssuedMark(Value, frozen=True, kw_only=True):
    """A mark as it was issued; its length along the top edge, inches."""

    mark: _Text
    count: _Count
    section: _Text
    length_in: _Amount
    cuts: Annotated[tuple[IssuedCut, ...], Meta(max_length=40)] = ()


class IssuedPiece(Value, frozen=True, kw_only=True):
    """A piece of sheathing as it was issued: width up the slope and length, inches."""

    label: _Text
    width_in: _Amount
    length_in: _Amount


class IssuedPlane(Value, frozen=True, kw_only=True):
    """A plane as it was issued; rows are their widths from the eave up, inches."""

    id: _Text
    name: _Text
    slope_in_12: _Amount
    length_in: _Amount
    rows_in: Annotated[tuple[_Amount, ...], Meta(max_length=400)] = ()
    pieces: Annotated[tuple[IssuedPiece, ...], Meta(max_length=4000)] = ()


class IssuedLine(Value, frozen=True, kw_only=True):
    """A line of the order list as it was issued."""

    code: _Text
    name: _Text
    amount: _Amount
    unit: _Text


class Issued(Value, frozen=True, kw_only=True):
    """One issued handout.

    Attributes:
        revision: Its code.
        date: Its date, as the job had it.
        name: The job's name then.
        planes: The planes.
        marks: The marks.
        order: The order list.
    """

    revision: _Code
    date: Annotated[str, Meta(max_length=40)] = ""
    name: Name = ""
    planes: Annotated[tuple[IssuedPlane, ...], Meta(max_length=2000)] = ()
    marks: Annotated[tuple[IssuedMark, ...], Meta(max_length=4000)] = ()
    order: Annotated[tuple[IssuedLine, ...], Meta(max_length=4000)] = ()


def next_code(code: str) -> str:
    """The code after another: ``B`` after ``A``, ``AA`` after ``Z``, ``4`` after ``3``, ``C2`` after ``C1``."""
    if not code:
        return "A"
    stem = code.rstrip("0123456789")
    if stem != code:
        return f"{stem}{int(code[len(stem) :]) + 1}"
    letters = code.rstrip("ABCDEFGHIJKLMNOPQRSTUVWXYZ")
    last = code[len(letters) :]
    if not last:
        return f"{code}-2"
    rest, carried = list(last), len(last) - 1
    while carried >= 0 and rest[carried] == "Z":
        rest[carried] = "A"
        carried -= 1
    if carried < 0:
        return f"{letters}A{''.join(rest)}"
    rest[carried] = chr(ord(rest[carried]) + 1)
    return letters + "".join(rest)
