"""Pieces as the search for fewest sheets sees them: alike pieces are one kind, and what each takes of a sheet's length.

Two neighbours in a sheet that both reach over its middle line are parted by a straight cut along an edge of one of
them. A cut of lean s passes x = X + s · (y - W / 2); a piece between cuts of leans a and b takes X_b - X_a of the
middle line, least where it lies at the sheet's lower or upper edge. Turning a sheet by 180 degrees keeps every lean, so
a piece may as well lie between cuts of leans b and a, turned; it is turned over only where that is allowed. Inches.
"""

from __future__ import annotations

import itertools
import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from typing import Literal

from workbench.roof.model import Point2
from workbench.sheathing.packing import SheetRules
from workbench.sheathing.region import ring_area

Level = Literal["tall", "strip", "small"]
Ring = tuple[Point2, ...]

_SAME_IN = 1e-6
_HALF_IN = 4e-6  # a strip is never wider than half a sheet by more
_MOST_LEANS = 5
_FLATTEST = 8.0  # run over rise; the long edge of a tapered row is no cut between neighbours along a sheet
_LEAN_DIGITS = 5
_WAYS = ((False, False), (False, True), (True, False), (True, True))  # turned over, turned by 180 degrees


@dataclass(frozen=True, slots=True)
class Shape:
    """A piece's shape: what it takes of a sheet when upright, and its ring with the lower left corner at the origin."""

    length_in: float
    width_in: float
    ring: Ring
    upright: bool


@dataclass(frozen=True, slots=True)
class Lie:
    """How a piece lies between two cuts.

    Attributes:
        takes_in: What it takes of the middle line, no kerf.
        turned: Whether it is turned by 180 degrees.
        at_top: Whether it lies at the upper edge.
        mirrored: Whether it is turned over, end for end, before it is turned.
    """

    takes_in: float
    turned: bool
    at_top: bool
    mirrored: bool = False


@dataclass(frozen=True)
class Kind:
    """Pieces that are cut alike.

    Attributes:
        shape: Their common shape.
        level: ``tall`` reaches over the sheet's middle line wherever it lies; ``strip`` shares it with one other at
            most, the sheet ripped along the middle; ``small`` is the rest.
        convex: Whether its shape is.
        mirrors: Whether it may be turned over, to any use.
    """

    shape: Shape
    level: Level
    convex: bool
    mirrors: bool = False

    @property
    def area_sqin(self) -> float:
        """Area of the shape."""
        return ring_area(self.shape.ring)

    @property
    def leans(self) -> set[float]:
        """Run over rise of its edges, in every way it may lie."""
        own = edge_leans(self.shape.ring)
        return own | {-lean + 0.0 for lean in own} if self.mirrors else own


def shape_of(length_in: float, width_in: float, ring: Ring, upright: bool) -> Shape:
    """A shape in the one of its two positions that comes first, so that equal pieces are equal."""
    if upright:
        length, width = round(length_in, 6), round(width_in, 6)
        return Shape(length, width, ((0.0, 0.0), (length, 0.0), (length, width), (0.0, width)), True)
    placed = _placed(ring)
    return Shape(round(length_in, 6), round(width_in, 6), min(placed, _placed([(-x, -y) for x, y in ring])), False)


def _placed(ring: Iterable[Point2]) -> Ring:
    points = list(ring)
    left, bottom = min(x for x, _ in points), min(y for _, y in points)
    moved = [(round(x - left, 6) + 0.0, round(y - bottom, 6) + 0.0) for x, y in points]
    first = moved.index(min(moved))
    return (*moved[first:], *moved[:first])


def turned_ring(ring: Ring) -> Ring:
    """A ring turned by 180 degrees, its lower left corner at the origin again."""
    right, top = max(x for x, _ in ring), max(y for _, y in ring)
    return tuple((right - x, top - y) for x, y in ring)


def mirrored_ring(ring: Ring) -> Ring:
    """A ring turned over end for end, anticlockwise again, its lower left corner at the origin."""
    right = max(x for x, _ in ring)
    return tuple((right - x, y) for x, y in reversed(ring))


def kinds_of(shapes: Sequence[Shape], rules: SheetRules) -> tuple[Kind, ...]:
    """The kinds of these shapes, which must differ from each other."""
    upright = all(shape.upright for shape in shapes)
    kerf = 0.0 if rules.halves_nominal else rules.kerf_in
    # A cut that leans may pass corner to corner between two pieces of just under half the width, one below and one
    # above, and take less than a kerf along the sheet: beside slanted ones only half the width surely meets the middle.
    over_in = rules.width_in - kerf + 2.0 * _SAME_IN
    if not upright:
        over_in = max(over_in, rules.width_in + (-2.0 if kerf else 2.0) * _SAME_IN)
    tall = [shape.width_in for shape in shapes if 2.0 * shape.width_in > over_in]
    least = min(tall, default=rules.width_in)
    kinds: list[Kind] = []
    for shape in shapes:
        level: Level = "small"
        if 2.0 * shape.width_in > over_in:
            level = "tall"
        elif (
            shape.width_in + least > rules.width_in + 2.0 * _SAME_IN
            and 3.0 * shape.width_in > rules.width_in + 3.0 * _SAME_IN
            # Beside slanted pieces only what is half a sheet wide is sure to lie no more than two abreast.
            and (upright or 2.0 * shape.width_in >= rules.width_in - 2.0 * _SAME_IN)
        ):
            level = "strip"
        kinds.append(Kind(shape, level, _is_convex(shape.ring), rules.mirrored and not shape.upright))
    return tuple(kinds)


def _is_convex(ring: Ring) -> bool:
    corners = zip(ring[-1:] + ring[:-1], ring, ring[1:] + ring[:1], strict=True)
    return all((b[0] - a[0]) * (c[1] - b[1]) - (b[1] - a[1]) * (c[0] - b[0]) >= -_SAME_IN for a, b, c in corners)


def leans_of(kinds: Sequence[Kind]) -> tuple[tuple[float, ...], bool]:
    """The leans of cuts worth making, upright first, the commonest before the rarer; and whether some were left out."""
    count: dict[float, int] = {}
    for kind in kinds:
        if kind.level == "small" or kind.shape.upright:
            continue
        for lean in kind.leans:
            count[lean] = count.get(lean, 0) + 1
    count.pop(0.0, None)
    ordered = sorted(count, key=lambda lean: (abs(lean) > _FLATTEST, -count[lean], abs(lean), lean))
    flat = sum(abs(lean) > _FLATTEST for lean in ordered)
    ordered = ordered[: len(ordered) - flat]
    return (0.0, *ordered[: _MOST_LEANS - 1]), flat > 0 or len(ordered) > _MOST_LEANS - 1


def edge_leans(ring: Ring) -> set[float]:
    """Run over rise of every edge that is not level."""
    found: set[float] = set()
    for (x0, y0), (x1, y1) in zip(ring, ring[1:] + ring[:1], strict=True):
        if abs(y1 - y0) > 1e-3:
            found.add(round((x1 - x0) / (y1 - y0), _LEAN_DIGITS) + 0.0)
    return found


def laid_ring(ring: Ring, *, mirrored: bool, turned: bool) -> Ring:
    """A ring as it lies in the sheet: turned over or not, then turned by 180 degrees or not."""
    shape = mirrored_ring(ring) if mirrored else ring
    return turned_ring(shape) if turned else shape


def lie_between(ring: Ring, left: float, right: float, strip_in: float, mirrors: bool = False) -> Lie:
    """The best way a convex piece lies between cuts of two leans in a strip of a width; turned over if it may be."""
    height = max(y for _, y in ring)
    best: Lie | None = None
    for mirrored, turned in _WAYS if mirrors else _WAYS[:2]:
        shape = laid_ring(ring, mirrored=mirrored, turned=turned)
        for at_top in (False, True):
            offset = max(strip_in - height, 0.0) if at_top else 0.0
            takes = _between(shape, left, right, offset - strip_in / 2.0)
            if best is None or takes < best.takes_in - 1e-9:
                best = Lie(takes, turned, at_top, mirrored)
    assert best is not None
    return best


def _between(ring: Ring, left: float, right: float, offset: float) -> float:
    return max(x - right * (y + offset) for x, y in ring) - min(x - left * (y + offset) for x, y in ring)


def least_taken(kind: Kind, left: float | None, right: float | None, strip_in: float) -> float:
    """The least a piece can take between cuts of two leans, None for any lean; also of a piece that is not convex."""
    ring = kind.shape.ring
    if kind.shape.upright and (left is None or right is None):
        return kind.shape.length_in
    if not kind.convex:
        return _least_chord(ring, strip_in)
    steep = sorted({*kind.leans, 0.0})
    lefts = steep if left is None else [left]
    rights = steep if right is None else [right]
    return min(lie_between(ring, a, b, strip_in, kind.mirrors).takes_in for a in lefts for b in rights)


def over_half(ring: Ring, sheet_in: float) -> float:
    """Length along the sheet over which a shape is over half the sheet's width, and half of that where it is half."""
    xs = sorted({x for x, _ in ring})
    total = 0.0
    for a, b in itertools.pairwise(xs):
        ends = [_upright_chord(ring, a + share * (b - a)) for share in (1e-9, 1.0 - 1e-9)]
        low, high = min(ends), max(ends)
        half = sheet_in / 2.0
        if low > half + _HALF_IN:
            total += b - a
        elif low >= half - _HALF_IN and high <= half + _HALF_IN:
            total += (b - a) / 2.0
        elif high > half + _HALF_IN:
            total += (b - a) * (high - half - _HALF_IN) / (high - low)
    return total


def _upright_chord(ring: Ring, x: float) -> float:
    """How much of a line straight up at x lies in a ring; no corner lies on it."""
    ys: list[float] = []
    for (x0, y0), (x1, y1) in zip(ring, ring[1:] + ring[:1], strict=True):
        if (x0 > x) != (x1 > x):
            ys.append(y0 + (x - x0) / (x1 - x0) * (y1 - y0))
    ys.sort()
    return sum(b - a for a, b in zip(ys[::2], ys[1::2], strict=False))


def _least_chord(ring: Ring, strip_in: float) -> float:
    """Width of the narrowest level cut through the part of a shape that the strip's middle line can meet."""
    height = max(y for _, y in ring)
    low, high = max(height - strip_in / 2.0, 0.0), min(strip_in / 2.0, height)
    levels = {low, high} | {y for _, y in ring if low < y < high}
    found = math.inf
    for level in levels:
        for nudge in (-1e-7, 1e-7):
            found = min(found, _chord(ring, min(max(level + nudge, 1e-7), height - 1e-7)))
    return max(found - 1e-4, 0.0)


def _chord(ring: Ring, level: float) -> float:
    xs: list[float] = []
    for (x0, y0), (x1, y1) in zip(ring, ring[1:] + ring[:1], strict=True):
        if (y0 > level) != (y1 > level):
            xs.append(x0 + (level - y0) / (y1 - y0) * (x1 - x0))
    xs.sort()
    return sum(b - a for a, b in zip(xs[::2], xs[1::2], strict=False))
