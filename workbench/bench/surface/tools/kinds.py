"""What the edges of a freshly drawn outline most likely are."""

from __future__ import annotations

import math
from typing import Any

from workbench.job.model import Job, OutlineKind
from workbench.roof.model import Point2

KIND_WORDS: tuple[tuple[OutlineKind, str], ...] = (("eave", "Eave"), ("rake", "Rake"), ("wall", "Against a wall"))
"""What an edge of the outline can be, in words."""


def word_of_kind(kind: OutlineKind) -> str:
    """An edge kind in words."""
    return dict(KIND_WORDS)[kind]


def anticlockwise(corners: tuple[Point2, ...]) -> tuple[Point2, ...]:
    """The corners in anticlockwise order, the first one kept."""
    twice = sum(a[0] * b[1] - b[0] * a[1] for a, b in zip(corners, corners[1:] + corners[:1], strict=True))
    return corners if twice >= 0.0 else (corners[0], *reversed(corners[1:]))


def likely_kinds(corners: tuple[Point2, ...]) -> tuple[OutlineKind, ...]:
    """Kinds for an anticlockwise outline: the ends of its arms are rakes, everything else eaves.

    An end is a side between two outward corners, one of its neighbours running into an inward corner, that is shorter
    than the longer neighbour. A rectangle's two shorter sides are its ends; a square's are the second and the fourth.
    Common practice, no source.
    """
    count = len(corners)
    if count == 4 and all(_turn(corners, i) > 0.0 for i in range(count)):
        first, second = _length(corners, 0) + _length(corners, 2), _length(corners, 1) + _length(corners, 3)
        return ("rake", "eave", "rake", "eave") if first < second - 1e-6 else ("eave", "rake", "eave", "rake")
    kinds: list[OutlineKind] = ["rake" if _is_end(corners, i) else "eave" for i in range(count)]
    return tuple(kinds)


def like_the_last(job: Job) -> dict[str, Any]:
    """Fields of a new wing that are taken over from the last one drawn: its heights, overhangs and rafters."""
    if not job.wings:
        return {}
    last = job.wings[-1]
    names = ("slope_in_12", "plate_in", "eave_overhang_in", "rake_overhang_in", "heel", "rafter", "ridge", "hips")
    return {name: getattr(last, name) for name in names}


def _is_end(corners: tuple[Point2, ...], index: int) -> bool:
    count = len(corners)
    after = (index + 1) % count
    if _turn(corners, index) <= 0.0 or _turn(corners, after) <= 0.0:
        return False
    arm = _turn(corners, index - 1) < 0.0 or _turn(corners, (index + 2) % count) < 0.0
    return arm and _length(corners, index) + 1e-6 < max(_length(corners, index - 1), _length(corners, after))


def _turn(corners: tuple[Point2, ...], index: int) -> float:
    """Over 0 where the outline turns left at a corner."""
    before, here, after = corners[index - 1], corners[index], corners[(index + 1) % len(corners)]
    return (here[0] - before[0]) * (after[1] - here[1]) - (here[1] - before[1]) * (after[0] - here[0])


def _length(corners: tuple[Point2, ...], index: int) -> float:
    return math.dist(corners[index], corners[(index + 1) % len(corners)])
