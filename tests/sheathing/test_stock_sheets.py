"""Cutting pieces from sheets, checked by a second routine, by brute force on tiny cases, and against lower bounds."""

from __future__ import annotations

import itertools
import math

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from workbench.job.model import Sheathing
from workbench.roof.model import Roof
from workbench.sheathing.cutting import check_cutting
from workbench.sheathing.model import StockCut, StockSheet
from workbench.sheathing.packing import SheetRules, pack, sheet_count, sheets_needed
from workbench.sheathing.solve import plan_sheathing

SIZES = st.lists(
    st.tuples(
        st.sampled_from([23.875, 24.0, 30.0, 47.9375, 48.0, 60.0, 71.9375, 95.875, 96.0]),
        st.sampled_from([24.0, 25.5, 30.0, 40.0, 48.0]),
    ),
    min_size=1,
    max_size=14,
).map(tuple)
RULES = st.builds(SheetRules, kerf_in=st.sampled_from([0.0, 0.125, 0.25]), halves_nominal=st.booleans())


def rectangles(sizes, rules):
    sheets = {}
    for place in pack(sizes, rules):
        length, width = sizes[place.index]
        sheets.setdefault(place.sheet, []).append((place.x, place.y, place.x + length, place.y + width))
    return sheets


def is_guillotine(parts, rules):
    """Whether straight cuts from edge to edge take the parts apart, a kerf wide unless along the sheet's middle."""
    if len(parts) < 2:
        return True
    middles = (rules.length_in / 2.0, rules.width_in / 2.0)
    for axis in (0, 1):
        for limit in {part[axis + 2] for part in parts}:
            before = [part for part in parts if part[axis + 2] <= limit + 1e-6]
            after = [part for part in parts if part not in before]
            if not after:
                continue
            clear = min(part[axis] for part in after) - max(part[axis + 2] for part in before)
            at_middle = rules.halves_nominal and all(p[axis + 2] <= middles[axis] + 1e-6 for p in before)
            at_middle = at_middle and all(p[axis] >= middles[axis] - 1e-6 for p in after)
            if clear < -1e-6 or (clear < rules.kerf_in - 1e-6 and not at_middle):
                continue
            if is_guillotine(before, rules) and is_guillotine(after, rules):
                return True
    return False


@settings(max_examples=150, deadline=None)
@given(sizes=SIZES, rules=RULES)
def test_every_blank_lies_in_a_sheet_and_straight_cuts_free_it(sizes, rules):
    places = pack(sizes, rules)
    assert [place.index for place in places] == list(range(len(sizes)))
    sheets = rectangles(sizes, rules)
    assert sorted(sheets) == list(range(len(sheets)))
    for parts in sheets.values():
        for x0, y0, x1, y1 in parts:
            assert min(x0, y0) >= -1e-6
            assert x1 <= rules.length_in + 1e-5
            assert y1 <= rules.width_in + 1e-5
        for one, other in itertools.combinations(parts, 2):
            apart = max(one[0] - other[2], other[0] - one[2], one[1] - other[3], other[1] - one[3])
            assert apart >= -1e-5
        assert is_guillotine(parts, rules)


@settings(max_examples=150, deadline=None)
@given(sizes=SIZES, rules=RULES)
def test_no_packing_goes_under_its_bound(sizes, rules):
    assert sheets_needed(sizes, rules) <= sheet_count(sizes, rules) <= len(sizes)


TINY = [
    [(95.875, 24.0), (95.875, 24.0), (47.9375, 48.0), (47.9375, 48.0)],
    [(48.0, 24.0)] * 4,
    [(48.0, 24.0)] * 5,
    [(71.9375, 48.0), (23.9375, 48.0), (71.9375, 30.0), (23.9375, 30.0)],
    [(47.9375, 48.0), (47.9375, 24.0), (47.9375, 24.0), (95.875, 40.0)],
    [(60.0, 30.0), (30.0, 30.0), (30.0, 17.0), (60.0, 17.0), (90.0, 48.0)],
    [(96.0, 20.0), (40.0, 27.0), (50.0, 27.0), (96.0, 48.0)],
    [(31.0, 48.0), (31.0, 48.0), (31.0, 48.0), (64.0, 24.0), (64.0, 23.0)],
]


@pytest.mark.parametrize("sizes", TINY)
@pytest.mark.parametrize("halves", [True, False])
def test_tiny_sets_take_as_few_sheets_as_brute_force_finds(build, sizes, halves):
    rules = SheetRules(halves_nominal=halves)
    assert sheet_count(tuple(sizes), rules) == build.fewest_sheets(tuple(sizes), rules)


@settings(max_examples=25, deadline=None)
@given(sizes=st.lists(st.sampled_from([s for sizes in TINY for s in sizes]), min_size=1, max_size=5), rules=RULES)
def test_the_bound_never_passes_what_brute_force_finds(build, sizes, rules):
    fewest = build.fewest_sheets(tuple(sizes), rules)
    assert sheets_needed(tuple(sizes), rules) <= fewest <= sheet_count(tuple(sizes), rules)


# Common practice, no source: two 24 in rips, or two 48 in crosscuts, come out of one sheet though the saw takes 1/8 in.
@pytest.mark.parametrize("size", [(96.0, 24.0), (48.0, 48.0)])
def test_two_halves_come_out_of_one_sheet_only_where_halves_are_nominal(size):
    assert sheet_count((size, size), SheetRules(halves_nominal=True)) == 1
    assert sheet_count((size, size), SheetRules(halves_nominal=False)) == 2
    assert sheet_count((size, size), SheetRules(halves_nominal=False, kerf_in=0.0)) == 1
    # Only halves are: three thirds are not.
    third = (32.0, 48.0) if size[1] == 48.0 else (96.0, 16.0)
    assert sheet_count((third,) * 3, SheetRules(halves_nominal=True)) == 2


@settings(max_examples=40, deadline=None)
@given(
    width=st.integers(100, 600),
    up=st.integers(30, 260),
    gap=st.sampled_from([0.0, 0.125]),
    halves=st.booleans(),
    hip=st.booleans(),
)
def test_every_job_is_cut_right(build, width, up, gap, halves, hip):
    roof = build.hip(float(width), min(2.0 * up, width * 0.9)) if hip else build.gable(float(width), float(up))
    plan = plan_sheathing(roof, build.framing(roof.planes), Sheathing(gap_in=gap, halves_nominal=halves))
    pieces = [piece for plane in plan.planes for piece in plane.pieces]
    assert check_cutting(pieces, plan.stock) == []
    area = sum(piece.cut_length_in * piece.cut_width_in for piece in pieces if len(piece.polygon) == 4 and not hip)
    assert plan.at_least <= plan.count
    assert plan.count >= math.ceil(area / (96.0 * 48.0) - 1e-9)
    assert len({sheet.name for sheet in plan.stock}) == plan.count


def test_the_check_sees_what_is_wrong(build):
    plane = build.upright(200.0, 100.0)
    plan = plan_sheathing(Roof((plane,)), build.framing([plane]), Sheathing())
    pieces = list(plan.planes[0].pieces)
    assert check_cutting(pieces, plan.stock) == []
    assert any("not cut" in text for text in check_cutting(pieces, plan.stock[1:]))
    twice = (*plan.stock, StockSheet("Sheet 99", 96.0, 48.0, plan.stock[0].cuts))
    assert any("twice" in text for text in check_cutting(pieces, twice))
    first = plan.stock[0]
    moved = tuple((x + 50.0, y) for x, y in first.cuts[0].polygon)
    astray = StockSheet(first.name, 96.0, 48.0, (StockCut(plane.id, first.cuts[0].label, moved), *first.cuts[1:]))
    assert any("reaches out" in text for text in check_cutting(pieces, (astray, *plan.stock[1:])))
    piled = StockSheet("Sheet 1", 96.0, 48.0, tuple(cut for sheet in plan.stock for cut in sheet.cuts))
    assert any("overlaps" in text for text in check_cutting(pieces, (piled,)))
    smaller = tuple((x * 0.9, y) for x, y in first.cuts[0].polygon)
    shrunk = StockSheet(first.name, 96.0, 48.0, (StockCut(plane.id, first.cuts[0].label, smaller), *first.cuts[1:]))
    assert any("another shape" in text for text in check_cutting(pieces, (shrunk, *plan.stock[1:])))


def test_slanted_pieces_pair_in_one_sheet(build):
    # Four right triangles of 48 by 48 in, all leaning the same way: two to a blank of a little over 48 in.
    points = [(0.0, 0.0), (48.0, 0.0), (48.0, 48.0)]
    planes = tuple(
        build.polygon(points, ["eave", "rake", "hip"], plane_id=f"main/{name}") for name in ("a", "b", "c", "d")
    )
    plan = plan_sheathing(Roof(planes), build.framing(planes, spacing=16.0), Sheathing())
    pieces = [piece for plane in plan.planes for piece in plane.pieces]
    assert check_cutting(pieces, plan.stock) == []
    assert len(pieces) == 4
    assert plan.count == 2


def test_off_cuts_serve_every_plane(build):
    # Each plane alone wastes half a sheet; together they share it.
    plane = [build.upright(48.0, 48.0, plane_id=f"main/{name}") for name in ("front", "back")]
    plan = plan_sheathing(Roof(tuple(plane)), build.framing(plane), Sheathing())
    assert [sheets.sheets for sheets in plan.planes] == [1, 1]
    assert plan.count == 1
    assert plan.proven
