"""Numbers typed into the wrong field, and the one key that puts them right."""

from __future__ import annotations

from datetime import timedelta

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QApplication

from hearthload.window.readings.entry import EntryPanel
from hearthload.window.readings.entry_face import SAVE_ANYWAY
from hearthload.window.readings.entry_words import clock_words, day_words
from tests.window import hands
from tests.window.conftest import Clock
from tests.window.filling import House
from tests.window.hands import focused

ENTER, ALT = Qt.Key.Key_Return, Qt.KeyboardModifier.AltModifier


def said(panel: EntryPanel, field: str = "energy_kwh") -> list[str]:
    return [complaint.code for complaint in panel.form.form.rows[field].complaints.complaints]


def test_counter_and_hours_are_exchanged_by_one_key(house: House, panel: EntryPanel) -> None:
    stay = house.measured(days=5)
    panel.show_measurement(stay.id)
    hands.fill(panel.form.energy, "144.0")
    hands.press(ENTER)
    hands.write("6.0")
    hands.press(ENTER)
    assert said(panel) == ["exchanged"]
    assert house.energies(stay.id)[-1] == 5.0
    hands.press(Qt.Key.Key_1, ALT)
    assert (panel.form.energy.text(), panel.form.hours.text()) == ("6.0", "144.0")
    assert said(panel) == []
    assert focused() is panel.form.hours
    hands.press(ENTER)
    last = house.readings(stay.id)[-1]
    assert (last.energy_kwh, last.elapsed_h) == (6.0, 144.0)
    assert house.session.undo() is not None
    assert house.energies(stay.id)[-1] == 5.0


def test_a_colon_in_the_counter_is_seen_at_once(house: House, panel: EntryPanel) -> None:
    stay = house.measured(days=5)
    panel.show_measurement(stay.id)
    hands.fill(panel.form.energy, "144:00")
    hands.press(ENTER)
    hands.write("6")
    hands.press(ENTER)
    assert said(panel) == ["hours_in_counter"]
    hands.press(Qt.Key.Key_1, ALT)
    assert (panel.form.energy.text(), panel.form.hours.text()) == ("6", "144:00")
    assert said(panel) == []


def test_watts_in_the_counter_go_to_the_watts(house: House, panel: EntryPanel) -> None:
    stay = house.measured(days=5, running_w=95.0)
    panel.show_measurement(stay.id)
    hands.fill(panel.form.energy, "93")
    hands.press(ENTER, times=2)
    assert said(panel) == ["watts_in_counter"]
    hands.press(Qt.Key.Key_1, ALT)
    assert panel.form.energy.text() == ""
    assert panel.form.spots.lines["power_w"].text() == "93"
    assert focused() is panel.form.energy


def test_hours_without_their_colon(house: House, panel: EntryPanel) -> None:
    stay = house.measured(days=5)
    panel.show_measurement(stay.id)
    hands.fill(panel.form.energy, "6")
    hands.press(ENTER)
    hands.write("14402")
    hands.press(ENTER)
    assert said(panel, "elapsed_h") == ["hours_against_clock"]
    hands.press(Qt.Key.Key_1, ALT)
    assert panel.form.hours.text() == "144:02"


def test_two_digits_exchanged(house: House, panel: EntryPanel) -> None:
    stay = house.measured(days=12, daily_kwh=1.01)
    panel.show_measurement(stay.id)
    hands.fill(panel.form.energy, "31.13")
    hands.press(ENTER, times=2)
    (complaint,) = panel.form.form.rows["energy_kwh"].complaints.complaints
    assert [fix.label for fix in complaint.fixes] == ["Make it 13.13 kWh (Alt+1)"]


def test_what_is_expected_goes_by_the_typed_time(house: House, panel: EntryPanel) -> None:
    stay = house.measured(days=5, until=2)
    panel.show_measurement(stay.id)
    beside = panel.form.form.rows["elapsed_h"].beside
    now = beside.text()
    assert "167:5" in now
    then = house.ago(1.0)
    hands.fill(panel.form.when, f"{then:%Y-%m-%d} {clock_words(then)}")
    assert beside.text() != now
    assert "143:5" in beside.text()
    assert panel.form.form.rows["taken_at"].beside.text() == (
        f"{day_words(then, house.clock())}, {clock_words(then)}"
    )


def test_after_a_set_back_reading_the_time_is_now_again(house: House, panel: EntryPanel) -> None:
    stay = house.measured(days=5, until=2)
    panel.show_measurement(stay.id)
    then = house.ago(1.0)
    hands.fill(panel.form.energy, "6")
    hands.fill(panel.form.when, f"{then:%Y-%m-%d} {clock_words(then)}")
    hands.press(ENTER)
    assert house.readings(stay.id)[-1].taken_at == then
    now = house.clock()
    assert panel.form.form.rows["taken_at"].beside.text() == f"{day_words(now, now)}, {clock_words(now)}"
    assert focused() is panel.form.energy


def test_undo_takes_the_word_of_the_save_away(house: House, panel: EntryPanel) -> None:
    stay = house.measured(days=5)
    panel.show_measurement(stay.id)
    hands.fill(panel.form.energy, "6")
    hands.press(ENTER, times=2)
    assert panel.result.text().startswith("Saved")
    house.session.undo()
    assert panel.result.text() == ""


def test_a_reset_that_cannot_be_is_refused(house: House, panel: EntryPanel) -> None:
    stay = house.measured(days=5)
    panel.show_measurement(stay.id)
    hands.fill(panel.form.energy, "4.9")
    hands.press(ENTER)
    hands.write("3:00")
    hands.press(Qt.Key.Key_1, ALT)
    assert panel.run_form is not None
    hands.fill(panel.run_form.form.rows["energy_kwh"].editor, "72.5")
    hands.press(ENTER)
    rows = panel.run_form.form.rows
    assert [complaint.code for complaint in rows["energy_kwh"].complaints.complaints] == ["impossible_power"]
    assert len(house.readings(stay.id)) == 6


def test_no_more_is_expected_than_the_nameplate_allows(house: House, panel: EntryPanel) -> None:
    stay = house.measured(days=1, daily_kwh=1.0, until=6, nameplate_w=50.0)
    panel.show_measurement(stay.id)
    words = panel.form.form.rows["energy_kwh"].beside.text()
    high = float(words.rsplit(" ", 1)[-1])
    assert high <= 1.0 + 0.01 + 1.25 * 50.0 * 24.0 * 6.0 / 1000.0 + 0.05


def test_the_round_ends_in_the_counter(house: House, panel: EntryPanel) -> None:
    stay = house.measured(days=5)
    panel.show_measurement(stay.id)
    panel.begin_round()
    hands.write("6")
    hands.press(ENTER)
    hands.write("144:00")
    hands.press(ENTER)
    assert focused() is panel.form.energy
    assert panel.round_words.text() == "The round is done: the one meter is read."
    assert house.clock() - house.readings(stay.id)[-1].taken_at == timedelta(0)


def test_one_click_does_not_confirm_what_it_has_not_shown(house: House, panel: EntryPanel) -> None:
    stay = house.measured(days=5)
    panel.show_measurement(stay.id)
    hands.fill(panel.form.energy, "22")
    hands.click(panel.save_button)
    assert house.energies(stay.id)[-1] == 5.0
    assert panel.save_button.text() == SAVE_ANYWAY
    QApplication.processEvents()
    hands.click(panel.save_button)
    assert house.energies(stay.id)[-1] == 22.0


def test_only_one_reset_form_opens(house: House, panel: EntryPanel) -> None:
    stay = house.measured(days=5)
    panel.show_measurement(stay.id)
    hands.fill(panel.form.energy, "0.3")
    hands.press(ENTER)
    hands.press(Qt.Key.Key_1, ALT)
    form = panel.run_form
    assert form is not None
    hands.press(Qt.Key.Key_1, ALT)
    assert panel.run_form is form


def test_another_morning_begins_its_round(house: House, panel: EntryPanel, clock: Clock) -> None:
    stay = house.measured(days=5)
    panel.show_measurement(stay.id)
    panel.begin_round()
    hands.write("6")
    hands.press(ENTER, times=2)
    assert panel.round_words.text().startswith("The round is done")
    clock.advance(days=1)
    panel.new_day()
    assert panel.round_words.text() == "Morning round: 1 of 1, the last one"
    assert "yesterday" in panel.form.form.rows["energy_kwh"].beside.text()
