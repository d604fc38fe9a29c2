"""A number of sheets that no layout the job's rules allow can go under.

The argument, for any first pieces, stagger, alternation, order of rows and any way of cutting:

* A row of net width b over an upright stretch W, with J joints, is cut into pieces whose net lengths add up to W - J·g.
* On any line across a stock sheet the widths of the pieces it meets add up to the sheet's width w at most. Let a weight
  f(b/w) be such that shares adding up to 1 at most have weights adding up to 1 at most. Then along one sheet the sum of
  weight times length is at most the sheet's length, and over all pieces
      sheets >= sum over rows of f(b/w) · (W - J·g) / l.
* Such weights are the plain share (the area), ``half_weight``, and 1 for b > w - c, the share from c to w - c and
  nothing below c, here with c the least row width.
* J is the most joints that any first piece gives. Where two rips share what is left of the rows, the split between
  them is taken at its cheapest. Where halves are not nominal a kerf lies between any two pieces of a sheet: pieces and
  sheets count as a kerf longer and wider.

For rows that end on a hip or valley the weight is integrated over the height of the net row, less J gaps of full
weight; where such a plane has two rips, whose place is then not settled, only the area is counted.
"""

from __future__ import annotations

import itertools
import math
from collections.abc import Callable, Sequence
from dataclasses import dataclass

from workbench.roof.model import Point2
from workbench.sheathing.columns import column_options
from workbench.sheathing.layout import LayoutRules, RowPart, parts_on
from workbench.sheathing.packing import half_weight
from workbench.sheathing.region import Region, clipped_ring, ring_area
from workbench.sheathing.rows import RowOption, row_options

Weight = Callable[[float], float]

_SAFE = 1e-5  # of a sheet: what arithmetic and the breaks below may be off by


@dataclass(frozen=True, slots=True)
class BoundPlane:
    """One plane as the bound sees it."""

    region: Region
    supports: tuple[float, ...]
    rules: LayoutRules


def at_least(planes: Sequence[BoundPlane]) -> int:
    """Sheets that no layout of these planes can go under; the planes share the sheet and the saw."""
    weights: list[tuple[Weight, bool]] = [(_share, True), (half_weight, False)]
    least = {
        (plane.rules.rows.least_in + _kerf(plane.rules)) / _across(plane.rules)
        for plane in planes
        if plane.rules.rows.least_in < plane.rules.rows.panel_in / 2.0
    }
    weights += ((_trimmed(share), False) for share in sorted(least) if share <= 0.5)
    best = max(sum(_plane_sheets(plane, weight, is_area) for plane in planes) for weight, is_area in weights)
    return math.ceil(best - _SAFE)


def _share(share: float) -> float:
    return share


def _trimmed(least: float) -> Weight:
    def weight(share: float) -> float:
        if share > 1.0 - least + 1e-9:
            return 1.0
        return share if share >= least - 1e-9 else 0.0

    return weight


def _kerf(rules: LayoutRules) -> float:
    return 0.0 if rules.rows.halves_nominal else rules.rows.kerf_in


def _across(rules: LayoutRules) -> float:
    return rules.rows.panel_in + _kerf(rules)


def _plane_sheets(plane: BoundPlane, weight: Weight, is_area: bool) -> float:
    """Least sum of weight times length over the sheet's length, over all splits of the plane's rows."""
    region, rules = plane.region, plane.rules
    options = row_options(region.top_in - region.bottom_in, rules.rows)
    if region.rectangle is not None:
        return min(_upright_rows(plane, option, weight) for option in options)
    first = options[0]
    if is_area or len(first.rips_in) > 1:
        return _area_sheets(plane, first)
    return _cut_rows(plane, first, weight)


def _upright_rows(plane: BoundPlane, option: RowOption, weight: Weight) -> float:
    rules, kerf = plane.rules, _kerf(plane.rules)
    part = parts_on(plane.region, option, rules)[0][0]
    length = _lengths(part, plane) / (rules.panel_length_in + kerf)
    full = option.full * weight(1.0)
    return length * (full + _cheapest(option.rips_in, weight, rules))


def _lengths(part: RowPart, plane: BoundPlane) -> float:
    """The least that the lengths of a row's pieces can add up to."""
    rules, stretch = plane.rules, part.stretch
    ways = column_options(stretch, plane.supports, rules.columns)
    joints = {len(way.joints) for way in ways}
    gap, kerf = rules.rows.gap_in, _kerf(rules)
    return min(stretch.right - stretch.left - count * gap + (count + 1) * kerf for count in joints)


def _cheapest(rips: tuple[float, ...], weight: Weight, rules: LayoutRules) -> float:
    """Weight of the rips; of two, at the split that weighs least.

    The weights are straight between a few breaks, so that the least lies at a break, at either side of it or at an end.
    """
    kerf, across = _kerf(rules), _across(rules)

    def of(width: float) -> float:
        return weight((width + kerf) / across)

    if len(rips) < 2:
        return sum(of(width) for width in rips)
    both, least = sum(rips), rules.rows.least_in
    breaks = {least, both / 2.0}
    for share in (0.5, (least + kerf) / across, 1.0 - (least + kerf) / across):
        width = share * across - kerf
        for at in (width, both - width):
            breaks |= {at - 1e-5, at, at + 1e-5}
    return min(of(a) + of(both - a) for a in breaks if least <= a <= both / 2.0)


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
