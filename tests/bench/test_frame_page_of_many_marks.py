"""The Frame page of a roof with many marks: grouped by kind, cards of bevelled members, drawing and table together."""

from __future__ import annotations

import pytest
from PySide6.QtCore import Qt
from PySide6.QtTest import QTest

from workbench.bench.stages.frame import MOST_OPEN, mark_rows, order_words
from workbench.bench.surface.words import describe
from workbench.drawing.cut_card import cut_sides, lettered_cuts
from workbench.drawing.primitives import Polygon, Text
from workbench.job import edits
from workbench.job.model import Heel, Job
from workbench.plan import solve

HEEL = Heel(given="hap", hap_in=6.0)


def hip_house_with_wing():
    fields = {"slope_in_12": 7.0, "heel": HEEL, "eave_overhang_in": 16.0, "rake_overhang_in": 12.0}
    main = [(0, 0), (480, 0), (480, 336), (0, 336)]
    job, _ = edits.add_wing(Job(), main, ["eave"] * 4, name="main", **fields)
    wing = [(160, -120), (320, -120), (320, 168), (160, 168)]
    job, _ = edits.add_wing(job, wing, ["rake", "eave", "rake", "eave"], name="front wing", **fields)
    over = [(150, 300), (260, 300), (260, 440), (150, 440)]
    job, _ = edits.add_wing(job, over, ["rake", "eave", "rake", "eave"], name="porch", joins="overframed", **fields)
    return job


@pytest.fixture(scope="module")
def plan():
    return solve(hip_house_with_wing())


def test_marks_stand_by_kind_and_only_one_kind_is_open_where_there_are_many(plan) -> None:
    assert len(plan.framing.members) > MOST_OPEN
    rows = mark_rows(plan.framing, plan.units, "hip_jack")
    jacks = [member.mark for member in plan.framing.members if member.kind == "hip_jack"]
    keys = [cells.key for cells in rows]
    start = keys.index("member:Hip jack 1")
    assert keys[start : start + len(jacks)] == [f"member:{mark}" for mark in jacks]
    assert rows[start - 1].heading and rows[start - 1].texts[0] == "Hip jacks"
    closed = [cells for cells in rows if ": " in cells.texts[0]]
    assert any(cells.texts[0].startswith("Common rafters: ") for cells in closed)
    # Pieces of all kinds add up, whichever is open.
    listed = sum(int(cells.texts[1]) for cells in rows if cells.heading or ": " in cells.texts[0])
    assert listed == sum(member.count for member in plan.framing.members)


def test_a_closed_kind_leads_to_its_first_mark(plan) -> None:
    rows = mark_rows(plan.framing, plan.units, "hip_rafter")
    jacks = next(cells for cells in rows if cells.texts[0].startswith("Valley jacks: "))
    assert jacks.key == "member:Valley jack 1"


def test_few_marks_are_all_open() -> None:
    job, _ = edits.add_wing(Job(), [(0, 0), (480, 0), (480, 336), (0, 336)], ["eave", "rake"] * 2, heel=HEEL)
    plan = solve(job)
    rows = mark_rows(plan.framing, plan.units)
    assert [cells.texts[0] for cells in rows if cells.key] == [member.mark for member in plan.framing.members]


def test_every_cut_is_listed_also_a_rip_that_makes_no_side(plan) -> None:
    sleeper = next(member for member in plan.framing.members if member.kind == "sleeper")
    assert len(cut_sides(sleeper)) < len(sleeper.cuts)
    assert [cut for _, cut in lettered_cuts(sleeper)] == list(sleeper.cuts)
    for side in cut_sides(sleeper):
        assert (side.letter, side.cut) in lettered_cuts(sleeper)


def test_the_order_says_hands_and_what_is_done_to_the_top(plan) -> None:
    hip = next(member for member in plan.framing.members if member.kind == "hip_rafter")
    assert "top dropped" in order_words(hip, plan.units)
    jack = next(member for member in plan.framing.members if member.left and member.right)
    assert f"{jack.left} left as drawn, {jack.right} right, the mirror image" in order_words(jack, plan.units)


def test_a_member_in_words(plan) -> None:
    jack = next(member for member in plan.framing.members if member.mark == "Hip jack 1")
    assert describe(plan, "member:Hip jack 1").startswith(f"Hip jack 1: {jack.count} pieces of {jack.section}, ")
    assert describe(plan, "member:Hip jack 99") == ""


class TestInTheWindow:
    @pytest.fixture
    def window(self, make_window):
        window = make_window()
        window.document.new(hip_house_with_wing())
        window.centre.setCurrentIndex(1)
        window.show_stage("frame")
        return window

    def test_pressing_a_member_on_the_drawing_selects_its_row_and_shows_its_card(self, window):
        page, surface = window.pages["frame"], window.surface
        member = next(m for m in window.document.plan.framing.members if m.mark == "Valley jack 2")
        place = member.placements[0]
        middle = tuple((a + b) / 2.0 for a, b in zip(place.start[:2], place.end[:2], strict=True))
        surface.fit()
        QTest.mouseClick(surface.viewport(), Qt.MouseButton.LeftButton, pos=surface.to_px(middle).toPoint())
        assert window.selection.key == f"member:{member.mark}"
        assert page.marks.key == f"member:{member.mark}"
        assert page.name.text() == "Cut card: Valley jack 2"
        assert any("bevel" in cells.texts[1] for cells in page.cuts.rows)
        views = [item for view in (page.low, page.high) for item in view.drawing.items]
        assert any(isinstance(item, Text) and item.text == "from above" for item in views)

    def test_choosing_a_closed_kind_opens_it(self, window):
        page = window.pages["frame"]
        rows = [cells.texts[0] for cells in page.marks.rows]
        row = next(i for i, text in enumerate(rows) if text.startswith("Hip jacks: "))
        page.marks.selectRow(row)
        assert window.selection.key == "member:Hip jack 1"
        assert page.marks.key == "member:Hip jack 1"
        assert "Hip jack 2" in [cells.texts[0] for cells in page.marks.rows]

    def test_hovering_says_what_it_is(self, window, qtbot):
        surface = window.surface
        member = next(m for m in window.document.plan.framing.members if m.mark == "Ridge 1")
        start, end = member.placements[0].start, member.placements[0].end
        at = surface.to_px(((start[0] + end[0]) / 2.0, (start[1] + end[1]) / 2.0)).toPoint()
        with qtbot.waitSignal(surface.hint, check_params_cb=lambda text: text.startswith("Ridge 1: 1 piece of")):
            QTest.mouseMove(surface.viewport(), at)

    def test_the_whole_card_shows_a_bevelled_member_from_above_too(self, window):
        window.selection.select("member:Valley jack 1")
        wood = [item for item in window.pages["frame"].card.drawing.items if isinstance(item, Polygon)]
        assert len(wood) == 2
