"""Collar ties and rafter ties: level boards from rafter to rafter across a ridge. Inches.

Where they belong: collar ties in the upper third, rafter ties in the lower third of the height, both no more than 4 ft
apart, collar ties at least 1x4 (IRC R802, read in a copy). Lengths: geometry.
"""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence

from workbench.findings import GEOMETRY, SCREENING, Finding
from workbench.framing.between import Standing
from workbench.framing.board import Board
from workbench.framing.group import Group
from workbench.framing.model import Cut, Measure, Member, MemberKind, Placement
from workbench.framing.space import add2, back, flat
from workbench.framing.stock import section_name, stock_length
from workbench.framing.timber import Timber
from workbench.job.model import Tie, Wing
from workbench.measure import Trace, Units
from workbench.roof.model import Point3

_SAME_STATION_IN = 1e-3
_FURTHEST_IN = 48.0
_THIRD = 1.0 / 3.0
_SOURCE = "IRC R802, read in a copy"


def ties(
    group: Group, ridges: Sequence[Timber], standing: Mapping[str, Standing], units: Units
) -> tuple[list[Member], list[Finding]]:
    """The ties of a group, and what stands against where they are."""
    members: list[Member] = []
    findings: list[Finding] = []
    for ridge in ridges:
        wing = group.wing_of(ridge.right)
        asked: tuple[tuple[MemberKind, Tie | None], ...] = (
            ("collar_tie", wing.trim.collar_ties),
            ("rafter_tie", wing.trim.rafter_ties),
        )
        for kind, tie in asked:
            if tie is not None:
                findings += _placing(wing, kind, tie, units)
                pairs = _pairs(ridge, standing)[:: tie.every]
                members += [made for pair in pairs if (made := _tie(ridge, kind, tie, pair, units)) is not None]
    return members, list(dict.fromkeys(findings))


def _pairs(ridge: Timber, standing: Mapping[str, Standing]) -> list[tuple[Board, Board]]:
    """Rafters that stand on plates and meet across a ridge, along it."""
    sides: list[list[tuple[float, Board]]] = []
    for plane_id in (ridge.left, ridge.right):
        found = [
            (ridge.place(flat(board.end))[0], board)
            for line, board in standing.get(plane_id, ())
            if board.kind == "common_rafter" and line.high_kind == "ridge" and board.stick.notches
        ]
        sides.append(sorted(found, key=lambda item: item[0]))
    return [
        (one, other)
        for s, one in sides[0]
        for t, other in sides[1]
        if abs(s - t) < _SAME_STATION_IN and -_SAME_STATION_IN < s < ridge.run + _SAME_STATION_IN
    ]


def _tie(ridge: Timber, kind: MemberKind, tie: Tie, pair: tuple[Board, Board], units: Units) -> Member | None:
    """One tie, its ends cut along the tops of its rafters; None where the rafters are too close for it up there."""
    top = ridge.a[2]
    plate = max(board.stick.notches[0].support for board in pair)
    low = plate + tie.share * (top - plate)
    slopes = [board.stick.tangent for board in pair]
    reach = [(top - low) / m for m in slopes]  # level, from the ridge to each rafter's top edge
    bottom = sum(reach)
    cut_off = [tie.depth_in / m for m in slopes]
    length = bottom - sum(cut_off)
    if length <= 0.0:
        return None
    at = _station(ridge, pair[0])
    ends: list[Point3] = []
    for board, away in zip(pair, reach, strict=True):
        x, y = add2(at, back(board.direction), away)
        ends.append((x, y, low))
    trace = Trace(
        f"{kind.replace('_', ' ')} length, long points",
        bottom,
        "in",
        "(height of the ridge line over its lower edge) · (1 / m + 1 / m')",
        f"{top - low:.4f} · (1 / {slopes[0]:.6f} + 1 / {slopes[1]:.6f}) = {bottom:.4f} in = {units.length(bottom)}",
        GEOMETRY,
    )
    depth = tie.depth_in
    level = [90.0 - math.degrees(math.atan(m)) for m in slopes]
    return Member(
        mark="Tie",
        kind=kind,
        count=1,
        length_in=bottom,
        stock_in=stock_length(bottom) or bottom,
        section=section_name(tie.thickness_in, depth),
        depth_in=depth,
        thickness_in=tie.thickness_in,
        cuts=(
            Cut("cut along the rafter", level[0], 0.0, 12.0 * slopes[0], 0.0),
            Cut("cut along the rafter", level[1], 0.0, 12.0 * slopes[1], length),
        ),
        profile=((0.0, depth), (-cut_off[0], 0.0), (length + cut_off[1], 0.0), (length, depth)),
        measures=(
            Measure("top edge", (0.0, depth), (length, depth), length),
            Measure("long points", (-cut_off[0], 0.0), (length + cut_off[1], 0.0), bottom),
        ),
        placements=(Placement(pair[0].plane, ends[0], ends[1]),),
        traces=(trace,),
        angle_deg=0.0,
    )


def _station(ridge: Timber, board: Board) -> tuple[float, float]:
    """Plan point of the ridge line over which a pair of rafters meets."""
    return add2(flat(ridge.a), ridge.direction, ridge.place(flat(board.end))[0])


def _placing(wing: Wing, kind: MemberKind, tie: Tie, units: Units) -> list[Finding]:
    findings: list[Finding] = []
    word = kind.replace("_", " ")
    if kind == "collar_tie" and tie.share < 2.0 * _THIRD:
        text = f"{wing.name}: collar ties belong in the upper third of the roof's height. {SCREENING}"
        findings.append(Finding("tie-out-of-place", "warning", wing.id, text, _SOURCE))
    if kind == "rafter_tie" and tie.share > _THIRD:
        text = f"{wing.name}: rafter ties belong in the lower third of the roof's height. {SCREENING}"
        findings.append(Finding("tie-out-of-place", "warning", wing.id, text, _SOURCE))
    apart = tie.every * wing.rafter.spacing_in
    if apart > _FURTHEST_IN:
        most = units.length(_FURTHEST_IN)
        text = f"{wing.name}: {word}s stand {units.length(apart)} apart; {most} is the most. {SCREENING}"
        findings.append(Finding("ties-too-far-apart", "warning", wing.id, text, _SOURCE))
    return findings
