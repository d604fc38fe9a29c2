"""Limits that need no load, and hardware counted as called for."""

from __future__ import annotations

import math

import pytest
from msgspec.structs import replace

from workbench.errors import EditError, JobError
from workbench.job.edits import add_opening, add_wing, set_edge, set_trim, set_wing
from workbench.job.model import Job, Tie
from workbench.job.read import parse_job
from workbench.job.screening_edits import (
    add_connector,
    add_headroom,
    remove_connector,
    remove_headroom,
    set_connector,
    set_headroom,
    set_screening,
    set_wing_limits,
)
from workbench.plan import Plan, solve


def gable(slope: float = 6.0, **fields: object) -> Job:
    outline = [(0.0, 0.0), (360.0, 0.0), (360.0, 288.0), (0.0, 288.0)]
    return add_wing(Job(), outline, ["eave", "rake", "eave", "rake"], slope_in_12=slope, **fields)[0]


def codes(plan: Plan) -> set[str]:
    return {finding.code for finding in plan.findings}


def check(plan: Plan, kind: str):
    return next(check for check in plan.screening.checks if check.kind == kind)


def test_thrust_is_w_run_squared_over_twice_the_rise() -> None:
    job = set_screening(gable(), live_psf=20.0, dead_psf=10.0, tied_by="ceiling_joists")
    (front, back) = solve(job, "preview").screening.thrusts
    w, run = 20.0 + 10.0 * math.hypot(1.0, 0.5), 12.0
    assert front.plf == back.plf == pytest.approx(w * run**2 / (2.0 * run * 0.5))
    assert front.at_tie_lb == pytest.approx(front.plf * 2.0)  # at every rafter, 2 ft apart


def test_metric_jobs_say_loads_in_their_own_unit_beside_that_of_the_tables() -> None:
    job = set_screening(gable(), live_psf=20.0, dead_psf=10.0, tied_by="ceiling_joists")
    job = replace(job, units=replace(job.units, system="mm"))
    plan = solve(job, "preview")
    assert "0.96 kPa (20 psf) roof live load" in check(plan, "rafter_span").text
    assert "kN/m (" in check(plan, "thrust").text and "kN (" in check(plan, "thrust").text
    for loads in plan.screening.loads:
        assert all("kPa" in trace.values for trace in loads.traces)
    assert all("kN/m" in thrust.trace.values for thrust in plan.screening.thrusts)


def test_a_raised_tie_is_pulled_harder() -> None:
    """Moments about the ridge: a tie a quarter of the way up has three quarters of the arm."""
    job = set_trim(gable(), "wing-1", rafter_ties=Tie(share=0.25, every=2))
    plan = solve(job, "preview")
    found = plan.screening.thrusts[0]
    assert found.at_tie_lb == pytest.approx(found.plf * 4.0 / 0.75)
    assert "plates-not-tied" not in codes(plan)


def test_plates_need_something_that_ties_them() -> None:
    assert "plates-not-tied" in codes(solve(gable(), "preview"))
    for tied in ("ceiling_joists", "ridge_beam", "engineer"):
        assert "plates-not-tied" not in codes(solve(set_screening(gable(), tied_by=tied), "preview"))
    assert "plates-not-tied" not in codes(solve(set_wing_limits(gable(), "wing-1", tied_by="ridge_beam"), "preview"))


def test_rafter_ties_that_are_named_have_to_be_drawn() -> None:
    named = set_screening(gable(), tied_by="rafter_ties")
    assert "plates-not-tied" in codes(solve(named, "preview"))
    drawn = set_trim(named, "wing-1", rafter_ties=Tie(share=0.2))
    assert "plates-not-tied" not in codes(solve(drawn, "preview"))


def test_a_low_ridge_is_a_beam() -> None:
    assert check(solve(gable(2.0), "preview"), "ridge").verdict == "engineer"
    assert "ridge-needs-beam" in codes(solve(gable(2.0), "preview"))
    assert "plates-not-tied" not in codes(solve(gable(2.0), "preview"))  # a beam carries the rafters
    assert check(solve(gable(3.0), "preview"), "ridge").verdict == "passes"


def test_the_covering_has_a_least_slope() -> None:
    assert "slope-under-covering" in codes(solve(gable(1.5), "preview"))
    assert "slope-under-covering" not in codes(solve(set_screening(gable(1.5), covering="standing_seam"), "preview"))
    assert "slope-under-covering" in codes(solve(set_screening(gable(3.5), covering="slate"), "preview"))


def test_ridge_height() -> None:
    """Plate + height above plate + run times slope, and what lies on the rafters, plumb."""
    plan = solve(gable(), "preview")
    found = check(plan, "ridge_height")
    hap = 7.25 * math.hypot(1.0, 0.5) - 3.5 * 0.5
    top = 97.125 + hap + 144.0 * 0.5 + (7 / 16 + 0.25) * math.hypot(1.0, 0.5)
    assert found.traces[0].value == pytest.approx(top)
    assert found.verdict == "not_known"
    over = solve(set_screening(gable(), ridge_limit_in=top - 1.0), "preview")
    assert "over-ridge-limit" in codes(over)
    assert "over-ridge-limit" not in codes(solve(set_screening(gable(), ridge_limit_in=top + 0.01), "preview"))


def test_headroom_under_the_rafters() -> None:
    job, point = add_headroom(gable(), x_in=100.0, y_in=60.0, name="top of the stair", floor_in=97.125)
    plan = solve(job, "preview")
    found = check(plan, "headroom")
    plumb = 7.25 * math.hypot(1.0, 0.5)
    clear = plumb - 3.5 * 0.5 + 60.0 * 0.5 - plumb
    assert found.traces[0].value == pytest.approx(clear)
    assert "headroom-low" in codes(plan)
    further = (84.0 - clear) / 0.5
    assert further > 144.0 - 60.0  # past the ridge
    assert found.mend.startswith("nowhere up this slope")
    lower = check(solve(set_headroom(job, point, floor_in=70.0), "preview"), "headroom")
    assert lower.mend.startswith(plan.units.length(further - (97.125 - 70.0) / 0.5))
    assert "headroom-low" not in codes(solve(set_headroom(job, point, floor_in=0.0), "preview"))
    assert "headroom-off-roof" in codes(solve(set_headroom(job, point, x_in=9000.0), "preview"))
    assert not remove_headroom(job, point).screening.headroom


@pytest.mark.parametrize(
    ("lookouts", "out", "code"),
    [
        ("none", 9.0, ""), ("none", 10.0, "rake-overhang-long"), ("ladder", 12.0, ""),
        ("ladder", 13.0, "rake-overhang-long"), ("back", 24.0, ""), ("back", 25.0, "lookout-backspan-short"),
    ],
)  # fmt: skip
def test_rakes_stand_out_no_further_than_what_carries_them(lookouts: str, out: float, code: str) -> None:
    """9 in bare: from memory; a foot on a ladder, as far as they run back on lookouts: common practice, no source."""
    job = set_trim(set_wing(gable(), "wing-1", rake_overhang_in=out), "wing-1", lookouts=lookouts)
    found = codes(solve(job, "preview")) & {"rake-overhang-long", "lookout-backspan-short"}
    assert code in found if code else not found


def test_tails() -> None:
    assert "tail-overhang-long" in codes(solve(gable(eave_overhang_in=25.0), "preview"))
    assert "tail-overhang-long" not in codes(solve(gable(eave_overhang_in=24.0), "preview"))


def test_notch_is_held_against_a_quarter_of_the_depth() -> None:
    found = check(solve(gable(12.0), "preview"), "notch")
    assert found.use == pytest.approx(3.5 * math.sqrt(0.5) / (7.25 / 4.0))
    assert found.verdict == "fails"


def test_hardware_is_counted_where_it_goes() -> None:
    plan = solve(gable(), "preview")
    assert "connectors-not-called" in codes(plan)
    rafters = sum(m.count for m in plan.framing.members if m.kind == "common_rafter")
    job, key = add_connector(gable(), "rafter tie-down", each=2)
    plan = solve(job, "preview")
    assert "connectors-not-called" not in codes(plan)
    assert plan.screening.called[0].count == 2 * rafters
    job = set_connector(job, key, place="hip_end")
    assert "connector-without-place" in codes(solve(job, "preview"))
    job = set_connector(job, key, place="given", count=17)
    assert solve(job, "preview").screening.called[0].count == 17
    assert not remove_connector(job, key).screening.connectors


def test_hips_are_for_the_engineer() -> None:
    job = gable()
    for edge in job.wings[0].edges:
        job = set_edge(job, "wing-1", edge.id, kind="eave")
    plan = solve(job, "preview")
    assert check(plan, "hip").verdict == "engineer"
    job, _ = add_connector(job, "hanger", place="hip_end")
    assert solve(job, "preview").screening.called[0].count == 8  # four hips, both ends


def test_headers_at_openings_are_for_the_engineer() -> None:
    job, _ = add_opening(gable(), "wing-1/e1", x_in=100.0, y_in=60.0, width_in=48.0, length_in=48.0)
    assert check(solve(job, "preview"), "header").verdict == "engineer"
    assert not [c for c in solve(gable(), "preview").screening.checks if c.kind == "header"]


def test_what_can_not_be() -> None:
    with pytest.raises(EditError, match="no wing"):
        set_wing_limits(gable(), "attic", tied_by="engineer")
    with pytest.raises(EditError, match="take it away"):
        set_screening(gable(), live_psf=0.0)
    with pytest.raises(EditError, match="say how many"):
        add_connector(gable(), "strap", place="given")
    with pytest.raises(EditError, match="no name"):
        add_connector(gable(), " ")
    with pytest.raises(JobError, match="stands twice"):
        parse_job(
            b'{"format": "roof-workbench-job", "version": 1, "screening": '
            b'{"headroom": [{"id": "H", "x_in": 0, "y_in": 0}, {"id": "H", "x_in": 1, "y_in": 0}]}}',
            "a job",
        )


def test_a_wing_taken_away_takes_its_limits_along() -> None:
    from workbench.job.edits import remove_wing

    job = set_wing_limits(gable(), "wing-1", tied_by="engineer")
    assert not remove_wing(job, "wing-1").screening.wings
    assert not set_wing_limits(job, "wing-1", tied_by=None).screening.wings


def test_trusses_by_others_are_not_screened() -> None:
    job, _ = add_headroom(set_wing(gable(), "wing-1", framed_with="trusses"), x_in=100.0, y_in=60.0)
    plan = solve(job, "preview")
    kinds = {check.kind for check in plan.screening.checks}
    assert not kinds & {"rafter_span", "thrust", "ridge", "notch", "rake_overhang", "tail_overhang"}
    assert {"sheathing_span", "covering", "ridge_height"} <= kinds
    assert check(plan, "headroom").verdict == "not_known"
    assert "plates-not-tied" not in codes(plan)
