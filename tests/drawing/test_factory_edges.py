"""Sides of pieces that are the sheet's own edges."""

from __future__ import annotations

from workbench.drawing.stock_sheet import factory_edges, stock_sheet
from workbench.measure import Units
from workbench.sheathing.model import StockCut, StockSheet


def sheet_with(*rings):
    cuts = tuple(StockCut("main/front", f"1{chr(65 + i)}", ring) for i, ring in enumerate(rings))
    return StockSheet("Sheet 1", 96.0, 48.0, cuts)


def test_a_rip_along_the_lower_edge_has_three_factory_edges_and_one_sawn():
    rip = ((0.0, 0.0), (95.875, 0.0), (95.875, 24.0), (0.0, 24.0))
    sheet = sheet_with(rip)
    found = factory_edges(sheet.cuts[0], sheet)
    assert len(found) == 3
    assert not any(start[1] > 20.0 and end[1] > 20.0 for start, end in found)


def test_a_piece_from_the_middle_has_only_its_long_edges_and_a_slant_has_none():
    slanted = ((10.0, 0.0), (50.0, 0.0), (30.0, 48.0), (10.0, 48.0))
    sheet = sheet_with(slanted)
    found = factory_edges(sheet.cuts[0], sheet)
    assert sorted(round(start[1], 2) for start, _ in found) == [0.9, 47.1]
    drawing = stock_sheet(sheet, Units())
    assert sum(getattr(item, "key", "") == "piece:main/front/1A" for item in drawing.items) >= 3
