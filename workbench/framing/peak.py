"""Hips and commons that meet at one point with no ridge: which go through, and what is told of their upper ends.

Common practice, no source: with ``hips.head`` set to commons, two commons that face each other go through to the peak
and meet square in its middle, the others are cut against their faces, and the hips fit in the corners between them;
with ridge, the same of the hips themselves, and the commons fit between the hips. The pair that goes through is the
first one drawn. Over a ridge shorter than a common is thick the ridge board is a block as long as that common is thick.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Literal

from workbench.findings import COMMON_PRACTICE, GEOMETRY, Finding
from workbench.framing.group import Group
from workbench.framing.joints import Joints
from workbench.framing.skeleton import Skeleton
from workbench.framing.space import flat
from workbench.framing.timber import Timber
from workbench.measure import Units

_FEWEST_HIPS = 3
_SQUARE = 1e-6
_Role = Literal["through", "against", "between", "past", "block", ""]


@dataclass(frozen=True, slots=True)
class Head:
    """What is told of the upper end of a hip or common.

    Attributes:
        cut: Name of its cut; empty for the ordinary one.
        deducted: What its shortening is; empty for the ordinary rule.
        source: Where that comes from.
    """

    cut: str = ""
    deducted: str = ""
    source: str = ""


ORDINARY = Head()
"""Where a ridge is there."""

_WORDS: dict[_Role, Head] = {
    "through": Head(
        "peak plumb cut, through pair",
        "nothing: this pair goes through to the peak and meets square in its middle, the others are cut against it",
        COMMON_PRACTICE,
    ),
    "against": Head(
        "peak plumb cut, against that pair",
        "half the thickness of the pair that goes through, measured square across it",
        COMMON_PRACTICE,
    ),
    "between": Head("double cheek cut at the peak"),
    "past": Head("", "what the ridge board runs past its point", GEOMETRY),
    "block": Head("", "to the faces of the block and of the two commons it fits between", GEOMETRY),
    "": ORDINARY,
}


def head_of(joints: Joints, timber: Timber, points: Sequence[tuple[float, float]]) -> Head:
    """What is told of the upper end of a hip or common; the ordinary words where a ridge is there.

    Args:
        joints: The joints of its group.
        timber: The hip or the common at a hip's head.
        points: Its upper end in stick axes, from the left face to the right one.
    """
    head = _WORDS[_role(joints, timber, points)]
    if head.cut == _WORDS["between"].cut and timber.kind == "common":
        return Head(head.cut, "what the hips it fits between leave of its middle", GEOMETRY)
    return head


def _role(joints: Joints, timber: Timber, points: Sequence[tuple[float, float]]) -> _Role:
    tip = flat(timber.b)
    around = joints.timbers
    for ridge in around:
        if ridge.kind == "ridge" and ridge.ends_at(tip) and _has_one_common(joints, ridge):
            return "past" if timber.kind == "common" else "block"
    if any(t.kind in ("ridge", "valley") and (t.ends_at(tip) or t.passes(tip)) for t in around):
        return ""
    if sum(t.kind == "hip" and t.ends_at(tip) for t in around) < _FEWEST_HIPS:
        return ""
    if len(points) > 2:
        return "between"
    if abs(points[0][0] - points[1][0]) > _SQUARE:
        return ""
    short = math.dist(flat(timber.a), tip) - points[0][0]
    return "through" if abs(short) < _SQUARE else "against"


def _has_one_common(joints: Joints, ridge: Timber) -> bool:
    """Whether a ridge is a block with one common in its middle on each side."""
    return any(t.kind == "common" and ridge.passes(flat(t.b)) for t in joints.timbers)


def block_findings(group: Group, skeleton: Skeleton, units: Units) -> list[Finding]:
    """Ridges over which there is no room for two commons side by side, and what is made of them."""
    findings: list[Finding] = []
    for ridge in skeleton.ridges:
        if any(ridge.passes(flat(key.top)) for key in skeleton.keys):
            wing = group.wing_of(ridge.right)
            thick = units.length(wing.rafter.thickness_in)
            text = (
                f"{wing.name}: its ridge is only {units.length(ridge.run)} long, less than a rafter is thick. One "
                f"common stands in its middle on each side, and the ridge board is a block {thick} long between them; "
                "hips and end commons are cut against these four and the block."
            )
            findings.append(Finding("ridge-block", "note", wing.id, text, COMMON_PRACTICE))
    return findings
