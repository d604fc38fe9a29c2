"""The screening on the frame page: what is typed there ends in the job, checks say their share in words."""

from __future__ import annotations

import pytest
from PySide6.QtWidgets import QLineEdit

from workbench.bench.stages.screening.rows import check_key
from workbench.drawing.headroom_plan import headroom_marks
from workbench.job.samples import sample_jobs


@pytest.fixture
def part(make_window):
    window = make_window()
    window.files.open_sample(next(sample.path for sample in sample_jobs() if sample.name == "plain-gable"))
    window.show_stage("frame")
    return window.pages["frame"].screening


def write(field, text: str) -> None:
    edit = field.edit
    assert isinstance(edit, QLineEdit)
    edit.setText(text)
    edit.setModified(True)
    field.commit()


def job(part):
    return part.document.job


def test_checks_are_sentences(part):
    rows = ["\n".join(row.texts) for row in part.checks.rows]
    assert any("% of what is allowed is used" in row for row in rows)
    assert any("not settled" in row for row in rows)
    assert "assumed" in part.loads_said.text()
    assert "never design" in part.caution.text()


def test_loads_are_given_and_taken_away(part):
    write(part.loads.field("live_psf"), "20")
    write(part.loads.field("dead_psf"), "12")
    assert (job(part).screening.live_psf, job(part).screening.dead_psf) == (20.0, 12.0)
    write(part.loads.field("live_psf"), "")
    assert job(part).screening.live_psf is None
    part.document.stack.undo()
    assert job(part).screening.live_psf == 20.0


def test_a_load_of_nothing_is_refused_at_its_field(part):
    write(part.loads.field("live_psf"), "0")
    assert "take it away" in part.loads.field("live_psf").error
    assert job(part).screening.live_psf is None


def test_snow_shows_its_factors_only_where_there_is_some(part):
    assert not part.snow.form.isRowVisible(part.snow.field("ct"))
    write(part.snow.ground, "30")
    assert job(part).screening.snow.ground_psf == 30.0
    assert part.snow.form.isRowVisible(part.snow.field("ct"))
    part.snow.field("edition").committed.emit("7-22")
    assert job(part).screening.snow.edition == "7-22"
    assert not part.snow.form.isRowVisible(part.snow.field("importance"))
    write(part.snow.field("ct"), "1.2")
    assert job(part).screening.snow.ct == 1.2
    write(part.snow.ground, "")
    assert job(part).screening.snow is None


def test_limits_of_the_wing_in_hand(part):
    part.wing.field("tied_by").committed.emit("ridge_beam")
    assert job(part).screening.tied_of("main") == "ridge_beam"
    write(part.wing.field("deflection"), "360")
    assert job(part).screening.deflection_of("main") == 360.0
    write(part.wing.field("deflection"), "")
    part.wing.field("tied_by").committed.emit(None)
    write(part.wing.supports, "6' 6\"; 11'")
    assert job(part).screening.of_wing("main").supports_in == (78.0, 132.0)
    write(part.wing.supports, "")
    assert job(part).screening.wings == ()


def test_a_check_in_hand_is_shown_on_the_drawing_with_its_how(part):
    check = next(check for check in part.document.plan.screening.checks if check.kind == "rafter_span")
    part.checks.chosen.emit(check_key(check))
    part.checks.select_key(check_key(check))
    assert part.selection.key == f"member:{check.object}"
    part.refresh(None)
    assert part.how.isEnabled()
    assert "NDS" in part.source.text()


def test_every_check_is_listed_when_wanted(part):
    few = len(part.checks.rows)
    part.every.setChecked(True)
    assert len(part.checks.rows) >= few
    shown = {row.key for row in part.checks.rows if row.key}
    assert shown == {check_key(check) for check in part.document.plan.screening.checks}


def test_headroom_points_are_added_changed_and_removed(part):
    part.headroom.add.click()
    assert len(job(part).screening.headroom) == 1
    points = part.headroom.points
    write(points.name, "stair")
    write(points.field("floor_in"), "8'")
    write(points.field("least_in"), "6' 8\"")
    point = job(part).screening.headroom[0]
    assert (point.name, point.floor_in, point.least_in) == ("stair", 96.0, 80.0)
    assert part.headroom.table.rows[0].texts[0] == "stair"
    part.headroom.remove.click()
    assert job(part).screening.headroom == ()


def test_a_point_is_drawn_where_it_is_and_taken_into_the_hand_from_there(part):
    part.headroom.add.click()
    part.headroom.add.click()
    drawn = {item.key for item in headroom_marks(part.document.plan).items}
    assert drawn == {"headroom:H-1", "headroom:H-2"}
    part.selection.select("headroom:H-1")
    part.refresh(part.headroom.plane)
    assert part.headroom.in_hand == "H-1"


def test_hardware_is_added_counted_and_removed(part):
    part.connectors.add.click()
    form = part.connectors.fields
    write(form.name, "tie-down, sheet S2")
    write(form.each, "2")
    rafters = sum(m.count for m in part.document.plan.framing.members if m.kind == "common_rafter")
    assert part.connectors.table.rows[0].texts == ("tie-down, sheet S2", "rafters over plates", str(2 * rafters))
    form.place.committed.emit("given")
    write(form.count, "12")
    assert job(part).screening.connectors[0].count == 12
    write(form.name, "")
    assert job(part).screening.connectors[0].name == "tie-down, sheet S2"
    part.connectors.remove.click()
    assert job(part).screening.connectors == ()
