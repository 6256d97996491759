"""The morning round: every running measurement once, room by room, with stops left out and the end told."""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest
from PySide6.QtCore import Qt

from hearthload.service.edits.measurements import finish_measurement
from hearthload.window.readings.entry import EntryPanel
from tests.window import hands
from tests.window.filling import House, Stay
from tests.window.hands import focused

if TYPE_CHECKING:
    from pytestqt.qtbot import QtBot

    from tests.window.conftest import Clock

ENTER = Qt.Key.Key_Return


@pytest.fixture
def stays(house: House) -> list[Stay]:
    """Give three measurements under way, in the order of the round: by room, then by name."""
    barn = house.measured("Zinc tub", room="barn", days=3)
    larder = house.measured("Box", room="larder", days=3)
    shelf = house.measured("Shelf", room="Larder", days=3)
    return [barn, larder, shelf]


def type_reading(panel: EntryPanel, energy: str) -> None:
    assert focused() is panel.form.energy
    hands.write(energy)
    hands.press(ENTER, times=2)


def test_the_round_goes_through_every_meter(house: House, panel: EntryPanel, stays: list[Stay]) -> None:
    wanted: list[int] = []
    panel.measurement_wanted.connect(wanted.append)
    panel.begin_round()
    assert panel.round_words.text() == "Morning round: 1 of 3, next: Box"
    assert panel.name.text() == "Meter of Zinc tub"
    type_reading(panel, "4.01")
    assert panel.result.text() == "Saved 4.01 kWh for Zinc tub."
    assert panel.name.text() == "Meter of Box"
    assert panel.round_words.text() == "Morning round: 2 of 3, next: Shelf"
    type_reading(panel, "4.02")
    assert panel.round_words.text() == "Morning round: 3 of 3, the last one"
    type_reading(panel, "4.03")
    assert panel.round_words.text() == "The round is done: all 3 meters are read."
    assert not panel.skip_button.isVisible()
    assert wanted == [stay.id for stay in stays]
    assert [house.energies(stay.id)[-1] for stay in stays] == [4.01, 4.02, 4.03]


def test_what_was_read_today_is_passed_by(house: House, panel: EntryPanel, stays: list[Stay]) -> None:
    house.read(stays[0].id, 0.0, 4.0)
    house.session.do(finish_measurement, stays[1].id, house.clock())
    panel.begin_round()
    assert panel.name.text() == "Meter of Shelf"
    assert panel.round_words.text() == "Morning round: 2 of 2, the last one"
    type_reading(panel, "4.0")
    assert panel.round_words.text() == "The round is done: both meters are read."


@pytest.mark.parametrize("by", ["key", "click"])
def test_a_stop_can_be_skipped_and_is_told_at_the_end(
    house: House, panel: EntryPanel, stays: list[Stay], *, qtbot: QtBot, by: str
) -> None:
    panel.begin_round()
    hands.write("3.9")
    if by == "key":
        hands.press(Qt.Key.Key_K, Qt.KeyboardModifier.AltModifier)
    else:
        hands.click(panel.skip_button)
    # A button pressed by its letter is shown pressed for a moment before it acts.
    qtbot.waitUntil(lambda: panel.name.text() == "Meter of Box")
    assert panel.form.texts() == {}
    type_reading(panel, "4.02")
    type_reading(panel, "4.03")
    assert panel.round_words.text().startswith("The round is done")
    assert panel.round_words.text().endswith(": Zinc tub.")
    assert house.energies(stays[0].id)[-1] == 3.0
    panel.show_measurement(stays[0].id)
    assert panel.form.texts() == {"energy_kwh": "3.9"}


def test_the_last_stop_can_be_skipped_too(panel: EntryPanel, stays: list[Stay]) -> None:
    assert len(stays) == 3
    panel.begin_round()
    for _ in stays:
        hands.click(panel.skip_button)
    assert panel.round_words.text().endswith(": Zinc tub, Box, Shelf.")
    assert not panel.skip_button.isVisible()


def test_a_reading_that_is_refused_keeps_the_round_where_it_is(panel: EntryPanel, stays: list[Stay]) -> None:
    assert len(stays) == 3
    panel.begin_round()
    type_reading(panel, "2.0")
    assert panel.name.text() == "Meter of Zinc tub"
    assert panel.round_words.text() == "Morning round: 1 of 3, next: Box"


def test_a_round_with_nothing_to_read_says_so(
    house: House, panel: EntryPanel, stays: list[Stay], qtbot: QtBot
) -> None:
    for stay in stays:
        house.read(stay.id, 0.0, 4.0)
    with qtbot.waitSignal(house.session.said) as told:
        panel.begin_round()
    assert told.args == ["The round is done: all 3 meters are read."]


def test_a_round_before_anything_is_measured_says_what_to_do(
    house: House, panel: EntryPanel, qtbot: QtBot
) -> None:
    with qtbot.waitSignal(house.session.said) as told:
        panel.begin_round()
    assert told.args is not None
    assert "start its measurement" in told.args[0]


def test_the_round_of_the_next_morning_begins_afresh(
    panel: EntryPanel, stays: list[Stay], clock: Clock
) -> None:
    panel.begin_round()
    for energy in ("4.01", "4.02", "4.03"):
        type_reading(panel, energy)
    clock.advance(days=1)
    panel.begin_round()
    assert panel.round_words.text() == "Morning round: 1 of 3, next: Box"
    assert "last 4.01, yesterday 07:30" in panel.form.form.rows["energy_kwh"].beside.text()
    assert panel.form.texts() == {}
    assert len(stays) == 3
