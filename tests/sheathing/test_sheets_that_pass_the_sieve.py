"""The bound leaves out no sheet that can be cut: whatever a saw makes of a sheet passes the sieve.

Sheets are taken apart by chance, straight cut after straight cut, and the parts asked about as pieces; nothing of the
program's own cutting is in that. Small hip ends are bounded against every layout and every share of its pieces.
"""

from __future__ import annotations

import itertools
import math
import random
from functools import cache

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from shapely import LineString, box

from workbench.job.model import Sheathing
from workbench.roof.model import Roof
from workbench.sheathing.arrange import arrange
from workbench.sheathing.kinds import kinds_of, mirrored_ring, shape_of, turned_ring
from workbench.sheathing.packing import SheetRules
from workbench.sheathing.relaxed import Relaxed, Stock
from workbench.sheathing.routes import allowed_nets
from workbench.sheathing.sieve import Sieve, may_hold
from workbench.sheathing.solve import lay_planes

SHEET = ((0.0, 0.0), (96.0, 0.0), (96.0, 48.0), (0.0, 48.0))


def side_of(ring, x, lean, sign):
    """The part of a convex ring to one side of the line through (x, 24) of a lean, written out afresh."""
    found = []
    for (x0, y0), (x1, y1) in itertools.pairwise((*ring, ring[0])):
        a, b = (sign * (px - x - lean * (py - 24.0)) for px, py in ((x0, y0), (x1, y1)))
        if a >= 0.0:
            found.append((x0, y0))
        if a * b < 0.0:
            found.append((x0 + a / (a - b) * (x1 - x0), y0 + a / (a - b) * (y1 - y0)))
    return tuple(found)


def taken_apart(draw, kerf, halves):
    """Parts of a sheet after some straight cuts, each a kerf wide; in halves first where that costs none."""
    parts = [SHEET]
    if halves:
        parts = [side_of(SHEET, 48.0, 0.0, sign) for sign in (1, -1)]
    for _ in range(draw.randint(1, 4)):
        part = parts.pop(draw.randrange(len(parts)))
        low, high = min(x for x, _ in part), max(x for x, _ in part)
        x, lean = draw.uniform(low, high), draw.choice([0.0, 0.9, -0.9, 0.4, draw.uniform(-3.0, 3.0)])
        wide = kerf * (1.0 + lean * lean) ** 0.5
        parts += [one for one in (side_of(part, x, lean, -1), side_of(part, x + wide, lean, 1)) if len(one) >= 3]
    return parts


def as_shape(ring):
    left, bottom = min(x for x, _ in ring), min(y for _, y in ring)
    own = tuple((x - left, y - bottom) for x, y in ring)
    return shape_of(max(x for x, _ in own), max(y for _, y in own), own, False)


@settings(max_examples=150, deadline=None)
@given(seed=st.integers(0, 10**9), nominal=st.booleans(), halves=st.booleans(), mirrored=st.booleans())
def test_what_a_saw_makes_of_a_sheet_passes(seed, nominal, halves, mirrored):
    draw = random.Random(seed)
    rules = SheetRules(halves_nominal=nominal, mirrored=mirrored)
    parts = [part for part in taken_apart(draw, rules.kerf_in, halves and nominal) if area(part) > 1.0]
    # Pieces come in any position: turned, and turned over where that is allowed.
    ways = [lambda ring: ring, turned_ring, *([mirrored_ring] if mirrored else [])]
    shapes = [as_shape(draw.choice(ways)(as_shape(part).ring)) for part in parts]
    shapes = [shape for shape in shapes if len(shape.ring) >= 3]
    kinds = kinds_of(shapes, rules)
    assert may_hold(kinds, rules)
    for size in range(1, len(kinds)):
        assert may_hold(kinds[:size], rules)


def area(ring):
    return sum(p[0] * q[1] - q[0] * p[1] for p, q in itertools.pairwise((*ring, ring[0]))) / 2.0


def trapezoid(bottom, top, height, foot=0.0):
    return as_shape(((0.0, 0.0), (bottom, 0.0), (top + foot, height), (foot, height)))


def test_what_does_not_fit_fails_by_hand():
    rules = SheetRules()
    # Slant to slant 60 + 22 and a kerf, in turn: fits. Mirrored they are 60 + 60 at one level side.
    one, other = trapezoid(60.0, 22.0, 48.0), trapezoid(22.0, 60.0, 48.0)
    assert may_hold(kinds_of([one], rules) * 2, rules)
    assert not may_hold(kinds_of([one, other], rules), rules)
    turned_over = SheetRules(mirrored=True)
    assert may_hold(kinds_of([one, other], turned_over), turned_over)
    # More area than a sheet has, though each takes little of the middle line.
    assert not may_hold(kinds_of([trapezoid(90.0, 90.0, 26.0)], rules) * 2, rules)
    # Two halves come out of a sheet where the kerf between them is not counted, and not where it is.
    square = trapezoid(48.0, 48.0, 48.0)
    paid = SheetRules(halves_nominal=False)
    assert may_hold(kinds_of([square], rules) * 2, rules)
    assert not may_hold(kinds_of([square], paid) * 2, paid)


@pytest.mark.parametrize("size", [(100.0, 70.0, 0.5), (170.0, 120.0, 1 / 3)])
def test_the_bound_of_small_hip_ends_is_met_by_no_layout_with_fewer(build, size):
    roof = Roof(build.hip(*size).planes[:2])
    work = lay_planes(roof, build.framing(roof.planes), Sheathing())
    nets = [allowed_nets(one.region, one.supports, one.rules, one.search.lawful) for one in work.laid]
    stock = Stock.of([(own, one.rules) for own, one in zip(nets, work.laid, strict=True)], work.base.sheet)
    groups = [stock.group(own, (number,)) for number, own in enumerate(nets)]
    relaxed = Relaxed.of(stock, groups)
    relaxed.improve(1000, lambda: True)
    assert isinstance(relaxed.sieve, Sieve)
    leans = tuple(sorted({0.0}.union(*(kind.leans for kind in stock.kinds))))

    @cache
    def fits(own):
        return arrange(stock.kinds, list(own), leans, stock.rules) is not None

    fewest = 1000
    for picked in itertools.product(*(set(layouts(group)) for group in groups)):
        fewest = build.fewest_shares(sorted(k for own in picked for k in own), fits, fewest)
    assert 1 <= relaxed.proven <= fewest


def layouts(group):
    """The kinds of the pieces of every route of a plane."""
    for net, counts, alone in zip(group.nets, group.counts, group.alone, strict=True):
        for route in itertools.product(*(range(len(row)) for row in net.rows)):
            if all(b in net.nexts[r][a] for r, (a, b) in enumerate(itertools.pairwise(route))):
                assert not any(alone[r][i] for r, i in enumerate(route))
                yield tuple(sorted(k for r, i in enumerate(route) for k, n in counts[r][i].items() for _ in range(n)))


@pytest.mark.parametrize(("width", "level"), [(23.95, "small"), (24.0, "tall"), (24.05, "tall")])
def test_beside_slants_only_half_the_width_surely_meets_the_middle(width, level):
    """A leaning cut may pass corner to corner. Reference: shapely, areas of the pieces and of what the saw takes."""
    rules = SheetRules(halves_nominal=False)
    rip = shape_of(40.0, width, ((0.0, 0.0), (40.0, 0.0), (40.0, width), (0.0, width)), True)
    slanted = shape_of(60.0, 48.0, ((0.0, 0.0), (60.0, 0.0), (12.0, 48.0), (0.0, 48.0)), False)
    assert [kind.level for kind in kinds_of([rip, slanted], rules)] == [level, "tall"]
    assert kinds_of([rip], rules)[0].level == "tall"  # by straight cuts no two share the width
    over = 48.0 - 2.0 * width
    apart = math.sqrt(rules.kerf_in**2 - over**2)
    below, above = box(0.0, 0.0, 40.0, width), box(40.0 + apart, 48.0 - width, 80.0 + apart, 48.0)
    middle = (40.0 + apart / 2.0, 24.0)
    ways = [(sign * over * 100.0, -apart * 100.0) for sign in (1.0, -1.0)]
    cuts = [
        LineString([(middle[0] - x, 24.0 - y), (middle[0] + x, 24.0 + y)]).buffer(rules.kerf_in / 2.0) for x, y in ways
    ]
    parted = any(max(cut.intersection(below).area, cut.intersection(above).area) < 1e-9 for cut in cuts)
    # Where such a cut parts them and takes less than a kerf along the sheet, the piece must not count as tall.
    assert (parted and apart < rules.kerf_in - 1e-9) == (level == "small")
