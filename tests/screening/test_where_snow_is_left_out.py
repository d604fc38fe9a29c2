"""Where drifts, slides and valley snow can lie: named with their places, never reckoned."""

from __future__ import annotations

import pytest

from workbench.job.edits import add_wing
from workbench.job.model import Job
from workbench.job.read import read_job
from workbench.job.samples import sample_jobs
from workbench.job.screening_edits import set_snow
from workbench.plan import Plan, solve

CODES = {"snow-drifts", "snow-slides", "snow-in-valleys"}


def sample(name: str) -> Job:
    return read_job(next(each.path for each in sample_jobs() if each.path.stem == name))


def told(plan: Plan) -> dict[str, str]:
    return {finding.code: finding.text for finding in plan.findings if finding.code in CODES}


@pytest.mark.parametrize(
    ("name", "codes"),
    [
        ("plain-gable", set()),
        ("shed-porch", {"snow-drifts"}),
        ("l-house", {"snow-in-valleys"}),
        ("small-house", {"snow-drifts", "snow-slides"}),
        ("cut-up-house", CODES),
    ],
)
def test_each_roof_names_only_what_it_has(name: str, codes: set[str]) -> None:
    plan = solve(set_snow(sample(name), ground_psf=30.0), "preview")
    assert set(told(plan)) == codes
    for finding in plan.findings:
        if finding.code in CODES:
            assert "Ask the engineer" in finding.text and "from memory: not reckoned here" in finding.source
            assert plan.plane(finding.object) is not None
    assert not told(solve(sample("shed-porch"), "preview")), "no snow, no place for it"


def test_places_are_named_with_their_measures() -> None:
    found = told(solve(set_snow(sample("cut-up-house"), ground_psf=30.0), "preview"))
    assert "front main, 6' 0\" level" in found["snow-drifts"]  # the wall under the gable dormer's front
    assert "from shed dormer on to back main, " in found["snow-slides"]
    assert "chimney" not in found["snow-drifts"] and "skylight" not in found["snow-drifts"]
    assert "between right porch and front main" in found["snow-in-valleys"]


def test_a_lower_roof_counts_up_to_fifteen_feet_from_the_eave() -> None:
    """ASCE 7 7.9, from memory: lower roofs within 15 ft of the upper one's edge."""
    kinds = ["eave", "rake", "eave", "rake"]
    high, _ = add_wing(Job(), [(0, 0), (240, 0), (240, 240), (0, 240)], kinds, "high", plate_in=240.0)
    for gap, slides in ((96.0, True), (400.0, False)):
        low = [(0.0, -gap - 120.0), (240.0, -gap - 120.0), (240.0, -gap), (0.0, -gap)]
        job, _ = add_wing(high, low, kinds, "low", plate_in=96.0)
        assert ("snow-slides" in told(solve(set_snow(job, ground_psf=30.0), "preview"))) is slides
