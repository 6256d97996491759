"""One click that puts a slip right: in the reading before, in the time, under a doubt."""

from __future__ import annotations

from dataclasses import replace
from datetime import timedelta
from typing import TYPE_CHECKING

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QPushButton, QWidget

from hearthload.service.edits.readings import change_reading
from hearthload.window.complaints import ComplaintLines
from hearthload.window.readings.doubt_lines import DoubtLines
from hearthload.window.readings.entry import EntryPanel
from hearthload.window.readings.entry_words import when_words
from hearthload.window.readings.measure import MeasureBar
from hearthload.window.readings.measure_edits import Subject
from hearthload.window.readings.measure_forms import ActionForm
from hearthload.window.readings.measure_words import Action
from hearthload.window.readings.table_columns import draft_of
from tests.window import hands
from tests.window.filling import House

if TYPE_CHECKING:
    from pytestqt.qtbot import QtBot

ENTER, ALT = Qt.Key.Key_Return, Qt.KeyboardModifier.AltModifier


def said(panel: EntryPanel, field: str) -> list[str]:
    return [complaint.code for complaint in panel.form.form.rows[field].complaints.complaints]


def labels(lines: ComplaintLines) -> list[str]:
    return [fix.label for complaint in lines.complaints for fix in complaint.fixes]


def press_button(parent: QWidget, words: str, qtbot: QtBot) -> None:
    def seen() -> list[QPushButton]:
        found = parent.findChildren(QPushButton)
        return [each for each in found if each.text() == words and each.isVisible()]

    qtbot.waitUntil(lambda: bool(seen()))
    hands.click(seen()[0])


def test_the_reading_before_is_put_right_and_the_typed_one_judged_anew(
    house: House, panel: EntryPanel
) -> None:
    stay = house.measured(days=12, daily_kwh=1.01)
    last = house.readings(stay.id)[-1]
    right, wrong = round(last.energy_kwh, 2), round(last.energy_kwh * 10.0, 2)
    house.session.do(change_reading, last.id, replace(draft_of(last), energy_kwh=wrong))
    panel.show_measurement(stay.id)
    hands.fill(panel.form.energy, f"{right + 1.01:.2f}")
    hands.press(ENTER, times=2)
    assert said(panel, "energy_kwh") == ["energy_fell"]
    first = labels(panel.form.form.rows["energy_kwh"].complaints)[0]
    assert first == f"The reading before was the slip: make it {right:.2f} kWh (Alt+1)"
    hands.press(Qt.Key.Key_1, ALT)
    assert house.energies(stay.id)[-1] == right
    assert said(panel, "energy_kwh") == []
    assert panel.form.energy.text() == f"{right + 1.01:.2f}"
    house.session.undo()
    assert house.energies(stay.id)[-1] == wrong
    assert said(panel, "energy_kwh") == ["energy_fell"]


def test_the_time_that_the_hours_give_is_written(house: House, panel: EntryPanel) -> None:
    stay = house.measured(days=5, until=1)
    panel.show_measurement(stay.id)
    last = house.readings(stay.id)[-1]
    assert last.elapsed_h is not None
    hands.fill(panel.form.energy, f"{last.energy_kwh + 0.25:.2f}")
    hands.press(ENTER)
    hands.write(f"{last.elapsed_h + 6:.0f}")
    hands.press(ENTER)
    then = when_words(last.taken_at + timedelta(hours=6), house.clock())
    assert f"Read at {then} (Alt+1)" in labels(panel.form.form.rows["elapsed_h"].complaints)
    hands.press(Qt.Key.Key_1, ALT)
    assert panel.form.when.text() == then
    assert said(panel, "elapsed_h") == []


def test_a_time_still_to_come_becomes_yesterday_s(house: House, panel: EntryPanel) -> None:
    stay = house.measured(days=5, until=2)
    panel.show_measurement(stay.id)
    hands.fill(panel.form.energy, "9")
    hands.fill(panel.form.when, "23:50")
    hands.press(ENTER)
    assert said(panel, "taken_at") == ["future"]
    hands.press(Qt.Key.Key_1, ALT)
    assert panel.form.when.text() == "yesterday 23:50"
    assert "future" not in said(panel, "taken_at")


def test_a_reset_with_hours_that_ran_on_is_asked_back_once(house: House, bar: MeasureBar) -> None:
    stay = house.measured(days=5)
    last = house.readings(stay.id)[-1]
    assert last.elapsed_h is not None
    form = ActionForm(house.session, Action.RESET, Subject(stay.appliance_id, stay.id), ())
    form.setParent(bar)
    form.prefill({"energy_kwh": "0.5", "elapsed_h": f"{last.elapsed_h + 24:.2f}"})
    form.submit()
    assert "was not reset" in form.form.rows["elapsed_h"].complaints.text
    assert house.readings(stay.id)[-1].id == last.id
    form.submit()
    assert house.readings(stay.id)[-1].energy_kwh == 0.5


def test_the_latest_reading_in_doubt_is_put_right_by_one_click(
    house: House, bar: MeasureBar, qtbot: QtBot
) -> None:
    stay = house.measured(days=12, until=0)
    last = house.readings(stay.id)[-1]
    house.session.do(change_reading, last.id, replace(draft_of(last), energy_kwh=17.0, elapsed_h=2880.0))
    lines = DoubtLines(house.session, bar)
    lines.resize(600, 200)
    lines.show_measurement(stay.id)
    assert labels(lines.lines) == ["Make it 288:00", "It is right", "Make it 12 kWh", "It is right"]
    press_button(lines, "Make it 12 kWh", qtbot)
    lines.show_measurement(stay.id)
    press_button(lines, "Make it 288:00", qtbot)
    mended = house.readings(stay.id)[-1]
    assert (mended.energy_kwh, mended.elapsed_h) == (12.0, 288.0)
