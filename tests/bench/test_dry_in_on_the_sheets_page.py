"""Drying in on the sheets page: steps in order, the picture of the step in hand, choices that end in the job."""

from __future__ import annotations

import pytest

from workbench.drawing.primitives import Text
from workbench.job.samples import sample_jobs


@pytest.fixture
def part(make_window):
    window = make_window()
    window.files.open_sample(next(sample.path for sample in sample_jobs() if sample.name == "plain-gable"))
    window.show_stage("sheets")
    return window.pages["sheets"].dry_in


def write(field, text: str) -> None:
    field.edit.setText(text)
    field.edit.setModified(True)
    field.commit()


def drying(part):
    return part.document.job.drying_in


def numbers(part) -> set[str]:
    return {item.text for item in part.picture.drawing.items if isinstance(item, Text) and item.role == "title"}


def test_steps_are_listed_in_the_order_of_work_and_drawn_one_by_one(part):
    titles = [row.texts[1].split("\n")[0] for row in part.steps.rows]
    assert titles[0] == "Edge metal at the eaves"
    assert titles[-1] == "Edge metal at the rakes"
    assert numbers(part) == {"1"}
    part.steps.select_key("dry:3")
    part.steps.chosen.emit("dry:3")
    assert numbers(part) == {"3"}


def on_the_roof(part) -> set[str]:
    keys = part.window().surface._items.drawing_keys
    return {key for key in keys if key.startswith("dry:") and "/" not in key}


def test_steps_are_laid_over_the_roof_drawing_in_the_order_of_work(part):
    window = part.window()
    assert on_the_roof(part) == set()
    part.over.set_value("every")
    part.over.committed.emit("every")
    every = {row.key for row in part.steps.rows}
    assert on_the_roof(part) == every
    assert {"dry:1/number", "dry:3/number"} <= window.surface._items.drawing_keys
    part.over.set_value("so_far")
    part.steps.select_key("dry:3")
    part.steps.chosen.emit("dry:3")
    assert on_the_roof(part) == {"dry:1", "dry:2", "dry:3"} & every
    part.over.set_value("step")
    part.over.committed.emit("step")
    assert on_the_roof(part) == {"dry:3"}
    window.show_stage("frame")
    assert on_the_roof(part) == set()
    window.show_stage("sheets")
    assert on_the_roof(part) == {"dry:3"}
    part.over.set_value("none")
    part.over.committed.emit("none")
    assert on_the_roof(part) == set()


def test_tape_is_told_by_the_kind_of_seam_with_laps_and_what_is_left(part):
    rows = {row.texts[0]: row for row in part.tape.rows}
    assert rows["Seam tape"].heading
    assert rows["up-slope joints"].texts[1] == str(len(part.document.plan.drying_in.step("upslope_tape").runs))
    assert "left over" in part.tape_said.text()
    part.choices.field("tight").committed.emit("underlayment")
    assert not part.tape.isVisibleTo(part)


def test_tape_or_underlayment(part):
    roll, tape = part.choices.field("roll_in"), part.tapes[0]
    assert tape.isVisibleTo(part)
    assert not part.choices.form.isRowVisible(roll)
    part.choices.field("tight").committed.emit("underlayment")
    assert drying(part).tight == "underlayment"
    assert not tape.isVisibleTo(part)
    assert part.choices.form.isRowVisible(roll)
    assert "Underlayment" in [row.texts[1].split("\n")[0] for row in part.steps.rows]


def test_laps_and_rolls(part):
    write(part.tapes[0].field("roll_in"), "50'")
    write(part.tapes[1].field("width_in"), "9")
    write(part.choices.field("metal_lap_in"), "3")
    assert drying(part).seam_tape.roll_in == 600.0
    assert drying(part).wide_tape.width_in == 9.0
    assert drying(part).metal_lap_in == 3.0
    write(part.choices.field("metal_lap_in"), "9'")
    assert "smaller lap" in part.choices.field("metal_lap_in").error
    part.document.stack.undo()
    assert drying(part).metal_lap_in == 2.0


def test_an_ice_barrier_is_laid_and_taken_away(part):
    inside = part.ice.field("inside_in")
    assert not part.ice.form.isRowVisible(inside)
    assert "No ice barrier" in part.air_said.text()
    part.ice.laid.committed.emit(True)
    assert part.ice.form.isRowVisible(inside)
    write(inside, "30")
    part.ice.field("edition").committed.emit("2024")
    assert (drying(part).ice.inside_in, drying(part).ice.edition) == (30.0, "2024")
    assert part.how.isEnabled()
    part.ice.laid.committed.emit(False)
    assert drying(part).ice is None


def test_air(part):
    share = part.air.field("upper_share")
    assert not part.air.form.isRowVisible(share)
    part.air.field("air").committed.emit("vented")
    assert part.air.form.isRowVisible(share)
    assert "sq in" in part.air_said.text()
    write(part.air.field("ridge_vent_sqin_ft"), "18")
    assert drying(part).ridge_vent_sqin_ft == 18.0
    write(part.air.field("ridge_vent_sqin_ft"), "")
    assert drying(part).ridge_vent_sqin_ft is None
    part.air.field("vent_share").committed.emit(300)
    assert part.air.form.isRowVisible(part.air.field("vapor_retarder"))
    part.air.wing.committed.emit(False)
    assert drying(part).not_vented == ("main",)
    part.air.wing.committed.emit(True)
    assert drying(part).not_vented == ()
