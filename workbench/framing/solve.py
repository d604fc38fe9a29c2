"""The framing stage of the plan: rafter lines, members and what carries the sheets."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from functools import lru_cache

from workbench.findings import COMMON_PRACTICE, GEOMETRY, SCREENING, Finding
from workbench.framing.boards import Board, Boards
from workbench.framing.checks import hip_findings
from workbench.framing.field import fields_of
from workbench.framing.joints import Joints
from workbench.framing.layout import RafterLine, wing_lines
from workbench.framing.marks import board_members, marked
from workbench.framing.model import Framing, Member
from workbench.framing.ridge import ridge_boards
from workbench.framing.skeleton import Skeleton, Timber, skeleton_of
from workbench.framing.stock import STOCK_LENGTHS_IN, nominal_depth
from workbench.job.model import Wing
from workbench.measure import Units
from workbench.roof.build import BuiltWing
from workbench.roof.model import Plane

_ORDER = ("common_rafter", "barge_rafter", "ridge_board", "hip_rafter", "valley_rafter", "hip_jack", "valley_jack")


@dataclass(frozen=True)
class FramedWing:
    """One wing's members (marks numbered within the wing), rafter lines by plane, and findings."""

    members: tuple[Member, ...]
    supports: tuple[tuple[str, tuple[float, ...]], ...]
    findings: tuple[Finding, ...]


def frame_roof(wings: Sequence[BuiltWing], units: Units) -> tuple[Framing, tuple[Finding, ...]]:
    """All members of a job; equal members of different wings share a mark."""
    framed = [frame_wing(wing, units) for wing in wings]
    members = marked(member for wing in framed for member in wing.members)
    supports = tuple(support for wing in framed for support in wing.supports)
    return Framing(members, supports), tuple(finding for wing in framed for finding in wing.findings)


@lru_cache(maxsize=256)
def frame_wing(built: BuiltWing, units: Units) -> FramedWing:
    """Members of one wing."""
    if built.solved is None:
        return FramedWing((), (), ())
    return _WingFrame(built, units).framed()


class _WingFrame:
    """Works out one wing: lines first, then what stands on them."""

    def __init__(self, built: BuiltWing, units: Units) -> None:
        self.built = built
        self.wing = built.effective
        self.planes = built.planes
        self.units = units
        self.findings: list[Finding] = []

    def framed(self) -> FramedWing:
        solved, wing, planes = self.built.solved, self.wing, self.planes
        if solved is None:
            return FramedWing((), (), ())
        skeleton = skeleton_of(wing, planes)
        timbers = [*skeleton.ridges, *skeleton.hips, *skeleton.valleys]
        fields = {plane.id: fields_of(plane, timbers) for plane in planes}
        lines = wing_lines(wing, solved.outline, planes, fields, skeleton.keys)
        keys = _key_timbers(wing, skeleton, lines)
        joints = Joints([*timbers, *keys.values()], planes, commons_first=wing.hips.head == "commons")
        boards = Boards(wing, solved, planes, joints, _hip_depth(wing, planes))
        rafters, supports = self._rafters(boards, lines, keys)
        hips = [board for timber in (*skeleton.hips, *skeleton.valleys) if (board := boards.hip(timber)) is not None]
        ridges, failed = ridge_boards(wing, planes, skeleton.ridges, joints, lines, self.units)
        members = self._ordered([*board_members([*rafters, *hips], self.units), *ridges])
        self.findings += dict.fromkeys(boards.findings)
        self.findings += [self._uncut(name) for name in failed]
        self.findings += hip_findings(wing, planes, hips, self.units)
        self.findings += self._member_findings(members)
        return FramedWing(tuple(members), supports, tuple(dict.fromkeys(self.findings)))

    def _rafters(
        self, boards: Boards, lines: Mapping[str, Sequence[RafterLine]], keys: Mapping[int, Timber]
    ) -> tuple[list[Board], tuple[tuple[str, tuple[float, ...]], ...]]:
        found: list[Board] = []
        supports: list[tuple[str, tuple[float, ...]]] = []
        for plane in self.planes:
            xs: list[float] = []
            for line in lines[plane.id]:
                board = boards.rafter(line, keys.get(id(line)))
                if board is not None:
                    found.append(board)
                    xs.append(line.x)
            supports.append((plane.id, tuple(dict.fromkeys(xs))))
        return found, tuple(supports)

    def _ordered(self, members: Sequence[Member]) -> list[Member]:
        """In the order of work; jacks say by how much they differ."""
        ranks = {kind: i for i, kind in enumerate(_ORDER)}
        return sorted(members, key=lambda member: ranks.get(member.kind, len(ranks)))

    def _uncut(self, name: str) -> Finding:
        text = f"{self.wing.name}: {name} is not in the cut list: nothing shows how its ends are cut; fit it on site."
        return Finding("member-left-out", "warning", self.wing.id, text, GEOMETRY)

    def _member_findings(self, members: Sequence[Member]) -> list[Finding]:
        findings: list[Finding] = []
        longest = STOCK_LENGTHS_IN[-1]
        for member in members:
            if member.stock_in > longest + 1e-6:
                text = (
                    f"{self.wing.name}: {_plural(member)} need stock {self.units.length(member.stock_in)} long, more "
                    f"than the longest ordinary length ({self.units.length(longest)}); order it specially, or bring a "
                    f"support in between. {SCREENING}"
                )
                findings.append(Finding("stock-too-short", "warning", self.wing.id, text, COMMON_PRACTICE))
        if any(member.kind == "barge_rafter" for member in members):
            text = (
                f"{self.wing.name}: the barge rafters at the rakes are in the cut list, the lookouts that carry them "
                "are not yet. How far sheets and barge rafters may stand out without lookouts is for the local code. "
                f"{SCREENING}"
            )
            findings.append(Finding("lookouts-left-out", "note", self.wing.id, text, "limit of this program"))
        return findings


def _plural(member: Member) -> str:
    return f"{member.mark.lower()} members"


def _hip_depth(wing: Wing, planes: Sequence[Plane]) -> float:
    """Depth of hips and valleys: not under the plumb cut of the rafters that meet them."""
    plumb_cut = max((wing.rafter.depth_in * plane.stretch for plane in planes), default=wing.rafter.depth_in)
    return wing.hips.depth_in or nominal_depth(plumb_cut) or plumb_cut


def _key_timbers(wing: Wing, skeleton: Skeleton, lines: Mapping[str, Sequence[RafterLine]]) -> dict[int, Timber]:
    """The commons at the heads of hips as timbers, by the identity of their line."""
    keys: dict[int, Timber] = {}
    half = wing.rafter.thickness_in / 2.0
    for plane_id, mine in lines.items():
        for line in mine:
            if line.key is not None:
                plane = line.field.plane
                foot = plane.to_space((line.x, line.span.low * plane.stretch))
                keys[id(line)] = Timber("common", foot, line.key, half, plane_id, plane_id)
    return keys
