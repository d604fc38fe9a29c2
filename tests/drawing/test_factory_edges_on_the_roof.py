"""Factory edges of pieces as they lie on the roof: square ones put best, slanted ones as they fit."""

from __future__ import annotations

from dataclasses import replace

import pytest

from workbench.drawing.factory import edge_words, factory_sides, sawn_at_joints
from workbench.handout.edge_words import plane_edge_words
from workbench.job.edits import set_sheathing
from workbench.job.read import read_job
from workbench.job.samples import sample_jobs
from workbench.plan import solve
from workbench.sheathing.model import Piece, PlaneSheets, Row, StockCut, StockSheet


def sample(name):
    return read_job(next(sample.path for sample in sample_jobs() if sample.name == name))


def plan_of(pieces, sheets):
    """A plan with these pieces on one plane, cut from these sheets."""
    plan = solve(sample("shed-porch"))
    plane = plan.roof.planes[0].id
    own = tuple(replace(piece, plane=plane) for piece in pieces)
    laid = PlaneSheets(plane, 96.0, (Row(1, 48.0, 0.0, 48.0),), 96.0, own, (), len(sheets), ())
    stock = tuple(replace(s, cuts=tuple(replace(c, plane=plane) for c in s.cuts)) for s in sheets)
    return replace(plan, sheathing=replace(plan.sheathing, planes=(laid,), stock=stock)), own


def box(x0, y0, x1, y1):
    return ((x0, y0), (x1, y0), (x1, y1), (x0, y1))


def test_a_rip_at_the_eave_has_its_sawn_edge_down():
    low = Piece("1A", "", 1, box(0, 0, 95.875, 24), 24.0, 95.875, "Sheet 1", False)
    high = Piece("2A", "", 2, box(0, 24.125, 95.875, 72.125), 48.0, 95.875, "Sheet 2", True)
    sheets = [
        StockSheet("Sheet 1", 96.0, 48.0, (StockCut("", "1A", box(0, 0, 95.875, 24)),)),
        StockSheet("Sheet 2", 96.0, 48.0, (StockCut("", "2A", box(0, 0, 95.875, 48)),)),
    ]
    plan, (low, high) = plan_of((low, high), sheets)
    assert factory_sides(plan, low) == ("upper", "left", "right")
    assert sawn_at_joints(plan, low.plane, "upper") == []
    assert "Factory edges: upper edge" in edge_words(plan, low)


def test_a_slanted_piece_fits_one_way_only_and_one_turned_over_is_seen_from_behind():
    ring = ((0.0, 0.0), (60.0, 0.0), (60.0, 40.0), (30.0, 40.0))  # its right end and lower edge square
    piece = Piece("1A", "", 1, ring, 40.0, 60.0, "Sheet 1", False)
    straight = StockSheet("Sheet 1", 96.0, 48.0, (StockCut("", "1A", tuple((x + 36.0, y) for x, y in ring)),))
    plan, (own,) = plan_of((piece,), [straight])
    assert factory_sides(plan, own) == ("lower", "right")
    turned = StockSheet("Sheet 1", 96.0, 48.0, (StockCut("", "1A", tuple((60.0 - x, 40.0 - y) for x, y in ring)),))
    plan, (own,) = plan_of((piece,), [turned])
    assert factory_sides(plan, own) == ("upper", "right")
    over = tuple((60.0 - x, y) for x, y in reversed(ring))
    behind = StockSheet("Sheet 1", 96.0, 48.0, (StockCut("", "1A", over, True),))
    plan, (own,) = plan_of((piece,), [behind])
    assert factory_sides(plan, own) == ("lower", "right")
    assert "goes down" in edge_words(plan, own)


@pytest.mark.parametrize("name", ["plain-gable", "l-house", "cut-up-house"])
def test_every_plane_says_it_and_whole_sheets_have_four_factory_edges(name):
    plan = solve(set_sheathing(sample(name), mirrored=True))
    for sheets in plan.sheathing.planes:
        assert plane_edge_words(plan, sheets.plane).startswith("Factory edges at joints")
        for piece in sheets.pieces:
            if piece.whole:
                assert len(factory_sides(plan, piece)) == 4
