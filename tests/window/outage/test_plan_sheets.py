"""Adding, changing, copying and removing plans: typed with real keys, refused beside the field, undone."""

from __future__ import annotations

from dataclasses import replace

import pytest
from PySide6.QtCore import Qt
from PySide6.QtWidgets import QLineEdit

from hearthload.domain.typed import parse_duration_h
from hearthload.service import queries_plans
from hearthload.window.edit_sheet import EditSheet
from hearthload.window.outage.page import OutagePage
from hearthload.window.outage.plan_form import written_hour, written_length
from tests.window import hands
from tests.window.hands import focused
from tests.window.outage.conftest import Planned

ENTER, ESCAPE = Qt.Key.Key_Return, Qt.Key.Key_Escape


def line(sheet: EditSheet, name: str) -> QLineEdit:
    editor = sheet.form.rows[name].editor
    assert isinstance(editor, QLineEdit)
    return editor


def said(sheet: EditSheet, name: str) -> str:
    lines = sheet.form.rows[name].complaints
    return lines.text if lines.isVisible() else ""


def test_a_plan_is_added_by_keys(page: OutagePage, planned: Planned) -> None:
    hands.click(page.empty_button)
    assert focused() is line(page.sheet, "name")
    typed = {
        "name": "Long storm", "days": "2 d 12 h", "confidence": "95", "room_c": "-1,5", "battery_c": "8 °C",
        "outdoor_c": "-12", "altitude_m": "640", "waking_from_h": "6:30", "waking_to_h": "22",
        "latitude_deg": "-41.2", "peak_sun_hours": "1,5", "note": "the line over the ridge",
    }  # fmt: skip
    for name, text in typed.items():
        hands.fill(line(page.sheet, name), text)
    page.sheet.month.choose(2)
    hands.press(ENTER)
    (plan,) = queries_plans.plans(planned.session.logbook)
    assert (plan.name, plan.days, plan.month, plan.confidence) == ("Long storm", 2.5, 2, 0.95)
    assert (plan.room_c, plan.battery_c, plan.outdoor_c, plan.altitude_m) == (-1.5, 8.0, -12.0, 640.0)
    assert (plan.waking_from_h, plan.waking_to_h) == (6.5, 22.0)
    assert (plan.latitude_deg, plan.peak_sun_hours, plan.note) == (-41.2, 1.5, "the line over the ridge")
    assert page.bar.choice.currentText() == "Long storm"
    assert page.standing.text().startswith("2.5 days in February · rooms at -1.5 °C")


def test_name_and_length_are_enough(page: OutagePage, planned: Planned) -> None:
    hands.click(page.empty_button)
    hands.write("Evening")
    hands.fill(line(page.sheet, "days"), "8 h")
    hands.click(page.sheet.save_button)
    (plan,) = queries_plans.plans(planned.session.logbook)
    assert (plan.days, plan.month) == (8.0 / 24.0, planned.house.clock().month)
    assert (plan.room_c, plan.battery_c, plan.confidence) == (None, 20.0, 0.9)


@pytest.mark.parametrize(
    ("field", "typed", "sentence"),
    [
        ("name", "", "Give the plan a name"),
        ("name", "STORM", "There is a plan called “Storm” already"),
        ("days", "", "Type how long the outage lasts"),
        ("days", "3", "may be days or hours; write 3 d or 3 h"),
        ("days", "soon", "is not a duration"),
        ("days", "400 d", "The length of the outage must be at most 366 days"),
        ("confidence", "0.9", "between 50 and 99.9 %"),
        ("room_c", "99", "The rooms' temperature must be between"),
        ("room_c", "warm", "is not a number"),
        ("altitude_m", "9000", "The altitude must be between"),
        ("waking_to_h", "6", "must be later than the hour of rising"),
        ("latitude_deg", "-91", "The latitude must be between"),
        ("peak_sun_hours", "20", "The sun must be between"),
    ],
)
def test_what_cannot_be_taken_is_said_under_its_field(
    page: OutagePage, planned: Planned, storm: int, *, field: str, typed: str, sentence: str
) -> None:
    assert storm
    hands.click(page.bar.add_button)
    hands.fill(line(page.sheet, "name"), "Another")
    hands.fill(line(page.sheet, field), typed)
    hands.press(ENTER)
    assert sentence in said(page.sheet, field)
    assert line(page.sheet, field).text() == typed
    assert focused() is line(page.sheet, field)
    assert planned.names() == ["Storm"]
    hands.press(ESCAPE)
    assert page.loads.table.isVisible()


def test_a_plan_is_changed_and_the_change_undone(page: OutagePage, planned: Planned, storm: int) -> None:
    before = planned.answer(storm).plan
    hands.click(page.bar.change_button)
    assert page.sheet.title.text() == "Change Storm"
    hands.fill(line(page.sheet, "days"), "36:00")
    hands.press(ENTER)
    assert planned.answer(storm).plan.days == 1.5
    assert page.standing.text().startswith("1.5 days")
    planned.session.undo()
    assert planned.answer(storm).plan == before
    assert page.standing.text().startswith("3 days")


def test_saving_what_was_not_touched_changes_nothing(page: OutagePage, planned: Planned, storm: int) -> None:
    odd = planned.plan("Odd", days=0.7301, waking_from_h=6.25, confidence=0.975)
    before = [planned.answer(each).plan for each in (storm, odd)]
    for each in (storm, odd):
        page.choose_plan(each)
        hands.click(page.bar.change_button)
        hands.press(ENTER)
    after = [planned.answer(each).plan for each in (storm, odd)]
    assert [plan.days for plan in after] == pytest.approx([plan.days for plan in before], rel=1e-14)
    assert [replace(plan, days=1.0) for plan in after] == [replace(plan, days=1.0) for plan in before]


def test_a_plan_is_copied_with_its_loads(page: OutagePage, planned: Planned, storm: int) -> None:
    lamp = planned.answer(storm).rows[1].appliance.id
    planned.set(storm, lamp, quantity=4)
    hands.click(page.bar.copy_button)
    assert line(page.copy_sheet, "name").text() == "Storm, copy"
    hands.fill(line(page.copy_sheet, "name"), "storm")
    hands.press(ENTER)
    assert "already" in said(page.copy_sheet, "name")
    hands.fill(line(page.copy_sheet, "name"), "Mild storm")
    hands.press(ENTER)
    assert planned.names() == ["Mild storm", "Storm"]
    assert page.answer is not None
    assert page.answer.plan.name == "Mild storm"
    assert planned.load(page.answer.plan.id, lamp).quantity == 4


def test_removing_one_of_two_shows_the_other(page: OutagePage, planned: Planned, storm: int) -> None:
    other = planned.plan("Afternoon")
    page.choose_plan(storm)
    hands.click(page.bar.remove_button)
    assert page.bar.choice.value == other
    assert focused() is page.bar.choice
    assert page.answer is not None
    assert page.answer.plan.id == other


def test_a_plan_is_removed_and_brought_back(page: OutagePage, planned: Planned, storm: int) -> None:
    assert storm
    hands.click(page.bar.remove_button)
    assert planned.names() == []
    assert focused() is page.empty_button
    assert not page.tabs.isVisible()
    assert not page.bar.add_button.isVisible()
    planned.session.undo()
    assert page.loads.table.isVisible()
    assert page.bar.choice.currentText() == "Storm"


@pytest.mark.parametrize("days", [3.0, 8.0 / 24.0, 1.5, 2.5, 0.25, 10.0, 366.0, 0.7301])
def test_lengths_are_written_as_they_are_read(days: float) -> None:
    assert parse_duration_h(written_length(days)) / 24.0 == pytest.approx(days, rel=1e-12)


def test_lengths_and_hours_read_well() -> None:
    assert [written_length(days) for days in (3.0, 8.0 / 24.0, 1.5)] == ["3 d", "8 h", "1 d 12 h"]
    assert [written_hour(hour) for hour in (7.0, 6.5, 24.0)] == ["7:00", "6:30", "24:00"]
