"""Bad and doubtful values: a sentence under the field, the text kept, a doubt confirmed before saving."""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest
from PySide6.QtCore import Qt
from PySide6.QtWidgets import QLineEdit, QPushButton

from hearthload.window.readings.entry import EntryPanel
from hearthload.window.readings.entry_face import SAVE, SAVE_ANYWAY
from tests.window import hands
from tests.window.filling import House, Stay
from tests.window.hands import focused

if TYPE_CHECKING:
    from pytestqt.qtbot import QtBot

    from hearthload.window.complaints import ComplaintLines

ENTER, ESCAPE, ALT = Qt.Key.Key_Return, Qt.Key.Key_Escape, Qt.KeyboardModifier.AltModifier


@pytest.fixture
def stay(house: House, panel: EntryPanel) -> Stay:
    """Give a measurement at 5.00 kWh yesterday, about 1 kWh a day, shown in the panel."""
    made = house.measured(days=5)
    panel.show_measurement(made.id)
    panel.form.focus_field("energy_kwh")
    return made


def line_of(panel: EntryPanel, field: str) -> QLineEdit:
    line = panel.form.line(field)
    assert line is not None
    return line


def said_about(panel: EntryPanel, field: str) -> ComplaintLines:
    """Give what is said under a field: the counters have their own places, the small fields share one."""
    rows = panel.form.form.rows
    return rows[field].complaints if field in rows else panel.form.spots.complaints


BAD = [
    ("energy_kwh", "six", "is not a number"),
    ("energy_kwh", "1.234,5", "more than one decimal mark"),
    ("energy_kwh", "nan", "not a number that a meter can show"),
    ("energy_kwh", "-6", "is negative"),
    ("energy_kwh", "6e2", "exponent"),
    ("energy_kwh", "6 W", "unit that does not belong"),
    ("energy_kwh", "12 34", "a gap"),
    ("energy_kwh", "99999999999", "larger than anything"),
    ("energy_kwh", "4.99", "cannot run backward"),
    ("energy_kwh", "900", "on average"),
    ("elapsed_h", "144:99", "minutes"),
    ("elapsed_h", "1:2:3", "days or seconds"),
    ("elapsed_h", "soon", "is not a duration"),
    ("elapsed_h", "100:00", "cannot run backward"),
    ("taken_at", "teatime", "not a time"),
    ("taken_at", "23:59", "in the future"),
    ("taken_at", "yesterday 7:30", "correct that one instead"),
    ("power_w", "92 V", "unit that does not belong"),
    ("room_temperature_c", "-90", "must lie between"),
]


@pytest.mark.parametrize(("field", "typed", "sentence"), BAD)
def test_a_bad_text_stops_saving_and_stays(
    house: House, panel: EntryPanel, stay: Stay, *, field: str, typed: str, sentence: str
) -> None:
    before = house.energies(stay.id)
    if field != "energy_kwh":
        hands.fill(panel.form.energy, "6.00")
    hands.fill(line_of(panel, field), typed)
    hands.press(ENTER, times=2)
    assert house.energies(stay.id) == before
    said = said_about(panel, field)
    assert said.isVisible()
    assert sentence in said.text
    assert line_of(panel, field).text() == typed
    assert line_of(panel, field).property("complaint") == "stops"
    assert focused() is line_of(panel, field)
    assert panel.save_button.text() == SAVE


@pytest.mark.usefixtures("stay")
def test_nothing_typed_is_asked_for(panel: EntryPanel) -> None:
    hands.press(ENTER)
    assert said_about(panel, "energy_kwh").text == "Type the kWh that the display shows."
    assert focused() is panel.form.energy


def test_hours_alone_ask_for_the_counter(house: House, panel: EntryPanel, stay: Stay) -> None:
    hands.fill(panel.form.hours, "144:00")
    hands.press(ENTER)
    assert "Type the kWh" in said_about(panel, "energy_kwh").text
    assert focused() is panel.form.energy
    hands.write("6.00")
    hands.press(ENTER, times=2)
    assert house.readings(stay.id)[-1].elapsed_h == 144.0


@pytest.mark.usefixtures("stay")
def test_a_half_typed_number_is_left_alone_until_the_fingers_rest(panel: EntryPanel, qtbot: QtBot) -> None:
    hands.write("4")
    panel._look_timer.stop()
    panel._look()
    assert said_about(panel, "energy_kwh").text == ""
    qtbot.waitUntil(lambda: "cannot run backward" in said_about(panel, "energy_kwh").text)


@pytest.mark.usefixtures("stay")
def test_a_complaint_goes_once_the_text_is_right(panel: EntryPanel, qtbot: QtBot) -> None:
    hands.write("4.99")
    qtbot.waitUntil(lambda: bool(said_about(panel, "energy_kwh").text))
    hands.fill(panel.form.energy, "6.00")
    qtbot.waitUntil(lambda: not said_about(panel, "energy_kwh").isVisible())
    assert (panel.form.energy.property("complaint") or "") == ""


def test_a_doubt_asks_for_a_second_confirmation(house: House, panel: EntryPanel, stay: Stay) -> None:
    hands.write("60")
    hands.press(ENTER, times=2)
    assert "By now it should show" in said_about(panel, "energy_kwh").text
    assert panel.save_button.text() == SAVE_ANYWAY
    assert focused() is panel.save_button
    assert house.energies(stay.id)[-1] == 5.0
    hands.press(ENTER)
    assert house.energies(stay.id)[-1] == 60.0
    assert panel.save_button.text() == SAVE
    assert not said_about(panel, "energy_kwh").isVisible()


def test_enter_in_a_field_never_confirms(house: House, panel: EntryPanel, stay: Stay) -> None:
    hands.write("60")
    hands.press(ENTER, times=2)
    hands.fill(panel.form.hours, "160:00")
    hands.press(ENTER)
    assert house.energies(stay.id)[-1] == 5.0
    assert "ahead of the clock" in said_about(panel, "elapsed_h").text
    assert focused() is panel.save_button
    hands.press(ENTER)
    assert house.energies(stay.id)[-1] == 60.0


@pytest.mark.parametrize("by", ["key", "click"])
def test_a_fix_puts_the_likely_value_in(house: House, panel: EntryPanel, stay: Stay, by: str) -> None:
    hands.write("60")
    hands.press(ENTER, times=2)
    (complaint,) = said_about(panel, "energy_kwh").complaints
    assert [fix.label for fix in complaint.fixes] == ["Make it 6.00 kWh (Alt+1)"]
    if by == "key":
        hands.press(Qt.Key.Key_1, ALT)
    else:
        hands.click(fix_buttons(panel)[0])
    assert panel.form.energy.text() == "6.00"
    assert panel.form.energy.selectedText() == "6.00"
    assert not said_about(panel, "energy_kwh").isVisible()
    assert panel.save_button.text() == SAVE
    hands.press(ENTER, times=2)
    assert house.energies(stay.id)[-1] == 6.0


@pytest.mark.usefixtures("stay")
def test_an_alt_key_without_a_fix_does_nothing(panel: EntryPanel) -> None:
    hands.write("60")
    hands.press(ENTER, times=2)
    hands.press(Qt.Key.Key_2, ALT)
    assert panel.form.energy.text() == "60"
    assert panel.run_form is None


def fix_buttons(panel: EntryPanel) -> list[QPushButton]:
    found = said_about(panel, "energy_kwh").findChildren(QPushButton)
    return [button for button in found if button.isVisible()]
