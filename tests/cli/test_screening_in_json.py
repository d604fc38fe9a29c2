"""Screening and drying in as the command line tells them."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from workbench.cli import main
from workbench.job.edits import add_wing, set_rafter
from workbench.job.lumber_edits import set_lumber
from workbench.job.model import Job
from workbench.job.screening_edits import add_connector, set_screening
from workbench.job.write import write_job


@pytest.fixture
def short_of_wood(tmp_path: Path) -> Path:
    """Rafters too light for loads that are given."""
    outline = [(0.0, 0.0), (96.0, 0.0), (96.0, 240.0), (0.0, 240.0)]
    job, wing = add_wing(Job(name="Invented shed"), outline, ["eave", "rake", "eave", "rake"], slope_in_12=6.0)
    job = set_lumber(set_rafter(job, wing, depth_in=3.5), species="Hem-fir", grade="No.2")
    job = set_screening(job, live_psf=20.0, dead_psf=10.0, tied_by="ceiling_joists")
    job, _ = add_connector(job, "tie-down", each=2)
    path = tmp_path / "shed.json"
    write_job(job, path)
    return path


def test_over_span_under_given_loads_fails_the_check(short_of_wood: Path, capsys) -> None:
    assert main(["check", str(short_of_wood)]) == 1
    said = capsys.readouterr().out
    assert "error: Common 1" in said
    assert "more than is allowed" in said


def test_both_parts_stand_in_the_solved_job(short_of_wood: Path, capsys) -> None:
    assert main(["solve", str(short_of_wood), "--json"]) == 1
    told = json.loads(capsys.readouterr().out)
    spans = [check for check in told["screening"]["checks"] if check["kind"] == "rafter_span"]
    assert spans[0]["verdict"] == "fails"
    assert spans[0]["use"] > 1.0
    assert not told["screening"]["assumed"]
    assert told["screening"]["thrust"][0]["plf"] > 0.0
    rafters = sum(m["count"] for m in told["members"] if m["kind"] == "common_rafter")
    assert told["screening"]["connectors"] == [{"id": "C-1", "name": "tie-down", "count": 2 * rafters}]
    steps = told["drying_in"]["steps"]
    assert [step["number"] for step in steps] == list(range(1, len(steps) + 1))
    assert steps[0]["length_in"] == pytest.approx(2 * 96.0)


def test_hardware_and_metal_are_on_the_order_list(short_of_wood: Path, capsys) -> None:
    main(["list", str(short_of_wood), "--json"])
    lines = {line["code"]: line for line in json.loads(capsys.readouterr().out)["quantities"]}
    assert lines["connector-C-1"]["group"] == "fastening"
    assert lines["edge-metal-eaves"]["unit"] == "pieces"
    assert lines["seam-tape"]["unit"] == "rolls"
