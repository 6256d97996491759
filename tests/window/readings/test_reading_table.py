"""The reading table: corrected and deleted by keyboard, wrong text with its complaint, runs told apart."""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING

import pytest
from PySide6.QtCore import Qt
from PySide6.QtWidgets import QLineEdit, QPushButton, QVBoxLayout, QWidget

from hearthload.domain.reading import ReadingDraft
from hearthload.service.edits.measurements import reset_meter
from hearthload.window.readings.table import EMPTY, HOW, ReadingTable
from hearthload.window.readings.table_columns import SPAN_COLUMNS
from hearthload.window.readings.table_widths import GIVEN_UP
from hearthload.window.session import Session
from tests.window import hands
from tests.window.filling import House, Stay
from tests.window.hands import clear_away, focused, show

if TYPE_CHECKING:
    from pytestqt.qtbot import QtBot

ENERGY, HOURS, NOTE = 1, 2, 8
ENTER, ESCAPE, DELETE, F2 = Qt.Key.Key_Return, Qt.Key.Key_Escape, Qt.Key.Key_Delete, Qt.Key.Key_F2


@pytest.fixture
def stay(house: House) -> Stay:
    return house.measured(days=3)


@pytest.fixture
def table(session: Session, stay: Stay, qtbot: QtBot) -> Iterator[ReadingTable]:
    page = QWidget()
    made = ReadingTable(session, page)
    QVBoxLayout(page).addWidget(made)
    show(qtbot, page)
    made.show_measurement(stay.id)
    made.view.setFocus()
    yield made
    clear_away()


def at(table: ReadingTable, row: int, column: int) -> str:
    return str(table.model.index(row, column).data())


def correct(table: ReadingTable, row: int, column: int, text: str) -> None:
    """Type a correction into a cell as a person does, and press Enter."""
    table.view.setCurrentIndex(table.model.index(row, column))
    hands.press(F2)
    editor = focused()
    assert isinstance(editor, QLineEdit)
    editor.selectAll()
    hands.write(text)
    hands.press(ENTER)


def test_a_cell_is_corrected_by_typing(house: House, stay: Stay, table: ReadingTable, qtbot: QtBot) -> None:
    correct(table, 0, ENERGY, "3,1")
    qtbot.waitUntil(lambda: house.energies(stay.id)[-1] == 3.1)
    assert at(table, 0, ENERGY) == "3.1"
    assert not table.complaints.isVisible()
    house.session.undo()
    assert at(table, 0, ENERGY) == "3"


def test_typing_alone_begins_a_correction(
    house: House, stay: Stay, table: ReadingTable, qtbot: QtBot
) -> None:
    table.view.setCurrentIndex(table.model.index(0, NOTE))
    hands.write("damp")
    hands.press(ENTER)
    qtbot.waitUntil(lambda: house.readings(stay.id)[-1].note == "damp")


def test_a_refused_text_stays_and_escape_drops_it(
    house: House, stay: Stay, table: ReadingTable, qtbot: QtBot
) -> None:
    correct(table, 0, ENERGY, "1.5")
    qtbot.waitUntil(table.complaints.isVisible)
    assert "cannot run backward" in table.complaints.text
    assert at(table, 0, ENERGY) == "1.5"
    table.view.setCurrentIndex(table.model.index(1, ENERGY))
    assert not table.complaints.isVisible()
    table.view.setCurrentIndex(table.model.index(0, ENERGY))
    assert "cannot run backward" in table.complaints.text
    hands.press(ESCAPE)
    assert at(table, 0, ENERGY) == "3"
    assert not table.complaints.isVisible()
    assert house.energies(stay.id) == [0.0, 1.0, 2.0, 3.0]


def test_a_refused_text_can_be_put_right(house: House, stay: Stay, table: ReadingTable, qtbot: QtBot) -> None:
    correct(table, 0, ENERGY, "3..1")
    qtbot.waitUntil(table.complaints.isVisible)
    hands.press(F2)
    editor = focused()
    assert isinstance(editor, QLineEdit)
    assert editor.text() == "3..1"
    correct(table, 0, ENERGY, "3.1")
    qtbot.waitUntil(lambda: house.energies(stay.id)[-1] == 3.1)
    assert not table.complaints.isVisible()


def test_figures_that_follow_cannot_be_typed_over(house: House, table: ReadingTable) -> None:
    table.view.setCurrentIndex(table.model.index(0, 6))
    name = house.session.undo_name
    hands.write("99")
    hands.press(ENTER)
    assert focused() is table.view
    assert house.session.undo_name == name


@pytest.mark.parametrize("key", [DELETE, Qt.Key.Key_Backspace])
def test_delete_removes_a_reading_and_undo_brings_it_back(
    house: House, stay: Stay, table: ReadingTable, key: Qt.Key
) -> None:
    table.view.setCurrentIndex(table.model.index(1, HOURS))
    hands.press(key)
    assert house.energies(stay.id) == [0.0, 1.0, 3.0]
    assert table.view.currentIndex().row() == 1
    assert at(table, 1, ENERGY) == "1"
    house.session.undo()
    assert house.energies(stay.id) == [0.0, 1.0, 2.0, 3.0]
    # The cursor stays with the reading it was on, wherever its line is now.
    assert at(table, table.view.currentIndex().row(), ENERGY) == "1"


def test_the_last_line_can_be_deleted_too(house: House, stay: Stay, table: ReadingTable) -> None:
    table.view.setCurrentIndex(table.model.index(3, ENERGY))
    hands.press(DELETE)
    assert house.energies(stay.id) == [1.0, 2.0, 3.0]
    assert table.view.currentIndex().row() == 2


def test_the_start_of_each_run_is_one_cell_of_words(house: House, stay: Stay, table: ReadingTable) -> None:
    house.session.do(reset_meter, stay.id, ReadingDraft(house.ago(0.5), 0.0), exact_zero=True)
    house.read(stay.id, 0.0, 0.5)
    first, across = SPAN_COLUMNS
    spans = [table.view.columnSpan(row, first) for row in range(table.model.rowCount())]
    assert spans == [1, across, 1, 1, 1, across]
    house.session.undo()
    house.session.undo()
    spans = [table.view.columnSpan(row, first) for row in range(table.model.rowCount())]
    assert spans == [1, 1, 1, across]


def test_a_table_without_readings_says_what_will_come(house: House, table: ReadingTable) -> None:
    assert table.message.text() == HOW
    table.show_measurement(house.planned(house.appliance("Lamp")))
    assert table.model.rowCount() == 0
    assert table.message.text() == EMPTY
    table.show_measurement(None)
    assert not table.message.isVisible()


def test_a_narrow_table_leaves_out_what_others_say_too(table: ReadingTable, qtbot: QtBot) -> None:
    window = table.window()
    left_out = []
    for width in (1300, 700, 420):
        window.resize(width, 500)
        qtbot.waitUntil(lambda width=width: window.width() == width)  # type: ignore[misc]
        left_out.append({column for column in range(9) if table.view.isColumnHidden(column)})
    widest, middle, narrow = left_out
    assert widest == set()
    assert middle <= narrow <= set(GIVEN_UP)
    assert narrow


def test_a_hidden_table_catches_up_when_it_is_shown(house: House, stay: Stay, table: ReadingTable) -> None:
    table.hide()
    house.read(stay.id, 0.0, 4.0)
    assert table.model.rowCount() == 4
    table.show()
    assert table.model.rowCount() == 5


def test_the_table_can_be_drawn_with_a_refused_text(table: ReadingTable, qtbot: QtBot) -> None:
    table.view.setCurrentIndex(table.model.index(3, NOTE))
    before = table.view.grab().toImage()
    correct(table, 0, ENERGY, "1.5")
    qtbot.waitUntil(table.complaints.isVisible)
    table.view.setCurrentIndex(table.model.index(3, NOTE))
    assert table.view.grab().toImage() != before


def test_a_correction_that_passes_the_next_reading_offers_what_fits(
    table: ReadingTable, stay: Stay, house: House, qtbot: QtBot
) -> None:
    correct(table, 1, ENERGY, "20")
    qtbot.waitUntil(table.complaints.isVisible)
    assert "The counter is higher than the next reading's 3.00 kWh" in table.complaints.text
    (fix,) = table.complaints.findChildren(QPushButton)
    assert fix.text() == "Make it 2.00 kWh"
    hands.click(fix)
    assert table.complaints.text == ""
    assert at(table, 1, ENERGY) == "2"
    assert house.energies(stay.id) == [0.0, 1.0, 2.0, 3.0]
