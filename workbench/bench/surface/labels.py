"""Labels that keep out of one another's way: each slides along its own line, or steps back, before two run together."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from workbench.roof.model import Point2

_SLIDES = (0.0, -0.25, 0.25, -0.38, 0.38)
_GAP_PX = 3.0


@dataclass(frozen=True, slots=True)
class Label:
    """A text as it would stand, in pixels with y down.

    Attributes:
        middle: Middle of its box.
        along: Unit vector it reads along.
        width: Length of its box.
        height: Height of its box.
        slide: Length of the line it may slide along; 0 where it has to stay.
        rank: Lower ranks are placed first and keep their place.
    """

    middle: Point2
    along: Point2
    width: float
    height: float
    slide: float
    rank: int


def arrange(labels: Sequence[Label]) -> tuple[float | None, ...]:
    """How far each label slides along its line, pixels; None for one that has no room at all.

    Labels that may not slide keep their place always: they name what nothing else names.
    """
    order = sorted(range(len(labels)), key=lambda i: (labels[i].rank, -labels[i].slide, i))
    placed: list[Label] = []
    slides: list[float | None] = [None] * len(labels)
    for i in order:
        label = labels[i]
        for slide in _offers(label):
            moved = _moved(label, slide)
            if label.slide <= 0.0 or not any(_touch(moved, other) for other in placed):
                placed.append(moved)
                slides[i] = slide
                break
    return tuple(slides)


def _offers(label: Label) -> Iterator[float]:
    room = max(label.slide - label.width, 0.0) / 2.0
    for share in _SLIDES:
        if abs(share * label.slide) <= room:
            yield share * label.slide


def _moved(label: Label, slide: float) -> Label:
    x, y = label.middle
    at = (x + label.along[0] * slide, y + label.along[1] * slide)
    return Label(at, label.along, label.width, label.height, label.slide, label.rank)


def _touch(a: Label, b: Label) -> bool:
    """Whether two boxes overlap, by the axes of both (separating axes: geometry)."""
    dx, dy = b.middle[0] - a.middle[0], b.middle[1] - a.middle[1]
    if math.hypot(dx, dy) > (a.width + a.height + b.width + b.height) / 2.0 + _GAP_PX:
        return False
    for ux, uy in (a.along, (-a.along[1], a.along[0]), b.along, (-b.along[1], b.along[0])):
        if abs(dx * ux + dy * uy) >= _reach(a, ux, uy) + _reach(b, ux, uy) + _GAP_PX:
            return False
    return True


def _reach(label: Label, ux: float, uy: float) -> float:
    ax, ay = label.along
    return (abs(ax * ux + ay * uy) * label.width + abs(-ay * ux + ax * uy) * label.height) / 2.0
