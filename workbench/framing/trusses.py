"""Wings framed with trusses by others: where they stand and what they bear on, and no cuts.

The layout still serves sheets, nails and fall protection; the trusses themselves, their bracing and what may be hung or
tied to them are their maker's and the engineer's.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import replace

from shapely.geometry import LineString

from workbench.findings import SCREENING, Finding
from workbench.framing.group import Group
from workbench.framing.model import Member, MemberKind, Placement
from workbench.framing.space import flat
from workbench.measure import Units

BY_OTHERS = "trusses by others"

_STILL_OURS: frozenset[MemberKind] = frozenset(("fascia", "sub_fascia"))
_BETWEEN: frozenset[MemberKind] = frozenset(("hip_rafter", "valley_rafter"))
"""Kinds that stand between two planes, of which they name the left one."""

_BESIDE_IN = 6.0
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
        mine = tuple(placement for placement in member.placements if _is_ours(group, member, placement, others))
        if len(mine) == len(member.placements):
            kept.append(member)
        elif mine:
            hands = [placement.hand for placement in mine]
            handed = bool(member.left or member.right)
            left, right = (hands.count("left"), hands.count("right")) if handed else (0, 0)
            kept.append(replace(member, count=len(mine), left=left, right=right, placements=mine))
    return kept


def _is_ours(group: Group, member: Member, placement: Placement, others: Sequence[str]) -> bool:
    """Whether a member is cut by the crew: it stands in a wing of rafters, or carries the rafters of one."""
    if member.kind in _STILL_OURS or group.by_id[placement.plane].wing not in others:
        return True
    if member.kind not in _BETWEEN:
        return False
    line = LineString([flat(placement.start), flat(placement.end)])
    return any(
        edge.kind in ("hip", "valley")
        and line.distance(LineString([flat(edge.start), flat(edge.end)]).centroid) < _BESIDE_IN
        for plane in group.planes
        if plane.wing not in others
        for edge in plane.all_edges
    )


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
