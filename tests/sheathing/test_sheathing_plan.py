"""The plan of a whole job: what it says when something can't be met, and that it never fails."""

from __future__ import annotations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from workbench.framing.model import Framing
from workbench.job.model import PlaneChoice, Sheathing
from workbench.measure import Units
from workbench.roof.model import Roof
from workbench.sheathing.cutting import check_cutting
from workbench.sheathing.model import SheathingPlan
from workbench.sheathing.solve import plan_sheathing


def solve(build, plane, spacing=24.0, **more):
    return plan_sheathing(Roof((plane,)), build.framing([plane], spacing), Sheathing(**more))


def said(plan):
    return {finding.code: finding.severity for finding in plan.findings}


def test_no_roof_no_sheets():
    plan = plan_sheathing(Roof(), Framing(), Sheathing())
    assert plan == SheathingPlan()
    assert plan.proven


def test_a_plane_smaller_than_a_sheet(build):
    plan = solve(build, build.upright(40.0, 20.0))
    assert plan.count == plan.at_least == 1
    assert said(plan) == {"row-too-narrow": "error"}
    assert [piece.label for piece in plan.planes[0].pieces] == ["1A"]


def test_a_slot_that_leaves_nothing(build):
    plan = solve(build, build.upright(400.0, 20.0), ridge_slot_in=24.0)
    assert said(plan) == {"nothing-to-sheathe": "error"}
    assert plan.count == 0


def test_more_sheets_than_a_house_has_are_refused(build):
    plan = solve(build, build.upright(12_000.0, 12_000.0), panel_width_in=10.0, panel_length_in=20.0, least_in=5.0)
    assert said(plan) == {"too-many-sheets": "error"}


def test_other_planes_are_solved_though_one_can_t_be(build):
    planes = (build.upright(400.0, 20.0, plane_id="a/1"), build.upright(400.0, 144.25, plane_id="a/2"))
    plan = plan_sheathing(Roof(planes), build.framing(planes), Sheathing(ridge_slot_in=24.0))
    assert [sheets.plane for sheets in plan.planes] == ["a/2"]
    assert plan.findings[0].object == "a/1"


@pytest.mark.parametrize(("spacing", "would"), [(20.0, '19 3/16"'), (22.0, '24"'), (14.0, '13 11/16"')])
def test_a_spacing_off_the_module_names_the_one_that_fits(build, spacing, would):
    plan = solve(build, build.upright(480.0, 144.25), spacing)
    (finding,) = [finding for finding in plan.findings if finding.code == "spacing-off-module"]
    assert finding.severity == "warning"
    assert f"{would} on centre would" in finding.text


def test_rafters_too_far_apart_for_any_joint(build):
    plan = solve(build, build.upright(480.0, 144.25), 120.0)
    assert said(plan)["joint-off-framing"] == "error"
    assert '96" on centre would' in next(f.text for f in plan.findings if f.code == "joint-off-framing")


def test_a_plane_without_rafters_is_laid_all_the_same(build):
    plane = build.upright(480.0, 144.25)
    plan = plan_sheathing(Roof((plane,)), Framing(), Sheathing())
    assert said(plan) == {"no-framing": "warning"}
    assert plan.count == 15
    assert plan.nail_lines == () or plan.nail_counts["edge"] == 0


def test_a_least_width_over_half_a_panel_is_brought_down(build):
    plan = solve(build, build.upright(480.0, 158.0), least_in=30.0)
    assert said(plan) == {"least-over-half": "warning"}
    assert min(row.width_in for row in plan.planes[0].rows) >= 24.0


def test_a_short_end_piece_is_blocked_or_clipped(build):
    plan = solve(build, build.upright(600.0, 144.25))
    (finding,) = plan.findings
    assert finding.code == "piece-of-one-bay"
    assert "block or clip" in finding.text


def test_choices_change_one_plane_only(build):
    roof = build.gable(480.0, 158.0)
    frame = build.framing(roof.planes)
    choice = PlaneChoice(plane="main/back", rip="top", split="halves", start="right")
    plan = plan_sheathing(roof, frame, Sheathing(), (choice, PlaneChoice(plane="nowhere", rip="top")))
    front, back = plan.planes
    assert [round(row.width_in, 3) for row in front.rows] == [24.0, 37.625, 48.0, 48.0]
    assert [round(row.width_in, 3) for row in back.rows] == [48.0, 48.0, 30.812, 30.812]


def test_figures_are_shown_in_the_jobs_units(build):
    plane = build.upright(480.0, 20.0)
    plan = plan_sheathing(Roof((plane,)), build.framing([plane]), Sheathing(), units=Units("mm"))
    assert "508 mm" in plan.findings[0].text


def test_the_same_job_gives_the_same_plan(build):
    roof = build.hip(500.0, 300.0)
    frame = build.framing(roof.planes)
    assert plan_sheathing(roof, frame, Sheathing()) == plan_sheathing(roof, frame, Sheathing())


def test_traces_carry_the_counts(build):
    roof = build.gable(480.0, 187.83)
    plan = plan_sheathing(roof, build.framing(roof.planes), Sheathing())
    values = {trace.name: trace.value for trace in plan.traces}
    assert values["sheets"] == plan.count
    assert values["at least"] == plan.at_least


@settings(max_examples=80, deadline=None)
@given(
    width=st.floats(0.5, 700.0),
    up=st.floats(0.5, 300.0),
    tip=st.floats(0.0, 1.0),
    panel=st.sampled_from([48.0, 47.875, 24.0, 1.0]),
    length=st.sampled_from([96.0, 120.0, 30.0]),
    gap=st.floats(0.0, 1.0),
    least=st.floats(0.1, 60.0),
    kerf=st.floats(0.0, 1.0),
    stagger=st.floats(0.0, 200.0),
    first=st.one_of(st.none(), st.floats(0.1, 300.0)),
    slot=st.floats(0.0, 30.0),
    past=st.floats(0.0, 10.0),
    spacing=st.sampled_from([0.0, 5.0, 16.0, 24.0, 31.7, 200.0]),
    halves=st.booleans(),
)
def test_no_job_makes_it_fail(
    build, width, up, tip, panel, length, gap, least, kerf, stagger, first, slot, past, spacing, halves
):
    points = [(0.0, 0.0), (width, 0.0), (width * (1.0 + tip) / 2.0, up), (width * (1.0 - tip) / 2.0, up)]
    kinds = ["eave", "hip", "ridge", "hip"] if tip < 1.0 else ["eave", "rake", "ridge", "rake"]
    if tip == 0.0:
        points, kinds = points[:3], ["eave", "hip", "hip"]
    plane = build.polygon(points, kinds)
    frame = build.framing([plane], spacing) if spacing else Framing()
    rules = Sheathing(
        panel_width_in=panel,
        panel_length_in=length,
        gap_in=gap,
        least_in=least,
        kerf_in=kerf,
        stagger_in=stagger,
        first_piece_in=first,
        ridge_slot_in=slot,
        past_tail_in=past,
        halves_nominal=halves,
    )
    if width * up / (panel * length) > 150.0:
        return
    plan = plan_sheathing(Roof((plane,)), frame, rules)
    pieces = [piece for sheets in plan.planes for piece in sheets.pieces]
    assert check_cutting(pieces, plan.stock) == []
    assert plan.at_least <= plan.count
