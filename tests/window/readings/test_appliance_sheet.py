"""The appliance sheet in its page: add, change, remove; what cannot be taken is said under its field."""

from __future__ import annotations

from collections.abc import Callable
from typing import TYPE_CHECKING

import pytest
from PySide6.QtCore import Qt
from PySide6.QtWidgets import QLineEdit

from hearthload.domain.appliance import Appliance, Kind, Role
from hearthload.domain.household import Household
from hearthload.service import queries
from hearthload.service.edits.household import set_household
from hearthload.window.readings.page import ReadingsPage
from hearthload.window.words import CAUTION_HARD_WIRED, CAUTION_MEDICAL
from tests.window import hands
from tests.window.filling import House, reopen_read_only
from tests.window.hands import focused

if TYPE_CHECKING:
    from hearthload.window.readings.appliance_form import ApplianceSheet

Opened = Callable[[], ReadingsPage]
ENTER, ESCAPE, SPACE = Qt.Key.Key_Return, Qt.Key.Key_Escape, Qt.Key.Key_Space


def line(sheet: ApplianceSheet, name: str) -> QLineEdit:
    editor = sheet.form.rows[name].editor
    assert isinstance(editor, QLineEdit)
    return editor


def said(sheet: ApplianceSheet, name: str) -> str:
    lines = sheet.form.rows[name].complaints
    return lines.text if lines.isVisible() else ""


def kept(house: House) -> list[Appliance]:
    return list(queries.appliances(house.session.logbook))


@pytest.fixture
def sheet(house: House, opened: Opened) -> ApplianceSheet:
    """Give the empty sheet, opened by the button over a roster of one."""
    house.appliance("Lamp", Kind.LAMP_TIMER)
    page = opened()
    hands.click(page.head.add_button)
    assert page.sheet.isVisible()
    return page.sheet


# --- adding ---


def test_an_appliance_is_added_with_everything_that_was_typed(house: House, sheet: ApplianceSheet) -> None:
    assert focused() is line(sheet, "name")
    typed = {
        "name": "Deep chest", "room": "barn", "voltage_v": "230", "nameplate_w": "140,5",
        "running_w": "92.5", "target": "12", "note": "door sticks",
    }  # fmt: skip
    for name, text in typed.items():
        hands.fill(line(sheet, name), text)
    for choice, value in ((sheet.kind, Kind.FREEZER), (sheet.role, Role.ESSENTIAL), (sheet.plug, "cee_7")):
        choice.choose(value)  # type: ignore[arg-type]
    hands.press(ENTER)
    added = next(appliance for appliance in kept(house) if appliance.name == "Deep chest")
    assert (added.room, added.kind, added.role, added.plug) == ("barn", Kind.FREEZER, Role.ESSENTIAL, "cee_7")
    assert (added.voltage_v, added.nameplate_w, added.running_w, added.target) == (230.0, 140.5, 92.5, 0.12)
    assert added.note == "door sticks"
    assert not sheet.isVisible()
    house.session.undo()
    assert [appliance.name for appliance in kept(house)] == ["Lamp"]


def test_the_new_appliance_is_chosen(house: House, opened: Opened) -> None:
    house.measured("Chest")
    page = opened()
    hands.click(page.head.add_button)
    hands.write("Amber lamp")
    hands.click(page.sheet.save_button)
    assert page.roster.view.currentIndex().data() == "Amber lamp"
    assert page.work.head.name.text() == "Amber lamp"
    assert focused() is page.roster.view


def test_the_households_plug_is_offered(house: House, opened: Opened) -> None:
    house.session.do(set_household, Household(default_plug="bs_1363"))
    house.measured("Chest")
    page = opened()
    hands.click(page.head.add_button)
    assert page.sheet.plug.value == "bs_1363"


def test_leaving_adds_nothing_and_the_next_sheet_is_empty(house: House, sheet: ApplianceSheet) -> None:
    hands.write("Half typed")
    hands.fill(line(sheet, "voltage_v"), "so so")
    hands.press(ESCAPE)
    assert not sheet.isVisible()
    assert len(kept(house)) == 1
    sheet.begin_add()
    assert line(sheet, "name").text() == line(sheet, "voltage_v").text() == ""


# --- refusals ---


@pytest.mark.parametrize(
    ("field", "typed", "sentence"),
    [
        ("name", "", "Give the appliance a name"),
        ("name", "LAMP", "There is an appliance called “Lamp” already"),
        ("name", "x" * 121, "too long"),
        ("voltage_v", "so so", "is not a number"),
        ("voltage_v", "1000", "The voltage must be between 50 and 500 V"),
        ("nameplate_w", "0", "must be more than zero"),
        ("nameplate_w", "1.234,5", "more than one decimal mark"),
        ("running_w", "999999", "The running watts must be between"),
        ("target", "0,5", "The wanted ± part must be between"),
    ],
)
def test_what_cannot_be_taken_is_said_under_its_field(
    house: House, sheet: ApplianceSheet, field: str, typed: str, sentence: str
) -> None:
    hands.fill(line(sheet, "name"), "Deep chest")
    hands.fill(line(sheet, field), typed)
    hands.press(ENTER)
    assert sentence in said(sheet, field)
    others = [name for name in sheet.form.rows if name != field and said(sheet, name)]
    assert others == []
    assert line(sheet, field).text() == typed
    assert focused() is line(sheet, field)
    assert sheet.isVisible()
    assert len(kept(house)) == 1


def test_every_bad_line_is_said_at_once(sheet: ApplianceSheet) -> None:
    hands.fill(line(sheet, "voltage_v"), "x")
    hands.fill(line(sheet, "target"), "-1")
    hands.press(ENTER)
    assert all(said(sheet, name) for name in ("name", "voltage_v", "target"))
    assert focused() is line(sheet, "name")


def test_a_sheet_opened_again_has_no_old_complaints(sheet: ApplianceSheet) -> None:
    hands.press(ENTER)
    assert said(sheet, "name")
    sheet.begin_add()
    assert not said(sheet, "name")


# --- cautions ---


def test_hard_wired_says_its_caution_and_asks_for_no_plug(sheet: ApplianceSheet) -> None:
    hint = sheet.form.rows["hard_wired"].hint
    assert not hint.isVisible()
    assert sheet.plug.isVisible()
    sheet.hard_wired.setFocus()
    hands.press(SPACE)
    assert (hint.isVisible(), hint.text()) == (True, CAUTION_HARD_WIRED)
    assert sheet.hard_wired.accessibleDescription() == CAUTION_HARD_WIRED
    assert not sheet.plug.isVisible()
    hands.press(SPACE)
    assert not hint.isVisible()
    assert sheet.plug.isVisible()


def test_medical_says_its_caution(house: House, sheet: ApplianceSheet) -> None:
    sheet.medical.setFocus()
    hands.press(SPACE)
    assert sheet.form.rows["medical"].hint.text() == CAUTION_MEDICAL
    assert sheet.form.rows["medical"].hint.isVisible()
    hands.fill(line(sheet, "name"), "Breathing aid")
    hands.press(ENTER)
    assert next(found for found in kept(house) if found.name == "Breathing aid").medical


# --- changing and removing ---


def test_an_appliance_is_changed(house: House, opened: Opened) -> None:
    stay = house.measured("Chest", room="barn", nameplate_w=140.0)
    page = opened()
    hands.click(page.work.head.change_button)
    assert page.sheet.title.text() == "Change Chest"
    assert line(page.sheet, "nameplate_w").text() == "140"
    hands.fill(line(page.sheet, "room"), "cellar")
    hands.click(page.sheet.save_button)
    assert house.row(stay.appliance_id).appliance.room == "cellar"
    assert page.roster.view.chosen_id() == stay.appliance_id
    assert page.work.isVisible()


def test_what_is_on_a_meter_cannot_become_hard_wired(house: House, opened: Opened) -> None:
    house.measured("Chest")
    page = opened()
    hands.click(page.work.head.change_button)
    page.sheet.hard_wired.setFocus()
    hands.press(SPACE)
    hands.click(page.sheet.save_button)
    assert "Finish the measurement first" in said(page.sheet, "hard_wired")
    assert focused() is page.sheet.hard_wired


def test_an_appliance_is_removed_and_undo_brings_its_readings_back(house: House, opened: Opened) -> None:
    stay = house.measured("Chest", days=3)
    house.appliance("Lamp", Kind.LAMP_TIMER)
    page = opened()
    assert page.work.head.name.text() == "Chest"
    hands.click(page.work.head.remove_button)
    assert [found.name for found in kept(house)] == ["Lamp"]
    assert page.work.head.name.text() == "Lamp"
    house.session.undo()
    assert page.work.head.name.text() == "Chest"
    assert house.energies(stay.id) == [0.0, 1.0, 2.0, 3.0]


def test_removing_the_last_appliance_leads_back_to_the_first_steps(house: House, opened: Opened) -> None:
    house.measured("Chest")
    page = opened()
    hands.click(page.work.head.remove_button)
    assert page.steps.isVisible()
    assert not page.left.isVisible()
    house.session.undo()
    assert page.work.isVisible()
    assert page.left.isVisible()


def test_a_read_only_logbook_refuses_in_words(house: House, opened: Opened) -> None:
    house.measured("Chest")
    reopen_read_only(house.session)
    page = opened()
    hands.click(page.head.add_button)
    hands.write("Lamp")
    hands.press(ENTER)
    assert "it is read-only where it is" in said(page.sheet, "name")
    assert page.sheet.isVisible()
    assert line(page.sheet, "name").text() == "Lamp"
