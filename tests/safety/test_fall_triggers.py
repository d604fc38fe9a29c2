"""Heights and triggers: ground lines under edges, rule sets with their sources, what is refused."""

from __future__ import annotations

import json

import msgspec
import pytest

from workbench.errors import BadInput, EditError, JobError
from workbench.job.edits import add_opening, remove_wing
from workbench.job.model import Job
from workbench.job.read import parse_job
from workbench.job.safety import UNNAMED_SOURCE, OwnRules, Safety
from workbench.job.safety_edits import (
    add_anchor,
    move_anchor,
    remove_anchor,
    remove_guard,
    set_anchor,
    set_ground,
    set_guard,
    set_safety,
    set_served_from,
)
from workbench.job.write import dump_job
from workbench.resources import resource_text
from workbench.rules.fall_protection import read_rule_sets, rule_set, rule_sets
from workbench.safety.site import judged


@pytest.mark.parametrize(
    ("rules", "in_12", "kind", "height_in", "needed"),
    [
        # 29 CFR 1926.501(b)(11), (b)(10), (b)(13), (b)(2), (b)(4): 6 ft. (b)(10) and (b)(11) from memory.
        ("federal-residential", 7.0, "eave", 72.0, "yes"),
        ("federal-residential", 7.0, "rake", 71.0, "no"),
        ("federal-residential", 2.5, "eave", 72.0, "yes"),
        ("federal-residential", 2.5, "eave", 60.0, "no"),
        ("federal-residential", 7.0, "leading_edge", 72.0, "yes"),
        ("federal-residential", 7.0, "opening", 71.0, "no"),
        # Chapter 296-880 WAC: 4 ft on steep roofs; 6 ft for roofing on low pitch and at leading edges since 2022;
        # 4 ft on a walking and working surface (what counts as one: from memory).
        ("washington", 7.0, "eave", 48.0, "yes"),
        ("washington", 4.01, "rake", 48.0, "yes"),
        ("washington", 4.0, "rake", 48.0, "ask"),
        ("washington", 4.0, "rake", 72.0, "yes"),
        ("washington", 7.0, "leading_edge", 71.0, "ask"),
        ("washington", 7.0, "leading_edge", 72.0, "yes"),
        ("washington", 7.0, "eave", 47.0, "no"),
    ],
)
def test_triggers_of_the_rule_sets(rules, in_12, kind, height_in, needed):
    trigger, found = judged(rule_set(rules), in_12 / 12.0, kind, height_in)
    assert found == needed
    assert trigger.source


@pytest.mark.parametrize("rules", rule_sets(), ids=lambda rules: rules.id)
def test_four_in_12_is_not_steep_and_more_is(rules):
    """29 CFR 1926.500(b): low slope is 4 in 12 or less; chapter 296-880 WAC: steep is over 4 in 12."""
    assert not rules.is_steep(4.0 / 12.0)
    assert rules.is_steep(4.001 / 12.0)


def test_a_rule_set_without_a_source_is_refused():
    table = json.loads(resource_text("rules", "fall_protection.json"))
    for name in ("steep", "low_slope", "leading_edge", "opening", "walking_surface"):
        broken = json.loads(json.dumps(table))
        broken["sets"][0]["triggers"][name]["source"] = " "
        with pytest.raises(BadInput, match=r"names no source for its trigger .* refused"):
            read_rule_sets(json.dumps(broken))
    del table["sets"][1]["triggers"]["steep"]["source"]
    with pytest.raises(BadInput, match=r"missing required field source"):
        read_rule_sets(json.dumps(table))


def test_own_rules_that_name_no_source_yet_are_not_used(build):
    own = OwnRules(name="County", source=UNNAMED_SOURCE, steep_in=12.0)
    plan = build.safety_of(set_safety(build.gable(), rule_set="own", own_rules=own))
    assert plan.rules.id == "federal-residential"
    (found,) = [finding for finding in plan.findings if finding.code == "own-rule-set-without-source"]
    assert found.severity == "error" and "County" in found.text


def test_a_job_that_brings_its_own_rules_has_to_name_their_source(build):
    with pytest.raises(EditError, match="names no source"):
        set_safety(Job(), rule_set="own", own_rules=OwnRules(name="County", source="  "))
    data = dump_job(Job()).replace(b'"own_rules": null', b'"own_rules": {"name": "County", "source": ""}')
    with pytest.raises(JobError, match="names no source, so it is refused"):
        parse_job(data, "job.json")
    with pytest.raises(EditError, match="no own_rules"):
        set_safety(Job(), rule_set="own")
    own = OwnRules(name="County", source="county order 12 (invented)", steep_in=36.0)
    plan = build.safety_of(set_safety(build.gable(), rule_set="own", own_rules=own))
    assert {fall.trigger.source for fall in plan.falls} == {"county order 12 (invented)"}
    assert plan.falls[0].trigger.height_in == 36.0


def test_an_unknown_rule_set_is_told_and_the_federal_one_used(build):
    plan = build.safety_of(set_safety(build.gable(), rule_set="atlantis"))
    assert plan.rules.id == "federal-residential"
    assert "rule-set-unknown" in {finding.code for finding in plan.findings}


def test_edges_without_a_ground_line_are_named_where_others_have_one(build):
    """Else a low eave over a falling yard stands as "under trigger" though nobody said where the ground is."""
    job = build.gable(plate_in=64.0, slope_in_12=2.5)
    bare = {finding.code: finding.text for finding in build.safety_of(job).findings}
    assert "ground-not-given" not in bare and "No ground line is given" in bare["fall-protection"]
    for edge in ("wing-1/e1", "wing-1/e2"):
        job = set_ground(job, edge, 0.0)
    (found,) = [f for f in build.safety_of(job).findings if f.code == "ground-not-given"]
    assert found.severity == "warning"
    assert "eave of back main" in found.text and "left rake of front main" in found.text
    assert "eave of front main" not in found.text and "right rake of front main" not in found.text
    for edge in ("wing-1/e3", "wing-1/e4"):
        job = set_ground(job, edge, 0.0)
    assert "ground-not-given" not in {finding.code for finding in build.safety_of(job).findings}


def test_heights_are_taken_from_ground_lines(build):
    """Ground falling from 0 to 48 in along the front eave; the eave is level."""
    job = set_ground(build.gable(plate_in=97.125), "wing-1/e1", 0.0, -48.0)
    eave = next(fall for fall in build.safety_of(job).falls if fall.name == "eave of front main")
    flat = next(fall for fall in build.safety_of(build.gable(plate_in=97.125)).falls if fall.name == eave.name)
    assert eave.least_drop_in == pytest.approx(flat.drop_in)
    assert eave.drop_in == pytest.approx(flat.drop_in + 48.0)


def test_a_rake_is_judged_at_its_ridge_end(build):
    job = build.gable(plate_in=30.0, slope_in_12=7.0)
    plan = build.safety_of(job)
    rakes = [fall for fall in plan.falls if fall.kind == "rake"]
    eaves = [fall for fall in plan.falls if fall.kind == "eave"]
    assert all(fall.needed == "yes" for fall in rakes)
    assert all(fall.needed == "no" for fall in eaves)
    rise = 7.0 / 12.0 * 144.0
    assert rakes[0].drop_in == pytest.approx(rakes[0].least_drop_in + rise)


def test_a_ridge_and_a_wall_are_no_falls_and_a_covered_opening_is_none(build):
    job = build.rectangle(240.0, 144.0, ["eave", "rake", "wall", "rake"])
    assert sorted(fall.kind for fall in build.safety_of(job).falls) == ["eave", "rake", "rake"]
    job, opening = add_opening(job, "wing-1/e1", x_in=60.0, y_in=48.0, width_in=24.0, length_in=36.0)
    falls = [fall for fall in build.safety_of(job).falls if fall.kind == "opening"]
    assert len(falls) == 4
    assert not any(fall.guarded for fall in falls)
    assert all(f.guarded for f in build.safety_of(job, covered_openings=(opening,)).falls if f.kind == "opening")


def test_unfinished_sheathing_has_a_leading_edge(build):
    from workbench.sheathing.model import PlaneSheets, Row, SheathingPlan

    rows = (Row(1, 48.0, 0.0, 48.0), Row(2, 48.0, 48.125, 96.125), Row(3, 48.0, 96.25, 144.25))
    sheets = PlaneSheets("wing-1/e1", 144.25, rows, 96.0, (), (), 0, ())
    plan = build.safety_of(
        set_safety(build.gable(), stage="sheathing", rows_laid=2), sheathing=SheathingPlan((sheets,))
    )
    leading = [fall for fall in plan.falls_of("wing-1/e1") if fall.kind == "leading_edge"]
    bare = [fall for fall in plan.falls_of("wing-1/e1") if fall.kind == "bare_rafters"]
    plane = build.roof_of(build.gable()).plane("wing-1/e1")
    assert [round(plane.to_plane(fall.start)[1], 6) for fall in leading] == [96.125]
    assert min(y for _, y in bare[0].ring) == pytest.approx(96.125)
    assert {fall.kind for fall in plan.falls_of("wing-1/e3")} >= {"bare_rafters"}
    done = build.safety_of(
        set_safety(build.gable(), stage="sheathing", rows_laid=3), sheathing=SheathingPlan((sheets,))
    )
    assert not any(fall.kind == "leading_edge" for fall in done.falls_of("wing-1/e1"))


@pytest.mark.parametrize(
    "edit",
    [
        lambda job: set_safety(job, reach_in=-1.0),
        lambda job: set_safety(job, reach_in=0.0),
        lambda job: set_safety(job, reach_in=59.9),
        lambda job: set_safety(job, stretch_in=-1.0),
        lambda job: set_safety(job, work_reach_in=90.0),
        lambda job: set_safety(job, ropes_in=(-1.0,)),
        lambda job: set_safety(job, people=3),
        lambda job: set_safety(job, colour="red"),
        lambda job: add_anchor(job, "nowhere/e1", x_in=0.0),
        lambda job: add_anchor(job, "wing-1/e2", x_in=0.0),
        lambda job: add_anchor(job, "wing-1/e1", x_in=float("nan")),
        lambda job: add_anchor(job, "wing-1/e1", x_in=0.0, valid_from="soon"),
        lambda job: move_anchor(job, "A-9", x_in=0.0),
        lambda job: remove_anchor(job, "A-9"),
        lambda job: set_ground(job, "wing-1/e9", 0.0),
        lambda job: set_guard(job, "wing-1/e9", kind="deck"),
        lambda job: set_guard(job, "wing-1/e1", drop_in=-1.0),
        lambda job: remove_guard(job, "wing-1/e1"),
        lambda job: set_served_from(job, "wing-1/e1", "crane"),
    ],
)
def test_what_can_not_be_is_refused_in_one_sentence(build, edit):
    job = build.gable()
    with pytest.raises(EditError) as caught:
        edit(job)
    text = str(caught.value)
    assert text.endswith(".")
    assert "\n" not in text


def test_a_file_with_a_reach_of_nothing_is_refused():
    data = dump_job(Job()).replace(b'"reach_in": 60.0', b'"reach_in": 0.0')
    with pytest.raises(JobError, match=r"safety.reach_in"):
        parse_job(data, "job.json")


def test_safety_settings_survive_the_file(build):
    job, _ = add_anchor(build.gable(), "wing-1/e1", x_in=240.0, name="ridge middle", rated="arrest", people=2)
    job = set_guard(set_ground(job, "wing-1/e1", -3.0, -6.0), "wing-1/e3", kind="deck", guarded=True)
    job = set_served_from(set_safety(job, restrain="eaves", temperature_f=95.0, humidity=60.0), "wing-1/e1", "ladder")
    assert parse_job(dump_job(job), "job.json") == job


def test_an_old_file_without_safety_gets_the_cautious_defaults():
    tree = msgspec.json.decode(dump_job(Job()))
    del tree["safety"]
    job = parse_job(msgspec.json.encode(tree), "job.json")
    assert job.safety == Safety()
    assert job.safety.reach_in == 60.0


def test_a_wing_that_goes_takes_its_anchors_and_guards_along(build):
    job, _ = add_anchor(build.gable(), "wing-1/e1", x_in=240.0)
    job = set_ground(set_guard(job, "wing-1/e1", kind="deck"), "wing-1/e1", -3.0)
    assert remove_wing(job, "wing-1").safety == Safety()


def test_anchors_are_moved_and_changed_by_id(build):
    job, first = add_anchor(build.gable(), "wing-1/e1", x_in=100.0)
    job, second = add_anchor(job, "wing-1/e1", x_in=300.0)
    job = remove_anchor(set_anchor(move_anchor(job, second, x_in=320.0, y_in=90.0), second, people=2), first)
    assert [(a.id, a.x_in, a.y_in, a.people) for a in job.safety.anchors] == [(second, 320.0, 90.0, 2)]
    job, third = add_anchor(job, "wing-1/e1", x_in=1.0)
    assert third not in (first, second) or third == first
