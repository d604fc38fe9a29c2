"""Labels that keep out of one another's way: each slides along its own line, or steps back, before two run together."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace

import numpy as np

from workbench.drawing.shapes import box, contains
from workbench.roof.model import Point2

_SLIDES = (0.0, -0.25, 0.25, -0.38, 0.38)
_AWAY = (0.0, 1.0, 1.6, 2.2)
"""Where a label may stand beside its line: outside, just inside, and past the building line that runs along there."""
_GAP_PX = 3.0
_WHOLE = 0.45
"""Share of a line either way from its middle that stands for all of it."""


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
        key: Object it belongs to, whose own lines it may lie on.
        flip: Way to the other side of its line; none where it stands on the line.
    """

    middle: Point2
    along: Point2
    width: float
    height: float
    slide: float
    rank: int
    key: str = ""
    flip: Point2 = (0.0, 0.0)


@dataclass(frozen=True, slots=True)
class Place:
    """Where a label went: so far along its line, and so many flips to the other side of it."""

    slide: float = 0.0
    away: float = 0.0


class Lines:
    """Lines that labels had better not lie on, each with the key of its object; areas that outer labels keep off."""

    def __init__(
        self, lines: Sequence[tuple[str, Point2, Point2]] = (), areas: Sequence[tuple[Point2, ...]] = ()
    ) -> None:
        self._areas = [area for area in areas if len(area) > 2]
        self._boxes = np.array([box(area) for area in self._areas], dtype=float).reshape(-1, 4)
        numbers = {key: i for i, key in enumerate(dict.fromkeys(key for key, _, _ in lines))}
        self._numbers = numbers
        self._keys = np.array([numbers[key] for key, _, _ in lines], dtype=int)
        ends = np.array([(*start, *end) for _, start, end in lines], dtype=float).reshape(-1, 4)
        self._middle = (ends[:, :2] + ends[:, 2:]) / 2.0
        self._half = (ends[:, 2:] - ends[:, :2]) / 2.0

    def crossed(self, label: Label) -> bool:
        """Whether a line of another object runs through a label's box (separating axes: geometry)."""
        if not len(self._keys):
            return False
        ux, uy = label.along
        turn = np.array(((ux, -uy), (uy, ux)))
        middle, half = (self._middle - label.middle) @ turn, np.abs(self._half @ turn)
        mx, my, hx, hy = *np.abs(middle).T, *half.T
        near = (mx < label.width / 2.0 + hx) & (my < label.height / 2.0 + hy)
        near &= self._keys != self._numbers.get(label.key, -1)
        if not near.any():
            return False
        # The line itself as the third axis; signs matter here.
        (ax, ay), (bx, by) = middle[near].T, (self._half @ turn)[near].T
        away = np.abs(bx * ay - by * ax)
        return bool((away < label.width / 2.0 * np.abs(by) + label.height / 2.0 * np.abs(bx)).any())

    def covered(self, label: Label, moved: Label) -> bool:
        """Whether a label moved along its line lies in an area while the line has parts that none is under."""
        ends = (_moved(label, Place(part * label.slide)).middle for part in (-_WHOLE, _WHOLE))
        return self._in_area(moved.middle) and not all(self._in_area(end) for end in ends)

    def _in_area(self, point: Point2) -> bool:
        x, y = point
        left, low, right, high = self._boxes.T
        hits: list[int] = np.flatnonzero((left < x) & (x < right) & (low < y) & (y < high)).tolist()
        return any(contains(self._areas[i], point) for i in hits)


def arrange(labels: Sequence[Label], lines: Lines | None = None) -> tuple[Place | None, ...]:
    """Where each label goes; None for one that has no room at all.

    Labels that may not slide keep their place always: they name what nothing else names. The others lie on no label,
    and where they can on no line of another object either: further along their line, else on the other side of it, past
    a line that runs along there. Outside their own roof they keep off other roofs.
    """
    order = sorted(range(len(labels)), key=lambda i: (labels[i].rank, -labels[i].slide, i))
    placed: list[Label] = []
    places: list[Place | None] = [None] * len(labels)
    for i in order:
        place = places[i] = _place(labels[i], placed, lines)
        if place is not None:
            placed.append(_moved(labels[i], place))
    return tuple(places)


def _place(label: Label, placed: Sequence[Label], lines: Lines | None) -> Place | None:
    """The first offer that lies on nothing, else the first on its own side that lies on no label."""
    if label.slide <= 0.0:
        return Place()
    spare: Place | None = None
    for place in _offers(label):
        moved = _moved(label, place)
        if any(_touch(moved, other) for other in placed):
            continue
        # Outside its own roof a label on an area would name another roof's.
        strange = lines is not None and not place.away and any(label.flip) and lines.covered(label, moved)
        if lines is None or not (strange or lines.crossed(moved)):
            return place
        if not place.away and spare is None:
            spare = place
    return spare


def _offers(label: Label) -> Iterator[Place]:
    room = max(label.slide - label.width, 0.0) / 2.0
    slides = dict.fromkeys(max(-room, min(room, share * label.slide)) for share in _SLIDES)
    # Only an edge has an inside, where what is written further off is still read as its own.
    aways = _AWAY if label.key.startswith("edge:") else _AWAY[:2]
    for away in aways if any(label.flip) else (0.0,):
        for slide in slides:
            yield Place(slide, away)


def _moved(label: Label, place: Place) -> Label:
    x, y = label.middle
    fx, fy = label.flip
    across = x + place.away * fx, y + place.away * fy
    return replace(label, middle=(across[0] + label.along[0] * place.slide, across[1] + label.along[1] * place.slide))


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
