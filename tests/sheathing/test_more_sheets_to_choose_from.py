"""Pairs and threes of slanted pieces tried by themselves: every sheet added can be cut, and the choice gets no worse.

Overlaps and areas are checked with shapely, a general-purpose geometry library that the search itself does not use.
"""

from __future__ import annotations

import itertools

import pytest
from shapely.geometry import Polygon, box

from workbench.job.edits import add_wing
from workbench.job.model import Heel, Job, Rafter
from workbench.plan import solve
from workbench.sheathing.fewest import Fewest, counted
from workbench.sheathing.relaxed import Stock
from workbench.sheathing.routes import best_nets
from workbench.sheathing.solve import lay_planes
from workbench.sheathing.widen import widen


def program(edges):
    """The program over real sheets of a roof of 20 by 14 ft, priced to its end."""
    outline = [(0.0, 0.0), (240.0, 0.0), (240.0, 168.0), (0.0, 168.0)]
    job, _ = add_wing(
        Job(name="Invented"),
        outline,
        edges,
        slope_in_12=6.0,
        plate_in=97.125,
        eave_overhang_in=16.0,
        rake_overhang_in=12.0,
        rafter=Rafter(spacing_in=24.0),
        heel=Heel(given="seat", seat_in=2.0),
    )
    plan = solve(job)
    work = lay_planes(plan.roof, plan.framing, job.sheathing, (), None)
    nets = [best_nets(one.region, one.supports, one.rules) for one in work.laid]
    stock = Stock.of(list(zip(nets, [one.rules for one in work.laid], strict=True)), work.base.sheet)
    fewest = Fewest.of(stock, [stock.group(own, (number,)) for number, own in enumerate(nets)])
    fewest.improve(lambda: True, 60)
    return fewest


@pytest.fixture(scope="module")
def hip():
    return program(["eave"] * 4)


def test_every_sheet_added_lies_inside_and_nothing_overlaps(hip):
    before = len(hip.sheets)
    lower = hip.program.solve().objective
    assert widen(hip, lambda: True, 80)
    rules = hip.stock.rules
    sheet = box(0.0, 0.0, rules.length_in, rules.width_in).buffer(1e-3)
    for _, arranged in hip.sheets[before:]:
        shapes = [Polygon(laid.ring) for laid in arranged.laid]
        assert all(sheet.covers(shape) for shape in shapes)
        assert all(one.intersection(other).area < 1e-3 for one, other in itertools.combinations(shapes, 2))
        for laid, shape in zip(arranged.laid, shapes, strict=True):
            assert shape.area == pytest.approx(hip.stock.kinds[laid.kind].area_sqin, abs=1e-3)
        assert all(n <= hip.most[k] for k, n in counted(arranged).items())
    assert hip.program.solve().objective <= lower + 1e-6  # more to choose from is never worse


def test_nothing_is_tried_where_no_piece_is_slanted_or_the_search_was_stopped(hip):
    assert not widen(program(["eave", "rake", "eave", "rake"]), lambda: True)
    assert not widen(hip, lambda: False)
