"""The inline forms of the measurement bar: what they ask, what they do, what they refuse beside its field."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import timedelta
from typing import TYPE_CHECKING

import pytest
from PySide6.QtCore import Qt
from PySide6.QtWidgets import QComboBox, QLabel, QLineEdit, QVBoxLayout, QWidget

from hearthload.domain.measurement import MeasurementState, RunCause
from hearthload.service import queries
from hearthload.service.answers import ReadingRow
from hearthload.service.edits.measurements import finish_measurement
from hearthload.window.readings.measure import MeasureBar
from hearthload.window.readings.measure_forms import FORM_WORDS, NONE_FREE, ActionForm
from hearthload.window.readings.measure_words import Action
from hearthload.window.session import Session
from tests.window import hands
from tests.window.filling import House
from tests.window.hands import clear_away, focused, show

if TYPE_CHECKING:
    from pytestqt.qtbot import QtBot

ENTER, ESCAPE, DOWN = Qt.Key.Key_Return, Qt.Key.Key_Escape, Qt.Key.Key_Down
PLANNED, RUNNING, FINISHED = MeasurementState.PLANNED, MeasurementState.RUNNING, MeasurementState.FINISHED


@pytest.fixture
def bar(session: Session, qtbot: QtBot) -> Iterator[MeasureBar]:
    page = QWidget()
    column = QVBoxLayout(page)
    made = MeasureBar(session, page)
    column.addWidget(made)
    column.addStretch(1)
    show(qtbot, page)
    yield made
    clear_away()


def opened(bar: MeasureBar, appliance_id: int, action: Action) -> ActionForm:
    """Show an appliance and open the form of an action by its button."""
    bar.show_appliance(appliance_id)
    hands.click(bar.buttons[action])
    form = bar.open_form
    assert isinstance(form, ActionForm)
    assert form.isVisible()
    assert not any(button.isVisible() for button in bar.buttons.values())
    return form


def line(form: ActionForm, name: str) -> QLineEdit:
    editor = form.form.rows[name].editor
    assert isinstance(editor, QLineEdit)
    return editor


def choose_next(choice: QComboBox | None) -> None:
    assert choice is not None
    choice.setFocus()
    hands.press(DOWN)


def said(form: ActionForm, name: str) -> str:
    lines = form.form.rows[name].complaints
    return lines.text if lines.isVisible() else ""


def newest(house: House, measurement_id: int) -> ReadingRow:
    return queries.reading_rows(house.session.logbook, measurement_id)[0]


def running_of(house: House, appliance_id: int) -> int:
    row = house.row(appliance_id)
    assert row.measurement is not None
    assert row.state is RUNNING
    return row.measurement.id


# --- start ---


def test_start_from_zero(house: House, bar: MeasureBar, qtbot: QtBot) -> None:
    appliance_id, meter_id = house.appliance(), house.meter()
    form = opened(bar, appliance_id, Action.START)
    assert focused() is form.meter
    assert not line(form, "energy_kwh").isVisible()
    with qtbot.waitSignal(bar.measurement_wanted) as told:
        hands.click(form.accept_button)
    started = running_of(house, appliance_id)
    assert told.args == [started]
    first = newest(house, started)
    assert (first.reading.energy_kwh, first.reading.elapsed_h, first.run.exact_start) == (0.0, 0.0, True)
    assert (first.run.meter_id, first.reading.taken_at) == (meter_id, house.clock())
    assert bar.open_form is None
    assert bar.standing.text() == "Running since today 07:30, on Grey meter  ·  1 reading"


def test_start_with_what_the_display_shows(house: House, bar: MeasureBar) -> None:
    appliance_id = house.appliance()
    house.meter("Amber meter")
    grey = house.meter("Grey meter")
    form = opened(bar, appliance_id, Action.START)
    choose_next(form.meter)
    choose_next(form.display)
    hands.fill(line(form, "energy_kwh"), "12,5")
    hands.fill(line(form, "elapsed_h"), "3:30")
    hands.fill(line(form, "taken_at"), "yesterday 7:00")
    assert form.form.rows["taken_at"].beside.text() == "Mon 23 Nov, 07:00"
    hands.press(ENTER)
    first = newest(house, running_of(house, appliance_id))
    assert (first.reading.energy_kwh, first.reading.elapsed_h, first.run.exact_start) == (12.5, 3.5, False)
    assert (first.run.meter_id, first.reading.taken_at) == (
        grey,
        house.clock() - timedelta(days=1, minutes=30),
    )


def test_a_planned_measurement_is_the_one_that_starts(house: House, bar: MeasureBar) -> None:
    appliance_id = house.appliance()
    planned = house.planned(appliance_id, house.meter())
    form = opened(bar, appliance_id, Action.START)
    hands.press(ENTER)
    assert running_of(house, appliance_id) == planned
    assert house.states(appliance_id) == [RUNNING]
    assert not form.isVisible()


def test_a_counter_that_shows_values_must_be_typed(house: House, bar: MeasureBar) -> None:
    appliance_id = house.appliance()
    house.meter()
    form = opened(bar, appliance_id, Action.START)
    choose_next(form.display)
    hands.click(form.accept_button)
    assert said(form, "energy_kwh") == "Type the kWh that the display shows."
    assert focused() is line(form, "energy_kwh")
    hands.write("1.2.3")
    hands.press(ENTER)
    assert "more than one decimal mark" in said(form, "energy_kwh")
    assert line(form, "energy_kwh").text() == "1.2.3"
    assert house.states(appliance_id) == []


def test_no_meter_is_free(house: House, bar: MeasureBar) -> None:
    house.measured("Deep chest")
    appliance_id = house.appliance()
    form = opened(bar, appliance_id, Action.START)
    assert form.meter is not None
    assert form.meter.currentText() == "no meter is free"
    assert form.form.rows["meter_id"].hint.text() == NONE_FREE
    assert form.form.rows["meter_id"].hint.isVisible()
    assert not form.accept_button.isEnabled()
    hands.press(ENTER)
    assert said(form, "meter_id") == "It needs a free meter."
    assert house.states(appliance_id) == []


def test_a_meter_that_is_too_weak_is_refused_at_its_field(house: House, bar: MeasureBar) -> None:
    appliance_id = house.appliance("Kettle", nameplate_w=2200.0)
    house.meter("Small meter", current_a=2.5)
    form = opened(bar, appliance_id, Action.START)
    hands.click(form.accept_button)
    assert "too much" in said(form, "meter_id")
    assert form.isVisible()
    assert house.states(appliance_id) == []
    house.meter("Strong meter", current_a=16.0)
    hands.press(ESCAPE)
    form = opened(bar, appliance_id, Action.START)
    choose_next(form.meter)
    hands.press(ENTER)
    assert house.states(appliance_id) == [RUNNING]


def test_a_start_in_the_future_is_refused_at_the_time(house: House, bar: MeasureBar) -> None:
    appliance_id = house.appliance()
    house.meter()
    form = opened(bar, appliance_id, Action.START)
    hands.fill(line(form, "taken_at"), "23:00")
    hands.press(ENTER)
    assert "in the future" in said(form, "taken_at")
    assert focused() is line(form, "taken_at")
    assert house.states(appliance_id) == []


# --- plan ---


@pytest.mark.parametrize("decided", [True, False])
def test_plan_with_a_meter_or_without(house: House, bar: MeasureBar, decided: bool) -> None:
    appliance_id, meter_id = house.appliance(), house.meter()
    form = opened(bar, appliance_id, Action.PLAN)
    assert set(form.form.rows) == {"meter_id"}
    if not decided:
        choose_next(form.meter)
    hands.click(form.accept_button)
    assert house.states(appliance_id) == [PLANNED]
    planned = house.row(appliance_id).measurement
    assert planned is not None
    assert planned.meter_id == (meter_id if decided else None)
    words = "Planned on Grey meter" if decided else "Planned, meter not yet chosen"
    assert bar.standing.text() == words


# --- finish ---


def test_finish_says_why_not_yet_and_does_it_all_the_same(house: House, bar: MeasureBar) -> None:
    stay = house.measured(days=2)
    bar.show_appliance(stay.appliance_id)
    why = bar.enough.text()
    assert why.startswith("Not yet well measured")
    form = opened(bar, stay.appliance_id, Action.FINISH)
    assert why in [label.text() for label in form.findChildren(QLabel)]
    assert not bar.enough.isVisible()
    hands.fill(line(form, "taken_at"), "7:00")
    hands.click(form.accept_button)
    assert house.states(stay.appliance_id) == [FINISHED]
    finished = house.row(stay.appliance_id).measurement
    assert finished is not None
    assert finished.finished_at == house.clock() - timedelta(minutes=30)


def test_finish_before_the_last_reading_is_refused_at_the_time(house: House, bar: MeasureBar) -> None:
    stay = house.measured(days=2)
    form = opened(bar, stay.appliance_id, Action.FINISH)
    hands.fill(line(form, "taken_at"), "yesterday 6:00")
    hands.press(ENTER)
    assert "it was not finished before that" in said(form, "taken_at")
    assert line(form, "taken_at").text() == "yesterday 6:00"
    assert house.states(stay.appliance_id) == [RUNNING]


# --- reset and swap ---


@pytest.mark.parametrize("shows", [False, True])
def test_reset(house: House, bar: MeasureBar, shows: bool) -> None:
    stay = house.measured(days=2)
    form = opened(bar, stay.appliance_id, Action.RESET)
    assert form.meter is None
    if shows:
        choose_next(form.display)
        hands.fill(line(form, "energy_kwh"), "0.12")
    hands.click(form.accept_button)
    row = newest(house, stay.id)
    assert (row.run.cause, row.run.number, row.run.exact_start) == (RunCause.RESET, 2, not shows)
    assert row.reading.energy_kwh == (0.12 if shows else 0.0)
    assert row.run.meter_id == stay.meter_id


def test_swap(house: House, bar: MeasureBar) -> None:
    stay = house.measured(days=2)
    house.measured("Deep chest")
    free = house.meter("Spare meter")
    form = opened(bar, stay.appliance_id, Action.SWAP)
    assert form.meter is not None
    assert [form.meter.itemText(place) for place in range(form.meter.count())] == ["Spare meter"]
    hands.press(ENTER)
    row = newest(house, stay.id)
    assert (row.run.cause, row.run.meter_id, row.reading.energy_kwh) == (RunCause.SWAP, free, 0.0)
    assert "on Spare meter" in bar.standing.text()


def test_a_reset_before_the_last_reading_is_refused(house: House, bar: MeasureBar) -> None:
    stay = house.measured(days=2)
    form = opened(bar, stay.appliance_id, Action.RESET)
    hands.fill(line(form, "taken_at"), "yesterday 6:00")
    hands.press(ENTER)
    assert "the new start must come after it" in said(form, "taken_at")
    assert newest(house, stay.id).run.number == 1


# --- leaving ---


@pytest.mark.parametrize("by", ["key", "click"])
@pytest.mark.parametrize("action", list(FORM_WORDS))
def test_leaving_a_form_changes_nothing(house: House, bar: MeasureBar, action: Action, by: str) -> None:
    if action in {Action.START, Action.PLAN}:
        appliance_id = house.appliance()
        house.meter()
    else:
        appliance_id = house.measured(days=2).appliance_id
    before, name = house.states(appliance_id), house.session.undo_name
    form = opened(bar, appliance_id, action)
    possible = bar.possible
    if by == "key":
        hands.press(ESCAPE)
    else:
        hands.click(form.cancel_button)
    assert bar.open_form is None
    assert all(bar.buttons[each].isVisible() for each in possible)
    assert (house.states(appliance_id), house.session.undo_name) == (before, name)


def test_another_appliance_closes_the_form(house: House, bar: MeasureBar) -> None:
    first, second = house.appliance(), house.appliance("Lamp")
    house.meter()
    opened(bar, first, Action.START)
    bar.show_appliance(second)
    assert bar.open_form is None
    assert bar.buttons[Action.START].isVisible()


def test_a_form_left_open_does_not_speak_of_other_refusals(house: House, bar: MeasureBar) -> None:
    stay = house.measured(days=2)
    form = opened(bar, stay.appliance_id, Action.FINISH)
    house.session.do(finish_measurement, stay.id, house.ago(-5.0))
    assert said(form, "taken_at") == ""
    assert form.isVisible()
