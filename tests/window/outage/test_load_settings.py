"""The chosen load's settings: reached, filled and saved by keyboard, refused beside the field, undone."""

from __future__ import annotations

import pytest
from PySide6.QtCore import Qt
from PySide6.QtWidgets import QLabel, QLineEdit

from hearthload.domain.appliance import Kind, Role
from hearthload.domain.plan import Use
from hearthload.window.outage.load_detail import ARITHMETIC
from hearthload.window.outage.outage_words import NOTES
from hearthload.window.outage.page import OutagePage
from tests.window import hands
from tests.window.hands import focused
from tests.window.outage.conftest import Planned

ENTER, ESCAPE, DOWN, TAB = Qt.Key.Key_Return, Qt.Key.Key_Escape, Qt.Key.Key_Down, Qt.Key.Key_Tab


def line(page: OutagePage, name: str) -> QLineEdit:
    editor = page.loads.detail.form.rows[name].editor
    assert isinstance(editor, QLineEdit)
    return editor


def beside(page: OutagePage, name: str) -> str:
    return page.loads.detail.form.rows[name].beside.text()


def said(page: OutagePage, name: str) -> str:
    lines = page.loads.detail.form.rows[name].complaints
    return lines.text if lines.isVisible() else ""


def choose(page: OutagePage, name: str) -> int:
    row = next(row for row in page.loads.table.loads.rows if row.appliance.name == name)
    page.loads.table.choose(row.appliance.id)
    assert page.loads.detail.name.text() == name
    return row.appliance.id


def test_a_load_is_changed_by_keyboard_alone(page: OutagePage, planned: Planned, storm: int) -> None:
    form = page.loads.detail.form
    page.loads.table.setFocus()
    hands.press(DOWN)
    assert page.loads.detail.name.text() == "Lamp"
    lamp = page.loads.table.chosen_id()
    assert lamp is not None
    hands.press(ENTER)
    assert focused() is form.role
    hands.write("e")
    assert form.role.value is Role.ESSENTIAL
    hands.press(TAB)
    assert focused() is line(page, "quantity")
    hands.write("3")
    hands.press(TAB)
    hands.write("h")
    assert form.use.value is Use.HOURS_A_DAY
    hands.press(TAB)
    assert focused() is line(page, "hours_a_day")
    hands.write("2,5")
    hands.press(ENTER)
    kept = planned.load(storm, lamp)
    assert (kept.role, kept.quantity, kept.use, kept.hours_a_day) == (
        Role.ESSENTIAL, 3, Use.HOURS_A_DAY, 2.5
    )  # fmt: skip
    assert focused() is page.loads.table
    assert page.loads.table.chosen_id() == lamp
    assert page.loads.detail.name.text() == "Lamp"


def test_saving_is_one_edit_that_undo_takes_back(page: OutagePage, planned: Planned, storm: int) -> None:
    lamp = choose(page, "Lamp")
    before = planned.load(storm, lamp)
    page.loads.detail.begin()
    hands.fill(line(page, "running_w"), "55")
    hands.fill(line(page, "start_multiple"), "2")
    hands.press(ENTER)
    assert planned.load(storm, lamp).running_w == 55.0
    planned.session.undo()
    assert planned.load(storm, lamp) == before
    assert (line(page, "running_w").text(), line(page, "start_multiple").text()) == ("", "")
    planned.session.redo()
    assert line(page, "running_w").text() == "55"


@pytest.mark.parametrize(
    ("field", "typed", "sentence"),
    [
        ("quantity", "0", "How many there are must be between"),
        ("quantity", "1,5", "“1,5” is not a whole number; type a whole number of appliances."),
        ("quantity", "-3", "“-3” is negative; this can only be one or more."),
        ("running_w", "lots", "is not a number"),
        ("running_w", "0", "The running watts must be more than 0"),
        ("idle_w", "900000", "The idle watts must be between"),
        ("power_factor", "1.2", "The power factor must be at most 1"),
        ("start_multiple", "40", "The starting demand must be between"),
        ("start_s", "90", "The time to start must be at most 60 s"),
        ("room_c", "-60", "The room's temperature must be between"),
        ("season_factor", "0", "The season's factor must be more than 0"),
        ("season_factor_u", "120", "at most 100 %"),
    ],
)
def test_what_cannot_be_taken_is_said_under_its_field(
    page: OutagePage, planned: Planned, storm: int, *, field: str, typed: str, sentence: str
) -> None:
    lamp = choose(page, "Lamp")
    before = planned.load(storm, lamp)
    page.loads.detail.begin()
    hands.fill(line(page, field), typed)
    hands.press(ENTER)
    assert sentence in said(page, field)
    assert focused() is line(page, field)
    assert line(page, field).text() == typed
    assert planned.load(storm, lamp) == before
    hands.write("1")
    assert said(page, field) == ""
    hands.press(ESCAPE)
    assert line(page, field).text() != typed


def test_ends_that_are_turned_round_are_refused(page: OutagePage, planned: Planned, storm: int) -> None:
    lamp = choose(page, "Lamp")
    page.loads.detail.form.use.choose(Use.ASSUMED)
    for name, text in {"daily_kwh": "0.3", "daily_low_kwh": "0.5", "daily_high_kwh": "0.6"}.items():
        hands.fill(line(page, name), text)
    hands.press(ENTER)
    assert "must not be above" in said(page, "daily_low_kwh")
    hands.fill(line(page, "daily_low_kwh"), "0,2")
    hands.press(ENTER)
    kept = planned.load(storm, lamp)
    assert (kept.daily_kwh, kept.daily_low_kwh, kept.daily_high_kwh) == (0.3, 0.2, 0.6)


def test_a_rank_is_no_use(page: OutagePage, planned: Planned, storm: int) -> None:
    choose(page, "Lamp")
    hands.fill(line(page, "rank"), "1.5")
    hands.press(ENTER)
    assert said(page, "rank") == "“1.5” is not a whole number; type 1, 2, 3 and so on."
    hands.fill(line(page, "rank"), "-1")
    hands.press(ENTER)
    assert said(page, "rank") == "“-1” is negative; this can only be zero or more."
    assert planned.answer(storm)


def test_another_load_is_shown_from_its_top(page: OutagePage, planned: Planned, storm: int) -> None:
    page.resize(896, 420)
    lamp = choose(page, "Lamp")
    bar = page.loads.detail.scroller.verticalScrollBar()
    line(page, "start_s").setFocus()
    bar.setValue(bar.maximum())
    assert bar.value() > 0
    planned.set(storm, lamp, Role.WANTED, quantity=2)
    assert bar.value() > 0  # the same load, as it is now
    choose(page, "Box")
    assert bar.value() == 0


def test_only_the_fields_of_the_use_are_shown(page: OutagePage, storm: int) -> None:
    assert storm
    form = page.loads.detail.form
    choose(page, "Box")
    named = ("hours_a_day", "uses_a_day", "daily_kwh", "daily_low_kwh", "daily_high_kwh")
    shown = {
        Use.AS_MEASURED: (),
        Use.HOURS_A_DAY: ("hours_a_day",),
        Use.USES_A_DAY: ("uses_a_day",),
        Use.ASSUMED: ("daily_kwh", "daily_low_kwh", "daily_high_kwh"),
    }
    for use, names in shown.items():
        form.use.choose(use)
        assert tuple(name for name in named if line(page, name).isVisible()) == names
    form.role.choose(Role.WANTED)
    assert line(page, "rank").isVisible()
    form.role.choose(Role.ESSENTIAL)
    assert not line(page, "rank").isVisible()


def test_what_is_in_force_stands_beside_each_field(page: OutagePage, planned: Planned, storm: int) -> None:
    lamp = choose(page, "Lamp")
    assert beside(page, "running_w") == "W · now 40, nameplate, which is a maximum"
    planned.set(storm, lamp, Role.WANTED, use=Use.ASSUMED, running_w=35.0, quantity=2, start_s=0.4)
    assert beside(page, "running_w") == "W · now 35, typed here"
    assert beside(page, "start_s") == "s · now 0.4, typed here"
    assert beside(page, "room_c") == "°C · now as measured"
    row = planned.row(storm, lamp)
    assert row.line.start_va is not None
    (factor,) = {
        each.value for step in row.line.start_va.steps for each in step.inputs if each.symbol == "PF"
    }
    assert beside(page, "power_factor").startswith(f"of 1 · now {factor:.3g}, ")
    assert row.line.one_daily is not None
    assert beside(page, "daily_kwh").startswith("kWh a day · now ")


def test_the_plans_room_is_said(page: OutagePage, planned: Planned) -> None:
    planned.house.measured("Box", days=4)
    planned.plan(room_c=17.0)
    assert beside(page, "room_c") == "°C · now 17, the plan's"


def test_notes_and_the_way_to_the_load_are_said(page: OutagePage, planned: Planned, storm: int) -> None:
    choose(page, "Lamp")
    row = planned.answer(storm).rows[1]
    assert row.line.notes
    assert page.loads.detail.notes.text() == "\n".join(NOTES[note] for note in row.line.notes)
    choose(page, "Box")
    circuit = planned.answer(storm).rows[0].circuit
    assert circuit.fits is True
    said_ = page.loads.detail.circuit.text()
    assert circuit.needed_a is not None
    assert said_.startswith("The weakest on the way, CEE 7/4 or 7/7 (plug), carries its ")
    assert f" {circuit.needed_a.value:.2g} A: up to 16 A" in said_


def test_a_load_shows_its_arithmetic(page: OutagePage, planned: Planned, storm: int) -> None:
    choose(page, "Box")
    page.loads.detail.tabs.choose(ARITHMETIC)
    row = planned.answer(storm).rows[0]
    assert row.line.daily is not None
    assert row.line.start_va is not None
    shown = page.loads.detail.arithmetic.steps
    assert set(row.line.daily.steps) | set(row.line.start_va.steps) | set(row.circuit.steps) <= set(shown)
    assert "Energy a day, Box" in page.loads.detail.arithmetic.panel.text
    planned.set(storm, row.appliance.id, running_w=77.0)
    assert "77 W" in page.loads.detail.arithmetic.panel.text.replace("\u00a0", " ")


def test_what_is_being_typed_outlives_other_changes(page: OutagePage, planned: Planned, storm: int) -> None:
    choose(page, "Lamp")
    hands.fill(line(page, "running_w"), "4")
    planned.set(storm, planned.answer(storm).rows[0].appliance.id, quantity=2)
    hands.write("5")
    assert line(page, "running_w").text() == "45"
    said_: list[str] = []
    planned.session.said.connect(said_.append)
    choose(page, "Box")
    assert said_ == ["What was typed for the other appliance was not saved."]


def test_nothing_changed_is_no_edit(page: OutagePage, planned: Planned, storm: int) -> None:
    assert storm
    choose(page, "Lamp")
    before = planned.session.undo_name
    page.loads.detail.begin()
    hands.press(ENTER)
    assert planned.session.undo_name == before
    assert focused() is page.loads.table


def test_appliances_that_came_later_are_added_in_one_edit(
    page: OutagePage, planned: Planned, storm: int
) -> None:
    assert not page.loads.missing.isVisible()
    planned.house.appliance("Kettle", Kind.KITCHEN)
    assert page.loads.missing.text() == "“Kettle” is not in this plan yet."
    planned.house.appliance("Radio", Kind.ALWAYS_ON)
    assert page.loads.missing.text() == "“Kettle” and “Radio” are not in this plan yet."
    hands.click(page.loads.add_missing_button)
    assert planned.answer(storm).not_in_plan == ()
    assert len(page.loads.table.loads.rows) == 5
    assert not page.loads.missing.isVisible()
    planned.session.undo()
    assert len(page.loads.table.loads.rows) == 3
    assert page.loads.add_missing_button.isVisible()


def test_fields_have_names(page: OutagePage, storm: int) -> None:
    assert storm
    form = page.loads.detail.form
    assert all(row.caption.buddy() is row.editor for row in form.rows.values())
    assert all(row.editor.accessibleName() for row in form.rows.values())
    assert [label.text() for label in form.findChildren(QLabel)].count("Role") == 1
