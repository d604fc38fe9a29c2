"""What is cut already, held against the frame as it is now. Inches.

A piece serves a mark where its side view and its top edge are the same to a thirty-second of an inch. What no longer
serves can be recut to a mark where that mark's shape lies wholly inside the wood that is left (geometry).
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace

from shapely import affinity
from shapely.geometry import Polygon

from workbench.findings import GEOMETRY, Finding
from workbench.framing.model import Framing, Hand, Member
from workbench.job.cut_members import CutMembers, SawCut, with_cut, without_cut
from workbench.measure import Units
from workbench.roof.model import Point2

FITS_IN = 1.0 / 32.0
"""Pieces that differ by no more than this are the same to a saw."""

_MOST_NAMED = 3


@dataclass(frozen=True, slots=True)
class Done:
    """How many of a mark are cut: as drawn, mirrored, and of a mark without hands."""

    left: int = 0
    right: int = 0
    either: int = 0

    @property
    def count(self) -> int:
        """All of them."""
        return self.left + self.right + self.either


@dataclass(frozen=True)
class AlreadyCut:
    """The frame less what is cut.

    Attributes:
        done: By mark, how many are cut and serve; marks of which none is are not named.
        served: For each record of the job the mark that its pieces serve, or an empty string.
        findings: What no longer fits or is too many.
    """

    done: tuple[tuple[str, Done], ...] = ()
    served: tuple[str, ...] = ()
    findings: tuple[Finding, ...] = ()

    def of(self, mark: str) -> Done:
        """How many of a mark are cut."""
        return dict(self.done).get(mark, Done())


NOTHING_CUT = AlreadyCut()


def record_of(member: Member, count: int, hand: Hand = "") -> CutMembers:
    """The record of some pieces of a mark, as they are cut now."""
    return CutMembers(
        mark=member.mark,
        kind=member.kind,
        section=member.section,
        hand=hand,
        count=count,
        length_in=member.length_in,
        profile=member.profile,
        top=member.top,
        cuts=tuple(SawCut(name=c.name, angle_deg=c.angle_deg, bevel_deg=c.bevel_deg) for c in member.cuts),
    )


def already_cut(framing: Framing, records: Sequence[CutMembers], units: Units) -> AlreadyCut:
    """What of a frame is cut, and what was cut for a frame that is no longer wanted.

    Args:
        framing: The frame as it is now.
        records: What is cut.
        units: How lengths are shown.
    """
    done: dict[str, Done] = {}
    served: list[str] = []
    findings: list[Finding] = []
    for record in records:
        member = next((m for m in framing.members if _serves(record, m)), None)
        served.append(member.mark if member is not None else "")
        if member is None:
            findings.append(_misfit(framing, record, done, units))
            continue
        so_far = done.get(member.mark, Done())
        over = record.count - _open(member, so_far, record.hand)
        done[member.mark] = _more(so_far, record, member)
        if over > 0:
            text = (
                f"{member.mark}: {over} more {'is' if over == 1 else 'are'} cut than this frame has "
                f"({units.length(record.length_in)} along the top edge{_hand(record)}); keep them for shorter pieces."
            )
            findings.append(Finding("cut-too-many", "note", member.mark, text, GEOMETRY))
    return AlreadyCut(tuple(done.items()), tuple(served), tuple(findings))


def still_to_cut(framing: Framing, cut: AlreadyCut) -> tuple[Member, ...]:
    """The marks with the counts that are left; those of which all are cut are left out."""
    left: list[Member] = []
    for member in framing.members:
        done = cut.of(member.mark)
        fewer_left, fewer_right = max(member.left - done.left, 0), max(member.right - done.right, 0)
        either = max(member.count - member.left - member.right - done.either, 0)
        count = fewer_left + fewer_right + either
        if count:
            left.append(replace(member, count=count, left=fewer_left, right=fewer_right))
    return tuple(left)


def _serves(record: CutMembers, member: Member) -> bool:
    """Whether pieces of a record are what a mark asks for."""
    if (record.kind, record.section) != (member.kind, member.section) or len(record.cuts) != len(member.cuts):
        return False
    handed = bool(member.left or member.right)
    if handed != bool(record.hand):
        return False
    bevels = zip(record.cuts, member.cuts, strict=True)
    if any(abs(a.bevel_deg - b.bevel_deg) * member.thickness_in > math.degrees(FITS_IN) for a, b in bevels):
        return False
    return _same(record.profile, member.profile) and _same(record.top, member.top)


def _same(one: Sequence[Point2], other: Sequence[Point2]) -> bool:
    return len(one) == len(other) and all(math.dist(a, b) <= FITS_IN for a, b in zip(one, other, strict=True))


def _open(member: Member, done: Done, hand: Hand) -> int:
    if hand == "left":
        return member.left - done.left
    if hand == "right":
        return member.right - done.right
    return member.count - member.left - member.right - done.either


def _more(done: Done, record: CutMembers, member: Member) -> Done:
    count = min(record.count, max(_open(member, done, record.hand), 0))
    if record.hand == "left":
        return replace(done, left=done.left + count)
    if record.hand == "right":
        return replace(done, right=done.right + count)
    return replace(done, either=done.either + count)


def _hand(record: CutMembers) -> str:
    return f", {record.hand}-hand" if record.hand else ""


def _misfit(framing: Framing, record: CutMembers, done: dict[str, Done], units: Units) -> Finding:
    """What can still be made of pieces that serve no mark."""
    number = f"{record.count} piece" if record.count == 1 else f"{record.count} pieces"
    has, which = ("is", "it") if record.count == 1 else ("are", "they")
    text = f"{record.mark}{_hand(record)}: {number}, {units.length(record.length_in)} along the top edge, {has} cut"
    wanted = _nearest(framing, record)
    if wanted is None:
        text += " but the frame has no such member any more"
    else:
        off = wanted.length_in - record.length_in
        how = f"{units.inches(abs(off))} {'longer' if off > 0.0 else 'shorter'}" if abs(off) > FITS_IN else "as long"
        text += f", but {wanted.mark} is now {units.length(wanted.length_in)}, {how}{_turned(record, wanted, units)}"
    open_marks = [m for m in framing.members if _count_left(m, done) and m.section == record.section]
    into = [m.mark for m in open_marks if can_be_recut(record, m)]
    if wanted is not None and wanted.mark in into:
        text += f"; {which} can be recut to it."
    elif into:
        named = ", ".join(into[:_MOST_NAMED]) + (" and others" if len(into) > _MOST_NAMED else "")
        text += f"; {which} can't be recut to that, but to {named}."
    else:
        text += f"; {which} can't be recut to any mark of this section: scrap, or blocks."
    return Finding("cut-no-longer-fits", "warning", record.mark, text, GEOMETRY)


def _nearest(framing: Framing, record: CutMembers) -> Member | None:
    """The mark that pieces were cut for, by its name where that is kept, else the one nearest in length."""
    alike = [m for m in framing.members if m.kind == record.kind and m.section == record.section]
    return min(alike, key=lambda m: (abs(m.length_in - record.length_in), m.mark != record.mark, m.mark), default=None)


def _turned(record: CutMembers, member: Member, units: Units) -> str:
    """Which cuts are at another angle now."""
    pairs = list(zip(record.cuts, member.cuts, strict=False))
    for old, new in reversed(pairs):
        if old.name == new.name and abs(old.angle_deg - new.angle_deg) > 0.1:
            was, now = (units.angle(math.radians(abs(deg))) for deg in (old.angle_deg, new.angle_deg))
            return f", its {new.name} at {now} and not {was}"
    return ""


def _count_left(member: Member, done: dict[str, Done]) -> int:
    return member.count - done.get(member.mark, Done()).count


def can_be_recut(record: CutMembers, member: Member) -> bool:
    """Whether the wood of a piece holds the whole shape of a mark, moved along the stock."""
    if record.section != member.section:
        return False
    wood = Polygon(record.profile).buffer(FITS_IN, join_style="mitre")
    shape = Polygon(member.profile)
    top = Polygon(record.top) if len(record.top) > 2 else None
    for shift in _shifts(record, member):
        if not wood.covers(affinity.translate(shape, shift, 0.0)):
            continue
        if top is None or _top_covers(top, member, shift, record.hand):
            return True
    return False


def _shifts(record: CutMembers, member: Member) -> list[float]:
    """Places along the stock where a corner of the one lies on a corner of the other."""
    found = {round(a[0] - b[0], 6) for a in record.profile for b in member.profile if abs(a[1] - b[1]) <= FITS_IN}
    found |= {round(a[0] - b[0], 6) for a in record.top for b in member.top}
    return sorted(found, key=abs)


def _top_covers(top: Polygon, member: Member, shift: float, hand: Hand) -> bool:
    half, length = member.thickness_in / 2.0, member.length_in
    ring = member.top or ((0.0, half), (0.0, -half), (length, -half), (length, half))
    shape = Polygon(ring)
    if hand == "right" and not member.right and member.left:
        shape = affinity.scale(shape, 1.0, -1.0, origin=(0.0, 0.0))
    return bool(top.buffer(FITS_IN, join_style="mitre").covers(affinity.translate(shape, shift, 0.0)))


def with_cut_count(
    records: Sequence[CutMembers], cut: AlreadyCut, member: Member, hand: Hand, count: int
) -> tuple[CutMembers, ...]:
    """The records so that this many of a mark are cut.

    Args:
        records: What is cut.
        cut: The same held against the frame that the mark is of.
        member: The mark.
        hand: Which hand of it.
        count: How many of that hand are cut.
    """
    mine = [
        i
        for i, (record, mark) in enumerate(zip(records, cut.served, strict=True))
        if mark == member.mark and record.hand == hand
    ]
    more = count - sum(records[i].count for i in mine)
    known = tuple(records)
    if more > 0:
        return with_cut(known, record_of(member, more, hand))
    for i in reversed(mine):
        less = min(-more, known[i].count)
        if less > 0:
            known = without_cut(known, i, less)
            more += less
    return known
