"""The handout of houses with hips, valleys, dormers and overframed wings: frame pages, packed cards, small pieces."""

from __future__ import annotations

import io

import pdfplumber
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from workbench.drawing.cut_card import is_plain
from workbench.drawing.frame_plan import frame_plan
from workbench.drawing.primitives import Line, Polygon, Text
from workbench.drawing.sheet_plan import plane_sheets
from workbench.drawing.stock_sheet import is_small, side_words, stock_sheet
from workbench.handout import render_handout
from workbench.handout.blocks import Space
from workbench.handout.cut_cards import cut_card_pages, packed
from workbench.handout.frame_page import frame_pages
from workbench.handout.page import frame_size
from workbench.job import edits
from workbench.job.model import Heel, Job
from workbench.measure import Units
from workbench.plan import solve
from workbench.sheathing.model import StockCut, StockSheet

HEEL = Heel(given="hap", hap_in=6.0)
FIELDS = {"slope_in_12": 7.0, "heel": HEEL, "eave_overhang_in": 16.0, "rake_overhang_in": 12.0}
ACROSS = ["rake", "eave", "rake", "eave"]


def rect(left, low, right, high):
    return [(left, low), (right, low), (right, high), (left, high)]


@pytest.fixture(scope="module")
def plan():
    job = Job(name="Long house (invented)")
    job, _ = edits.add_wing(job, rect(0, 0, 480, 336), ["eave"] * 4, name="main", **FIELDS)
    job, _ = edits.add_wing(job, rect(160, -120, 320, 168), ACROSS, name="front wing", **FIELDS)
    job, _ = edits.add_wing(job, rect(150, 300, 260, 440), ACROSS, name="porch", joins="overframed", **FIELDS)
    job, _ = edits.add_opening(job, "wing-1/e3", x_in=150.0, y_in=60.0, width_in=70.0, length_in=60.0)
    return solve(job)


@pytest.fixture(scope="module")
def texts(plan):
    with pdfplumber.open(io.BytesIO(render_handout(plan))) as pdf:
        return [page.extract_text() for page in pdf.pages]


def page_of(texts, head):
    return next(text for text in texts if text.startswith(head))


def test_every_mark_stands_on_a_card_or_in_the_table_of_square_boards(plan, texts) -> None:
    said = " ".join(text for text in texts if text.startswith("Cut cards"))
    for member in plan.framing.members:
        assert member.mark in said


def test_square_boards_have_one_line_each(plan, texts) -> None:
    plain = [member for member in plan.framing.members if is_plain(member)]
    assert plain
    page = page_of([text for text in texts if "Boards cut square at both ends" in text], "Cut cards")
    for member in plain:
        assert f"{member.mark} {member.count} {member.section}" in page


def test_the_frame_has_a_page_and_one_a_wing_where_marks_have_no_room(plan, texts) -> None:
    titles = [page.title for page in frame_pages(plan, "letter")]
    assert titles[0] == "The frame"
    assert set(titles[1:]) in ({"The frame of main", "The frame of front wing", "The frame of porch"}, set())
    assert "Ridge 1" in page_of(texts, "The frame")


def test_a_wings_own_frame_shows_its_valleys_though_they_stand_in_the_planes_beside(plan) -> None:
    keys = {item.key for item in frame_plan(plan, "wing-2").items if isinstance(item, Polygon)}
    assert sum(key.startswith("member:Valley") for key in keys) == 2


def test_a_wings_own_frame_shows_no_other_wings_rafters(plan) -> None:
    drawing = frame_plan(plan, "wing-3")
    rafters = [item for item in drawing.items if isinstance(item, Line) and item.role == "rafter"]
    x = [end[0] for item in rafters for end in (item.start, item.end)]
    assert min(x) >= 150.0 - 16.0 - 1e-6
    assert max(x) <= 260.0 + 16.0 + 1e-6


def test_the_roof_page_leaves_short_inner_lengths_out_but_no_long_eave(plan, texts) -> None:
    page = page_of(texts, "The roof")
    back = next(e for p in plan.roof.planes if p.id == "wing-1/e3" for e in p.edges if e.kind == "eave")
    assert plan.units.length(back.length_in) in page


def test_holes_are_named_in_their_middle_and_their_edges_are_not(plan) -> None:
    words = [item for item in plane_sheets(plan, "wing-1/e3").items if isinstance(item, Text)]
    (word,) = [item for item in words if item.text == "skylight"]
    assert word.at == pytest.approx((185.0, 90.0))
    assert not [item for item in words if item.text == "against wall"]


class TestPacking:
    @given(st.lists(st.floats(10.0, 1000.0), max_size=30))
    @settings(deadline=None)
    def test_every_card_once(self, heights):
        cards = [[Space(tall)] for tall in heights]
        result = packed(cards, 500.0, 560.0)
        assert sorted(map(id, result)) == sorted(map(id, cards))

    def test_a_short_card_fills_up_a_page_before_a_tall_one(self):
        tall, short = [Space(400.0)], [Space(150.0)]
        assert packed([tall, tall.copy(), short], 500.0, 560.0) == [tall, short, tall]


class TestSmallPieces:
    ring = ((0.0, 0.0), (8.0, 0.0), (0.0, 6.0))

    def test_sides_in_words_from_the_lower_left_round(self):
        """3-4-5 triangle, doubled: geometry."""
        cut = StockCut("p", "1A", self.ring)
        assert side_words(cut, Units()) == "along 8, slant 10, across 6"
        assert side_words(StockCut("p", "1A", self.ring[::-1]), Units()) == "along 8, slant 10, across 6"

    def test_small_ones_are_named_only(self):
        cut = StockCut("p", "1A", self.ring)
        assert is_small(cut, 8.0) and not is_small(cut, 7.9)
        sheet = StockSheet("Sheet 1", 96.0, 48.0, (cut,))
        bare = [item.text for item in stock_sheet(sheet, Units(), least_in=8.0).items if isinstance(item, Text)]
        assert bare == ["1A"]
        assert len([item for item in stock_sheet(sheet, Units()).items if isinstance(item, Text)]) > 1


def test_no_card_lies_over_the_foot_of_its_page(plan) -> None:
    for page in cut_card_pages(plan, "letter"):
        last = getattr(page.blocks[-1], "after", 0.0)
        assert sum(block.height(540.0) for block in page.blocks) - last <= frame_size("letter")[1]
