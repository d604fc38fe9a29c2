"""The site stage in the JSON of a solved job and in its summary."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from workbench.cli.report import plan_json, summary_text
from workbench.job.as_built_edits import measure_plate, tape
from workbench.job.read import read_job
from workbench.plan import solve

SAMPLE = Path(__file__).parents[2] / "sample_jobs" / "plain-gable.json"


@pytest.fixture(scope="module")
def plan():
    return solve(read_job(SAMPLE))


def test_json_holds_what_was_solved(plan) -> None:
    site = json.loads(json.dumps(plan_json(plan)))["site"]
    assert site["heights"][0]["top_in"] == plan.site.heights[0].top_in
    assert [stick["lines_in"] for stick in site["sticks"]] == [
        [mark.line_in for mark in stick.marks] for stick in plan.site.sticks
    ]
    assert all(len(stick["lines_in"]) == len(stick["marks"]) for stick in site["sticks"])
    assert site["plates"] == site["squarings"] == site["lengths"] == []


def test_json_holds_the_readings(plan) -> None:
    job = measure_plate(plan.job, "main", "e1", left_in=plan.job.wings[0].plate_in + 0.25)
    job = tape(job, "main", "e1", "e3", 586.0)
    site = json.loads(json.dumps(plan_json(solve(job))))["site"]
    assert len(site["plates"][0]["seat_in"]) == len(site["plates"][0]["marks"]) == 21
    assert site["squarings"][0]["fits"] is True


def test_summary_says_heights_and_lines(plan) -> None:
    text = summary_text(plan)
    assert "Setting out, props from the top of the plates" in text
    assert plan.units.length(plan.site.heights[0].props[0].length_in) in text
    assert "23 1/4, 47 1/4" in text
