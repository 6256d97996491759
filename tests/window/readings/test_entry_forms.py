"""The entry form around a reading: Esc and back, drafts kept, reset and swap in place, the seldom values."""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest
from PySide6.QtCore import Qt
from PySide6.QtWidgets import QLineEdit, QWidget

from hearthload.domain.appliance import Kind
from hearthload.domain.measurement import MeasurementState, RunCause
from hearthload.service import queries
from hearthload.service.edits.measurements import finish_measurement
from hearthload.window.readings.entry import EntryPanel
from hearthload.window.readings.entry_spots import LESS, MORE
from hearthload.window.readings.measure_forms import ActionForm
from tests.window import hands
from tests.window.filling import House, Stay
from tests.window.hands import focused

if TYPE_CHECKING:
    from pytestqt.qtbot import QtBot

ENTER, ESCAPE, ALT = Qt.Key.Key_Return, Qt.Key.Key_Escape, Qt.KeyboardModifier.AltModifier


@pytest.fixture
def stay(house: House, panel: EntryPanel) -> Stay:
    made = house.measured(days=5)
    panel.show_measurement(made.id)
    panel.form.focus_field("energy_kwh")
    return made


def type_what_fell(panel: EntryPanel, energy: str = "0.30") -> None:
    """Type counters that began anew and let the panel say so."""
    hands.fill(panel.form.hours, "7:10")
    hands.fill(panel.form.energy, energy)
    panel.form.focus_field("taken_at")
    assert "cannot run backward" in panel.form.form.rows["energy_kwh"].complaints.text


def open_form(panel: EntryPanel) -> ActionForm:
    assert panel.run_form is not None
    return panel.run_form


# --- Esc ---


@pytest.mark.usefixtures("stay")
def test_escape_clears_and_brings_back(panel: EntryPanel) -> None:
    hands.write("6.0")
    hands.fill(panel.form.spots.lines["note"], "humid")
    typed = panel.form.texts()
    hands.press(ESCAPE)
    assert panel.form.texts() == {}
    assert "Esc once more brings it back" in panel.result.text()
    assert focused() is panel.form.energy
    hands.press(ESCAPE)
    assert panel.form.texts() == typed
    hands.press(ESCAPE, times=2)
    assert panel.form.texts() == typed


@pytest.mark.usefixtures("stay")
def test_what_was_cleared_is_gone_once_something_else_is_typed(panel: EntryPanel) -> None:
    hands.write("6.0")
    hands.press(ESCAPE)
    hands.write("7")
    hands.press(Qt.Key.Key_Backspace)
    hands.press(ESCAPE)
    assert panel.form.texts() == {}


@pytest.mark.usefixtures("stay")
def test_escape_takes_the_complaints_along(panel: EntryPanel) -> None:
    type_what_fell(panel)
    hands.press(ESCAPE)
    assert panel.form.form.rows["energy_kwh"].complaints.text == ""
    hands.press(ESCAPE)
    assert "cannot run backward" in panel.form.form.rows["energy_kwh"].complaints.text


# --- drafts ---


def test_drafts_are_kept_while_another_appliance_is_shown(
    house: House, panel: EntryPanel, stay: Stay
) -> None:
    other = house.measured("Deep chest", days=3)
    hands.write("6.0")
    hands.fill(panel.form.spots.lines["power_w"], "88")
    typed = panel.form.texts()
    panel.show_measurement(other.id)
    assert panel.form.texts() == {}
    hands.fill(panel.form.energy, "4.")
    panel.show_measurement(stay.id)
    assert panel.form.texts() == typed
    panel.show_measurement(other.id)
    assert panel.form.texts() == {"energy_kwh": "4."}


def test_a_saved_reading_leaves_no_draft(house: House, panel: EntryPanel, stay: Stay) -> None:
    other = house.measured("Deep chest", days=3)
    hands.write("6.0")
    panel.show_measurement(other.id)
    panel.show_measurement(stay.id)
    panel.form.focus_field("elapsed_h")
    hands.press(ENTER)
    assert house.energies(stay.id)[-1] == 6.0
    panel.show_measurement(other.id)
    panel.show_measurement(stay.id)
    assert panel.form.texts() == {}


def test_a_draft_outlives_edits_made_elsewhere(house: House, panel: EntryPanel, stay: Stay) -> None:
    hands.write("6.")
    house.appliance("Lamp", Kind.LAMP_TIMER)
    house.read(stay.id, 0.5, 5.5)
    assert panel.form.texts() == {"energy_kwh": "6."}
    assert "last 5.50" in panel.form.form.rows["energy_kwh"].beside.text()


def test_the_panel_hides_when_its_measurement_ends(house: House, panel: EntryPanel, stay: Stay) -> None:
    assert panel.isVisible()
    house.session.do(finish_measurement, stay.id, house.clock())
    assert not panel.isVisible()
    house.session.undo()
    assert panel.isVisible()


# --- reset and swap ---


def test_a_reset_opens_its_form_with_what_was_typed(house: House, panel: EntryPanel, stay: Stay) -> None:
    type_what_fell(panel)
    hands.press(Qt.Key.Key_1, ALT)
    form = open_form(panel)
    assert form.isVisible()
    assert not panel.form.isVisible()
    assert [line.text() for line in lines_of(form)] == ["0.30", "7:10", ""]
    assert all(line.isVisible() for line in lines_of(form))
    assert not form.is_zero
    hands.click(form.accept_button)
    newest = queries.reading_rows(house.session.logbook, stay.id)[0]
    assert (newest.run.number, newest.run.cause, newest.run.exact_start) == (2, RunCause.RESET, False)
    assert newest.reading.energy_kwh == 0.3
    assert newest.reading.elapsed_h == pytest.approx(7 + 1 / 6)
    assert panel.run_form is None
    assert panel.form.isVisible()
    assert panel.form.texts() == {}
    assert panel.result.text().startswith("Noted")


def test_a_reset_to_zero_keeps_what_was_typed_for_the_reading(
    house: House, panel: EntryPanel, stay: Stay
) -> None:
    type_what_fell(panel)
    hands.press(Qt.Key.Key_1, ALT)
    form = open_form(panel)
    assert form.display is not None
    form.display.setFocus()
    hands.press(Qt.Key.Key_Up)
    assert form.is_zero
    hands.fill(form.form.rows["taken_at"].editor, "yesterday 23:00")
    hands.press(ENTER)
    newest = queries.reading_rows(house.session.logbook, stay.id)[0]
    assert (newest.run.cause, newest.run.exact_start, newest.reading.energy_kwh) == (
        RunCause.RESET,
        True,
        0.0,
    )
    assert panel.form.texts()["energy_kwh"] == "0.30"
    assert not panel.form.form.rows["energy_kwh"].complaints.isVisible()
    assert focused() is panel.form.energy


def test_a_swap_asks_which_meter(house: House, panel: EntryPanel, stay: Stay) -> None:
    other = house.meter("Black meter")
    type_what_fell(panel)
    hands.press(Qt.Key.Key_2, ALT)
    form = open_form(panel)
    assert form.meter is not None
    assert form.meter.currentText() == "Black meter"
    hands.click(form.accept_button)
    newest = queries.reading_rows(house.session.logbook, stay.id)[0]
    assert (newest.run.cause, newest.run.meter_id, newest.meter_name) == (RunCause.SWAP, other, "Black meter")
    assert panel.name.text() == "Black meter"


@pytest.mark.parametrize("by", ["key", "click"])
def test_leaving_the_reset_form_changes_nothing(house: House, panel: EntryPanel, stay: Stay, by: str) -> None:
    type_what_fell(panel)
    typed = panel.form.texts()
    hands.press(Qt.Key.Key_1, ALT)
    form = open_form(panel)
    if by == "key":
        hands.press(ESCAPE)
    else:
        hands.click(form.cancel_button)
    assert panel.run_form is None
    assert panel.form.isVisible()
    assert panel.form.texts() == typed
    assert focused() is panel.form.energy
    assert len(house.energies(stay.id)) == 6


# --- the seldom values ---


def shown_spots(panel: EntryPanel) -> list[str]:
    return [name for name, line in panel.form.spots.lines.items() if line.isVisible()]


@pytest.mark.parametrize(
    ("kind", "asked"),
    [
        (Kind.KITCHEN, "uses"),
        (Kind.BY_THE_LOAD, "uses"),
        (Kind.EVENING_ELECTRONICS, "uses"),
        (Kind.REFRIGERATOR, "room_temperature_c"),
        (Kind.LAMP_TIMER, "room_temperature_c"),
        (Kind.NOT_SURE, "room_temperature_c"),
    ],
)
def test_what_the_energy_goes_by_is_asked_for_first(
    house: House, panel: EntryPanel, kind: Kind, asked: str
) -> None:
    panel.show_measurement(house.measured(days=2, kind=kind).id)
    assert sorted(shown_spots(panel)) == sorted(["power_w", asked, "note"])


@pytest.mark.usefixtures("stay")
def test_more_values_show_and_fold_away(panel: EntryPanel) -> None:
    more, spots = panel.form.spots.more_button, panel.form.spots
    assert more.text() == MORE
    few = shown_spots(panel)
    hands.click(more)
    assert more.text() == LESS
    assert shown_spots(panel) == list(spots.lines)
    hands.fill(spots.lines["voltage_v"], "231")
    hands.click(more)
    assert shown_spots(panel) == few
    assert panel.form.texts()["voltage_v"] == "231"


@pytest.mark.usefixtures("stay")
def test_a_complaint_about_a_hidden_value_unfolds_it(panel: EntryPanel) -> None:
    spots = panel.form.spots
    hands.write("6.0")
    hands.click(spots.more_button)
    hands.fill(spots.lines["power_factor"], "97")
    hands.click(spots.more_button)
    assert not spots.lines["power_factor"].isVisible()
    panel.form.focus_field("elapsed_h")
    hands.press(ENTER)
    assert spots.lines["power_factor"].isVisible()
    assert "power factor must lie between 0 and 1" in spots.complaints.text
    assert focused() is spots.lines["power_factor"]


def test_a_draft_with_hidden_values_unfolds_them(house: House, panel: EntryPanel, stay: Stay) -> None:
    other = house.measured("Deep chest", days=3)
    spots = panel.form.spots
    hands.click(spots.more_button)
    hands.fill(spots.lines["current_a"], "0.4")
    panel.show_measurement(other.id)
    hands.click(spots.more_button)
    assert not spots.lines["current_a"].isVisible()
    panel.show_measurement(stay.id)
    assert spots.lines["current_a"].isVisible()
    assert spots.lines["current_a"].text() == "0.4"


def test_last_values_stand_inside_the_empty_fields(
    house: House, panel: EntryPanel, stay: Stay, qtbot: QtBot
) -> None:
    house.read(stay.id, 0.5, 5.5, power_w=92.4, room_temperature_c=-4.0)
    lines = panel.form.spots.lines
    qtbot.waitUntil(lambda: lines["power_w"].placeholderText() == "last 92.4")
    assert lines["room_temperature_c"].placeholderText() == "last -4"
    assert lines["voltage_v"].placeholderText() == ""
    assert "last 92.4" in lines["power_w"].accessibleDescription()
    # What was last is no typed value: it is not saved again.
    hands.write("6.0")
    hands.press(ENTER, times=2)
    assert house.readings(stay.id)[-1].power_w is None


def test_fields_in_a_narrow_panel_stay_inside_it(panel: EntryPanel, stay: Stay, qtbot: QtBot) -> None:
    assert stay.id
    hands.click(panel.form.spots.more_button)
    window = panel.window()
    for width in (1400, 480):
        window.resize(width, 700)
        qtbot.waitUntil(lambda width=width: panel.width() > width - 60)  # type: ignore[misc]
        qtbot.waitUntil(lambda: all(inside(line, panel) for line in panel.form.spots.lines.values()))
        assert inside(panel.save_button, panel)


def inside(widget: QWidget, panel: EntryPanel) -> bool:
    corner = widget.mapTo(panel, widget.rect().bottomRight())
    return widget.isVisible() and panel.rect().contains(corner)


def test_nothing_is_asked_for_where_nothing_is_measured(house: House, panel: EntryPanel) -> None:
    planned = house.planned(house.appliance())
    panel.show_measurement(planned)
    assert not panel.isVisible()
    assert queries.entry_context(house.session.logbook, planned, house.clock()).measurement.state is (
        MeasurementState.PLANNED
    )
    panel.show_measurement(None)
    assert not panel.isVisible()


def lines_of(form: ActionForm) -> list[QLineEdit]:
    editors = (form.form.rows[name].editor for name in ("energy_kwh", "elapsed_h", "taken_at"))
    return [editor for editor in editors if isinstance(editor, QLineEdit)]
