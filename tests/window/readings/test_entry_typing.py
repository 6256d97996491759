"""A morning's reading typed: Enter goes on and saves, both decimal marks, hours as displays show them."""

from __future__ import annotations

from datetime import timedelta
from typing import TYPE_CHECKING

import pytest
from PySide6.QtCore import Qt

from hearthload.domain.figures import format_ends
from hearthload.domain.reading import RunState
from hearthload.window.readings.entry import EntryPanel
from hearthload.window.readings.entry_face import SAVE
from tests.window import hands
from tests.window.filling import House
from tests.window.hands import focused

if TYPE_CHECKING:
    from pytestqt.qtbot import QtBot

ENTER, TAB, ESCAPE = Qt.Key.Key_Return, Qt.Key.Key_Tab, Qt.Key.Key_Escape


def test_enter_goes_from_counter_to_hours_and_saves(house: House, panel: EntryPanel) -> None:
    stay = house.measured(days=5)
    panel.show_measurement(stay.id)
    panel.form.focus_field("energy_kwh")
    hands.write("6.00")
    hands.press(ENTER)
    assert focused() is panel.form.hours
    assert house.energies(stay.id)[-1] == 5.0
    hands.write("144:00")
    hands.press(ENTER)
    last = house.readings(stay.id)[-1]
    assert (last.energy_kwh, last.elapsed_h, last.taken_at) == (6.0, 144.0, house.clock())
    assert panel.form.texts() == {}
    assert panel.result.text() == "Saved 6.00 kWh for Larder box."
    assert focused() is panel.form.energy


def test_a_meter_without_hours_is_saved_by_enter_twice(house: House, panel: EntryPanel) -> None:
    stay = house.measured(days=5)
    panel.show_measurement(stay.id)
    panel.form.focus_field("energy_kwh")
    hands.write("6.01")
    hands.press(ENTER, times=2)
    last = house.readings(stay.id)[-1]
    assert (last.energy_kwh, last.elapsed_h) == (6.01, None)


def test_the_button_saves_too(house: House, panel: EntryPanel) -> None:
    stay = house.measured(days=5)
    panel.show_measurement(stay.id)
    hands.fill(panel.form.energy, "6.02")
    assert panel.save_button.text() == SAVE
    hands.click(panel.save_button)
    assert house.energies(stay.id)[-1] == 6.02


@pytest.mark.parametrize("typed", ["6.03", "6,03", " 6,03 kWh "])
def test_both_decimal_marks_are_taken(house: House, panel: EntryPanel, typed: str) -> None:
    stay = house.measured(days=5)
    panel.show_measurement(stay.id)
    hands.fill(panel.form.energy, typed)
    hands.press(ENTER, times=2)
    assert house.energies(stay.id)[-1] == 6.03


@pytest.mark.parametrize("typed", ["144:03", "144.05", "144,05", "6d 0h 3m"])
def test_hours_are_taken_as_displays_show_them(house: House, panel: EntryPanel, typed: str) -> None:
    stay = house.measured(days=5)
    panel.show_measurement(stay.id)
    hands.fill(panel.form.energy, "6")
    hands.fill(panel.form.hours, typed)
    hands.press(ENTER)
    assert house.readings(stay.id)[-1].elapsed_h == pytest.approx(144.05)


def test_the_time_can_be_set_back(house: House, panel: EntryPanel) -> None:
    stay = house.measured(days=5, until=2)
    panel.show_measurement(stay.id)
    beside = panel.form.form.rows["taken_at"].beside
    assert beside.text() == "Tue 24 Nov, 07:30"
    hands.fill(panel.form.energy, "6.00")
    hands.fill(panel.form.when, "yesterday 7:15")
    assert beside.text() == "Mon 23 Nov, 07:15"
    hands.press(ENTER)
    assert house.readings(stay.id)[-1].taken_at == house.clock() - timedelta(days=1, minutes=15)


def test_a_time_that_was_set_back_is_not_kept_for_the_next_reading(house: House, panel: EntryPanel) -> None:
    stay = house.measured(days=5, until=2)
    panel.show_measurement(stay.id)
    hands.fill(panel.form.energy, "6.00")
    hands.fill(panel.form.when, "yesterday 7:15")
    hands.press(ENTER)
    hands.fill(panel.form.energy, "7.00")
    hands.press(ENTER, times=2)
    assert [reading.taken_at for reading in house.readings(stay.id)[-2:]] == [
        house.clock() - timedelta(days=1, minutes=15),
        house.clock(),
    ]


def test_everything_that_is_typed_is_saved(house: House, panel: EntryPanel) -> None:
    stay = house.measured(days=5)
    panel.show_measurement(stay.id)
    spots = panel.form.spots
    hands.fill(panel.form.energy, "6,0")
    hands.fill(spots.lines["power_w"], "92")
    hands.press(TAB)
    assert focused() is spots.state
    hands.press(Qt.Key.Key_Down)
    hands.fill(spots.lines["room_temperature_c"], "-4,5")
    hands.fill(spots.lines["note"], "defrosted")
    hands.press(ENTER)
    last = house.readings(stay.id)[-1]
    assert (last.power_w, last.state, last.room_temperature_c, last.note) == (
        92.0, RunState.RUNNING, -4.5, "defrosted",
    )  # fmt: skip
    assert panel.form.texts() == {}


@pytest.mark.parametrize(
    ("energy", "hours", "when"),
    [("6.00", "", ""), ("5.93", "144:00", ""), ("6.10", "143:50", "7:20"), ("5.50", "", "yesterday 20:00")],
)
def test_what_was_foretold_is_what_the_saved_estimate_shows(
    house: House, panel: EntryPanel, *, energy: str, hours: str, when: str
) -> None:
    stay = house.measured(days=5)
    before = house.row(stay.appliance_id).estimate
    panel.show_measurement(stay.id)
    for line, text in ((panel.form.hours, hours), (panel.form.when, when), (panel.form.energy, energy)):
        hands.fill(line, text)
    panel.form.focus_field("elapsed_h")
    foretold = panel.result.text()
    hands.press(ENTER)
    after = house.row(stay.appliance_id).estimate
    assert before is not None
    assert after is not None
    assert before.daily_kwh is not None
    assert after.daily_kwh is not None
    assert after.readings == before.readings + 1
    becomes, was = format_ends(after.daily_kwh, "kWh"), format_ends(before.daily_kwh)
    _, _, average = foretold.partition("Daily average becomes ")
    assert average.startswith(becomes)
    assert f"was {was}" in average.removeprefix(becomes)


def test_the_first_reading_of_all_is_foretold_as_such(house: House, panel: EntryPanel, qtbot: QtBot) -> None:
    stay = house.started(house.appliance(), house.meter(), days_ago=1.0, energy_kwh=0.0)
    panel.show_measurement(stay)
    hands.fill(panel.form.energy, "1.02")
    qtbot.waitUntil(lambda: "Daily average becomes" in panel.result.text())
    assert panel.result.text().startswith("Since yesterday 07:30: 1.02 kWh in 24 h, 42 W on average.")
    assert " was " not in panel.result.text()


def test_what_is_beside_the_fields_follows_the_readings(
    house: House, panel: EntryPanel, qtbot: QtBot
) -> None:
    stay = house.measured(days=5)
    panel.show_measurement(stay.id)
    rows = panel.form.form.rows
    assert "last 5.00, yesterday 07:30" in rows["energy_kwh"].beside.text()
    assert "last 120:00" in rows["elapsed_h"].beside.text()
    low, high = (float(end) for end in rows["energy_kwh"].beside.text().split("expected ")[1].split(" to "))
    assert low < 6.0 < high
    hands.fill(panel.form.energy, "6.00")
    hands.press(ENTER, times=2)
    qtbot.waitUntil(lambda: "last 6.00, today 07:30" in rows["energy_kwh"].beside.text())
    assert panel.form.energy.accessibleDescription() == rows["energy_kwh"].beside.text()
