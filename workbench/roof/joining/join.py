"""One group of wings joined into one roof."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from functools import lru_cache

from workbench.findings import Finding
from workbench.job.model import Opening
from workbench.measure import Units
from workbench.roof.joining.cells import cut_into_cells
from workbench.roof.joining.checks import (
    close_findings,
    covered_findings,
    crossing_findings,
    small_findings,
    tight_findings,
    trimmed_findings,
)
from workbench.roof.joining.corners import Corners
from workbench.roof.joining.geometry import Shapes
from workbench.roof.joining.lines import scene_lines
from workbench.roof.joining.openings import cut_openings, lost_openings
from workbench.roof.joining.pairs import settle_pairs
from workbench.roof.joining.pieces import joined_planes
from workbench.roof.joining.scene import Scene, make_scene
from workbench.roof.joining.shared import share_planes
from workbench.roof.joining.sides import Pieces
from workbench.roof.joining.standing import make_standing
from workbench.roof.model import Plane, Point2
from workbench.roof.sections import cut_section
from workbench.roof.solved import BuiltWing

_TOUCH_IN = 1e-6


@dataclass(frozen=True)
class Joined:
    """What became of a group: its wings in the same order, and what is to be told of them together."""

    wings: tuple[BuiltWing, ...]
    findings: tuple[Finding, ...]


def join_wings(wings: Sequence[BuiltWing], openings: Sequence[Opening], units: Units) -> Joined:
    """All wings of a job joined, group by group.

    Args:
        wings: The wings as built alone, in the order of the job.
        openings: Skylights and chimneys.
        units: How lengths are shown.

    Returns:
        The wings in the same order. A wing that no other comes near, and that has no opening, is the same object.
    """
    planes = {plane.id for wing in wings for plane in wing.planes}
    findings = list(lost_openings(openings, list(planes)))
    result = list(wings)
    for group in _groups(wings):
        ids = {wings[k].effective.id for k in group}
        mine = tuple(o for o in openings if o.plane in planes and o.plane.partition("/")[0] in ids)
        if len(group) == 1 and not mine:
            continue
        joined = join_group(tuple(wings[k] for k in group), mine, units)
        findings += joined.findings
        for k, wing in zip(group, joined.wings, strict=True):
            result[k] = wing
    return Joined(tuple(result), tuple(findings))


@lru_cache(maxsize=256)
def join_group(wings: tuple[BuiltWing, ...], openings: tuple[Opening, ...], units: Units) -> Joined:
    """Wings that come near one another, joined; the same objects give the same result."""
    scene = make_scene(wings, openings)
    standing = make_standing(scene, cut_into_cells(*scene_lines(scene)))
    close = settle_pairs(standing)
    share_planes(standing)
    told = list(cut_openings(standing))
    pieces = Pieces(standing)
    corners = Corners(pieces)
    planes = joined_planes(scene, pieces, corners)
    told += tight_findings(standing, corners)
    told += crossing_findings(standing)
    told += close_findings(standing, close, units)
    told += covered_findings(standing, planes)
    told += trimmed_findings(standing)
    told += small_findings(standing, planes)
    joined = tuple(_rebuilt(scene, wing, planes[number], units) for number, wing in enumerate(wings))
    return Joined(joined, tuple(told))


def _rebuilt(scene: Scene, wing: BuiltWing, planes: Sequence[Plane], units: Units) -> BuiltWing:
    """The wing with its joined planes and the sections through them."""
    if len(planes) == len(wing.planes) and all(a is b for a, b in zip(planes, wing.planes, strict=True)):
        return wing
    if wing.solved is None:
        return replace(wing, planes=tuple(planes))
    before = {plane.whole: plane for plane in reversed(wing.planes)}
    sections = [
        wing.solved.section_of(plane.id)
        if any(plane is old for old in wing.planes)
        else cut_section(wing.effective, wing.solved, before[plane.whole], plane, units)
        for plane in planes
    ]
    solved = replace(wing.solved, sections=tuple(section for section in sections if section is not None))
    return replace(wing, solved=solved, planes=tuple(planes))


def _groups(wings: Sequence[BuiltWing]) -> list[list[int]]:
    """Wings whose bounding boxes touch or overlap, directly or through others, in the order of the job."""
    numbers = [k for k, wing in enumerate(wings) if wing.planes]
    leader = {k: k for k in numbers}
    for i, j in Shapes([_box(wings[k]) for k in numbers]).touching():
        a, b = _leader(leader, numbers[i]), _leader(leader, numbers[j])
        leader[max(a, b)] = min(a, b)
    groups: dict[int, list[int]] = {}
    for k in numbers:
        groups.setdefault(_leader(leader, k), []).append(k)
    return list(groups.values())


def _leader(leader: dict[int, int], k: int) -> int:
    while leader[k] != k:
        k = leader[k]
    return k


def _box(wing: BuiltWing) -> list[Point2]:
    """Corners of the box round a wing's roof."""
    corners = [corner for plane in wing.planes for corner in plane.corners]
    xs, ys = [corner[0] for corner in corners], [corner[1] for corner in corners]
    left, low, right, high = min(xs) - _TOUCH_IN, min(ys) - _TOUCH_IN, max(xs) + _TOUCH_IN, max(ys) + _TOUCH_IN
    return [(left, low), (right, low), (right, high), (left, high)]
