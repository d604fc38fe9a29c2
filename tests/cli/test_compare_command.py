"""``compare``: alternatives side by side, in words and as JSON."""

from __future__ import annotations

import json
import math
from pathlib import Path

import pytest

from workbench.cli import main
from workbench.compare import COMPARED, compare, compare_rows
from workbench.job import edits
from workbench.job.alternatives import add_alternative, resolved
from workbench.job.inputs import Change
from workbench.job.model import Alternative, Job, PriceBracket
from workbench.job.write import write_job
from workbench.measure import Units
from workbench.plan import solve

HOUSE = [(0.0, 0.0), (192.0, 0.0), (192.0, 144.0), (0.0, 144.0)]
PRICES = (PriceBracket(from_in_12=0.0, price_per_square=300.0), PriceBracket(from_in_12=8.0, price_per_square=400.0))


@pytest.fixture(scope="module")
def job() -> Job:
    job, _ = edits.add_wing(Job(name="House", brackets=PRICES), HOUSE, ["eave", "rake", "eave", "rake"])
    job, _ = add_alternative(job, "as it is")
    job, _ = add_alternative(job, "9 in 12", [Change(input="slope_in_12", value=9.0)])
    broken = Alternative(id="x", name="broken", changes=(Change(input="plate_in", value=90.0, wing="gone"),))
    return edits.set_job(job, alternatives=(*job.alternatives, broken))


def test_figures_are_those_of_each_design_solved_alone(job: Job) -> None:
    base, same, steep, broken = compare(job)
    # True area of a gable: plan area stretched by √(1 + m²) (geometry).
    plan_sqft = 192.0
    assert base.area_sqft == pytest.approx(plan_sqft * math.hypot(1.0, 7.0 / 12.0))
    assert steep.area_sqft == pytest.approx(plan_sqft * 1.25)
    assert steep.price == pytest.approx(plan_sqft * 1.25 / 100.0 * 400.0)
    assert steep.ridge_in - base.ridge_in == pytest.approx(72.0 * 2.0 / 12.0, abs=2.5)
    plan = solve(resolved(job, job.alternatives[1]))
    assert steep.sheets == plan.sheathing.count
    assert steep.members == sum(member.count for member in plan.framing.members)
    assert [getattr(same, key) for key in COMPARED] == [getattr(base, key) for key in COMPARED]
    assert same.changes == ()
    assert steep.changes == ("slope 7 in 12 → 9 in 12",)
    assert "gone" in broken.problem


def test_boards_bought_are_never_less_than_what_is_in_place(job: Job) -> None:
    for figures in compare(job)[:3]:
        assert figures.lumber_bought_in >= figures.lumber_placed_in > 0.0


def test_rows_show_what_differs_and_nothing_where_nothing_does(job: Job) -> None:
    rows = {row.key: row for row in compare_rows(compare(job), Units())}
    assert set(COMPARED) <= set(rows)
    slope = rows["slopes_in_12"]
    assert slope.values == ("7 in 12", "7 in 12", "9 in 12", "–")
    assert slope.differences == ("", "", "+2.00 in 12", "")
    assert rows["warnings"].values[3] == "–"
    for row in rows.values():
        assert row.differences[0] == row.differences[1] == row.differences[3] == ""


def test_giving_up_ends_after_the_design_in_hand(job: Job) -> None:
    assert len(compare(job, given_up=lambda: True)) == 1


def test_the_command_in_words_and_as_json(job: Job, tmp_path: Path, capsys) -> None:
    path = tmp_path / "house.json"
    write_job(job, path)
    assert main(["compare", str(path), "--json"]) == 0
    got = json.loads(capsys.readouterr().out)
    assert [design["name"] for design in got["alternatives"]] == ["The job", "as it is", "9 in 12", "broken"]
    base, _, steep, broken = got["alternatives"]
    assert steep["differences"]["area_sqft"] == pytest.approx(steep["area_sqft"] - base["area_sqft"])
    assert steep["sheets"]["count"] >= steep["sheets"]["at_least"]
    assert broken["differences"] == {} and broken["price"] is None
    assert main(["compare", str(path)]) == 0
    text = capsys.readouterr().out
    assert "9 in 12: slope 7 in 12 → 9 in 12" in text and "Screening" in text


def test_a_job_without_alternatives_compares_just_itself_and_says_how_to_add_one(tmp_path: Path, capsys) -> None:
    path = tmp_path / "house.json"
    write_job(edits.add_wing(Job(), HOUSE, ["eave", "rake", "eave", "rake"])[0], path)
    assert main(["compare", str(path)]) == 0
    text = capsys.readouterr().out
    assert "no alternatives" in text and '"slope_in_12"' in text
    assert main(["compare", str(path), "--json"]) == 0
    assert len(json.loads(capsys.readouterr().out)["alternatives"]) == 1


def test_bad_input_is_one_sentence(tmp_path: Path, capsys) -> None:
    assert main(["compare", str(tmp_path / "gone.json")]) == 2
    assert "\n" not in capsys.readouterr().err.strip()
