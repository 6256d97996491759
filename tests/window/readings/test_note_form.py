"""A whole measurement described: how warm the room was, and a note; its season is told apart."""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest
from PySide6.QtCore import Qt

from hearthload.service import queries
from hearthload.service.edits.measurements import finish_measurement
from hearthload.window.readings.measure import MeasureBar
from hearthload.window.readings.measure_words import Action, choice_words
from hearthload.window.readings.note_form import NoteForm
from hearthload.window.session import Session
from tests.window import hands
from tests.window.filling import House

if TYPE_CHECKING:
    pass


def opened_form(bar: MeasureBar) -> NoteForm:
    bar.begin(Action.DESCRIBE)
    assert isinstance(bar.open_form, NoteForm)
    return bar.open_form


def test_room_and_note_are_saved_and_taken_back(house: House, bar: MeasureBar) -> None:
    stay = house.measured(days=3)
    bar.show_measurement(stay.id)
    form = opened_form(bar)
    assert hands.focused() is form.warmth
    hands.write("16,5")
    hands.fill(form.note, "door shut")
    hands.press(Qt.Key.Key_Return)
    (choice,) = queries.measurements_of(house.session.logbook, stay.appliance_id)
    assert (choice.measurement.room_temperature_c, choice.measurement.note) == (16.5, "door shut")
    assert bar.open_form is None
    assert "at 16 °C" in choice_words(choice) or "at 17 °C" in choice_words(choice)
    house.session.undo()
    (choice,) = queries.measurements_of(house.session.logbook, stay.appliance_id)
    assert choice.measurement.room_temperature_c is None
    form = opened_form(bar)
    assert (form.warmth.text(), form.note.text()) == ("", "")


@pytest.mark.parametrize("typed", ["warm", "99", "-273.2"])
def test_a_temperature_that_cannot_be_is_said_beside_it(house: House, bar: MeasureBar, typed: str) -> None:
    stay = house.measured(days=3)
    bar.show_measurement(stay.id)
    form = opened_form(bar)
    hands.write(typed)
    hands.press(Qt.Key.Key_Return)
    assert bar.open_form is form
    assert form.form.rows["room_temperature_c"].complaints.complaints
    assert form.warmth.text() == typed


def test_escape_leaves_without_saving(house: House, bar: MeasureBar) -> None:
    stay = house.measured(days=3)
    bar.show_measurement(stay.id)
    opened_form(bar)
    hands.write("20")
    hands.press(Qt.Key.Key_Escape)
    assert bar.open_form is None
    (choice,) = queries.measurements_of(house.session.logbook, stay.appliance_id)
    assert choice.measurement.room_temperature_c is None


def test_another_season_is_told_apart(house: House, bar: MeasureBar) -> None:
    stay = house.measured(days=8)
    bar.show_measurement(stay.id)
    estimate = house.row(stay.appliance_id).estimate
    assert estimate is not None
    assert estimate.season is not None
    low, high = estimate.season
    assert low * high == pytest.approx(1.0)
    assert high == pytest.approx(1.342, abs=0.001)  # exp(1.96 · 0.15), a refrigerator
    assert bar.season.text() == ("These weeks only: in another season it may take 0.75 to 1.3 times as much.")


def test_a_reopening_that_is_refused_says_why(house: House, bar: MeasureBar, session: Session) -> None:
    stay = house.measured(days=3)
    house.session.do(finish_measurement, stay.id, house.clock())
    house.started(house.appliance("Well pump"), stay.meter_id)
    bar.show_measurement(stay.id)
    said: list[str] = []
    session.troubled.connect(lambda error: said.append(str(error)))
    hands.click(bar.buttons[Action.REOPEN])
    assert len(said) == 1
    assert "Well pump" in said[0]
