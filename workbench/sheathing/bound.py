"""A number of sheets that no layout the job's rules allow can go under.

Allowed is any first piece, any alternation, any split of the rows, any way of cutting; joints lie on rafters, no piece
spans less than a bay, and neighbouring rows keep the stagger. Where a plane can't keep all of these, none is assumed.

The argument: let a weight f of a share of the sheet's width be such that shares adding up to 1 at most have weights
adding up to 1 at most, and g likewise for the length. Blanks cut from one sheet do not overlap; make each of them
f(width) wide and g(length) long in place of its shares, and they still fit a sheet of 1 by 1 (dual feasible functions;
for two axes see Fekete and Schepers, from memory). So over one sheet f(width) · g(length) adds up to 1 at most, and
    sheets >= sum over rows of f(row width) · sum over the row's pieces of g(net length).
The right side is least along some path up the rows, found exactly by stepping from row to row; where two rips share
what is left of the rows, at the split that weighs least. The best of several f and g is the bound.

Where halves are not nominal a kerf lies between any two pieces of a sheet: pieces and sheets count a kerf longer and
wider. For rows that end on a hip or valley f is integrated over the height of the net row, less a gap of full weight
for each joint that any first piece gives, with the plain length for g only; where such a plane has two rips, whose
place is then not settled, only the area is counted.
"""

from __future__ import annotations

import itertools
import math
from collections.abc import Sequence
from dataclasses import dataclass

from workbench.roof.model import Point2
from workbench.sheathing.columns import Columns, column_options, stagger_missed
from workbench.sheathing.layout import LayoutRules, RowPart, parts_on, piece_lengths
from workbench.sheathing.model import Row
from workbench.sheathing.region import Region, clipped_ring, ring_area
from workbench.sheathing.rows import RowOption, place_rows, row_options
from workbench.sheathing.weights import Weight, half_weight, share_weight, stepped, trimmed

_CLOSEST_JOINTS_IN = 12.0
_SAFE = 1e-5  # of a sheet: what arithmetic and the breaks below may be off by


@dataclass(frozen=True, slots=True)
class BoundPlane:
    """One plane as the bound sees it.

    Attributes:
        region: What is to be covered.
        supports: x of its rafters.
        rules: What it is laid out by.
        lawful: Whether some layout keeps stagger and bays and has every joint on a rafter; only then are they assumed.
    """

    region: Region
    supports: tuple[float, ...]
    rules: LayoutRules
    lawful: bool


def at_least_by_area(planes: Sequence[BoundPlane]) -> int:
    """A weaker number of the same kind, from areas alone, for frames of a drag.

    No more comes out of a sheet than its area. What is covered less the most that gaps can be is cut from sheets: rows
    are no narrower than the least width, and joints are taken to be no nearer than a foot.
    """
    if not planes:
        return 0
    sheet = planes[0].rules.sheet
    total = 0.0
    for plane in planes:
        gap, least = plane.rules.rows.gap_in, plane.rules.rows.least_in
        total += plane.region.area_sqin * max(0.0, 1.0 - gap / least - gap / _CLOSEST_JOINTS_IN)
    return math.ceil(total / (sheet.width_in * sheet.length_in) - _SAFE)


def at_least(planes: Sequence[BoundPlane], enough: int | None = None) -> int:
    """Sheets that no layout of these planes can go under; the planes share the sheet and the saw.

    Args:
        planes: The planes.
        enough: Sheets that some layout is known to take: no bound can be higher, so none is looked for.
    """
    if not planes:
        return 0
    rules = planes[0].rules
    upright = [_Steps.of(plane) for plane in planes if plane.region.rectangle is not None]
    slanted = [plane for plane in planes if plane.region.rectangle is None]
    widths = _width_weights(rules)
    best = 0.0
    # Slanted pieces are weighed by their plain length; with another weight they are left out.
    for weight in widths:
        others = sum(_slanted_sheets(plane, weight) for plane in slanted)
        best = max(best, others + sum(steps.least(weight, share_weight) for steps in upright))
    lengths = _length_weights(upright, rules) if upright else []
    for weight, along in itertools.product(widths, lengths):
        if enough is not None and math.ceil(best - _SAFE) >= enough:
            break
        best = max(best, sum(steps.least(weight, along) for steps in upright))
    return math.ceil(best - _SAFE)


def _width_weights(rules: LayoutRules) -> list[Weight]:
    weights: list[Weight] = [half_weight, share_weight]
    least = (rules.rows.least_in + _kerf(rules)) / _across(rules)
    if least < 0.5:
        weights.append(trimmed(least))
    return weights


def _length_weights(upright: Sequence[_Steps], rules: LayoutRules) -> list[Weight]:
    """Steps of a third, a half, a quarter and a fifth, and trimmed at each end piece."""
    whole, kerf = rules.panel_length_in + _kerf(rules), _kerf(rules)
    ends = {round((net + kerf) / whole, 6) for steps in upright for way in steps.lengths for net in way}
    return [
        *(stepped(parts) for parts in (2, 1, 3, 4)),
        *(trimmed(share - 1e-6) for share in sorted(ends) if 0.2 < share < 0.5),
    ]


@dataclass(frozen=True)
class _Steps:
    """The ways of laying one row of an upright plane, and which may follow which up the slope.

    Attributes:
        plane: The plane.
        options: Its splits.
        lengths: For each way the net lengths of its pieces.
        below: For each way the ways that may lie below it.
    """

    plane: BoundPlane
    options: tuple[RowOption, ...]
    lengths: tuple[tuple[float, ...], ...]
    below: tuple[tuple[int, ...], ...]

    @classmethod
    def of(cls, plane: BoundPlane) -> _Steps:
        region, rules = plane.region, plane.rules
        options = row_options(region.top_in - region.bottom_in, rules.rows)
        stretch = parts_on(region, options[0], rules)[0][0].stretch
        ways = column_options(stretch, plane.supports, rules.columns)
        if plane.lawful:
            ways = tuple(way for way in ways if not way.errors)
        gap = rules.rows.gap_in
        lengths = [tuple(net for net, _ in piece_lengths(stretch.left, stretch.right, way.joints, gap)) for way in ways]
        below = [
            tuple(i for i, other in enumerate(ways) if not plane.lawful or _follows(other, way, rules)) for way in ways
        ]
        return cls(plane, options, tuple(lengths), tuple(below))

    def least(self, weight: Weight, along: Weight) -> float:
        """The least weight of all rows, over every path and every split."""
        rules = self.plane.rules
        kerf, whole = _kerf(rules), rules.panel_length_in + _kerf(rules)
        runs = [sum(along((net + kerf) / whole) for net in way) for way in self.lengths]
        best = math.inf
        for option in self.options:
            for widths in _weighed_rows(option, weight, rules):
                best = min(best, self._path(widths, runs))
        return best

    def _path(self, widths: tuple[float, ...], runs: list[float]) -> float:
        sums = [widths[0] * run for run in runs]
        for width in widths[1:]:
            sums = [
                min((sums[i] for i in below), default=math.inf) + width * run
                for below, run in zip(self.below, runs, strict=True)
            ]
        return min(sums)


def _follows(below: Columns, above: Columns, rules: LayoutRules) -> bool:
    return not stagger_missed(below.joints, above.joints, rules.stagger_in)


def _weighed_rows(option: RowOption, weight: Weight, rules: LayoutRules) -> set[tuple[float, ...]]:
    """The weights of the rows from the eave up; with two rips for every split between them worth weighing.

    The weights are straight between a few breaks, so that the least lies at a break, at either side of it or at an end.
    """
    kerf, across = _kerf(rules), _across(rules)
    placed = place_rows(option, rules.rows, rules.rip)
    if len(option.rips_in) < 2:
        return {tuple(weight((row.width_in + kerf) / across) for row in placed)}
    both, least = sum(option.rips_in), rules.rows.least_in
    narrow, wide = option.rips_in
    breaks = {least, both / 2.0}
    for share in (0.5, (least + kerf) / across, 1.0 - (least + kerf) / across):
        width = share * across - kerf
        for at in (width, both - width):
            breaks |= {at - 1e-5, at, at + 1e-5}
    found: set[tuple[float, ...]] = set()
    for at in breaks:
        if least <= at <= both / 2.0:
            one, other = weight((at + kerf) / across), weight((both - at + kerf) / across)
            found.add(_with_rips(placed, narrow, wide, one, other, weight(1.0)))
    return found


def _kerf(rules: LayoutRules) -> float:
    return 0.0 if rules.rows.halves_nominal else rules.rows.kerf_in


def _across(rules: LayoutRules) -> float:
    return rules.rows.panel_in + _kerf(rules)


def _with_rips(
    placed: Sequence[Row], narrow: float, wide: float, one: float, other: float, full: float
) -> tuple[float, ...]:
    """The rows' weights with the two rips' own in their places, the narrower's first where both are alike."""
    weights: list[float] = []
    waiting = [(narrow, one), (wide, other)]
    for row in placed:
        match = next((rip for rip in waiting if rip[0] == row.width_in), None)
        if match is None:
            weights.append(full)
        else:
            waiting.remove(match)
            weights.append(match[1])
    return tuple(weights)


def _slanted_sheets(plane: BoundPlane, weight: Weight) -> float:
    region, rules = plane.region, plane.rules
    first = row_options(region.top_in - region.bottom_in, rules.rows)[0]
    if weight is share_weight or len(first.rips_in) > 1:
        return _area_sheets(plane, first)
    return _cut_rows(plane, first, weight)


def _area_sheets(plane: BoundPlane, option: RowOption) -> float:
    """The net area in sheets, whatever the split: what is covered less the most that gaps can leave open."""
    region, rules = plane.region, plane.rules
    width = max(x for ring in region.rings for x, _ in ring) - min(x for ring in region.rings for x, _ in ring)
    rows = option.full + len(option.rips_in)
    level = (rows - 1) * option.gap_in * width
    joints = sum(_most_joints(part, plane) for parts in parts_on(region, option, rules) for part in parts)
    upslope = (joints + rows) * rules.rows.gap_in * rules.rows.panel_in
    short = max(0.0, region.top_in - region.bottom_in - rows * rules.rows.panel_in) * width
    open_in = level + upslope + (short if rows == 1 else 0.0)
    return max(0.0, region.area_sqin - open_in) / (rules.panel_length_in * rules.rows.panel_in)


def _most_joints(part: RowPart, plane: BoundPlane) -> int:
    return max(len(way.joints) for way in column_options(part.stretch, plane.supports, plane.rules.columns))


def _cut_rows(plane: BoundPlane, option: RowOption, weight: Weight) -> float:
    """Rows between slanted ends: the weight of the height, integrated along each row, less its joints' gaps."""
    rules, total = plane.rules, 0.0
    for parts in parts_on(plane.region, option, rules):
        for part in parts:
            gaps = rules.rows.gap_in * _most_joints(part, plane)
            total += max(0.0, _integral(part.ring, weight, rules.rows.panel_in) - gaps)
    return total / rules.panel_length_in


def _integral(ring: tuple[Point2, ...], weight: Weight, panel_in: float) -> float:
    """Integral along x of the weight of the ring's height, from below: each slice counts at its lower end."""
    xs = sorted({x for x, _ in ring})
    low, high = min(y for _, y in ring) - 1.0, max(y for _, y in ring) + 1.0
    total = 0.0
    for a, b in itertools.pairwise(xs):
        for slab in clipped_ring(ring, (a, low, b, high)):
            total += _slab(slab, a, b, weight, panel_in)
    return total


def _slab(slab: tuple[Point2, ...], a: float, b: float, weight: Weight, panel_in: float, slices: int = 32) -> float:
    """A part with straight edges between two x: its height runs evenly from one side to the other."""
    mean = ring_area(slab) / (b - a)
    at_a = [y for x, y in slab if abs(x - a) < 1e-6]
    left = max(at_a) - min(at_a) if at_a else 0.0
    right = 2.0 * mean - left
    heights = [(left + (right - left) * k / slices) / panel_in for k in range(slices + 1)]
    return sum(min(weight(h), weight(k)) for h, k in itertools.pairwise(heights)) * (b - a) / slices
