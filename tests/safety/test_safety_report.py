"""What ``solve --json`` says of falls and ropes."""

from __future__ import annotations

import json
import math

import pytest

from workbench.cli.report import FALL_CAUTION, findings_text, plan_json
from workbench.drawing.primitives import Text
from workbench.drawing.safety_plan import safety_from_above
from workbench.job.model import Job
from workbench.job.safety_edits import add_anchor, set_anchor, set_safety
from workbench.plan import solve


def test_falls_and_ropes_stand_in_the_json(build):
    job = add_anchor(build.gable(), "wing-1/e1", x_in=120.0)[0]
    tree = json.loads(json.dumps(plan_json(solve(set_safety(job, restrain="eaves"))), allow_nan=False))
    safety = tree["safety"]
    assert "competent person" in safety["caution"]
    assert safety["rule_set"] == "federal-residential"
    assert {fall["kind"] for fall in safety["falls"]} == {"eave", "rake"}
    anchor = safety["anchors"][0]
    assert not anchor["rakes_restrained"]
    assert anchor["together_in"] == pytest.approx(anchor["rope_in"] + 24.0)
    nearest = min(limit["together_in"] for limit in anchor["limits"])
    assert nearest == pytest.approx(120.0 - 90.0)
    assert {exposed["name"] for exposed in anchor["exposed"]} == {"left rake of front main", "right rake of back main"}
    assert all(math.isfinite(exposed["along_in"]) for exposed in anchor["exposed"])


def test_a_job_without_a_roof_has_an_empty_safety_part():
    safety = plan_json(solve(Job()))["safety"]
    assert safety["falls"] == []
    assert safety["anchors"] == []


def test_findings_about_falls_carry_the_caution_of_falls(build):
    plan = solve(build.gable(), "preview")
    assert "competent person" in FALL_CAUTION
    assert FALL_CAUTION in findings_text(plan.findings).splitlines()
    assert FALL_CAUTION not in findings_text(solve(Job()).findings)


def test_a_rope_that_is_too_long_is_named_before_the_others(build):
    """Words without room are left out, the later ones first."""
    job, _ = add_anchor(build.gable(), "wing-1/e1", x_in=252.0)
    job, last = add_anchor(job, "wing-1/e1", x_in=228.0)
    drawing = safety_from_above(solve(set_anchor(job, last, rope_in=300.0), "preview"))
    words = [item.text for item in drawing.items if isinstance(item, Text) and item.key.startswith("anchor:")]
    assert len(words) == 2 and words[0].endswith("TOO LONG")
