"""Marks that differ only in length, such as the jacks along a hip: one drawing, one table of lengths."""

from __future__ import annotations

from collections.abc import Sequence

from workbench.drawing.cut_card import is_along
from workbench.framing.model import Measure, Member
from workbench.handout.blocks import LABEL, Column, Table
from workbench.plan import Plan

_DIGITS = 4


def families(members: Sequence[Member]) -> list[list[Member]]:
    """Members grouped by what the saw does, in the order of the first of each group."""
    groups: dict[tuple[object, ...], list[Member]] = {}
    for member in members:
        groups.setdefault(_saw_key(member), []).append(member)
    return list(groups.values())


def _saw_key(member: Member) -> tuple[object, ...]:
    """Everything but lengths along the stock; a ridge board's only cuts are its ends, so each has its own card."""
    alone = member.mark if member.kind == "ridge_board" else ""
    cuts = tuple(
        (
            cut.name,
            round(cut.angle_deg, _DIGITS),
            round(cut.bevel_deg, _DIGITS),
            None if cut.other_bevel_deg is None else round(cut.other_bevel_deg, _DIGITS),
            None if cut.middle_in is None else round(cut.middle_in, _DIGITS),
            cut.long,
        )
        for cut in member.cuts
    )
    measures = tuple((m.name, None if is_along(m) else round(m.length_in, _DIGITS)) for m in member.measures)
    other = (round(member.drop_in, _DIGITS), tuple(round(deg, _DIGITS) for deg in member.backing_deg), member.plies)
    return alone, member.kind, member.section, member.thickness_in, len(member.profile), cuts, measures, other


def plain_table(plan: Plan, members: Sequence[Member]) -> Table:
    """Boards cut square: a length says all there is to cut, so one line each."""
    units = plan.units
    columns = (
        Column("", 0.45),
        Column("Mark", 1.7, bold=True),
        Column("Pieces", 1.1, "right"),
        Column("Section", 1.5, "right"),
        Column("Length", 2.5, "right"),
        Column("For", 3.0),
    )
    rows = (
        (
            "[]",
            member.mark,
            pieces_cell(plan, member),
            plan.job.lumber.name_of(member.section),
            units.tape(member.length_in),
            plane_names(plan, [member], most=3),
        )
        for member in members
    )
    return Table(columns, tuple(rows), LABEL)


def pieces_cell(plan: Plan, member: Member) -> str:
    """How many pieces of a mark, and how many of them are cut already."""
    done = plan.cut.of(member.mark).count
    return f"{member.count}, {done} cut" if done else str(member.count)


def plane_names(plan: Plan, members: Sequence[Member], most: int = 0) -> str:
    """The planes some members stand on, in words; with ``most`` not more than so many of them."""
    planes = (plan.plane(placement.plane) for member in members for placement in member.placements)
    names = list(dict.fromkeys(plane.name for plane in planes if plane is not None))
    if most and len(names) > most:
        return f"{', '.join(names[:most])} and {len(names) - most} more"
    return ", ".join(names)


def differing_measures(family: Sequence[Member]) -> list[Measure]:
    """The first member's measures along the stock that are not the same for all."""
    found: list[Measure] = []
    for i, measure in enumerate(family[0].measures):
        lengths = {round(member.measures[i].length_in, _DIGITS) for member in family}
        if is_along(measure) and len(lengths) > 1:
            found.append(measure)
    return found


def lengths_table(plan: Plan, family: Sequence[Member]) -> Table:
    """Marks with their counts, stock and differing lengths, each with a box to tick."""
    units = plan.units
    tape = units.tape if len(differing_measures(family)) == 1 else units.inches
    handed = any(member.left or member.right for member in family)
    differing = [measure.name for measure in differing_measures(family)]
    wide = 2.8 if len(differing) == 1 else 1.9
    columns = [Column("", 0.45), Column("Mark", 2.0, bold=True), Column("Pieces", 1.15, "right")]
    columns += [Column("Left, right", 1.1, "right")] if handed else []
    columns += [Column(name, wide, "right") for name in differing]
    rows: list[tuple[str, ...]] = []
    for member in family:
        lengths = {measure.name: measure.length_in for measure in member.measures}
        hands = [f"{member.left}, {member.right}"] if handed else []
        said = (tape(lengths[name]) for name in differing)
        rows.append(("[]", member.mark, pieces_cell(plan, member), *hands, *said))
    return Table(tuple(columns), tuple(rows), LABEL)
