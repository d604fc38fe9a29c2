"""What the slope command answers, field by field."""

from __future__ import annotations

import json
import math

import pytest
from scipy.optimize import brentq

from workbench.errors import BadInput, NoSolution
from workbench.measure.units import Units
from workbench.roof.slope_report import SlopeReport, slope_report


def codes(report: SlopeReport) -> list[str]:
    return [finding.code for finding in report.findings]


def test_the_fields_of_the_contract_and_no_others() -> None:
    report = slope_report(162.5, 80.0, heel_low=6.5, depth=7.25, whole=True).as_json()
    assert list(report) == [
        "slope_in_12",
        "angle_deg",
        "length_in",
        "called_in_12",
        "nominal",
        "bracket",
        "findings",
    ]
    assert list(report["bracket"]) == ["from_in_12", "over", "target_in_12", "to_reach_target"]
    assert all(list(n) == ["in_12", "miss_in"] for n in report["nominal"])
    assert all(list(c) == ["what", "change_in"] for c in report["bracket"]["to_reach_target"])
    assert all(list(f) == ["code", "severity", "object", "text", "source"] for f in report["findings"])
    assert json.loads(json.dumps(report)) == report


def test_run_and_rise_alone_by_hand() -> None:
    """Run 10 ft, rise 80 in: 8 in 12, 33.690°, 144.222 in (check: framing table, 14.42 a foot, NAVEDTRA 14044)."""
    report = slope_report(120.0, 80.0).as_json()
    assert report["slope_in_12"] == pytest.approx(8)
    assert report["angle_deg"] == pytest.approx(33.690068, abs=1e-6)
    assert report["length_in"] == pytest.approx(10 * 14.4222, abs=1e-3)
    assert report["called_in_12"] == 8
    misses = {n["in_12"]: n["miss_in"] for n in report["nominal"]}
    assert misses == pytest.approx({n: 10.0 * (n - 8) for n in range(5, 12)})
    bracket = report["bracket"]
    assert (bracket["from_in_12"], bracket["over"], bracket["target_in_12"]) == (8.0, True, 7.0)
    changes = {c["what"]: c["change_in"] for c in bracket["to_reach_target"]}
    assert changes == pytest.approx({"run": 120 / 7, "rise": -10.0, "heel_low": 10.0, "heel_high": -10.0})


def test_a_whole_rafter_against_a_root_finder() -> None:
    """The bottom edge through the landing's corner, found by scipy: distance of the corner from the top edge is d."""
    run, rise, heel, depth = 162.5, 82.0, 6.5, 9.25

    def gap(theta: float) -> float:
        return run * math.sin(theta) - (rise - heel) * math.cos(theta) - depth

    theta = brentq(gap, 0.01, 1.5, xtol=1e-15)
    report = slope_report(run, rise, heel_low=heel, depth=depth, whole=True)
    assert report.answer.angle == pytest.approx(theta, rel=1e-12)
    assert report.answer.hap_high_in == pytest.approx(depth / math.cos(theta))
    changes = {c.what: c.change_in for c in report.bracket.to_reach_target}
    assert set(changes) == {"run", "rise", "heel_low"}
    target = report.bracket.target_in_12
    again = slope_report(run + changes["run"], rise, heel_low=heel, depth=depth, whole=True)
    assert again.answer.in_12 == pytest.approx(target)


def test_heels_that_differ_tilt_the_rafter() -> None:
    report = slope_report(120.0, 60.0, heel_low=8.0, heel_high=6.0)
    assert report.answer.in_12 == pytest.approx(5.8)
    assert report.called_in_12 == 6


def test_bracket_and_target_asked_for() -> None:
    report = slope_report(120.0, 95.0, bracket=9.0, target=6.5).as_json()
    assert report["bracket"]["from_in_12"] == 9.0
    assert report["bracket"]["target_in_12"] == 6.5
    assert report["bracket"]["over"] is True
    near = slope_report(120.0, 95.0, target=3.0).as_json()
    assert 3 in [n["in_12"] for n in near["nominal"]]


def test_without_a_depth_nothing_is_said_of_notches() -> None:
    assert codes(slope_report(120.0, 65.0)) == ["no-heel", "called-slope"]
    assert codes(slope_report(120.0, 60.0)) == ["no-heel"]
    assert codes(slope_report(120.0, 60.0, heel_low=6.0, heel_high=6.0)) == []
    assert codes(slope_report(120.0, 60.0, heel_low=6.0)) == ["called-slope"]
    assert codes(slope_report(120.0, 60.0, heel_low=-1.0, heel_high=-1.0)) == ["hap-not-positive"] * 2


def test_with_a_depth_the_notches_told_of_are_looked_at() -> None:
    deep = slope_report(120.0, 60.0, heel_low=6.0, heel_high=6.0, depth=9.25)
    assert codes(deep) == ["notch-too-deep", "notch-too-deep"]
    assert deep.depth_known
    # Without an upper heel the top edge meets the landing's height, as at a ledger: one notch only.
    assert codes(slope_report(120.0, 66.0, heel_low=6.0, depth=9.25)) == ["notch-too-deep"]
    assert codes(slope_report(120.0, 60.0, depth=9.25)) == ["hap-not-positive"]
    # The depth changes what can be built, not the slope between two given heels.
    assert deep.answer.tangent == slope_report(120.0, 60.0, heel_low=6.0, heel_high=6.0).answer.tangent


def test_the_called_slope_is_told_with_its_miss() -> None:
    report = slope_report(162.5, 162.5 * math.tan(math.radians(28.9)), heel_low=7.0, heel_high=7.0)
    [note] = [f for f in report.findings if f.code == "called-slope"]
    assert note.severity == "note"
    # 162.5 · (7/12 − tan 28.9°) = 5.085 in
    assert 'it is called 7 in 12. Framed at 7 in 12: 5 1/16" above the landing.' in note.text
    metric = slope_report(162.5, 162.5 * math.tan(math.radians(28.9)), units=Units(system="mm"))
    assert "129 mm above" in next(f.text for f in metric.findings if f.code == "called-slope")


@pytest.mark.parametrize(
    ("options", "words"),
    [
        ({"whole": True}, "give --depth"),
        ({"whole": True, "depth": 7.25, "heel_high": 5.0}, "leave out --heel-high"),
        ({"depth": 0.0}, "Rafter depth must be over 0"),
        ({"bracket": 0.0}, "bracket must be a slope over 0"),
        ({"target": -1.0}, "target must be a slope over 0"),
        ({"heel_low": math.nan}, "HAP at the low plate is not a finite number"),
    ],
)
def test_bad_options_are_refused_in_a_sentence(options: dict[str, float], words: str) -> None:
    with pytest.raises(BadInput, match=words):
        slope_report(120.0, 60.0, **options)


def test_a_landing_below_the_plate_has_no_slope() -> None:
    with pytest.raises(NoSolution, match="raise the landing"):
        slope_report(120.0, -5.0)
