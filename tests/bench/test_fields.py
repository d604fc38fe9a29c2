"""Fields: what is typed is read, what can't be read is kept and told, what is not touched is never changed."""

from __future__ import annotations

import math

import pytest
from PySide6.QtCore import Qt
from PySide6.QtWidgets import QVBoxLayout, QWidget

from workbench.bench.fields import ChoiceField, LengthField, NumberField, SlopeField, TextField
from workbench.measure import Units


@pytest.fixture
def place(qtbot):
    """A shown window that fields can be put into, so that focus moves as it does for a user."""
    place = QWidget()
    QVBoxLayout(place)
    qtbot.addWidget(place)
    place.show()
    with qtbot.waitActive(place):
        place.activateWindow()
    return place


def _put(place: QWidget, field: QWidget) -> None:
    place.layout().addWidget(field)
    field.show()
    field.setFocus()


def _type(qtbot, edit, text: str) -> None:
    edit.selectAll()
    qtbot.keyClicks(edit, text)


def test_length_is_read_on_enter_and_told_once(qtbot, place) -> None:
    field = LengthField(Units(), 97.125, "Plate height")
    _put(place, field)
    told: list[float] = []
    field.committed.connect(told.append)
    _type(qtbot, field.edit, "8' 1 1/4\"")
    qtbot.keyClick(field.edit, Qt.Key.Key_Return)
    field.edit.clearFocus()
    assert told == [97.25]
    assert field.edit.text() == "8' 1 1/4\""


def test_leaving_an_untouched_field_never_rounds_its_value(qtbot, place) -> None:
    slope = 6.6180339887 / 12
    field = SlopeField(Units(), slope, "Slope")
    _put(place, field)
    told: list[float] = []
    field.committed.connect(told.append)
    qtbot.keyClick(field.edit, Qt.Key.Key_Return)
    _type(qtbot, field.edit, "6.62 in 12")  # the very text that was shown
    qtbot.keyClick(field.edit, Qt.Key.Key_Return)
    field.edit.clearFocus()
    assert told == []
    assert field.value == slope


def test_what_cannot_be_read_is_kept_and_told_beside_the_field(qtbot, place) -> None:
    field = LengthField(Units(), 12.0, "Overhang")
    _put(place, field)
    told: list[float] = []
    field.committed.connect(told.append)
    _type(qtbot, field.edit, "12 parsecs")
    qtbot.keyClick(field.edit, Qt.Key.Key_Return)
    assert told == []
    assert field.edit.text() == "12 parsecs"
    assert 'Overhang "12 parsecs"' in field.error
    assert field.edit.accessibleDescription()
    qtbot.keyClick(field.edit, Qt.Key.Key_Escape)
    assert (field.edit.text(), field.error, field.value) == ("1' 0\"", "", 12.0)


def test_new_value_from_outside_does_not_wipe_what_is_being_typed(qtbot, place) -> None:
    field = LengthField(Units(), 12.0, "Run")
    _put(place, field)
    _type(qtbot, field.edit, "14'")
    field.set_value(12.0)
    assert field.edit.text() == "14'"
    field.set_value(13.0)
    assert field.edit.text() == "1' 1\""


@pytest.mark.parametrize(
    ("typed", "in_12"),
    [("7", 7.0), ("6 5/8", 6.625), ("7/12", 7.0), ("7 in 12", 7.0), ("28.9deg", 12 * math.tan(math.radians(28.9)))],
)
def test_slope_reads_the_ways_people_write_it(qtbot, place, typed: str, in_12: float) -> None:
    field = SlopeField(Units(), 5 / 12, "Slope")
    _put(place, field)
    _type(qtbot, field.edit, typed)
    qtbot.keyClick(field.edit, Qt.Key.Key_Return)
    assert field.value == pytest.approx(in_12 / 12)


def test_bare_number_is_millimetres_where_the_job_shows_millimetres(qtbot, place) -> None:
    field = LengthField(Units("mm"), 25.4, "Overhang")
    _put(place, field)
    assert field.edit.text() == "645 mm"
    _type(qtbot, field.edit, "254")
    qtbot.keyClick(field.edit, Qt.Key.Key_Return)
    assert field.value == pytest.approx(10.0)


def test_number_has_a_least_value(qtbot, place) -> None:
    field = NumberField(310.0, "Price", least=0.0, unit="a square")
    _put(place, field)
    _type(qtbot, field.edit, "-1")
    qtbot.keyClick(field.edit, Qt.Key.Key_Return)
    assert "give at least 0" in field.error
    assert field.value == 310.0


def test_choice_tells_only_another_choice_and_ignores_the_wheel(qtbot, place) -> None:
    field = ChoiceField((("eave", "eave"), ("rake", "rake")), "eave", "Kind")
    _put(place, field)
    told: list[object] = []
    field.committed.connect(told.append)
    field.combo.activated.emit(0)
    qtbot.keyClick(field.combo, Qt.Key.Key_Down)
    assert told == ["rake"]
    assert field.value == "rake"


def test_text_is_told_when_it_changed(qtbot, place) -> None:
    field = TextField("Old", "Name")
    _put(place, field)
    told: list[str] = []
    field.committed.connect(told.append)
    _type(qtbot, field.edit, "New")
    qtbot.keyClick(field.edit, Qt.Key.Key_Return)
    qtbot.keyClick(field.edit, Qt.Key.Key_Return)
    assert told == ["New"]


def test_label_and_sentence_reach_a_screen_reader(qtbot, place) -> None:
    field = LengthField(Units(), 12.0, "Seat")
    _put(place, field)
    assert field.edit.accessibleName() == "Seat"
    field.show_error("Too long.")
    assert field.edit.accessibleDescription() == "Too long."


def test_a_value_the_job_refuses_stays_as_typed_and_esc_brings_the_one_before_back(qtbot) -> None:
    field = LengthField(Units(), 24.0, "Spacing")
    qtbot.addWidget(field)
    field.committed.connect(lambda x: field.show_error("Too much of it.") if x > 100.0 else None)
    field.show()
    field.edit.setFocus()
    field.edit.selectAll()
    qtbot.keyClicks(field.edit, "200'")
    qtbot.keyClick(field.edit, Qt.Key.Key_Return)
    assert field.edit.text() == "200'"
    assert "Too much of it." in field.error
    assert field.value == 24.0
    qtbot.keyClick(field.edit, Qt.Key.Key_Escape)
    assert field.edit.text() == "2' 0\""
    assert field.error == ""
    field.edit.selectAll()
    qtbot.keyClicks(field.edit, "3'")
    qtbot.keyClick(field.edit, Qt.Key.Key_Return)
    assert (field.value, field.error) == (36.0, "")


def test_a_choice_the_job_refuses_goes_back(qtbot) -> None:
    field = ChoiceField((("a", "one"), ("b", "other")), "a", "Which")
    qtbot.addWidget(field)
    field.committed.connect(lambda value: field.show_error("Not that one."))
    field.combo.activated.emit(1)
    assert field.value == "a"
    assert field.combo.currentIndex() == 0
    assert "Not that one." in field.error
