"""Revisions: a record of what a handout said, and what has changed since the last one that went out."""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from msgspec.structs import replace

from workbench.errors import EditError
from workbench.framing.model import Member
from workbench.job.edited import checked
from workbench.job.issued import (
    Issued,
    IssuedCut,
    IssuedLine,
    IssuedMark,
    IssuedPiece,
    IssuedPlane,
    next_code,
)
from workbench.job.model import Job
from workbench.measure import Units
from workbench.plan import Plan

NONE = "none"
PLANES, ROWS, MEMBERS, CUTS, PIECES, TO_BUY = "Planes", "Rows of sheets", "Members", "Cuts", "Pieces", "To buy"
"""Groups of lines."""
_DIGITS = 4
_LONGEST_CODE = 20


@dataclass(frozen=True, slots=True)
class ChangedLine:
    """One thing that is another now.

    Attributes:
        group: What kind of thing.
        what: What it is.
        before: What it was, written out; ``none`` where it was not there.
        after: What it is now; ``none`` where it is gone.
        part_of: The plane or mark whose slope, rows, piece or cut it is; empty where it stands for itself.
    """

    group: str
    what: str
    before: str
    after: str
    part_of: str = ""


@dataclass(frozen=True, slots=True)
class WhatChanged:
    """What a handout says otherwise than the last one that went out.

    Attributes:
        against: Code of the revision compared with.
        date: Its date.
        issued: Whether this handout is itself the one issued last; False while it has not gone out.
        lines: What changed, and nothing else.
    """

    against: str
    date: str
    issued: bool
    lines: tuple[ChangedLine, ...]


def record(plan: Plan) -> Issued:
    """What a handout of this plan says, in short."""
    return Issued(
        revision=plan.job.revision,
        date=plan.job.date,
        name=plan.job.name,
        planes=tuple(_plane(plan, index) for index in range(len(plan.roof.planes))),
        marks=tuple(_mark(member) for member in plan.framing.members),
        order=tuple(
            IssuedLine(code=q.code, name=q.name, amount=_short(q.amount), unit=q.unit)
            for q in plan.quantities
            if q.unit != "money"
        ),
    )


def issue(plan: Plan) -> Job:
    """The job with this plan recorded as issued, and the one before it kept; the code goes on where it was used.

    Raises:
        EditError: The same has been issued already, or there is nothing to issue.
    """
    job = plan.job
    if not plan.roof.planes:
        msg = "There is no roof to issue yet; draw a building outline first."
        raise EditError(msg)
    last = job.issued[-1] if job.issued else None
    made = record(plan)
    if last is not None and same(last, made):
        msg = f"Nothing has changed since revision {last.revision} was issued, so there is nothing to issue."
        raise EditError(msg)
    if last is not None and job.revision == last.revision:
        made = replace(made, revision=next_code(last.revision)[:_LONGEST_CODE])
    return checked(replace(job, revision=made.revision, issued=(*job.issued[-1:], made)))


def same(one: Issued, other: Issued) -> bool:
    """Whether two records say the same of the roof, whatever they are called."""
    return replace(one, revision="", date="", name="") == replace(other, revision="", date="", name="")


def what_changed(plan: Plan) -> WhatChanged | None:
    """What changed against the last issued handout; against the one before it where this is that handout itself.

    None where nothing was issued before, or nothing changed.
    """
    issued = plan.job.issued
    if not issued:
        return None
    now = record(plan)
    is_last = same(issued[-1], now)
    before = issued[-1]
    if is_last:
        if len(issued) < 2:
            return None
        before = issued[-2]
    lines = changed_lines(before, now, plan.units)
    return WhatChanged(before.revision, before.date, is_last, lines) if lines else None


def changed_lines(before: Issued, now: Issued, units: Units) -> tuple[ChangedLine, ...]:
    """What differs between two records, as it is shown: differences too small to be shown are none."""
    return (
        *_planes(before.planes, now.planes, units),
        *_marks(before.marks, now.marks, units),
        *_pieces(before.planes, now.planes, units),
        *_order(before.order, now.order, units),
    )


def _plane(plan: Plan, index: int) -> IssuedPlane:
    plane = plan.roof.planes[index]
    sheets = plan.sheets_of(plane.id)
    return IssuedPlane(
        id=plane.id,
        name=plane.name,
        slope_in_12=_short(plane.in_12),
        length_in=_short(plane.plane_length_in),
        rows_in=() if sheets is None else tuple(_short(row.width_in) for row in sheets.rows),
        pieces=()
        if sheets is None
        else tuple(
            IssuedPiece(label=p.label, width_in=_short(p.cut_width_in), length_in=_short(p.cut_length_in))
            for p in sheets.pieces
        ),
    )


def _mark(member: Member) -> IssuedMark:
    return IssuedMark(
        mark=member.mark,
        count=member.count,
        section=member.section,
        length_in=_short(member.length_in),
        cuts=tuple(
            IssuedCut(
                name=cut.name,
                angle_deg=_short(cut.angle_deg),
                bevel_deg=_short(cut.bevel_deg),
                at_in=_short(cut.at_in),
            )
            for cut in member.cuts
        ),
    )


def _short(value: float) -> float:
    return round(value, _DIGITS) + 0.0


def _planes(before: Sequence[IssuedPlane], now: Sequence[IssuedPlane], units: Units) -> Iterable[ChangedLine]:
    old, new = {p.id: p for p in before}, {p.id: p for p in now}
    for key in dict.fromkeys((*old, *new)):
        was, is_now = old.get(key), new.get(key)
        name = (is_now or was or now[0]).name
        yield from _line(PLANES, f"{name}, slope", _slope(was, units), _slope(is_now, units), name)
        yield from _line(PLANES, f"{name}, length up the slope", _length(was, units), _length(is_now, units), name)
        yield from _line(ROWS, f"{name}, rows from the eave", _rows(was, units), _rows(is_now, units), name)


def _marks(before: Sequence[IssuedMark], now: Sequence[IssuedMark], units: Units) -> Iterable[ChangedLine]:
    old, new = {m.mark: m for m in before}, {m.mark: m for m in now}
    for key in dict.fromkeys((*old, *new)):
        was, is_now = old.get(key), new.get(key)
        yield from _line(MEMBERS, key, _member(was, units), _member(is_now, units))
    for key in old:
        was, is_now = old[key], new.get(key)
        if is_now is None:
            continue
        cuts_were, cuts_are = _cuts(was, units), _cuts(is_now, units)
        for name in dict.fromkeys((*cuts_were, *cuts_are)):
            before_words, after_words = cuts_were.get(name, NONE), cuts_are.get(name, NONE)
            yield from _line(CUTS, f"{key}, {name}", before_words, after_words, key)


def _pieces(before: Sequence[IssuedPlane], now: Sequence[IssuedPlane], units: Units) -> Iterable[ChangedLine]:
    old, new = {p.id: p for p in before}, {p.id: p for p in now}
    for key in dict.fromkeys((*old, *new)):
        was, is_now = old.get(key), new.get(key)
        if was is None or is_now is None:
            continue  # a new plane has a page of its own; of one that is gone nothing is to be laid
        sizes_were, sizes_are = _sizes(was, units), _sizes(is_now, units)
        for label in dict.fromkeys((*sizes_were, *sizes_are)):
            before_words, after_words = sizes_were.get(label, NONE), sizes_are.get(label, NONE)
            yield from _line(PIECES, f"{is_now.name} {label}", before_words, after_words, is_now.name)


def _order(before: Sequence[IssuedLine], now: Sequence[IssuedLine], units: Units) -> Iterable[ChangedLine]:
    del units  # the order list counts in its own units
    old, new = {line.code: line for line in before}, {line.code: line for line in now}
    for code in dict.fromkeys((*old, *new)):
        was, is_now = old.get(code), new.get(code)
        name = (is_now or was or now[0]).name
        yield from _line(TO_BUY, name, _amount(was), _amount(is_now))


def _line(group: str, what: str, before: str, after: str, part_of: str = "") -> Iterable[ChangedLine]:
    if before != after:
        yield ChangedLine(group, what, before, after, part_of)


def _slope(plane: IssuedPlane | None, units: Units) -> str:
    return NONE if plane is None else units.slope(plane.slope_in_12 / 12.0)


def _length(plane: IssuedPlane | None, units: Units) -> str:
    return NONE if plane is None else units.length(plane.length_in)


def _rows(plane: IssuedPlane | None, units: Units) -> str:
    return NONE if plane is None or not plane.rows_in else " + ".join(units.compact(width) for width in plane.rows_in)


def _member(mark: IssuedMark | None, units: Units) -> str:
    return NONE if mark is None else f"{mark.count} of {mark.section}, {units.length(mark.length_in)}"


def _cuts(mark: IssuedMark, units: Units) -> dict[str, str]:
    found: dict[str, str] = {}
    for cut in mark.cuts:
        name, number = cut.name, 1
        while name in found:
            number += 1
            name = f"{cut.name} {number}"
        bevel = f", bevel {units.angle(math.radians(cut.bevel_deg))}" if abs(cut.bevel_deg) > 1e-3 else ""
        found[name] = f"{units.angle(math.radians(cut.angle_deg))}{bevel}, at {units.length(cut.at_in)}"
    return found


def _sizes(plane: IssuedPlane, units: Units) -> dict[str, str]:
    return {p.label: f"{units.compact(p.width_in)} × {units.compact(p.length_in)}" for p in plane.pieces}


def _amount(line: IssuedLine | None) -> str:
    if line is None:
        return NONE
    whole = line.unit not in ("squares",)
    return f"{math.ceil(line.amount - 1e-9):,} {line.unit}" if whole else f"{line.amount:,.1f} {line.unit}"
