"""The standing figures: what they say, that each can tell how, and that they follow plan and selection."""

from __future__ import annotations

import math
from pathlib import Path

import pytest
from PySide6.QtCore import Qt
from PySide6.QtWidgets import QApplication

from workbench.bench.figures_of import findings_words, standing_figures
from workbench.bench.how import HowPopup
from workbench.findings import Finding
from workbench.job import edits
from workbench.job.model import Job, PriceBracket
from workbench.plan import Plan, solve


def _gable(slope_in_12: float, brackets: tuple[PriceBracket, ...] | None = None) -> Plan:
    outline = ((0.0, 0.0), (480.0, 0.0), (480.0, 288.0), (0.0, 288.0))
    job = Job() if brackets is None else Job(brackets=brackets)
    job, _ = edits.add_wing(job, outline, ("eave", "rake", "eave", "rake"), name="Main", slope_in_12=slope_in_12)
    return solve(job)


def _by_name(plan: Plan) -> dict[str, str]:
    return {figure.name: figure.value for figure in standing_figures(plan, plan.roof.planes[0])}


def test_every_figure_of_a_solved_plane_tells_how() -> None:
    plan = _gable(6.62)
    for figure in standing_figures(plan, plan.roof.planes[0]):
        assert figure.traces, figure.name
        for trace in figure.traces:
            assert trace.formula
            assert trace.source


def test_slope_is_framed_as_solved_and_called_by_the_nearest_whole() -> None:
    # Common practice, no source: 28.9 degrees is 6.62 in 12 and is called 7 in 12.
    figures = _by_name(_gable(6.62))
    assert figures["Slope"] == "6.62 in 12, called 7"
    assert figures["Angle"] == "28.9°"
    assert _by_name(_gable(7.0))["Slope"] == "7 in 12"


def test_plane_length_is_the_run_stretched_by_the_slope() -> None:
    # 12 ft of run at 12 in 12 is 12 · √2 = 16.97 ft: plain geometry.
    trace = standing_figures(_gable(12.0), _gable(12.0).roof.planes[0])[3].traces[0]
    assert trace.value == pytest.approx(144.0 * math.sqrt(2.0))


@pytest.mark.parametrize(
    ("slope", "said"),
    [(7.0, "under 8 in 12"), (7.99, "under 8 in 12"), (8.0, "8 to 12 in 12"), (12.0, "from 12 in 12")],
)
def test_bracket_is_judged_on_the_framed_slope(slope: float, said: str) -> None:
    table = tuple(PriceBracket(from_in_12=start) for start in (0.0, 8.0, 12.0))
    assert _by_name(_gable(slope, table))["Price bracket"] == said


def test_no_bracket_is_said_to_be_reached_below_the_first() -> None:
    assert _by_name(_gable(3.0, (PriceBracket(from_in_12=4.0),)))["Price bracket"] == "below 4 in 12"
    assert _by_name(_gable(3.0, ()))["Price bracket"] == "none given"


def test_sheets_say_whether_fewer_are_possible() -> None:
    plan = _gable(6.0)
    said = _by_name(plan)["Sheets"]
    count = plan.sheathing.count
    assert count > 0
    expected = f"{count}, fewest proven" if plan.sheathing.proven else f"{count}, at least {plan.sheathing.at_least}"
    assert said == expected


def test_findings_are_counted_by_severity() -> None:
    finding = {kind: Finding("code", kind, "", "text", "source") for kind in ("error", "warning", "note")}
    assert findings_words(()) == "none"
    assert findings_words([finding["note"]] * 2) == "2 notes"
    assert findings_words([finding["error"], finding["warning"], finding["warning"]]) == "1 error, 2 warnings"


def test_line_follows_the_selected_plane(window, small_house: Path) -> None:
    window.files.open_sample(small_house)
    planes = window.document.plan.roof.planes
    line = window.figures
    assert line.plane.value == planes[0].name
    other = next(plane for plane in planes if abs(plane.tangent - planes[0].tangent) > 1e-3)
    window.selection.select(f"plane:{other.id}")
    assert line.plane.value == other.name
    assert line.figures[0].value.startswith(window.document.plan.units.slope(other.tangent))


def test_line_follows_a_drag_and_its_end(window, small_house: Path) -> None:
    window.files.open_sample(small_house)
    before = window.figures.figures[0].value
    wing = window.document.job.wings[0]
    window.document.preview(edits.set_wing(window.document.job, wing.id, slope_in_12=4.0))
    assert window.figures.figures[0].value == "4 in 12"
    window.document.cancel_preview()
    assert window.figures.figures[0].value == before


def test_how_opens_by_the_keyboard_and_shows_formula_values_and_source(qtbot, window, small_house: Path) -> None:
    window.files.open_sample(small_house)
    figure = window.figures.figures[1]
    figure.setFocus()
    qtbot.keyClick(figure, Qt.Key.Key_Space)
    popup = next(w for w in QApplication.topLevelWidgets() if isinstance(w, HowPopup) and w.isVisible())
    trace = figure.traces[0]
    for part in (trace.formula, trace.values, trace.source):
        assert part in popup.text
    qtbot.keyClick(popup, Qt.Key.Key_Escape)
    qtbot.waitUntil(lambda: not any(isinstance(w, HowPopup) and w.isVisible() for w in QApplication.topLevelWidgets()))


def test_empty_job_has_dashes_and_no_traces() -> None:
    plan = solve(Job())
    figures = standing_figures(plan, None)
    assert {figure.value for figure in figures} == {"–"}
    assert not any(figure.traces for figure in figures)
