"""The framing stage of the plan: rafter lines, members and what carries the sheets."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from functools import lru_cache

from workbench.findings import COMMON_PRACTICE, SCREENING, Finding
from workbench.framing.between import blocks, lookouts
from workbench.framing.board import Board, Remarks
from workbench.framing.checks import deep_board_findings, hip_findings, pitch_break_findings
from workbench.framing.dormer_header import with_headers
from workbench.framing.fascia import fascia_boards
from workbench.framing.field import Field, fields_of
from workbench.framing.gable_members import gable_walls
from workbench.framing.group import SHEATHING_IN, Group, groups_of
from workbench.framing.headers import headers
from workbench.framing.hips import Hips
from workbench.framing.joints import Joints
from workbench.framing.layout import RafterLine, wing_lines
from workbench.framing.marks import board_members, marked
from workbench.framing.model import Framing, Member, MemberKind
from workbench.framing.overframe import sleepers
from workbench.framing.peak import block_findings
from workbench.framing.plies import boards_of
from workbench.framing.purlins import purlins
from workbench.framing.rafters import Rafters
from workbench.framing.ridge import ridge_boards
from workbench.framing.skeleton import Skeleton, skeleton_of
from workbench.framing.stock import STOCK_LENGTHS_IN
from workbench.framing.ties import ties
from workbench.framing.timber import Timber
from workbench.framing.trusses import own_findings, own_members
from workbench.job.lumber import ORDINARY_LUMBER, Lumber
from workbench.measure import Units
from workbench.roof.solved import BuiltWing

_ORDER: tuple[MemberKind, ...] = (
    "common_rafter",
    "barge_rafter",
    "ridge_board",
    "purlin",
    "hip_rafter",
    "valley_rafter",
    "hip_jack",
    "valley_jack",
    "cripple_jack",
    "header",
    "sleeper",
    "lookout",
    "eave_block",
    "ridge_block",
    "row_block",
    "collar_tie",
    "rafter_tie",
    "rake_plate",
    "gable_stud",
    "sub_fascia",
    "fascia",
)


Standing = dict[str, list[tuple[RafterLine, Board]]]
"""The rafters of each plane with the lines they stand on, from left to right."""


@dataclass(frozen=True)
class Framed:
    """Members of one group (marks not numbered yet), rafter lines by plane, and findings."""

    members: tuple[Member, ...]
    supports: tuple[tuple[str, tuple[float, ...]], ...]
    findings: tuple[Finding, ...]


def frame_roof(
    wings: Sequence[BuiltWing],
    units: Units,
    *,
    sheathing_in: float = SHEATHING_IN,
    lumber: Lumber = ORDINARY_LUMBER,
) -> tuple[Framing, tuple[Finding, ...]]:
    """All members of a job; equal members of different wings share a mark.

    Args:
        wings: The wings as built.
        units: How lengths are shown in texts.
        sheathing_in: Thickness of the sheathing, inches: what the sleepers of an overframed roof lie on.
        lumber: Lengths of boards that can be had and carried, which long runs are made of.
    """
    framed = [frame_wings(group, units, sheathing_in, lumber) for group in groups_of(wings)]
    members = in_order_of_work(member for group in framed for member in group.members)
    supports = tuple(support for group in framed for support in group.supports)
    return Framing(marked(members), supports), tuple(finding for group in framed for finding in group.findings)


def supports_of(
    wings: Sequence[BuiltWing], units: Units, *, sheathing_in: float = SHEATHING_IN
) -> tuple[tuple[str, tuple[float, ...]], ...]:
    """The rafter lines by plane alone, as ``frame_roof`` has them in its ``supports``."""
    return tuple(support for group in groups_of(wings) for support in _supports_of_group(group, units, sheathing_in))


@lru_cache(maxsize=256)
def _supports_of_group(
    wings: tuple[BuiltWing, ...], units: Units, sheathing_in: float
) -> tuple[tuple[str, tuple[float, ...]], ...]:
    frame = _Frame(Group(wings, sheathing_in), units)
    return frame.supports_of(frame.lined().standing)


@lru_cache(maxsize=256)
def frame_wings(
    wings: tuple[BuiltWing, ...],
    units: Units,
    sheathing_in: float = SHEATHING_IN,
    lumber: Lumber = ORDINARY_LUMBER,
) -> Framed:
    """Members of wings that are framed together."""
    return _Frame(Group(wings, sheathing_in, lumber), units).framed()


@dataclass(frozen=True)
class _Lined:
    """One group as far as its rafters stand on their lines."""

    skeleton: Skeleton
    fields: dict[str, list[Field]]
    lines: dict[str, list[RafterLine]]
    joints: Joints
    remarks: Remarks
    standing: Standing


class _Frame:
    """Works out one group: lines first, then what stands on them."""

    def __init__(self, group: Group, units: Units) -> None:
        self.group = group
        self.units = units
        self.findings: list[Finding] = []

    def lined(self) -> _Lined:
        """The rafters, each on its line, before they are members."""
        group = self.group
        skeleton = skeleton_of(group)
        timbers = [*skeleton.ridges, *skeleton.hips, *skeleton.valleys, *skeleton.headers]
        fields = {
            plane.id: with_headers(group, fields_of(group, plane, timbers), skeleton.headers) for plane in group.planes
        }
        lines: dict[str, list[RafterLine]] = {}
        for built in group.wings:
            wing, outline = built.effective, group.solved(built).outline
            lines.update(wing_lines(wing, outline, built.planes, fields, skeleton.keys))
        keys = _key_timbers(group, lines)
        joints = Joints([*timbers, *keys.values()], group.planes)
        remarks = Remarks(group, self.units)
        standing = self._standing(Rafters(group, joints, remarks), lines, keys)
        return _Lined(skeleton, fields, lines, joints, remarks, standing)

    @staticmethod
    def supports_of(standing: Standing) -> tuple[tuple[str, tuple[float, ...]], ...]:
        """The rafter lines by plane."""
        return tuple((plane, tuple(dict.fromkeys(line.x for line, _ in mine))) for plane, mine in standing.items())

    def framed(self) -> Framed:
        """Everything."""
        group, lined = self.group, self.lined()
        skeleton, lines, joints, remarks, standing = (
            lined.skeleton,
            lined.lines,
            lined.joints,
            lined.remarks,
            lined.standing,
        )
        cutter = Hips(group, joints, remarks)
        hips = [board for timber in (*skeleton.hips, *skeleton.valleys) if (board := cutter.hip(timber)) is not None]
        rafters = [board for mine in standing.values() for _, board in mine]
        ridges, failed = ridge_boards(group, skeleton.ridges, joints, lines, self.units)
        boards = [board for hip in hips for board in boards_of(hip)]
        members = [*board_members([*rafters, *boards], self.units), *ridges, *purlins(group, lines, self.units)]
        members += [*headers(group, lined.fields, self.units), *sleepers(group, self.units)]
        for plane in group.planes:
            members += lookouts(group, plane, standing[plane.id], self.units)
            members += blocks(group, plane, standing[plane.id])
        tied, tie_findings = ties(group, skeleton.ridges, standing, self.units)
        walls, wall_findings = gable_walls(group, self.units)
        members += [*tied, *walls, *fascia_boards(group, lines, self.units)]
        self.findings += [*tie_findings, *wall_findings]
        self.findings += dict.fromkeys(remarks.findings)
        self.findings += [*failed, *block_findings(group, skeleton, self.units)]
        self.findings += [*hip_findings(group, hips, self.units), *pitch_break_findings(group)]
        members = own_members(group, members)
        self.findings += [*self._member_findings(members), *deep_board_findings(group, members, self.units)]
        self.findings = own_findings(group, self.findings, dict(self.supports_of(standing)), self.units)
        return Framed(tuple(members), self.supports_of(standing), tuple(dict.fromkeys(self.findings)))

    def _standing(
        self, rafters: Rafters, lines: Mapping[str, Sequence[RafterLine]], keys: Mapping[int, Timber]
    ) -> Standing:
        """The rafters of each plane with the lines they stand on, from left to right."""
        found: Standing = {}
        for plane in self.group.planes:
            made = ((line, rafters.rafter(line, keys.get(id(line)))) for line in lines[plane.id])
            found[plane.id] = [(line, board) for line, board in made if board is not None]
        return found

    def _member_findings(self, members: Sequence[Member]) -> list[Finding]:
        findings: list[Finding] = []
        longest = STOCK_LENGTHS_IN[-1]
        for member in members:
            plane = next((p.plane for p in member.placements), self.group.planes[0].id)
            wing = self.group.wing_of(plane)
            if member.stock_in > longest + 1e-6:
                text = (
                    f"{wing.name}: {member.mark.lower()} members need stock {self.units.length(member.stock_in)} long, "
                    f"more than the longest ordinary length ({self.units.length(longest)}); order it specially, or "
                    f"bring a support in between. {SCREENING}"
                )
                findings.append(Finding("stock-too-short", "warning", wing.id, text, COMMON_PRACTICE))
            if member.kind == "barge_rafter" and wing.trim.lookouts == "none":
                text = (
                    f"{wing.name}: barge rafters stand at the rakes with no lookouts to carry them. How far sheets and "
                    f"barge rafters may stand out so is for the local code. {SCREENING}"
                )
                findings.append(Finding("no-lookouts", "note", wing.id, text, COMMON_PRACTICE))
        return findings


def in_order_of_work(members: Iterable[Member]) -> list[Member]:
    """Members sorted by kind: rafters, ridges, hips and valleys, jacks."""
    return sorted(members, key=lambda member: _ORDER.index(member.kind))


def _key_timbers(group: Group, lines: Mapping[str, Sequence[RafterLine]]) -> dict[int, Timber]:
    """The commons at the heads of hips as timbers, by the identity of their line."""
    keys: dict[int, Timber] = {}
    for plane_id, mine in lines.items():
        wing = group.wing_of(plane_id)
        for line in mine:
            if line.key is not None:
                plane = line.field.plane
                foot = plane.to_space((line.x, line.span.low * plane.stretch))
                half, first = wing.rafter.thickness_in / 2.0, wing.hips.head == "commons"
                keys[id(line)] = Timber("common", foot, line.key, half, plane_id, plane_id, first=first)
    return keys
