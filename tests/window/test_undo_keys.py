"""Undo and redo by keyboard: a line's own typing first, then the logbook, wherever the cursor is."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from datetime import datetime
from typing import TYPE_CHECKING, cast

import pytest
from PySide6.QtCore import Qt

from hearthload.window.main_window import MainWindow
from hearthload.window.memory import Memory
from hearthload.window.readings.page import ReadingsPage
from hearthload.window.session import Session
from tests.window import hands
from tests.window.filling import House, Stay
from tests.window.hands import clear_away, focused, show

if TYPE_CHECKING:
    from pytestqt.qtbot import QtBot

CTRL, SHIFT = Qt.KeyboardModifier.ControlModifier, Qt.KeyboardModifier.ShiftModifier


@pytest.fixture
def house(session: Session, clock: Callable[[], datetime]) -> House:
    return House(session, clock)


@pytest.fixture
def stay(house: House) -> Stay:
    return house.measured(days=3)


@pytest.fixture
def page(session: Session, stay: Stay, qtbot: QtBot) -> Iterator[ReadingsPage]:
    window = MainWindow(session, Memory({}))
    show(qtbot, window, 1280, 860)
    assert stay.id
    yield cast("ReadingsPage", window.show_page("readings"))
    clear_away()


def undo() -> None:
    hands.press(Qt.Key.Key_Z, CTRL)


def redo(key: str = "Z") -> None:
    hands.press(Qt.Key.Key_Y, CTRL) if key == "Y" else hands.press(Qt.Key.Key_Z, CTRL | SHIFT)


@pytest.mark.parametrize("key", ["Z", "Y"])
def test_with_the_cursor_in_the_empty_counter(house: House, stay: Stay, page: ReadingsPage, key: str) -> None:
    assert focused() is page.work.entry.form.energy
    undo()
    assert house.energies(stay.id) == [0.0, 1.0, 2.0]
    undo()
    assert house.energies(stay.id) == [0.0, 1.0]
    redo(key)
    redo(key)
    assert house.energies(stay.id) == [0.0, 1.0, 2.0, 3.0]


def test_typing_is_taken_back_before_the_logbook(house: House, stay: Stay, page: ReadingsPage) -> None:
    energy = page.work.entry.form.energy
    hands.write("4.1")
    undo()
    assert energy.text() != "4.1"
    assert house.energies(stay.id)[-1] == 3.0
    while energy.isUndoAvailable():
        undo()
    assert energy.text() == ""
    undo()
    assert house.energies(stay.id)[-1] == 2.0


def test_what_was_typed_can_be_brought_again_in_its_line(
    house: House, stay: Stay, page: ReadingsPage
) -> None:
    hands.write("4.1")
    undo()
    redo()
    assert page.work.entry.form.energy.text() == "4.1"
    assert house.energies(stay.id)[-1] == 3.0


def test_a_reading_just_saved_is_taken_back_at_once(house: House, stay: Stay, page: ReadingsPage) -> None:
    hands.write("4.1")
    hands.press(Qt.Key.Key_Return, times=2)
    assert house.energies(stay.id)[-1] == 4.1
    undo()
    assert house.energies(stay.id)[-1] == 3.0
    redo()
    assert house.energies(stay.id)[-1] == 4.1
    assert page.work.entry.form.texts() == {}


def test_from_the_roster_and_from_the_filter(house: House, stay: Stay, page: ReadingsPage) -> None:
    page.roster.view.setFocus()
    undo()
    assert house.energies(stay.id)[-1] == 2.0
    page.focus_filter()
    undo()
    assert house.energies(stay.id)[-1] == 1.0
    redo()
    assert house.energies(stay.id)[-1] == 2.0


def test_from_a_sheet(house: House, page: ReadingsPage) -> None:
    house.meter("Amber meter")
    page.add_appliance()
    undo()
    assert house.session.redo_name == "add meter: Amber meter"
    assert page.sheet.isVisible()


def test_the_menu_names_what_would_be_done(house: House, page: ReadingsPage) -> None:
    window = cast("MainWindow", page.window())
    house.meter("Amber meter")
    actions = window.actions_made
    assert (actions.undo.text(), actions.undo.isEnabled()) == ("&Undo: add meter: Amber meter", True)
    assert (actions.redo.text(), actions.redo.isEnabled()) == ("&Redo", False)
    undo()
    assert (actions.redo.text(), actions.redo.isEnabled()) == ("&Redo: add meter: Amber meter", True)


def test_nothing_left_to_take_back_does_nothing(house: House, page: ReadingsPage) -> None:
    page.roster.view.setFocus()
    while house.session.undo_name is not None:
        undo()
    assert page.roster.view.rows.rowCount() == 0
    undo()
    assert house.session.redo_name is not None
