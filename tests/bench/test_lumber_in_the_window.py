"""Boards to cut and the lumber they come from, boards in one member, and what is cut already: in the window."""

from __future__ import annotations

import os

import pytest
from PySide6.QtCore import Qt
from PySide6.QtTest import QTest

from workbench.bench.window import Window
from workbench.framing.model import Member
from workbench.job import edits
from workbench.job.model import Job

HIP = [(0.0, 0.0), (288.0, 0.0), (288.0, 192.0), (0.0, 192.0)]


@pytest.fixture
def opened(window: Window) -> Window:
    job, _ = edits.add_wing(Job(), HIP, ["eave"] * 4, slope_in_12=6.0, eave_overhang_in=12.0)
    window.document.new(job)
    window.resize(1400, 1000)
    window.show()
    window.centre.setCurrentIndex(1)
    return window


def saved(window: Window, name: str) -> None:
    """A picture to look at, where somebody asks for one."""
    folder = os.environ.get("BENCH_PICTURES")
    if folder:
        QTest.qWait(200)
        window.grab().save(f"{folder}/{name}.png")


def typed(field, text: str) -> None:
    field.edit.setText(text)
    field.edit.setModified(True)
    field.commit()


def test_the_boards_stand_under_the_order_list_and_follow_the_lumber(opened: Window) -> None:
    opened.show_stage("quantities")
    part = opened.pages["quantities"].boards
    plan = opened.document.plan
    assert "fewest proven" in part.about.text()
    headings = [row for row in part.table.rows if row.heading]
    assert [row.texts[2] for row in headings] == [section.name for section in plan.lumber.sections]
    assert sum(int(row.texts[0]) for row in part.table.rows if not row.heading) == sum(
        section.boards for section in plan.lumber.sections
    )
    if os.environ.get("BENCH_PICTURES"):
        opened.pages["quantities"]._scroll.ensureWidgetVisible(part.own_grade)
    saved(opened, "boards")
    typed(part.longest, "12'")
    assert opened.document.job.lumber.longest_in == 144.0
    assert all(batch.stock_in <= 144.0 for batch in opened.document.plan.lumber.sections[0].batches)
    typed(part.longest, "")
    assert opened.document.job.lumber.longest_in is None
    typed(part.kerf, "1/4")
    assert opened.document.job.lumber.kerf_in == 0.25
    typed(part.lengths, "10'; 16'; 20'")
    assert opened.document.job.lumber.lengths_in == (120.0, 192.0, 240.0)
    opened.document.stack.undo()
    assert len(opened.document.job.lumber.lengths_in) == 9


def test_species_and_grade_go_together_and_a_section_may_differ(opened: Window) -> None:
    opened.show_stage("quantities")
    part = opened.pages["quantities"].boards
    part.species.committed.emit("Hem-fir")
    part.grade.committed.emit("No.2")
    assert (opened.document.job.lumber.species, opened.document.job.lumber.grade) == ("Hem-fir", "No.2")
    assert any(row.texts[2] == "2x8 Hem-fir No.2" for row in part.table.rows if row.heading)
    row = next(row for row in part.table.rows if row.key == "section:2x10")
    part.table.select_key(row.key)
    part.table.chosen.emit(row.key)
    assert part.section_title.text() == "For 2x10 alone:"
    part.own_grade.committed.emit("No.1")
    typed(part.own_lengths, "20'")
    assert opened.document.job.lumber.grade_of("2x10") == ("Hem-fir", "No.1")
    assert opened.document.job.lumber.lengths_of("2x10") == (240.0,)
    part.species.committed.emit("")
    assert opened.document.job.lumber.grade == "No.2" or part.species.error


def test_kinds_with_boards_of_their_own_are_typed_in_words(opened: Window) -> None:
    opened.show_stage("quantities")
    part = opened.pages["quantities"].boards
    typed(part.alone, "hips; Common")
    assert opened.document.job.lumber.alone == ("hip_rafter", "common_rafter")
    assert opened.document.stack.undoText() == "Change boards of their own"
    typed(part.alone, "spar")
    assert "is no kind of member" in part.alone.error
    assert opened.document.job.lumber.alone == ("hip_rafter", "common_rafter")


def test_a_hip_of_two_boards_and_trusses_by_others_are_chosen_on_the_frame_page(opened: Window) -> None:
    opened.show_stage("frame")
    page = opened.pages["frame"]
    page.build_up.hip.committed.emit(2)
    hips = [m for m in opened.document.plan.framing.members if m.kind == "hip_rafter"]
    assert sum(m.count for m in hips) == 8 and all(m.plies == 2 for m in hips)
    opened.selection.select(f"member:{hips[0].mark}")
    assert "2 plies side by side" in page.order.text()
    saved(opened, "plies")
    if os.environ.get("BENCH_PICTURES"):
        page._scroll.ensureWidgetVisible(page.trim)
    saved(opened, "plies2")
    typed(page.build_up.offset, "6")
    assert opened.document.job.wings[0].rafter.offset_in == 6.0
    page.build_up.framed.committed.emit("trusses")
    assert opened.document.plan.framing.members == ()
    assert any("trusses by others" in f.text for f in opened.document.plan.findings)
    saved(opened, "trusses")


def first(window: Window, kind: str) -> Member:
    return next(m for m in window.document.plan.framing.members if m.kind == kind)


def test_a_mark_is_marked_as_cut_by_key_by_menu_and_by_number(opened: Window, qtbot) -> None:
    opened.show_stage("frame")
    page = opened.pages["frame"]
    common = first(opened, "common_rafter")
    opened.selection.select(f"member:{common.mark}")
    page.marks.setFocus()
    qtbot.keyClick(page.marks, Qt.Key.Key_K, Qt.KeyboardModifier.ControlModifier)
    assert opened.document.plan.cut.of(common.mark).count == common.count
    assert opened.document.stack.undoText() == f"Mark {common.mark} as cut"
    assert [action.text() for action in page.marks.actions()] == ["Mark as cut", "Take back what is marked as cut"]
    page.done.none.trigger()
    assert opened.document.job.cut_members == ()
    typed(page.done.fields[""], "3")
    assert opened.document.plan.cut.of(common.mark).count == 3
    typed(page.done.fields[""], "1")
    assert opened.document.job.cut_members[0].count == 1
    opened.document.stack.undo()
    assert opened.document.plan.cut.of(common.mark).count == 3
    assert next(row for row in page.marks.rows if row.key == f"member:{common.mark}").texts[1] == "12, 3 cut"
    saved(opened, "cut")


def test_hands_are_marked_apart(opened: Window) -> None:
    opened.show_stage("frame")
    page = opened.pages["frame"]
    jack = first(opened, "hip_jack")
    opened.selection.select(f"member:{jack.mark}")
    typed(page.done.fields["left"], "2")
    done = opened.document.plan.cut.of(jack.mark)
    assert (done.left, done.right, done.either) == (2, 0, 0)
    page.done.mark_all()
    assert opened.document.plan.cut.of(jack.mark).count == jack.count


def test_every_kind_may_be_of_several_boards(opened: Window) -> None:
    opened.show_stage("frame")
    form = opened.pages["frame"].build_up
    for name, field in form._plies.items():
        field.committed.emit(3)
        assert getattr(opened.document.job.wings[0].plies, name) == 3
    opened.document.stack.undo()
    assert opened.document.job.wings[0].plies.trimmer is None
    form.lower.committed.emit("hung")
    assert opened.document.job.wings[0].hips.lower_ridge == "hung"
    typed(form.purlin, "1 1/2")
    assert opened.document.job.wings[0].purlin_in == 1.5
