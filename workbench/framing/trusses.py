"""Wings framed with trusses by others: where they stand and what they bear on, and no cuts.

The layout still serves sheets, nails and fall protection; the trusses themselves, their bracing and what may be hung or
tied to them are their maker's and the engineer's.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import replace

from workbench.findings import SCREENING, Finding
from workbench.framing.group import Group
from workbench.framing.model import Member, MemberKind
from workbench.measure import Units

BY_OTHERS = "trusses by others"

_STILL_OURS: frozenset[MemberKind] = frozenset(("fascia", "sub_fascia"))
_SOURCE = "common practice, no source; never a single truss: OSHA publication on residential work, read in a copy"


def truss_wings(group: Group) -> tuple[str, ...]:
    """Ids of the group's wings that are framed with trusses."""
    return tuple(built.effective.id for built in group.wings if built.effective.framed_with == "trusses")


def own_members(group: Group, members: Iterable[Member]) -> list[Member]:
    """The members without those of the truss wings; fascia is still the crew's."""
    others = truss_wings(group)
    if not others:
        return list(members)
    kept: list[Member] = []
    for member in members:
        mine = tuple(
            p for p in member.placements if member.kind in _STILL_OURS or group.by_id[p.plane].wing not in others
        )
        if len(mine) == len(member.placements):
            kept.append(member)
        elif mine:
            hands = [placement.hand for placement in mine]
            handed = bool(member.left or member.right)
            left, right = (hands.count("left"), hands.count("right")) if handed else (0, 0)
            kept.append(replace(member, count=len(mine), left=left, right=right, placements=mine))
    return kept


def own_findings(
    group: Group, findings: Iterable[Finding], supports: Mapping[str, Sequence[float]], units: Units
) -> list[Finding]:
    """The findings without those on what others make, and for each truss wing one that says so."""
    others = truss_wings(group)
    told = [finding for finding in findings if finding.object not in others]
    for built in group.wings:
        wing = built.effective
        if wing.id not in others:
            continue
        plates = ", ".join(dict.fromkeys(units.length(eave.plate_in) for eave in group.solved(built).eaves))
        most = max((len(supports.get(plane.id, ())) for plane in built.planes), default=0)
        text = (
            f"{wing.name}: {BY_OTHERS}, {units.inches(wing.rafter.spacing_in)} on centre, up to {most} lines on a "
            f"plane, bearing at {plates}. No cuts are made here; slope, overhang and heel have to be those of the "
            "truss drawings. Setting, bracing, bearing and uplift are for their maker and the engineer; never tie off "
            f"to a single truss. {SCREENING}"
        )
        told.append(Finding("trusses-by-others", "note", wing.id, text, _SOURCE))
    return told
