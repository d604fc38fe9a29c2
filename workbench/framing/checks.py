"""What stands against building hips and valleys as cut. Screening, never a refusal."""

from __future__ import annotations

import math
from collections.abc import Sequence

from workbench.findings import COMMON_PRACTICE, GEOMETRY, SCREENING, Finding
from workbench.framing.board import Board
from workbench.framing.group import Group
from workbench.framing.model import Member
from workbench.framing.stock import NOMINAL_DEPTHS_IN, NOMINAL_THICKNESSES_IN, nominal_depth
from workbench.job.model import Wing
from workbench.measure import Units
from workbench.roof.buildable import DEFAULT_LIMITS
from workbench.roof.model import Plane, PlaneEdge

_NOISE = 1e-9
_UPRIGHT_IN = 1e-3
_CUT_END_SOURCE = "IRC R802.3, read in a copy"
_MADE_DEPTHS_IN = (9.5, 11.875, 14.0, 16.0, 18.0, 20.0, 24.0)
"""Usual depths of beams glued from veneers, inches (from memory)."""
_SAWN_SOURCE = (
    f"sizes of sawn lumber: {COMMON_PRACTICE}, of made lumber: from memory; depth of ridges, hips and valleys: "
    f"{_CUT_END_SOURCE}"
)
_AS_DEEP_AS_CUT = {"ridge_board": "ridge boards", "hip_rafter": "hips", "valley_rafter": "valleys"}


def hip_findings(group: Group, hips: Sequence[Board], units: Units) -> list[Finding]:
    """Findings about the hips and valleys of one group.

    Args:
        group: The wings, framed together.
        hips: Their hip and valley rafters.
        units: How lengths are shown.
    """
    findings: list[Finding] = []
    for built in group.wings:
        wing = built.effective
        mine = [board for board in hips if group.by_id[board.plane].wing == wing.id]
        if mine:
            findings += _wing_findings(wing, built.planes, mine, units)
    return findings


def pitch_break_findings(group: Group) -> list[Finding]:
    """Where rafters end plumb at a level pitch break, something has to carry them there."""
    findings: list[Finding] = []
    for plane in group.planes:
        if any(edge.kind == "pitch_break" and not _runs_up(plane, edge) for edge in plane.all_edges):
            wing = group.wing_of(plane.id)
            text = (
                f"{wing.name}: rafters of {plane.name} are cut plumb at the pitch break; a purlin, beam or wall "
                f"under it, and what ties it, is for the engineer. {SCREENING}"
            )
            findings.append(Finding("pitch-break-needs-support", "warning", wing.id, text, COMMON_PRACTICE))
    return findings


def deep_board_findings(group: Group, members: Sequence[Member], units: Units) -> list[Finding]:
    """Ridges, hips and valleys deeper than any sawn board, and depths asked for that no sawn board has."""
    deepest = max(NOMINAL_DEPTHS_IN)
    found: dict[tuple[str, float], dict[str, None]] = {}
    for member in members:
        wing = group.wing_of(member.placements[0].plane) if member.placements else None
        if wing is None or member.depth_in <= deepest + _NOISE or member.kind not in _AS_DEEP_AS_CUT:
            continue
        if (wing.ridge if member.kind == "ridge_board" else wing.hips).depth_in is None:
            found.setdefault((wing.id, member.depth_in), {})[_AS_DEEP_AS_CUT[member.kind]] = None
    findings: list[Finding] = []
    names = {built.effective.id: built.effective.name for built in group.wings}
    for (wing_id, depth), kinds in found.items():
        text = (
            f"{names[wing_id]}: {' and '.join(kinds)} as deep as the rafters' cut ends are {units.length(depth)} deep, "
            f"and no sawn board is deeper than {units.length(deepest)}. Give a depth that can be bought, of a material "
            f"and size the engineer agrees to{_made_lumber(depth, units)}. {SCREENING}"
        )
        findings.append(Finding("deeper-than-sawn", "note", wing_id, text, _SAWN_SOURCE))
    return [*findings, *_not_sawn(group, members, units)]


def _not_sawn(group: Group, members: Sequence[Member], units: Units) -> list[Finding]:
    """Depths asked for of members as thick as sawn lumber that no sawn board has, and which board would do."""
    asked: dict[tuple[str, float, bool], dict[str, None]] = {}
    for member in members:
        wing = group.wing_of(member.placements[0].plane) if member.placements else None
        if wing is None or member.thickness_in not in NOMINAL_THICKNESSES_IN or member.depth_in in NOMINAL_DEPTHS_IN:
            continue
        given = {
            "common_rafter": wing.rafter.depth_in,
            "ridge_board": wing.ridge.depth_in,
            "hip_rafter": wing.hips.depth_in,
            "valley_rafter": wing.hips.depth_in,
        }.get(member.kind)
        if given is not None and abs(given - member.depth_in) < _NOISE:
            by_cut = member.kind in _AS_DEEP_AS_CUT
            words = _AS_DEEP_AS_CUT.get(member.kind, "rafters")
            asked.setdefault((wing.id, given, by_cut), {})[words] = None
    findings: list[Finding] = []
    for (wing_id, depth, by_cut), kinds in asked.items():
        built = next(built for built in group.wings if built.effective.id == wing_id)
        name = built.effective.name
        cut = max(built.effective.rafter.depth_in * plane.stretch for plane in built.planes)
        text = (
            f"{name}: {' and '.join(kinds)} are asked for {units.length(depth)} deep, and no sawn board is. "
            f"{_which_would_do(depth, cut if by_cut else None, units)}"
        )
        findings.append(Finding("depth-not-sawn", "note", wing_id, text, _SAWN_SOURCE))
    return findings


def _made_lumber(at_least: float, units: Units) -> str:
    """The least usual depth of made lumber that is not under this, in words; nothing where none is."""
    depth = next((depth for depth in _MADE_DEPTHS_IN if depth >= at_least - _NOISE), None)
    return "" if depth is None else f"; made lumber {units.length(depth)} deep would be deep enough"


def _which_would_do(depth: float, cut: float | None, units: Units) -> str:
    """The sawn depth to take instead: for ridges, hips and valleys by the rafters' cut ends, else the next deeper."""
    other = "keep it only for lumber that is made to that size"
    board = nominal_depth(depth if cut is None else cut)
    if board is None:
        deepest = units.length(max(NOMINAL_DEPTHS_IN))
        need = "" if cut is None else f" and the rafters' cut ends are {units.length(cut)} deep"
        return f"The deepest is {deepest}{need}: {other}{_made_lumber(depth if cut is None else cut, units)}."
    if cut is None:
        return f"The next deeper is {units.length(board)} (nominal {NOMINAL_DEPTHS_IN[board]}); {other}."
    return (
        f"The rafters' cut ends are {units.length(cut)} deep, for which {units.length(board)} "
        f"(nominal {NOMINAL_DEPTHS_IN[board]}) will do; {other}."
    )


def _runs_up(plane: Plane, edge: PlaneEdge) -> bool:
    """Whether an edge runs straight up the slope: no rafter is cut there."""
    xs = (plane.to_plane(edge.start)[0], plane.to_plane(edge.end)[0])
    return abs(xs[0] - xs[1]) < _UPRIGHT_IN


def _wing_findings(wing: Wing, planes: Sequence[Plane], hips: Sequence[Board], units: Units) -> list[Finding]:
    findings: list[Finding] = []
    lowest = min(plane.tangent for plane in planes)
    if lowest < DEFAULT_LIMITS.board_ridge_tangent - _NOISE:
        text = (
            f"{wing.name}: at {units.slope(lowest)}, under {units.slope(DEFAULT_LIMITS.board_ridge_tangent)}, hips and "
            f"valleys are designed as beams: have the engineer size them and what they stand on. {SCREENING}"
        )
        findings.append(Finding("hips-need-beam", "warning", wing.id, text, _CUT_END_SOURCE))
    findings += _shallow(wing, planes, hips[0], units)
    deepest: dict[str, tuple[float, Finding]] = {}
    for board in hips:
        for how_much, finding in _foot_findings(wing, board, units):
            if how_much > deepest.get(finding.code, (-1.0, finding))[0]:
                deepest[finding.code] = how_much, finding
    return [*findings, *(finding for _, finding in deepest.values())]


def _shallow(wing: Wing, planes: Sequence[Plane], board: Board, units: Units) -> list[Finding]:
    cut_end = max(wing.rafter.depth_in * plane.stretch for plane in planes)
    if board.stick.depth >= cut_end - _NOISE:
        return []
    text = (
        f"{wing.name}: hips and valleys {units.length(board.stick.depth)} deep are shallower than the rafters' cut "
        f"ends ({units.length(cut_end)}); take deeper ones. {SCREENING}"
    )
    return [Finding("hip-too-shallow", "warning", wing.id, text, _CUT_END_SOURCE)]


def _foot_findings(wing: Wing, board: Board, units: Units) -> list[tuple[float, Finding]]:
    """What stands against one foot, with how far it is off."""
    stick = board.stick
    word = "hip" if board.kind == "hip_rafter" else "valley"
    findings: list[tuple[float, Finding]] = []
    for notch in stick.notches:
        if notch.seat <= _NOISE:
            gap = -notch.seat * stick.tangent
            text = (
                f"{wing.name}: a {word} passes {units.length(gap)} over its plate corner; block it up, take a deeper "
                f"one, or lower the height above plate. {SCREENING}"
            )
            findings.append((gap, Finding("hip-not-seated", "warning", wing.id, text, GEOMETRY)))
            continue
        deep = notch.seat * math.sin(math.atan(stick.tangent))
        allowed = DEFAULT_LIMITS.end_notch_share * stick.depth
        if deep > allowed + _NOISE:
            text = (
                f"{wing.name}: to bring its top in line with the rafters a {word}'s bird's-mouth is "
                f"{units.length(deep)} deep, square to the edge; {units.length(allowed)} is the most at the end of a "
                f"member {units.length(stick.depth)} deep. A larger height above plate, or a post or hanger by the "
                f"engineer, mends it. {SCREENING}"
            )
            source = DEFAULT_LIMITS.end_notch_source
            findings.append((deep - allowed, Finding("hip-notch-too-deep", "warning", wing.id, text, source)))
    return findings
