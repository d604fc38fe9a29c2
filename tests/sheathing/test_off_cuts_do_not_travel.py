"""Equal pieces change places until each sheet's are needed close together; the cut plan stays right."""

from __future__ import annotations

import itertools
import math

from hypothesis import given, settings
from hypothesis import strategies as st

from workbench.framing.solve import frame_roof
from workbench.job.model import Sheathing
from workbench.job.read import read_job
from workbench.job.samples import sample_jobs
from workbench.measure import Units
from workbench.roof.build import build_roof
from workbench.sheathing.cutting import Blank, check_cutting, cut_sheets
from workbench.sheathing.model import Piece, StockCut, StockSheet
from workbench.sheathing.nearness import brought_together, rows_apart, rows_in_order
from workbench.sheathing.packing import SheetRules
from workbench.sheathing.solve import blanks_of, lay_planes, plan_sheathing


def rectangle(length, width):
    return ((0.0, 0.0), (length, 0.0), (length, width), (0.0, width))


def blank(plane, label, length=40.0, width=48.0):
    return Blank(plane, label, rectangle(length, width), length, width, True)


def pieces_of(blanks, stock):
    names = {(cut.plane, cut.label): sheet.name for sheet in stock for cut in sheet.cuts}
    return [
        Piece(b.label, b.plane, 1, b.ring, b.width_in, b.length_in, names[(b.plane, b.label)], False) for b in blanks
    ]


def fewest_rows_apart(sheets, blanks, rows):
    """By trying every way of giving the pieces of one size to the places they have."""
    places = [(s, c) for s, sheet in enumerate(sheets) for c, _ in enumerate(sheet.cuts)]
    keys = [(b.plane, b.label) for b in blanks]
    best = math.inf
    for order in itertools.permutations(keys):
        held = {}
        for (s, _), key in zip(places, order, strict=True):
            held.setdefault(s, []).append(rows[key])
        best = min(best, sum(max(own) - min(own) for own in held.values()))
    return best


@settings(max_examples=40, deadline=None)
@given(rows=st.lists(st.integers(1, 6), min_size=4, max_size=7), seed=st.randoms(use_true_random=False))
def test_equal_pieces_end_as_near_as_any_exchange_brings_them(rows, seed):
    labels = [f"{row}{'ABCDEFG'[i]}" for i, row in enumerate(sorted(rows))]
    blanks = [blank("p/a", label) for label in labels]
    mixed = list(blanks)
    seed.shuffle(mixed)
    sheets = []
    for n, pair in enumerate(_pairs(mixed), 1):
        cuts = tuple(
            StockCut(b.plane, b.label, tuple((x + 40.125 * i, y) for x, y in b.ring)) for i, b in enumerate(pair)
        )
        sheets.append(StockSheet(f"Sheet {n}", 96.0, 48.0, cuts))
    near = brought_together(sheets, blanks)
    assert check_cutting(pieces_of(blanks, near), near) == []
    order = rows_in_order(blanks)
    least = fewest_rows_apart(sheets, blanks, order)
    assert rows_apart(near, blanks) <= rows_apart(sheets, blanks)
    # Exchanges of two at a time: at the best, or within a row of it a sheet.
    assert least <= rows_apart(near, blanks) <= least + len(sheets)


def _pairs(items):
    return [items[i : i + 2] for i in range(0, len(items), 2)]


def test_the_samples_get_nearer_and_stay_right():
    before = after = 0
    for sample in sample_jobs():
        job = read_job(sample.path)
        built = build_roof(job.wings, Units(), job.openings)
        framing, _ = frame_roof(built.wings, Units())
        work = lay_planes(built.roof, framing, job.sheathing)
        blanks = blanks_of(work, [one.search.ways[0] for one in work.laid])
        cut = cut_sheets(blanks, work.base.sheet)
        near = brought_together(cut, blanks)
        assert len(near) == len(cut)
        assert check_cutting(pieces_of(blanks, near), near) == []
        assert rows_apart(near, blanks) <= rows_apart(cut, blanks)
        before, after = before + rows_apart(cut, blanks), after + rows_apart(near, blanks)
    assert after < 0.85 * before


@settings(max_examples=15, deadline=None)
@given(width=st.integers(150, 600), up=st.integers(50, 260), hip=st.booleans(), halves=st.booleans())
def test_plans_are_named_in_the_order_of_need(build, width, up, hip, halves):
    roof = build.hip(float(width), min(2.0 * up, width * 0.9)) if hip else build.gable(float(width), float(up))
    plan = plan_sheathing(roof, build.framing(roof.planes), Sheathing(halves_nominal=halves))
    pieces = [piece for plane in plan.planes for piece in plane.pieces]
    assert check_cutting(pieces, plan.stock) == []
    assert [sheet.name for sheet in plan.stock] == [f"Sheet {n}" for n in range(1, plan.count + 1)]


def test_nothing_to_exchange_changes_nothing():
    blanks = [blank("p/a", "1A", 96.0), blank("p/a", "1B", 50.0)]
    cut = cut_sheets(blanks, SheetRules())
    assert brought_together(cut, blanks) == cut
