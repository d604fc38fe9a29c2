"""The day on site on the Frame page: tables, fields, readings typed in and taken over."""

from __future__ import annotations

import math

import pytest

from workbench.bench.document import Document
from workbench.bench.selection import Selection
from workbench.bench.stages.site import SitePart
from workbench.bench.stages.site.as_built import readings_of
from workbench.job.as_built_edits import measure_corner, measure_plate, set_gable_walls, tape
from workbench.job.edits import add_wing, set_wing
from workbench.job.model import Job
from workbench.plan import solve
from workbench.site.covering import COVERING_WORDS

PLATE = 97.125
BOX = ((0, 0), (480, 0), (480, 336), (0, 336))
GABLE = ("eave", "rake", "eave", "rake")


def _job(kinds=GABLE) -> Job:
    return add_wing(Job(), BOX, kinds, name="main", slope_in_12=6.0, plate_in=PLATE, eave_overhang_in=16.0)[0]


@pytest.fixture
def shown(qtbot):
    def show(job: Job) -> tuple[SitePart, Document, Selection]:
        document, selection = Document(), Selection()
        document.new(job)
        part = SitePart(document, selection)
        qtbot.addWidget(part)
        document.shown.connect(lambda *_: part.refresh())
        selection.changed.connect(lambda *_: part.refresh())
        part.resize(380, 1600)
        part.show()
        part.refresh()
        return part, document, selection

    return show


def _type(field, text: str) -> None:
    field.edit.setFocus()
    field.edit.setText(text)
    field.edit.setModified(True)
    field.commit()


def test_tables_say_what_was_solved(shown) -> None:
    part, document, _ = shown(_job(("eave",) * 4))
    site, units = document.plan.site, document.plan.units
    texts = [cells.texts for cells in part.heights.rows]
    assert texts[0][:2] == ("Ridge 1", units.length(site.heights[0].above_plate_in))
    assert any(text[0] == "Hip 1 × 4" for text in texts)
    stick = site.sticks[0]
    assert [cells.texts[0] for cells in part.stick.rows] == [units.tape(mark.line_in) for mark in stick.marks]
    assert part.tail.rows[0].texts[2] == units.inches(16.0)
    assert part.jacks.rows[0].texts[0] == "Hip 1 × 4"
    assert {cells.texts[0] for cells in part.covering.rows} == {COVERING_WORDS[one.kind] for one in site.coverings}
    for how in (part.heights_how, part.stick_how, part.tail_how, part.covering_how):
        assert how.isEnabled()
    assert [cells.texts[0] for cells in part.jacks.rows[1:]] == [units.tape(s) for s, _ in site.jacks[0].marks]


def test_the_stick_of_the_selected_plane_is_shown(shown) -> None:
    part, document, selection = shown(_job(("eave",) * 4))
    selection.select("plane:wing-1/e2")
    assert "right main" in part._sticks[part._stick].name
    assert document.plan.site.sticks[part._stick].planes[0] == "wing-1/e2"


def test_a_stick_can_be_chosen(shown) -> None:
    part, document, _ = shown(_job())
    last = len(document.plan.site.sticks) - 1
    part.which.combo.setCurrentIndex(last)
    part.which.combo.activated.emit(last)
    assert len(part.stick.rows) == len(document.plan.site.sticks[last].marks)
    assert "ridge board" in part.begins.text()


def test_a_deck_for_the_props_and_back_to_the_plates(shown) -> None:
    part, document, _ = shown(_job())
    before = document.plan.site.heights[0].props[0].length_in
    _type(part.site.deck, "1 1/2")
    assert document.job.site.deck_in == 1.5
    assert document.plan.site.heights[0].props[0].length_in == pytest.approx(before + PLATE - 1.5)
    _type(part.site.deck, "")
    assert document.job.site.deck_in is None
    part.site.begin.combo.activated.emit(1)
    assert document.job.site.stick_from == "right"


@pytest.fixture
def quick(monkeypatch) -> None:
    """The quickest plan will do where boards are not looked at: studs of many lengths are long to cut from fewest."""
    monkeypatch.setattr("workbench.bench.document.solve", lambda job, *_, **__: solve(job, "preview"))


def test_gable_walls_come_with_their_fields_and_go(shown, quick) -> None:
    part, document, selection = shown(_job())
    selection.select("plane:wing-1/e1")
    assert not part.gable.form.isRowVisible(part.gable.spacing)
    part.gable.fitted.combo.activated.emit(1)
    assert document.job.wings[0].gable_walls is not None
    assert part.gable.form.isRowVisible(part.gable.spacing)
    assert any(member.kind == "gable_stud" for member in document.plan.framing.members)
    _type(part.gable.plates, "2")
    assert document.job.wings[0].gable_walls.plates == 2
    _type(part.gable.vent_width, "24")
    assert part.gable.form.isRowVisible(part.gable.vent_height)
    part.gable.fitted.combo.activated.emit(0)
    assert document.job.wings[0].gable_walls is None


def test_every_field_of_gable_walls_and_site_can_be_changed(shown, quick) -> None:
    part, document, selection = shown(set_gable_walls(_job(), "wing-1", vent_width_in=20.0))
    selection.select("plane:wing-1/e1")
    for field, name in part.gable._bound:
        before = getattr(document.job.wings[0].gable_walls, name)
        if hasattr(field, "combo"):
            field.combo.activated.emit(1 - field.combo.currentIndex())
        else:
            _type(field, "2" if name == "plates" else "12")
        assert getattr(document.job.wings[0].gable_walls, name) != before, name


def test_a_corner_read_on_site_shows_its_seats(shown) -> None:
    part, document, selection = shown(_job())
    selection.select("plane:wing-1/e1")
    assert not part.seats.isVisibleTo(part)
    assert part.as_built.fields[0].edit.placeholderText().startswith(document.plan.units.length(PLATE))
    _type(part.as_built.fields[0], "97 3/8")
    assert document.job.site.as_built.plate("wing-1/e1").left_in == 97.375
    assert part.seats.isVisibleTo(part)
    seats = document.plan.site.plates[0].seats
    assert [cells.texts[3] for cells in part.seats.rows] == [document.plan.units.inches(s.seat_in) for s in seats]
    _type(part.as_built.fields[0], "")
    assert document.job.site.as_built.plates == ()
    assert not part.seats.isVisibleTo(part)


@pytest.mark.parametrize(("typed", "height"), [("+1/4", 97.375), ("-3/8", 96.75), ("− 3/8", 96.75), ("97", 97.0)])
def test_a_reading_can_be_typed_as_the_difference(shown, typed: str, height: float) -> None:
    part, document, selection = shown(_job())
    selection.select("plane:wing-1/e1")
    _type(part.as_built.fields[0], typed)
    assert document.job.site.as_built.plate("wing-1/e1").left_in == height


def test_the_highest_reading_is_taken_over(shown) -> None:
    job = measure_corner(measure_corner(_job(("eave",) * 4), "wing-1", 0, 97.5), "wing-1", 2, 97.0)
    part, document, selection = shown(job)
    selection.select("plane:wing-1/e1")
    part.as_built.highest.click()
    wing = document.job.wings[0]
    heights = {edge.id: wing.plate_in if edge.plate_in is None else edge.plate_in for edge in wing.edges}
    assert heights == {"e1": 97.5, "e2": 97.0, "e3": 97.0, "e4": 97.5}


def test_diagonals_move_the_corners_and_can_be_taken_over(shown) -> None:
    part, document, selection = shown(_job())
    selection.select("plane:wing-1/e1")
    whole = math.hypot(480.0, 336.0)
    fields = {field.label: field for field in part.as_built.fields}
    assert not part.as_built.square.isVisibleTo(part)
    _type(fields["Corner 1 to corner 3"], f"{whole + 0.5}")
    _type(fields["Corner 2 to corner 4"], f"{whole - 0.5}")
    assert part.shifts.isVisibleTo(part)
    assert len(part.shifts.rows) == 4
    part.as_built.square.click()
    assert [one.drawn_in for one in document.plan.site.squarings[0].lengths] == pytest.approx(
        [whole + 0.5, whole - 0.5]
    )
    part.as_built.clear.click()
    assert document.job.site.as_built.tapes == ()


def test_plane_lengths_are_taken(shown) -> None:
    part, document, selection = shown(_job())
    selection.select("plane:wing-1/e1")
    field = next(field for field in part.as_built.fields if field.label == "Up the slope, right end of front main")
    _type(field, "200")
    assert document.job.site.as_built.plane("wing-1/e1").right_in == 200.0


def test_a_reading_that_can_not_be_is_told_at_its_field(shown) -> None:
    part, document, selection = shown(_job())
    selection.select("plane:wing-1/e1")
    field = part.as_built.fields[0]
    _type(field, "2000'")
    assert field.error
    assert document.job.site.as_built.plates == ()


def test_readings_of_a_hip_house_are_one_a_corner(shown) -> None:
    _, document, _ = shown(_job(("eave",) * 4))
    labels = [reading.label for reading in readings_of(document.plan, document.job.wings[0])]
    assert sum(label.startswith("Plate at corner") for label in labels) == 4
    assert labels.count("Corner 1 to corner 2") == labels.count("Corner 1 to corner 4") == 1
    assert sum(label.startswith("Corner") for label in labels) == 6


def test_a_corner_read_for_one_eave_shows_at_the_corner(shown) -> None:
    job = measure_plate(_job(("eave",) * 4), "wing-1", "e1", right_in=97.5)
    part, _, selection = shown(job)
    selection.select("plane:wing-1/e1")
    field = next(field for field in part.as_built.fields if field.label.startswith("Plate at corner 2"))
    assert field.value == 97.5


def test_walls_are_asked_for_once_a_diagonal_was_taped(shown) -> None:
    part, document, selection = shown(_job())
    selection.select("plane:wing-1/e1")
    wall = next(field for field in part.as_built.fields if field.label == "Corner 1 to corner 2")
    assert not part.as_built.form.isRowVisible(wall)
    document.apply(tape(document.job, "wing-1", "e1", "e3", 586.25), "tape a diagonal")
    assert part.as_built.form.isRowVisible(wall)
    _type(wall, "480 1/4")
    assert len(document.job.site.as_built.tapes) == 2


def test_a_line_taped_across_goes_when_it_is_emptied(shown) -> None:
    """Of six corners any line may have been taped; its field goes with it, in the middle of its own commit."""
    shape = ((0, 0), (480, 0), (480, 200), (240, 200), (240, 336), (0, 336))
    job = add_wing(Job(), shape, ("eave",) * 6)[0]
    part, document, selection = shown(tape(job, "wing-1", "e2", "e5", 411.0))
    selection.select("plane:wing-1/e1")
    field = next(field for field in part.as_built.fields if field.label == "Corner 2 to corner 5")
    _type(field, "")
    assert document.job.site.as_built.tapes == ()
    assert all(field.label != "Corner 2 to corner 5" for field in part.as_built.fields)


def test_nothing_drawn_is_no_fault(shown) -> None:
    part, _, _ = shown(Job())
    assert part.heights.rows == ()
    assert not part.gable.isVisibleTo(part)


def test_tables_wait_while_something_is_dragged(shown) -> None:
    part, document, _ = shown(_job())
    before = part.heights.rows
    document.reach = "frame"
    document.preview(set_wing(document.job, "wing-1", slope_in_12=9.0))
    assert not part.heights.isEnabled()
    assert part.heights.rows == before
    document.apply(set_wing(document.job, "wing-1", slope_in_12=9.0), "slope")
    assert part.heights.isEnabled()
    assert part.heights.rows != before
