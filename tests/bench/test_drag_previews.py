"""The frames of a drag: worked out as far as is on show, told as such, and completed once the hand rests."""

from __future__ import annotations

import gc
from dataclasses import replace

import pytest
from PySide6.QtCore import QRectF

from workbench.bench.document import Document
from workbench.bench.figures_of import NOT_YET, standing_figures
from workbench.bench.previews import Preview, is_fresh, preview_plan
from workbench.bench.surface.labels import Label, Lines, Place, arrange
from workbench.drawing.roof_plan import building_lines
from workbench.job import edits
from workbench.job.model import Heel, Job
from workbench.plan import Plan, solve

HEEL = Heel(given="hap", hap_in=6.0)


def house():
    outline = [(0, 0), (480, 0), (480, 336), (0, 336)]
    job, _ = edits.add_wing(Job(), outline, ["eave", "rake"] * 2, name="main", slope_in_12=7.0, heel=HEEL)
    cross = [(160, -120), (320, -120), (320, 168), (160, 168)]
    return edits.add_wing(job, cross, ["rake", "eave"] * 2, name="cross", slope_in_12=7.0, heel=HEEL)[0]


@pytest.fixture(scope="module")
def plan():
    return solve(house())


def steeper(job, in_12=9.0):
    return edits.set_wing(job, "wing-1", slope_in_12=in_12)


class TestReach:
    def test_the_roof_is_the_new_jobs_and_the_rest_the_last_plans(self, plan):
        job = steeper(plan.job)
        preview = preview_plan(job, "roof", plan)
        whole = solve(job)
        assert isinstance(preview, Preview)
        assert preview.roof == whole.roof
        assert preview.wings == whole.wings
        assert preview.framing is plan.framing
        assert preview.sheathing is plan.sheathing
        assert [is_fresh(preview, part) for part in ("roof", "frame", "sheets", "all")] == [True, False, False, False]

    def test_with_the_frame(self, plan):
        preview = preview_plan(steeper(plan.job), "frame", plan)
        assert preview.framing == solve(steeper(plan.job)).framing
        assert [is_fresh(preview, part) for part in ("roof", "frame", "sheets", "all")] == [True, True, False, False]

    @pytest.mark.parametrize("reach", ["sheets", "safety", "drawn"])
    def test_with_sheets_and_falls(self, plan, reach):
        job = steeper(plan.job)
        preview, whole = preview_plan(job, reach, plan), solve(job, "preview")
        assert preview.framing.supports == whole.framing.supports
        assert (preview.framing == whole.framing) == (reach == "drawn")
        for part in ("planes", "stock", "at_least", "findings"):
            assert getattr(preview.sheathing, part) == getattr(whole.sheathing, part)
        assert (preview.safety == whole.safety) == (reach != "sheets")
        assert preview.quantities is plan.quantities
        assert set(whole.sheathing.findings) <= set(preview.findings)
        assert not (set(plan.sheathing.findings) - set(whole.findings)) & set(preview.findings)
        fresh = [is_fresh(preview, part) for part in ("frame", "sheets", "safety", "all")]
        assert fresh == [reach == "drawn", True, reach != "sheets", False]

    def test_all_is_an_ordinary_plan(self, plan):
        preview = preview_plan(steeper(plan.job), "all", plan)
        assert type(preview) is Plan
        assert is_fresh(preview, "all")

    def test_findings_of_the_roof_are_new_and_those_of_later_stages_kept(self, plan):
        job = edits.set_heel(plan.job, "wing-1", hap_in=0.5)
        preview = preview_plan(job, "roof", plan)
        codes = ("notch", "hap", "heel", "seat")
        roofs = {finding for finding in solve(job).findings if finding.code.startswith(codes)}
        assert roofs
        assert roofs <= set(preview.findings)
        assert {f for f in plan.findings if f.code == "stagger"} <= set(preview.findings)

    def test_figures_not_worked_out_say_so(self, plan):
        preview = preview_plan(steeper(plan.job), "roof", plan)
        shown = {figure.name: figure.value for figure in standing_figures(preview, preview.roof.planes[0])}
        assert shown["Slope"] == "9 in 12"
        assert shown["Rafters"] == shown["Sheets"] == NOT_YET
        shown = {figure.name: figure.value for figure in standing_figures(plan, plan.roof.planes[0])}
        assert NOT_YET not in shown.values()


class TestDocument:
    @pytest.fixture
    def document(self, qapp):
        document = Document()
        document.new(house())
        document.reach = "roof"
        return document

    def test_the_rest_follows_once_the_hand_rests(self, document, qtbot):
        document.preview(steeper(document.job))
        assert isinstance(document.plan, Preview)
        with qtbot.waitSignal(document.shown, timeout=3000):
            pass
        assert type(document.plan) is Plan
        assert document.plan.job == steeper(document.job)

    def test_applying_and_giving_up_leave_nothing_half_done(self, document, qtbot):
        job = steeper(document.job)
        document.preview(job)
        document.apply(job, "Change slope")
        assert document.plan == solve(job)
        document.preview(steeper(job, 4.0))
        document.cancel_preview()
        assert document.plan == solve(job)
        told = []
        document.shown.connect(lambda *_: told.append(1))
        qtbot.wait(300)
        assert not told

    def test_the_stage_says_how_far(self, window):
        window.document.new(house())
        window.centre.setCurrentIndex(1)
        stages = {
            "plan": "roof",
            "slope": "roof",
            "frame": "frame",
            "sheets": "sheets",
            "safety": "safety",
            "quantities": "roof",
        }
        for stage, reach in stages.items():
            window.show_stage(stage)
            assert window.document.reach == reach

    def test_the_order_list_says_that_it_waits(self, window, qtbot):
        window.document.new(house())
        window.centre.setCurrentIndex(1)
        window.show_stage("quantities")
        panel = window.pages["quantities"]
        said = panel.about.text()
        window.document.preview(steeper(window.document.job))
        assert not panel.table.isEnabled()
        assert panel.about.text() != said
        with qtbot.waitSignal(window.document.shown, timeout=3000):
            pass
        assert panel.table.isEnabled()
        assert panel.about.text() == said

    def test_no_look_for_unreachable_objects_in_a_drag(self, document, qtbot):
        qtbot.waitUntil(gc.isenabled, timeout=4000)  # a drag before this one
        document.preview(steeper(document.job))
        assert not gc.isenabled()
        document.cancel_preview()
        qtbot.waitUntil(gc.isenabled, timeout=4000)


class TestLabelsAndLines:
    def label(self, x=0.0, key="a", slide=100.0):
        return Label((x, 0.0), (1.0, 0.0), 20.0, 10.0, slide, 1, key)

    def test_a_line_through_the_box_is_seen_at_any_angle(self):
        for start, end in (((0.0, -50.0), (0.0, 50.0)), ((-50.0, -20.0), (50.0, 20.0)), ((-4.0, 1.0), (4.0, 1.0))):
            assert Lines([("b", start, end)]).crossed(self.label())
            assert not Lines([("a", start, end)]).crossed(self.label())  # its own

    def test_a_line_past_the_box_is_not(self):
        for start, end in (((11.0, -50.0), (11.0, 50.0)), ((-50.0, 6.0), (50.0, 6.0)), ((-30.0, 0.0), (0.0, 30.0))):
            assert not Lines([("b", start, end)]).crossed(self.label())

    def test_a_label_slides_off_another_objects_line_where_it_can(self):
        lines = Lines([("b", (0.0, -50.0), (0.0, 50.0))])
        assert arrange([self.label()], lines) == (Place(-25.0),)
        assert arrange([self.label(slide=20.0)], lines) == (Place(),)  # no room: better there than nowhere

    def test_else_it_goes_to_the_other_side_of_its_own(self):
        lines = Lines([("b", (-50.0, 0.0), (50.0, 0.0))])
        beside = replace(self.label(), flip=(0.0, 30.0))
        assert arrange([beside], lines) == (Place(0.0, 1.0),)
        assert arrange([beside], Lines([("b", (-50.0, y), (50.0, y)) for y in (0.0, 30.0, 48.0, 66.0)])) == (Place(),)

    def test_and_an_edge_s_past_the_building_line_there(self):
        lines = Lines([("b", (-50.0, y), (50.0, y)) for y in (0.0, 25.0)])
        beside = replace(self.label(), flip=(0.0, 25.0))
        assert arrange([replace(beside, key="edge:a/e1")], lines) == (Place(0.0, 1.6),)
        assert arrange([beside], lines) == (Place(),)  # a member's would be read as another's there

    def test_an_outer_label_keeps_off_other_roofs(self):
        roof = ((-40.0, -30.0), (20.0, -30.0), (20.0, 30.0), (-40.0, 30.0))
        beside = replace(self.label(slide=120.0), flip=(0.0, 30.0))
        assert arrange([beside], Lines([], [roof])) == (Place(30.0),)
        assert arrange([replace(beside, flip=(0.0, 0.0))], Lines([], [roof])) == (Place(),)  # it stands on its own line
        below = ((-90.0, -90.0), (90.0, -90.0), (90.0, 90.0), (-90.0, 90.0))
        assert arrange([beside], Lines([], [below])) == (Place(),)  # a dormer's edge, all of it on the roof below

    def test_without_lines_all_is_as_before(self):
        assert arrange([self.label()], Lines()) == arrange([self.label()]) == (Place(),)


def test_building_lines_inside_another_wing_are_left_out(plan) -> None:
    lines = [(line.key, line.start, line.end) for line in building_lines(plan)]
    cross = [(start, end) for key, start, end in lines if key == "wing:wing-2"]
    assert all(min(start[1], end[1]) <= 1.0 and max(start[1], end[1]) <= 1.0 for start, end in cross)
    front = [(start, end) for key, start, end in lines if key == "wing:wing-1" and start[1] == end[1] == 0.0]
    assert sorted(min(start[0], end[0]) for start, end in front)[0] == 0.0
    assert sum(abs(end[0] - start[0]) for start, end in front) == pytest.approx(480.0 - 160.0, abs=1.0)
    bounds = QRectF()
    for _, start, end in lines:
        bounds = bounds.united(QRectF(*start, 0.01, 0.01)).united(QRectF(*end, 0.01, 0.01))
    assert bounds.bottom() == pytest.approx(336.0, abs=0.1)
