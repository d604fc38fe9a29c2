"""The safety stage: anchors set and dragged on the drawing, ropes and falls on the page, refusals at their field."""

from __future__ import annotations

import pytest
from msgspec.structs import replace
from PySide6.QtCore import Qt
from PySide6.QtTest import QTest

from workbench.job.edits import set_job
from workbench.job.samples import sample_jobs

LEFT, NONE = Qt.MouseButton.LeftButton, Qt.KeyboardModifier.NoModifier
RIDGE_Y = 168.0


@pytest.fixture
def gable(make_window):
    window = make_window()
    path = next(sample.path for sample in sample_jobs() if sample.name == "plain-gable")
    window.files.open_sample(path)
    window.show_stage("safety")
    window.surface.fit()
    return window


def px(window, x, y):
    return window.surface.to_px((x, y)).toPoint()


def click(window, x, y):
    viewport = window.surface.viewport()
    QTest.mouseMove(viewport, px(window, x, y))
    QTest.mouseClick(viewport, LEFT, NONE, px(window, x, y))


def drag(window, start, end):
    viewport = window.surface.viewport()
    QTest.mouseMove(viewport, px(window, *start))
    QTest.mousePress(viewport, LEFT, NONE, px(window, *start))
    for share in (0.3, 0.7, 1.0):
        point = tuple(a + share * (b - a) for a, b in zip(start, end, strict=True))
        QTest.mouseMove(viewport, px(window, *point))
    QTest.mouseRelease(viewport, LEFT, NONE, px(window, *end))


def anchors(window):
    return window.document.job.safety.anchors


def test_an_anchor_is_set_by_a_click_on_the_ridge(gable):
    gable.surface.start_tool("anchor")
    click(gable, 228.0, RIDGE_Y)
    assert [(a.plane in ("main/e1", "main/e3"), a.y_in) for a in anchors(gable)] == [(True, None)]
    assert gable.selection.key == f"anchor:{anchors(gable)[0].id}"
    assert gable.surface.tool_name == "anchors"
    page = gable.pages["safety"]
    assert page.anchor_heading.isVisible()
    planned = gable.document.plan.safety.anchors[0]
    assert page.anchors.rows[0].texts[1] == gable.document.plan.units.length(planned.rope_in)
    gable.document.stack.undo()
    assert anchors(gable) == ()


def test_a_click_on_the_plane_sets_it_there_and_beside_the_roof_nothing(gable):
    gable.surface.start_tool("anchor")
    click(gable, 228.0, 84.0)
    assert anchors(gable)[0].y_in is not None
    gable.surface.start_tool("anchor")
    click(gable, -100.0, 84.0)
    assert len(anchors(gable)) == 1


def test_dragging_an_anchor_along_the_ridge_is_one_undo_step_with_live_ropes(gable):
    gable.surface.start_tool("anchor")
    click(gable, 228.0, RIDGE_Y)
    before = gable.document.stack.count()
    shown = []
    gable.document.shown.connect(lambda _, plan: shown.append(plan.safety.anchors[0].point[0]))
    drag(gable, (228.0, RIDGE_Y), (300.0, RIDGE_Y + 2.0))
    moved = gable.document.plan.safety.anchors[0]
    assert moved.space[0] == pytest.approx(300.0, abs=6.0)
    assert anchors(gable)[0].y_in is None
    assert gable.document.stack.count() == before + 1
    assert len(set(shown)) >= 2
    gable.document.stack.undo()
    assert gable.document.plan.safety.anchors[0].space[0] == pytest.approx(228.0, abs=6.0)


def test_keys_move_and_remove_the_selected_anchor(gable):
    gable.surface.start_tool("anchor")
    click(gable, 228.0, RIDGE_Y)
    x = anchors(gable)[0].x_in
    gable.surface.setFocus()
    QTest.keyClick(gable.surface, Qt.Key.Key_Right)
    assert anchors(gable)[0].x_in > x
    QTest.keyClick(gable.surface, Qt.Key.Key_Delete)
    assert anchors(gable) == ()


def test_the_fewest_are_set_in_one_step_and_told(gable):
    page = gable.pages["safety"]
    page.fewest.click()
    found = gable.document.plan.safety.fewest("main/e1")
    assert len(anchors(gable)) == len(found.points)
    assert "fewer can't" in page.proposal.text()
    page.fewest.click()
    assert len(anchors(gable)) == len(found.points)
    gable.selection.select("plane:main/e3")
    page.fewest.click()
    assert len(anchors(gable)) == len(found.points)  # the ridge's anchors serve both planes
    gable.document.stack.undo()
    assert gable.document.stack.undoText().startswith("Set the fewest") or anchors(gable) == ()


def test_a_reach_that_is_too_short_is_refused_at_its_field(gable):
    page = gable.pages["safety"]
    field = page.allowances.field("reach_in")
    for typed in ("-10", "0", '59"'):
        field.edit.setText(typed)
        field.edit.setModified(True)
        field.commit()
        assert "give 60 in or more" in field.error
        assert gable.document.job.safety.reach_in == 60.0
    field.edit.setText("66")
    field.edit.setModified(True)
    field.commit()
    assert field.error == ""
    assert gable.document.job.safety.reach_in == 66.0


def test_the_temperature_is_typed_in_the_jobs_own_degrees(gable):
    loads, document = gable.pages["safety"].loads, gable.document
    write(loads.temperature, "86")
    assert document.job.safety.temperature_f == 86.0
    document.apply(set_job(document.job, units=replace(document.job.units, system="mm")), "Millimetres")
    assert loads.temperature.edit.text() == "30"
    write(loads.temperature, "35")
    assert document.job.safety.temperature_f == pytest.approx(95.0)


def write(field, text: str) -> None:
    field.edit.setText(text)
    field.edit.setModified(True)
    field.commit()


def test_own_rules_without_a_source_are_refused_at_their_field(gable):
    page = gable.pages["safety"]
    page.work.rules.committed.emit("own")
    assert gable.document.job.safety.own_rules.source == "not named yet"
    page.work.own_source.committed.emit("")
    assert "names no source" in page.work.own_source.error
    page.work.own_source.committed.emit("county order 12 (invented)")
    assert {fall.trigger.source for fall in gable.document.plan.safety.falls} == {"county order 12 (invented)"}


def test_only_the_eave_limits_and_the_page_says_that_the_rake_is_not_restrained(gable):
    gable.surface.start_tool("anchor")
    click(gable, 100.0, RIDGE_Y)
    page = gable.pages["safety"]
    page.work.restrain.committed.emit("eaves")
    assert "NOT restrained" in page.rope.text()
    assert page.exposed.isVisible()
    assert "rake" in page.exposed.text()


def test_a_deck_along_the_selected_edge_counts_only_when_all_holds(gable):
    page = gable.pages["safety"]
    gable.selection.select("edge:main/e1")
    page.edge_form.guard.committed.emit("deck")
    assert page.guard_fault.isVisible()
    assert not gable.document.plan.safety.falls[0].guarded
    for name in ("guarded", "wide", "strong"):
        page.edge_form.checks[name].click()
    assert gable.document.plan.safety.falls[0].guarded
    assert page.falls.rows[0].texts[2] == "guarded"
    page.edge_form.drop.committed.emit(80.0)
    assert not gable.document.plan.safety.falls[0].guarded
    page.edge_form.guard.committed.emit(None)
    assert gable.document.job.safety.guards == ()


def test_ground_below_the_selected_edge(gable):
    page = gable.pages["safety"]
    gable.selection.select("edge:main/e1")
    before = gable.document.plan.safety.falls[0].drop_in
    page.edge_form.end.committed.emit(-30.0)
    assert gable.document.plan.safety.falls[0].drop_in == pytest.approx(before + 30.0)
    assert gable.document.job.safety.ground[0].start_in == 0.0


def test_ropes_are_typed_as_a_list(gable):
    page = gable.pages["safety"]
    page.allowances.ropes.committed.emit("25'; 40' 6\"; 75'")
    assert gable.document.job.safety.ropes_in == (300.0, 486.0, 900.0)
    page.allowances.ropes.committed.emit("25'; a rope")
    assert page.allowances.ropes.error
    assert gable.document.job.safety.ropes_in == (300.0, 486.0, 900.0)


def test_every_anchor_figure_says_how(gable):
    gable.surface.start_tool("anchor")
    click(gable, 228.0, RIDGE_Y)
    page = gable.pages["safety"]
    assert page.how.isEnabled()
    assert "reach" in page.how._traces[0].formula


def test_a_cut_up_roof_shows_its_falls(make_window):
    window = make_window()
    path = next((sample.path for sample in sample_jobs() if sample.name == "cut-up-house"), sample_jobs()[0].path)
    window.files.open_sample(path)
    window.show_stage("safety")
    page = window.pages["safety"]
    assert {cells.texts[0] for cells in page.falls.rows} == {f.name for f in window.document.plan.safety.falls}


def test_a_covered_opening_is_no_fall(make_window):
    window = make_window()
    window.files.open_sample(next(sample.path for sample in sample_jobs() if sample.name == "cut-up-house"))
    window.show_stage("safety")
    page = window.pages["safety"]
    window.selection.select("opening:skylight-1")
    page.covered.click()
    falls = [fall for fall in window.document.plan.safety.falls if fall.opening == "skylight-1"]
    assert falls
    assert all(fall.guarded for fall in falls)
    page.covered.click()
    assert window.document.job.safety.covered_openings == ()
