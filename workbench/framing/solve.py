"""The framing stage of the plan: rafter lines, members and what carries the sheets."""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from functools import lru_cache

from workbench.findings import COMMON_PRACTICE, SCREENING, Finding
from workbench.framing.layout import RafterLine, rafter_lines
from workbench.framing.model import Framing, Member, MemberKind, Placement
from workbench.framing.rafter import rafter_shape, upper_reach
from workbench.framing.ridge import ridge_boards
from workbench.framing.stick import StickShape
from workbench.framing.stock import STOCK_LENGTHS_IN, section_name, stock_length
from workbench.job.model import Wing
from workbench.measure import Trace, Units
from workbench.roof.build import BuiltWing
from workbench.roof.model import Plane
from workbench.roof.solved import Section

_KEY_DIGITS = 6  # sizes that agree to a millionth of an inch are one size; shown sizes are rounded, marks never are
_KIND_WORDS: dict[MemberKind, str] = {"common_rafter": "Common", "barge_rafter": "Barge", "ridge_board": "Ridge"}


@dataclass(frozen=True)
class FramedWing:
    """One wing's members (marks numbered within the wing), rafter lines by plane, and findings."""

    members: tuple[Member, ...]
    supports: tuple[tuple[str, tuple[float, ...]], ...]
    findings: tuple[Finding, ...]


def frame_roof(wings: Sequence[BuiltWing], units: Units) -> tuple[Framing, tuple[Finding, ...]]:
    """All members of a job; equal members of different wings share a mark."""
    framed = [frame_wing(wing, units) for wing in wings]
    members = _marked(member for wing in framed for member in wing.members)
    supports = tuple(support for wing in framed for support in wing.supports)
    return Framing(members, supports), tuple(finding for wing in framed for finding in wing.findings)


@lru_cache(maxsize=256)
def frame_wing(built: BuiltWing, units: Units) -> FramedWing:
    """Members of one wing."""
    solved = built.solved
    if solved is None:
        return FramedWing((), (), ())
    wing = built.effective
    members: list[Member] = []
    supports: list[tuple[str, tuple[float, ...]]] = []
    left_out: list[str] = []
    for plane in built.planes:
        lines = rafter_lines(wing, solved.outline, plane)
        supports.append((plane.id, tuple(dict.fromkeys(line.x for line in lines))))
        section = solved.section_of(plane.id)
        if section is None or not all(_is_common(line) for line in lines):
            left_out.append(plane.name)
        if section is not None:
            members += _rafters(wing, plane, section, lines, units)
    members += ridge_boards(wing, built.planes, dict(supports), units)
    findings = (*_left_out(wing, left_out), *_member_findings(wing, members, units), *_rake_findings(wing, members))
    return FramedWing(tuple(members), tuple(supports), findings)


def _is_common(line: RafterLine) -> bool:
    return line.low_kind == "eave" and line.high_kind in ("ridge", "wall", "rake")


def _rafters(wing: Wing, plane: Plane, section: Section, lines: Sequence[RafterLine], units: Units) -> list[Member]:
    members: list[Member] = []
    kinds: tuple[MemberKind, ...] = ("common_rafter", "barge_rafter")
    for kind in kinds:
        mine = [line for line in lines if _is_common(line) and line.barge == (kind == "barge_rafter")]
        if not mine:
            continue
        shape = rafter_shape(section, wing.rafter.depth_in, wing.rafter.tail, seated=kind == "common_rafter")
        top = (section.overhang_in + upper_reach(section)) * plane.stretch
        placements = tuple(
            Placement(plane.id, plane.to_space((line.x, line.low)), plane.to_space((line.x, line.low + top)))
            for line in mine
        )
        members.append(_member(wing, kind, shape, section, placements, units))
    return members


def _member(
    wing: Wing,
    kind: MemberKind,
    shape: StickShape,
    section: Section,
    placements: tuple[Placement, ...],
    units: Units,
) -> Member:
    rafter = wing.rafter
    return Member(
        mark=_KIND_WORDS[kind],
        kind=kind,
        count=len(placements),
        length_in=shape.length_in,
        stock_in=stock_length(shape.overall_in) or shape.overall_in,
        section=section_name(rafter.thickness_in, rafter.depth_in),
        depth_in=rafter.depth_in,
        thickness_in=rafter.thickness_in,
        cuts=shape.cuts,
        profile=shape.profile,
        measures=shape.measures,
        placements=placements,
        traces=_traces(shape, section, rafter.depth_in, units),
        angle_deg=math.degrees(math.atan(section.answer.tangent)),
    )


def _traces(shape: StickShape, section: Section, depth_in: float, units: Units) -> tuple[Trace, ...]:
    m, run, over = section.answer.tangent, section.answer.run_in, section.overhang_in
    half_ridge = section.given.ridge_thickness_in / 2.0 if section.given.high_end == "ridge" else 0.0
    terms = [f"{run:.4f}", f"{over:.4f}"]
    formula = "run + overhang"
    if half_ridge:
        formula, terms = f"{formula} − ridge / 2", [*terms, f"−{half_ridge:.4f}"]
    elif section.past_in:
        formula, terms = f"{formula} + past the bearing line", [*terms, f"{section.past_in:.4f}"]
    shown = " + ".join(terms).replace("+ −", "− ")
    length = Trace(
        "rafter length, top edge",
        shape.length_in,
        "in",
        f"L = ({formula}) · √(1 + m²)",
        f"({shown}) · √(1 + {m:.6f}²) = {shape.length_in:.4f} in = {units.length(shape.length_in)}",
        "geometry; deduct half the ridge square to the plumb cut: NAVEDTRA 14044" if half_ridge else "geometry",
    )
    stock = stock_length(shape.overall_in) or shape.overall_in
    order = Trace(
        "stock to buy",
        stock,
        "in",
        "shortest length sold that is not under the furthest points of the end cuts",
        f"{shape.overall_in:.4f} in over the cuts of stock {units.length(depth_in)} deep → {units.length(stock)}",
        COMMON_PRACTICE,
    )
    return length, order


def _marked(members: Iterable[Member]) -> tuple[Member, ...]:
    """Members with equal shapes joined under one numbered mark, in the order they come."""
    groups: dict[tuple[object, ...], Member] = {}
    for member in members:
        key = _shape_key(member)
        known = groups.get(key)
        groups[key] = (
            member
            if known is None
            else replace(known, count=known.count + member.count, placements=known.placements + member.placements)
        )
    numbers: dict[MemberKind, int] = {}
    marked: list[Member] = []
    for member in groups.values():
        numbers[member.kind] = numbers.get(member.kind, 0) + 1
        marked.append(replace(member, mark=f"{_KIND_WORDS[member.kind]} {numbers[member.kind]}"))
    return tuple(marked)


def _shape_key(member: Member) -> tuple[object, ...]:
    ring = tuple((round(x, _KEY_DIGITS) + 0.0, round(y, _KEY_DIGITS) + 0.0) for x, y in member.profile)
    return member.kind, member.section, member.thickness_in, ring


def _left_out(wing: Wing, names: Sequence[str]) -> tuple[Finding, ...]:
    if not names:
        return ()
    text = (
        f"{wing.name}: hips, valleys and the jack rafters at them are drawn but not cut yet "
        f"({', '.join(names)}); only rafters from eave to ridge or wall stand in the cut list."
    )
    return (Finding("members-left-out", "warning", wing.id, text, "limit of this program"),)


def _member_findings(wing: Wing, members: Sequence[Member], units: Units) -> tuple[Finding, ...]:
    findings: list[Finding] = []
    longest = STOCK_LENGTHS_IN[-1]
    for member in members:
        if member.stock_in > longest + 1e-6:
            text = (
                f"{wing.name}: {member.mark.lower()} members need stock {units.length(member.stock_in)} long, "
                f"more than the longest ordinary length ({units.length(longest)}); order it specially, or bring a support in "
                f"between. {SCREENING}"
            )
            findings.append(Finding("stock-too-short", "warning", wing.id, text, COMMON_PRACTICE))
    return tuple(dict.fromkeys(findings))


def _rake_findings(wing: Wing, members: Sequence[Member]) -> tuple[Finding, ...]:
    if not any(member.kind == "barge_rafter" for member in members):
        return ()
    text = (
        f"{wing.name}: the barge rafters at the rakes are in the cut list, the lookouts that carry them are not yet. "
        f"How far sheets and barge rafters may stand out without lookouts is for the local code. {SCREENING}"
    )
    return (Finding("lookouts-left-out", "note", wing.id, text, "limit of this program"),)
