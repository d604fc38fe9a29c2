"""Where the end joints of one row fall: on supports, a panel length apart on the framing. Inches, plane axes.

Along the row the module is measured on the framing, a sheet with its end gaps being a little shorter; so joints stay on
rafters and never drift. Which rule gives way when not all can hold: a joint off the framing and a piece of less than
one bay are errors; a piece of one bay only is a warning: block or clip it (common practice, no source).
"""

from __future__ import annotations

import itertools
import math
from bisect import bisect_left, bisect_right
from dataclasses import dataclass
from functools import lru_cache

from workbench.job.model import Side

_SAME_MEMBER_IN = 1.5  # nearer than a rafter's thickness to an end: that end's own rafter
_FIT_IN = 1e-3


@dataclass(frozen=True, slots=True)
class Stretch:
    """The part of a row between two ends of the plane.

    Attributes:
        left: Its left end, x.
        right: Its right end, x.
        square_left: Whether the left end runs straight up the slope, not along a hip or valley.
        square_right: The same of the right end.
    """

    left: float
    right: float
    square_left: bool = True
    square_right: bool = True


@dataclass(frozen=True, slots=True)
class ColumnRules:
    """What joints are laid out by.

    Attributes:
        panel_in: Panel length.
        gap_in: Gap between panel ends.
        start: End of the plane the row starts from.
    """

    panel_in: float = 96.0
    gap_in: float = 0.125
    start: Side = "left"


@dataclass(frozen=True, slots=True)
class Columns:
    """One way of laying a stretch.

    Attributes:
        joints: x of the end joints, left to right.
        first_in: Length on the framing of the piece at the end the row starts from.
        off_framing: Joints that no support carries; all are on one where no support is known.
        too_short: Pieces of less than one bay.
        one_bay: Pieces of one bay only.
    """

    joints: tuple[float, ...]
    first_in: float
    off_framing: int
    too_short: int
    one_bay: int

    @property
    def errors(self) -> int:
        """How often an unbending rule is broken."""
        return self.off_framing + self.too_short

    @property
    def warnings(self) -> int:
        """How often a rule that may give way does."""
        return self.one_bay


@lru_cache(maxsize=2048)
def column_options(stretch: Stretch, supports: tuple[float, ...], rules: ColumnRules) -> tuple[Columns, ...]:
    """Every way of laying a stretch worth comparing: a first joint on each support within a panel of the start.

    Where the last piece comes out at one bay or less, the same with the last joint moved back to the support that gives
    it two. The longest first piece comes first.

    Args:
        stretch: The part of a row.
        supports: x of the supports, left to right; where there is none, joints are taken to be free to fall at
            quarters of a panel, measured from the start.
        rules: What joints are laid out by.
    """
    if rules.start == "right":
        turned = Stretch(-stretch.right, -stretch.left, stretch.square_right, stretch.square_left)
        back = tuple(-x for x in reversed(supports))
        found = column_options(turned, back, ColumnRules(rules.panel_in, rules.gap_in))
        return tuple(
            Columns(tuple(-x for x in reversed(way.joints)), way.first_in, way.off_framing, way.too_short, way.one_bay)
            for way in found
        )
    walk = _Walk(stretch, supports or _quarters(stretch, rules), rules)
    ways: list[tuple[tuple[float, ...], int]] = []
    if walk.reaches_end(stretch.left):
        ways.append(((), 0))
    firsts = walk.within(stretch.left, rules.panel_in + rules.gap_in / 2.0)
    if not firsts and not ways:
        ways.append(walk.from_first(stretch.left + rules.panel_in, 1))
    for first in reversed(firsts):
        way = walk.from_first(first, 0)
        ways.append(way)
        moved = walk.moved_back(way[0])
        if moved is not None:
            ways.append((moved, way[1]))
    return tuple(walk.judged(joints, off) for joints, off in ways)


@lru_cache(maxsize=1024)
def bay_of(supports: tuple[float, ...]) -> float:
    """The usual distance between supports: over half of the length they lie no further apart, and over half no nearer.

    0 where there are fewer than two. Doubled rafters and those beside walls, rakes and openings weigh little so.
    """
    steps = sorted(b - a for a, b in itertools.pairwise(supports))
    half, passed = sum(steps) / 2.0, 0.0
    for step in steps:
        passed += step
        if passed >= half:
            return step
    return 0.0


def joint_offset(one: tuple[float, ...], other: tuple[float, ...]) -> float:
    """The least distance between a joint of one row and a joint of its neighbour; infinite where there is none."""
    nearest = math.inf
    if not one or not other:
        return nearest
    i = j = 0
    last_i, last_j = len(one) - 1, len(other) - 1
    while True:
        off = one[i] - other[j]
        if off < 0.0:
            nearest = min(nearest, -off)
            if i == last_i:
                return nearest
            i += 1
        else:
            nearest = min(nearest, off)
            if j == last_j:
                return nearest
            j += 1


def stagger_missed(one: tuple[float, ...], other: tuple[float, ...], stagger_in: float) -> float:
    """By how much the joints of neighbouring rows are nearer than the stagger; 0 where they are not."""
    return missed_by(joint_offset(one, other), stagger_in)


def missed_by(offset_in: float, stagger_in: float) -> float:
    """By how much joints this far apart miss the stagger; 0 where they do not."""
    missed = stagger_in - offset_in
    return missed if missed > _FIT_IN else 0.0


def _quarters(stretch: Stretch, rules: ColumnRules) -> tuple[float, ...]:
    step = rules.panel_in / 4.0
    return tuple(stretch.left + step * k for k in range(1, int((stretch.right - stretch.left) / step) + 1))


class _Walk:
    """Steps from support to support along one stretch, left to right."""

    def __init__(self, stretch: Stretch, supports: tuple[float, ...], rules: ColumnRules) -> None:
        self.stretch = stretch
        self.rules = rules
        self.bay = bay_of(supports) or rules.panel_in / 4.0
        near = max(_SAME_MEMBER_IN, self.bay / 4.0)
        low, high = stretch.left + _SAME_MEMBER_IN, stretch.right - _SAME_MEMBER_IN
        # Supports further apart than a panel is long carry no joint that a next one could follow: plain panels then.
        reachable = self.bay <= rules.panel_in + rules.gap_in + _FIT_IN
        self.supports = tuple(x for x in supports if low < x < high) if reachable else ()
        # A support just inside a rake carries the overhanging end: it makes no bay of its own.
        self.inner = tuple(x for x in self.supports if stretch.left + near < x < stretch.right - near)

    def within(self, x: float, reach: float) -> tuple[float, ...]:
        """Supports past x, no further than the reach."""
        start = bisect_right(self.supports, x + _SAME_MEMBER_IN)
        return self.supports[start : bisect_right(self.supports, x + reach + _FIT_IN)]

    def reaches_end(self, x: float) -> bool:
        """Whether one panel from x closes the stretch."""
        shared = self.rules.gap_in / 2.0 if x > self.stretch.left else 0.0
        return self.stretch.right - x <= self.rules.panel_in + shared + _FIT_IN

    def from_first(self, first: float, off_framing: int) -> tuple[tuple[float, ...], int]:
        """Joints from the first on, each as far as a panel reaches, and how many have no support."""
        joints = [first]
        while not self.reaches_end(joints[-1]):
            reachable = self.within(joints[-1], self.rules.panel_in + self.rules.gap_in)
            off_framing += not reachable
            joints.append(reachable[-1] if reachable else joints[-1] + self.rules.panel_in)
        return tuple(joints), off_framing

    def moved_back(self, joints: tuple[float, ...]) -> tuple[float, ...] | None:
        """The joints with the last one moved back so that the last piece has two bays; None where that is no gain."""
        if len(joints) < 2 or not self.stretch.square_right or self._bays(joints[-1], self.stretch.right) >= 2:
            return None
        for x in reversed(self.within(joints[-2], joints[-1] - joints[-2] - _SAME_MEMBER_IN)):
            if not self.reaches_end(x):
                return None
            if self._bays(x, self.stretch.right) >= 2:
                return (*joints[:-1], x)
        return None

    def judged(self, joints: tuple[float, ...], off_framing: int) -> Columns:
        """The joints with what they break."""
        ends = (self.stretch.left, *joints, self.stretch.right)
        too_short = one_bay = 0
        for i, (a, b) in enumerate(itertools.pairwise(ends)):
            slanted = (i == 0 and not self.stretch.square_left) or (i == len(joints) and not self.stretch.square_right)
            if slanted:  # carried by the hip or valley along all its end
                continue
            if b - a < self.bay - _SAME_MEMBER_IN:
                too_short += 1
            elif self._bays(a, b) < 2:
                one_bay += 1
        return Columns(joints, ends[1] - ends[0], off_framing, too_short, one_bay)

    def _bays(self, a: float, b: float) -> int:
        low = bisect_right(self.inner, a + _SAME_MEMBER_IN)
        return max(bisect_left(self.inner, b - _SAME_MEMBER_IN) - low, 0) + 1
